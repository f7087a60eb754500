// Tracer curves and what is read from them; levers as bars.
#include <algorithm>
#include <cmath>

#include "panels/panels.hpp"
#include "panels/study.hpp"
#include "stage/narrate.hpp"

namespace drawdown::panels {

using draw::Align;
using draw::Box;
using draw::Point;
using draw::Type;

namespace {

std::string person_name(const Frame& f, const std::string& name) {
  return name.empty() ? f.words.at("study.present") : f.words.fill("study.kept", {name});
}

// Label in blood and body on a logarithmic axis: straight lines are exponentials.
void draw_label_chart(Frame& f, const Box& box, const stage::TracerShown& shown) {
  const float em = f.em();
  const float lh = f.canvas.line_height(Type::small);
  const Box plot{box.x + 2.6F * em, box.y + 1.5F * em, box.w - 3.2F * em, box.h - 3.2F * em};
  if (plot.h < 3 * em || plot.w < 6 * em) return;
  f.canvas.fitted({box.x, box.y, box.w, em}, f.words.at("study.dose"), Type::small, f.palette.quiet);
  double least = 100.0;
  for (const auto& one : shown.people) {
    for (const auto& p : one.result.points) least = std::min(least, 100 * p.plasma);
  }
  const double floor = std::pow(10.0, std::floor(std::log10(std::max(least, 0.01))));
  const auto y_of = [&](double percent) {
    const double s = std::log10(std::max(percent, floor) / floor) / std::log10(100.0 / floor);
    return plot.bottom() - plot.h * static_cast<float>(s);
  };
  const auto x_of = [&](double hour) { return plot.x + plot.w * static_cast<float>(hour / 240.0); };
  for (double tick = floor; tick <= 100.01; tick *= 10) {
    f.canvas.line({{plot.x, y_of(tick)}, {plot.right(), y_of(tick)}}, f.palette.line, 1.0F);
    f.canvas.text({plot.x - 0.4F * em, y_of(tick) - lh / 2}, look::number(tick, tick < 1 ? 1 : 0), Type::small,
                  f.palette.quiet, Align::right);
  }
  for (int day = 0; day <= 10; day += 2) {
    const float x = x_of(24.0 * day);
    f.canvas.line({{x, plot.bottom()}, {x, plot.bottom() + 0.25F * em}}, f.palette.line, 1.0F);
    f.canvas.text({x, plot.bottom() + 0.35F * em}, f.words.fill("course.days", {look::number(day, 0)}), Type::small,
                  f.palette.quiet, Align::centre);
  }
  const look::Colour& colour = shown.protein == study::Traced::c3 ? f.palette.c3 : f.palette.c4;
  std::vector<Box> labels;
  for (std::size_t i = 0; i < shown.people.size(); ++i) {
    const auto& one = shown.people[i];
    const look::Colour ink = i == 0 ? colour : look::mix(colour, f.palette.card, 0.3F);
    const float dash = i == 0 ? 0.0F : 0.3F * em;
    std::vector<Point> plasma;
    std::vector<Point> body;
    for (const auto& p : one.result.points) {
      plasma.push_back({x_of(p.hour), y_of(100 * p.plasma)});
      body.push_back({x_of(p.hour), y_of(100 * p.body)});
    }
    f.canvas.line(plasma, ink, std::max(2.0F, 0.17F * em), dash);
    f.canvas.line(body, ink, std::max(1.0F, 0.08F * em), dash);
    // The name at the end of the thick line, the first free place upwards.
    const std::string name = person_name(f, one.name);
    const float w = f.canvas.width(name, Type::small) + 0.4F * em;
    Box b{plot.right() - w, plasma.back().y - lh - 0.2F * em, w, lh};
    while (
        std::any_of(labels.begin(), labels.end(), [&](const Box& o) { return b.y < o.bottom() && o.y < b.bottom(); })) {
      b.y -= lh;
    }
    labels.push_back(b);
    f.canvas.fill(b, f.palette.card.with_alpha(0.85F), 0.2F * em);
    f.canvas.text({b.right() - 0.2F * em, b.y}, name, Type::small, ink, Align::right);
  }
  // Which line is which, once.
  const auto& first = shown.people.front().result.points[shown.people.front().result.points.size() / 4];
  const auto mark = [&](const char* key, double value, float up) {
    const std::string& words = f.words.at(key);
    const float w = f.canvas.width(words, Type::small);
    const Box b{x_of(first.hour) + 0.5F * em, y_of(100 * value) + up, w, lh};
    f.canvas.fill(b, f.palette.card.with_alpha(0.85F), 0.2F * em);
    f.canvas.text({b.x, b.y}, words, Type::small, f.palette.quiet);
  };
  mark("study.body", first.body, -lh - 0.5F * em);
  mark("study.plasma", first.plasma, 0.5F * em);
}

// What was read from the label beside what the model did, a column a person.
void draw_label_table(Frame& f, const Box& box, const stage::TracerShown& shown) {
  const float em = f.em();
  const float lh = f.canvas.line_height(Type::body);
  const float row = std::clamp(box.h / 9.2F, 1.15F * lh, 1.5F * lh);
  const float column = 7.2F * em;
  float y = box.y;
  f.canvas.fitted({box.x, y, box.w - column * static_cast<float>(shown.people.size()), row},
                  f.words.fill("study.injected", {look::number(std::floor(shown.day), 0)}), Type::strong,
                  f.palette.ink);
  const auto right = [&](std::size_t i) {
    return box.right() - column * static_cast<float>(shown.people.size() - 1 - i);
  };
  for (std::size_t i = 0; i < shown.people.size(); ++i) {
    f.canvas.text({right(i), y}, person_name(f, shown.people[i].name), Type::strong, f.palette.ink, Align::right);
  }
  y += row * 1.1F;
  struct Line {
    const char* key;
    const char* unit;
    int decimals;
    bool quiet;
    double (*value)(const study::TracerResult&);
  };
  static constexpr Line lines[] = {
      {"study.level", "g/L", 2, false, [](const study::TracerResult& r) { return r.level; }},
      {"study.fcr", "%/h", 2, false, [](const study::TracerResult& r) { return 100 * r.fcr; }},
      {"study.in_model", "%/h", 2, true, [](const study::TracerResult& r) { return 100 * r.true_fcr; }},
      {"study.ratio", "%/h", 2, false, [](const study::TracerResult& r) { return 100 * r.fcr_by_ratio; }},
      {"study.synthesis", "mg/kg/h", 2, false, [](const study::TracerResult& r) { return r.synthesis; }},
      {"study.in_model", "mg/kg/h", 2, true, [](const study::TracerResult& r) { return r.true_synthesis; }},
      {"study.half_life", "h", 0, false, [](const study::TracerResult& r) { return r.half_life; }},
      {"study.inside", "%", 0, false, [](const study::TracerResult& r) { return 100 * r.intravascular; }}};
  for (const Line& line : lines) {
    if (y + row > box.bottom() + 0.3F * em) return;
    const float label = box.w - column * static_cast<float>(shown.people.size()) - 0.5F * em;
    f.canvas.fitted({box.x + (line.quiet ? em : 0), y, label - (line.quiet ? em : 0), row}, f.words.at(line.key),
                    line.quiet ? Type::small : Type::body, line.quiet ? f.palette.quiet : f.palette.ink);
    for (std::size_t i = 0; i < shown.people.size(); ++i) {
      const std::string text = look::number(line.value(shown.people[i].result), line.decimals) + " " + line.unit;
      f.canvas.text({right(i), y}, text, line.quiet ? Type::small : Type::strong,
                    line.quiet ? f.palette.quiet : f.palette.ink, Align::right);
    }
    y += row * (line.quiet ? 0.95F : 1.0F);
  }
}

}  // namespace

void draw_tracer_page(Frame& f, const Box& box) {
  if (!f.state.study.tracer || f.state.study.tracer->people.empty()) return;
  const float em = f.em();
  const stage::TracerShown& shown = *f.state.study.tracer;
  const float table_w = 15 * em + 7.2F * em * static_cast<float>(shown.people.size());
  const float table_h = f.canvas.line_height(Type::body) * 1.5F * 9.2F;
  if (box.w > table_w + 22 * em) {
    draw_label_chart(f, {box.x, box.y, box.w - table_w - 2 * em, std::min(box.h, 30 * em)}, shown);
    draw_label_table(f, {box.right() - table_w, box.y, table_w, box.h}, shown);
  } else if (box.h > table_h + 11 * em) {
    draw_label_table(f, {box.x, box.y, box.w, table_h}, shown);
    draw_label_chart(f, {box.x, box.y + table_h + em, box.w, box.h - table_h - em}, shown);
  } else {
    draw_label_table(f, box, shown);
  }
}

void draw_effects_page(Frame& f, const Box& whole) {
  if (!f.state.study.effects) return;
  const float em = f.em();
  const auto& shown = f.state.study.effects->effects;
  // What was left out, and that nothing stands out where nothing does.
  std::string below = f.words.fill(
      "study.left_out", {std::to_string(study::asked_levers(*f.state.document.now.story.model).size() - shown.size()),
                         look::number(study::does_nothing, 1)});
  if (shown.empty() || shown.front().size() < study::tells)
    below = f.words.fill("study.none_first", {look::number(study::tells, 0)}) + " " + below;
  const float said = f.canvas.paragraph_height(below, Type::small, whole.w) + 0.4F * em;
  f.canvas.paragraph({whole.x, whole.bottom() - said + 0.2F * em, whole.w, said}, below, Type::small, f.palette.quiet);
  const Box box{whole.x, whole.y, whole.w - 1.2F * em, whole.h - said - 0.3F * em};
  const float name_h = f.canvas.line_height(Type::body);
  const float small_h = f.canvas.line_height(Type::small);
  const float row = name_h + small_h + 0.7F * em;
  float label_w = 0;
  double most = 10.0;  // a bar of a few per cent stays short
  for (const study::LeverEffect& e : shown) {
    label_w = std::max(
        label_w,
        f.canvas.width(f.words.at("lever." + f.state.document.now.story.lever_rows()[e.lever].name), Type::body));
    most = std::max(most, e.size());
  }
  label_w = std::min(label_w, 0.42F * box.w);
  const float figure = f.canvas.width("C4 −000.0 %", Type::small) + 0.6F * em;
  const float head = small_h + 0.5F * em;
  const Box bars{box.x + label_w + em + figure, box.y + head, box.w - label_w - em - 2 * figure, box.h - head};
  if (bars.w < 4 * em || bars.h < row) return;
  const float zero = bars.middle_x();
  const float unit = bars.w / 2 / static_cast<float>(most);
  f.canvas.text({zero - 0.6F * em, box.y}, f.words.at("course.lowers"), Type::small, f.palette.quiet, Align::right);
  f.canvas.text({zero + 0.6F * em, box.y}, f.words.at("course.raises"), Type::small, f.palette.quiet);

  const Box list{whole.x, bars.y, whole.w, bars.h};
  const float total = row * static_cast<float>(shown.size());
  ScrollArea scrolled(f, "effects", list, total, list);
  if (total > list.h) scrolled.by_keys("study.effects");
  f.canvas.clip(list);
  f.canvas.line({{zero, list.y}, {zero, std::min(list.bottom(), scrolled.top() + total)}}, f.palette.quiet, 1.0F);
  for (std::size_t i = 0; i < shown.size(); ++i) {
    const study::LeverEffect& e = shown[i];
    const body::Lever& lever = f.state.document.now.story.lever_rows()[e.lever];
    const float y = scrolled.top() + row * static_cast<float>(i);
    if (y + row < list.y || y > list.bottom()) continue;
    f.canvas.fitted({box.x, y, label_w, name_h}, f.words.at("lever." + lever.name), Type::body, f.palette.ink);
    f.canvas.fitted({box.x, y + name_h, label_w, small_h},
                    f.words.fill("study.step", {value_text(f, lever, e.from), value_text(f, lever, e.to)}), Type::small,
                    f.palette.quiet);
    const float h = (row - 0.7F * em) / 2;
    for (const bool is_c4 : {false, true}) {
      const double value = is_c4 ? e.c4 : e.c3;
      const float w = unit * static_cast<float>(std::abs(value));
      const Box bar{value < 0 ? zero - w : zero, y + (is_c4 ? h + 0.1F * em : 0.0F), std::max(w, 1.0F), h};
      f.canvas.fill(bar, is_c4 ? f.palette.c4 : f.palette.c3, 0.12F * em);
      if (is_c4) draw::hatch(f.canvas, bar, look::mix(f.palette.c4, f.palette.card, 0.5F), 0.5F * em, 1.0F);
      const std::string text = (is_c4 ? "C4 " : "C3 ") + f.words.fill("numbers.percent", {look::number(value, 1)});
      const float tx = value < 0 ? bar.x - 0.3F * em - f.canvas.width(text, Type::small) : bar.right() + 0.3F * em;
      f.canvas.text({tx, bar.middle_y() - small_h / 2}, text, Type::small, is_c4 ? f.palette.c4 : f.palette.c3);
    }
  }
  f.canvas.unclip();
  scrolled.draw_bar();
}

}  // namespace drawdown::panels
