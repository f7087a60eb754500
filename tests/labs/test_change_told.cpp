// What is said of a change: one verdict for screen, paper and terminal, in both languages; it never says more than was
// found, and the exit code says the same. Simulated people of labs/people.hpp, fixed seeds; invented data.
#include <doctest/doctest.h>

#include <algorithm>

#include "command/labs.hpp"
#include "labs/people.hpp"
#include "labs/told.hpp"
#include "sheet/sheet.hpp"
#include "support/command_line.hpp"
#include "support/folder.hpp"

using namespace drawdown;
using namespace drawdown::tests;

namespace {

look::WordBook spanish() {
  return look::WordBook::load(support::source_folder() + "/assets/es.toml");
}

labs::Reading as_read(const std::vector<labs::Row>& rows) {
  labs::Reading reading;
  reading.rows = rows;
  reading.unit_sure = true;
  return reading;
}

// A word by which a sentence tells of a change.
bool tells_change(const std::string& text) {
  return has(text, "fell more than noise") || has(text, "rose more than noise") || has(text, "than noise explains") ||
         has(text, ", more than noise.") || has(text, "from where it was before");
}

std::string verdict(const std::string& text, Protein p, const look::WordBook& words) {
  const labs::Reading reading = labs::read(text);
  const labs::Judgement of = labs::judge(reading.rows, {}, {});
  return stage::verdict_sentence(p == Protein::c3 ? of.c3 : of.c4, p, reading.rows, words);
}

const std::string usual =
    "date,C3 (g/L),C4 (g/L),flare\n2022-01-10,1.10,0.07,no\n2022-04-10,1.06,0.08,no\n2022-07-10,1.12,0.07,no\n"
    "2022-10-10,1.08,0.08,no\n";

}  // namespace

TEST_CASE(
    "of a thousand unchanged people no sentence tells a change but where the verdict, page and exit code do too") {
  const look::WordBook words = english();
  People mix(91);
  int told = 0;
  for (int i = 0; i < 1000; ++i) {
    const labs::Reading reading = as_read(mix.rows(mix.visits()));
    const labs::Judgement judged = labs::judge(reading.rows, {}, {});
    const bool found = judged.c3.level.found() || judged.c4.level.found();
    told += found ? 1 : 0;
    CHECK(judged.any_beyond == found);
    const std::string printed = command::labs_text(reading, judged, {}, words);
    CHECK(tells_change(printed) == found);
    if (i % 50 != 0 && !found) continue;
    std::string page;
    for (const sheet::Section& s : sheet::sections({reading, judged, {}, {}, nullptr}, words)) {
      for (const std::string& line : s.lines) page += line + "\n";
    }
    CHECK(tells_change(page) == found);
    CHECK(has(page, words.at("sheet.q_change")) == found);
    for (const Protein p : {Protein::c3, Protein::c4}) {
      const std::string said =
          stage::verdict_sentence(p == Protein::c3 ? judged.c3 : judged.c4, p, reading.rows, words);
      CHECK(has(printed, said));
      CHECK(has(page, said));
    }
  }
  MESSAGE("told a change: " << told << " of 1000 unchanged people");
  CHECK(told <= 55);
  CHECK(told > 5);
}

TEST_CASE("each verdict has its own plain words in both languages") {
  const look::WordBook en = english();
  const look::WordBook es = spanish();
  const auto c3 = [&](const std::string& more, const look::WordBook& words) {
    return verdict(usual + more, Protein::c3, words);
  };
  CHECK(c3("2023-01-10,1.05,0.08,no\n", en) == "C3: no more than noise.");
  CHECK(c3("2023-01-10,1.05,0.08,no\n", es) == "C3: no más que ruido.");
  CHECK(verdict(usual + "2023-01-10,1.05,0.08,no\n", Protein::c4, en) ==
        "C4: below the laboratory's range, but usual for you; no change beyond noise.");
  CHECK(has(verdict(usual + "2023-01-10,1.05,0.08,no\n", Protein::c4, es), "pero habitual en usted"));
  CHECK(c3("2023-03-10,0.70,0.08,no\n", en) ==
        "C3 fell more than noise at the last visit, in March 2023. The last result is below the laboratory's range.");
  CHECK(c3("2023-03-10,1.70,0.08,no\n", en) == "C3 rose more than noise at the last visit, in March 2023.");
  CHECK(has(c3("2023-03-10,0.70,0.08,no\n", es), "cayó más que el ruido en la última visita, en marzo de 2023"));
  const std::string step =
      "2023-01-10,0.90,0.08,no\n2023-04-10,0.88,0.07,no\n2023-07-10,0.91,0.08,no\n2023-10-10,0.89,0.08,no\n"
      "2024-01-10,0.90,0.08,no\n";
  CHECK(has(c3(step, en), "C3 fell more than noise, since about January 2023."));
  CHECK(has(c3("2023-01-10,0.60,0.02,yes\n2023-04-10,1.09,0.08,no\n", en),
            "C3: no more than noise. Earlier, in January 2023 (marked as a flare), it was lower than noise explains."));
  CHECK(verdict("date,C3\n2024-01-10,0.60\n2024-02-10,1.10\n", Protein::c3, en) ==
        "C3: too few results to know your usual.");
  CHECK(has(c3("2023-01-10,<1.05,0.08,no\n", en), "Whether it fell is not known."));
  CHECK(
      has(verdict("date,C3\n2024-01-10,<0.60\n2024-02-10,<0.60\n2024-03-10,<0.60\n2024-04-10,<0.60\n", Protein::c3, en),
          "below what the laboratory can measure"));
}

