// What the sheet says.
#include <algorithm>

#include "sheet/sheet.hpp"
#include "stage/narrate.hpp"
#include "stage/own_words.hpp"

namespace drawdown::sheet {

namespace {

using labs::Protein;
using Kind = stage::OwnSentence::Kind;

std::vector<stage::OwnSentence> sentences(const Content& c, Protein p, const look::WordBook& words) {
  const labs::OfProtein& of = p == Protein::c3 ? c.judged.c3 : c.judged.c4;
  return stage::protein_sentences(of, p, c.reading.rows, c.reading.unit, words);
}

std::vector<std::string> changes(const Content& c, const look::WordBook& words) {
  std::vector<std::string> lines = stage::left_out_sentences(c.reading, words);
  for (const std::string& said : stage::converted_sentences(c.reading, words)) lines.push_back(said);
  // What was left out, one by one, while that fits a page.
  constexpr std::size_t most_told = 10;
  for (const std::string& said : stage::slip_sentences(c.reading, words, most_told)) lines.push_back(said);
  for (std::size_t i = 0; i < std::min(most_told, c.reading.rejected.size()); ++i) {
    lines.push_back(stage::rejected_sentence(c.reading.rejected[i], words));
  }
  if (c.reading.rows.empty()) {
    lines.push_back(words.at("labs.nothing_read"));
    return lines;
  }
  if (!c.reading.unit_sure) lines.push_back(words.fill("labs.unit_guessed", {stage::unit_text(c.reading.unit)}));
  for (const Protein p : {Protein::c3, Protein::c4}) {
    for (const stage::OwnSentence& said : sentences(c, p, words)) {
      if (said.kind == Kind::verdict) lines.push_back(said.text);
    }
  }
  for (const std::string& said : stage::pattern_sentences(c.reading, c.judged, words)) lines.push_back(said);
  return lines;
}

// What stands behind the verdicts, and what is not known; what holds of anybody is in the ranges' note.
std::vector<std::string> figures(const Content& c, const look::WordBook& words) {
  std::vector<std::string> lines;
  for (const Protein p : {Protein::c3, Protein::c4}) {
    for (const stage::OwnSentence& said : sentences(c, p, words)) {
      if (said.kind == Kind::figure || said.kind == Kind::unknown) lines.push_back(said.text);
    }
  }
  return lines;
}

}  // namespace

std::vector<std::string> questions(const Content& c, const look::WordBook& words) {
  const auto& rows = c.reading.rows;
  const bool flare_known = std::any_of(rows.begin(), rows.end(), [](const labs::Row& r) { return r.flare == true; });
  bool low_when_well = c.judged.c3.low_but_usual || c.judged.c4.low_but_usual;
  bool well_known = false;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (rows[i].flare != false) continue;
    well_known = true;
    for (const labs::OfProtein* of : {&c.judged.c3, &c.judged.c4}) {
      low_when_well = low_when_well || of->placed[i].position == labs::Position::below;
    }
  }
  const bool changed = c.judged.any_beyond;
  std::vector<std::string> missing;
  const auto lacks = [&](const char* key, auto of) {
    if (std::none_of(rows.begin(), rows.end(), [&](const labs::Row& r) { return of(r).has_value(); }))
      missing.push_back(words.at(key));
  };
  lacks("sheet.urine", [](const labs::Row& r) { return r.urine_protein; });
  lacks("sheet.antibody", [](const labs::Row& r) { return r.anti_dsdna; });
  lacks("sheet.blood_count", [](const labs::Row& r) { return r.haemoglobin; });
  lacks("sheet.crp", [](const labs::Row& r) { return r.crp; });
  std::string list;
  for (const std::string& one : missing) list += (list.empty() ? "" : ", ") + one;
  const char* of_flares = c.judged.marker.answer == labs::MarkerAnswer::goes       ? "sheet.q_goes"
                          : c.judged.marker.answer == labs::MarkerAnswer::does_not ? "sheet.q_does_not"
                          : flare_known                                            ? "sheet.q_flares"
                                                                                   : "sheet.q_first_flare";
  const bool diagnosis_known = std::any_of(rows.begin(), rows.end(), [](const labs::Row& r) { return r.at_diagnosis; });
  return {words.at(diagnosis_known ? "sheet.q_came_back" : "sheet.q_diagnosis"), words.at(of_flares),
          words.at(changed ? "sheet.q_change" : "sheet.q_over_time"),
          words.at(low_when_well ? "sheet.q_low_when_well"
                   : well_known  ? "sheet.q_normal_when_well"
                                 : "sheet.q_normalise"),
          missing.empty() ? words.at("sheet.q_all_measured") : words.fill("sheet.q_measured", {list})};
}

std::vector<Section> sections(const Content& c, const look::WordBook& words) {
  std::vector<Section> out;
  out.push_back({words.at("sheet.changes"), changes(c, words), false});
  if (!c.reading.rows.empty()) {
    std::vector<std::string> marker = stage::marker_sentences(c.judged.marker, words);
    for (const std::string& said : stage::diagnosis_sentences(c.reading, c.judged, words)) marker.push_back(said);
    out.push_back({words.at("sheet.marker"), std::move(marker), false});
    if (auto lines = figures(c, words); !lines.empty()) {
      out.push_back({words.at("sheet.figures"), std::move(lines), false});
    }
  }
  std::vector<std::string> ranges =
      stage::range_sentences(c.judged.c3.ranges, c.laboratory, Protein::c3, c.reading.unit, words);
  for (const std::string& said :
       stage::range_sentences(c.judged.c4.ranges, c.laboratory, Protein::c4, c.reading.unit, words)) {
    ranges.push_back(said);
  }
  ranges.push_back(words.at("sheet.range_note"));
  out.push_back({words.at("sheet.range"), std::move(ranges), false});
  out.push_back({words.at("sheet.questions"), questions(c, words), true});
  out.push_back(
      {words.at("sheet.note"),
       {words.at("caution.model"), words.at("caution.lab"), words.at("caution.talk"), words.at("caution.urgent")},
       false});
  out.push_back({words.at("sheet.sources"), {words.at("sheet.sources_text")}, false});
  return out;
}

}  // namespace drawdown::sheet
