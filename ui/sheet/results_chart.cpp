// Scales, bands, points.
#include "sheet/results_chart.hpp"

#include <algorithm>
#include <cmath>

#include "stage/narrate.hpp"
#include "stage/own_words.hpp"

namespace drawdown::sheet {

namespace {

using draw::Align;
using draw::Box;
using draw::Point;
using draw::Type;

// Drawn: more lie on each other anyway, and two charts of points with bars share a draw list of 64 k vertices.
constexpr std::size_t most_points = 150;
constexpr std::size_t most_dashed = 60;  // joined by a dashed line; more by a solid one, for the same reason

// The days a chart spans, with some air.
struct Days {
  double first, last;
};
Days days_of(const ResultsChart& chart) {
  Days d{static_cast<double>(chart.rows->front().day), static_cast<double>(chart.rows->back().day)};
  if (chart.outlook != nullptr && !chart.outlook->c3.days.empty())
    d.last = std::max(d.last, chart.outlook->c3.days.back());
  const double air = std::max(7.0, 0.04 * (d.last - d.first));
  return {d.first - air, d.last + air};
}

class Painter {
 public:
  Painter(draw::Canvas& canvas, const look::Palette& palette, const look::WordBook& words, const ResultsChart& shown,
          const Box& place)
      : c(canvas), p(palette), w(words), chart(shown), box(place), em(canvas.em()) {
    is_c3 = chart.protein == labs::Protein::c3;
    ink = is_c3 ? p.c3 : p.c4;
  }

  void draw() {
    const float label = c.width("0.00", Type::small) + 0.5F * em;
    plot = {box.x + label, box.y + 1.7F * em, box.w - label - 0.6F * em, box.h - 3.2F * em};
    scale();
    c.text({box.x, box.y}, std::string(stage::protein_name(chart.protein)), Type::heading, ink);
    c.text({box.x + 2.3F * em, box.y + 0.2F * em}, stage::unit_text(chart.unit), Type::small, p.quiet);
    draw_legend();
    c.clip({plot.x - 1, plot.y - 1, plot.w + 2, plot.h + 2});
    draw_range();
    draw_usual();
    draw_model();
    draw_points();
    c.unclip();
    draw_axes();
  }

 private:
  [[nodiscard]] stage::Which which() const { return is_c3 ? stage::Which::c3 : stage::Which::c4; }
  [[nodiscard]] float x_of(double day) const {
    return plot.x + plot.w * static_cast<float>((day - first) / (last - first));
  }
  [[nodiscard]] float y_of(double level) const { return plot.bottom() - plot.h * static_cast<float>(level / most); }
  [[nodiscard]] const labs::Band* course() const {
    if (chart.fit == nullptr) return nullptr;
    return is_c3 ? &chart.fit->c3 : &chart.fit->c4;
  }
  [[nodiscard]] const labs::Band* fan() const {
    if (chart.outlook == nullptr) return nullptr;
    return is_c3 ? &chart.outlook->c3 : &chart.outlook->c4;
  }

  void scale() {
    const Days days = days_of(chart);
    first = days.first;
    last = days.last;
    most = std::max(chart.range ? chart.range->high : 0.0, chart.judged->highest);
    for (const auto& own : chart.judged->ranges.own) most = std::max(most, own.first.high);
    if (chart.judged->level.usual) most = std::max(most, chart.judged->level.usual->high);
    for (const labs::Band* band : {course(), fan()}) {
      if (band == nullptr || band->days.empty()) continue;
      most = std::max(most, *std::max_element(band->high.begin(), band->high.end()));
    }
    most *= 1.08;
  }

  // Evenly thinned where there are very many.
  [[nodiscard]] std::vector<const labs::Row*> rows_drawn() const {
    std::vector<const labs::Row*> drawn;
    const std::size_t step = 1 + chart.rows->size() / most_points;
    for (std::size_t i = 0; i < chart.rows->size(); i += step) drawn.push_back(&(*chart.rows)[i]);
    return drawn;
  }

  // Where the band is low its name would lie on the points: then it stands in the legend.
  [[nodiscard]] bool band_has_room() const {
    return y_of(chart.range->low) - y_of(chart.range->high) > 3.0F * c.line_height(Type::small);
  }

  void draw_range() {
    // Where a row names its own laboratory's interval, that one holds around it.
    if (chart.range) {
      const Box band{plot.x, y_of(chart.range->high), plot.w, y_of(chart.range->low) - y_of(chart.range->high)};
      c.fill(band, p.range, 0);
      if (band_has_room()) {
        c.fitted({plot.x + 0.4F * em, band.y + 0.2F * em, plot.w - 0.8F * em, em}, w.at("own.range"), Type::small,
                 p.range_ink, Align::right);
      }
    }
    for (const labs::Row* shown : rows_drawn()) {
      const labs::Row& row = *shown;
      const auto& own = is_c3 ? row.c3_range : row.c4_range;
      if (!own) continue;
      const float x = x_of(row.day);
      for (const double limit : {own->low, own->high}) {
        c.line({{x - 0.5F * em, y_of(limit)}, {x + 0.5F * em, y_of(limit)}}, p.range_ink, 1.5F);
      }
    }
  }

