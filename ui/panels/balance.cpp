// The opening picture: what the liver sends in, how full the vessel stands, where it goes. Ribbon widths are flows,
// each protein's on the scale of this person's usual flow, so at a steady state both sides of the vessel agree.
#include <algorithm>
#include <cmath>

#include "panels/balance_parts.hpp"
#include "panels/panels.hpp"
#include "stage/narrate.hpp"

namespace drawdown::panels {

using draw::Align;
using draw::Box;
using draw::Point;
using draw::Type;
using readout::Flows;

namespace {

// A ribbon's two ends have a place on the vessel's wall and one at a target; both proteins run side by side.
struct Pair {
  float c3 = 0;
  float c4 = 0;
  [[nodiscard]] float both(float gap) const { return c3 + c4 + (c3 > 0 && c4 > 0 ? gap : 0); }
};

struct Target {
  enum class Kind { tissue, label } kind = Kind::label;
  std::size_t place = 0;  // readout::Place for tissues
  std::string key;        // of its name
  std::string note;
  Pair width;
  Box box;
  bool faint = false;
};

struct Scale {
  double c3 = 1.0;  // pixels for each gram a day of C3
  double c4 = 1.0;
};

float px(double grams, double per_gram) {
  return static_cast<float>(std::max(0.0, grams) * per_gram);
}

// The flows on their way to the day's: each goes the same part of its way in a frame, so that sums stay sums.
void ease(Frame& f, const std::string& name, Flows& flows) {
  const auto towards = [&](const std::string& part, double& value) { value = f.motion.towards(name + part, value); };
  towards(".made", flows.made);
  towards(".ordinary", flows.ordinary);
  towards(".out", flows.out_to_tissue);
  towards(".back", flows.back_from_tissue);
  for (std::size_t i = 0; i < flows.spent.size(); ++i) towards(".spent" + std::to_string(i), flows.spent[i]);
}
readout::FlowPair eased(Frame& f, readout::FlowPair pair) {
  ease(f, "balance.c3", pair.c3);
  ease(f, "balance.c4", pair.c4);
  return pair;
}

class Picture {
 public:
  Picture(Frame& frame, const Box& box)
      : f(frame), run(*frame.state.runs.now), em(frame.em()), area(box.inset(1.1F * em, 0.8F * em)) {
    pair = eased(f, run.flows(f.state.time.day));
    tissues_shown = tissue_looks(*run.body().model);
  }

  void draw() {
    place();
    draw_legend();
    draw_outflows();
    draw_inflows();
    draw_liver();
    draw_vessel(f, vessel);
    draw_targets();
  }

 private:
  void place() {
    const float head = 1.7F * em;  // the line of headings
    low = area.h < 15 * em;
    body = {area.x, area.y + head, area.w, area.h - head - (low ? 0.0F : 1.3F * em)};
    const float vessel_width = std::clamp(0.20F * area.w, 11.5F * em, 19 * em);
    vessel = {area.x + 0.475F * area.w - vessel_width / 2, body.y, vessel_width, body.h};
    target_x = area.x + std::max(0.70F * area.w, vessel.right() - area.x + 6 * em);
    liver = {area.x, body.y + 0.06F * body.h, std::clamp(0.22F * area.w, 8 * em, 18 * em), 0};
    liver.h = std::min(liver.w * 0.78F, 0.56F * body.h);
    collect_targets();
    // The usual flow of each protein is this wide; all ribbons shrink together if the right side would not fit.
    float usual = std::min(0.125F * body.h, 3.4F * em);
    for (int pass = 0; pass < 2; ++pass) {
      scale.c3 = static_cast<double>(usual) / std::max(1e-9, run.usual_flows().c3.made);
      scale.c4 = static_cast<double>(usual) / std::max(1e-9, run.usual_flows().c4.made);
      for (Target& t : targets) t.width = widths_of(t);
      const float need = stack_height();
      const float room = body.h - 1.5F * em;
      if (need <= room) break;
      usual *= room / need;
    }
  }

  void collect_targets() {
    const look::WordBook& w = f.words;
    for (const TissueLook& tissue : tissues_shown) {
      targets.push_back({Target::Kind::tissue, tissue.place, tissue.key, "", {}, {}, false});
    }
    const std::size_t red = body::place_red_cells;
    if (pair.c3.spent[red] + pair.c4.spent[red] > 1e-4) {
      targets.push_back({Target::Kind::label, red, "picture.red_cells", "", {}, {}, false});
    }
    targets.push_back({Target::Kind::label,
                       body::place_fluid,
                       "picture.fluid",
                       w.at("picture.fluid_note", f.state.page.depth),
                       {},
                       {},
                       true});
    targets.push_back({Target::Kind::label,
                       ordinary_place,
                       "picture.ordinary",
                       w.at("picture.ordinary_note", f.state.page.depth),
                       {},
                       {},
                       true});
  }

