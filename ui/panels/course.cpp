// The course: C3 and C4 each on a chart of its own, with the laboratory's interval, this person's band, event marks,
// the playhead and kept runs; and one more track if wanted.
#include <algorithm>
#include <cmath>

#include "panels/chart.hpp"
#include "panels/panels.hpp"
#include "stage/narrate.hpp"
#include "study/change_value.hpp"

namespace drawdown::panels {

using draw::Box;
using draw::Type;
using stage::Track;
using stage::Which;

namespace {

// The personal band is the usual level with 1.96 * sqrt(CVa^2 + CVi^2) either side, %.
double band(const study::Variation& cv) {
  return 1.96 * std::hypot(cv.analytical, cv.within);
}

Chart protein_chart(const Frame& f, Which which) {
  const Run& run = *f.state.runs.now;
  const scenario::Unit unit = f.state.page.unit;
  const double to = unit == scenario::Unit::g_per_l ? 1.0 : readout::mg_per_dl;
  Chart c;
  c.series.value = [which, to](const Run& r, double day) { return to * (which == Which::c3 ? r.c3(day) : r.c4(day)); };
  const scenario::Interval range = which == Which::c3 ? run.story().laboratory.c3 : run.story().laboratory.c4;
  c.series.text = [which, unit, to, range](double v) { return stage::level_text_beside(v / to, range, which, unit); };
  c.series.colour = which == Which::c3 ? f.palette.c3 : f.palette.c4;
  c.series.dashed = which == Which::c4;
  c.series.title = which == Which::c3 ? "C3" : "C4";
  c.series.unit = stage::unit_text(unit);
  c.range = which == Which::c3 ? &run.story().laboratory.c3 : &run.story().laboratory.c4;
  c.usual = to * (which == Which::c3 ? run.usual_c3() : run.usual_c4());
  c.band = band(which == Which::c3 ? study::c3_variation : study::c4_variation);
  c.to_unit = to;
  const std::size_t protein = which == Which::c3 ? c3_in_account : c4_in_account;
  c.bands.push_back(in_and_out(f, protein));
  if (f.state.page.depth != look::Depth::plain) c.bands.push_back(tap_and_opening(f, protein));
  return c;
}

Track track_of(const Frame& f) {
  std::vector<Track> tracks = stage::tracks_of(*f.state.document.now.story.model);
  return std::move(tracks[f.state.page.track % tracks.size()]);
}

Chart track_chart(const Frame& f) {
  const Track track = track_of(f);
  Chart c;
  c.series.value = [track](const Run& r, double day) {
    if (track.lever) return r.lever(*track.lever, day);
    return track.readout ? r.in_sample(*track.readout, day) : 0.0;
  };
  c.series.text = [decimals = track.decimals](double v) { return look::number(v, decimals); };
  c.series.colour = f.palette.complexes;
  c.series.title = f.words.at("track." + track.key);
  return c;
}

}  // namespace

void draw_course(Frame& f, const Box& box) {
  card(f, box);
  const float em = f.em();
  const Box inner = box.inset(1.0F * em, 0.7F * em);
  std::vector<Chart> charts{protein_chart(f, Which::c3), protein_chart(f, Which::c4)};
  if (f.state.page.track != 0) charts.push_back(track_chart(f));

  // Unit and further track, at the top right.
  const std::string unit = f.words.fill("course.unit", {stage::unit_text(f.state.page.unit)});
  const std::string track = f.words.at("course.track") + ": " + f.words.at("track." + track_of(f).key);
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
    const ChartPlace place = draw_chart(f, charts[i], b, i == 0 || across);
    // Press or drag on the plot to go to a day.
    const auto r = f.interaction.control("course.plot" + std::to_string(i), place.plot);
    if (r.held) f.act(stage::GoToDay{place.day_at(f.interaction.input().mouse.x)});
    if (r.focused) {
      if (f.interaction.take(Key::left)) f.act(stage::StepDays{-1});
      if (f.interaction.take(Key::right)) f.act(stage::StepDays{1});
    }
    if (r.show_focus) focus_ring(f, place.plot, 0.2F * em);
  }
}

}  // namespace drawdown::panels
