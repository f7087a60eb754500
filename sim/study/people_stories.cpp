#include "study/people_stories.hpp"

#include <algorithm>

namespace drawdown::study::stories {

namespace {

// Levers the stories move, looked up once.
struct Moved {
  body::LeverId drive = body::lever_at("antibody_drive");
  body::LeverId debris = body::lever_at("antigen_release");
  body::LeverId infection = body::lever_at("infection");
  body::LeverId trigger = body::lever_at("acute_trigger");
  body::LeverId fixation = body::lever_at("fixation");
  body::LeverId anti_c1q = body::lever_at("anti_c1q");
  body::LeverId terminal = body::lever_at("c5_nephritic_factor");
  body::LeverId il6 = body::lever_at("il6_block");
  body::LeverId surface = body::lever_at("activating_surface");
  body::LeverId nephritic = body::lever_at("nephritic_factor");
  body::LeverId cryoglobulin = body::lever_at("cryoglobulin");
  body::LeverId cold = body::lever_at("cold_antibody");
  body::LeverId inhibitor = body::lever_at("c1inh_dose");
  body::LeverId liver = body::lever_at("hepatic_output");
  body::LeverId pregnancy = body::lever_at("pregnancy");
  body::LeverId b_cells = body::lever_at("b_cell_treatment");
  body::LeverId steroid = body::lever_at("glucocorticoid");
  body::LeverId block_c1s = body::lever_at("block_c1s");
  body::LeverId block_b = body::lever_at("block_factor_b");
};
const Moved& at() {
  static const Moved once;
  return once;
}

// What is left of an illness that treatment works against so well.
double left_over(const Person& p) {
  return p.severity * (1.0 - p.treatment);
}

}  // namespace

void cold(const Person& p, StoryEvents& story) {
  story.hold(p.onset_day, at().infection, p.severity, 120.0);
}

void flare(const Person& p, StoryEvents& story) {
  const double debris = std::min(6.0, 1.0 + 0.35 * p.severity);  // assumed
  story.move(p.onset_day, at().drive, p.severity, p.build_up_days);
  story.move(p.onset_day, at().debris, debris, p.build_up_days);
  if (p.synthesis < 1.0) {
    story.move(p.onset_day, at().liver, p.synthesis * p.liver, p.build_up_days);
    story.move(p.treatment_day, at().liver, (p.synthesis + p.treatment * (1.0 - p.synthesis)) * p.liver, 60.0);
  }
  story.move(p.treatment_day, at().b_cells, p.treatment, 30.0);
  story.move(p.treatment_day, at().steroid, 0.7 * p.treatment);
  story.move(p.treatment_day + 20.0, at().debris, 1.0 + (1.0 - p.treatment) * (debris - 1.0), 40.0);
  story.move(p.treatment_day + 60.0, at().steroid, 0.2 * p.treatment, 60.0);
}

void throat(const Person& p, StoryEvents& story) {
  story.hold(p.onset_day, at().infection, 0.08, 96.0);  // size and length assumed
  story.hold(p.onset_day + p.build_up_days, at().surface, p.severity, 168.0);
}

void nephritic_factor(const Person& p, StoryEvents& story) {
  story.move(p.onset_day, at().nephritic, p.severity, p.build_up_days);
  story.move(p.treatment_day, at().block_b, p.treatment);
}

void cryoglobulins(const Person& p, StoryEvents& story) {
  story.move(p.onset_day, at().cryoglobulin, p.severity, p.build_up_days);
  story.move(p.treatment_day, at().cryoglobulin, left_over(p), 60.0);
}

void cryoglobulins_and_antibody(const Person& p, StoryEvents& story) {
  cryoglobulins(p, story);
  story.move(p.treatment_day, at().b_cells, p.treatment, 30.0);
}

void cold_antibodies(const Person& p, StoryEvents& story) {
  story.move(p.onset_day, at().cold, p.severity, p.build_up_days);
  story.move(p.treatment_day, at().block_c1s, p.treatment);
}

void clot(const Person& p, StoryEvents& story) {
  story.before(at().drive, p.severity);
  story.move(p.onset_day, at().debris, 2.5, 5.0);
  story.move(p.onset_day + 10.0, at().debris, 1.0, 30.0);
}

// 60 units/kg under the skin twice a week, of which two fifths reach the blood (from memory); a unit is what a
// millilitre of plasma holds. The lever is a share of usual synthesis, which is 2.7 % of the plasma's content an hour
// (Clin Exp Immunol 1985;61:1).
void inhibitor_lacking(const Person& p, StoryEvents& story) {
  constexpr double units_per_kg = 60.0;
  constexpr double reaching = 0.4;
  constexpr double hours_between = 84.0;
  constexpr double usual_synthesis = 0.027;
  story.before(at().inhibitor, p.severity);
  const double given = p.treatment * reaching * units_per_kg / p.plasma_volume / (usual_synthesis * hours_between);
  story.move(p.treatment_day, at().inhibitor, p.severity + given);
}

void failing_liver(const Person& p, StoryEvents& story) {
  const double after = p.severity + p.treatment * (0.95 - p.severity);
  story.move(p.onset_day, at().liver, std::min(p.severity, p.liver), p.build_up_days);
  story.move(p.treatment_day, at().liver, std::min(after, p.liver), 60.0);
}

void pregnancy(const Person& p, StoryEvents& story) {
  story.move(p.onset_day, at().pregnancy, p.severity, p.build_up_days);
  story.move(p.treatment_day, at().pregnancy, 0.0, 42.0);
}

void inflamed_joints(const Person& p, StoryEvents& story) {
  story.move(p.onset_day, at().trigger, p.severity, p.build_up_days);
  story.move(p.treatment_day, at().trigger, left_over(p), 30.0);
}

void inflamed_joints_il6(const Person& p, StoryEvents& story) {
  story.before(at().trigger, p.severity);
  story.move(p.treatment_day, at().il6, p.treatment);
}

void germs_in_the_blood(const Person& p, StoryEvents& story) {
  story.move(p.onset_day, at().infection, p.severity);
  story.move(p.treatment_day, at().infection, left_over(p), 1.0);
}

void membranous(const Person& p, StoryEvents& story) {
  story.before(at().fixation, 0.15 * p.fixation);
  flare(p, story);
}

void terminal_factor(const Person& p, StoryEvents& story) {
  story.move(p.onset_day, at().terminal, p.severity, p.build_up_days);
}

void vasculitis(const Person& p, StoryEvents& story) {
  story.before(at().anti_c1q, 3.0);
  story.move(p.onset_day, at().drive, p.severity, p.build_up_days);
  story.move(p.onset_day, at().debris, 2.0, p.build_up_days);
  story.move(p.treatment_day, at().b_cells, p.treatment, 30.0);
  story.move(p.treatment_day, at().steroid, 0.7 * p.treatment);
}

}  // namespace drawdown::study::stories
