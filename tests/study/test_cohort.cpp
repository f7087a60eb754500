// Many people: near what each would have alone, the same bytes however they are cut and shared out, and no answer that
// nobody worked out.
#include <doctest/doctest.h>

#include <cmath>
#include <cstring>

#include "body/builder.hpp"
#include "study/in_order.hpp"
#include "support/people.hpp"
#include "support/stories.hpp"

using namespace drawdown;

namespace {

using Courses = std::vector<study::CohortCourse>;

scenario::Scenario own_day(std::size_t number) {
  return support::sampled_person(number, true);
}

study::Cohort cohort_of(std::size_t size, const study::CohortOptions& options = {},
                        const study::Cohort::People& people = own_day) {
  return {support::standard_body(), people, size, options};
}

// Everyone from `first` to before `last`, in the order handed over.
Courses all_of(const study::Cohort& cohort, std::size_t first, std::size_t last, std::size_t threads = 1,
               const study::CohortReads& reads = support::daily_reads()) {
  Courses all;
  const std::size_t reached = cohort.run(
      first, last, reads,
      [&](std::size_t at, const Courses& block) {
        REQUIRE(at == first + all.size());
        all.insert(all.end(), block.begin(), block.end());
      },
      threads);
  REQUIRE(reached == last);
  REQUIRE(all.size() == last - first);
  return all;
}

bool same_bytes(const std::vector<double>& a, const std::vector<double>& b) {
  return a.size() == b.size() && std::memcmp(a.data(), b.data(), a.size() * sizeof(double)) == 0;
}
// How many people's numbers differ.
std::size_t differing(const Courses& a, const Courses& b) {
  REQUIRE(a.size() == b.size());
  std::size_t count = 0;
  for (std::size_t k = 0; k < a.size(); ++k) count += same_bytes(a[k].read, b[k].read) ? 0U : 1U;
  return count;
}

// Largest difference from simulate(), as a share of the course's largest value, of the levels and samples read.
double off_from_alone(const scenario::Scenario& story, const std::vector<double>& read, const study::CohortReads& what,
                      double rtol = 1e-5) {
  const auto run = support::run_of(story, rtol);
  REQUIRE(run->complete());
  const std::size_t row = what.levels.size() + what.samples.size();
  double worst = 0.0;
  for (std::size_t i = 0; i < row; ++i) {
    double most = 0.0;
    double off = 0.0;
    for (std::size_t d = 0; d < what.days.size(); ++d) {
      const double alone = i < what.levels.size() ? run->level(what.levels[i], what.days[d])
                                                  : run->in_sample(what.samples[i - what.levels.size()], what.days[d]);
      most = std::max(most, alone);
      off = std::max(off, std::abs(read[d * row + i] - alone));
    }
    worst = std::max(worst, off / most);
  }
  return worst;
}

}  // namespace

TEST_CASE("everyone of a cohort is in lanes and within 1e-4 of their course's largest of simulate()") {
  const study::CohortReads reads = support::daily_reads();
  const Courses all = all_of(cohort_of(90), 0, 90);
  double worst = 0.0;
  for (std::size_t k = 0; k < all.size(); ++k) {
    REQUIRE(all[k].in_lanes);
    REQUIRE(all[k].outcome.status == solve::Status::ok);
    REQUIRE(all[k].outcome.time == 365.0 * 24.0);
    worst = std::max(worst, off_from_alone(own_day(k), all[k].read, reads));
  }
  CHECK_MESSAGE(worst < 1e-4, worst);
  // A neighbour's course is no such course.
  CHECK(off_from_alone(own_day(1), all[0].read, reads) > 1e-2);
}

