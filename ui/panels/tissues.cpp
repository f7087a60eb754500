// Tissues: where complexes settle and what they set off, each over time; and of the one looked at the circle back -
// injured tissue gives debris, debris with antibody gives complexes - with its flows and its weakest link.
#include <algorithm>
#include <array>
#include <cmath>

#include "panels/balance_parts.hpp"
#include "panels/panels.hpp"
#include "study/circle.hpp"

namespace drawdown::panels {

using draw::Align;
using draw::Box;
using draw::Type;

namespace {

constexpr double full_inflammation = 1.5;

void bar(Frame& f, const Box& box, const std::string& label, double share, const std::string& figure,
         const look::Colour& colour) {
  const float em = f.em();
  const float lh = f.canvas.line_height(Type::small);
  const float fw = f.canvas.width(figure, Type::small);
  f.canvas.fitted({box.x, box.y, box.w - fw - 0.5F * em, lh}, label, Type::small, f.palette.quiet);
  f.canvas.text({box.right(), box.y}, figure, Type::small, f.palette.ink, Align::right);
  const Box track{box.x, box.y + lh + 0.25F * em, box.w, std::clamp(box.h - lh - 1.0F * em, 0.5F * em, 1.1F * em)};
  f.canvas.fill(track, f.palette.raised, 0.25F * em);
  const auto s = static_cast<float>(std::clamp(share, 0.0, 1.0));
  if (s > 0.01F) f.canvas.fill({track.x, track.y, std::max(track.w * s, 0.5F * em), track.h}, colour, 0.25F * em);
}

struct Courses;
void draw_over_time(Frame& f, const Box& box, const Courses& all, std::size_t tissue);

void draw_card(Frame& f, const Box& box, const TissueLook& which, const readout::Tissue& t,
               const readout::FlowPair& flows, const Courses& over_time) {
  const float em = f.em();
  const look::Colour ground = warm_ground(f, t);
  const std::size_t place = which.place;
  card(f, box);
  const bool tall = box.h > 26 * em;
  const float head = tall ? 7.0F * em : 2.6F * em;
  const Box top{box.x, box.y, box.w, head};
  f.canvas.fill(top, ground, 0.6F * em);
  const float size = tall ? 4.6F * em : 1.8F * em;
  const Box icon{tall ? top.middle_x() - size / 2 : top.x + 0.7F * em, top.y + 0.5F * em, size, size};
  draw_tissue_figure(f, icon, which.figure, ground);
  const float name_x = tall ? box.x + 0.8F * em : icon.right() + 0.6F * em;
  f.canvas.fitted({name_x, top.bottom() - (tall ? 1.7F : 1.9F) * em, box.right() - name_x - 0.5F * em, em},
                  f.fitting(which.key, Type::strong, box.right() - name_x - 0.5F * em), Type::strong,
                  f.palette.tissue_ink, tall ? Align::centre : Align::left);
  const Box inner = Box{box.x, top.bottom(), box.w, box.h - head}.inset(0.9F * em, 0.6F * em);
  // The course at the foot, where the bars leave room.
  const float course = inner.h > 16 * em ? std::min(6.0F * em, inner.h - 12.5F * em) : 0;
  const float row = std::min(4.6F * em, (inner.h - course) / 5);
  float y = inner.y;
  const auto line = [&](const char* key, double share, const std::string& figure, const look::Colour& colour) {
    bar(f, {inner.x, y, inner.w, row}, f.word(key), share, figure, colour);
    y += row;
  };
  const auto percent = [&](double v) { return f.words.fill("numbers.percent", {look::number(100 * v, 0)}); };
  line("tissues.deposit", t.deposit / 2.0, look::number(t.deposit, 2), f.palette.complexes);
  line("tissues.inflammation", t.inflammation / full_inflammation, look::number(t.inflammation, 2), f.palette.mark);
  line("tissues.injury", t.injury, percent(t.injury), f.palette.tissue_ink);
  line("tissues.c3", flows.c3.spent[place] / std::max(1e-9, 0.4 * flows.c3.made),
       f.words.fill("numbers.milligrams", {look::number(1000 * flows.c3.spent[place], 0)}), f.palette.c3);
  line("tissues.c4", flows.c4.spent[place] / std::max(1e-9, 0.4 * flows.c4.made),
       f.words.fill("numbers.milligrams", {look::number(1000 * flows.c4.spent[place], 0)}), f.palette.c4);
  if (course <= 0) return;
  const float lh = f.canvas.line_height(Type::small);
  f.canvas.fitted({inner.x, inner.bottom() - course, inner.w, lh}, f.word("tissues.over_time"), Type::small,
                  f.palette.quiet);
  draw_over_time(f, {inner.x, inner.bottom() - course + lh + 0.3F * em, inner.w, course - lh - 0.3F * em}, over_time,
                 place - body::first_tissue_place);
}

// Inflammation and injury of a tissue over the story, with the playhead.
struct Courses {
  std::vector<std::vector<readout::Tissue>> at;  // by point of time, then tissue
  double day = 0.0, last = 1.0;
};
Courses courses_of(const Run& run, double day) {
  constexpr int points = 61;
  Courses all{{}, day, std::max(1e-9, run.last_day())};
  for (int i = 0; i < points; ++i) all.at.push_back(run.tissues(run.last_day() * i / (points - 1)));
  return all;
}
void draw_over_time(Frame& f, const Box& box, const Courses& all, std::size_t tissue) {
  const float em = f.em();
  const auto curve = [&](double readout::Tissue::*what, double full, const look::Colour& colour, float dash) {
    std::vector<draw::Point> points;
    for (std::size_t i = 0; i < all.at.size(); ++i) {
      const double share = std::clamp(all.at[i][tissue].*what / full, 0.0, 1.0);
      points.push_back({box.x + box.w * static_cast<float>(i) / static_cast<float>(all.at.size() - 1),
                        box.bottom() - static_cast<float>(share) * box.h});
    }
    f.canvas.line(points, colour, std::max(1.5F, 0.14F * em), dash);
  };
  f.canvas.line({{box.x, box.bottom()}, {box.right(), box.bottom()}}, f.palette.line, 1.0F);
  const float now = box.x + box.w * static_cast<float>(all.day / all.last);
  f.canvas.line({{now, box.y}, {now, box.bottom()}}, f.palette.quiet, 1.0F);
  curve(&readout::Tissue::inflammation, full_inflammation, f.palette.mark, 0.4F * em);
  curve(&readout::Tissue::injury, 1.0, f.palette.ink, 0);
}

// The circle in one tissue: boxes for what is there, arrows as wide as what flows between them, stubs for what leaves
// it, and the way back from injury to debris. All widths on one linear scale.
class CircleDrawn {
 public:
  CircleDrawn(Frame& frame, const Box& b, const std::string& tissue_name, const study::Circle& flows)
      : f(frame), em(frame.em()), box(b), name(tissue_name), circle(flows) {
    const stage::AppState& state = f.state;
    known = stage::circle_is_current(state);
    if (known) weakest = state.study.circle->circle.weakest();
  }

