// The names.
#include "labs/columns.hpp"

#include <algorithm>
#include <cctype>
#include <iterator>
#include <string>
#include <vector>

#include "labs/cells.hpp"

namespace drawdown::labs {

using scenario::Unit;

namespace {

struct Name {
  std::string_view plain;
  Column column;
};
// As laboratories and people write them, signs and accents left out.
constexpr Name names[] = {{"date", Column::date},
                          {"fecha", Column::date},
                          {"day", Column::date},
                          {"sampledate", Column::date},
                          {"dateofsample", Column::date},
                          {"collected", Column::date},
                          {"time", Column::time},
                          {"hora", Column::time},
                          {"unit", Column::unit},
                          {"units", Column::unit},
                          {"unidad", Column::unit},
                          {"unidades", Column::unit},
                          {"c3unit", Column::c3_unit},
                          {"c3units", Column::c3_unit},
                          {"unidadc3", Column::c3_unit},
                          {"c3unidad", Column::c3_unit},
                          {"c4unit", Column::c4_unit},
                          {"c4units", Column::c4_unit},
                          {"unidadc4", Column::c4_unit},
                          {"c4unidad", Column::c4_unit},
                          {"complement3", Column::c3},
                          {"c3c", Column::c3},  // what the usual assays measure
                          {"complement4", Column::c4},
                          {"c3", Column::c3},
                          {"complementc3", Column::c3},
                          {"complementoc3", Column::c3},
                          {"c4", Column::c4},
                          {"complementc4", Column::c4},
                          {"complementoc4", Column::c4},
                          {"c1q", Column::c1q},
                          {"ch50", Column::ch50},
                          {"ah50", Column::ah50},
                          {"ap50", Column::ah50},
                          {"c4d", Column::c4d},
                          {"factorb", Column::factor_b},
                          {"cfb", Column::factor_b},
                          {"antidsdna", Column::anti_dsdna},
                          {"dsdna", Column::anti_dsdna},
                          {"antidna", Column::anti_dsdna},
                          {"crp", Column::crp},
                          {"pcr", Column::crp},
                          {"creactiveprotein", Column::crp},
                          {"urineprotein", Column::urine_protein},
                          {"urineproteincreatinine", Column::urine_protein},
                          {"upcr", Column::urine_protein},
                          {"proteinuria", Column::urine_protein},
                          {"proteinacreatinina", Column::urine_protein},
                          {"hb", Column::haemoglobin},
                          {"haemoglobin", Column::haemoglobin},
                          {"hemoglobin", Column::haemoglobin},
                          {"hemoglobina", Column::haemoglobin},
                          {"flare", Column::flare},
                          {"brote", Column::flare},
                          {"treatment", Column::treatment},
                          {"treatmentnote", Column::treatment},
                          {"note", Column::treatment},
                          {"notes", Column::treatment},
                          {"tratamiento", Column::treatment},
                          {"nota", Column::treatment},
                          {"c3low", Column::c3_low},
                          {"c3high", Column::c3_high},
                          {"c3range", Column::c3_range},
                          {"c3interval", Column::c3_range},
                          {"rangoc3", Column::c3_range},
                          {"c4low", Column::c4_low},
                          {"c4high", Column::c4_high},
                          {"c4range", Column::c4_range},
                          {"c4interval", Column::c4_range},
                          {"rangoc4", Column::c4_range}};

}  // namespace

std::optional<Unit> unit_named(std::string_view text) {
  const std::string plain = plain_name(text);
  if (plain == "gl") return Unit::g_per_l;
  if (plain == "mgdl") return Unit::mg_per_dl;
  return std::nullopt;
}

namespace {

// Letters and digits that stand together.
std::vector<std::string> words_of(std::string_view cell) {
  std::vector<std::string> words;
  std::string word;
  const auto end_word = [&] {
    if (!word.empty()) words.push_back(plain_name(word));
    word.clear();
  };
  for (const char c : cell) {
    const auto byte = static_cast<unsigned char>(c);
    if (std::isalnum(byte) == 0 && byte < 0x80) {
      end_word();
    } else {
      word += c;
    }
  }
  end_word();
  return words;
}

template <std::size_t N>
bool is_one_of(const std::string& word, const std::string_view (&list)[N]) {
  return std::find(std::begin(list), std::end(list), word) != std::end(list);
}
template <std::size_t N>
bool any_of(const std::vector<std::string>& words, const std::string_view (&list)[N]) {
  return std::any_of(words.begin(), words.end(), [&](const std::string& word) { return is_one_of(word, list); });
}
constexpr std::string_view of_range[]{"range", "interval",  "reference",  "ref",     "limits",   "normal",
                                      "rango", "intervalo", "referencia", "limites", "normales", "vn"};
constexpr std::string_view of_unit[]{"unit", "units", "unidad", "unidades"};

Title named(std::string plain) {
  Title title;
  const auto look_up = [&] {
    for (const Name& name : names) {
      if (plain == name.plain) title.column = name.column;
    }
    return title.column != Column::none;
  };
  if (look_up()) return title;
  // The unit stands behind the name.
  for (const std::string_view unit : {"mgdl", "mgl", "gdl", "gl", "iuml", "uiml", "uml", "mgmmol", "mgg", "gg"}) {
    if (plain.size() <= unit.size() || plain.compare(plain.size() - unit.size(), unit.size(), unit) != 0) continue;
    plain.resize(plain.size() - unit.size());
    if (look_up()) title.unit = unit_named(unit);
    // "C3 unit mg/dL" is a column of C3.
    if (title.column == Column::c3_unit || title.column == Column::c4_unit || title.column == Column::unit) return {};
    title.other_unit = title.column != Column::none && !title.unit;
    return title;
  }
  return title;
}

// A range said in words of its own: "Range C3", "C3 reference values", "Rango de C3", "C3 (upper limit)".
Title range_named(const std::vector<std::string>& words) {
  Title title;
  const bool c3 = any_of(words, {"c3"});
  if (c3 == any_of(words, {"c4"})) return title;
  if (any_of(words, {"low", "lower", "lln", "min", "minimum", "inferior", "minimo"})) {
    title.column = c3 ? Column::c3_low : Column::c4_low;
  } else if (any_of(words, {"high", "upper", "uln", "max", "maximum", "superior", "maximo"})) {
    title.column = c3 ? Column::c3_high : Column::c4_high;
  } else if (any_of(words, of_range)) {
    title.column = c3 ? Column::c3_range : Column::c4_range;
  }
  if (title.column == Column::none) return title;
  for (std::size_t i = 0; i + 1 < words.size(); ++i) {
    if (const auto unit = unit_named(words[i] + words[i + 1])) title.unit = unit;
    title.other_unit = title.other_unit || (words[i] == "mg" && words[i + 1] == "l");
  }
  return title;
}

}  // namespace

namespace {

// A column of the laboratory's marks: "C3 flag", "Flag C4", "C3 H/L", "Abn". Nothing if it is none.
Column mark_named(const std::vector<std::string>& words) {
  constexpr std::string_view of_mark[]{"flag",      "flags", "abn",     "abnormal", "hl",    "lh",     "indicator",
                                       "indicador", "marca", "anormal", "alerta",   "alert", "bandera"};
  const bool c3 = any_of(words, {"c3"});
  const bool c4 = any_of(words, {"c4"});
  const bool both = any_of(words, {"h", "high", "alto", "a"}) && any_of(words, {"l", "low", "bajo", "b"});
  const bool marks = any_of(words, of_mark) || both;
  const bool plain = std::all_of(words.begin(), words.end(), [&](const std::string& word) {
    return is_one_of(word, of_mark) ||
           is_one_of(word, {"c3",     "c4",        "h",   "l",          "high",  "low",       "alto", "bajo",
                            "a",      "b",         "n",   "normal",     "or",    "o",         "of",   "de",
                            "result", "resultado", "lab", "laboratory", "serum", "complement"});
  });
  if (!marks || !plain || (c3 && c4)) return Column::none;
  return c3 ? Column::c3_mark : c4 ? Column::c4_mark : Column::mark;
}

}  // namespace

Title title_of(std::string_view cell) {
  Title title = named(plain_name(cell));
  const std::vector<std::string> words = words_of(cell);
  if (title.column == Column::none) title.column = mark_named(words);
  if (title.column == Column::none) {
    // "units: mg/dL" says the unit, "C3 units" is a column of its own.
    const bool unit_follows = words.size() > 1 && unit_named(words[words.size() - 2] + words.back()).has_value();
    std::string rest;
    for (const std::string& word : words) {
      if (!(unit_follows && is_one_of(word, of_unit)) &&
          !is_one_of(word, {"serum",      "s",           "plasma",    "p",      "blood",         "suero",
                            "en",         "in",          "sangre",    "level",  "nivel",         "result",
                            "resultado",  "value",       "valor",     "factor", "concentration", "concentracion",
                            "complement", "complemento", "komplement"})) {
        rest += word;
      }
    }
    title = named(rest);
  }
  if (title.column == Column::none) title = range_named(words);
  // Of normal, not of a litre.
  if (title.column != Column::none && cell.find('%') != std::string_view::npos) title.other_unit = true;
  return title;
}

bool speaks_of_range(std::string_view cell) {
  const std::vector<std::string> words = words_of(cell);
  // Of another test it is none of ours.
  const bool plain = std::all_of(words.begin(), words.end(), [](const std::string& word) {
    return is_one_of(word, of_range) ||
           is_one_of(word, {"de", "of", "values", "valores", "laboratory", "lab", "laboratorio"});
  });
  return any_of(words, of_range) && plain;
}

std::optional<Column> looks_like(std::string_view cell) {
  std::optional<Column> found;
  for (const std::string& word : words_of(cell)) {
    if (word == "c3") found = Column::c3;
    if (word == "c4") found = Column::c4;
    if (is_one_of(word, of_unit) || is_one_of(word, {"comment", "comments", "note", "notes", "flag", "method",
                                                     "comentario", "nota", "notas", "metodo"})) {
      return std::nullopt;
    }
  }
  return found;
}

}  // namespace drawdown::labs
