// The vessel: both levels as columns, each on an axis of its own, with the laboratory's range and this person's usual
// level. Words are only written where neither a column, its figure nor the usual line is.
#include <algorithm>

#include "panels/balance_parts.hpp"
#include "stage/narrate.hpp"

namespace drawdown::panels {

using draw::Align;
using draw::Box;
using draw::Type;
using stage::Which;

namespace {

class Vessel {
 public:
  Vessel(Frame& frame, const Box& b) : f(frame), run(*frame.state.runs.now), em(frame.em()), glass(b) {}

  void draw() {
    f.canvas.fill(glass, look::mix(f.palette.card, f.palette.ground, 0.45F), 1.2F * em);
    // Walls and a round bottom, open at the top.
    const float wall = std::max(2.0F, 0.2F * em);
    f.canvas.outline(glass, look::mix(f.palette.line, f.palette.quiet, 0.35F), 1.2F * em, wall);
    const float foot = 1.9F * em;
    if (f.state.first.step == stage::FirstMinute::watch_it_fall ||
        f.state.first.step == stage::FirstMinute::watch_it_rise) {
      f.canvas.outline(glass.inset(-0.4F * em), f.palette.mark, 1.5F * em, std::max(2.5F, 0.22F * em));
    }
    const Box columns{glass.x + 0.6F * em, glass.y + 1.0F * em, glass.w - 1.2F * em, glass.h - foot - 1.2F * em};
    const float half = columns.w / 2;
    draw_column({columns.x, columns.y, half, columns.h}, Which::c3);
    draw_column({columns.x + half, columns.y, half, columns.h}, Which::c4);
    const float label_y = columns.bottom() + 0.4F * em;
    const float axis = axis_width();
    const float c3_x = columns.x + (half + axis) / 2;
    const float c4_x = columns.x + half + (half - axis) / 2;
    // In a vessel too narrow for both names each column keeps its colour and pattern, and its figure.
    const auto fits = [&](Type type) { return f.canvas.width("C3", type) + 0.3F * em < c4_x - c3_x; };
    if (fits(Type::small)) {
      const Type type = fits(Type::heading) ? Type::heading : Type::small;
      f.canvas.text({c3_x, label_y}, "C3", type, f.palette.c3, Align::centre);
      f.canvas.text({c4_x, label_y}, "C4", type, f.palette.c4, Align::centre);
    }
  }

 private:
  [[nodiscard]] float axis_width() const { return f.canvas.width("0.00", Type::small) + 0.35F * em; }

  void draw_column(const Box& half, Which which) {
    const bool is_c4 = which == Which::c4;
    const scenario::Interval& range = is_c4 ? run.story().laboratory.c4 : run.story().laboratory.c3;
    const double level = is_c4 ? run.c4(f.state.time.day) : run.c3(f.state.time.day);
    // The column is on its way; its figure is the day's.
    const double shown = f.motion.towards(is_c4 ? "vessel.c4" : "vessel.c3", level);
    const double usual = is_c4 ? run.usual_c4() : run.usual_c3();
    const double most = 1.12 * std::max({range.high, usual, level, shown});
    const float axis = axis_width();
    // Each protein's own axis stands on the outer side.
    const Box space{half.x + (is_c4 ? 0.1F * em : axis), half.y, half.w - axis - 0.1F * em, half.h};
    const auto y_of = [&](double v) { return space.bottom() - space.h * static_cast<float>(v / most); };
    const Box band{space.x, y_of(range.high), space.w, y_of(range.low) - y_of(range.high)};
    f.canvas.fill(band, f.palette.range, 0.2F * em);
    const float axis_x = is_c4 ? half.right() - axis + 0.1F * em : half.x + axis - 0.2F * em;
    for (const double limit : {range.low, range.high}) {
      // Low vessel or narrow range: the lower limit would lie on the upper one.
      if (limit < range.high && band.h < f.canvas.line_height(Type::small)) continue;
      f.canvas.text({axis_x, y_of(limit) - f.canvas.line_height(Type::small) / 2},
                    stage::level_text(limit, which, f.state.page.unit), Type::small, f.palette.range_ink,
                    is_c4 ? Align::left : Align::right);
    }
    const float width = std::min(space.w * 0.62F, 4.2F * em);
    const Box column{space.middle_x() - width / 2, y_of(shown), width, space.bottom() - y_of(shown)};
    const look::Colour& colour = is_c4 ? f.palette.c4 : f.palette.c3;
    f.canvas.fill(column, colour, 0.25F * em);
    if (is_c4) {
      draw::hatch(f.canvas, column, look::mix(colour, f.palette.card, 0.45F), 0.62F * em, std::max(1.0F, 0.1F * em));
    }
    const float usual_y = y_of(usual);
    f.canvas.line({{space.x, usual_y}, {space.right(), usual_y}}, f.palette.usual, std::max(1.5F, 0.12F * em),
                  0.35F * em);
    // Words in the band, where neither the column, its figure nor the usual line is.
    const float lh = f.canvas.line_height(Type::small);
    const float figure_h = f.canvas.line_height(Type::figure);
    const float figure_y = column.y - figure_h - 0.25F * em;
    const auto free_at = [&](float top) {
      const bool hits_figure = top < figure_y + figure_h && top + lh > figure_y;
      const bool hits_usual = top < usual_y + 0.2F * em && top + lh > usual_y - 0.2F * em;
      return !hits_figure && !hits_usual && top + lh < column.y;
    };
    const std::string& range_word = f.fitting("picture.range", Type::small, space.w);
    float range_top = -1e6F;
    for (const float top : {band.y + 0.25F * em, band.y + 1.5F * em}) {
      if (!free_at(top) || top + lh > band.bottom()) continue;
      range_top = top;
      f.canvas.fitted({space.x, top, space.w, lh}, range_word, Type::small, f.palette.range_ink, Align::centre);
      break;
    }
    const std::string& usual_word = f.words.at("picture.usual");
    for (const float top : {usual_y - lh - 0.1F * em, usual_y + 0.15F * em}) {
      const bool hits_figure = top < figure_y + figure_h && top + lh > figure_y;
      const bool hits_range = top < range_top + lh && top + lh > range_top;
      if (hits_figure || hits_range || top + lh >= column.y) continue;
      f.canvas.fitted({space.x, top, space.w, lh}, usual_word, Type::small, f.palette.usual, Align::centre);
      break;
    }
    const std::string text = stage::level_text_beside(level, range, which, f.state.page.unit);
    // Three decimals, where two would print the limit, are smaller: they must not reach the limits' figures.
    const Type type = f.canvas.width(text, Type::figure) > space.w ? Type::heading : Type::figure;
    const float fw = f.canvas.width(text, type) + 0.3F * em;
    f.canvas.fill({space.middle_x() - fw / 2, figure_y, fw, figure_h},
                  look::mix(f.palette.card, f.palette.range, level > range.low ? 0.9F : 0.0F), 0.2F * em);
    f.canvas.text({space.middle_x(), figure_y + (figure_h - f.canvas.line_height(type)) / 2}, text, type, colour,
                  Align::centre);
  }

  Frame& f;
  const Run& run;
  float em;
  Box glass;
};

}  // namespace

void draw_vessel(Frame& f, const Box& box) {
  Vessel(f, box).draw();
}

}  // namespace drawdown::panels
