// The figures beside a vessel: level and direction on the inner side; what comes in, what goes out and how wide the
// opening is on the outer one.
#include <algorithm>
#include <cmath>

#include "panels/balance_parts.hpp"

namespace drawdown::panels {

using draw::Align;
using draw::Box;
using draw::Type;
using readout::LevelTrend;

namespace {

class Figures {
 public:
  Figures(Frame& frame, const StageShape& all, const Side& of, int i)
      : f(frame),
        shape(all),
        side(of),
        s(all.side[i]),
        outer(all.outer[i]),
        beside(all.beside[i]),
        wear(all.wear[i]),
        em(frame.em()),
        align(s.mirrored ? Align::right : Align::left) {}

  void draw() {
    draw_level();
    draw_range();
    draw_flows();
    draw_opening();
    draw_wear();
    if (f.state.page.depth != look::Depth::plain) draw_tissue_fluid();
  }

 private:
  [[nodiscard]] float line(Type type) const { return f.canvas.line_height(type); }
  Box write(const Box& box, const std::string& words, Type type, const look::Colour& colour) {
    return f.canvas.fitted({box.x, box.y, box.w, line(type)}, words, type, colour, align);
  }
  [[nodiscard]] std::string times(double value) const {
    return f.words.fill("picture.times", {look::number(value, 2)});
  }

  // The level and where it goes, beside the surface.
  void draw_level() {
    const double usual = side.account.usual;
    const bool above = side.account.against_usual > 1.0 + readout::near_usual;
    const std::string usual_text =
        f.words.fill("picture.usual_level", {stage::level_text(usual, side.which, f.state.page.unit)});
    const float usual_h = line(Type::small);
    const float usual_y = above ? s.usual_y + 0.15F * em : s.usual_y - usual_h - 0.1F * em;
    f.canvas.fitted({beside.x, usual_y, beside.w, usual_h}, usual_text, Type::small, f.palette.usual, align);
    const std::string number = stage::level_text_beside(side.account.level, side.range, side.which, f.state.page.unit);
    const float room = above ? s.usual_y - shape.pipes.bottom() + 0.8F * em : s.vessel.bottom() - s.usual_y;
    Type type = Type::level;
    for (const Type smaller : {Type::verdict, Type::figure, Type::heading}) {
      const bool fits = f.canvas.width(number, type) + 0.4F * em <= beside.w && line(type) + 1.9F * em <= room;
      if (!fits) type = smaller;
    }
    const float block = line(type) + 1.8F * em;
    float y = s.surface_y - line(type) / 2;
    if (above) {
      y = std::clamp(y, shape.liver.bottom() - 1.0F * em,
                     std::max(shape.liver.bottom() - 1.0F * em, s.usual_y - block));
    } else {
      y = std::clamp(y, s.usual_y + 0.1F * em, std::max(s.usual_y + 0.1F * em, s.vessel.bottom() - block));
    }
    const std::string unit = stage::unit_text(f.state.page.unit);
    const float w = f.canvas.width(number, type);
    const float unit_w = f.canvas.width(unit, Type::small);
    const bool has_unit = w + unit_w + 0.4F * em <= beside.w;
    const float all = w + (has_unit ? unit_w + 0.4F * em : 0.0F);
    const float x = s.mirrored ? beside.right() - all : beside.x;
    f.canvas.text({x, y}, number, type, side.colour);
    if (has_unit)
      f.canvas.text({x + w + 0.4F * em, y + 0.72F * line(type) - 0.6F * line(Type::small)}, unit, Type::small,
                    f.palette.quiet);
    draw_direction(y + line(type) + 0.15F * em);
  }