  void draw(const std::vector<double>& state, const readout::Tissue& tissue) {
    const body::Model::Known& species = f.state.runs.now->body().model->known();
    const std::array<std::pair<const char*, double>, 6> stops{{{"tissues.antibody", state[species.antibody]},
                                                               {"tissues.debris", state[species.antigen]},
                                                               {"tissues.circulating", state[species.complexes]},
                                                               {"tissues.settled", tissue.deposit},
                                                               {"tissues.inflamed", tissue.inflammation},
                                                               {"tissues.injured", tissue.injury}}};
    constexpr std::array<double, 6> full{3, 4, 1, 1, full_inflammation, 0.6};
    float y = box.y;
    const std::string title = f.words.fill("tissues.circle", {name});
    f.canvas.fitted({box.x, y, box.w, 1.5F * em}, title, Type::strong, f.palette.ink);
    if (const float x = f.canvas.width(title, Type::strong) + 0.6F * em;
        f.state.page.depth != look::Depth::plain && x + 24 * em < box.w) {
      f.canvas.text({box.x + x, y + 0.15F * em}, f.words.at("tissues.units"), Type::small, f.palette.quiet);
    }
    y += 1.9F * em;
    const std::string said = sentence();
    const float told = f.canvas.paragraph_height(said, Type::body, box.w);
    const float room = box.bottom() - y - told - 0.5F * em;
    tight = room < 7.2F * em;  // then without the flows in figures and the way back's name
    const float h = std::clamp(room - (tight ? 3.0F : 4.6F) * em, 2.3F * em, 4.2F * em);
    const float w = (box.w - gap() * 5) / 6;
    const auto x_of = [&](std::size_t i) { return box.x + static_cast<float>(i) * (w + gap()); };
    for (std::size_t i = 0; i < stops.size(); ++i) {
      const Box b{x_of(i), y, w, h};
      const auto warm = static_cast<float>(std::clamp(stops.at(i).second / full.at(i), 0.0, 1.0));
      f.canvas.fill(b, look::mix(f.palette.calm, f.palette.inflamed, warm), 0.5F * em);
      f.canvas.fitted({b.x + 0.2F * em, b.y + 0.35F * h - 0.6F * em, b.w - 0.4F * em, em},
                      f.fitting(stops.at(i).first, Type::small, b.w - 0.4F * em), Type::small, f.palette.tissue_ink,
                      Align::centre);
      f.canvas.fitted({b.x, b.y + 0.35F * h + 0.5F * em, b.w, em}, look::number(stops.at(i).second, 2), Type::strong,
                      f.palette.tissue_ink, Align::centre);
      stub(exit_of.at(i), {b.middle_x(), b.bottom() + 0.15F * em});
    }
    // Antibody and debris meet: a plus between them.
    const float middle = y + h / 2;
    const float plus = box.x + w + gap() / 2;
    f.canvas.line({{plus - 0.4F * em, middle}, {plus + 0.4F * em, middle}}, f.palette.ink, 0.16F * em);
    f.canvas.line({{plus, middle - 0.4F * em}, {plus, middle + 0.4F * em}}, f.palette.ink, 0.16F * em);
    for (std::size_t i = 1; i < 5; ++i) arrow(link_of.at(i - 1), {x_of(i) + w + 0.15F * em, middle}, gap() - 0.3F * em);
    way_back(x_of(5) + 0.82F * w, x_of(1) + 0.18F * w, y + h);
    f.canvas.paragraph({box.x, box.bottom() - told, box.w, told}, said, Type::body, f.palette.ink);
  }

