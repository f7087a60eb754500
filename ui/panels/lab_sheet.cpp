// The lab sheet: what a report would say of the sample taken on the playhead's day - with noise, units, intervals and
// flags, this person's usual level, and whether the change since a month before is more than noise. What happens to the
// sample and which laboratory's interval is used are set on the sheet.
#include <algorithm>
#include <cmath>

#include "panels/panels.hpp"
#include "stage/lab_sample.hpp"
#include "stage/narrate.hpp"
#include "study/change_value.hpp"

namespace drawdown::panels {

using draw::Align;
using draw::Box;
using draw::Type;
using stage::Which;

namespace {

struct Line {
  std::string name;
  std::string value;
  std::string unit;
  std::string range;
  std::string flag;
  std::string usual;
  std::string verdict;
};

class Sheet {
 public:
  Sheet(Frame& frame, const Box& b) : f(frame), run(*frame.state.runs.now), em(frame.em()), box(b) {
    day = std::min(f.state.time.day, run.last_day());
    before = std::max(0.0, day - 28);
    collect();
  }

  void draw() {
    card(f, box);
    const Box inner = box.inset(1.2F * em, 0.9F * em);
    float y = inner.y;
    f.canvas.fitted({inner.x, y, inner.w, 2 * em}, f.words.fill("lab.title", {look::number(std::floor(day), 0)}),
                    Type::heading, f.palette.ink);
    y += 2.1F * em;
    y += draw_choices({inner.x, y, inner.w, 2 * em});
    y += 0.5F * em;
    y += f.canvas.paragraph({inner.x, y, inner.w, inner.h}, blood, Type::body, f.palette.ink, 3) + 0.5F * em;
    draw_lines({inner.x, y, inner.w, inner.bottom() - y});
  }

 private:
  [[nodiscard]] scenario::Laboratory laboratory() const {
    scenario::Laboratory lab = run.story().laboratory;
    if (f.state.lab.other_laboratory) lab.c3 = {0.65, 1.90};  // the widest published upper and lower limits for C3
    if (f.state.lab.other_laboratory) lab.c4 = {0.14, 0.50};
    return lab;
  }

  void collect() {
    const scenario::Laboratory lab = laboratory();
    // In a talk the first sample shown is one that reads as most do; "another sample" shows what chance may do.
    const unsigned first = f.state.talk.step ? stage::typical_sample(run, day, before, lab) : 0;
    const stage::LabSample now = stage::lab_sample(run, day, first + f.state.lab.sample);
    const stage::LabSample then = stage::lab_sample(run, before, first + f.state.lab.sample);
    const auto flag = [&](double v, double low, double high) {
      return v < low ? f.words.at("lab.low") : v > high ? f.words.at("lab.high") : std::string();
    };
    const auto protein = [&](Which which, double value, double last, const scenario::Interval& range, double usual,
                             const study::Variation& cv) {
      Line line;
      line.name = which == Which::c3 ? "C3" : "C4";
      line.value = stage::level_text_beside(value, range, which, f.state.page.unit);
      line.unit = stage::unit_text(f.state.page.unit);
      line.range = stage::level_text(range.low, which, f.state.page.unit) + "–" +
                   stage::level_text(range.high, which, f.state.page.unit);
      const stage::SampleWords said = stage::words_of(value, last, range, cv);
      line.flag = flag(value, range.low, range.high);
      line.usual = stage::level_text(usual, which, f.state.page.unit);
      line.verdict = f.words.fill(
          said.beyond ? "lab.beyond" : "lab.within",
          {(said.percent > 0 ? "+" : "") + look::number(said.percent, 0), look::number(std::floor(before), 0)});
      lines.push_back(line);
    };
    const auto beside = [&](double level, Which which) {
      return stage::level_text_beside(level, which == Which::c3 ? lab.c3 : lab.c4, which, f.state.page.unit);
    };
    blood = f.words.fill("lab.blood", {beside(now.c3, Which::c3), beside(run.c3(day), Which::c3),
                                       beside(now.c4, Which::c4), beside(run.c4(day), Which::c4)});
    protein(Which::c3, now.c3, then.c3, lab.c3, run.usual_c3(), study::c3_variation);
    protein(Which::c4, now.c4, then.c4, lab.c4, run.usual_c4(), study::c4_variation);
    for (const auto& [id, value] : now.others) {
      const body::Readout& row = run.body().model->readouts()[id];
      Line line;
      line.name = f.words.at("lab." + row.key);
      line.value = look::number(value, row.decimals);
      line.unit = row.unit == "relative" ? f.words.at("lab.relative") : row.unit.substr(0, row.unit.find(' '));
      line.range = row.high > 0 ? look::number(row.low, 0) + "–" + look::number(row.high, 0) : "";
      line.flag = row.high > 0 ? flag(value, row.low, row.high) : "";
      lines.push_back(line);
    }
  }

