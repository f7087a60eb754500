// Who is drawn for each explanation, and how the cause goes. Severities lie wide on purpose: what is asked is which
// mechanism, not which disease.
#include "study/explain/mechanisms.hpp"

#include <algorithm>
#include <stdexcept>

#include "network/elementary.hpp"
#include "study/people.hpp"

namespace drawdown::study::explain {

namespace {

// Drawn here, besides what the sampler draws of every person.
enum class Drawing : std::size_t {
  kind,
  amount,
  second,
  turns,
  plateau,
  left,
  fall,
  relapses,
  rest,
  again,
  length,
  all
};
constexpr std::array<std::string_view, static_cast<std::size_t>(Drawing::all)> drawing_names{
    "explain: kind of cause",      "explain: amount",
    "explain: second amount",      "explain: the cause turns",
    "explain: days at its height", "explain: what is left",
    "explain: days of fall",       "explain: the cause comes again",
    "explain: days between",       "explain: how strong again",
    "explain: days it lasts"};

struct Drawn {
  Key key;
  [[nodiscard]] double share(Drawing what) const {
    return study::uniform(key, slot(drawing_names[static_cast<std::size_t>(what)]));
  }
  [[nodiscard]] double between(Drawing what, double least, double most) const {
    return least + (most - least) * share(what);
  }
  [[nodiscard]] double log_normal(Drawing what, double median, double sd, double least, double most) const {
    const double z = study::normal(key, slot(drawing_names[static_cast<std::size_t>(what)]));
    return std::clamp(median * elementary::exp(sd * z), least, most);
  }
};

// When a cause turns, how much is left of it, and whether it comes again.
struct Course {
  double build_up = 30.0;
  bool turns = false, again = false;
  double turn = 0.0, fall = 45.0, left = 0.0;
  double back = 0.0, times = 1.0;
};
Course course_of(const Person& p) {
  const Drawn d{p.key};
  Course c;
  c.build_up = p.build_up_days;
  c.turns = d.share(Drawing::turns) < 0.75;
  c.turn = begins + c.build_up + d.log_normal(Drawing::plateau, 45.0, 0.9, 3.0, 500.0);
  const double left = d.between(Drawing::left, -0.3, 0.7);
  c.left = std::max(0.0, left);
  c.fall = d.log_normal(Drawing::fall, 40.0, 0.5, 7.0, 150.0);
  c.again = d.share(Drawing::relapses) < 0.35;
  c.back = c.turn + c.fall + d.log_normal(Drawing::rest, 150.0, 0.7, 20.0, 700.0);
  c.times = d.log_normal(Drawing::again, 0.9, 0.3, 0.4, 1.6);
  return c;
}

// Moves a lever from where it stands to its height, and on as the course goes.
void follow(StoryEvents& story, body::LeverId lever, double usual, double height, const Course& c) {
  story.move(begins, lever, height, c.build_up);
  if (!c.turns) return;
  story.move(c.turn, lever, usual + c.left * (height - usual), c.fall);
  if (c.again) story.move(c.back, lever, usual + c.times * (height - usual), c.build_up);
}
body::LeverId lever(std::string_view name) {
  return body::lever_at(name);
}

void at_complexes(const Person& p, StoryEvents& story) {
  const Drawn d{p.key};
  const Course c = course_of(p);
  const double kind = d.share(Drawing::kind);
  if (kind < 0.15)
    return follow(story, lever("cryoglobulin"), 0.0, d.log_normal(Drawing::amount, 0.25, 0.8, 0.02, 1.0), c);
  if (kind < 0.22)
    return follow(story, lever("cold_antibody"), 0.0, d.log_normal(Drawing::amount, 0.4, 0.6, 0.05, 1.0), c);
  follow(story, lever("antibody_drive"), p.quiet_drive, std::max(p.severity, p.quiet_drive), c);
  follow(story, lever("antigen_release"), 1.0, std::min(6.0, 1.0 + 0.35 * p.severity), c);
  if (p.synthesis < 1.0) follow(story, lever("hepatic_output"), p.liver, p.synthesis * p.liver, c);
}
void in_the_fluid(const Person& p, StoryEvents& story) {
  follow(story, lever("c1inh_dose"), 1.0, p.severity, course_of(p));
}
void by_the_loop(const Person& p, StoryEvents& story) {
  const Drawn d{p.key};
  if (d.share(Drawing::kind) < 0.65) return follow(story, lever("nephritic_factor"), 1.0, p.severity, course_of(p));
  const double days = d.log_normal(Drawing::length, 14.0, 0.9, 3.0, 120.0);
  story.hold(begins, lever("activating_surface"), d.log_normal(Drawing::amount, 0.3, 0.6, 0.05, 1.0), 24.0 * days);
}
void made_less(const Person& p, StoryEvents& story) {
  const Drawn d{p.key};
  const Course c = course_of(p);
  if (d.share(Drawing::kind) < 0.8) return follow(story, lever("hepatic_output"), p.liver, p.severity * p.liver, c);
  follow(story, lever("malnutrition"), 0.0, d.between(Drawing::amount, 0.3, 1.0), c);
}
void made_more(const Person& p, StoryEvents& story) {
  const Drawn d{p.key};
  at_complexes(p, story);
  follow(story, lever("acute_trigger"), 0.0, d.log_normal(Drawing::second, 0.06, 0.8, 0.005, 0.6), course_of(p));
}
// Copies of one gene, below what C4's own spread in healthy people already holds.
void by_genes(const Person& p, StoryEvents& story) {
  struct Genes {
    const char* lever;
    double copies, share;
  };
  static constexpr std::array<Genes, 6> rows{{{"c4_gene_copies", 1, 0.45},
                                              {"c4_gene_copies", 0, 0.05},
                                              {"c3_gene_copies", 1, 0.25},
                                              {"factor_h_gene_copies", 1, 0.10},
                                              {"factor_i_gene_copies", 1, 0.10},
                                              {"c1q_gene_copies", 0, 0.05}}};
  double left = Drawn{p.key}.share(Drawing::kind);
  std::size_t i = 0;
  while (i + 1 < rows.size() && left >= rows[i].share) left -= rows[i++].share;
  story.move(begins, lever(rows[i].lever), rows[i].copies);
}
void nothing(const Person&, StoryEvents&) {}

constexpr C4Copies healthy_genes{0.015, 0.270, 0.594, 0.105, 0.016};  // as the sampler's healthy people
constexpr Normal sound{1.0, 0.0, 1.0, 1.0};
constexpr LogNormal responds{1.0, 0.3, 0.3, 1.5};
constexpr LogNormal responds_little{0.45, 0.7, 0.0, 1.5};
constexpr LogNormal without{0.0, 0.0, 0.0, 0.0};
constexpr LogNormal some_antibody{0.8, 0.85, 0.0, 4.0};
constexpr Normal anywhere{0.4, 0.1, 0.0, 1.0};
constexpr Normal in_the_kidney_or_not{0.45, 0.25, 0.0, 0.95};
constexpr Constitution well{healthy_genes, sound, responds, without, anywhere, 0.0};
constexpr Constitution antibody_maker{healthy_genes, {1.0, 0.07, 0.7, 1.25}, responds_little,
                                      some_antibody, in_the_kidney_or_not,   0.3};
constexpr Constitution answering_maker{healthy_genes, {1.0, 0.07, 0.7, 1.25}, responds,
                                       some_antibody, in_the_kidney_or_not,   0.3};
constexpr LogNormal pace{30.0, 0.7, 3.0, 150.0};
constexpr Uniform at_begin{begins, begins};
constexpr Uniform none{0.0, 0.0};

const Group& group_of(Explanation of) {
  static const std::array<Group, explanations> rows = [] {
    std::array<Group, explanations> all;
    const auto add = [&](Explanation e, const Constitution& who, const char* what, LogNormal severity, Normal synthesis,
                         void (*tell)(const Person&, StoryEvents&)) {
      all[at(e)] = {"", who, {what, severity, at_begin, pace, none, none, synthesis}, tell, longest_days, ""};
    };
    const Normal kept{0.95, 0.06, 0.6, 1.0};
    add(Explanation::noise, well, "infection", without, sound, nothing);
    add(Explanation::complexes, antibody_maker, "antibody_drive", {3.5, 0.65, 0.3, 10.0}, kept, at_complexes);
    add(Explanation::hiding, answering_maker, "antibody_drive", {3.5, 0.65, 0.3, 10.0}, kept, made_more);
    add(Explanation::fluid, well, "c1inh_dose", {0.28, 0.4, 0.05, 0.6}, sound, in_the_fluid);
    add(Explanation::loop, well, "nephritic_factor", {2.4, 0.45, 1.2, 8.0}, sound, by_the_loop);
    add(Explanation::less, well, "hepatic_output", {0.55, 0.3, 0.15, 0.92}, sound, made_less);
    add(Explanation::inherited, well, "c4_gene_copies", without, sound, by_genes);
    return all;
  }();
  return rows[at(of)];
}

}  // namespace

scenario::Scenario story(Explanation of, std::uint64_t seed, std::uint64_t number, double days) {
  if (std::find(simulated.begin(), simulated.end(), of) == simulated.end()) {
    throw std::logic_error("explanation without people of its own");
  }
  return story_of(person(group_of(of), seed, number), days);
}
scenario::Scenario quiet_story(std::uint64_t seed, std::uint64_t number, double days) {
  return story_of(person(group_of(Explanation::noise), seed, number), days);
}

const std::vector<std::string>& priors() {
  static const std::vector<std::string> lines{
      "noise: nothing but the scatter of samples about the own usual level",
      "complexes: 78 % antigen and antibody (drive to median 3.5, log sd 0.65, 0.3-10; debris 1 + 0.35 x drive; "
      "kidney's "
      "share 0.45, sd 0.25; synthesis left 0.95, sd 0.06), 15 % cryoglobulins (median 0.25, log sd 0.8), 7 % cold "
      "antibodies (0.4, 0.6); quiet drive 0.8, log sd 0.85; response to inflammation 0.45, log sd 0.7; assumed",
      "fluid: C1 inhibitor falls to median 0.28 of usual, log sd 0.4, 0.05-0.6; assumed",
      "loop: 65 % nephritic factor (median 2.4, log sd 0.45, 1.2-8), 35 % an activating surface (0.3, 0.6) for median "
      "14 days, log sd 0.9; assumed",
      "less: 80 % liver output falls to median 0.55 of the own, log sd 0.3, 0.15-0.92; 20 % malnutrition 0.3-1; "
      "assumed",
      "hiding: as complexes, with a usual response (1, log sd 0.3) and inflammation beside it (0.06, log sd 0.8); "
      "assumed",
      "diluted: plasma 1.08 to 1.48 times usual, log-uniform, reached in a fortnight, for good; assumed",
      "inherited: C4 genes 1 copy 45 %, none 5 %; C3 1 copy 25 %, factor H or I 1 copy 10 % each, no C1q 5 %; assumed",
      "sample: one sample, any alike: 50 % watered (ln 1.05-2), 30 % 1-7 days in the fridge, 20 % 30-100 % of activity "
      "lost in the tube; assumed",
      "course: built up in median 30 days, log sd 0.7; in 75 % it turns after median 45 days, log sd 0.9, to 0-70 % of "
      "its "
      "height (none in 30 %) in median 40 days; of these 35 % come again; assumed",
      "onset: 40 % uniform over 500 days before the first visit, 60 % uniform over the visits; assumed",
      "before: noise 3 in 11, each other one 1 in 11; assumed",
      "own level: as the sampler of healthy people draws it, and the spread between people of each test; C3 about 16 "
      "%, C4 "
      "about 33 % (Ricos 1999 Scand J Clin Lab Invest 59:491, from memory)"};
  return lines;
}

std::vector<std::string> drawn_names() {
  return {drawing_names.begin(), drawing_names.end()};
}

}  // namespace drawdown::study::explain