 private:
  static constexpr std::array<study::Link, 4> link_of{study::Link::forms, study::Link::settles, study::Link::inflames,
                                                      study::Link::injures};
  static constexpr std::array<study::Link, 6> exit_of{
      study::Link::antibody_ages, study::Link::debris_cleared, study::Link::complexes_cleared,
      study::Link::removed,       study::Link::calms,          study::Link::heals};
  [[nodiscard]] float gap() const { return std::min(3.4F * em, 0.055F * box.w); }
  [[nodiscard]] double flow(study::Link link) const { return circle.links[static_cast<std::size_t>(link)].flow; }
  // One unit a day is 1.6 em wide, more than one no wider.
  [[nodiscard]] float thick(study::Link link) const {
    return std::clamp(static_cast<float>(flow(link)) * 1.6F * em, 1.0F, 1.6F * em);
  }
  [[nodiscard]] bool is_weakest(study::Link link) const { return weakest != nullptr && weakest->link == link; }
  [[nodiscard]] look::Colour colour(study::Link link) const {
    // Without injury it does not turn.
    if (circle.injury < study::least_injury) return look::mix(f.palette.line, f.palette.quiet, 0.35F);
    return is_weakest(link) ? f.palette.mark : look::mix(f.palette.quiet, f.palette.ink, 0.4F);
  }
  [[nodiscard]] bool numbers() const { return !tight && f.state.page.depth != look::Depth::plain; }