  // In the head, so that no word lies on a point.
  void draw_legend() {
    float x = box.right();
    const float y = box.y + 0.2F * em;
    const auto entry = [&](const std::string& text, const look::Colour& colour, float dash) {
      const float width = c.width(text, Type::small);
      if (x - width - 2.4F * em < box.x + 4.5F * em) return;
      c.text({x, y}, text, Type::small, p.quiet, Align::right);
      const float middle = y + c.line_height(Type::small) / 2;
      c.line({{x - width - 1.9F * em, middle}, {x - width - 0.4F * em, middle}}, colour, std::max(1.2F, 0.12F * em),
             dash);
      x -= width + 2.8F * em;
    };
    if (chart.judged->level.usual) entry(w.at("own.usual"), p.usual, 0.35F * em);
    if (course() != nullptr) entry(w.at("own.model"), p.complexes, 0);
    if (chart.range && !band_has_room()) entry(w.at("own.range"), p.range_ink, 0);
    const std::string& flare = w.at("labs.flare");
    const float width = c.width(flare, Type::small);
    if (!chart.judged->flares || x - width - 1.5F * em < box.x + 4.5F * em) return;
    c.text({x, y}, flare, Type::small, p.quiet, Align::right);
    draw_flare({x - width - 0.8F * em, y + c.line_height(Type::small) * 0.85F});
  }

  void draw_usual() {
    if (!chart.judged->level.usual) return;
    const labs::OwnUsual& usual = *chart.judged->level.usual;
    c.fill({plot.x, y_of(usual.high), plot.w, y_of(usual.low) - y_of(usual.high)}, p.usual.with_alpha(0.14F), 0);
    const float y = y_of(usual.level);
    c.line({{plot.x, y}, {plot.right(), y}}, p.usual, std::max(1.0F, 0.1F * em), 0.35F * em);
  }

  void draw_band(const labs::Band& band, const look::Colour& colour, float dash) {
    if (band.days.size() < 2) return;
    std::vector<Point> low;
    std::vector<Point> middle;
    std::vector<Point> high;
    for (std::size_t i = 0; i < band.days.size(); ++i) {
      const float x = x_of(band.days[i]);
      low.push_back({x, y_of(band.low[i])});
      middle.push_back({x, y_of(band.middle[i])});
      high.push_back({x, y_of(band.high[i])});
    }
    c.strip(high, low, colour.with_alpha(0.22F));
    c.line(middle, colour, std::max(1.2F, 0.12F * em), dash);
  }

  void draw_model() {
    if (course() != nullptr) draw_band(*course(), p.complexes, 0);
    if (fan() != nullptr) draw_band(*fan(), p.complexes, 0.5F * em);
  }

  void draw_points() {
    const double z = 1.96 * std::hypot(chart.cv.analytical, chart.cv.within) / 100.0;
    const float r = 0.36F * em;
    const std::vector<const labs::Row*> drawn = rows_drawn();
    std::vector<Point> joined;
    for (const labs::Row* row : drawn) {
      if (const auto& v = labs::value_of(*row, chart.protein)) joined.push_back({x_of(row->day), y_of(v->value)});
    }
    c.line(joined, ink.with_alpha(0.45F), 1.0F, joined.size() <= most_dashed ? 0.25F * em : 0.0F);
    for (const labs::Row* shown : drawn) {
      const labs::Row& row = *shown;
      const auto& v = labs::value_of(row, chart.protein);
      if (!v) continue;
      const Point at{x_of(row.day), y_of(v->value)};
      if (row.flare == true) {
        draw_flare({at.x, plot.bottom() - 0.2F * em});
      }
      if (v->below) {  // somewhere below: an arrow down
        c.line({{at.x - r, at.y}, {at.x + r, at.y}}, ink, 1.5F);
        c.shape({at.x, at.y + r}, {{at.x - r, at.y + 0.2F * r}, {at.x + r, at.y + 0.2F * r}, {at.x, at.y + 1.9F * r}},
                ink);
        continue;
      }
      const float top = y_of(v->value * std::exp(z));
      const float low = y_of(v->value * std::exp(-z));
      c.line({{at.x, top}, {at.x, low}}, ink, 1.2F);
      for (const float y : {top, low}) c.line({{at.x - 0.5F * r, y}, {at.x + 0.5F * r, y}}, ink, 1.2F);
      if (is_c3) {
        c.dot(at, r, ink);
      } else {  // C4 is told apart without colour: an open square
        c.fill({at.x - r, at.y - r, 2 * r, 2 * r}, p.card, 0);
        c.outline({at.x - r, at.y - r, 2 * r, 2 * r}, ink, 0, std::max(1.2F, 0.14F * em));
      }
    }
  }

