#include "study/group.hpp"

#include <algorithm>
#include <cmath>

#include "study/change_value.hpp"

namespace drawdown::study {

namespace {

// The levers a person is drawn by, looked up once.
struct Drawn {
  body::LeverId own_c3 = body::lever_at("synthesis_C3");
  body::LeverId own_c4 = body::lever_at("synthesis_C4");
  body::LeverId c4_genes = body::lever_at("c4_gene_copies");
  body::LeverId liver = body::lever_at("hepatic_output");
  body::LeverId response = body::lever_at("acute_phase_response");
  body::LeverId fixation = body::lever_at("fixation");
  body::LeverId drive = body::lever_at("antibody_drive");
  body::LeverId debris = body::lever_at("antigen_release");
  body::LeverId kidney = body::lever_at("share_kidney");
  body::LeverId skin = body::lever_at("share_skin");
  body::LeverId joints = body::lever_at("share_joints");
  body::LeverId serosa = body::lever_at("share_serosa");
  body::LeverId b_cells = body::lever_at("b_cell_treatment");
  body::LeverId steroid = body::lever_at("glucocorticoid");
};
const Drawn& drawn() {
  static const Drawn once;
  return once;
}

}  // namespace

Person sample_person(const Severity& severity, std::mt19937& random) {
  std::normal_distribution<double> normal;
  const Drawn& at = drawn();
  Person p;
  p.levers = body::resting_levers();
  const double a = normal(random);
  const double b = 0.55 * a + std::sqrt(1.0 - 0.55 * 0.55) * normal(random);
  p.levers[at.own_c3] = std::exp(0.18 * a);
  p.levers[at.own_c4] = std::exp(0.28 * b);
  // C4 follows gene copies; people with lupus have few more often than others (Wilson 1989; shares assumed).
  std::discrete_distribution<int> copies{0.15, 0.35, 0.40, 0.08, 0.02};
  p.levers[at.c4_genes] = 2 + copies(random);
  p.levers[at.liver] = std::clamp(0.965 + 0.09 * normal(random), 0.6, 1.15);
  p.levers[at.response] = std::clamp(severity.response * std::exp(0.6 * normal(random)), 0.0, 1.5);
  p.levers[at.fixation] = std::clamp(1.0 + 0.25 * normal(random), 0.3, 1.7);
  p.levers[at.drive] = std::clamp(0.68 * std::exp(0.85 * normal(random)), 0.0, 3.0);
  const double kidney = std::clamp(severity.kidney_share + 0.1 * normal(random), 0.0, 1.0);
  p.levers[at.kidney] = kidney;
  p.levers[at.skin] = 0.45 * (0.9 - 0.8 * kidney);
  p.levers[at.joints] = 0.35 * (0.9 - 0.8 * kidney);
  p.levers[at.serosa] = 0.20 * (0.9 - 0.8 * kidney);
  p.flare_drive = std::min(10.0, severity.drive * std::exp(severity.spread * normal(random)));
  p.flare_debris = 1.0 + 0.35 * p.flare_drive;
  std::uniform_real_distribution<double> uniform(0.35, 1.0);
  p.treatment = uniform(random);
  return p;
}

scenario::Scenario story_of(const Person& person, double days, double treat_day) {
  scenario::Scenario s;
  s.days = days;
  s.levers = person.levers;
  const Drawn& at = drawn();
  const auto event = [&](double day, body::LeverId lever, double value, double ramp) {
    if (day < days) s.events.push_back({day, lever, value, ramp, 0.0, ""});
  };
  event(20, at.drive, person.flare_drive, 30);
  event(20, at.debris, std::min(6.0, person.flare_debris), 30);
  event(treat_day, at.b_cells, person.treatment, 30);
  event(treat_day, at.steroid, 0.7 * person.treatment, 0);
  event(treat_day + 20, at.debris, 1.0 + (1.0 - person.treatment) * (person.flare_debris - 1.0), 40);
  event(treat_day + 60, at.steroid, 0.2, 60);
  return s;
}

namespace {
double noisy(double level, const Variation& cv, std::mt19937& random) {
  std::normal_distribution<double> normal;
  return level * std::exp(std::hypot(cv.analytical, cv.within) / 100.0 * normal(random));
}
}  // namespace

double noisy_c3(double level, std::mt19937& random) {
  return noisy(level, c3_variation, random);
}
double noisy_c4(double level, std::mt19937& random) {
  return noisy(level, c4_variation, random);
}

}  // namespace drawdown::study
