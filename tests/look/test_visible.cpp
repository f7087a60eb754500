// Text from outside, made fit to be shown.
#include <doctest/doctest.h>

#include <sstream>

#include "command/terminal.hpp"
#include "scenario/visible.hpp"
#include "support/hostile.hpp"

using namespace drawdown;
using scenario::Keep;
using scenario::visible;

namespace {

std::string utf8(unsigned long code) {
  std::string out;
  if (code < 0x80) {
    out += static_cast<char>(code);
  } else if (code < 0x800) {
    out += static_cast<char>(0xC0 | code >> 6);
  } else if (code < 0x10000) {
    out += static_cast<char>(0xE0 | code >> 12);
    out += static_cast<char>(0x80 | (code >> 6 & 0x3F));
  } else {
    out += static_cast<char>(0xF0 | code >> 18);
    out += static_cast<char>(0x80 | (code >> 12 & 0x3F));
    out += static_cast<char>(0x80 | (code >> 6 & 0x3F));
  }
  if (code >= 0x80) out += static_cast<char>(0x80 | (code & 0x3F));
  return out;
}

}  // namespace

TEST_CASE("visible: controls, changes of direction and what has no width stand as their number, all else as it is") {
  CHECK(visible("\x1b[31m") == "\\x1b[31m");
  CHECK(visible("a\xc2\x9b"
                "b") == "a\\u009bb");
  CHECK(visible("\xe2\x80\xae") == "\\u202e");
  CHECK(visible("\xf3\xa0\x81\x81") == "\\U000e0041");
  CHECK(visible("a\xff"
                "b") ==
        "a\xEF\xBF\xBD"
        "b");
  CHECK(visible("a\r\nb\tc") == "a↵b\\tc");
  CHECK(visible("a\r\nb\tc\rd", Keep::lines) == "a\nb\tc\\x0dd");
  for (const char* plain : {"", "C3 é ñ ß μ − ≥ “x” 日本 … 👍", "a b"}) {
    CHECK(visible(plain) == plain);
    CHECK(scenario::is_visible(plain));
  }
}

TEST_CASE("visible: of every code point and every pair of bytes nothing unfit is left, and what is made stays so") {
  for (unsigned long code = 0; code <= 0x10FFFF; ++code) {
    if (code >= 0xD800 && code <= 0xDFFF) continue;
    const std::string one = utf8(code);
    const std::string shown = visible(one);
    if (scenario::is_visible(one) != (shown == one)) FAIL("is_visible differs at " << code);
    if (const std::string what = support::unfit(shown); !what.empty()) FAIL(what << " of " << code);
    if (!scenario::is_visible(shown)) FAIL("not settled: " << code);
  }
  std::size_t unfit_before = 0;
  for (int a = 0; a < 256; ++a) {
    for (int b = 0; b < 256; ++b) {
      const std::string two{static_cast<char>(a), static_cast<char>(b)};
      unfit_before += support::unfit(two).empty() ? 0U : 1U;
      if (const std::string what = support::unfit(visible(two)); !what.empty()) FAIL(what << " of " << a << " " << b);
    }
  }
  CHECK(unfit_before > 30000);  // the check sees what it looks for
}

TEST_CASE("visible: what a long text loses is counted") {
  CHECK(scenario::shortened("abc", 3) == "abc");
  CHECK(scenario::shortened("ábcd", 2) == "áb…(+2)");
  std::string letters;
  for (int i = 0; i < 1000; ++i) letters += "aé日👍";
  CHECK(scenario::shortened(letters, 3) == "aé日…(+3997)");
  CHECK(scenario::shortened(std::string(300000, 'n'), 10) == "nnnnnnnnnn…(+299990)");
}

TEST_CASE("the terminal gets no control character, however the bytes are cut, and a failing terminal is told") {
  for (const std::string& text : support::nasty_strings()) {
    std::string whole;
    for (const std::size_t piece : {std::size_t{1}, std::size_t{2}, std::size_t{3}, text.size() + 1}) {
      std::ostringstream behind;
      {
        std::ostream stream(behind.rdbuf());
        const command::VisibleOutput shown(stream);
        for (std::size_t i = 0; i < text.size(); i += piece) stream << text.substr(i, piece) << std::flush;
      }
      CHECK(support::unfit(behind.str()).empty());
      if (whole.empty()) whole = behind.str();
      CHECK(behind.str() == whole);
    }
    CHECK(whole == visible(text, Keep::lines));
  }
  struct Full : std::streambuf {
  } full;  // takes nothing
  std::ostream stream(&full);
  {
    const command::VisibleOutput shown(stream);
    stream << "x" << std::flush;
  }
  CHECK(stream.bad());
}