TEST_CASE("readouts as the laboratory reads them are within 1e-4 of their course's largest of simulate()") {
  study::CohortReads reads = support::daily_reads();
  const body::Model& model = *body::standard_model();
  reads.samples = {model.readout("CH50"), model.readout("C3"), model.readout("C4d"), model.readout("CRP-like")};
  const auto people = [](std::size_t number) {
    scenario::Scenario story = own_day(number);
    story.levers[body::lever_at("fridge_days")] = static_cast<double>(number % 3);
    return story;
  };
  const Courses all = all_of(cohort_of(24, {}, people), 0, 24, 1, reads);
  std::size_t read_high = 0;
  for (std::size_t k = 0; k < all.size(); ++k) {
    REQUIRE(all[k].in_lanes);
    CHECK(off_from_alone(people(k), all[k].read, reads) < 1e-4);
    read_high += all[k].read[3] > 1.001 * all[k].read[0] ? 1U : 0U;  // C3 of an old sample and in the blood
  }
  CHECK(read_high == 16);
  // The levels are the same bits whether readouts are asked for or not.
  const Courses levels = all_of(cohort_of(24, {}, people), 0, 24);
  std::size_t same = 0;
  for (std::size_t d = 0; d < reads.days.size(); ++d) same += all[7].read[d * 6] == levels[7].read[d * 2] ? 1U : 0U;
  CHECK(same == reads.days.size());
}

TEST_CASE("one, two or three threads, each set of instructions, and parts cut at 64 give the same bytes") {
  const std::size_t size = 200;
  const study::Cohort cohort = cohort_of(size);
  const Courses one = all_of(cohort, 0, size);
  CHECK(differing(all_of(cohort, 0, size, 2), one) == 0);
  CHECK(differing(all_of(cohort, 0, size, 3), one) == 0);
  for (const solve::Instructions instructions : solve::instructions_here()) {
    study::CohortOptions options;
    options.instructions = instructions;
    CHECK_MESSAGE(differing(all_of(cohort_of(size, options), 0, size, 2), one) == 0,
                  solve::instructions_name(instructions));
  }
  Courses parts = all_of(cohort, 0, 64);
  for (const Courses& part : {all_of(cohort, 64, 192, 2), all_of(cohort, 192, size)}) {
    parts.insert(parts.end(), part.begin(), part.end());
  }
  CHECK(differing(parts, one) == 0);
  // Bits of the last place are seen.
  study::CohortOptions nearly;
  nearly.rtol = std::nextafter(1e-5, 1.0);
  CHECK(differing(all_of(cohort_of(size, nearly), 0, size), one) > size / 2);
}

TEST_CASE(
    "a person has the same bytes whoever else is in the cohort, and whether the usual level is asked for or not") {
  const Courses all = all_of(cohort_of(70), 0, 70);
  // Backwards, so that nobody stands where they stood or beside whom, and among people of another kind.
  const auto backwards = [](std::size_t number) {
    scenario::Scenario story = own_day(number < 70 ? 69 - number : number);
    if (number >= 70) story.events.clear();
    return story;
  };
  study::CohortReads with_usual = support::daily_reads();
  with_usual.usual = true;
  const Courses other = all_of(cohort_of(100, {}, backwards), 0, 100, 2, with_usual);
  std::size_t same = 0;
  for (std::size_t k = 0; k < 70; ++k) {
    same += same_bytes(other[69 - k].read, all[k].read) ? 1U : 0U;
    CHECK(all[k].usual.empty());
    const auto usual = support::run_of(own_day(k))->usual_c3();
    CHECK(other[69 - k].usual.at(0) == doctest::Approx(usual).epsilon(1e-5));
  }
  CHECK(same == 70);
  CHECK_FALSE(same_bytes(other[0].read, all[0].read));
}