  [[nodiscard]] Pair widths_of(const Target& t) const {
    if (t.place == ordinary_place) return {px(pair.c3.ordinary, scale.c3), px(pair.c4.ordinary, scale.c4)};
    return {px(pair.c3.spent[t.place], scale.c3), px(pair.c4.spent[t.place], scale.c4)};
  }

  [[nodiscard]] float stack_height() const {
    float h = 0;
    for (const Target& t : targets) h += t.width.both(inner_gap()) + port_gap();
    return h;
  }
  [[nodiscard]] float inner_gap() const { return 0.18F * em; }
  [[nodiscard]] float port_gap() const { return 0.3F * em; }

  void draw_legend() {
    const float y = area.y - 0.1F * em;
    f.canvas.fitted({vessel.x - 4 * em, y, vessel.w + 8 * em, em},
                    f.words.at("picture.blood", f.state.page.depth) + ", " + stage::unit_text(f.state.page.unit),
                    Type::strong, f.palette.ink, Align::centre);
    f.canvas.fitted({target_x, y, area.right() - target_x, em},
                    f.fitting("picture.spent", Type::strong, area.right() - target_x), Type::strong, f.palette.ink);
    if (low) return;
    // Which flow is "usual" here, said under the picture.
    std::string note =
        f.words.fill("picture.scale", {f.words.at("picture.scale_day"), look::number(run.usual_flows().c3.made, 2),
                                       look::number(run.usual_flows().c4.made, 2)});
    if (f.canvas.width(note, Type::small) > area.w) note = f.words.at("picture.scale_short");
    f.canvas.fitted({area.x, area.bottom() - 0.95F * em, area.w, em}, note, Type::small, f.palette.quiet);
  }

  void flow(Point from, Point to, float width, bool is_c4, bool faint) {
    if (width <= 0.0F) return;
    look::Colour colour = is_c4 ? f.palette.c4 : f.palette.c3;
    if (faint) colour = look::mix(colour, f.palette.card, 0.42F);
    const look::Colour hatch = look::mix(colour, f.palette.card, 0.62F);
    const auto centre = draw::s_curve(from, to);
    if (width < 1.0F) {
      f.canvas.line(centre, colour, 1.0F, 0.35F * em);  // too thin to show its width: a dotted trace
      return;
    }
    draw::ribbon(f.canvas, centre, width, colour, is_c4 ? &hatch : nullptr, 0.62F * em);
    if (!f.state.look.reduced_motion && f.state.time.playing) drops(centre, width);
  }

  // Light drops drift along a flow while the story plays.
  void drops(const std::vector<Point>& centre, float width) {
    const float radius = std::clamp(width * 0.16F, 1.2F, 0.3F * em);
    const auto n = static_cast<float>(centre.size() - 1);
    for (int k = 0; k < 4; ++k) {
      const double turn = f.seconds * 0.35 + k * 0.25;
      const auto s = static_cast<float>(turn - std::floor(turn)) * n;
      const auto i = std::min(centre.size() - 2, static_cast<std::size_t>(s));
      const float r = s - static_cast<float>(i);
      f.canvas.dot(
          {centre[i].x + r * (centre[i + 1].x - centre[i].x), centre[i].y + r * (centre[i + 1].y - centre[i].y)},
          radius, f.palette.card.with_alpha(0.75F));
    }
  }

  void draw_outflows() {
    place_targets();
    const float total = stack_height() - port_gap();
    float y = vessel.y + std::max(0.4F * em, (vessel.h - total) * 0.5F);
    // Faint ones first, so that the complexes' ribbons lie on top.
    struct Lane {
      Point from, to;
      float width;
      bool is_c4, faint;
    };
    std::vector<Lane> lanes;
    for (const Target& t : targets) {
      const float at_target = t.box.middle_y() - t.width.both(inner_gap()) / 2;
      float at = at_target;
      const float arrow = t.kind == Target::Kind::label ? 0.9F * em : 0.0F;
      for (const bool is_c4 : {false, true}) {
        const float w = is_c4 ? t.width.c4 : t.width.c3;
        if (w <= 0) continue;
        lanes.push_back({{vessel.right(), y + w / 2}, {t.box.x - arrow, at + w / 2}, w, is_c4, t.faint});
        y += w + (is_c4 ? 0.0F : inner_gap());
        at += w + inner_gap();
      }
      y += port_gap();
    }
    std::stable_sort(lanes.begin(), lanes.end(), [](const Lane& a, const Lane& b) { return a.faint > b.faint; });
    for (const Lane& lane : lanes) {
      flow(lane.from, lane.to, lane.width, lane.is_c4, lane.faint);
      if (lane.faint && lane.width >= 1.0F) tip(lane.to, lane.width, lane.is_c4);
    }
  }

