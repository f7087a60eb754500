// Sampled people for the tests and benchmarks of many at once: fixed by their number alone.
#pragma once

#include <cstdint>

#include "study/cohort.hpp"
#include "study/people.hpp"

namespace drawdown::support {

// A year with a kidney flare: of one shape and treated on day 80, or each with days of their own.
inline scenario::Scenario sampled_person(std::size_t number, bool days_of_their_own = false) {
  study::Person person = study::person(study::group_named("flare-with-kidney"), 7001, number);
  if (!days_of_their_own) {
    person.onset_day = 20.0;
    person.build_up_days = 30.0;
    person.treatment_day = 80.0;
  }
  return study::story_of(person);
}

// C3 and C4 in the blood on every day of that year.
inline study::CohortReads daily_reads() {
  study::CohortReads reads;
  for (int day = 0; day <= 365; ++day) reads.days.push_back(day);
  const auto& known = body::standard_model()->known();
  reads.levels = {known.c3, known.c4};
  return reads;
}

}  // namespace drawdown::support
