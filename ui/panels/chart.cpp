// Scales, ticks, curves and labels of one chart.
#include "panels/chart.hpp"

#include <algorithm>
#include <cmath>

#include "stage/narrate.hpp"

namespace drawdown::panels {

using draw::Align;
using draw::Box;
using draw::Point;
using draw::Type;

namespace {

// Every second pixel column or so. A draw list holds 64 k vertices, so there are never more than `most` days: a story
// of very many steps shows every second or third of them.
std::vector<double> sample_days(const Run& run, float width, std::size_t most) {
  const int columns = std::clamp(static_cast<int>(width / 1.5F), 2, std::min(500, static_cast<int>(most / 2)));
  return stage::days_to_draw(run, static_cast<std::size_t>(columns), most);
}
// Of all the curves of one chart together.
constexpr std::size_t most_points = 2400;
// Of labels of events so many are tried for a place; long before, they are too close to be told apart.
constexpr std::size_t most_labels = 60;
constexpr float shortest_label = 6;  // em: less is not worth reading
// Marks of events stand at least so far apart, pixels, and there are at most so many; more than most_dashed are solid.
constexpr float between_marks = 3.0F;
constexpr float most_marks = 240;
constexpr std::ptrdiff_t most_dashed = 40;

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
      : f(frame), run(*frame.state.runs.now), chart(c), box(b), em(frame.em()) {}

  void draw(bool event_labels) {
    days = run.story().days;
    const float label = f.canvas.width("0.00", Type::small) + 0.5F * em;
    const float title_h = 1.5F * em;
    plot = {box.x + label, box.y + title_h, box.w - label - 0.4F * em, box.h - title_h - 1.4F * em};
    axis_y = plot.bottom();
    place_bands();
    scale_axis();
    draw_ground();
    draw_time_axis();
    for (std::size_t i = 0; i < bands.size(); ++i) draw_flow_band(f, chart.bands[i], bands[i], chart.series.colour);
    draw_events();
    f.canvas.clip({plot.x, plot.y - 1, plot.w + 2, plot.h + 2});
    for (std::size_t i = 1; i < sampled.size(); ++i) {
      curve(sampled[i], look::mix(chart.series.colour, f.palette.card, 0.35F), std::max(1.5F, 0.12F * em), 0.22F * em);
    }
    curve(sampled.front(), chart.series.colour, std::max(2.0F, 0.19F * em), chart.series.dashed ? 0.55F * em : 0);
    f.canvas.unclip();
    label_bands();
    label_kept();
    draw_placed();
    draw_playhead();
    if (event_labels) label_events();
    draw_pointer();
    draw_title();
  }

  // With the bands under it: a press on them moves the playhead too.
  [[nodiscard]] ChartPlace place() const { return {{plot.x, plot.y, plot.w, axis_y - plot.y}, days}; }

 private:
  [[nodiscard]] float x_of(double day) const { return plot.x + plot.w * static_cast<float>(day / days); }
  [[nodiscard]] float y_of(double v) const { return plot.bottom() - plot.h * static_cast<float>(v / most); }

  void scale_axis() {
    most = chart.usual * (1.0 + chart.band / 100.0);
    if (chart.range != nullptr) most = std::max(most, chart.range->high * chart.to_unit);
    sample(run);
    for (const stage::KeptRun& kept : f.state.runs.kept) sample(*kept.run);
    most = most > 0 ? most * 1.08 : 1.0;
  }

  // A curve's days and values, kept for drawing it.
  void sample(const Run& of) {
    std::vector<std::pair<double, double>> samples;
    for (const double day : sample_days(of, plot.w, most_points / (1 + f.state.runs.kept.size()))) {
      samples.emplace_back(day, chart.series.value(of, day));
      most = std::max(most, samples.back().second);
    }
    sampled.push_back(std::move(samples));
  }

