// The course: C3 and C4 each on a chart of its own, with the laboratory's interval, this person's band, event marks,
// the playhead and kept runs; and one more track if wanted.
#include <algorithm>
#include <cmath>
#include <functional>

#include "panels/panels.hpp"
#include "stage/narrate.hpp"

namespace drawdown::panels {

using draw::Align;
using draw::Box;
using draw::Point;
using draw::Type;
using stage::Track;
using stage::Which;

namespace {

// Within-person and analytical variation, % (from memory; checks R1 and R3): the personal band is the usual level with
// 1.96 * sqrt(CVi^2 + CVa^2) either side.
constexpr double band_c3 = 1.96 * 6.003;
constexpr double band_c4 = 1.96 * 9.757;

struct Series {
  std::function<double(const Run&, double)> value;  // in the chart's unit
  std::function<std::string(double)> text;
  look::Colour colour;
  bool dashed = false;
  std::string title;
  std::string unit;
};

struct Chart {
  Series series;
  const scenario::Interval* range = nullptr;  // g/L
  double usual = 0.0;                         // in the chart's unit; 0 = none
  double band = 0.0;                          // % either side of the usual
  double to_unit = 1.0;                       // g/L to the chart's unit
};

// Days at which a curve is drawn: every second pixel column or so, and every step's end between, so that a pulse of
// hours shows. A draw list holds 64 k vertices, so a large window gets no more than 500 columns.
std::vector<double> sample_days(const Run& run, float width) {
  std::vector<double> days;
  const double last = run.last_day();
  const int columns = std::clamp(static_cast<int>(width / 1.5F), 2, 500);
  for (int i = 0; i <= columns; ++i) days.push_back(last * i / columns);
  for (std::size_t s = 0; s < run.course().step_count(); ++s) days.push_back(run.course().step_end(s) / 24.0);
  std::sort(days.begin(), days.end());
  return days;
}

// Months are counted in quarters, halves and whole years.
double month_step(double months, double pieces) {
  for (const double step : {1.0, 2.0, 3.0, 6.0, 12.0, 24.0}) {
    if (months / step <= pieces) return step;
  }
  return 36.0;
}

double nice_step(double span, double pieces) {
  const double raw = span / pieces;
  const double power = std::pow(10.0, std::floor(std::log10(raw)));
  for (const double m : {1.0, 2.0, 5.0, 10.0}) {
    if (raw <= m * power) return m * power;
  }
  return 10.0 * power;
}

class ChartPainter {
 public:
  ChartPainter(Frame& frame, const Chart& c, const Box& b)
      : f(frame), run(*frame.state.run), chart(c), box(b), em(frame.em()) {}

  void draw(bool event_labels) {
    days = run.story().days;
    const float label = f.canvas.width("0.00", Type::small) + 0.5F * em;
    const float title_h = 1.5F * em;
    plot = {box.x + label, box.y + title_h, box.w - label - 0.4F * em, box.h - title_h - 1.4F * em};
    scale_axis();
    draw_ground();
    draw_time_axis();
    draw_events();
    f.canvas.clip({plot.x, plot.y - 1, plot.w + 2, plot.h + 2});
    for (const stage::KeptRun& kept : f.state.kept) {
      curve(*kept.run, look::mix(chart.series.colour, f.palette.card, 0.35F), std::max(1.5F, 0.12F * em), 0.22F * em);
    }
    curve(run, chart.series.colour, std::max(2.0F, 0.19F * em), chart.series.dashed ? 0.55F * em : 0);
    f.canvas.unclip();
    label_kept();
    draw_playhead();
    if (event_labels) label_events();
    draw_pointer();
    draw_title();
  }

  // The day under the pointer while it is over the plot.
  [[nodiscard]] const Box& plot_box() const { return plot; }
  [[nodiscard]] double day_at(float x) const {
    return std::clamp(static_cast<double>((x - plot.x) / plot.w), 0.0, 1.0) * days;
  }

 private:
  [[nodiscard]] float x_of(double day) const { return plot.x + plot.w * static_cast<float>(day / days); }
  [[nodiscard]] float y_of(double v) const { return plot.bottom() - plot.h * static_cast<float>(v / most); }

  void scale_axis() {
    most = chart.usual;
    if (chart.range != nullptr) most = std::max(most, chart.range->high * chart.to_unit);
    for (const double day : sample_days(run, 120)) most = std::max(most, chart.series.value(run, day));
    for (const stage::KeptRun& kept : f.state.kept) {
      for (const double day : sample_days(*kept.run, 120)) most = std::max(most, chart.series.value(*kept.run, day));
    }
    most = most > 0 ? most * 1.08 : 1.0;
  }

