// The clinic: counted as a laboratory prints, the same bytes from any parts and any threads, and no part that is not
// what it says. CRC-64 of "123456789" is 995DC9BBDF1939FA (the XZ file format's check value).
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "study/clinic_text.hpp"
#include "support/near.hpp"

using namespace drawdown;
using study::ClinicPart;
using study::Moment;

namespace {

study::ClinicAsked asked(std::uint64_t people, const char* group = "flare-with-kidney") {
  return {group, 7, people, 120, true};
}

struct Ran {
  study::Tally tally;
  std::string rows;
  std::uint64_t reached = 0;
};
Ran run(const study::ClinicAsked& what, std::uint64_t first, std::uint64_t last, std::size_t threads = 1) {
  Ran ran;
  ran.reached = study::run_clinic(
      what, first, last,
      [&](const study::ClinicPerson& p) {
        ran.tally.add(p);
        ran.rows += study::each_row(p);
      },
      threads);
  return ran;
}
ClinicPart part(const study::ClinicAsked& what, std::uint64_t k, std::uint64_t of, std::size_t threads = 1) {
  const study::People people = study::people_of_part(what.people, k, of);
  ClinicPart p;
  p.asked = what;
  p.program = "1-" + study::fingerprint();
  p.part = k;
  p.parts = of;
  p.tally = run(what, people.first, people.last, threads).tally;
  return p;
}
std::string refusal(const std::vector<ClinicPart>& parts) {
  try {
    (void)study::merged(parts);
  } catch (const study::PartError& error) {
    return error.what();
  }
  return "taken";
}
bool has(const std::string& text, const std::string& what) {
  return text.find(what) != std::string::npos;
}
const study::MomentTally& at(const study::Tally& tally, Moment m) {
  return tally.moments[static_cast<std::size_t>(m)];
}

}  // namespace

TEST_CASE("clinic: parts in any order and any number of threads give the bytes of one run") {
  const study::ClinicAsked what = asked(300);
  ClinicPart whole = part(what, 1, 1);
  std::vector<ClinicPart> parts;
  for (const std::uint64_t k : {3U, 1U, 2U}) parts.push_back(study::read_part(study::part_text(part(what, k, 3, 2))));
  const ClinicPart added = study::merged(parts);
  CHECK(study::summary_csv(added) == study::summary_csv(whole));
  CHECK(study::daily_csv(added) == study::daily_csv(whole));
  CHECK(study::part_text(added) == study::part_text(study::merged({whole})));
  // Another seed is another clinic.
  study::ClinicAsked other = what;
  other.seed = 8;
  CHECK(study::daily_csv(part(other, 1, 1)) != study::daily_csv(whole));
  CHECK(study::fingerprint() == study::fingerprint());
  CHECK(study::fingerprint().size() == 16);
}

TEST_CASE("clinic: everyone stands once in the parts, which are cut at multiples of 64") {
  for (const std::uint64_t people : {1U, 63U, 64U, 65U, 1000U, 10000U}) {
    for (const std::uint64_t parts : {1U, 2U, 7U, 16U, 300U}) {
      std::uint64_t next = 0;
      for (std::uint64_t k = 1; k <= parts; ++k) {
        const study::People of = study::people_of_part(people, k, parts);
        REQUIRE(of.first == next);
        REQUIRE((of.first % 64 == 0 || of.first == people));
        next = of.last;
      }
      REQUIRE(next == people);
    }
  }
}

