// What the numbers say; the lines as they were read; and the noise.
#include <algorithm>
#include <cmath>

#include "panels/own_parts.hpp"
#include "stage/narrate.hpp"
#include "stage/own_words.hpp"

namespace drawdown::panels {

using draw::Align;
using draw::Box;
using draw::Type;
using labs::Protein;

namespace {

struct Said {
  std::string text;
  Type type = Type::body;
  bool marked = false;  // more than noise
  OwnGauge gauge{};     // drawn under it, if it is of a protein
};

// A list of paragraphs that scrolls.
void draw_list(Frame& f, const std::string& name, const Box& box, const std::vector<Said>& all) {
  const float em = f.em();
  const float width = box.w - 1.2F * em;
  const auto gap = [&](const Said& s) { return (s.type == Type::strong ? 0.2F : 0.55F) * em; };
  const auto gauge_height = [&](const Said& s) {
    return s.gauge.of == nullptr ? 0.0F : own_gauge_height(f) + 0.5F * em;
  };
  float total = 0;
  std::vector<float> heights;
  for (const Said& s : all) {
    heights.push_back(f.canvas.paragraph_height(s.text, s.type, width));
    total += heights.back() + gap(s) + gauge_height(s);
  }
  ScrollArea scrolled(f, name, box, total, box);
  scrolled.by_keys(name);
  f.canvas.clip(box);
  float y = scrolled.top();
  for (std::size_t i = 0; i < all.size(); ++i) {
    const Said& s = all[i];
    const float h = heights[i];
    if (y + h > box.y && y < box.bottom()) {
      if (s.marked) f.canvas.fill({box.x, y, 0.25F * em, h - 0.1F * em}, f.palette.mark, 0);
      const look::Colour& ink = s.type == Type::small ? f.palette.quiet : f.palette.ink;
      if (s.type == Type::strong) {
        f.canvas.paragraph({box.x + 0.6F * em, y, width, h}, s.text, s.type, ink);
      } else {
        explained_paragraph(f, {box.x + 0.6F * em, y, width, h}, s.text, s.type, ink);
      }
    }
    y += h + gap(s);
    if (s.gauge.of == nullptr) continue;
    const float tall = own_gauge_height(f);
    if (y + tall > box.y && y < box.bottom()) draw_own_gauge(f, s.gauge, {box.x + 0.6F * em, y, width, tall});
    y += gauge_height(s);
  }
  f.canvas.unclip();
  scrolled.draw_bar();
}

void draw_findings(Frame& f, const Box& box) {
  const stage::OwnResults& own = f.state.own;
  const auto unit = f.state.page.unit;
  std::vector<Said> all;
  for (const std::string& said : stage::left_out_sentences(own.reading, f.words)) {
    all.push_back({said, Type::body, true});
  }
  // The verdicts first, each with its picture and what is not known; the figures have a page of their own.
  for (const Protein p : {Protein::c3, Protein::c4}) {
    const labs::OfProtein& of = p == Protein::c3 ? own.judged.c3 : own.judged.c4;
    for (const stage::OwnSentence& said : stage::protein_sentences(of, p, own.reading.rows, unit, f.words)) {
      using Kind = stage::OwnSentence::Kind;
      if (said.kind == Kind::verdict) {
        Said verdict{said.text, Type::strong, said.found};
        if (of.level.usual) verdict.gauge = {p, &of};
        all.push_back(std::move(verdict));
      }
      if (said.kind == Kind::unknown) all.push_back({said.text, Type::small, false});
    }
  }
  const auto marker = stage::marker_sentences(own.judged.marker, f.words);
  all.push_back({f.words.at("sheet.marker"), Type::strong, false});
  for (std::size_t i = 0; i < marker.size(); ++i) {
    all.push_back({marker[i], i > 0 && i + 1 == marker.size() ? Type::small : Type::body, false});
  }
  for (const std::string& said : stage::diagnosis_sentences(own.reading, own.judged, f.words)) {
    all.push_back({said, Type::body, false});
  }
  for (const std::string& said : stage::pattern_sentences(own.reading, own.judged, f.words)) {
    all.push_back({said, Type::body, false});
  }
  all.push_back({f.words.at("labs.near"), Type::small, false});
  draw_list(f, "own.findings_list", box, all);
}

void draw_figures(Frame& f, const Box& box) {
  const stage::OwnResults& own = f.state.own;
  const auto unit = f.state.page.unit;
  std::vector<Said> all;
  for (const Protein p : {Protein::c3, Protein::c4}) {
    const labs::OfProtein& of = p == Protein::c3 ? own.judged.c3 : own.judged.c4;
    all.push_back({stage::protein_name(p), Type::strong, false});
    std::vector<Said> general;
    for (const stage::OwnSentence& said : stage::protein_sentences(of, p, own.reading.rows, unit, f.words)) {
      using Kind = stage::OwnSentence::Kind;
      if (said.kind == Kind::figure) all.push_back({said.text, Type::body, said.found});
      if (said.kind == Kind::general) general.push_back({said.text, Type::small, false});
    }
    // The newest pairs first, and of the older ones those beyond a pair's noise: figures, and no findings.
    std::size_t shown = 0;
    for (auto change = of.changes.rbegin(); change != of.changes.rend() && shown < 8; ++change, ++shown) {
      if (shown > 0 && !change->beyond) continue;
      all.push_back({stage::change_sentence(*change, p, own.reading.rows, unit, f.words), Type::small, false});
    }
    all.insert(all.end(), general.begin(), general.end());
    for (const std::string& said : stage::range_sentences(of.ranges, {}, p, unit, f.words)) {
      all.push_back({f.words.at("sheet.range") + ": " + said, Type::small, false});
    }
  }
  if (stage::a_pair_is_beyond(own.judged)) all.push_back({f.words.at("labs.not_alone"), Type::small, false});
  draw_list(f, "own.figures_list", box, all);
}

void draw_lines(Frame& f, const Box& box) {
  const stage::OwnResults& own = f.state.own;
  const float em = f.em();
  std::vector<Said> said;
  for (const std::string& s : stage::reading_sentences(own.reading, f.words)) said.push_back({s, Type::small, false});
  if (stage::ranges_are_mixed(own.judged.c3) || stage::ranges_are_mixed(own.judged.c4)) {
    said.push_back({f.words.at("labs.common_star"), Type::small, false});
  }
  // A hundred thousand rejected lines would be too many to look at; `drawdown labs` prints them all.
  constexpr std::size_t most_rejected = 200;
  for (std::size_t i = 0; i < std::min(most_rejected, own.reading.rejected.size()); ++i) {
    said.push_back({stage::rejected_sentence(own.reading.rejected[i], f.words), Type::body, true});
  }
  if (own.reading.rejected.size() > most_rejected) {
    const std::size_t more = own.reading.rejected.size() - most_rejected;
    said.push_back(
        {more == 1 ? f.words.at("labs.one_more_rejected") : f.words.fill("labs.more_rejected", {std::to_string(more)}),
         Type::body, true});
  }
  Box area = box;
  if (!own.reading.rejected.empty()) {
    const labs::Rejected& first = own.reading.rejected.front();
    const std::string label = f.words.fill("own.edit_line", {std::to_string(first.line)});
    ButtonStyle style;
    style.type = Type::small;
    const float w = std::min(area.w, button_width(f, label, Type::small));
    if (button(f, "own.edit_line", {area.x, area.y, w, 1.9F * em}, label, style)) f.act(stage::EditLine{first.line});
    area.y += 2.3F * em;
    area.h -= 2.3F * em;
  }
  float words = 0;
  for (std::size_t i = 0; i < said.size() && words < 0.45F * area.h; ++i) {
    words += f.canvas.paragraph_height(said[i].text, said[i].type, area.w - 1.2F * em) + 0.55F * em;
  }
  const Box top{area.x, area.y, area.w, own.reading.rows.empty() ? area.h : std::min(words, 0.45F * area.h)};
  draw_list(f, "own.rejected_list", top, said);
  if (own.reading.rows.empty()) return;
  // The table, only what is seen of it.
  const Box list{area.x, top.bottom() + 0.4F * em, area.w, area.bottom() - top.bottom() - 0.4F * em};
  const float row_h = 1.5F * em;
  const auto count = static_cast<float>(own.reading.rows.size());
  ScrollArea scrolled(f, "own.rows", list, row_h * count, list);
  scrolled.by_keys("own.rows_list");
  f.canvas.clip(list);
  const float c3_x = list.x + 6.5F * em;
  const float c4_x = c3_x + std::min(8.5F * em, 0.28F * list.w);
  const auto from = static_cast<std::size_t>(std::max(0.0F, (list.y - scrolled.top()) / row_h));
  for (std::size_t i = from; i < own.reading.rows.size(); ++i) {
    const float y = scrolled.top() + row_h * static_cast<float>(i);
    if (y > list.bottom()) break;
    const labs::Row& row = own.reading.rows[i];
    f.canvas.text({list.x + 0.6F * em, y}, labs::iso_date(row.day), Type::small, f.palette.ink);
    const auto cell = [&](Protein p, const labs::OfProtein& of, float x, const look::Colour& colour) {
      const std::string value = stage::value_text(labs::value_of(row, p), p, f.state.page.unit);
      if (value.empty()) return;
      const auto b = f.canvas.text({x, y}, value, Type::strong, colour);
      f.canvas.text({b.right() + 0.4F * em, y + 0.1F * em}, stage::position_text(of, i, f.words), Type::small,
                    f.palette.quiet);
    };
    cell(Protein::c3, own.judged.c3, c3_x, f.palette.c3);
    cell(Protein::c4, own.judged.c4, c4_x, f.palette.c4);
    const float note_x = c4_x + 8.5F * em;
    if (note_x < list.right() - 4 * em) {
      const std::string note = (row.flare == true ? f.words.at("labs.flare") + " " : std::string()) + row.treatment;
      if (!note.empty())
        f.canvas.fitted({note_x, y, list.right() - note_x - em, em}, note, Type::small, f.palette.quiet);
    }
  }
  f.canvas.unclip();
  scrolled.draw_bar();
}

void draw_noise(Frame& f, const Box& box) {
  const float em = f.em();
  const labs::Noise& noise = f.state.own.noise;
  // Two columns where the page is low; lower still, and it scrolls.
  const bool columns = box.h < 19 * em && box.w > 30 * em;
  const float row = 3.1F * em;
  const std::string& note = f.words.at("own.noise_note");
  const float wide = box.w - 1.2F * em;
  const float sides_at = (columns ? 2.0F : 4.0F) * row;
  const float note_h = f.canvas.paragraph_height(note, Type::small, wide);
  const float tables_at = sides_at + 2.5F * em;
  ScrollArea scrolled(f, "own.noise", box, sides_at + 5.0F * em + note_h, box);
  const float width = columns ? (wide - 1.6F * em) / 2 : wide;
  int placed = 0;
  const auto reveal = [&](const std::string& name, float from) {
    if (f.interaction.focus_moved() && f.interaction.focused() == name) scrolled.reveal(from, row, em);
  };
  const auto one = [&](const std::string& key, Protein p, double study::Variation::*part) {
    const std::string protein = stage::protein_name(p);
    const std::string name = "own." + key + "." + protein;
    const bool right = columns && placed % 2 == 1;
    const float from = static_cast<float>(columns ? placed / 2 : placed) * row;
    reveal(name, from);
    const Box b{box.x + (right ? width + 1.6F * em : 0), scrolled.top() + from, width, 3 * em};
    const double value = noise.of(p).*part;
    f.canvas.fitted({b.x, b.y, b.w - 4 * em, em}, f.words.fill("own." + key, {protein}), Type::body, f.palette.ink);
    f.canvas.text({b.right() - 0.6F * em, b.y}, look::number(value, 1) + " %", Type::strong, f.palette.ink,
                  Align::right);
    const SliderResult r =
        slider(f, name, {b.x, b.y + 1.3F * em, b.w - 0.6F * em, 1.5F * em}, value, 0.5, 20.0, 0.1, std::nan(""));
    if (r.moved) {
      labs::Noise changed = noise;
      (p == Protein::c3 ? changed.c3 : changed.c4).*part = std::round(10.0 * r.value) / 10.0;
      f.act(stage::SetNoise{changed});
    }
    placed += 1;
  };
  f.canvas.clip(box);
  f.interaction.reach(&box);
  for (const Protein p : {Protein::c3, Protein::c4}) {
    one("cv_analytical", p, &study::Variation::analytical);
    one("cv_within", p, &study::Variation::within);
  }
  const std::vector<std::string> sides{f.words.at("own.two_sided"), f.words.at("own.one_sided")};
  reveal("own.sides/0", sides_at);
  reveal("own.sides/1", sides_at);
  const float y = scrolled.top() + sides_at;
  const int pressed = choice(f, "own.sides", {box.x, y, std::min(wide, choice_width(f, sides)), 2.0F * em}, sides,
                             noise.one_sided ? 1 : 0);
  if (pressed >= 0) {
    labs::Noise changed = noise;
    changed.one_sided = pressed == 1;
    f.act(stage::SetNoise{changed});
  }
  reveal("own.tables/0", tables_at);
  reveal("own.tables/1", tables_at);
  const std::vector<std::string> tables{f.words.at("own.noise_older"), f.words.at("own.noise_newer")};
  const auto is = [](const study::Variation& a, const study::Variation& b) { return a.within == b.within; };
  const int chosen = is(noise.c3, study::c3_variation) && is(noise.c4, study::c4_variation)               ? 0
                     : is(noise.c3, study::c3_variation_newer) && is(noise.c4, study::c4_variation_newer) ? 1
                                                                                                          : -1;
  const int table =
      choice(f, "own.tables", {box.x, scrolled.top() + tables_at, std::min(wide, choice_width(f, tables)), 2.0F * em},
             tables, chosen);
  if (table >= 0) {
    labs::Noise changed = noise;
    changed.c3.within = (table == 0 ? study::c3_variation : study::c3_variation_newer).within;
    changed.c4.within = (table == 0 ? study::c4_variation : study::c4_variation_newer).within;
    f.act(stage::SetNoise{changed});
  }
  f.canvas.paragraph({box.x, y + 5.0F * em, wide, note_h}, note, Type::small, f.palette.quiet);
  f.interaction.reach(nullptr);
  f.canvas.unclip();
  scrolled.draw_bar();
}

}  // namespace

void draw_own_page(Frame& f, stage::OwnPage page, const Box& box) {
  switch (page) {
    case stage::OwnPage::findings:
      return draw_findings(f, box);
    case stage::OwnPage::figures:
      return draw_figures(f, box);
    case stage::OwnPage::lines:
      return draw_lines(f, box);
    case stage::OwnPage::noise:
      return draw_noise(f, box);
    case stage::OwnPage::fit:
      return draw_own_why(f, box);
    case stage::OwnPage::charts:
      break;  // drawn by the panel itself
  }
}

}  // namespace drawdown::panels