  void draw_ground() {
    const float lh = f.canvas.line_height(Type::small);
    std::vector<double> ticks{0.0};
    if (chart.range != nullptr) {
      const double low = chart.range->low * chart.to_unit;
      const double high = chart.range->high * chart.to_unit;
      f.canvas.fill({plot.x, y_of(high), plot.w, y_of(low) - y_of(high)}, f.palette.range, 0);
      ticks.push_back(low);
      ticks.push_back(high);
      const std::string wide = f.words.fill("course.range", {chart.series.text(low), chart.series.text(high)});
      const bool fits = f.canvas.width(wide, Type::small) < plot.w * 0.62F;
      range_label = {plot.x, y_of(high) + 0.2F * em, plot.w, lh};
      f.canvas.fitted({plot.x + 0.4F * em, range_label.y, plot.w - 0.8F * em, lh},
                      fits ? wide : f.words.at("course.range_short"), Type::small, f.palette.range_ink, Align::right);
    } else {
      const double step = nice_step(most, 3);
      for (double v = step; v < most; v += step) ticks.push_back(v);
    }
    if (chart.usual > 0) {
      const double half = chart.usual * chart.band / 100.0;
      const Box band{plot.x, y_of(chart.usual + half), plot.w, y_of(chart.usual - half) - y_of(chart.usual + half)};
      f.canvas.fill(band, f.palette.usual.with_alpha(0.11F), 0);
      f.canvas.line({{plot.x, y_of(chart.usual)}, {plot.right(), y_of(chart.usual)}}, f.palette.usual,
                    std::max(1.0F, 0.08F * em), 0.35F * em);
      const std::string& wide = f.words.at("course.usual");
      const bool fits = f.canvas.width(wide, Type::small) < plot.w * 0.62F;
      // Above its line, or below where the range's words stand.
      float y = y_of(chart.usual) - lh - 0.1F * em;
      if (y < range_label.bottom() && y + lh > range_label.y) y = y_of(chart.usual) + 0.15F * em;
      if (y < range_label.bottom() && y + lh > range_label.y) y = range_label.bottom();
      if (y + lh > plot.bottom() || plot.h < 4.5F * lh) return draw_ticks(ticks);
      f.canvas.fitted({plot.x + 0.4F * em, y, plot.w - 0.8F * em, lh}, fits ? wide : f.words.at("course.usual_short"),
                      Type::small, f.palette.usual, Align::right);
    }
    draw_ticks(ticks);
  }

  void draw_ticks(std::vector<double>& ticks) {
    const float lh = f.canvas.line_height(Type::small);
    float last = 1e9F;
    std::sort(ticks.begin(), ticks.end());
    for (const double v : ticks) {
      const float y = y_of(v);
      f.canvas.line({{plot.x, y}, {plot.right(), y}}, f.palette.line, 1.0F);
      if (last - y < lh) continue;
      f.canvas.text({plot.x - 0.35F * em, y - lh / 2}, chart.series.text(v), Type::small, f.palette.quiet,
                    Align::right);
      last = y;
    }
  }

  void draw_time_axis() {
    const float y = plot.bottom() + 0.3F * em;
    const bool months = days > 100;
    const double unit = months ? 30.4375 : 1.0;
    const double room = std::max(2.0, static_cast<double>(plot.w / (6.5F * em)));
    const double step = months ? month_step(days / unit, room) : std::max(1.0, std::ceil(nice_step(days / unit, room)));
    for (double v = 0; v * unit <= days * 1.001; v += step) {
      const float x = x_of(v * unit);
      const std::string text = f.words.fill(months ? "course.months" : "course.days", {look::number(v, 0)});
      const float w = f.canvas.width(text, Type::small);
      const float left = std::clamp(x - w / 2, box.x, box.right() - w);
      f.canvas.line({{x, plot.bottom()}, {x, plot.bottom() + 0.25F * em}}, f.palette.line, 1.0F);
      f.canvas.text({left, y}, text, Type::small, f.palette.quiet);
    }
  }

  void draw_events() {
    for (const scenario::Event& event : run.story().events) {
      if (event.label.empty()) continue;
      const float x = x_of(event.day);
      f.canvas.line({{x, plot.y}, {x, plot.bottom()}}, f.palette.quiet, 1.0F, 0.25F * em);
    }
  }