TEST_CASE("clinic: what is counted is what the rows of its people say") {
  const study::ClinicAsked what = asked(128, "flare-without-kidney");
  std::vector<study::ClinicPerson> people;
  study::Tally tally;
  (void)study::run_clinic(what, 0, 128, [&](const study::ClinicPerson& p) {
    people.push_back(p);
    tally.add(p);
  });
  REQUIRE(people.size() == 128);
  std::size_t c3_low = 0;
  std::size_t both = 0;
  std::size_t both_lowest = 0;
  std::vector<int> c3;
  for (std::size_t i = 0; i < people.size(); ++i) {
    CHECK(people[i].number == i);
    REQUIRE(people[i].complete);
    const auto& read = people[i].read[static_cast<std::size_t>(Moment::last)];
    REQUIRE(read.has_value());
    const bool is_low = read->c3 / 100.0 < people[i].laboratory.c3.low - 1e-9;
    c3_low += is_low ? 1U : 0U;
    both += is_low && read->c4 / 100.0 < people[i].laboratory.c4.low - 1e-9 ? 1U : 0U;
    c3.push_back(read->c3);
    const auto& lowest = people[i].read[static_cast<std::size_t>(Moment::lowest)];
    CHECK(lowest->c3 <= read->c3);
    CHECK(lowest->c4 <= read->c4);
    both_lowest += people[i].both_below_range ? 1U : 0U;
    CHECK(people[i].days.size() == 121);
  }
  const study::MomentTally& last = at(tally, Moment::last);
  CHECK(last.people == 128);
  CHECK(last.below_range[0] == c3_low);
  CHECK(last.below_range[3] == both);
  CHECK(last.below_range[2] + last.below_range[3] == last.below_range[0] + last.below_range[1]);
  std::sort(c3.begin(), c3.end());
  CHECK(last.c3.quantile(0.5) == doctest::Approx(c3[63] / 100.0));
  double mean = 0.0;
  for (const int v : c3) mean += v / 12800.0;
  CHECK(last.c3.mean() == doctest::Approx(mean));
  CHECK(last.correlation().value() > 0.3);
  CHECK(last.correlation().value() < 1.0);
  // Of the lowest, both are counted where they were low in one test, and the pair has no correlation.
  CHECK(at(tally, Moment::lowest).below_range[3] == both_lowest);
  const std::string summary = study::summary_csv({what, "p", false, "", 1, 1, tally});
  CHECK(summary.substr(summary.size() - 2) == ",\n");
  // One person has no spread.
  study::Tally one;
  one.add(people[0]);
  CHECK_FALSE(at(one, Moment::last).c3.sd().has_value());
  CHECK_FALSE(at(one, Moment::last).correlation().has_value());
}

TEST_CASE("clinic: the same person alone, in a crowd and in a part") {
  const study::ClinicAsked what = asked(200);
  std::vector<std::string> crowd;
  (void)study::run_clinic(what, 0, 200, [&](const study::ClinicPerson& p) { crowd.push_back(study::each_row(p)); });
  std::vector<std::string> in_part;
  (void)study::run_clinic(what, 128, 200, [&](const study::ClinicPerson& p) { in_part.push_back(study::each_row(p)); });
  REQUIRE(in_part.size() == 72);
  for (std::size_t i = 0; i < in_part.size(); ++i) CHECK(in_part[i] == crowd[128 + i]);
  CHECK(crowd[0] != crowd[1]);
}

TEST_CASE("clinic: a person opened alone has the very levels that were counted, and the usual level that was used") {
  const study::ClinicAsked what = asked(100);
  std::vector<study::ClinicPerson> people;
  (void)study::run_clinic(what, 0, 100, [&](const study::ClinicPerson& p) { people.push_back(p); });
  for (const std::uint64_t number : {0U, 17U, 63U, 64U, 99U}) {
    const auto run = study::open_person(what, number);
    const study::ClinicPerson& p = people[number];
    for (std::size_t day = 0; day < p.days.size(); day += 10) {
      CHECK(p.days[day].c3 == std::lround(100.0 * study::printed(run->c3(static_cast<double>(day)))));
      CHECK(p.days[day].c4 == std::lround(100.0 * study::printed(run->c4(static_cast<double>(day)))));
    }
    CHECK(p.usual_c3 == support::near(run->usual_c3(), 1e-5));
    CHECK(p.usual_c4 == support::near(run->usual_c4(), 1e-5));
  }
  CHECK(people[17].days[60].c3 != people[18].days[60].c3);
  CHECK_THROWS_AS((void)study::open_person(what, 100), std::logic_error);
}