  void arrow(study::Link link, draw::Point from, float length) {
    const float t = thick(link);
    const float head = std::min(0.55F * length, 0.6F * em + 0.3F * t);
    const float x = from.x + length;
    f.canvas.fill({from.x, from.y - t / 2, length - head + 0.5F, t}, colour(link), 0);
    const float half = std::max(0.5F * em, 0.8F * t);
    f.canvas.shape({x - 0.6F * head, from.y}, {{x - head, from.y - half}, {x, from.y}, {x - head, from.y + half}},
                   colour(link));
    if (is_weakest(link)) ring({from.x + length / 2, from.y}, 0.62F * length);
    if (numbers()) {
      f.canvas.text({from.x + length / 2, from.y + std::max(half, 0.62F * length) + 0.1F * em},
                    look::number(flow(link), 2), Type::small, f.palette.quiet, Align::centre);
    }
  }
  void stub(study::Link link, draw::Point from) {
    const float t = thick(link);
    const float length = 1.1F * em;
    f.canvas.fill({from.x - t / 2, from.y, t, length - 0.4F * em}, colour(link), 0);
    const float half = std::max(0.4F * em, 0.8F * t);
    f.canvas.shape({from.x, from.y + length - 0.3F * em},
                   {{from.x - half, from.y + length - 0.45F * em},
                    {from.x, from.y + length},
                    {from.x + half, from.y + length - 0.45F * em}},
                   colour(link));
    if (is_weakest(link)) ring({from.x, from.y + length / 2}, 0.75F * em);
    if (numbers()) {
      f.canvas.text({from.x + half + 0.3F * em, from.y}, look::number(flow(link), 2), Type::small, f.palette.quiet);
    }
  }
  void ring(draw::Point at, float radius) { f.canvas.ring(at, radius, f.palette.mark, std::max(2.0F, 0.16F * em)); }
  // From the injured tissue under the row to the debris.
  void way_back(float from, float to, float top) {
    const study::Link link = study::Link::returns;
    const float t = thick(link);
    const float y = top + 2.3F * em;
    f.canvas.fill({from - t / 2, top + 0.15F * em, t, y - top - 0.15F * em + t / 2}, colour(link), 0);
    f.canvas.fill({to, y - t / 2, from - to, t}, colour(link), 0);
    const float half = std::max(0.5F * em, 0.8F * t);
    f.canvas.fill({to - t / 2, top + 0.7F * em, t, y - top - 0.7F * em + t / 2}, colour(link), 0);
    f.canvas.shape({to, top + 0.6F * em},
                   {{to - half, top + 0.8F * em}, {to, top + 0.15F * em}, {to + half, top + 0.8F * em}}, colour(link));
    if (is_weakest(link)) ring({(from + to) / 2, y}, 0.75F * em);
    if (tight) return;
    std::string back = f.word("tissues.back");
    if (numbers()) back += "  " + look::number(flow(link), 2);
    const float width = std::min(f.canvas.width(back, Type::small) + 0.8F * em, from - to - 2 * em);
    const float line = f.canvas.line_height(Type::small);
    const Box plate{(from + to) / 2 - width / 2, y + t / 2 + 0.15F * em, width, line};
    f.canvas.fitted({plate.x, plate.y, plate.w, plate.h}, back, Type::small, f.palette.quiet, Align::centre);
  }

