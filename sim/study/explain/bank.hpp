// A bank of sampled people for each explanation: how every test moves after the cause begins, as the logarithm of the
// readout over the person's own quiet readout. Made once (a body, priors and so many people give the same bytes on
// every machine and number of threads) and kept.
#pragma once

#include <array>
#include <atomic>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "study/explain/columns.hpp"
#include "study/explain/mechanisms.hpp"

namespace drawdown::study::explain {

// Asked by the thread that waits; followed by the one that works.
struct Control {
  std::atomic<bool> cancel{false};
  std::atomic<double> progress{0.0};  // 0 to 1
  std::atomic<bool> building{false};  // the bank is being made; else results are weighed
};

inline constexpr std::size_t usual_people = 8000;  // for each explanation, on average
inline constexpr std::size_t most_people_kept = 16000;
// More of those whose causes and courses are the most various: eighths of that number, in the order of `simulated`.
inline constexpr std::array<std::size_t, simulated.size()> eighths{16, 4, 6, 6, 8, 4};
inline constexpr std::size_t quiet_people = 512;  // for the own usual level
inline constexpr double steps_a_nat = 4000.0;     // whole numbers of 1/4000 are kept: -8 to 8

// Days after the cause begins, from 0 to 1600.
[[nodiscard]] const std::vector<double>& knots();

class Bank {
 public:
  std::size_t people = 0;  // for each explanation, on average
  // Healthy people's quiet readouts: mean of the logarithm, and its covariance (row by row).
  std::array<double, columns> usual{};
  std::array<double, columns * columns> spread{};
  // What a test's logarithm loses for each unit of the logarithm of plasma volume.
  std::array<double, columns> dilution{};
  // By explanation (in the order of `simulated`), person, column: the own quiet level over the usual one.
  std::vector<std::int16_t> own;
  // The same, and knot: nothing of `inherited`.
  std::vector<std::int16_t> moves;
  // Of `inherited` by person and column: for good.
  std::vector<std::int16_t> inherited;

  [[nodiscard]] std::size_t people_of(std::size_t row) const { return people * eighths[row] / 8; }
  [[nodiscard]] std::size_t first_of(std::size_t row) const {
    std::size_t first = 0;
    for (std::size_t r = 0; r < row; ++r) first += people_of(r);
    return first;
  }
  // Whether the person's run came through; others have no numbers.
  [[nodiscard]] bool has(std::size_t row, std::size_t person) const { return *own_of(row, person) != missing; }
  [[nodiscard]] const std::int16_t* own_of(std::size_t row, std::size_t person) const {
    return own.data() + (first_of(row) + person) * columns;
  }
  [[nodiscard]] const std::int16_t* moves_of(std::size_t row, std::size_t person) const {
    return moves.data() + (first_of(row) + person) * columns * knots().size();
  }
  // Makes room for so many.
  void resize(std::size_t so_many);
  static constexpr std::int16_t missing = INT16_MIN;
};

struct BankOptions {
  std::size_t people = usual_people;
  std::uint64_t seed = 20;
  std::size_t threads = 2;
};
// Nothing if it was cancelled.
[[nodiscard]] std::optional<Bank> make_bank(const BankOptions& options, Control* control = nullptr);

// What a bank was made of: body, sampler, priors, tests, knots, seed, number of people. 16 hexadecimal digits.
[[nodiscard]] std::string bank_key(const BankOptions& options);
// The bank as bytes: a line with its key and the priors for whoever opens it, then the numbers, little end first, and a
// checksum.
[[nodiscard]] std::string bytes_of(const Bank& bank, const BankOptions& options);
// Nothing if these are not the bytes of that bank, whole and unchanged.
[[nodiscard]] std::optional<Bank> bank_of(std::string_view bytes, const BankOptions& options);

}  // namespace drawdown::study::explain
