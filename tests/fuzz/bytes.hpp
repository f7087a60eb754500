// Bytes read as choices: what a fuzzer mutates, or a seeded generator makes. When they run out, every choice is the
// first.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <random>
#include <string>
#include <string_view>

namespace drawdown::fuzz {

class Bytes {
 public:
  explicit Bytes(std::string_view data) : data_(data) {}
  [[nodiscard]] bool over() const { return at_ >= data_.size(); }
  std::size_t byte() { return over() ? 0 : static_cast<unsigned char>(data_[at_++]); }
  bool flag() { return byte() % 2 == 1; }
  // 0 to n - 1.
  std::size_t below(std::size_t n) { return n == 0 ? 0 : byte() % n; }
  // From `least` to `most`, now and then one of the numbers no one should be able to send.
  double number(double least, double most) {
    constexpr double inf = std::numeric_limits<double>::infinity();
    switch (byte() % 24) {
      case 0:
        return least;
      case 1:
        return most;
      case 2:
        return std::nan("");
      case 3:
        return inf;
      case 4:
        return -inf;
      case 5:
        return 1e308;
      case 6:
        return -1e308;
      default:
        return least + (most - least) * static_cast<double>(byte()) / 255.0;
    }
  }
  std::string raw(std::size_t most) {
    const std::string_view part = data_.substr(std::min(at_, data_.size()), below(most + 1));
    at_ += part.size();
    return std::string(part);
  }

 private:
  std::string_view data_;
  std::size_t at_ = 0;
};

// The bytes of a seed.
inline std::string seeded(unsigned seed, std::size_t size) {
  std::mt19937 random(seed);
  std::string bytes(size, '\0');
  for (char& c : bytes) c = static_cast<char>(random() & 0xffU);
  return bytes;
}

}  // namespace drawdown::fuzz