  // An arrow's head where a flow leaves the picture.
  void tip(Point at, float width, bool is_c4) {
    const look::Colour colour = look::mix(is_c4 ? f.palette.c4 : f.palette.c3, f.palette.card, 0.42F);
    const float half = width / 2 + 0.1F * em;
    const float reach = std::min(0.8F * em, 0.3F * em + half * 0.6F);
    f.canvas.shape({at.x + reach * 0.3F, at.y}, {{at.x, at.y - half}, {at.x + reach, at.y}, {at.x, at.y + half}},
                   colour);
  }

  void place_targets() {
    float fixed = 0;  // height the labels need
    std::size_t boxes = 0;
    for (const Target& t : targets) {
      if (t.kind == Target::Kind::tissue) {
        boxes += 1;
      } else {
        fixed += label_height(t) + 0.5F * em;
      }
    }
    const float gap = (low ? 0.25F : 0.45F) * em;
    const float box_height = std::clamp((body.h - fixed - gap * static_cast<float>(boxes)) / static_cast<float>(boxes),
                                        1.25F * em, 5.2F * em);
    float y = body.y;
    for (Target& t : targets) {
      const float h = t.kind == Target::Kind::tissue ? box_height : label_height(t);
      t.box = {target_x, y, area.right() - target_x, h};
      y += h + (t.kind == Target::Kind::tissue ? gap : 0.5F * em);
    }
  }
  [[nodiscard]] float label_height(const Target& t) const {
    return std::max(t.width.both(inner_gap()) + 0.3F * em, two_lines() ? 2.5F * em : 1.4F * em);
  }
  // Room for a note under each label?
  [[nodiscard]] bool two_lines() const { return body.h > 21 * em; }

  void draw_inflows() {
    const float c3 = px(pair.c3.made, scale.c3);
    const float c4 = px(pair.c4.made, scale.c4);
    const float gap = 0.5F * em;
    const float middle = liver.y + 0.36F * liver.h;
    const float from_x = liver.x + 0.86F * liver.w;
    const float top = middle - (c3 + c4 + gap) / 2;
    const float vessel_top = vessel.y + 0.46F * vessel.h - (c3 + c4 + gap) / 2;
    flow({from_x, top + c3 / 2}, {vessel.x, vessel_top + c3 / 2}, c3, false, false);
    flow({from_x, top + c3 + gap + c4 / 2}, {vessel.x, vessel_top + c3 + gap + c4 / 2}, c4, true, false);
    // Where next to nothing is made the plates would lie on each other: half of what is missing each.
    const float between = c3 / 2 + gap + c4 / 2;
    const float apart = std::max(0.0F, f.canvas.line_height(Type::strong) + 0.3F * em - between) / 2;
    name_flow({from_x, top + c3 / 2 - apart}, {vessel.x, vessel_top + c3 / 2 - apart}, "C3", f.palette.c3);
    const float c4_y = c3 + gap + c4 / 2 + apart;
    name_flow({from_x, top + c4_y}, {vessel.x, vessel_top + c4_y}, "C4", f.palette.c4);
    draw_tissue_fluid();
  }

  // The protein's name on its ribbon, on a small plate so that it reads on plain and hatched alike.
  void name_flow(Point from, Point to, const char* name, const look::Colour& colour) {
    const float h = f.canvas.line_height(Type::strong);
    const Point at{0.55F * from.x + 0.45F * to.x, 0.575F * from.y + 0.425F * to.y};
    const float w = f.canvas.width(name, Type::strong) + 0.6F * em;
    f.canvas.fill({at.x - w / 2, at.y - h / 2 - 0.1F * em, w, h + 0.2F * em}, f.palette.card, 0.3F * em);
    f.canvas.text({at.x, at.y - h / 2}, name, Type::strong, colour, Align::centre);
  }