  [[nodiscard]] std::string sentence() const {
    if (!known) return f.words.at("tissues.working");
    const study::Circle& found = f.state.study.circle->circle;
    if (found.injury < study::least_injury) return f.words.at("tissues.no_injury");
    if (weakest == nullptr) return f.words.at("tissues.no_weakest");
    const std::string link(study::link_names.at(static_cast<std::size_t>(weakest->link)));
    return f.words.fill("tissues.weakest", {f.words.at("circle." + link), look::number(found.days_back, 0),
                                            look::number(found.injury * (100.0 - weakest->eases), 1),
                                            look::number(100.0 * found.injury, 1)});
  }

  Frame& f;
  float em;
  Box box;
  std::string name;
  study::Circle circle;
  bool known = false;
  bool tight = false;
  const study::LinkEffect* weakest = nullptr;
};

// A press on a tissue shows its circle.
bool choose(Frame& f, const Box& box, std::size_t tissue, bool chosen) {
  const auto r = f.interaction.control("tissues.of" + std::to_string(tissue), box);
  if (chosen) f.canvas.outline(box, f.palette.select, 0.6F * f.em(), std::max(2.0F, 0.18F * f.em()));
  if (r.show_focus) focus_ring(f, box.inset(0.2F * f.em()), 0.6F * f.em());
  return r.clicked;
}

}  // namespace

void draw_tissues(Frame& f, const Box& box) {
  const float em = f.em();
  const Run& run = *f.state.runs.now;
  const double day = std::min(f.state.time.day, run.last_day());
  const auto tissues = run.tissues(day);
  const std::size_t shown = stage::tissue_shown(f.state);
  const float gap = 0.7F * em;
  const std::vector<TissueLook> looks = tissue_looks(*run.body().model);
  const float circle_h = 14.2F * em;
  // A talk speaks of C3 and C4: there the cards, which show what each tissue uses, come before the circle.
  const bool both = box.h > circle_h + 19 * em;
  const bool cards = both || f.state.talk.step.has_value();
  // Where there is no room for the cards each tissue is a line: its state, and the way to its circle.
  const bool two_rows = box.w < 60 * em;
  const std::size_t across = two_rows ? (looks.size() + 1) / 2 : looks.size();
  const std::size_t lines = (looks.size() + across - 1) / across;
  const auto rows = static_cast<float>(lines);
  const float h = both ? box.h - circle_h - gap : cards ? box.h : rows * 3.1F * em + (rows - 1) * gap;
  const bool two_rows_of_cards = cards && two_rows && h > 24 * em;
  const std::size_t in_row = cards && !two_rows_of_cards ? looks.size() : across;
  const std::size_t used_rows = (looks.size() + in_row - 1) / in_row;
  const auto used = static_cast<float>(used_rows);
  const float w = (box.w - (static_cast<float>(in_row) - 1) * gap) / static_cast<float>(in_row);
  const float each = (h - (used - 1) * gap) / used;
  const auto flows = run.flows(day);
  const Courses over_time = courses_of(run, day);
  for (std::size_t i = 0; i < looks.size(); ++i) {
    const auto column = static_cast<float>(i % in_row);
    const std::size_t row_number = i / in_row;
    const auto row = static_cast<float>(row_number);
    const Box b{box.x + column * (w + gap), box.y + row * (each + gap), w, each};
    if (cards) {
      draw_card(f, b, looks[i], tissues[i], flows, over_time);
    } else {
      draw_tissue_box(f, b, looks[i], tissues[i]);
    }
    if (choose(f, b, i, i == shown)) f.act(stage::ShowTissue{i});
  }
  if (cards && !both) return;
  const Box circle{box.x, box.y + h + gap, box.w, box.h - h - gap};
  card(f, circle);
  f.canvas.clip(circle);
  CircleDrawn(f, circle.inset(1.1F * em, 0.7F * em), f.word(looks[shown].key), study::circle_flows(run, shown, day))
      .draw(run.state(day), tissues[shown]);
  f.canvas.unclip();
}

}  // namespace drawdown::panels
