// The names.
#include "labs/columns.hpp"

#include <algorithm>
#include <cctype>
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
                          {"c3", Column::c3},
                          {"complementc3", Column::c3},
                          {"complementoc3", Column::c3},
                          {"c4", Column::c4},
                          {"complementc4", Column::c4},
                          {"complementoc4", Column::c4},
                          {"c1q", Column::c1q},
                          {"ch50", Column::ch50},
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

bool is_one_of(const std::string& word, std::initializer_list<std::string_view> list) {
  return std::find(list.begin(), list.end(), word) != list.end();
}

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
    title.other_unit = title.column != Column::none && !title.unit;
    return title;
  }
  return title;
}

}  // namespace

Title title_of(std::string_view cell) {
  const Title title = named(plain_name(cell));
  if (title.column != Column::none) return title;
  std::string rest;
  for (const std::string& word : words_of(cell)) {
    if (!is_one_of(word, {"serum", "s", "plasma", "p", "blood", "suero", "en", "in", "sangre", "level", "nivel",
                          "result", "resultado", "value", "valor", "factor", "concentration", "concentracion"})) {
      rest += word;
    }
  }
  return named(rest);
}

std::optional<Column> looks_like(std::string_view cell) {
  std::optional<Column> found;
  for (const std::string& word : words_of(cell)) {
    if (word == "c3") found = Column::c3;
    if (word == "c4") found = Column::c4;
    if (is_one_of(word, {"comment", "comments", "note", "notes", "flag", "method", "unit", "units", "comentario",
                         "nota", "notas", "metodo", "unidad", "unidades"})) {
      return std::nullopt;
    }
  }
  return found;
}

}  // namespace drawdown::labs