TEST_CASE(
    "clinic: below the own usual level is told beyond one sample's noise: healthy people about one time in forty") {
  const study::ClinicAsked what = asked(1024, "healthy");
  const study::Tally tally = run(what, 0, 1024).tally;
  const study::MomentTally& first = at(tally, Moment::first);
  // Two-sided 95 %: 2.5 % fall below by noise; 4 standard errors of 1024 people are 2 points.
  const double share = static_cast<double>(first.below_own[0]) / static_cast<double>(first.people);
  CHECK(share < 0.045);
  CHECK(share > 0.005);
  // People in a flare are told.
  const study::Tally ill = run(asked(128), 0, 128).tally;
  const study::MomentTally& flare = at(ill, Moment::turn);
  CHECK(static_cast<double>(flare.below_own[0]) > 0.7 * static_cast<double>(flare.people));
}

TEST_CASE("clinic: strangers are not added up: what does not agree is named") {
  const study::ClinicAsked what = asked(128);
  const ClinicPart one = part(what, 1, 2);
  const ClinicPart two = part(what, 2, 2);
  CHECK(refusal({one, two}) == "taken");
  CHECK(has(refusal({one}), "part 2 of 2 is missing"));
  CHECK(has(refusal({one, one, two}), "part 1 is there twice"));
  const auto changed = [&](auto change) {
    ClinicPart other = two;
    change(other);
    return refusal({one, other});
  };
  CHECK(has(changed([](ClinicPart& p) { p.asked.seed = 9; }), "the seed: 7 and 9"));
  CHECK(has(changed([](ClinicPart& p) { p.asked.people = 192; }), "people"));
  CHECK(has(changed([](ClinicPart& p) { p.asked.group = "healthy"; }), "the group"));
  CHECK(has(changed([](ClinicPart& p) { p.asked.days = 121; }), "days"));
  CHECK(has(changed([](ClinicPart& p) { p.program = "2-0"; }), "the program"));
  CHECK(has(changed([](ClinicPart& p) { p.each = true; }), "--each"));
  CHECK(has(changed([](ClinicPart& p) { p.parts = 3; }), "how many parts"));
  CHECK(has(refusal({}), "no part"));
}

TEST_CASE("clinic: a part cut short, altered anywhere or of another people is not read") {
  const std::string text = study::part_text(part(asked(64), 1, 1));
  CHECK(study::part_text(study::read_part(text)) == text);
  const auto refused = [](const std::string& t) {
    try {
      (void)study::read_part(t);
    } catch (const study::PartError&) {
      return true;
    }
    return false;
  };
  for (std::size_t cut = 0; cut < text.size(); cut += 97) CHECK(refused(text.substr(0, cut)));
  for (std::size_t i = 0; i < text.size(); i += 53) {
    std::string altered = text;
    altered[i] = altered[i] == '7' ? '8' : '7';
    CHECK(refused(altered));
  }
  // A checksum that fits does not make nonsense a part.
  const auto with_sum = [](std::string body) {
    study::Checksum sum;
    sum.add(body);
    return body + "checksum," + sum.digits() + "\n";
  };
  const std::string body = text.substr(0, text.rfind("checksum,"));
  CHECK_FALSE(refused(with_sum(body)));
  std::string fewer = body;
  fewer.replace(fewer.find("run,64"), 6, "run,63");
  CHECK(refused(with_sum(fewer)));
  CHECK(refused(with_sum("clinic,2\n")));
  CHECK(refused(with_sum(body + "more\n")));
}

TEST_CASE("clinic: the checksum is the one published, in one piece or in several") {
  study::Checksum whole;
  whole.add("123456789");
  CHECK(whole.digits() == "995dc9bbdf1939fa");
  study::Checksum pieces;
  pieces.add("1234");
  pieces.add("");
  pieces.add("56789");
  CHECK(pieces.digits() == whole.digits());
}

TEST_CASE("clinic: stopped it says how far it came, and hands over no one after") {
  std::atomic<bool> stop{false};
  std::uint64_t seen = 0;
  const std::uint64_t reached = study::run_clinic(
      asked(4096), 0, 4096,
      [&](const study::ClinicPerson&) {
        seen += 1;
        if (seen == 64) stop = true;
      },
      1, &stop);
  CHECK(reached == seen);
  CHECK(reached >= 64);
  CHECK(reached < 4096);
  CHECK_THROWS_AS((void)study::run_clinic(asked(0), 0, 0, [](const auto&) {}), std::logic_error);
  CHECK_THROWS_AS((void)study::run_clinic(asked(64, "nobody"), 0, 64, [](const auto&) {}), std::invalid_argument);
}