  // On a plate, so that the playhead never runs through the words.
  void label_events() {
    float taken = -1e9F;
    const float lh = f.canvas.line_height(Type::small);
    for (const scenario::Event& event : run.story().events) {
      if (event.label.empty()) continue;
      const float x = x_of(event.day);
      const float w = f.canvas.width(event.label, Type::small);
      float left = x + 0.3F * em;
      if (left + w > plot.right()) left = x - 0.3F * em - w;
      if (left < taken) continue;
      const float y = plot.bottom() - lh - 0.2F * em;
      f.canvas.fill({left - 0.15F * em, y, w + 0.3F * em, lh}, f.palette.card.with_alpha(0.88F), 0.2F * em);
      f.canvas.text({left, y}, event.label, Type::small, f.palette.quiet);
      taken = left + w + 0.4F * em;
    }
  }

  void curve(const Run& of, const look::Colour& colour, float width, float dash) {
    std::vector<Point> points;
    for (const double day : sample_days(of, plot.w)) {
      points.push_back({x_of(day), y_of(chart.series.value(of, day))});
    }
    f.canvas.line(points, colour, width, dash);
  }

  void label_kept() {
    float taken = 1e9F;
    for (const stage::KeptRun& kept : f.state.kept) {
      // Where the kept course is furthest from the present one, its letter.
      double best = 0.0;
      double worst_day = 0.0;
      for (double day = 0; day <= kept.run->last_day(); day += days / 60) {
        const double d = std::abs(chart.series.value(*kept.run, day) - chart.series.value(run, day));
        if (d > best) {
          best = d;
          worst_day = day;
        }
      }
      if (best < most * 0.01) continue;
      const Point at{x_of(worst_day), y_of(chart.series.value(*kept.run, worst_day))};
      if (std::abs(at.x - taken) < em) continue;
      taken = at.x;
      f.canvas.dot(at, 0.62F * em, f.palette.card);
      f.canvas.ring(at, 0.62F * em, chart.series.colour, 1.5F);
      f.canvas.text({at.x, at.y - f.canvas.line_height(Type::small) / 2}, kept.name, Type::small, chart.series.colour,
                    Align::centre);
    }
  }

  void draw_playhead() {
    const double day = std::min(f.state.day, run.last_day());
    const float x = x_of(day);
    f.canvas.line({{x, plot.y}, {x, plot.bottom()}}, f.palette.ink, std::max(1.5F, 0.1F * em));
    const Point at{x, y_of(chart.series.value(run, day))};
    f.canvas.dot(at, 0.42F * em, f.palette.card);
    f.canvas.dot(at, 0.32F * em, chart.series.colour);
  }

  // The value under the pointer.
  void draw_pointer() {
    const Point mouse = f.interaction.input().mouse;
    if (!f.interaction.enabled() || !plot.holds(mouse)) return;
    const double under = day_at(mouse.x);
    if (under > run.last_day()) return;
    const double v = chart.series.value(run, under);
    f.canvas.line({{mouse.x, plot.y}, {mouse.x, plot.bottom()}}, f.palette.quiet, 1.0F, 0.2F * em);
    const std::string text =
        f.words.fill("course.days", {look::number(under, 0)}) + ": " + chart.series.text(v) + " " + chart.series.unit;
    const float w = f.canvas.width(text, Type::small) + 0.8F * em;
    const float left = std::clamp(mouse.x + 0.5F * em, plot.x, plot.right() - w);
    const float top = std::clamp(y_of(v) - 1.9F * em, plot.y, plot.bottom() - 1.6F * em);
    f.canvas.fill({left, top, w, 1.5F * em}, f.palette.select, 0.3F * em);
    f.canvas.text({left + 0.4F * em, top + 0.3F * em}, text, Type::small, f.palette.select_ink);
  }

  void draw_title() {
    const double day = std::min(f.state.day, run.last_day());
    const Box name = f.canvas.text({box.x, box.y}, chart.series.title, Type::heading, chart.series.colour);
    const std::string now = chart.series.text(chart.series.value(run, day)) + " " + chart.series.unit;
    const float w = f.canvas.width(now, Type::strong);
    if (name.right() + em + w < box.right()) {
      f.canvas.text({name.right() + 0.7F * em, box.y + 0.15F * em}, now, Type::strong, f.palette.ink);
    }
  }

