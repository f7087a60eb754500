// What the parts of the opening picture say when they are pointed at. Every number is the account's.
#include <algorithm>
#include <cmath>

#include "panels/balance_parts.hpp"

namespace drawdown::panels {

using draw::Box;

namespace {

class Told {
 public:
  Told(Frame& frame, const StageShape& all, const std::array<Side, 2>& both, const readout::Tokens& its,
       const std::string& picture)
      : f(frame), em(frame.em()), shape(all), sides(both), tokens(its), key(picture) {}

  void all() {
    tell_liver();
    for (std::size_t i = 0; i < 2; ++i) tell_side(i);
    for (std::size_t p = 0; p < shape.plates.size(); ++p) tell_plate(p);
  }

 private:
  [[nodiscard]] std::string level(const Side& side, double value) const {
    return stage::level_text(value, side.which, f.state.page.unit) + " " + stage::unit_text(f.state.page.unit);
  }
  static std::string times(double value) { return look::number(value, 2); }
  [[nodiscard]] std::string percent(double share) const {
    return f.words.fill("numbers.percent", {look::number(100.0 * share, 0)});
  }

  void part(const std::string& name, const Box& box, const std::string& title, const std::string& text) {
    const auto r = f.interaction.control(key + name, box, false);
    if (r.show_focus) focus_ring(f, box, 0.4F * em);
    const bool pointed = f.interaction.enabled() && r.hovered && !f.interaction.input().down;
    if (pointed || r.show_focus) f.interaction.tell(title, text, box);
  }

  void tell_liver() {
    part("liver", shape.liver, f.words.at("told.liver_name"),
         f.words.fill("told.liver", {percent(sides[0].account.tap), percent(sides[1].account.tap)}));
  }

  void tell_side(std::size_t i) {
    const Side& side = sides.at(i);
    const SideShape& s = shape.side.at(i);
    const readout::AccountOf& a = side.account;
    const std::string name = side.name;
    // What comes in hangs over the vessel, as wide as the tap.
    const float tap = std::max(s.tap_width + s.given_width, 1.2F * em);
    const float middle = (s.tick_from + s.tick_to) / 2;
    const float pipe = std::max(shape.pipes.y, shape.liver.y);
    part(name + ".in", {middle - tap / 2 - 0.3F * em, pipe, tap + 0.6F * em, s.vessel.y - pipe},
         f.words.fill("told.in_name", {name}),
         f.words.fill(a.given > 0.005 ? "told.in_given" : "told.in", {times(a.in), times(a.tap), times(a.given)}));
    part(name + ".level", s.vessel, f.words.fill("told.level_name", {name}),
         f.words.fill("told.level",
                      {level(side, a.level), percent(a.against_usual), level(side, a.usual), level(side, a.settles)}));
    const float floor = s.vessel.bottom();
    const float from = std::min(s.opening_from, s.opening_to);
    const float to = std::max(s.opening_from, s.opening_to);
    part(name + ".opening", {from - 0.3F * em, floor, to - from + 0.6F * em, 2.2F * em},
         f.words.fill("told.opening_name", {name}), opening(side));
    const float wide = 0.8F * em;
    const float wall = wall_of(f);
    const float top = s.y_of(side.range.high / std::max(1e-9, a.usual));
    const float bottom = s.y_of(side.range.low / std::max(1e-9, a.usual));
    part(name + ".range", {s.mirrored ? s.vessel.right() + wall : s.vessel.x - wall - wide, top, wide, bottom - top},
         f.words.fill("told.range_name", {name}),
         f.words.fill("told.range", {level(side, side.range.low), level(side, side.range.high), level(side, a.usual)}));
  }

  // The drain in parts: ordinary wear and what is beyond the usual, the largest three by name.
  [[nodiscard]] std::string opening(const Side& side) const {
    const readout::AccountOf& a = side.account;
    std::vector<std::pair<double, std::size_t>> extra;
    for (std::size_t t = 0; t < a.drain_parts.size(); ++t) {
      const double more = a.drain_parts[t] - a.usual_parts[t];
      if (more >= least_way) extra.emplace_back(more, t);
    }
    std::stable_sort(extra.begin(), extra.end(), [](const auto& x, const auto& y) { return x.first > y.first; });
    std::string where;
    for (std::size_t e = 0; e < std::min<std::size_t>(3, extra.size()); ++e) {
      where += (e == 0 ? "" : ", ") + name_of(extra[e].second) + " " + times(extra[e].first);
    }
    std::string text = f.words.fill("told.opening", {times(a.drain), times(a.out)});
    if (!where.empty()) text += " " + f.words.fill("told.extra", {where});
    return text;
  }
  [[nodiscard]] std::string name_of(std::size_t token) const {
    const std::string& name = tokens.names[token];
    if (!tokens.is_tissue(token)) return f.words.at("plate." + name + "_short");
    return f.word(tissue_looks(*sides[0].run->body().model)[token - tokens.first_tissue].key);
  }

  void tell_plate(std::size_t p) {
    const Plate& plate = shape.plates[p];
    std::string name;
    std::array<double, 2> more{0.0, 0.0};
    for (const std::size_t token : plate.tokens) {
      for (std::size_t i = 0; i < 2; ++i) {
        const readout::AccountOf& a = sides.at(i).account;
        more.at(i) += a.drain_parts[token] - a.usual_parts[token];
      }
      if (plate.tissue) name += (name.empty() ? "" : ", ") + name_of(token);
    }
    if (!plate.tissue) name = f.words.at("plate." + tokens.names[plate.tokens.front()]);
    const auto signed_times = [](double value) {
      return (value < -0.005 ? "−" : "+") + look::number(std::abs(value), 2);
    };
    part("plate" + std::to_string(p), plate.box, name,
         f.words.fill("told.plate", {signed_times(more[0]), signed_times(more[1])}));
  }

  Frame& f;
  float em;
  const StageShape& shape;
  const std::array<Side, 2>& sides;
  const readout::Tokens& tokens;
  std::string key;
};

}  // namespace

void tell_parts(Frame& f, const StageShape& shape, const std::array<Side, 2>& sides, const readout::Tokens& tokens,
                const std::string& name) {
  Told(f, shape, sides, tokens, name).all();
}

}  // namespace drawdown::panels
