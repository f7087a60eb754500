// TOML from outside is measured before it is parsed: what used to end in a crash is refused with its place.
#include <doctest/doctest.h>

#include "scenario/read.hpp"
#include "scenario/toml_text.hpp"
#include "support/command_line.hpp"
#include "support/stories.hpp"

using namespace drawdown;
using scenario::parse_toml;
using scenario::TomlError;

namespace {

std::string times(const std::string& text, std::size_t count) {
  std::string all;
  for (std::size_t i = 0; i < count; ++i) all += text;
  return all;
}

}  // namespace

TEST_CASE("64 kB of nested keys, headers, lists or tables are refused with place and bound, wherever they stand") {
  const std::size_t deep = 32000;
  for (const std::string& text :
       {times("a.", deep) + "a = 1\n", "[" + times("a.", deep) + "a]\n", "[[" + times("a.", deep) + "a]]\n",
        "x = " + times("[", deep) + times("]", deep) + "\n",
        "x = " + times("{a=", deep) + "1" + times("}", deep) + "\n", "x = {" + times("a.", deep) + "a = 1}\n",
        times("'a'.", deep / 2) + "a = 1\n", times("a . ", deep / 2) + "a = 1\n",
        "title = \"# not a comment\"\n" + times("a.", deep) + "a = 1\n"}) {
    CHECK_THROWS_WITH_AS((void)parse_toml(text, "deep", {1U << 20U}), doctest::Contains("nested deeper than 16"),
                         TomlError);
    CHECK_THROWS_WITH_AS((void)scenario::read_text(text, "deep.toml"), doctest::Contains("deep.toml:"),
                         scenario::ReadError);
  }
}

TEST_CASE("too many keys or list entries, and too large a text, are refused") {
  CHECK_THROWS_WITH_AS((void)parse_toml("x = [" + times("1,", 30000) + "1]", "many"),
                       doctest::Contains("more than 20000"), TomlError);
  CHECK_THROWS_WITH_AS((void)parse_toml(std::string(300 * 1024, '#'), "large"), doctest::Contains("256 KiB"),
                       TomlError);
}

TEST_CASE("dots, brackets and signs inside strings and comments are not counted, nor do they hide what follows") {
  const std::string dots = times(".[{", 1000);
  const auto table = parse_toml("# " + dots + "\na = \"" + dots + "\\\" " + dots + "\"\nb = '" + dots +
                                    "'\nc = \"\"\"\n" + dots + "\" \n" + dots + "\"\"\"\nd = '''" + dots + "'''\n",
                                "strings");
  CHECK(table.size() == 4);
  // The same strings, then nesting that is too deep.
  for (const std::string& before :
       std::vector<std::string>{"a = \"" + dots + "\"\n", "a = 'x\\'\n", "a = \"\"\"x\"\"\"\n", "# \"\n"}) {
    CHECK_THROWS_AS((void)parse_toml(before + times("b.", 1000) + "b = 1\n", "after"), TomlError);
  }
}

TEST_CASE("every shipped story and language is far inside the bounds") {
  const scenario::TomlBounds half{std::size_t{512} * 1024, 8, 10000};
  const scenario::TomlBounds half_a_story{std::size_t{128} * 1024, 8, 10000};
  std::size_t read = 0;
  for (const std::string& path : support::shipped_stories()) {
    CHECK_NOTHROW((void)parse_toml(support::content_of(path), path, half_a_story));
    read += 1;
  }
  for (const char* name : {"en", "es", "shapes"}) {
    const std::string path = support::source_folder() + "/assets/" + name + ".toml";
    CHECK_NOTHROW(
        (void)parse_toml(support::content_of(path), path, std::string(name) == "shapes" ? half_a_story : half));
    read += 1;
  }
  CHECK(read == 22);
}
