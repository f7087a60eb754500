#include "study/people.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "network/elementary.hpp"
#include "study/change_value.hpp"

namespace drawdown::study {

namespace {

// All that is drawn of a person besides the proteins, by name. A new one stands anywhere: its name is its place.
enum class Drawing : std::size_t {
  weight,
  plasma_volume,
  shared_level,
  c4_copies,
  liver,
  response,
  fixation,
  clearance,
  has_anti_c1q,
  anti_c1q,
  quiet_drive,
  kidney_share,
  severity,
  onset,
  build_up,
  delay,
  treatment,
  synthesis,
  laboratory,
  first_visit,
  next_visit,
  reading_c3,
  reading_c4,
  all
};
constexpr std::array<std::string_view, static_cast<std::size_t>(Drawing::all)> drawing_names{
    "body weight",
    "plasma volume",
    "level shared by the liver's proteins",
    "C4 gene copies",
    "liver",
    "acute-phase response",
    "fixation",
    "clearance",
    "has antibodies to C1q",
    "antibodies to C1q",
    "quiet antibody drive",
    "share of the kidney",
    "severity",
    "onset",
    "days of build-up",
    "days to treatment",
    "treatment works",
    "synthesis in the illness",
    "laboratory",
    "first visit",
    "days to the next visit",
    "reading of C3",
    "reading of C4"};
constexpr Slot place_of(Drawing what) {
  return slot(drawing_names[static_cast<std::size_t>(what)]);
}

double cut(double x, double least, double most) {
  return std::clamp(x, least, most);
}

// Draws one person's quantities by name.
struct Draw {
  Key key;
  [[nodiscard]] double from(const Normal& n, Drawing what, std::uint32_t index = 0) const {
    return cut(n.mean + n.sd * normal(key, place_of(what), index), n.least, n.most);
  }
  [[nodiscard]] double from(const LogNormal& n, Drawing what, std::uint32_t index = 0) const {
    return cut(n.median * elementary::exp(n.log_sd * normal(key, place_of(what), index)), n.least, n.most);
  }
  [[nodiscard]] double from(const Uniform& u, Drawing what, std::uint32_t index = 0) const {
    return u.least + (u.most - u.least) * uniform(key, place_of(what), index);
  }
  // The place in a list of shares that sum to 1.
  template <class Shares>
  [[nodiscard]] std::size_t place(const Shares& shares, Drawing what) const {
    double left = uniform(key, place_of(what));
    std::size_t i = 0;
    while (i + 1 < shares.size() && left >= shares[i]) left -= shares[i++];
    return i;
  }
};

std::string level_name(const ProteinSpread& row) {
  return std::string("level of ") + row.protein;
}
std::string turnover_name(const ProteinSpread& row) {
  return std::string("turnover of ") + row.protein;
}

// One place of the standard model a row of protein_spreads() speaks of.
struct Drawn {
  body::LeverId synthesis, turnover;
  Slot level, catabolism;
  double ordinary = 1.0;  // share of its FCR that is ordinary turnover at rest: what the turnover lever multiplies
};

// Looked up once.
struct Places {
  std::vector<Drawn> proteins;
  body::LeverId c4_genes = body::lever_at("c4_gene_copies");
  body::LeverId liver = body::lever_at("hepatic_output");
  body::LeverId response = body::lever_at("acute_phase_response");
  body::LeverId fixation = body::lever_at("fixation");
  body::LeverId clearance = body::lever_at("clearance");
  body::LeverId anti_c1q = body::lever_at("anti_c1q");
  body::LeverId drive = body::lever_at("antibody_drive");
  body::LeverId kidney = body::lever_at("share_kidney");
  body::LeverId skin = body::lever_at("share_skin");
  body::LeverId joints = body::lever_at("share_joints");
  body::LeverId serosa = body::lever_at("share_serosa");