  Frame& f;
  const Run& run;
  const Chart& chart;
  Box box;
  float em;
  Box plot;
  Box range_label{0, -1e6F, 0, 0};
  double days = 1.0;
  double most = 1.0;
};

Chart protein_chart(const Frame& f, Which which) {
  const Run& run = *f.state.run;
  const scenario::Unit unit = f.state.unit;
  const double to = unit == scenario::Unit::g_per_l ? 1.0 : readout::mg_per_dl;
  Chart c;
  c.series.value = [which, to](const Run& r, double day) { return to * (which == Which::c3 ? r.c3(day) : r.c4(day)); };
  c.series.text = [which, unit, to](double v) { return stage::level_text(v / to, which, unit); };
  c.series.colour = which == Which::c3 ? f.palette.c3 : f.palette.c4;
  c.series.dashed = which == Which::c4;
  c.series.title = which == Which::c3 ? "C3" : "C4";
  c.series.unit = stage::unit_text(unit);
  c.range = which == Which::c3 ? &run.story().laboratory.c3 : &run.story().laboratory.c4;
  c.usual = to * (which == Which::c3 ? run.usual_c3() : run.usual_c4());
  c.band = which == Which::c3 ? band_c3 : band_c4;
  c.to_unit = to;
  return c;
}

const char* track_key(Track track) {
  static constexpr const char* keys[stage::track_count] = {"track.none",          "track.ch50",          "track.c1q",
                                                           "track.c4d",           "track.antibody",      "track.crp",
                                                           "track.urine_protein", "track.hepatic_output"};
  return keys[static_cast<std::size_t>(track)];
}

double track_value(Track track, const Run& run, double day) {
  if (track == Track::hepatic_output) return run.lever(body::lever_at("hepatic_output"), day);
  const readout::Serum s = run.measured(day);
  switch (track) {
    case Track::ch50:
      return s.ch50;
    case Track::c1q:
      return s.c1q;
    case Track::c4d:
      return s.c4d;
    case Track::antibody:
      return s.antibody;
    case Track::crp:
      return s.crp;
    case Track::urine_protein:
      return s.urine_protein;
    default:
      return 0.0;
  }
}

Chart track_chart(const Frame& f) {
  const Track track = f.state.track;
  Chart c;
  c.series.value = [track](const Run& r, double day) { return track_value(track, r, day); };
  const bool whole = track == Track::ch50 || track == Track::c1q || track == Track::crp;
  c.series.text = [whole](double v) { return look::number(v, whole ? 0 : 1); };
  c.series.colour = f.palette.complexes;
  c.series.title = f.words.at(track_key(track));
  return c;
}

}  // namespace

void draw_course(Frame& f, const Box& box) {
  card(f, box);
  const float em = f.em();
  const Box inner = box.inset(1.0F * em, 0.7F * em);
  std::vector<Chart> charts{protein_chart(f, Which::c3), protein_chart(f, Which::c4)};
  if (f.state.track != Track::none) charts.push_back(track_chart(f));

  // Unit and further track, at the top right.
  const std::string unit = f.words.fill("course.unit", {stage::unit_text(f.state.unit)});
  const std::string track = f.words.at("course.track") + ": " + f.words.at(track_key(f.state.track));
  const float row = 1.7F * em;
  float x = inner.right();
  const float track_w = std::min(button_width(f, track, Type::small), inner.w * 0.55F);
  const float unit_w = button_width(f, unit, Type::small);
  ButtonStyle style;
  style.type = Type::small;
  x -= track_w;
  const Box track_box{x, inner.y - 0.25F * em, track_w, row};
  x -= unit_w + 0.4F * em;
  if (button(f, "course.unit", {x, track_box.y, unit_w, row}, unit, style)) f.act(stage::ToggleUnit{});
  if (button(f, "course.track", track_box, track, style)) f.act(stage::NextTrack{});

  const float top = inner.y + row * 0.95F;
  const Box area{inner.x, top, inner.w, inner.bottom() - top};
  const auto n = static_cast<float>(charts.size());
  const bool across = area.w / n > 16 * em || area.h < 18 * em;
  const float gap = 1.4F * em;
  for (std::size_t i = 0; i < charts.size(); ++i) {
    const auto k = static_cast<float>(i);
    const Box b = across ? Box{area.x + k * (area.w + gap) / n, area.y, (area.w - gap * (n - 1)) / n, area.h}
                         : Box{area.x, area.y + k * (area.h + gap) / n, area.w, (area.h - gap * (n - 1)) / n};
    ChartPainter painter(f, charts[i], b);
    painter.draw(i == 0 || across);
    // Press or drag on the plot to go to a day.
    const auto r = f.interaction.control("course.plot" + std::to_string(i), painter.plot_box());
    if (r.held) f.act(stage::GoToDay{painter.day_at(f.interaction.input().mouse.x)});
    if (r.focused) {
      if (f.interaction.take(Key::left)) f.act(stage::StepDays{-1});
      if (f.interaction.take(Key::right)) f.act(stage::StepDays{1});
    }
    if (r.show_focus) focus_ring(f, painter.plot_box(), 0.2F * em);
  }
}

}  // namespace drawdown::panels