  void draw_ground() {
    std::vector<double> ticks{0.0};
    if (chart.range != nullptr) {
      const double low = chart.range->low * chart.to_unit;
      const double high = chart.range->high * chart.to_unit;
      f.canvas.fill({plot.x, y_of(high), plot.w, y_of(low) - y_of(high)}, f.palette.range, 0);
      ticks.push_back(low);
      ticks.push_back(high);
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

  // As many bands as leave the curve three fifths of the room and are two lines high.
  void place_bands() {
    const float gap = 0.5F * em;
    for (const FlowBand& band : chart.bands) {
      const float h = std::min((band.filled ? 0.3F : 0.2F) * plot.h, 7 * em);
      if (h < 2.1F * em || plot.h - h < 0.5F * (axis_y - plot.y)) break;
      bands.push_back({plot.x, 0, plot.w, h});
      plot.h -= h + gap;
    }
    float y = plot.bottom() + gap;
    for (Box& b : bands) {
      b.y = y;
      y += b.h + gap;
    }
  }

  void draw_time_axis() {
    const float y = axis_y + 0.3F * em;
    const bool months = days > 100;
    const double unit = months ? 365.0 / 12.0 : 1.0;  // a year is 365 days, here as everywhere
    const double room = std::max(2.0, static_cast<double>(plot.w / (6.5F * em)));
    const double step = months ? month_step(days / unit, room) : std::max(1.0, std::ceil(nice_step(days / unit, room)));
    for (double v = 0; v * unit <= days * 1.001; v += step) {
      const float x = x_of(v * unit);
      const std::string text = f.words.fill(months ? "course.months" : "course.days", {look::number(v, 0)});
      const float w = f.canvas.width(text, Type::small);
      const float left = std::clamp(x - w / 2, plot.x, box.right() - w);  // the axis of levels keeps its own ground
      f.canvas.line({{x, axis_y}, {x, axis_y + 0.25F * em}}, f.palette.line, 1.0F);
      f.canvas.text({left, y}, text, Type::small, f.palette.quiet);
    }
  }

  void draw_events() {
    const auto& events = run.story().events;
    const auto marked = std::count_if(events.begin(), events.end(), [](const auto& e) { return !e.label.empty(); });
    const float apart = std::max(between_marks, plot.w / most_marks);
    float last = -1e9F;
    for (const scenario::Event& event : events) {
      const float x = x_of(event.day);
      if (event.label.empty() || x - last < apart) continue;
      last = x;
      f.canvas.line({{x, plot.y}, {x, plot.bottom()}}, f.palette.quiet, 1.0F, marked > most_dashed ? 0 : 0.25F * em);
    }
  }

  // Where something was placed by hand (it has hours but no words): a short stroke at the foot.
  void draw_placed() {
    for (const scenario::Event& event : run.story().events) {
      if (!event.label.empty() || event.for_hours <= 0.0) continue;
      const float x = x_of(event.day);
      f.canvas.fill({x - 0.12F * em, plot.bottom() - 0.9F * em, 0.24F * em, 0.9F * em}, f.palette.mark, 0);
    }
  }

  [[nodiscard]] const std::string& label_of(const scenario::Event& event) const {
    const auto index = static_cast<std::size_t>(&event - run.story().events.data());
    return f.told("event" + std::to_string(index + 1), event.label);
  }

  // On a plate, so that the playhead never runs through the words.
  void label_events() {
    std::size_t tried = 0;
    float used = -1e9F;
    const float lh = f.canvas.line_height(Type::small);
    for (const scenario::Event& event : run.story().events) {
      if (event.label.empty()) continue;
      const float x = x_of(event.day);
      float left = x + 0.3F * em;
      if (left < used) continue;
      if (++tried > most_labels) break;
      float w = std::min(0.6F * plot.w, f.canvas.beginning(label_of(event), Type::small, plot.w).width + 1.0F);
      if (const float room = plot.right() - left; w > room) {
        // To the left of its mark; or cut, where some of it still has room.
        const float other = x - 0.3F * em - w;
        if (other >= std::max(used, plot.x)) {
          left = other;
        } else if (room > shortest_label * em) {
          w = room;
        } else {
          continue;
        }
      }
      const float y = plot.bottom() - lh - 0.2F * em;
      f.canvas.fill({left - 0.15F * em, y, w + 0.3F * em, lh}, f.palette.card, 0.2F * em);
      f.canvas.fitted({left, y, w, lh}, label_of(event), Type::small, f.palette.quiet);
      used = left + w + 0.4F * em;
    }
  }

  void curve(const std::vector<std::pair<double, double>>& of, const look::Colour& colour, float width, float dash) {
    std::vector<Point> points;
    for (const auto& [day, value] : of) {
      const Point p{x_of(day), y_of(value)};
      if (points.empty() || p.x - points.back().x > 0.3F || std::abs(p.y - points.back().y) > 0.3F) points.push_back(p);
    }
    taken.insert(taken.end(), points.begin(), points.end());
    f.canvas.line(points, colour, width, dash);
  }

  // How much of a label at this place would lie on curves, on the usual line or on the other label.
  [[nodiscard]] int crowding(const Box& b, const Box& other) const {
    int hits = 0;
    for (const Point& p : taken) hits += b.inset(-0.15F * em).holds(p) ? 1 : 0;
    if (chart.usual > 0 && y_of(chart.usual) > b.y && y_of(chart.usual) < b.bottom()) hits += 100;
    const auto crossed = [&](double day) { return x_of(day) > b.x && x_of(day) < b.right(); };
    if (crossed(f.state.time.day)) hits += 8;
    for (const scenario::Event& event : run.story().events) {
      if (event.label.empty()) continue;
      hits += crossed(event.day) ? 4 : 0;
      if (b.bottom() > plot.bottom() - b.h - 0.2F * em) hits += 1000;  // there stand the events' words
    }
    const bool overlaps = b.x < other.right() && other.x < b.right() && b.y < other.bottom() && other.y < b.bottom();
    return overlaps ? hits + 1000 : hits;
  }

  // The words of the range and of the usual level, each at the emptiest of a few places.
  Box place_label(const std::string& words, const std::vector<float>& tops, const look::Colour& ink, const Box& other) {
    const float lh = f.canvas.line_height(Type::small);
    const float w = f.canvas.width(words, Type::small);
    Box best;
    int least = 900;
    for (const float top : tops) {
      for (const float left : {plot.right() - w - 0.4F * em, plot.x + 0.5F * (plot.w - w), plot.x + 0.4F * em}) {
        const Box b{left, top, w, lh};
        if (b.y < plot.y || b.bottom() > plot.bottom() || b.x < plot.x) continue;
        if (const int hits = crowding(b, other); hits < least) {
          least = hits;
          best = b;
        }
      }
    }
    if (best.w > 0) f.canvas.text({best.x, best.y}, words, Type::small, ink);
    return best;
  }

  void label_bands() {
    const float lh = f.canvas.line_height(Type::small);
    const auto fitting = [&](const std::string& wide, const char* brief) {
      return f.canvas.width(wide, Type::small) < plot.w * 0.62F ? wide : f.words.at(brief);
    };
    Box range_box;
    if (chart.range != nullptr) {
      const double low = chart.range->low * chart.to_unit;
      const double high = chart.range->high * chart.to_unit;
      const std::string words = f.words.fill("course.range", {chart.series.text(low), chart.series.text(high)});
      range_box = place_label(fitting(words, "course.range_short"),
                              {y_of(high) + 0.2F * em, y_of(low) - lh - 0.1F * em}, f.palette.range_ink, {});
    }
    if (chart.usual > 0) {
      const float y = y_of(chart.usual);
      place_label(fitting(f.words.at("course.usual"), "course.usual_short"), {y - lh - 0.12F * em, y + 0.15F * em},
                  f.palette.usual, range_box);
    }
  }

  void label_kept() {
    float last_x = 1e9F;
    const auto on_a_text = [&](const Point& p) {
      const Box badge{p.x - 0.7F * em, p.y - 0.7F * em, 1.4F * em, 1.4F * em};
      return std::any_of(f.canvas.texts().begin(), f.canvas.texts().end(), [&](const draw::TextRecord& t) {
        return t.box.x < badge.right() && t.box.right() > badge.x && t.box.y < badge.bottom() &&
               t.box.bottom() > badge.y;
      });
    };
    for (const stage::KeptRun& kept : f.state.runs.kept) {
      // Where the kept course is furthest from the present one and no word stands, its letter.
      double best = 0.0;
      double worst_day = 0.0;
      for (double day = 0; day <= kept.run->last_day(); day += days / 60) {
        const double d = std::abs(chart.series.value(*kept.run, day) - chart.series.value(run, day));
        if (d > best && !on_a_text({x_of(day), y_of(chart.series.value(*kept.run, day))})) {
          best = d;
          worst_day = day;
        }
      }
      if (best < most * 0.01) continue;
      const Point at{x_of(worst_day), y_of(chart.series.value(*kept.run, worst_day))};
      if (std::abs(at.x - last_x) < em) continue;
      last_x = at.x;
      f.canvas.dot(at, 0.62F * em, f.palette.card);
      f.canvas.ring(at, 0.62F * em, chart.series.colour, 1.5F);
      f.canvas.text({at.x, at.y - f.canvas.line_height(Type::small) / 2}, kept.name, Type::small, chart.series.colour,
                    Align::centre);
    }
  }

  void draw_playhead() {
    const double day = std::min(f.state.time.day, run.last_day());
    const float x = x_of(day);
    f.canvas.line({{x, plot.y}, {x, axis_y}}, f.palette.ink, std::max(1.5F, 0.1F * em));
    const Point at{x, y_of(chart.series.value(run, day))};
    f.canvas.dot(at, 0.42F * em, f.palette.card);
    f.canvas.dot(at, 0.32F * em, chart.series.colour);
  }

  // The value under the pointer.
  void draw_pointer() {
    const Point mouse = f.interaction.input().mouse;
    if (!f.interaction.enabled() || !plot.holds(mouse)) return;
    const double under = place().day_at(mouse.x);
    if (under > run.last_day()) return;
    const double v = chart.series.value(run, under);
    f.canvas.line({{mouse.x, plot.y}, {mouse.x, plot.bottom()}}, f.palette.quiet, 1.0F, 0.2F * em);
    const std::string text = f.words.fill("course.days", {look::number(std::floor(under), 0)}) + ": " +
                             chart.series.text(v) + " " + chart.series.unit;
    const float w = f.canvas.width(text, Type::small) + 0.8F * em;
    const float left = std::clamp(mouse.x + 0.5F * em, plot.x, plot.right() - w);
    const float top = std::clamp(y_of(v) - 1.9F * em, plot.y, plot.bottom() - 1.6F * em);
    f.canvas.fill({left, top, w, 1.5F * em}, f.palette.select, 0.3F * em);
    f.canvas.text({left + 0.4F * em, top + 0.3F * em}, text, Type::small, f.palette.select_ink);
  }

  void draw_title() {
    const double day = std::min(f.state.time.day, run.last_day());
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
  std::vector<Box> bands;
  float axis_y = 0;                                             // where time is written
  std::vector<std::vector<std::pair<double, double>>> sampled;  // the present run's, then the kept ones'
  std::vector<Point> taken;                                     // where curves run: labels keep away
  double days = 1.0;
  double most = 1.0;
};

}  // namespace

double ChartPlace::day_at(float x) const {
  return std::clamp(static_cast<double>((x - plot.x) / plot.w), 0.0, 1.0) * days;
}

ChartPlace draw_chart(Frame& f, const Chart& chart, const Box& box, bool event_labels) {
  ChartPainter painter(f, chart, box);
  painter.draw(event_labels);
  return painter.place();
}

}  // namespace drawdown::panels