  Places() {
    const auto body = body::make_body({});
    const body::Model& model = *body->model;
    for (const ProteinSpread& row : protein_spreads()) {
      const std::string name = row.protein;
      const body::ProteinId id = model.protein(name);
      Drawn d;
      d.synthesis = model.lever("synthesis_" + name);
      d.turnover = model.lever("turnover_" + name);
      d.level = slot(level_name(row));
      d.catabolism = slot(turnover_name(row));
      d.ordinary = body->network.reactions[model.reactions_of(id).worn].constant.value / model.proteins()[id].fcr;
      proteins.push_back(d);
    }
  }
};
const Places& places() {
  static const Places once;
  return once;
}

// Laboratories: limits in g/L, the unit they print, and how many people use one like it (shares assumed).
struct LaboratoryRow {
  scenario::Laboratory laboratory;
  double share;
};
const std::array<LaboratoryRow, 4>& laboratories() {
  using scenario::Unit;
  static const std::array<LaboratoryRow, 4> rows{{
      {{{0.90, 1.80}, {0.10, 0.40}, Unit::g_per_l}, 0.45},    // 1996 consensus on CRM 470 (limits from memory)
      {{{0.90, 1.80}, {0.10, 0.40}, Unit::mg_per_dl}, 0.25},  // the same in mg/dL
      {{{0.90, 1.80}, {0.16, 0.47}, Unit::mg_per_dl}, 0.15},  // lower limits of two large trials (n 1684), upper of C4
                                                              // from memory
      {{{0.65, 1.90}, {0.14, 0.50}, Unit::g_per_l}, 0.15},    // widest published limits for C3
  }};
  return rows;
}

// Body weight: log-normal, median 70 kg, sigma 0.18 (assumed, of the size of health surveys of adults).
constexpr LogNormal weight_kg{70.0, 0.18, 40.0, 140.0};
// Plasma volume: 38-45 mL/kg (textbook) taken as two standard deviations either way. Falls with body fat: not drawn.
constexpr Normal plasma_per_kg{41.5, 1.75, 34.0, 49.0};
// How strongly the antibody fixes complement (its mix of subclasses) and how well complexes are cleared: assumed.
constexpr Normal fixing{1.0, 0.25, 0.3, 1.7};
constexpr LogNormal clearing{1.0, 0.10, 0.7, 1.4};
// Antibodies to C1q where a person has them: assumed.
constexpr LogNormal against_c1q{0.5, 0.5, 0.1, 2.0};

void draw_proteins(Person& p, const Draw& draw) {
  const auto& rows = protein_spreads();
  const double shared = normal(p.key, place_of(Drawing::shared_level));
  const double own_share = std::sqrt(1.0 - shared_correlation);
  const double free_share = std::sqrt(1.0 - level_to_turnover * level_to_turnover);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const Drawn& at = places().proteins[i];
    const double alone = normal(p.key, at.level);
    const double level = rows[i].shared ? std::sqrt(shared_correlation) * shared + own_share * alone : alone;
    const double loss = level_to_turnover * level + free_share * normal(p.key, at.catabolism);
    p.own.push_back({elementary::exp(rows[i].level_sd * level), elementary::exp(rows[i].turnover_sd * loss)});
  }
  p.c4_copies = 2 + static_cast<int>(draw.place(p.group->person.c4_copies, Drawing::c4_copies));
}

// Blood tests: the first within a fortnight, then at 0.8 to 1.2 of the usual interval, and one on the day of treatment
// in place of those within a week of it. (Assumed.)
void draw_visits(Person& p, const Draw& draw) {
  const double every = p.group->visit_every;
  double day = std::floor(draw.from(Uniform{0.0, 14.0}, Drawing::first_visit));
  for (std::uint32_t i = 0; day <= longest_days; ++i) {
    if (std::abs(day - p.treatment_day) > 7.0) p.visits.push_back(day);
    day += std::max(1.0, std::floor(draw.from(Uniform{0.8 * every, 1.2 * every}, Drawing::next_visit, i)));
  }
  if (p.treatment_day <= longest_days) {
    p.visits.insert(std::lower_bound(p.visits.begin(), p.visits.end(), p.treatment_day), p.treatment_day);
  }
}

void set_levers(Person& p) {
  const Places& at = places();
  const auto& limits = body::standard_model()->levers();
  p.levers = body::resting_levers();
  const auto set = [&](body::LeverId lever, double value) {
    p.levers[lever] = cut(value, limits[lever].least, limits[lever].most);
  };
  for (std::size_t i = 0; i < p.own.size(); ++i) {
    const Drawn& d = at.proteins[i];
    set(d.synthesis, p.own[i].level * p.own[i].turnover);
    set(d.turnover, (p.own[i].turnover - (1.0 - d.ordinary)) / d.ordinary);
  }
  set(at.c4_genes, p.c4_copies);
  set(at.liver, p.liver);
  set(at.response, p.response);
  set(at.fixation, p.fixation);
  set(at.clearance, p.clearance);
  set(at.anti_c1q, p.anti_c1q);
  set(at.drive, p.quiet_drive);
  const double elsewhere = 0.9 - 0.8 * p.kidney_share;  // the sum of weights hardly moves
  set(at.kidney, p.kidney_share);
  set(at.skin, 0.45 * elsewhere);
  set(at.joints, 0.35 * elsewhere);
  set(at.serosa, 0.20 * elsewhere);
}

}  // namespace

