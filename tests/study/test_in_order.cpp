// Pieces of work in order, whatever the threads; and a cohort that is stopped, asked wrongly, or whose people fail.
#include <doctest/doctest.h>

#include <atomic>
#include <cmath>
#include <stdexcept>
#include <thread>

#include "study/in_order.hpp"
#include "support/people.hpp"
#include "support/stories.hpp"

using namespace drawdown;

namespace {

using Courses = std::vector<study::CohortCourse>;

study::CohortReads one_day() {
  study::CohortReads reads;
  reads.days = {30.0};
  reads.levels = {body::standard_model()->known().c4};
  return reads;
}

// Quiet people of one month: quickly run.
scenario::Scenario quiet(std::size_t number) {
  scenario::Scenario story;
  story.days = 30.0;
  story.levers[body::lever_at("hepatic_output")] = 0.7 + 0.001 * static_cast<double>(number % 100);
  return story;
}

study::Cohort cohort_of(std::size_t size, const study::Cohort::People& people = quiet) {
  return {support::standard_body(), people, size};
}

}  // namespace

TEST_CASE("pieces are handed over in order on the calling thread, and never more than two a thread wait") {
  for (const std::size_t threads : {0U, 1U, 2U, 5U}) {
    std::atomic<std::size_t> begun{0};
    std::atomic<std::size_t> workers{0};
    std::size_t next = 0;
    const auto caller = std::this_thread::get_id();
    const auto make_worker = [&] {
      workers += 1;
      return [&](std::size_t number) -> std::optional<std::size_t> {
        begun += 1;
        return number * number;
      };
    };
    const std::size_t delivered =
        study::in_order<std::size_t>(200, threads, make_worker, [&](std::size_t number, std::size_t piece) {
          CHECK(number == next);
          CHECK(piece == number * number);
          const bool on_the_caller = std::this_thread::get_id() == caller;
          CHECK(on_the_caller);
          CHECK(begun.load() <= number + 2 * std::max<std::size_t>(threads, 1));
          next += 1;
        });
    CHECK(delivered == 200);
    CHECK(next == 200);
    CHECK(begun.load() == 200);
    CHECK(workers.load() == std::max<std::size_t>(threads, 1));
  }
}

TEST_CASE("a piece that is none ends the work there, and what a worker or the taker throws comes out") {
  for (const std::size_t threads : {1U, 2U, 4U}) {
    std::size_t taken = 0;
    const auto stops_at_17 = [] {
      return [](std::size_t number) { return number == 17 ? std::nullopt : std::optional<int>(1); };
    };
    CHECK(study::in_order<int>(50, threads, stops_at_17, [&](std::size_t, int) { taken += 1; }) == 17);
    CHECK(taken == 17);
    const auto throws_at_17 = [] {
      return [](std::size_t number) -> std::optional<int> {
        if (number == 17) throw std::runtime_error("seventeen");
        return 1;
      };
    };
    const auto take = [](std::size_t, int) {};
    CHECK_THROWS_WITH_AS((void)study::in_order<int>(50, threads, throws_at_17, take), "seventeen", std::runtime_error);
    const auto always = [] { return [](std::size_t) { return std::optional<int>(1); }; };
    const auto full = [](std::size_t number, int) {
      if (number == 9) throw std::runtime_error("full");
    };
    CHECK_THROWS_WITH_AS((void)study::in_order<int>(50, threads, always, full), "full", std::runtime_error);
  }
}

TEST_CASE("a cohort that is stopped delivers whole blocks in order and says how far it came") {
  const study::Cohort cohort = cohort_of(64 * 20);
  for (const std::size_t threads : {1U, 2U}) {
    std::atomic<bool> stop{false};
    std::size_t next = 0;
    const std::size_t reached = cohort.run(
        0, cohort.size(), one_day(),
        [&](std::size_t first, const Courses& block) {
          CHECK(first == next);
          CHECK(block.size() == 64);
          for (const auto& course : block) CHECK(course.read.size() == 1);
          next += block.size();
          if (next == 3 * 64) stop = true;
        },
        threads, &stop);
    CHECK(reached == next);
    CHECK(reached >= 3 * 64);
    // Those begun before may still come.
    CHECK(reached <= (threads == 1 ? 3 : 3 + 2 * threads) * 64);
    CHECK(cohort.run(
              0, 64, one_day(), [](std::size_t, const Courses&) { CHECK(false); }, threads, &stop) == 0);
    // Unhindered it comes to its end.
    stop = false;
    const auto nothing = [](std::size_t, const Courses&) {};
    CHECK(cohort.run(0, 128, one_day(), nothing, threads, &stop) == 128);
  }
}

TEST_CASE("a cohort of nobody runs, and one asked wrongly throws on any number of threads") {
  const auto nothing = [](std::size_t, const Courses&) {};
  CHECK(cohort_of(0).run(0, 0, {}, nothing) == 0);
  const study::Cohort good = cohort_of(100);
  for (const std::size_t threads : {1U, 2U}) {
    CHECK(good.run(64, 100, one_day(), nothing, threads) == 100);
    const auto refuses = [&](const study::Cohort& cohort, std::size_t first, std::size_t last,
                             const study::CohortReads& reads) {
      CHECK_THROWS_AS((void)cohort.run(first, last, reads, nothing, threads), std::logic_error);
    };
    refuses(good, 1, 64, one_day());
    refuses(good, 0, 63, one_day());
    refuses(good, 0, 128, one_day());
    refuses(good, 64, 0, one_day());
    study::CohortReads late = one_day();
    late.days = {31.0};
    refuses(good, 0, 64, late);
    late.days = {2.0, 2.0};
    refuses(good, 0, 64, late);
    // Person 70 is the first wrong one: the block before is delivered.
    const auto with = [](const auto& change) {
      return cohort_of(100, [change](std::size_t number) {
        scenario::Scenario story = quiet(number);
        if (number == 70) change(story);
        return story;
      });
    };
    refuses(with([](auto& story) { story.days = 29.0; }), 0, 100, one_day());
    refuses(with([](auto& story) { story.patient.weight += 1.0; }), 0, 100, one_day());
    refuses(with([](auto& story) { story.model = std::make_shared<const body::Model>(body::standard_catalogue()); }), 0,
            100, one_day());
    const auto wrong = with([](auto& story) { story.days = 29.0; });
    CHECK(wrong.run(0, 64, one_day(), nothing, threads) == 64);
  }
}