  void draw_direction(float y) {
    const bool holds = side.account.trend == LevelTrend::holding;
    const bool slow =
        side.account.trend == LevelTrend::slowly_falling || side.account.trend == LevelTrend::slowly_filling;
    const float h = 1.5F * em;
    const float w = holds ? 1.7F * em : (slow ? 1.0F : 1.5F) * em;
    const float x = s.mirrored ? beside.right() - w : beside.x;
    const float middle = y + h / 2;
    if (holds) {
      for (const float at : {-0.32F * em, 0.32F * em}) {
        f.canvas.fill({x, middle + at - 0.19F * em, w, 0.38F * em}, f.palette.ink, 0.1F * em);
      }
    } else {
      const float way = side.account.slope < 0.0 ? 1.0F : -1.0F;
      const float shaft = 0.44F * w;
      const float from = middle - way * h / 2;
      const float head = middle + way * 0.02F * em;
      const float tip = middle + way * h / 2;
      f.canvas.fill({x + (w - shaft) / 2, std::min(from, head), shaft, std::abs(head - from) + 1}, f.palette.ink);
      f.canvas.shape({x + w / 2, (head + tip) / 2}, {{x, head}, {x + w / 2, tip}, {x + w, head}}, f.palette.ink);
    }
    const float left = beside.w - w - 0.5F * em;
    const float text_x = s.mirrored ? beside.x : x + w + 0.5F * em;
    std::string said = f.words.at("picture.holding");
    if (!holds) {
      const double pace = std::abs(side.account.slope);
      said = pace >= 100.0 ? f.words.fill("picture.pace_hour", {look::number(pace / 24.0, 1)})
                           : f.words.fill("picture.pace", {look::number(pace, 1)});
    }
    const Type type = f.canvas.width(said, Type::strong) <= left ? Type::strong : Type::small;
    const int lines = f.canvas.width(said, type) <= left ? 1 : 2;
    const float text_h = line(type) * static_cast<float>(lines);
    f.canvas.paragraph({text_x, middle - text_h / 2, left, text_h}, said, type, f.palette.ink, lines, align);
  }

  // The laboratory's range on the outer wall.
  void draw_range() {
    const auto y_of = [&](double level) {
      const float usual = s.vessel.bottom() - s.usual_y;
      return s.vessel.bottom() -
             usual * std::min(most_high, static_cast<float>(level / std::max(1e-9, side.account.usual)));
    };
    const float w = 0.55F * em;
    const float wall = std::max(3.0F, 0.34F * em);
    const float x = s.mirrored ? s.vessel.right() + wall + 0.25F * em : s.vessel.x - wall - 0.25F * em - w;
    const float top = y_of(side.range.high);
    const float bottom = y_of(side.range.low);
    f.canvas.fill({x, top, w, bottom - top}, look::mix(f.palette.range, f.palette.range_ink, 0.35F), 0.2F * em);
    if (side.range.high > static_cast<double>(most_high) * side.account.usual) {
      for (const float dy : {0.35F, 0.75F}) {
        f.canvas.line({{x - 0.15F * em, top + (dy + 0.15F) * em}, {x + w + 0.15F * em, top + (dy - 0.15F) * em}},
                      f.palette.card, std::max(2.0F, 0.14F * em));
      }
    }
    range_edge = s.mirrored ? x + w + 0.25F * em : x - 0.25F * em;
    if (outer.w < 8.2F * em) return;
    const float lh = line(Type::small);
    const auto limit = [&](double value, float y) {
      f.canvas.text({range_edge, y}, stage::level_text(value, side.which, f.state.page.unit), Type::small,
                    f.palette.range_ink, s.mirrored ? Align::left : Align::right);
    };
    limit(side.range.high, top - 0.1F * em);
    if (bottom - lh > top + lh) limit(side.range.low, bottom - lh + 0.1F * em);
    has_limits = true;
    const std::string& word = f.words.at("picture.range_short");
    if (bottom - top > 3.6F * lh) {
      f.canvas.text({range_edge, (top + bottom - lh) / 2}, word, Type::small, f.palette.range_ink,
                    s.mirrored ? Align::left : Align::right);
    }
  }

