// Numbers to text.
#include "command/tables.hpp"

#include <array>
#include <cmath>
#include <functional>
#include <iomanip>
#include <memory>
#include <sstream>

#include "scenario/visible.hpp"
#include "study/sensitivity.hpp"

namespace drawdown::command {

namespace {

constexpr const char* caution =
    "A teaching model: not for diagnosis or treatment decisions. Laboratories differ. Talk to your own clinician.";

// All that a row of a course's table is read from, worked out once.
struct Day {
  double day;
  std::vector<double> state, levers;
  readout::FlowPair flows;
  std::vector<readout::Tissue> tissues;
};

struct Column {
  std::string header;
  std::function<double(const Day&)> value;
};

// When plasma is exchanged: from, to; days.
using Sessions = std::vector<std::pair<double, double>>;
Sessions exchanges(const Run& run) {
  Sessions all;
  for (const solve::Segment& segment : scenario::Timeline(run.story()).segments()) {
    const double from = segment.start / 24.0;
    const double to = std::min(segment.end / 24.0, run.last_day());
    if (to > from && run.flows(0.5 * (from + to)).c3.exchanged != 0.0) all.emplace_back(from, to);
  }
  return all;
}

// Grams taken out by plasma exchange (less what was given with it) from one day to another: Simpson's rule over each
// session.
double exchanged_between(const Run& run, const Sessions& sessions, double from, double to, bool c4) {
  double grams = 0.0;
  const auto at = [&](double day) {
    const readout::FlowPair pair = run.flows(day);
    return c4 ? pair.c4.exchanged : pair.c3.exchanged;
  };
  constexpr int parts = 8;
  for (const auto& [begin, end] : sessions) {
    const double a = std::max(from, begin);
    const double b = std::min(to, end);
    if (!(b > a)) continue;
    const double h = (b - a) / parts;
    // The last moment of a session is already outside it.
    const double inside = b - 1e-9 * (1.0 + b);
    for (int i = 0; i <= parts; ++i) {
      const double weight = i == 0 || i == parts ? 1.0 : i % 2 == 1 ? 4.0 : 2.0;
      grams += weight * h / 3.0 * at(i == parts ? inside : a + i * h);
    }
  }
  return grams;
}

// What a laboratory reads, every readout of the model's; made and used; the kidney; and besides what the laboratory
// reads, the level in the blood itself, whatever happened to the sample.
std::vector<Column> columns(const Run& run) {
  std::vector<Column> all;
  const body::Model& model = *run.body().model;
  const auto reads = [&](std::size_t i, const std::string& unit, double to) {
    all.push_back({model.readouts()[i].name + " [" + unit + "]", [&model, id = body::ReadoutId(i), to](const Day& d) {
                     return model.from_sample(id, d.state.data(), d.levers.data()) * to;
                   }});
  };
  std::vector<std::size_t> in_grams;
  const auto end_grams = [&] {
    for (const std::size_t i : in_grams) reads(i, "mg/dL", readout::mg_per_dl);
    in_grams.clear();
  };
  for (std::size_t i = 0; i < model.readouts().size(); ++i) {
    const body::Readout& row = model.readouts()[i];
    if (!row.in_course) continue;
    const bool grams = row.unit == "g/L";
    if (!grams) end_grams();
    reads(i, row.unit, 1.0);
    if (grams) in_grams.push_back(i);
  }
  end_grams();
  for (const bool c4 : {false, true}) {
    const auto flow = [&](const char* what, double (*value)(const readout::Flows&)) {
      all.push_back({std::string(c4 ? "C4 " : "C3 ") + what,
                     [c4, value](const Day& d) { return value(c4 ? d.flows.c4 : d.flows.c3); }});
    };
    flow("made [g/day]", [](const readout::Flows& f) { return f.made; });
    flow("used [g/day]", [](const readout::Flows& f) { return f.used(); });
    flow("back from tissue fluid [g/day]", [](const readout::Flows& f) { return f.net_back(); });
    flow("share used [1/day]", [](const readout::Flows& f) { return f.share_used(); });
  }
  const auto sessions = std::make_shared<const Sessions>(exchanges(run));
  for (const bool c4 : {false, true}) {
    all.push_back(
        {std::string(c4 ? "C4" : "C3") + " by plasma exchange since the day before [g]",
         [&run, sessions, c4](const Day& d) { return exchanged_between(run, *sessions, d.day - 1.0, d.day, c4); }});
  }
  all.push_back({"kidney inflammation [relative]", [](const Day& d) { return d.tissues[0].inflammation; }});
  all.push_back({"kidney injury [0-1]", [](const Day& d) { return d.tissues[0].injury; }});
  all.push_back({"C3 in the blood [g/L]", [&run](const Day& d) { return run.c3(d.day); }});
  all.push_back({"C4 in the blood [g/L]", [&run](const Day& d) { return run.c4(d.day); }});
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

std::string csv_head(const Run& run) {
  return std::string("# drawdown ") + DRAWDOWN_VERSION + "; story: " + in_comment(run.story().title) + "\n# " +
         caution + "\n";
}

std::string course_csv(const Run& run) {
  std::ostringstream out;
  out << csv_head(run) << "day";
  const std::vector<Column> all = columns(run);
  for (const Column& column : all) out << ',' << column.header;
  out << '\n';
  for (int day = 0; day <= static_cast<int>(run.last_day() + 1e-9); ++day) {
    const Day row{static_cast<double>(day), run.state(day), run.levers(day), run.flows(day), run.tissues(day)};
    out << day;
    for (const Column& column : all) out << ',' << fixed(column.value(row), 5);
    out << '\n';
  }
  return out.str();
}

std::string course_table(const Run& run) {
  std::ostringstream out;
  out << scenario::visible(run.story().title) << "\nusual level of this person: C3 " << fixed(run.usual_c3(), 2)
      << " g/L, C4 " << fixed(run.usual_c4(), 2) << " g/L; laboratory range C3 "
      << fixed(run.story().laboratory.c3.low, 2) << "-" << fixed(run.story().laboratory.c3.high, 2) << ", C4 "
      << fixed(run.story().laboratory.c4.low, 2) << "-" << fixed(run.story().laboratory.c4.high, 2)
      << "\nback: from tissue fluid, less what goes there; exchange: taken out by plasma exchange since the line "
         "before\n\n"
      << "       |  in the sample        | in the blood   | C3 made   used   back share exchange | C4 made   used   "
         "back "
         "share exchange\n"
      << "   day |    C3     C4   CH50   |   C3     C4    |   g/day  g/day  g/day %/day        g |   g/day  g/day  "
         "g/day %/day        g\n";
  const Sessions sessions = exchanges(run);
  double before = 0.0;
  for (int i = 0; i <= 12; ++i) {
    const double day = run.last_day() * i / 12.0;
    const readout::Serum s = run.measured(day);
    const readout::FlowPair f = run.flows(day);
    out << std::setw(6) << fixed(day, 0) << " |" << std::setw(6) << fixed(s.c3, 2) << std::setw(7) << fixed(s.c4, 3)
        << std::setw(7) << fixed(s.ch50, 0) << "   |" << std::setw(6) << fixed(run.c3(day), 2) << std::setw(7)
        << fixed(run.c4(day), 3) << "   |";
    for (const readout::Flows* p : {&f.c3, &f.c4}) {
      out << std::setw(8) << fixed(p->made, 2) << std::setw(7) << fixed(p->used(), 2) << std::setw(7)
          << fixed(p->net_back(), 2) << std::setw(6) << fixed(100 * p->share_used(), 0) << std::setw(9)
          << fixed(exchanged_between(run, sessions, before, day, p == &f.c4), 2) << (p == &f.c3 ? " |" : "");
    }
    out << '\n';
    before = day;
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
    for (const body::LeverId lever : study::asked_levers(*run.body().model))
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
    out << std::left << std::setw(24) << run.body().model->levers()[e.lever].name << std::right << std::setw(8)
        << fixed(e.from, 2) << std::setw(8) << fixed(e.to, 2) << std::setw(10) << fixed(e.c3, 1) << std::setw(10)
        << fixed(e.c4, 1) << '\n';
  }
  if (effects.empty() || effects.front().size() < study::tells)
    out << "No step moves C3 or C4 by " << fixed(study::tells, 0) << " %: none stands out here.\n";
  out << '\n'
      << asked - effects.size() << " of " << asked << " levers move both by less than " << fixed(study::does_nothing, 1)
      << " % here and are left out. Steps differ in kind: the order holds for these steps alone.\n\n"
      << caution << '\n';
  return out.str();
}

std::string lever_table(const body::Model& model) {
  std::ostringstream out;
  out << "| lever | group | unit | least | most | at rest |\n|---|---|---|---|---|---|\n";
  for (const body::Lever& lever : model.levers()) {
    out << "| " << lever.name << " | " << group_name(lever.group) << " | " << lever.unit << " | " << lever.least
        << " | " << lever.most << " | " << lever.rest << " |\n";
  }
  return out.str();
}

std::string equations_text() {
  const auto body = body::make_body({});
  return "# The equations of Drawdown " + std::string(DRAWDOWN_VERSION) + "\n\n" + caution + "\n\n## Levers\n\n" +
         lever_table(*body->model) + "\n" + network::equations_markdown(body->network);
}

}  // namespace drawdown::command
