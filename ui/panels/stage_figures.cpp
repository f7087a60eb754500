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
  Figures(Frame& frame, const StageShape& all, const Side& of, std::size_t i, const StageTexts& stand)
      : f(frame),
        side(of),
        s(all.side[i]),
        outer(all.outer[i]),
        beside(all.beside[i]),
        wear(all.wear[i]),
        texts(stand),
        em(frame.em()),
        align(s.mirrored ? Align::right : Align::left) {}

  void draw() {
    draw_level();
    draw_range();
    draw_flows();
    draw_opening();
    if (texts.wear) draw_wear();
    if (!texts.hall && f.state.page.depth != look::Depth::plain) draw_tissue_fluid();
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
    const std::string usual_text =
        f.words.fill("picture.usual_level", {stage::level_text(usual, side.which, f.state.page.unit)});
    const float usual_h = line(Type::small);
    const float usual_y = s.usual_y - usual_h - 0.1F * em;
    if (!texts.hall) {
      f.canvas.fitted({beside.x, usual_y, beside.w, usual_h}, usual_text, Type::small, f.palette.usual, align);
    }
    const std::string number = stage::level_text_beside(side.account.level, side.range, side.which, f.state.page.unit);
    // Under the usual level, whichever side of it the surface is: above hangs the liver.
    const float top = s.usual_y + 0.1F * em;
    const float bottom = s.vessel.bottom() + 0.1F * em;
    // Number and unit, direction under them; where room is short the arrow stands behind the unit and its words below.
    const std::string unit = stage::unit_text(f.state.page.unit);
    const bool narrow =
        f.canvas.width(number, Type::heading) + f.canvas.width(unit, Type::small) + 2.4F * em > beside.w;
    const bool unitless = texts.hall || narrow;
    const float unit_w = unitless ? 0.0F : f.canvas.width(unit, Type::small) + 0.4F * em;
    const auto wide = [&](Type type) { return f.canvas.width(number, type) + unit_w; };
    Type type = Type::level;
    bool compact = false;
    for (const auto& [next, beside_it] :
         {std::pair{Type::level, false}, std::pair{Type::verdict, false}, std::pair{Type::level, true},
          std::pair{Type::verdict, true}, std::pair{Type::figure, true}, std::pair{Type::heading, true}}) {
      type = next;
      compact = beside_it;
      const float under = compact ? line(Type::small) : 1.75F * em;
      if (wide(type) + (compact ? 1.9F * em : 0.0F) <= beside.w && line(type) + under <= bottom - top) break;
    }
    const float block = line(type) + (compact ? line(Type::small) : 1.75F * em);
    const float y = std::clamp(s.surface_y - line(type) / 2, top, std::max(top, bottom - block));
    const float x = s.mirrored ? beside.right() - wide(type) : beside.x;
    f.canvas.text({x, y}, number, type, side.colour);
    if (!unitless) {
      f.canvas.text({x + wide(type) - unit_w + 0.4F * em, y + 0.78F * line(type) - 0.8F * line(Type::small)}, unit,
                    Type::small, f.palette.quiet);
    }
    const float size = compact ? std::min(1.5F * em, 0.8F * line(type)) : 1.5F * em;
    const float sign_w =
        draw_sign({s.mirrored ? (compact ? x - 2.1F * em : beside.right() - 1.7F * em)
                              : (compact ? x + wide(type) + 0.4F * em : beside.x),
                   compact ? y + (line(type) - size) / 2 : y + line(type) + 0.15F * em, 1.7F * em, size});
    const float free = compact ? beside.w : beside.w - sign_w - 0.5F * em;
    const float at = compact || s.mirrored ? beside.x : beside.x + sign_w + 0.5F * em;
    // Without room for both the sign says it alone.
    if (texts.hall || y + block > bottom + 0.15F * em) return;
    draw_pace(
        {at, compact ? y + line(type) : y + line(type) + 0.15F * em, free, compact ? line(Type::small) : 1.5F * em},
        compact);
  }

  // A big arrow, or an equals sign; returns its width.
  float draw_sign(const Box& box) {
    const LevelTrend trend = side.account.trend;
    const bool slow = trend == LevelTrend::slowly_falling || trend == LevelTrend::slowly_filling;
    if (f.state.look.bare) return 0.0F;
    const float w = trend == LevelTrend::holding ? box.w : (slow ? 1.05F : 1.5F) * f.em();
    const float x = s.mirrored ? box.right() - w : box.x;
    const float middle = box.middle_y();
    if (trend == LevelTrend::holding) {
      for (const float at : {-0.21F * box.h, 0.21F * box.h}) {
        f.canvas.fill({x, middle + at - 0.13F * box.h, w, 0.26F * box.h}, f.palette.ink, 0.1F * em);
      }
      return w;
    }
    const float way = side.account.slope < 0.0 ? 1.0F : -1.0F;
    const float shaft = 0.44F * w;
    const float from = middle - way * box.h / 2;
    const float tip = middle + way * box.h / 2;
    f.canvas.fill({x + (w - shaft) / 2, std::min(from, middle), shaft, std::abs(middle - from) + 1}, f.palette.ink);
    f.canvas.shape({x + w / 2, (middle + tip) / 2}, {{x, middle}, {x + w / 2, tip}, {x + w, middle}}, f.palette.ink);
    return w;
  }

  void draw_pace(const Box& box, bool compact) {
    std::string said = f.words.at("picture.holding");
    Type type = compact ? Type::small : Type::strong;
    if (side.account.trend != LevelTrend::holding) {
      const double pace = std::abs(side.account.slope);
      const bool by_hour = pace >= 100.0;
      const std::string figure = look::number(by_hour ? pace / 24.0 : pace, 1);
      for (const char* ending : {"", "_short"}) {
        said = f.words.fill(std::string(by_hour ? "picture.pace_hour" : "picture.pace") + ending, {figure});
        if (f.canvas.width(said, type) <= box.w) break;
      }
      if (f.canvas.width(said, type) > box.w) type = Type::small;
      if (f.canvas.width(said, type) > box.w) return;
    }
    write({box.x, box.middle_y() - line(type) / 2, box.w, 0}, said, type, f.palette.ink);
  }

  // The laboratory's range on the outer wall.
  void draw_range() {
    const float w = 0.55F * em;
    const float wall = wall_of(f);
    const float x = s.mirrored ? s.vessel.right() + wall + 0.25F * em : s.vessel.x - wall - 0.25F * em - w;
    const float top = s.y_of(side.range.high / std::max(1e-9, side.account.usual));
    const float bottom = s.y_of(side.range.low / std::max(1e-9, side.account.usual));
    f.canvas.fill({x, top, w, bottom - top}, look::mix(f.palette.range, f.palette.range_ink, 0.35F), 0.2F * em);
    if (side.range.high > static_cast<double>(most_high) * side.account.usual) {
      for (const float dy : {0.35F, 0.75F}) {
        f.canvas.line({{x - 0.15F * em, top + (dy + 0.15F) * em}, {x + w + 0.15F * em, top + (dy - 0.15F) * em}},
                      f.palette.card, std::max(2.0F, 0.14F * em));
      }
    }
    range_edge = s.mirrored ? x + w + 0.25F * em : x - 0.25F * em;
    if (!texts.limits || outer.w < 8.2F * em) return;
    const float lh = line(Type::small);
    const auto limit = [&](double value, float y) {
      f.canvas.text({range_edge, y}, stage::level_text(value, side.which, f.state.page.unit), Type::small,
                    f.palette.range_ink, s.mirrored ? Align::left : Align::right);
    };
    limit(side.range.high, top - 0.1F * em);
    limit(side.range.low, std::max(bottom - lh, top + 0.9F * lh) + 0.1F * em);
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
    Type name = line(Type::verdict) < 0.2F * s.vessel.h ? Type::verdict : Type::heading;
    if (texts.hall) name = Type::level;
    write({column.x, y, column.w, 0}, side.name, name, side.colour);
    if (!texts.flows) return;
    y += line(name) + 0.5F * em;
    const float end = s.vessel.bottom() - 0.1F * em;
    const readout::FlowPair& usual = side.run->usual_flows();
    const double usual_made = (side.which == stage::Which::c3 ? usual.c3 : usual.c4).made;
    const auto grams_text = [&](double value) {
      return f.words.fill("picture.grams_a_day", {look::number(value * usual_made, 2)});
    };
    const bool grams = f.state.page.depth != look::Depth::plain &&
                       std::max(f.canvas.width(grams_text(side.account.in), Type::small),
                                f.canvas.width(grams_text(side.account.out), Type::small)) <= column.w;
    const float row = line(Type::small) + line(Type::figure) + (grams ? line(Type::small) : 0.0F) + 0.25F * em;
    // A figure is never cut: smaller, and where that is not enough the picture says it alone.
    Type figure = y + 2 * row <= end ? Type::figure : Type::heading;
    const auto widest = [&](Type type) {
      return std::max(f.canvas.width(times(side.account.in), type), f.canvas.width(times(side.account.out), type));
    };
    for (const Type smaller : {Type::heading, Type::strong, Type::small}) {
      if (widest(figure) > column.w) figure = smaller;
    }
    if (widest(figure) > column.w) return;
    // Both or neither.
    const float each = line(Type::small) + line(figure) + (grams ? line(Type::small) : 0.0F);
    if (y + 2 * each + 0.25F * em > end) return;
    const auto both = [&](const char* key, double value) {
      write({column.x, y, column.w, 0}, f.words.at(key), Type::small, f.palette.quiet);
      y += 0.92F * line(Type::small);
      write({column.x, y, column.w, 0}, times(value), figure, f.palette.ink);
      y += line(figure);
      if (grams) {
        write({column.x, y, column.w, 0}, grams_text(value), Type::small, f.palette.quiet);
        y += line(Type::small);
      }
      y += 0.25F * em;
    };
    both("picture.in", side.account.in);
    both("picture.out", side.account.out);
    const bool fits = f.canvas.width(f.words.at("picture.usual_is_one"), Type::small) <= column.w;
    if (fits && y + line(Type::small) <= end) {
      write({column.x, y, column.w, 0}, f.words.at("picture.usual_is_one"), Type::small, f.palette.quiet);
      y += line(Type::small);
    }
    const double volume = side.account.volume;
    if (std::abs(volume - 1.0) > 0.03 && y + line(Type::small) <= end) {
      write({column.x, y, column.w, 0}, f.words.fill("picture.plasma", {look::number(volume, 2)}), Type::small,
            f.palette.quiet);
    }
  }

  // How wide the opening is, on a line under the whole of it.
  void draw_opening() {
    const float wall = wall_of(f);
    const float y = s.vessel.bottom() + wall + 1.35F * em;
    const bool wide = side.account.drain > 1.0 + least_way;
    const look::Colour ink = wide ? f.palette.complexes : f.palette.quiet;
    const float a = std::min(s.opening_from, s.opening_to);
    const float b = std::max(s.opening_from, s.opening_to);
    f.canvas.line({{a, y}, {b, y}}, ink, std::max(2.0F, 0.15F * em));
    for (const float x : {a, b}) {
      f.canvas.line({{x, y - 0.3F * em}, {x, y + 0.3F * em}}, ink, std::max(2.0F, 0.15F * em));
    }
    const std::string text = f.words.fill("picture.open", {look::number(side.account.drain, 2)});
    const float gap = 0.6F * em;
    const float room = s.mirrored ? outer.right() - b - gap : a - gap - outer.x;
    const Box box{s.mirrored ? b + gap : outer.x, y - line(Type::strong) / 2, room, line(Type::strong)};
    Type type = texts.hall ? Type::figure : Type::strong;
    for (const Type smaller : {Type::strong, Type::small}) {
      if (f.canvas.width(text, type) > room) type = smaller;
    }
    f.canvas.fitted({box.x, y - line(type) / 2, box.w, line(type)}, text, type, ink,
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
    const float wall = wall_of(f);
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
    if (std::abs(net) < 0.005) {
      f.canvas.fitted({box.x + 0.4F * em, box.y + 1.05F * em, box.w - 0.8F * em, em},
                      f.words.at("picture.as_much_both_ways"), Type::small, f.palette.quiet, align);
      return;
    }
    const std::string text =
        f.words.fill(net < 0.0 ? "picture.to_it" : "picture.from_it", {look::number(std::abs(net), 2)});
    f.canvas.fitted({box.x + 0.4F * em, box.y + 1.05F * em, box.w - 0.8F * em, em}, text, Type::small, f.palette.quiet,
                    align);
  }

  Frame& f;
  const Side& side;
  const SideShape& s;
  Box outer, beside, wear;
  StageTexts texts;
  float em;
  Align align;
  float range_edge = 0;
  bool has_limits = false;
};

}  // namespace

void draw_figures(Frame& f, const StageShape& shape, const Side& side, std::size_t i, const StageTexts& texts) {
  Figures(f, shape, side, i, texts).draw();
}

}  // namespace drawdown::panels