  // The thin third term: what flows back from (or out into) tissue fluid, net of both directions.
  void draw_tissue_fluid() {
    const float h = 2.5F * em;
    Box basin{area.x, body.bottom() - h, std::min(liver.w + 1.5F * em, vessel.x - area.x - 3 * em), h};
    f.canvas.outline(basin, f.palette.line, 0.6F * em, 1.5F);
    const bool note = two_lines();
    f.canvas.fitted({basin.x + 0.7F * em, basin.y + (note ? 0.2F : 0.65F) * em, basin.w - em, em},
                    f.words.at("picture.tissue_fluid"), Type::strong, f.palette.ink);
    if (note) {
      f.canvas.fitted({basin.x + 0.7F * em, basin.y + 1.3F * em, basin.w - em, em},
                      f.words.at("picture.tissue_fluid_note", f.state.page.depth), Type::small, f.palette.quiet);
    }
    float y = basin.middle_y() - 0.4F * em;
    for (const bool is_c4 : {false, true}) {
      const Flows& p = is_c4 ? pair.c4 : pair.c3;
      const float w = px(std::abs(p.net_back()), is_c4 ? scale.c4 : scale.c3);
      const Point at_basin{basin.right(), y};
      const Point at_vessel{vessel.x, y - 0.8F * em};
      flow(at_basin, at_vessel, std::max(w, 0.5F), is_c4, false);
      if (w >= 1.0F) {
        const bool in = p.net_back() > 0;
        const Point head = in ? at_vessel : at_basin;
        const float dir = in ? -1.0F : 1.0F;
        const float size = 0.45F * em;
        f.canvas.shape({head.x + dir * size * 0.6F, head.y},
                       {{head.x, head.y},
                        {head.x + dir * size, head.y - size * 0.6F},
                        {head.x + dir * size, head.y + size * 0.6F}},
                       is_c4 ? f.palette.c4 : f.palette.c3);
      }
      y += 0.8F * em;
    }
  }

  void draw_liver() {
    const draw::Outline outline = f.shapes.figure(draw::Figure::liver, liver);
    f.canvas.shape(outline.centre, outline.points, f.palette.liver);
    const std::string& name = f.words.at("picture.liver");
    const float name_y = liver.y + 0.34F * liver.h - 0.6F * em;
    // In a picture so low that tissue fluid stands where the name would, the figure speaks for itself.
    if (name_y + f.canvas.line_height(Type::heading) > body.bottom() - 2.5F * em) return;
    f.canvas.text({liver.x + 0.42F * liver.w, name_y}, name, Type::heading, f.palette.liver_ink, Align::centre);
    const std::string& makes = f.words.at("picture.makes", f.state.page.depth);
    if (f.canvas.width(makes, Type::small) > 0.7F * liver.w || liver.h < 6 * em) return;
    f.canvas.text({liver.x + 0.42F * liver.w, liver.y + 0.34F * liver.h + 0.8F * em}, makes, Type::small,
                  f.palette.liver_ink, Align::centre);
  }

  void draw_targets() {
    const auto tissues = run.tissues(f.state.time.day);
    for (const Target& t : targets) {
      if (t.kind == Target::Kind::tissue) {
        draw_tissue_box(f, t.box, tissues_shown[t.place - body::first_tissue_place],
                        tissues[t.place - body::first_tissue_place]);
        continue;
      }
      const float x = t.box.x + 0.35F * em;
      const bool note = two_lines() && !t.note.empty();
      const float h = (note ? 2.3F : 1.1F) * em;
      const float y = t.box.middle_y() - h / 2;
      f.canvas.fitted({x, y, t.box.right() - x, em}, f.word(t.key), Type::strong, f.palette.ink);
      if (note) f.canvas.fitted({x, y + 1.25F * em, t.box.right() - x, em}, t.note, Type::small, f.palette.quiet);
    }
  }

  static constexpr std::size_t ordinary_place = 99;
  Frame& f;
  const Run& run;
  float em;
  Box area, body, vessel, liver;
  bool low = false;  // little height: no note under the picture
  float target_x = 0;
  readout::FlowPair pair;
  std::vector<TissueLook> tissues_shown;
  Scale scale;
  std::vector<Target> targets;
};

}  // namespace

void draw_balance(Frame& f, const Box& box) {
  card(f, box);
  f.canvas.clip(box);
  Picture(f, box).draw();
  f.canvas.unclip();
}

}  // namespace drawdown::panels
