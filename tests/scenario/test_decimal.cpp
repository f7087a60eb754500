// Short decimal numbers out of a text.
#include <doctest/doctest.h>

#include <charconv>
#include <random>
#include <string>

#include "scenario/decimal.hpp"

using namespace drawdown;
using scenario::read_decimal;

namespace {

double library(const std::string& text) {
  double value = -1.0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  REQUIRE(error == std::errc());
  REQUIRE(end == text.data() + text.size());
  return value;
}

}  // namespace

TEST_CASE("a short decimal number is read to the same bits as by the C++ library") {
  for (const char* text :
       {"0", "-0", "1.1", "0.9", "-12.5", ".5", "5.", "007.250", "1e22", "1E-22", "3e+4", "123456789012345",
        "9007199254740991", "0.000000000000000000001e10", "9007199254740991e-22"}) {
    const auto value = read_decimal(text);
    REQUIRE_MESSAGE(value, text);
    CHECK_MESSAGE(*value == library(text), text);
  }
  std::mt19937_64 random(5);
  for (int i = 0; i < 20000; ++i) {
    std::string text = std::to_string(random() % 1000000000000000U);
    if (const std::size_t point = random() % 18U; point < text.size()) text.insert(point, ".");
    if (random() % 2U == 0) text += "e-" + std::to_string(random() % 8U);
    const auto value = read_decimal(text);
    REQUIRE_MESSAGE(value, text);
    CHECK_MESSAGE(*value == library(text), text);
  }
}

TEST_CASE("what is no short decimal number is not read as one") {
  for (const std::string text : {"",
                                 "-",
                                 ".",
                                 "-.",
                                 "+1",
                                 "1.2.3",
                                 "1,5",
                                 "1e",
                                 "1e+",
                                 "e5",
                                 "0x10",
                                 "inf",
                                 "nan",
                                 "1 ",
                                 " 1",
                                 "1e23",
                                 "9007199254740992",
                                 "1e-23",
                                 "1e99999999999",
                                 "--1",
                                 "1-",
                                 "12a"}) {
    CHECK_MESSAGE(!read_decimal(text), text);
  }
  CHECK_FALSE(read_decimal(std::string(5000, '0') + "1" + std::string(20, '0')));
  CHECK_FALSE(read_decimal("0." + std::string(5000, '0') + "1"));
  CHECK(read_decimal(std::string(5000, '0') + "1") == 1.0);
  CHECK_FALSE(read_decimal(std::string("1\0", 2)));
}