  // A triangle on a foot: told by shape.
  void draw_flare(Point foot) {
    c.shape({foot.x, foot.y - 0.3F * em},
            {{foot.x, foot.y - 0.8F * em}, {foot.x + 0.45F * em, foot.y}, {foot.x - 0.45F * em, foot.y}}, p.mark);
  }

  void draw_axes() {
    c.line({{plot.x, plot.bottom()}, {plot.right(), plot.bottom()}}, p.line, 1.0F);
    float above = plot.bottom() + 2 * c.line_height(Type::small);
    std::vector<double> marked{0.0, most / 1.08};
    if (chart.range) marked = {0.0, chart.range->low, chart.range->high};
    for (const double v : marked) {
      // Low charts have no room for all three.
      if (above - y_of(v) < c.line_height(Type::small) || y_of(v) - c.line_height(Type::small) / 2 < box.y + 1.4F * em)
        continue;
      above = y_of(v);
      const std::string level = v > 0.0 ? stage::value_text(labs::Value{v, false}, chart.protein, chart.unit)
                                        : stage::level_text(v, which(), chart.unit);
      c.text({plot.x - 0.4F * em, y_of(v) - c.line_height(Type::small) / 2}, level, Type::small, p.quiet, Align::right);
    }
    const float y = plot.bottom() + 0.3F * em;
    const std::string from = labs::iso_date(chart.rows->front().day);
    const std::string to = labs::iso_date(chart.rows->back().day);
    const float w_date = c.width(from, Type::small);
    const float x_from = std::clamp(x_of(chart.rows->front().day), plot.x + w_date / 2, plot.right());
    const float x_to = std::clamp(x_of(chart.rows->back().day), plot.x, plot.right() - w_date / 2);
    c.text({x_from, y}, from, Type::small, p.quiet, Align::centre);
    if (x_to - x_from > w_date + em) c.text({x_to, y}, to, Type::small, p.quiet, Align::centre);
    if (fan() != nullptr && plot.right() - x_to > 0.5F * w_date + 6 * em) {
      c.fitted({x_to + 0.6F * w_date, y, plot.right() - x_to - 0.6F * w_date, em}, w.at("own.ahead_days"), Type::small,
               p.quiet, Align::right);
    }
  }

  draw::Canvas& c;
  const look::Palette& p;
  const look::WordBook& w;
  const ResultsChart& chart;
  Box box;
  float em;
  Box plot;
  bool is_c3 = true;
  look::Colour ink;
  double first = 0.0, last = 1.0, most = 1.0;
};

}  // namespace

void draw_results_chart(draw::Canvas& canvas, const look::Palette& palette, const look::WordBook& words,
                        const ResultsChart& chart, const Box& box) {
  if (box.h < 5.0F * canvas.em()) return;  // its axes would lie on each other
  if (chart.rows == nullptr || chart.rows->empty() || chart.judged == nullptr) return;
  Painter(canvas, palette, words, chart, box).draw();
}

void draw_load_chart(draw::Canvas& canvas, const look::Palette& palette, const look::WordBook& words,
                     const ResultsChart& chart, const Box& box) {
  if (chart.fit == nullptr || chart.fit->load_course.days.size() < 2) return;
  const labs::Band& band = chart.fit->load_course;
  const Days days = days_of(chart);
  const float em = canvas.em();
  const float label = canvas.width("0.00", Type::small) + 0.5F * em;
  const Box plot{box.x + label, box.y + 1.7F * em, box.w - label - 0.6F * em, box.h - 2.6F * em};
  canvas.fitted({box.x, box.y, box.w, em}, words.at("own.load"), Type::strong, palette.complexes);
  constexpr double most = 10.0;  // the drive's own range
  std::vector<Point> low;
  std::vector<Point> middle;
  std::vector<Point> high;
  for (std::size_t i = 0; i < band.days.size(); ++i) {
    const float x = plot.x + plot.w * static_cast<float>((band.days[i] - days.first) / (days.last - days.first));
    const auto y = [&](double v) { return plot.bottom() - plot.h * static_cast<float>(std::min(v, most) / most); };
    low.push_back({x, y(band.low[i])});
    middle.push_back({x, y(band.middle[i])});
    high.push_back({x, y(band.high[i])});
  }
  canvas.strip(high, low, palette.complexes.with_alpha(0.22F));
  canvas.line(middle, palette.complexes, std::max(1.2F, 0.12F * em), 0);
  canvas.line({{plot.x, plot.bottom()}, {plot.right(), plot.bottom()}}, palette.line, 1.0F);
  for (const double v : {0.0, most}) {
    const float y = plot.bottom() - plot.h * static_cast<float>(v / most);
    canvas.text({plot.x - 0.4F * em, y - canvas.line_height(Type::small) / 2}, look::number(v, 0), Type::small,
                palette.quiet, Align::right);
  }
}

}  // namespace drawdown::sheet