const std::vector<ProteinSpread>& protein_spreads() {
  static const char* petz =
      "with what activation adds FCR 13, synthesis 11, level 15 %: Petz 1969 J Clin Invest 48:2469 (ranges as 2 sd)";
  static const char* charlesworth =
      "FCR Charlesworth 1974, spread as C3's; level of the width of its usual interval: assumed";
  static const char* assumed = "assumed, as C3's";
  static const std::vector<ProteinSpread> rows{
      {"C3", 0.157, 0.138, true, petz},
      {"C4", 0.17, 0.12, true,
       "with gene copies (Yang 2007 Am J Hum Genet 80:1037) and activation level 30 %, the width of its usual "
       "interval; "
       "FCR inside 0.9-2.7 %/h (Carpenter 1969, Clin Exp Immunol 1989;78:49), spread assumed"},
      {"FB", 0.17, 0.13, true, charlesworth},
      {"FI", 0.15, 0.13, true, assumed},
      {"FH", 0.15, 0.13, true, assumed},
      {"C5", 0.15, 0.13, true, assumed},
      {"C2", 0.17, 0.13, true, assumed},
      {"C9", 0.17, 0.13, true, assumed},
      {"C4BP", 0.17, 0.13, true, assumed},
      {"C1INH", 0.15, 0.13, true, assumed},
      {"C1", 0.15, 0.13, false, "made by macrophages, so apart from the liver's; size assumed"},
  };
  return rows;
}

std::vector<std::string> drawn_names() {
  std::vector<std::string> names(drawing_names.begin(), drawing_names.end());
  for (const ProteinSpread& row : protein_spreads()) {
    names.push_back(level_name(row));
    names.push_back(turnover_name(row));
  }
  return names;
}

Person person(const Group& group, std::uint64_t seed, std::uint64_t number) {
  Person p;
  p.group = &group;
  p.key = {seed, number};
  const Draw draw{p.key};
  p.weight = draw.from(weight_kg, Drawing::weight);
  p.plasma_volume = draw.from(plasma_per_kg, Drawing::plasma_volume);
  draw_proteins(p, draw);
  p.liver = draw.from(group.person.liver, Drawing::liver);
  p.response = draw.from(group.person.response, Drawing::response);
  p.fixation = draw.from(fixing, Drawing::fixation);
  p.clearance = draw.from(clearing, Drawing::clearance);
  if (uniform(p.key, place_of(Drawing::has_anti_c1q)) < group.person.anti_c1q_share) {
    p.anti_c1q = draw.from(against_c1q, Drawing::anti_c1q);
  }
  p.quiet_drive = draw.from(group.person.quiet_drive, Drawing::quiet_drive);
  p.kidney_share = draw.from(group.person.kidney_share, Drawing::kidney_share);
  p.severity = draw.from(group.illness.severity, Drawing::severity);
  p.onset_day = std::floor(draw.from(group.illness.onset, Drawing::onset));
  p.build_up_days = draw.from(group.illness.build_up, Drawing::build_up);
  p.treatment_day = std::floor(p.onset_day + p.build_up_days + draw.from(group.illness.delay, Drawing::delay));
  p.treatment = draw.from(group.illness.treatment, Drawing::treatment);
  p.synthesis = draw.from(group.illness.synthesis, Drawing::synthesis);
  std::array<double, 4> shares{};
  for (std::size_t i = 0; i < shares.size(); ++i) shares[i] = laboratories()[i].share;
  p.laboratory = laboratories()[draw.place(shares, Drawing::laboratory)].laboratory;
  draw_visits(p, draw);
  set_levers(p);
  return p;
}

scenario::Scenario story_of(const Person& person, double days) {
  scenario::Scenario story;
  story.days = days;
  story.laboratory = person.laboratory;
  story.levers = person.levers;
  StoryEvents events(story);
  person.group->tell(person, events);
  std::stable_sort(story.events.begin(), story.events.end(),
                   [](const scenario::Event& a, const scenario::Event& b) { return a.day < b.day; });
  return story;
}

void StoryEvents::add(scenario::Event event) {
  if (event.day >= story_->days) return;
  const body::Lever& limits = story_->lever_rows()[event.lever];
  event.value = cut(event.value, limits.least, limits.most);
  story_->events.push_back(std::move(event));
}

void StoryEvents::before(body::LeverId lever, double value) {
  const body::Lever& limits = story_->lever_rows()[lever];
  story_->levers[lever] = cut(value, limits.least, limits.most);
}

void StoryEvents::move(double day, body::LeverId lever, double value, double ramp_days) {
  add({day, lever, value, ramp_days, 0.0, ""});
}

void StoryEvents::hold(double day, body::LeverId lever, double value, double hours) {
  add({day, lever, value, 0.0, hours, ""});
}

double noisy(const Key& key, Test test, double level, std::uint32_t visit) {
  const bool c3 = test == Test::c3;
  const double sd = log_sd(c3 ? c3_variation : c4_variation);
  return level * elementary::exp(sd * normal(key, place_of(c3 ? Drawing::reading_c3 : Drawing::reading_c4), visit));
}

double printed(double level) {
  return std::floor(level * 100.0 + 0.5) / 100.0;
}

double reading(const Person& person, Test test, double level, std::uint32_t visit) {
  return printed(noisy(person.key, test, level, visit));
}

bool below(double reading, double limit) {
  return std::floor(reading * 100.0 + 0.5) < std::floor(limit * 100.0 + 0.5);
}

}  // namespace drawdown::study
