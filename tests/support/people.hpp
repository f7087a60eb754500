// Sampled people for the tests and benchmarks of many at once: fixed by their number alone.
#pragma once

#include <cstdint>
#include <random>

#include "study/cohort.hpp"
#include "study/group.hpp"

namespace drawdown::support {

// A year, treated on day 80, or on a day of their own between 60 and 120. The key is treatment's day, then how hard the
// flare drives what treatment leaves of it.
inline study::CohortPerson sampled_person(std::size_t number, bool days_of_their_own = false) {
  std::mt19937 random(static_cast<std::uint32_t>(7001 + number));
  study::Severity severity;
  severity.drive = 2.0 + static_cast<double>(number % 5);
  const study::Person person = study::sample_person(severity, random);
  const double day = days_of_their_own ? std::uniform_real_distribution<double>(60.0, 120.0)(random) : 80.0;
  return {study::story_of(person, 365.0, day), {day, person.flare_drive * (1.2 - person.treatment)}};
}

}  // namespace drawdown::support
