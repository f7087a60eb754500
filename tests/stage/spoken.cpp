#include "stage/spoken.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <regex>

namespace drawdown::support {

namespace {

// Grams a day and grams, from the rates of every reaction that changes the protein in the plasma, by its name.
struct Sides {
  double made = 0, used = 0, exchange_out = 0, exchange_in = 0, to_tissue = 0, from_tissue = 0, pool = 0;
  double classical = 0, other_activation = 0, fluid = 0, surfaces = 0, wear = 0, level = 0;
  double woken_by_complexes = 0, woken_by_red_cells = 0;  // C1, nmol/L an hour
  [[nodiscard]] double slope() const { return made + exchange_in + from_tissue - used - exchange_out - to_tissue; }
  [[nodiscard]] double share() const { return used / pool; }
};

bool begins(const std::string& name, const char* with) {
  return name.rfind(with, 0) == 0;
}

Sides sides_of(const Run& run, const std::vector<double>& state, const std::vector<double>& levers,
               const std::string& p) {
  const network::Network& network = run.body().network;
  const std::vector<double> rates = body::reaction_rates(run.body(), state, levers);
  const int species = network.species_index(p);
  const double mass = body::standard_model()->proteins()[body::protein_at(p)].mass;
  const double litres = run.body().patient.plasma_litres() * (1 + 0.4 * levers[body::lever_at("pregnancy")]);
  const double grams = litres * mass * 1e-6;
  Sides s;
  s.level = body::milligrams(state[static_cast<std::size_t>(species)], mass) / 1000;
  s.pool = state[static_cast<std::size_t>(species)] * grams;
  for (std::size_t r = 0; r < rates.size(); ++r) {
    const network::Reaction& reaction = network.reactions[r];
    if (reaction.name == "wake_red_cells") {
      s.woken_by_red_cells += rates[r];
    } else if (reaction.name == "wake_kidney" || reaction.name == "wake_skin" || reaction.name == "wake_joints" ||
               reaction.name == "wake_serosa") {
      s.woken_by_complexes += rates[r];
    }
    for (const network::Change& change : reaction.changes) {
      if (change.species != species) continue;
      const std::string& name = reaction.name;
      const double in = change.count * rates[r] * grams * 24;
      if (begins(name, "make_")) {
        s.made += in;
      } else if (begins(name, "exchange_in")) {
        s.exchange_in += in;
      } else if (begins(name, "exchange_out")) {
        s.exchange_out -= in;
      } else if (begins(name, "return_")) {
        s.from_tissue += in;
      } else if (begins(name, "escape_") || begins(name, "leak_") || begins(name, "inflamed_leak_")) {
        s.to_tissue -= in;
      } else {
        s.used -= in;
        if (begins(name, "turn_over_")) {
          s.wear -= in;
        } else if (begins(name, "c3_bound_") || begins(name, "c3_on_complex_") || begins(name, "c3_free_")) {
          s.classical -= in;
        } else if (p == "C3") {
          s.other_activation -= in;
        } else if (begins(name, "c4_fluid")) {
          s.fluid -= in;
        } else {
          s.surfaces -= in;
        }
      }
    }
  }
  return s;
}

struct Said {
  [[nodiscard]] double woken(double Sides::*by) const { return now.*by - usual.*by; }
  const Sides& now;
  const Sides& usual;
  bool c3;
  [[nodiscard]] double percent_a_day() const {
    return now.pool <= 1e-6 * usual.pool ? 0.0 : 100 * now.slope() / now.pool;
  }
  [[nodiscard]] double level() const { return now.level / usual.level; }
  [[nodiscard]] double rise(double Sides::*part) const { return now.*part / now.pool - usual.*part / usual.pool; }
};

using Check = bool (*)(const Said&);
struct Phrase {
  const char* pattern;
  Check holds;
};

bool falls(const Said& s) {
  return s.percent_a_day() < -0.49;
}
bool rises(const Said& s) {
  return s.percent_a_day() > 0.49;
}
// Of the three things that push a level up (1) or down (-1), grams a day: made against used, tissue fluid, exchange.
std::array<double, 3> pushes(const Said& s, double way) {
  return {way * (s.now.made - s.now.used), way * (s.now.from_tissue - s.now.to_tissue),
          way * (s.now.exchange_in - s.now.exchange_out)};
}
// Weighs about half as much as the weightiest of them, or more.
bool weighs(const Said& s, double grams, double way) {
  const auto all = pushes(s, way);
  return grams > 0.0 && grams >= 0.499 * *std::max_element(all.begin(), all.end());
}
bool still(const Said& s) {
  return std::abs(s.percent_a_day()) < 0.51;
}

// Each sentence without its name, as a pattern; its figures are read apart (figures()).
const std::vector<Phrase>& phrases() {
  static const std::vector<Phrase> all{
      {"falling( [0-9].*)?|nivel en descenso(, un [0-9].*)?", falls},
      {"rising( [0-9].*)?|nivel en ascenso(, un [0-9].*)?", rises},
      {"steady at the usual level.*|nivel estable en el nivel habitual.*",
       [](const Said& s) { return still(s) && std::abs(s.level() - 1) < 0.0801; }},
      {"looks usual.*|masked.*|parece habitual.*|nivel enmascarado.*",
       [](const Said& s) {
         return still(s) && std::abs(s.level() - 1) < 0.0801 && s.now.share() > 1.079 * s.usual.share() &&
                s.now.made > 1.079 * s.usual.made;
       }},
      {"steady, below your usual level|nivel estable, por debajo de su nivel habitual",
       [](const Said& s) { return still(s) && s.level() < 0.9201; }},
      {"steady, above your usual level|nivel estable, por encima de su nivel habitual",
       [](const Said& s) { return still(s) && s.level() > 1.0799; }},
      {"steady at [0-9]+( and [0-9]+)? % of the usual level.*|nivel estable en el [0-9]+( y [0-9]+)? % del nivel "
       "habitual.*",
       [](const Said& s) { return still(s) && std::abs(s.level() - 1) > 0.0799; }},
      {"More is used than made|Se gasta más de lo que se fabrica",
       [](const Said& s) { return s.now.used > s.now.made; }},
      {"More is made than used|Se fabrica más de lo que se gasta",
       [](const Said& s) { return s.now.made > s.now.used; }},
      {"About as much is made as is used|Se fabrica más o menos tanto como se gasta",
       [](const Said& s) { return std::abs(s.now.made - s.now.used) <= 0.0301 * s.usual.made; }},
      {"Plasma exchange takes some out|El recambio de plasma saca una parte",
       [](const Said& s) { return falls(s) && weighs(s, s.now.exchange_out - s.now.exchange_in, -1); }},
      {"The plasma given brings some in|El plasma que se da trae una parte",
       [](const Said& s) { return rises(s) && weighs(s, s.now.exchange_in - s.now.exchange_out, 1); }},
      {"Some moves into tissue fluid|Una parte pasa al líquido de los tejidos",
       [](const Said& s) { return falls(s) && weighs(s, s.now.to_tissue - s.now.from_tissue, -1); }},
      {"Some comes back from tissue fluid|Una parte vuelve del líquido de los tejidos",
       [](const Said& s) { return rises(s) && weighs(s, s.now.from_tissue - s.now.to_tissue, 1); }},
      {"Back towards the usual level|De vuelta hacia el nivel habitual",
       [](const Said& s) { return (s.level() < 1) == rises(s) && (s.level() > 1) == falls(s); }},
      {"Complexes use up a larger share than usual|The share used by complexes is raised|Fractional use at complexes "
       "is raised|"
       "Los complejos gastan una parte mayor de lo habitual|La parte que gastan los complejos es mayor|"
       "El consumo fraccional en los complejos es mayor",
       [](const Said& s) {
         return s.now.share() > 1.019 * s.usual.share() && s.woken(&Sides::woken_by_complexes) > 0 &&
                (s.c3 ? s.rise(&Sides::classical) > 0 : s.rise(&Sides::surfaces) > s.rise(&Sides::fluid));
       }},
      {"Red cells with antibody use up a larger share than usual|The share used on red cells is raised|"
       "Fractional use on red cells is raised|Los glóbulos rojos con anticuerpo gastan una parte mayor de lo habitual|"
       "La parte que se gasta en los glóbulos rojos es mayor|El consumo fraccional en los glóbulos rojos es mayor",
       [](const Said& s) {
         return s.now.share() > 1.019 * s.usual.share() &&
                s.woken(&Sides::woken_by_red_cells) > s.woken(&Sides::woken_by_complexes) &&
                (s.c3 || s.rise(&Sides::surfaces) > s.rise(&Sides::fluid));
       }},
      {"A larger share than usual is used up without complexes|The share used by the alternative pathway is raised|"
       "Fractional use by the alternative pathway is raised|Se gasta una parte mayor de lo habitual sin complejos|"
       "La parte que gasta la vía alternativa es mayor|El consumo fraccional por la vía alternativa es mayor",
       [](const Said& s) {
         return s.c3 && s.now.share() > 1.019 * s.usual.share() &&
                s.rise(&Sides::other_activation) > s.rise(&Sides::classical);
       }},
      {"A larger share than usual is used up in the fluid|The share used in the fluid phase is raised|"
       "Fractional use in the fluid phase is raised|Se gasta una parte mayor de lo habitual en el líquido|"
       "La parte que se gasta en fase fluida es mayor|El consumo fraccional en fase fluida es mayor",
       [](const Said& s) { return !s.c3 && s.now.share() > 1.019 * s.usual.share() && s.rise(&Sides::fluid) > 0; }},
      {"It wears out faster than usual|The share worn out by ordinary turnover is raised|"
       "Ordinary fractional turnover is raised|Se desgasta más rápido de lo habitual|"
       "La parte que gasta el recambio ordinario es mayor|El recambio fraccional ordinario es mayor",
       [](const Said& s) { return s.now.share() > 1.019 * s.usual.share() && s.rise(&Sides::wear) > 0; }},
      {"A smaller share than usual is used up|The share used is below usual|Fractional use is below usual|"
       "Se gasta una parte menor de lo habitual|La parte que se gasta es menor que lo habitual|"
       "El consumo fraccional es menor que lo habitual",
       [](const Said& s) { return s.now.share() < 0.981 * s.usual.share(); }},
      {"Less is made than usual|Production is below usual|Synthesis is below usual|Se fabrica menos de lo habitual|"
       "La producción es menor que lo habitual|La síntesis es menor que lo habitual",
       [](const Said& s) { return s.now.made < 0.981 * s.usual.made; }},
      {"More is made than usual|Production is above usual|Synthesis is above usual|Se fabrica más de lo habitual|"
       "La producción es mayor que lo habitual|La síntesis es mayor que lo habitual",
       [](const Said& s) { return s.now.made > 1.019 * s.usual.made; }},
      {"Each molecule lasts .*|Mean life .*|Cada molécula dura .*|Vida media .*",
       [](const Said& s) { return s.now.share() > 1.079 * s.usual.share(); }}};
  return all;
}

// A figure in a sentence: where it stands (of C3 and C4 together: one and the other), and what it must be.
struct Figure {
  const char* pattern;
  double (*value)(const Said&);
};
const std::vector<Figure>& figures() {
  static const std::vector<Figure> all{
      {"(?:falling|rising|nivel en descenso, un|nivel en ascenso, un) ([0-9.]+)(?: (?:and|y) ([0-9.]+))? % (?:a day|al "
       "día)",
       [](const Said& s) { return std::abs(s.percent_a_day()); }},
      {"(?:falling|rising|nivel en descenso, un|nivel en ascenso, un) ([0-9.]+)(?: (?:and|y) ([0-9.]+))? % (?:an "
       "hour|por hora)",
       [](const Said& s) { return std::abs(s.percent_a_day()) / 24; }},
      {"(?:fractional use|consumo fraccional) ([0-9.]+)(?: (?:and|y) ([0-9.]+))?",
       [](const Said& s) { return s.now.share() / s.usual.share(); }},
      {"(?:synthesis|síntesis) ([0-9.]+)(?: (?:and|y) ([0-9.]+))?",
       [](const Said& s) { return s.now.made / s.usual.made; }},
      {"(?:steady at|estable en el) ([0-9.]+)(?: (?:and|y) ([0-9.]+))? %",
       [](const Said& s) { return 100 * s.level(); }},
      {"(?:at the usual level|en el nivel habitual), ([0-9.]+)(?: (?:and|y) ([0-9.]+))? % (?:of it|de él)",
       [](const Said& s) { return 100 * s.level(); }},
      {"(?:Each molecule lasts|Mean life|Cada molécula dura|Vida media)[^0-9]* ([0-9.]+)(?: (?:and|y) ([0-9.]+))? %",
       [](const Said& s) { return 100 * s.usual.share() / s.now.share(); }}};
  return all;
}

// Within what its last digit leaves open, and a two-thousandth for rates worked out from another tolerance.
bool shown_as(const std::string& digits, double value) {
  const std::size_t point = digits.find('.');
  const auto decimals = point == std::string::npos ? 0.0 : static_cast<double>(digits.size() - point - 1);
  return std::abs(std::stod(digits) - value) <= 0.501 * std::pow(10.0, -decimals) + 5e-4 * std::abs(value);
}

void check_figures(const std::string& sentence, const std::vector<Said>& about, std::vector<std::string>& lies) {
  static const std::vector<std::regex> patterns = [] {
    std::vector<std::regex> all;
    for (const Figure& figure : figures()) all.emplace_back(figure.pattern);
    return all;
  }();
  for (std::size_t i = 0; i < patterns.size(); ++i) {
    std::smatch found;
    if (!std::regex_search(sentence, found, patterns[i])) continue;
    for (std::size_t p = 0; p < about.size(); ++p) {
      const std::string digits = found[p == 1 && found[2].matched ? 2 : 1];
      if (i == 2 && about[p].level() < 1e-3) continue;  // a share of nothing: said as 0.00, means nothing
      const double value = figures()[i].value(about[p]);
      if (!shown_as(digits, value)) lies.push_back(digits + " for " + std::to_string(value) + " in: " + sentence);
    }
  }
}

void check_range(const std::string& sentence, const Run& run, double c3, double c4, std::vector<std::string>& lies) {
  const bool below_c3 = c3 < run.story().laboratory.c3.low;
  const bool below_c4 = c4 < run.story().laboratory.c4.low;
  static const std::map<std::string, std::pair<bool, bool>> said{
      {"Both are below the laboratory's range", {true, true}},
      {"C3 is below the laboratory's range, C4 is not", {true, false}},
      {"C4 is below the laboratory's range, C3 is not", {false, true}},
      {"Los dos están por debajo del rango del laboratorio", {true, true}},
      {"C3 está por debajo del rango del laboratorio, C4 no", {true, false}},
      {"C4 está por debajo del rango del laboratorio, C3 no", {false, true}}};
  const auto found = said.find(sentence);
  if (found == said.end()) {
    lies.push_back("not understood: " + sentence);
  } else if (found->second != std::make_pair(below_c3, below_c4)) {
    lies.push_back("not so: " + sentence);
  }
}

}  // namespace

std::vector<std::string> unsaid_in(const std::string& text, const Run& run, double day) {
  std::vector<std::string> unsaid;
  for (const char* p : {"C3", "C4"}) {
    const Sides now = sides_of(run, run.state(day), run.levers(day), p);
    const Sides usual = sides_of(run, run.usual_state(), quiet_levers(run.story()), p);
    const Said s{now, usual, std::string(p) == "C3"};
    // What is said of this protein: from its name, or from both names, to the next.
    const std::size_t own = text.find(std::string(p) + ": ");
    const std::size_t from = own == std::string::npos ? text.find(':') : own;
    const std::size_t to = s.c3 && own != std::string::npos ? text.find("C4: ", from) : std::string::npos;
    const std::string said = text.substr(from, to == std::string::npos ? to : to - from);
    const auto has = [&](std::initializer_list<const char*> any) {
      return std::any_of(any.begin(), any.end(), [&](const char* one) { return said.find(one) != std::string::npos; });
    };
    const double way = rises(s) ? 1.0 : -1.0;
    const auto all = pushes(s, way);
    const bool moves = std::abs(s.percent_a_day()) > 0.51;
    if (moves && weighs(s, 0.98 * all[1], way) && !has({"tissue fluid", "líquido de los tejidos"})) {
      unsaid.push_back(std::string(p) + ": the flow from or to tissue fluid, in: " + text);
    }
    if (moves && weighs(s, 0.98 * all[0], way) &&
        !has({"than made", "than used", "lo que se fabrica", "lo que se gasta"})) {
      unsaid.push_back(std::string(p) + ": made against used, in: " + text);
    }
    const bool steady_at_usual = still(s) && std::abs(s.level() - 1) < 0.0801;
    const bool exchange = now.exchange_out + now.exchange_in > 0;
    if (steady_at_usual || exchange) continue;
    const double made = now.made / usual.made;
    const double share = now.share() / usual.share();
    if (std::abs(made - 1) > 0.081 &&
        !has({"made than usual", "Production is", "Synthesis is", "fabrica más de lo habitual",
              "fabrica menos de lo habitual", "producción es", "síntesis es"})) {
      unsaid.push_back(std::string(p) + ": made " + std::to_string(made) + " times the usual, in: " + text);
    }
    if (std::abs(share - 1) > 0.081 &&
        !has({"share", "Fractional use", "turnover", "wears out", "parte", "fraccional", "recambio", "desgasta"})) {
      unsaid.push_back(std::string(p) + ": share used " + std::to_string(share) + " times the usual, in: " + text);
    }
  }
  return unsaid;
}

std::vector<std::string> lies_in(const std::string& text, const Run& run, double day) {
  std::vector<std::string> lies;
  const std::vector<double> quiet = quiet_levers(run.story());
  const std::vector<double>& usual = run.usual_state();
  std::map<std::string, std::pair<Sides, Sides>> of;
  for (const char* p : {"C3", "C4"}) {
    of[p] = {sides_of(run, run.state(day), run.levers(day), p), sides_of(run, usual, quiet, p)};
  }
  std::vector<std::string> about;
  // Sentences end with a full stop before a space or at the end; numbers hold theirs.
  static const std::regex ending("\\.( |$)");
  static const std::regex named("(C3 and C4|C3 y C4|C3|C4): (.*)");
  static const std::vector<std::regex> patterns = [] {
    std::vector<std::regex> all;
    for (const Phrase& phrase : phrases()) all.emplace_back(phrase.pattern);
    return all;
  }();
  std::sregex_token_iterator at(text.begin(), text.end(), ending, -1);
  for (; at != std::sregex_token_iterator(); ++at) {
    std::string sentence = *at;
    if (sentence.empty()) continue;
    std::smatch name;
    if (std::regex_match(sentence, name, named)) {
      about = name[1].length() > 2 ? std::vector<std::string>{"C3", "C4"} : std::vector<std::string>{name[1]};
      sentence = name[2];
    }
    bool understood = false;
    for (std::size_t i = 0; i < patterns.size(); ++i) {
      if (!std::regex_match(sentence, patterns[i])) continue;
      const Phrase& phrase = phrases()[i];
      understood = true;
      std::vector<Said> those;
      for (const std::string& p : about) those.push_back({of[p].first, of[p].second, p == "C3"});
      check_figures(sentence, those, lies);
      for (const std::string& p : about) {
        if (!phrase.holds({of[p].first, of[p].second, p == "C3"})) lies.push_back(p + " not so: " + sentence);
      }
      break;
    }
    if (!understood) check_range(sentence, run, of["C3"].first.level, of["C4"].first.level, lies);
  }
  return lies;
}

}  // namespace drawdown::support
