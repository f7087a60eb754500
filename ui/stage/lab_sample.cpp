// Noise of a sample.
#include "stage/lab_sample.hpp"

#include <cmath>
#include <cstdint>

#include "study/change_value.hpp"
#include "study/people.hpp"

namespace drawdown::stage {

namespace {

constexpr unsigned most_samples = 1000;

// The noise hangs on the day and on how many samples were asked for.
study::Key noise_of(double day, unsigned number) {
  return {number, static_cast<std::uint64_t>(std::floor(day))};
}

}  // namespace

LabSample lab_sample(const Run& run, double day, unsigned number) {
  const study::Key key = noise_of(day, number);
  const readout::Serum serum = run.measured(day);
  LabSample s;
  s.c3 = study::printed(study::noisy(key, study::Test::c3, serum.c3, 0));
  s.c4 = study::printed(study::noisy(key, study::Test::c4, serum.c4, 0));
  const body::Model& model = *run.body().model;
  const std::vector<double> state = run.state(day);
  const std::vector<double> levers = run.levers(day);
  const auto& rows = model.readouts();
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (!rows[i].on_sheet) continue;
    const body::ReadoutId id(i);
    const double value = model.from_sample(id, state.data(), levers.data());
    const double scatter = rows[i].scatter * study::normal(key, study::slot(rows[i].name));
    s.others.emplace_back(id, rows[i].scatter > 0.0 ? value * std::exp(scatter) : value);
  }
  return s;
}

SampleWords words_of(double value, double earlier, const scenario::Interval& range, const study::Variation& cv) {
  SampleWords said;
  said.placed = value < range.low ? -1 : value > range.high ? 1 : 0;
  said.percent = 100.0 * (value / earlier - 1.0);
  const study::ChangeLimits limits = study::log_change_limits(cv.analytical, cv.within);
  said.beyond = said.percent > limits.up || said.percent < limits.down;
  return said;
}

unsigned typical_sample(const Run& run, double day, double before, const scenario::Laboratory& lab) {
  const readout::Serum now = run.measured(day);
  const readout::Serum then = run.measured(before);
  // Where next to nothing moved, the sign of the change says nothing.
  const auto reads_as = [](double value, double earlier, double true_value, double true_earlier,
                           const scenario::Interval& range, const study::Variation& cv) {
    const SampleWords said = words_of(value, earlier, range, cv);
    const SampleWords meant = words_of(true_value, true_earlier, range, cv);
    const bool same_way = std::abs(meant.percent) < 2.0 || (said.percent > 0.0) == (meant.percent > 0.0);
    return said.placed == meant.placed && said.beyond == meant.beyond && same_way;
  };
  for (unsigned number = 0; number < most_samples; ++number) {
    const study::Key key = noise_of(day, number);
    const study::Key earlier = noise_of(before, number);
    const auto read = [](const study::Key& of, study::Test test, double level) {
      return study::printed(study::noisy(of, test, level, 0));
    };
    const double c3 = read(key, study::Test::c3, now.c3);
    const double c4 = read(key, study::Test::c4, now.c4);
    const double c3_then = read(earlier, study::Test::c3, then.c3);
    const double c4_then = read(earlier, study::Test::c4, then.c4);
    if (reads_as(c3, c3_then, now.c3, then.c3, lab.c3, study::c3_variation) &&
        reads_as(c4, c4_then, now.c4, then.c4, lab.c4, study::c4_variation)) {
      return number;
    }
  }
  return 0;
}

}  // namespace drawdown::stage