  // In and out, in times the usual flow.
  void draw_flows() {
    const float taken = has_limits ? f.canvas.width("0.00", Type::small) + 1.7F * em : 1.2F * em;
    Box column{outer.x, outer.y, outer.w - taken, outer.h};
    if (s.mirrored) column.x = outer.right() - column.w;
    float y = column.y;
    const Type name = line(Type::verdict) < 0.2F * s.vessel.h ? Type::verdict : Type::heading;
    write({column.x, y, column.w, 0}, side.name, name, side.colour);
    y += line(name) + 0.5F * em;
    const float end = s.vessel.bottom() - 0.1F * em;
    const bool grams = f.state.page.depth != look::Depth::plain;
    const float row = line(Type::small) + line(Type::figure) + (grams ? line(Type::small) : 0.0F) + 0.25F * em;
    const Type figure = y + 2 * row <= end ? Type::figure : Type::heading;
    const readout::FlowPair flows = f.state.runs.now->flows(f.state.time.day);
    const readout::Flows& of = side.which == stage::Which::c3 ? flows.c3 : flows.c4;
    const auto both = [&](const char* key, double value, double in_grams) {
      const float h = line(Type::small) + line(figure) + (grams ? line(Type::small) : 0.0F);
      if (y + h > end) return;
      write({column.x, y, column.w, 0}, f.words.at(key), Type::small, f.palette.quiet);
      y += 0.92F * line(Type::small);
      write({column.x, y, column.w, 0}, times(value), figure, f.palette.ink);
      y += line(figure);
      if (grams) {
        write({column.x, y, column.w, 0}, f.words.fill("picture.grams_a_day", {look::number(in_grams, 2)}), Type::small,
              f.palette.quiet);
        y += line(Type::small);
      }
      y += 0.25F * em;
    };
    both("picture.in", side.account.in, of.made + of.given());
    both("picture.out", side.account.out, of.used() + of.taken_out());
    if (y + line(Type::small) <= end) {
      write({column.x, y, column.w, 0}, f.words.at("picture.usual_is_one"), Type::small, f.palette.quiet);
    }
  }

  // How wide the opening is, on a line under the whole of it.
  void draw_opening() {
    const float wall = std::max(3.0F, 0.34F * em);
    const float y = s.vessel.bottom() + wall + 1.15F * em;
    const bool wide = side.account.drain > 1.0 + least_way;
    const look::Colour ink = wide ? f.palette.complexes : f.palette.quiet;
    const float a = std::min(s.opening_from, s.opening_to);
    const float b = std::max(s.opening_from, s.opening_to);
    f.canvas.line({{a, y}, {b, y}}, ink, std::max(2.0F, 0.15F * em));
    const std::string text = f.words.fill("picture.open", {look::number(side.account.drain, 2)});
    const float gap = 0.6F * em;
    const float room = s.mirrored ? outer.right() - b - gap : a - gap - outer.x;
    const Box box{s.mirrored ? b + gap : outer.x, y - line(Type::strong) / 2, room, line(Type::strong)};
    f.canvas.fitted(box, text, f.canvas.width(text, Type::strong) <= room ? Type::strong : Type::small, ink,
                    s.mirrored ? Align::left : Align::right);
  }

  void draw_wear() {
    f.canvas.fill(wear, look::mix(f.palette.card, f.palette.raised, 0.6F), 0.4F * em);
    f.canvas.fitted(
        {wear.x + 0.3F * em, wear.middle_y() - line(Type::small) / 2, wear.w - 0.6F * em, line(Type::small)},
        f.fitting("picture.wear", Type::small, wear.w - 0.6F * em), Type::small, f.palette.quiet, Align::centre);
  }

  // Tissue fluid, a chamber at the outer wall: what comes back from it or goes there on balance.
  void draw_tissue_fluid() {
    const float wall = std::max(3.0F, 0.34F * em);
    const float floor = s.vessel.bottom() + wall;
    const float h = 2.1F * em;
    const float top = floor + 2.2F * em;
    if (top + h > wear.y - 0.3F * em || outer.w < 8.2F * em) return;
    const float w = outer.w - 0.6F * em;
    const Box box{s.mirrored ? outer.right() - w : outer.x, top, w, h};
    f.canvas.fill(box, look::mix(f.palette.card, side.colour, 0.10F), 0.5F * em);
    f.canvas.outline(box, f.palette.line, 0.5F * em, 1.5F);
    f.canvas.fitted({box.x + 0.4F * em, box.y + 0.1F * em, box.w - 0.8F * em, em}, f.words.at("picture.tissue_fluid"),
                    Type::small, f.palette.ink, align);
    const double net = side.account.from_tissue;
    const std::string text =
        f.words.fill(net < 0.0 ? "picture.to_it" : "picture.from_it", {look::number(std::abs(net), 2)});
    f.canvas.fitted({box.x + 0.4F * em, box.y + 1.05F * em, box.w - 0.8F * em, em}, text, Type::small, f.palette.quiet,
                    align);
  }

  Frame& f;
  const StageShape& shape;
  const Side& side;
  const SideShape& s;
  Box outer, beside, wear;
  float em;
  Align align;
  float range_edge = 0;
  bool has_limits = false;
};

}  // namespace

void draw_figures(Frame& f, const StageShape& shape, const Side& side, int i) {
  Figures(f, shape, side, i).draw();
}

}  // namespace drawdown::panels