TEST_CASE("a person opened alone is the person of the cohort, to the last bit of every day") {
  study::CohortReads reads = support::daily_reads();
  reads.samples = {body::standard_model()->readout("CH50")};
  const study::Cohort cohort = cohort_of(90);
  const Courses all = all_of(cohort, 0, 90, 2, reads);
  std::size_t other_alone = 0;
  for (const std::size_t k : {0U, 33U, 63U, 64U, 89U}) {
    const auto run = cohort.open(k);
    REQUIRE(run->complete());
    const auto alone = support::run_of(own_day(k));
    std::vector<double> opened;
    std::vector<double> by_itself;
    for (const double day : reads.days) {
      for (const body::ProteinId protein : reads.levels) {
        opened.push_back(run->level(protein, day));
        by_itself.push_back(alone->level(protein, day));
      }
      opened.push_back(run->in_sample(reads.samples[0], day));
      by_itself.push_back(alone->in_sample(reads.samples[0], day));
    }
    CHECK_MESSAGE(same_bytes(opened, all[k].read), k);
    other_alone += same_bytes(by_itself, all[k].read) ? 0U : 1U;
    CHECK(run->usual_c3() == alone->usual_c3());
    CHECK(run->outcome().time == alone->outcome().time);
  }
  CHECK(other_alone == 5);
  CHECK_THROWS_AS((void)cohort.open(90), std::logic_error);
}

TEST_CASE("a person the lanes refuse is run alone and says why, and nobody beside them is touched") {
  const std::size_t bad = 70;
  const auto people = [](std::size_t number) {
    scenario::Scenario story = own_day(number);
    if (number == bad) story.events.push_back({200.0, body::lever_at("hepatic_output"), std::nan(""), 0.0, 0.0, ""});
    return story;
  };
  const study::Cohort cohort = cohort_of(96, {}, people);
  const Courses all = all_of(cohort, 0, 96, 2);
  CHECK_FALSE(all[bad].in_lanes);
  CHECK(all[bad].outcome.status == solve::Status::non_finite);
  CHECK(all[bad].outcome.species >= 0);
  CHECK(all[bad].outcome.time == doctest::Approx(200.0 * 24.0));
  CHECK(all[bad].read.empty());
  CHECK(cohort.open(bad)->outcome().status == solve::Status::non_finite);
  const Courses healthy = all_of(cohort_of(96), 0, 96);
  for (std::size_t k = 0; k < all.size(); ++k) {
    if (k == bad) continue;
    REQUIRE(all[k].in_lanes);
    CHECK(same_bytes(all[k].read, healthy[k].read));
  }
}

TEST_CASE("where the root is not stable the lanes refuse and time decides, and a step limit is said to be one") {
  body::Catalogue c = body::standard_catalogue();
  c.chapters.emplace_back([](body::Builder& b) {
    b.chapter("made up");
    b.species("runaway", "something that makes itself", "nmol/L plasma", 1.0);
    b.reaction("runaway_grows", "it makes itself", 2.0, "/h", "made up")
        .gain("runaway")
        .by("runaway")
        .repressed("runaway", 5.0, 1, "nmol/L", "made up");
    b.reaction("runaway_fades", "it is lost", 1.0, "/h", "made up").lose("runaway").by("runaway");
  });
  const auto model = std::make_shared<const body::Model>(c);
  const auto body = body::make_body({}, model);
  const auto people = [&](std::size_t) {
    scenario::Scenario story;
    story.model = model;
    story.days = 20.0;
    return story;
  };
  study::CohortReads reads;
  reads.days = {0.0, 20.0};
  reads.levels = {model->known().c3};
  reads.usual = true;
  const Courses all = all_of(study::Cohort(body, people, 3), 0, 3, 1, reads);
  for (const study::CohortCourse& course : all) {
    CHECK_FALSE(course.in_lanes);
    CHECK(course.outcome.status == solve::Status::ok);
    CHECK(course.read.size() == 2);
    CHECK(course.usual.size() == 1);
  }
  study::CohortOptions hurried;
  hurried.step_limit = 5;
  const Courses none = all_of(cohort_of(1, hurried), 0, 1);
  CHECK_FALSE(none[0].in_lanes);
  CHECK(none[0].outcome.status == solve::Status::step_limit);
  CHECK(none[0].read.empty());
}