TEST_CASE("what is not known is said: visits left out, other laboratories, whether the usual level was a quiet one") {
  const std::string said =
      said_of(usual + "2023-01-10,0.60,0.02,yes\n2023-02-10,1.0,0.07,\n2023-04-10,1.09,0.08,no\n", Protein::c3);
  CHECK(has(said, "C3, left out of your usual: 1 marked as a flare, 1 that nothing marks as quiet."));
  CHECK(has(said_of("date,C3\n2024-01-10,1.0\n2024-02-10,1.1\n2024-03-10,1.05\n2024-04-10,1.0\n", Protein::c3),
            "nothing says which visits were quiet"));
  CHECK_FALSE(has(said, "nothing says which visits were quiet"));
  CHECK(has(said_of("date,C3,C3 range\n2024-01-10,1.0,0.9-1.8\n2024-02-10,1.1,\n2024-03-10,1.05,\n2024-04-10,1.0,\n"
                    "2024-05-10,1.3,1.0-2.0\n",
                    Protein::c3),
            "C3: the last result comes from another laboratory"));
  CHECK(has(said_of("date,C3,treatment\n2024-01-10,1.0,x\n2024-02-10,1.1,x\n2024-03-10,1.05,x\n2024-04-10,1.0,x\n",
                    Protein::c3),
            "Your usual is that under treatment"));
}

TEST_CASE("whether it is a marker stands in the terminal and on the page, and the questions follow from it") {
  const std::string marks =
      usual +
      "2023-01-10,0.66,0.03,yes\n2023-04-10,1.09,0.08,no\n2023-07-10,0.70,0.04,yes\n2023-10-10,1.07,0.07,no\n"
      "2024-01-10,0.68,0.03,yes\n2024-04-10,1.10,0.08,no\n";
  const labs::Reading reading = labs::read(marks);
  const labs::Judgement judged = labs::judge(reading.rows, {}, {});
  for (const look::WordBook& words : {english(), spanish()}) {
    const std::string printed = command::labs_text(reading, judged, {}, words);
    CHECK(has(printed, words.at("labs.marker.goes")));
    const sheet::Content content{reading, judged, {}, {}, nullptr};
    CHECK(has(sheet::html(content, words), words.at("labs.marker.goes")));
    CHECK(sheet::questions(content, words).at(1) == words.at("sheet.q_goes"));
    CHECK(sheet::questions(content, words).at(3) == words.at("sheet.q_low_when_well"));
  }
  const std::string printed = command::labs_text(reading, judged, {}, english());
  CHECK(has(printed,
            "In 3 of 3 flares C3 was clearly below your 7 quiet visits. At the next quiet visit it was back after "
            "3 of 3 of them."));
  CHECK(has(printed, "common practice, no source"));
  // Without marks it says what to mark.
  CHECK(has(
      stage::marker_sentences(labs::judge(labs::read("date,C3\n2024-01-10,1.0\n").rows, {}, {}).marker, english())[0],
      "Mark your visits"));
}

TEST_CASE(
    "a visit marked as the one at diagnosis is a flare, is told with its levels, and changes the first question") {
  for (const char* mark : {"diagnosis", "at diagnosis", "Diagn\u00f3stico"}) {
    const labs::Reading reading = labs::read(std::string("date,C3 (g/L),C4 (g/L),flare\n2022-01-10,0.60,0.12,") + mark +
                                             "\n2022-04-10,1.06,0.20,no\n2022-07-10,1.12,0.21,no\n");
    REQUIRE(reading.rejected.empty());
    CHECK(reading.rows.at(0).flare == true);
    CHECK(reading.rows.at(0).at_diagnosis);
    CHECK_FALSE(reading.rows.at(1).at_diagnosis);
    const labs::Judgement judged = labs::judge(reading.rows, {}, {});
    const sheet::Content content{reading, judged, {}, {}, nullptr};
    const std::string said = "When the illness was found (2022-01-10): C3 0.60 (below range), C4 0.12 (in range).";
    CHECK(has(command::labs_text(reading, judged, {}, english()), said));
    CHECK(has(sheet::html(content, english()), said));
    CHECK(sheet::questions(content, english()).at(0) == english().at("sheet.q_came_back"));
  }
  CHECK(reasons(labs::read("date,C3 (g/L),flare\n2022-01-10,0.60,diagnosed\n")) ==
        std::vector<Reason>{Reason::bad_flare});
}
