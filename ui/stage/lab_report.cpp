// Reports put together.
#include "stage/lab_report.hpp"

#include <algorithm>
#include <cmath>

#include "stage/lab_sample.hpp"

namespace drawdown::stage {

namespace {

constexpr double z = 1.959964;  // 95 %, two-sided

int against_range(double value, double low, double high) {
  if (high <= 0.0) return 0;
  return value < low ? -1 : value > high ? 1 : 0;
}

}  // namespace

int against_usual(double value, double usual, double log_sd) {
  if (!(usual > 0.0) || !(value > 0.0)) return 0;
  const double off = std::log(value / usual);
  return off < -z * log_sd ? -1 : off > z * log_sd ? 1 : 0;
}

LabReport lab_report(const Run& run, double day, unsigned number, const scenario::Laboratory& laboratory) {
  LabReport report;
  for (std::size_t i = 0; i < most_reports && day >= 0.0; ++i, day -= days_between_reports) {
    report.days.insert(report.days.begin(), day);
  }
  std::vector<LabSample> samples;
  for (const double at : report.days) samples.push_back(lab_sample(run, at, number));
  const auto protein = [&](const char* key, double LabSample::*level, const scenario::Interval& range, double usual,
                           const study::Variation& cv) {
    LabLine line{key, {}, range.low, range.high, usual, {}, {}, false};
    for (const LabSample& sample : samples) {
      const double value = sample.*level;
      line.cells.push_back(
          {value, against_range(value, range.low, range.high), against_usual(value, usual, study::log_sd(cv))});
    }
    if (samples.size() > 1) {
      const SampleWords said = words_of(samples.back().*level, samples[samples.size() - 2].*level, range, cv);
      line.percent = said.percent;
      line.beyond = said.beyond;
    }
    report.lines.push_back(std::move(line));
  };
  protein("c3", &LabSample::c3, laboratory.c3, run.usual_c3(), study::c3_variation);
  protein("c4", &LabSample::c4, laboratory.c4, run.usual_c4(), study::c4_variation);
  const auto& rows = run.body().model->readouts();
  for (std::size_t i = 0; i < samples.front().others.size(); ++i) {
    const body::ReadoutId id = samples.front().others[i].first;
    const body::Readout& row = rows[id];
    LabLine line{row.key, id, row.low, row.high, {}, {}, {}, false};
    if (row.high > 0.0) {
      line.usual = run.body().model->in_blood(id, run.usual_state().data(), run.usual_levers().data());
    }
    for (const LabSample& sample : samples) {
      const double value = sample.others[i].second;
      line.cells.push_back({value, against_range(value, row.low, row.high), 0});
    }
    report.lines.push_back(std::move(line));
  }
  return report;
}

}  // namespace drawdown::stage
