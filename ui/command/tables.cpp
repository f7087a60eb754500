// Numbers to text.
#include "command/tables.hpp"

#include <array>
#include <cmath>
#include <functional>
#include <iomanip>
#include <sstream>

#include "scenario/visible.hpp"
#include "study/sensitivity.hpp"
#include "study/truth.hpp"

namespace drawdown::command {

namespace {

constexpr const char* caution =
    "A teaching model: not for diagnosis or treatment decisions. Laboratories differ. Talk to your own clinician.";

struct Column {
  const char* header;
  std::function<double(const readout::Serum&, const readout::FlowPair&, const std::array<readout::Tissue, 4>&)> value;
};
// Besides what the laboratory reads: the level in the blood itself, whatever happened to the sample.
constexpr const char* blood_headers = ",C3 in the blood [g/L],C4 in the blood [g/L]";

const std::vector<Column>& columns() {
  using S = readout::Serum;
  using F = readout::FlowPair;
  using T = std::array<readout::Tissue, 4>;
  static const std::vector<Column> all{
      {"C3 [g/L]", [](const S& s, const F&, const T&) { return s.c3; }},
      {"C4 [g/L]", [](const S& s, const F&, const T&) { return s.c4; }},
      {"C3 [mg/dL]", [](const S& s, const F&, const T&) { return s.c3 * readout::mg_per_dl; }},
      {"C4 [mg/dL]", [](const S& s, const F&, const T&) { return s.c4 * readout::mg_per_dl; }},
      {"CH50 [% of normal]", [](const S& s, const F&, const T&) { return s.ch50; }},
      {"AH50 [% of normal]", [](const S& s, const F&, const T&) { return s.ah50; }},
      {"C1q [mg/L]", [](const S& s, const F&, const T&) { return s.c1q; }},
      {"factor B [mg/L]", [](const S& s, const F&, const T&) { return s.factor_b; }},
      {"C5 [mg/L]", [](const S& s, const F&, const T&) { return s.c5; }},
      {"C4d [mg/L]", [](const S& s, const F&, const T&) { return s.c4d; }},
      {"C3a [nmol/L]", [](const S& s, const F&, const T&) { return s.c3a; }},
      {"C3d [nmol/L]", [](const S& s, const F&, const T&) { return s.c3d; }},
      {"Bb [nmol/L]", [](const S& s, const F&, const T&) { return s.bb; }},
      {"sC5b-9 [nmol/L]", [](const S& s, const F&, const T&) { return s.sc5b9; }},
      {"anti-dsDNA [relative]", [](const S& s, const F&, const T&) { return s.antibody; }},
      {"CRP-like [mg/L]", [](const S& s, const F&, const T&) { return s.crp; }},
      {"urine protein [relative]", [](const S& s, const F&, const T&) { return s.urine_protein; }},
      {"C3 made [g/day]", [](const S&, const F& f, const T&) { return f.c3.made; }},
      {"C3 used [g/day]", [](const S&, const F& f, const T&) { return f.c3.used(); }},
      {"C3 back from tissue fluid [g/day]", [](const S&, const F& f, const T&) { return f.c3.net_back(); }},
      {"C3 share used [1/day]", [](const S&, const F& f, const T&) { return f.c3.share_used(); }},
      {"C4 made [g/day]", [](const S&, const F& f, const T&) { return f.c4.made; }},
      {"C4 used [g/day]", [](const S&, const F& f, const T&) { return f.c4.used(); }},
      {"C4 back from tissue fluid [g/day]", [](const S&, const F& f, const T&) { return f.c4.net_back(); }},
      {"C4 share used [1/day]", [](const S&, const F& f, const T&) { return f.c4.share_used(); }},
      {"kidney inflammation [relative]", [](const S&, const F&, const T& t) { return t[0].inflammation; }},
      {"kidney injury [0-1]", [](const S&, const F&, const T& t) { return t[0].injury; }}};
  return all;
}

std::string fixed(double value, int decimals) {
  std::ostringstream out;
  out << std::fixed << std::setprecision(decimals) << value;
  std::string text = out.str();
  if (text[0] == '-' && text.find_first_of("123456789") == std::string::npos) text.erase(0, 1);  // no "-0.0"
  return text;
}

// A story's words in a comment line of a CSV file: one cell whatever separates the reader's, so that none of them
// begins with a sign a spreadsheet would work out (= + - @); the cells of the table itself hold only numbers and our
// own heads.
std::string in_comment(const std::string& text) {
  std::string cell = scenario::visible(text);
  for (char& c : cell) {
    if (c == ',' || c == ';' || c == '"' || c == '\'' || c == '|') c = ' ';
  }
  return cell;
}

const char* group_name(body::LeverGroup group) {
  switch (group) {
    case body::LeverGroup::complexes:
      return "what forms complexes";
    case body::LeverGroup::production:
      return "what makes complement";
    case body::LeverGroup::inherited:
      return "what is inherited";
    case body::LeverGroup::treatment:
      return "what treats it";
    case body::LeverGroup::laboratory:
      return "what the laboratory does";
    case body::LeverGroup::person:
      break;
  }
  return "this person";
}

}  // namespace

std::string course_csv(const Run& run) {
  std::ostringstream out;
  out << "# drawdown " << DRAWDOWN_VERSION << "; story: " << in_comment(run.story().title) << "\n# " << caution
      << "\nday";
  for (const Column& column : columns()) out << ',' << column.header;
  out << blood_headers << '\n';
  for (int day = 0; day <= static_cast<int>(run.last_day() + 1e-9); ++day) {
    const readout::Serum serum = run.measured(day);
    const readout::FlowPair flows = run.flows(day);
    const auto tissues = run.tissues(day);
    out << day;
    for (const Column& column : columns()) out << ',' << fixed(column.value(serum, flows, tissues), 5);
    out << ',' << fixed(run.c3(day), 5) << ',' << fixed(run.c4(day), 5) << '\n';
  }
  return out.str();
}

std::string course_table(const Run& run) {
  std::ostringstream out;
  out << scenario::visible(run.story().title) << "\nusual level of this person: C3 " << fixed(run.usual_c3(), 2)
      << " g/L, C4 " << fixed(run.usual_c4(), 2) << " g/L; laboratory range C3 "
      << fixed(run.story().laboratory.c3.low, 2) << "-" << fixed(run.story().laboratory.c3.high, 2) << ", C4 "
      << fixed(run.story().laboratory.c4.low, 2) << "-" << fixed(run.story().laboratory.c4.high, 2) << "\n\n"
      << "  day     C3     C4   CH50 |  C3 made   used  share |  C4 made   used  share\n"
      << "         g/L    g/L      % |    g/day  g/day  %/day |    g/day  g/day  %/day\n";
  for (int i = 0; i <= 12; ++i) {
    const double day = run.last_day() * i / 12.0;
    const readout::Serum s = run.measured(day);
    const readout::FlowPair f = run.flows(day);
    out << std::setw(5) << fixed(day, 0) << std::setw(7) << fixed(s.c3, 2) << std::setw(7) << fixed(s.c4, 3)
        << std::setw(7) << fixed(s.ch50, 0) << " |";
    for (const readout::Flows* p : {&f.c3, &f.c4}) {
      out << std::setw(9) << fixed(p->made, 2) << std::setw(7) << fixed(p->used(), 2) << std::setw(7)
          << fixed(100 * p->share_used(), 0) << (p == &f.c3 ? " |" : "");
    }
    out << '\n';
  }
  out << '\n' << caution << '\n';
  return out.str();
}

std::string tracer_table(const study::TracerResult& r, const std::string& protein, double day) {
  std::ostringstream out;
  out << "Tracer study of " << protein << " from day " << fixed(day, 0) << "; level " << fixed(r.level, 3) << " g/L\n\n"
      << "                                     from the label    in the model\n"
      << "fractional catabolic rate, %/h     " << std::setw(14) << fixed(100 * r.fcr, 2) << std::setw(16)
      << fixed(100 * r.true_fcr, 2) << "\n"
      << "  by the daily loss ratio, %/h     " << std::setw(14) << fixed(100 * r.fcr_by_ratio, 2) << "\n"
      << "synthesis, mg/kg/h                 " << std::setw(14) << fixed(r.synthesis, 3) << std::setw(16)
      << fixed(r.true_synthesis, 3) << "\n"
      << "half-life of the last part, h      " << std::setw(14) << fixed(r.half_life, 1) << "\n"
      << "share of the pool in plasma, %     " << std::setw(14) << fixed(100 * r.intravascular, 1) << "\n\n"
      << "   day   plasma, % of dose   body, % of dose\n";
  for (std::size_t i = 0; i < r.points.size(); i += 12) {
    out << std::setw(6) << fixed(r.points[i].hour / 24, 0) << std::setw(20) << fixed(100 * r.points[i].plasma, 2)
        << std::setw(18) << fixed(100 * r.points[i].body, 2) << '\n';
  }
  out << '\n' << caution << '\n';
  return out.str();
}

std::string effects_table(const Run& run, double day, bool forward) {
  std::vector<study::LeverEffect> effects;
  if (forward) {
    for (const std::size_t lever : study::asked_levers())
      effects.push_back(study::effect_by_variation(run, lever, day));
  } else {
    effects = study::effects_of_steps(run, day);
  }
  const std::size_t asked = effects.size();
  effects = study::worth_showing(std::move(effects));
  std::ostringstream out;
  out << scenario::visible(run.story().title) << ", day " << fixed(day, 0)
      << ": what a step of each lever would make of the level, % of this person's usual"
      << (forward ? " (slope times step: too much where the answer bends)" : "") << "\n\n"
      << std::left << std::setw(24) << "lever" << std::right << std::setw(8) << "from" << std::setw(8) << "to"
      << std::setw(10) << "C3" << std::setw(10) << "C4" << '\n';
  for (const study::LeverEffect& e : effects) {
    out << std::left << std::setw(24) << body::levers()[e.lever].name << std::right << std::setw(8) << fixed(e.from, 2)
        << std::setw(8) << fixed(e.to, 2) << std::setw(10) << fixed(e.c3, 1) << std::setw(10) << fixed(e.c4, 1) << '\n';
  }
  if (effects.empty() || effects.front().size() < study::tells)
    out << "No step moves C3 or C4 by " << fixed(study::tells, 0) << " %: none stands out here.\n";
  out << '\n'
      << asked - effects.size() << " of " << asked << " levers move both by less than " << fixed(study::does_nothing, 1)
      << " % here and are left out. Steps differ in kind: the order holds for these steps alone.\n\n"
      << caution << '\n';
  return out.str();
}

std::string truth_text(bool& all_inside) {
  std::ostringstream out;
  out << "# What was published, and what Drawdown " << DRAWDOWN_VERSION << " gives\n\n"
      << caution
      << "\n\n| | situation | published | accepted | model | inside | source | note "
         "|\n|---|---|---|---|---|---|---|---|\n";
  all_inside = true;
  int inside = 0;
  const auto ledger = study::truth_ledger();
  for (const study::TruthEntry& e : ledger) {
    const auto figure = [](double v) { return fixed(v, std::abs(v) < 10 ? 2 : 1); };
    out << "| " << e.id << " | " << e.situation << " | " << e.published << " | " << figure(e.low) << " to "
        << figure(e.high) << " | " << figure(e.model) << " " << e.unit << " | " << (e.inside() ? "yes" : "NO") << " | "
        << e.source << " | " << e.note << " |\n";
    inside += e.inside() ? 1 : 0;
    all_inside = all_inside && e.inside();
  }
  out << "\n" << inside << " of " << ledger.size() << " figures inside.\n\n## What the model does not do\n\n";
  for (const std::string& limit : study::known_limits()) out << "- " << limit << "\n";
  return out.str();
}

std::string lever_table() {
  std::ostringstream out;
  out << "| lever | group | unit | least | most | at rest |\n|---|---|---|---|---|---|\n";
  for (const body::Lever& lever : body::levers()) {
    out << "| " << lever.name << " | " << group_name(lever.group) << " | " << lever.unit << " | " << lever.least
        << " | " << lever.most << " | " << lever.rest << " |\n";
  }
  return out.str();
}

std::string equations_text() {
  const auto body = body::make_body({});
  return "# The equations of Drawdown " + std::string(DRAWDOWN_VERSION) + "\n\n" + caution + "\n\n## Levers\n\n" +
         lever_table() + "\n" + network::equations_markdown(body->network);
}

}  // namespace drawdown::command