  // The fridge, the cold tube, the other laboratory. Returns the height used.
  float draw_choices(const Box& row) {
    const body::LeverId fridge = run.body().model->known().fridge_days;
    const body::LeverId cold = run.body().model->known().cold_activation;
    float x = row.x;
    float y = row.y;
    const auto place = [&](const std::string& name, const std::string& label, bool chosen) {
      ButtonStyle style;
      style.type = Type::small;
      style.chosen = chosen;
      const float w = button_width(f, label, Type::small);
      if (x + w > row.right() && x > row.x) {
        x = row.x;
        y += 2.3F * em;
      }
      const bool pressed = button(f, name, {x, y, w, 1.9F * em}, label, style);
      x += w + 0.5F * em;
      return pressed;
    };
    const bool stored = stage::current_value(f.state, fridge) > 0;
    const bool chilled = stage::current_value(f.state, cold) > 0;
    if (place("lab.fridge", f.words.at("lab.fridge"), stored))
      f.act(stage::MoveLever{fridge, stored ? 0.0 : 4.0, false});
    if (place("lab.cold", f.words.at("lab.cold"), chilled)) f.act(stage::MoveLever{cold, chilled ? 0.0 : 0.8, false});
    if (place("lab.other", f.words.at("lab.other"), f.state.lab.other_laboratory)) f.act(stage::ToggleLaboratory{});
    if (place("lab.sample", f.words.at("lab.sample"), false)) f.act(stage::NextSample{});
    if (place("lab.unit", f.words.fill("course.unit", {stage::unit_text(f.state.page.unit)}), false))
      f.act(stage::ToggleUnit{});
    return y + 1.9F * em - row.y;
  }

  void draw_lines(const Box& area) {
    const float row = std::clamp(area.h / 10.5F, f.canvas.line_height(Type::body) * 1.35F, 3.1F * em);
    // Columns from the left: name, value and unit, range, flag, usual, change.
    float name_w = 0.22F * area.w;
    for (const Line& line : lines) name_w = std::max(name_w, f.canvas.width(line.name, Type::strong) + 0.4F * em);
    const float value_x = area.x + name_w + 4.4F * em;
    const float range_x = value_x + 4.6F * em;
    const float flag_x = range_x + 6.6F * em;
    const float usual_x = flag_x + 4.2F * em;
    const float change_x = usual_x + (area.w > 62 * em ? 4.5F : 3.2F) * em;
    const float room = area.right() - change_x;
    float widest = f.canvas.width(f.words.at("lab.change"), Type::small);
    for (const Line& line : lines) widest = std::max(widest, f.canvas.width(line.verdict, Type::small));
    const bool wide = area.w > 62 * em || widest <= room;
    float y = area.y;
    const auto head = [&](float x, const char* key) {
      f.canvas.text({x, y}, f.words.at(key), Type::small, f.palette.quiet);
    };
    head(area.x, "lab.test");
    f.canvas.text({value_x, y}, f.words.at("lab.result"), Type::small, f.palette.quiet, Align::right);
    head(range_x, "lab.range");
    head(usual_x, "lab.usual");
    if (wide) head(change_x, "lab.change");
    y += row * 0.85F;
    // Under the heads the rows, each with its verdict under it where there is no column for that, scroll if they must.
    const Box list{area.x, y, area.w, area.bottom() - y};
    const float verdicts = wide ? 0.0F : row * 0.9F * 2;
    const float total = row * static_cast<float>(lines.size()) + verdicts;
    ScrollArea scrolled(f, "lab", {list.x, list.y, list.w + 0.8F * em, list.h}, total - 0.3F * em, list);
    scrolled.by_keys("lab.list");
    f.canvas.clip({list.x, list.y - 0.25F * em, list.w, list.h + 0.5F * em});
    y = scrolled.top();
    for (const Line& line : lines) {
      f.canvas.line({{area.x, y - 0.2F * em}, {area.right(), y - 0.2F * em}}, f.palette.line, 1.0F);
      f.canvas.fitted({area.x, y, name_w, row}, line.name, Type::strong, f.palette.ink);
      f.canvas.text({value_x, y}, line.value, Type::strong, line.flag.empty() ? f.palette.ink : f.palette.mark,
                    Align::right);
      f.canvas.fitted({value_x + 0.4F * em, y + 0.1F * em, 4.0F * em, row}, line.unit, Type::small, f.palette.quiet);
      f.canvas.text({range_x, y + 0.1F * em}, line.range, Type::small, f.palette.quiet);
      if (!line.flag.empty()) f.canvas.text({flag_x, y}, line.flag, Type::strong, f.palette.mark);
      f.canvas.text({usual_x, y + 0.1F * em}, line.usual, Type::small, f.palette.quiet);
      if (wide && !line.verdict.empty()) {
        f.canvas.fitted({change_x, y + 0.1F * em, room, row}, line.verdict, Type::small, f.palette.ink);
      }
      y += row;
      if (!wide && !line.verdict.empty()) {
        f.canvas.fitted({area.x + em, y - 0.1F * em, area.w - em, row}, line.verdict, Type::small, f.palette.ink);
        y += row * 0.9F;
      }
    }
    f.canvas.unclip();
    scrolled.draw_bar();
    if (area.bottom() - y > 2 * em) {
      f.canvas.paragraph({area.x, y + 0.4F * em, area.w, area.bottom() - y}, f.word("lab.note"), Type::body,
                         f.palette.quiet, static_cast<int>((area.bottom() - y) / (1.3F * em)));
    }
  }

  Frame& f;
  const Run& run;
  float em;
  Box box;
  double day = 0, before = 0;
  std::string blood;  // what one sample says beside what is in the blood
  std::vector<Line> lines;
};

}  // namespace

void draw_lab_sheet(Frame& f, const Box& box) {
  Sheet(f, box).draw();
}

}  // namespace drawdown::panels
