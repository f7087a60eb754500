// The bank as bytes, and what it was made of.
#include <array>
#include <cstring>

#include "study/clinic.hpp"
#include "study/explain/bank.hpp"

namespace drawdown::study::explain {

namespace {

constexpr std::string_view title = "Drawdown: people sampled for explanations of serial results, version 1\n";

void add_number(std::string& to, double value) {
  std::uint64_t bits = 0;
  std::memcpy(&bits, &value, sizeof bits);
  for (unsigned i = 0; i < 8; ++i) to += static_cast<char>(static_cast<unsigned char>(bits >> (8 * i)));
}
void add_number(std::string& to, std::int16_t value) {
  const auto bits = static_cast<std::uint16_t>(value);
  to += static_cast<char>(static_cast<unsigned char>(bits & 0xFFU));
  to += static_cast<char>(static_cast<unsigned char>(bits >> 8U));
}
template <class Numbers>
void add(std::string& to, const Numbers& numbers) {
  for (const auto number : numbers) add_number(to, number);
}

class Taken {
 public:
  explicit Taken(std::string_view bytes) : rest_(bytes) {}
  void into(double& value) {
    std::uint64_t bits = 0;
    for (unsigned i = 0; i < 8; ++i) bits |= static_cast<std::uint64_t>(byte()) << (8 * i);
    std::memcpy(&value, &bits, sizeof value);
  }
  void into(std::int16_t& value) {
    const unsigned low = byte();
    value = static_cast<std::int16_t>(static_cast<std::uint16_t>(low | static_cast<unsigned>(byte()) << 8U));
  }
  template <class Numbers>
  void all(Numbers& numbers) {
    for (auto& number : numbers) into(number);
  }

 private:
  unsigned char byte() {
    const auto b = static_cast<unsigned char>(rest_.front());
    rest_.remove_prefix(1);
    return b;
  }
  std::string_view rest_;
};

// Two sums over eight-byte words (Fletcher's, modulo 2^64): a bank is a hundred megabytes.
std::string sum_of(std::string_view bytes) {
  std::uint64_t a = 1;
  std::uint64_t b = 0;
  for (std::size_t i = 0; i < bytes.size(); i += 8) {
    std::uint64_t word = 0;
    std::memcpy(&word, bytes.data() + i, std::min<std::size_t>(8, bytes.size() - i));
    a = (a ^ word) * 0x9E3779B97F4A7C15ULL;
    b += a;
  }
  std::array<char, 40> text{};
  (void)std::snprintf(text.data(), text.size(), "%016llx%016llx", static_cast<unsigned long long>(a),
                      static_cast<unsigned long long>(b));
  return text.data();
}
constexpr std::size_t sum_digits = 32;

std::string header(const BankOptions& options) {
  std::string text(title);
  text += "key " + bank_key(options) + ", people " + std::to_string(options.people) + " each on average, seed " +
          std::to_string(options.seed) + "\n";
  for (const std::string& line : priors()) text += line + "\n";
  return text + "\n";
}

}  // namespace

std::string bank_key(const BankOptions& options) {
  Checksum sum;
  sum.add(std::string(title) + fingerprint() + "\n");
  std::array<char, 64> text{};
  const auto number = [&](double v) {
    (void)std::snprintf(text.data(), text.size(), "%a\n", v);
    sum.add(text.data());
  };
  number(static_cast<double>(options.people));
  number(static_cast<double>(options.seed));
  number(static_cast<double>(quiet_people));
  for (const std::size_t share : eighths) number(static_cast<double>(share));
  for (const double day : knots()) number(day);
  for (const ColumnRow& row : column_rows) {
    sum.add(std::string(row.readout));
    number(row.floor);
    number(row.between);
  }
  for (const std::string& line : priors()) sum.add(line);
  for (const Explanation e : simulated) {
    for (std::uint64_t person = 0; person < 16; ++person) {
      const scenario::Scenario told = story(e, options.seed, person, knots().back());
      for (const double v : told.levers) number(v);
      for (const scenario::Event& event : told.events) {
        for (const double v : {event.day, event.value, event.ramp_days, event.for_hours}) number(v);
      }
    }
  }
  return sum.digits();
}

std::string bytes_of(const Bank& bank, const BankOptions& options) {
  std::string bytes = header(options);
  bytes.reserve(bytes.size() + 2 * (bank.own.size() + bank.moves.size() + bank.inherited.size()) + 4096);
  add(bytes, bank.usual);
  add(bytes, bank.spread);
  add(bytes, bank.dilution);
  add(bytes, bank.own);
  add(bytes, bank.moves);
  add(bytes, bank.inherited);
  return bytes + sum_of(bytes);
}

std::optional<Bank> bank_of(std::string_view bytes, const BankOptions& options) {
  const std::string head = header(options);
  Bank bank;
  bank.resize(options.people);
  const std::size_t steps = bank.own.size() + bank.moves.size() + bank.inherited.size();
  const std::size_t numbers = 8 * (columns + columns * columns + columns);
  if (bytes.size() != head.size() + numbers + 2 * steps + sum_digits) return std::nullopt;
  if (bytes.substr(0, head.size()) != head) return std::nullopt;
  const std::string_view said = bytes.substr(bytes.size() - sum_digits);
  if (said != sum_of(bytes.substr(0, bytes.size() - sum_digits))) return std::nullopt;
  Taken taken(bytes.substr(head.size()));
  taken.all(bank.usual);
  taken.all(bank.spread);
  taken.all(bank.dilution);
  taken.all(bank.own);
  taken.all(bank.moves);
  taken.all(bank.inherited);
  return bank;
}

}  // namespace drawdown::study::explain
