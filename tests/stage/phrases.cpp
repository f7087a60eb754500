// Written by hand beside the program's words, so that a word changed there is not understood here.
#include "stage/phrases.hpp"

#include <algorithm>
#include <cmath>

namespace drawdown::support {

namespace {

const char* const english_figures = "; tap <tap>, drain <drain>";
const char* const english_depth = "; synthesis <tap>, fractional loss <drain> times usual";
const char* const spanish_figures = "; grifo <tap>, desagüe <drain>";
const char* const spanish_depth = "; síntesis <tap>, pérdida fraccional <drain> veces lo habitual";

Tongue::Lead lead(Stand stand, const std::string& plain, const std::string& clinic, const std::string& mechanism,
                  bool spanish) {
  return {stand,
          {plain, clinic + (spanish ? spanish_figures : english_figures),
           mechanism + (spanish ? spanish_depth : english_depth)}};
}
Tongue::Lead moving(Stand stand, const std::string& word, bool spanish) {
  const std::string figures =
      spanish ? word + ", un <pace>, en el <level> % de lo habitual" : word + " <pace>, at <level> % of usual";
  return lead(stand, word + ", <place>", figures, figures, spanish);
}

Tongue english() {
  Tongue t;
  t.both = "C3 and C4";
  t.last = " and ";
  t.comma = ", ";
  t.places = {"near your usual", "below your usual", "above your usual"};
  t.a_day = "<pace> % of usual a day";
  t.an_hour = "<pace> % of usual an hour";
  t.leads = {moving(Stand::falling, "falling", false),
             moving(Stand::slowly_falling, "slowly falling", false),
             moving(Stand::filling, "filling", false),
             moving(Stand::slowly_filling, "slowly filling", false),
             lead(Stand::below, "holding below your usual", "holding below usual, at <level> % of it",
                  "holding below usual, at <level> % of it", false),
             lead(Stand::above, "holding above your usual", "holding above usual, at <level> % of it",
                  "holding above usual, at <level> % of it", false),
             lead(Stand::usual, "at your usual", "at usual, <level> % of it", "at usual, <level> % of it", false),
             lead(Stand::near, "near your usual", "near usual, <level> % of it", "near usual, <level> % of it", false),
             lead(Stand::hidden, "looks usual, but much more is made and much more leaves",
                  "looks usual, <level> % of it, with tap and drain both wide",
                  "looks usual, <level> % of it, with both raised", false),
             lead(Stand::usual_low, "usual for you, but below most people's",
                  "usual here, <level> % of it, but usual lies below the range",
                  "usual here, <level> % of it, but usual lies below the range", false)};
  t.sentences = {{Tells::further_down, "Pulled down further by <one>", ""},
                 {Tells::less_down, "Pulled down less by <one>", ""},
                 {Tells::further_up, "Lifted further by <one>", ""},
                 {Tells::less_up, "Lifted less by <one>", ""},
                 {Tells::refills, "Filling again after <one>", ""},
                 {Tells::recovers, "The liver makes more again", "The liver makes more again: <one>"},
                 {Tells::eases, "The liver makes less again as inflammation eases",
                  "The liver makes less again as inflammation eases: <one>"},
                 {Tells::again, "The liver makes less again", "The liver makes less again: <one>"},
                 {Tells::pulls, "Pulled down by <list>", ""},
                 {Tells::also_pulls, "Also pulled down by <list>", ""},
                 {Tells::lifts, "Held up by <list>", ""},
                 {Tells::also_lifts, "Also held up by <list>", ""},
                 {Tells::born, "Usual here is <share> % of what <births> would give", ""},
                 {Tells::volume, "Plasma volume <volume> times usual", ""},
                 {Tells::both_below, "Both are below the laboratory's range", ""},
                 {Tells::c3_below, "C3 is below the laboratory's range, C4 is not", ""},
                 {Tells::c4_below, "C4 is below the laboratory's range, C3 is not", ""}};
  t.pulls = {{"use at complexes", {Group::tissue}},    {"use in tissue without complexes", {Group::tissue, true}},
             {"use on red cells", {Group::red_cells}}, {"use in the fluid", {Group::fluid}},
             {"a faster loop", {Group::loop}},         {"C1 active in the fluid", {Group::c1}},
             {"faster wear", {Group::wear}},           {"less being made", {Group::made}},
             {"plasma exchange", {Group::taken}},      {"dilution", {Group::volume}},
             {"leak into tissue", {Group::leak}},      {"what came before day 0", {Group::before}}};
  t.lifts = {{"less use at complexes", {Group::tissue}},
             {"less use in tissue", {Group::tissue, true}},
             {"less use on red cells", {Group::red_cells}},
             {"less use in the fluid", {Group::fluid}},
             {"a slower loop", {Group::loop}},
             {"less C1 active in the fluid", {Group::c1}},
             {"slower wear", {Group::wear}},
             {"more being made", {Group::made}},
             {"the plasma given", {Group::given}},
             {"less water in the blood", {Group::volume}},
             {"return from tissue", {Group::leak}},
             {"what came before day 0", {Group::before}}};
  t.owed = "<noun> (<g> g/L)";
  t.owed_a_day = "<noun> (<g> g/L a day)";
  t.births = {{"usual genes", 'g'}, {"a usual liver", 'l'}, {"a usual supply", 's'}};
  return t;
}

Tongue spanish() {
  Tongue t;
  t.both = "C3 y C4";
  t.last = " y ";
  t.comma = ", ";
  t.places = {"cerca de su nivel habitual", "por debajo de su nivel habitual", "por encima de su nivel habitual"};
  t.a_day = "<pace> % de lo habitual al día";
  t.an_hour = "<pace> % de lo habitual por hora";
  const auto held = [](Stand stand, const std::string& plain, const std::string& rest) {
    return lead(stand, plain, rest, rest, true);
  };
  t.leads = {moving(Stand::slowly_falling, "nivel en descenso lento", true),
             moving(Stand::slowly_filling, "nivel en ascenso lento", true),
             moving(Stand::falling, "nivel en descenso", true),
             moving(Stand::filling, "nivel en ascenso", true),
             held(Stand::below, "nivel estable, por debajo de su nivel habitual",
                  "nivel estable por debajo de lo habitual, en el <level> %"),
             held(Stand::above, "nivel estable, por encima de su nivel habitual",
                  "nivel estable por encima de lo habitual, en el <level> %"),
             held(Stand::usual, "en su nivel habitual", "en lo habitual, <level> %"),
             held(Stand::near, "cerca de su nivel habitual", "cerca de lo habitual, <level> %"),
             held(Stand::hidden, "parece habitual, pero se fabrica mucho más y sale mucho más",
                  "parece habitual, <level> %, con grifo y desagüe muy abiertos"),
             held(Stand::usual_low, "habitual para usted, pero por debajo de casi todos",
                  "habitual aquí, <level> %, pero lo habitual está por debajo del rango")};
  t.sentences = {{Tells::further_down, "Empuja más hacia abajo: <one>", ""},
                 {Tells::less_down, "Empuja menos hacia abajo: <one>", ""},
                 {Tells::further_up, "Empuja más hacia arriba: <one>", ""},
                 {Tells::less_up, "Empuja menos hacia arriba: <one>", ""},
                 {Tells::refills, "De nuevo en ascenso tras <one>", ""},
                 {Tells::recovers, "El hígado vuelve a fabricar más", "El hígado vuelve a fabricar más: <one>"},
                 {Tells::eases, "El hígado vuelve a fabricar menos al ceder la inflamación",
                  "El hígado vuelve a fabricar menos al ceder la inflamación: <one>"},
                 {Tells::again, "El hígado vuelve a fabricar menos", "El hígado vuelve a fabricar menos: <one>"},
                 {Tells::pulls, "Hacia abajo empuja: <list>", ""},
                 {Tells::also_pulls, "Hacia abajo empuja también: <list>", ""},
                 {Tells::lifts, "Hacia arriba empuja: <list>", ""},
                 {Tells::also_lifts, "Hacia arriba empuja también: <list>", ""},
                 {Tells::born, "Lo habitual aquí es el <share> % de lo que darían <births>", ""},
                 {Tells::volume, "Volumen de plasma <volume> veces lo habitual", ""},
                 {Tells::both_below, "Los dos están por debajo del rango del laboratorio", ""},
                 {Tells::c3_below, "C3 está por debajo del rango del laboratorio, C4 no", ""},
                 {Tells::c4_below, "C4 está por debajo del rango del laboratorio, C3 no", ""}};
  t.pulls = {{"gasto en los complejos", {Group::tissue}},
             {"gasto en el tejido sin complejos", {Group::tissue, true}},
             {"gasto en los glóbulos rojos", {Group::red_cells}},
             {"gasto en el líquido", {Group::fluid}},
             {"un bucle más rápido", {Group::loop}},
             {"C1 activo en el líquido", {Group::c1}},
             {"desgaste más rápido", {Group::wear}},
             {"menos fabricación", {Group::made}},
             {"recambio de plasma", {Group::taken}},
             {"dilución", {Group::volume}},
             {"fuga a los tejidos", {Group::leak}},
             {"lo anterior al día 0", {Group::before}}};
  t.lifts = {{"menos gasto en los complejos", {Group::tissue}},
             {"menos gasto en el tejido", {Group::tissue, true}},
             {"menos gasto en los glóbulos rojos", {Group::red_cells}},
             {"menos gasto en el líquido", {Group::fluid}},
             {"un bucle más lento", {Group::loop}},
             {"menos C1 activo en el líquido", {Group::c1}},
             {"desgaste más lento", {Group::wear}},
             {"más fabricación", {Group::made}},
             {"el plasma recibido", {Group::given}},
             {"menos agua en la sangre", {Group::volume}},
             {"regreso de los tejidos", {Group::leak}},
             {"lo anterior al día 0", {Group::before}}};
  t.owed = "<noun> (<g> g/L)";
  t.owed_a_day = "<noun> (<g> g/L al día)";
  t.births = {{"unos genes habituales", 'g'}, {"un hígado habitual", 'l'}, {"un aporte habitual", 's'}};
  return t;
}

}  // namespace

const Tongue& tongue(const std::string& language) {
  static const Tongue in_english = english();
  static const Tongue in_spanish = spanish();
  return language == "es" ? in_spanish : in_english;
}

bool matches(const std::string& pattern, const std::string& text, std::vector<std::string>& slots) {
  slots.clear();
  std::size_t p = 0;
  std::size_t t = 0;
  while (p < pattern.size()) {
    if (pattern[p] != '<') {
      if (t >= text.size() || text[t] != pattern[p]) return false;
      p += 1;
      t += 1;
      continue;
    }
    p = pattern.find('>', p) + 1;
    const std::size_t next = pattern.find('<', p);
    const std::string after = pattern.substr(p, next == std::string::npos ? next : next - p);
    const std::size_t end = after.empty()
                                ? text.size()
                                : (next == std::string::npos && text.size() >= after.size() ? text.size() - after.size()
                                                                                            : text.find(after, t));
    if (end == std::string::npos || end < t) return false;
    slots.push_back(text.substr(t, end - t));
    t = end;
  }
  return t == text.size();
}

bool shown_as(const std::string& digits, double value, double slack) {
  std::size_t used = 0;
  double read = 0;
  try {
    read = std::stod(digits, &used);
  } catch (const std::exception&) {
    return false;
  }
  if (used != digits.size()) return false;
  const std::size_t point = digits.find('.');
  const auto decimals = point == std::string::npos ? 0.0 : static_cast<double>(digits.size() - point - 1);
  return std::abs(read - value) <= 0.501 * std::pow(10.0, -decimals) + slack;
}

std::vector<std::string> items_in(const std::string& list, const Tongue& tongue) {
  std::vector<std::string> items(1);
  int depth = 0;
  for (std::size_t i = 0; i < list.size();) {
    depth += list[i] == '(' ? 1 : (list[i] == ')' ? -1 : 0);
    std::size_t skip = 0;
    for (const std::string& between : {tongue.last, tongue.comma}) {
      if (depth == 0 && list.compare(i, between.size(), between) == 0) skip = between.size();
    }
    if (skip > 0) {
      items.emplace_back();
    } else {
      items.back() += list[i];
    }
    i += std::max<std::size_t>(skip, 1);
  }
  return items;
}

}  // namespace drawdown::support
