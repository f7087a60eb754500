// What values were held against, what ends the command with exit code 1, and what is said where little was read.
// Invented data.
#include <doctest/doctest.h>

#include "labs/told.hpp"
#include "sheet/sheet.hpp"
#include "support/command_line.hpp"
#include "support/folder.hpp"

using namespace drawdown;
using namespace drawdown::tests;

namespace {

support::Answer told(const std::string& text, const std::vector<std::string>& more = {}) {
  const support::Folder folder;
  std::vector<std::string> words{"labs", support::file_with(folder.path + "/r.csv", text)};
  words.insert(words.end(), more.begin(), more.end());
  return support::drawdown_with(words);
}

std::string line_with(const std::string& text, const std::string& part) {
  const std::size_t at = text.find(part);
  if (at == std::string::npos) return {};
  const std::size_t from = text.rfind('\n', at) + 1;
  return text.substr(from, text.find('\n', at) - from);
}

}  // namespace

TEST_CASE("a blank range is not filled in from another row: its sample is held against the common one, with a star") {
  const std::string text =
      "date,C3 (g/L),C3 range,C4 (g/L)\n2024-01-15,0.85,0.70-1.50,0.2\n2024-02-15,0.86,,0.2\n2024-03-15,0.84,0.70-1.50,"
      "0.2\n";
  const labs::Judgement of = judged(text);
  CHECK(of.c3.placed.at(0).position == labs::Position::inside);
  CHECK(of.c3.placed.at(1).position == labs::Position::below);
  CHECK(of.c3.placed.at(1).common);
  CHECK_FALSE(of.c3.placed.at(0).common);
  const auto said = told(text);
  CHECK(has(line_with(said.out, "0.86 "), "below range*"));
  CHECK_FALSE(has(line_with(said.out, "2024-01-15  0.85"), "*"));
  CHECK(has(said.out, "* held against a common range: the line names none."));
  CHECK(has(said.out, "C3: 0.70 to 1.50 g/L, as the results name it (samples: 2)"));
  CHECK(has(said.out, "C3: 0.90 to 1.80 g/L, a common one, for samples that name none (1)"));
  // Where all are held against the same kind there is no star, and the range says so.
  const auto plain = told("date,C3 (g/L)\n2024-01-15,0.85\n2024-02-15,0.86\n");
  CHECK_FALSE(has(plain.out, "*"));
  CHECK(has(plain.out, "a common one; the results name none"));
  // A star stands in its own column, in Spanish too.
  CHECK(has(told(text, {"--language", "es"}).out, "por debajo*"));
}

TEST_CASE("a newest C3 or C4 below its range ends the command with exit code 1 though nothing has changed") {
  CHECK(told("date,C3 (g/L),C4 (g/L)\n2024-01-15,0.60,0.05\n2024-02-15,0.61,0.05\n2024-03-15,0.60,0.05\n").code == 1);
  CHECK(told("date,C3 (g/L),C4 (g/L)\n2024-01-15,1.10,0.05\n2024-02-15,1.11,0.05\n").code == 1);
  CHECK(told("date,C3 (g/L),C4 (g/L)\n2024-01-15,1.10,0.20\n2024-02-15,1.11,0.20\n").code == 0);
  // High is not low, and low once is not low now.
  CHECK(told("date,C3 (g/L),C4 (g/L)\n2024-01-15,2.10,0.50\n2024-02-15,2.11,0.50\n").code == 0);
  CHECK(told("date,C3 (g/L)\n2024-01-15,0.88\n2024-02-15,0.92\n").code == 0);
  // Each protein's own last day counts, and of that day any result.
  CHECK(told("date,C3 (g/L),C4 (g/L)\n2024-01-15,0.80,0.20\n2024-02-15,,0.20\n").code == 1);
  CHECK(told("date,C3 (g/L)\n2024-02-15,0.89\n2024-02-15,0.91\n").code == 1);
  // The laboratory's own range, and its own mark, say what is low.
  CHECK(told("date,C3 (g/L),C3 range\n2024-01-15,0.80,0.70-1.50\n2024-02-15,0.80,0.70-1.50\n").code == 0);
  CHECK(told("date,C3 (g/L),C3 flag\n2024-01-15,0.95,L\n2024-02-15,0.95,L\n").code == 1);
  // Nor does a file without any sample end as if all were well.
  CHECK(told("date,C3 (g/L)\n2024-01-15,pending\n").code == 1);
  const auto help = support::drawdown_with({"labs", "--help"});
  CHECK(has(help.out, "below its"));
}

TEST_CASE("asked about falls only, the noise told is the limit that is used") {
  const std::string text = "date,C3 (g/L)\n2024-01-15,1.20\n2024-02-15,1.15\n";
  const auto falls = told(text, {"--one-sided"});
  CHECK(has(falls.out, "within down to -13 %, as nineteen"));
  CHECK_FALSE(has(falls.out, "+1"));
  CHECK(has(told(text).out, "within -15 to +18 %, as nineteen"));
  CHECK(has(told("date,C3 (g/L)\n2024-01-15,1.50\n2024-02-15,1.10\n", {"--one-sided", "--language", "es"}).out,
            "de hasta -13 %"));
}

TEST_CASE("a file of which nothing was read says so, and nothing of unit, ranges or trend") {
  const auto none = told("date,C3 (mg/dL),C4 (mg/dL)\n2024-13-15,95,22\n2024-14-15,96,21\n");
  CHECK(none.code == 1);
  CHECK(has(none.out, "No sample was read."));
  CHECK(has(none.out, "line 2: '2024-13-15' is not a day"));
  for (const char* silent : {"Unit:", "range:", "trend", "Usual", "CV", "g/L", "mg/dL"}) {
    CHECK_MESSAGE(!has(none.out, silent), std::string(silent));
  }
  CHECK(has(told("date,C3 (mg/dL)\n2024-13-15,95\n", {"--language", "es"}).out, "No se leyó ninguna muestra."));
  CHECK_FALSE(has(told("date,C3 (g/L)\n2024-01-15,1.1\n").out, "No sample"));
}

TEST_CASE("one sample, and one of anything, is said in the singular in both languages") {
  const labs::Reading one = labs::read("date,C3 (g/L)\n2024-01-15,1.10\n");
  const labs::Judgement of = labs::judge(one.rows, {}, {});
  const labs::Noise noise;
  const sheet::Content content{one, of, noise, {}, nullptr};
  CHECK(has(sheet::html(content, english()), "1 sample, of 2024-01-15"));
  const auto spanish = look::WordBook::load(support::source_folder() + "/assets/es.toml");
  CHECK(has(sheet::html(content, spanish), "1 muestra, del 2024-01-15"));
  const labs::Reading two = labs::read("date,C3 (g/L)\n2024-01-15,1.10\n2024-02-15,1.10\n");
  const labs::Judgement of_two = labs::judge(two.rows, {}, {});
  CHECK(has(sheet::html({two, of_two, noise, {}, nullptr}, english()), "2 samples from 2024-01-15 to 2024-02-15"));
}
