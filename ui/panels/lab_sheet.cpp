// The lab sheet: the last reports as a laboratory prints them, up to the sample of the playhead's day - with noise,
// units, ranges and marks, this person's usual level, whether the change since the report before is more than noise,
// and what each test can and cannot tell. What happens to the sample and which laboratory's range is used are set on
// the sheet.
#include <algorithm>
#include <cmath>

#include "panels/panels.hpp"
#include "stage/lab_report.hpp"
#include "stage/lab_sample.hpp"
#include "stage/narrate.hpp"

namespace drawdown::panels {

using draw::Align;
using draw::Box;
using draw::Type;
using stage::Which;

namespace {

// A line as it is written.
struct Line {
  std::string name;
  std::string unit;
  std::string range;
  std::string usual;
  std::string verdict;
  std::string tells;
  std::vector<std::string> values;  // by report
  std::vector<stage::LabCell> cells;
};

class Sheet {
 public:
  Sheet(Frame& frame, const Box& b) : f(frame), run(*frame.state.runs.now), em(frame.em()), box(b) {
    day = std::min(f.state.time.day, run.last_day());
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
    // In a low sheet what is said of it goes to the end of the list.
    low = inner.bottom() - y < 24 * em;
    if (!low) y += f.canvas.paragraph({inner.x, y, inner.w, inner.h}, blood, Type::body, f.palette.ink, 3) + 0.5F * em;
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
    const double before = std::max(0.0, day - stage::days_between_reports);
    const unsigned first = f.state.talk.step ? stage::typical_sample(run, day, before, lab) : 0;
    report = stage::lab_report(run, day, first + f.state.lab.sample, lab);
    const auto unit = f.state.page.unit;
    for (const stage::LabLine& one : report.lines) {
      Line line;
      line.cells = one.cells;
      line.tells = f.words.at("lab.tells." + one.key);
      if (one.readout) {
        const body::Readout& row = run.body().model->readouts()[*one.readout];
        line.name = f.words.at("lab." + row.key);
        line.unit = row.unit == "relative" ? f.words.at("lab.relative") : row.unit.substr(0, row.unit.find(' '));
        for (const stage::LabCell& cell : one.cells) line.values.push_back(look::number(cell.value, row.decimals));
        if (one.high > 0) line.range = look::number(one.low, 0) + "–" + look::number(one.high, 0);
        if (one.usual) line.usual = look::number(*one.usual, row.decimals);
      } else {
        const Which which = one.key == "c3" ? Which::c3 : Which::c4;
        line.name = which == Which::c3 ? "C3" : "C4";
        line.unit = stage::unit_text(unit);
        for (const stage::LabCell& cell : one.cells) line.values.push_back(stage::level_text(cell.value, which, unit));
        line.range = stage::level_text(one.low, which, unit) + "–" + stage::level_text(one.high, which, unit);
        if (one.usual) line.usual = stage::level_text(*one.usual, which, unit);
        if (one.percent) {
          line.verdict = f.words.fill(one.beyond ? "lab.beyond" : "lab.within",
                                      {(*one.percent > 0 ? "+" : "") + look::number(*one.percent, 0),
                                       look::number(std::floor(report.days[report.days.size() - 2]), 0)});
        }
      }
      line.range += (line.range.empty() ? "" : " ") + line.unit;
      lines.push_back(std::move(line));
    }
    const auto sample = [&](std::size_t i) { return lines[i].values.back(); };
    blood = f.words.fill("lab.blood", {sample(0), stage::level_text(run.c3(day), Which::c3, unit), sample(1),
                                       stage::level_text(run.c4(day), Which::c4, unit)});
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

  // Where the columns stand: name and range, the reports (as many of the newest as fit), usual, and the change where it
  // has a column.
  struct Columns {
    float name = 0, range = 0, cell = 0, usual = 0;  // widths
    std::size_t first = 0;                           // report
    std::size_t count = 0;
    bool change = false;
    float change_x = 0;
  };
  [[nodiscard]] Columns columns_in(const Box& area) const {
    Columns c;
    float change = f.canvas.width(f.words.at("lab.change"), Type::small);
    c.range = f.canvas.width(f.words.at("lab.range"), Type::small);
    c.usual = f.canvas.width(f.words.at("lab.usual"), Type::small);
    for (const Line& line : lines) {
      c.name = std::max(c.name, f.canvas.width(line.name, Type::strong));
      c.range = std::max(c.range, f.canvas.width(line.range, Type::small));
      c.usual = std::max(c.usual, f.canvas.width(line.usual, Type::small));
      change = std::max(change, f.canvas.width(line.verdict, Type::small));
      for (const std::string& value : line.values) c.cell = std::max(c.cell, f.canvas.width(value, Type::strong));
    }
    for (const double at : report.days) {
      c.cell = std::max(c.cell, f.canvas.width(day_text(at), Type::small) - 2.0F * em);
    }
    c.name = std::min(c.name, 0.3F * area.w) + em;
    c.range += em;
    c.usual += em;
    c.cell += 3.3F * em;  // a triangle before, a letter after
    const float rest = area.w - c.name - c.range - c.usual;
    const auto fit = [&](float width) {
      return std::min(report.days.size(), static_cast<std::size_t>(std::max(1.0F, width / c.cell)));
    };
    c.change = fit(rest - change - em) == report.days.size();
    c.count = fit(rest);
    c.first = report.days.size() - c.count;
    c.change_x = area.x + c.name + c.range + c.usual + static_cast<float>(c.count) * c.cell + em;
    return c;
  }
  [[nodiscard]] std::string day_text(double at) const {
    return f.words.fill("lab.day", {look::number(std::floor(at), 0)});
  }

  void draw_lines(const Box& area) {
    const Columns c = columns_in(area);
    const float line_h = 1.35F * f.canvas.line_height(Type::strong);
    const float small_h = f.canvas.line_height(Type::small);
    const float reports_x = area.x + c.name + c.range;
    const float usual_x = reports_x + static_cast<float>(c.count) * c.cell + 0.6F * em;
    const auto right_of = [&](std::size_t i) { return reports_x + static_cast<float>(i + 1) * c.cell; };
    float y = area.y;
    const auto head = [&](float x, const char* key) {
      f.canvas.text({x, y}, f.words.at(key), Type::small, f.palette.quiet);
    };
    head(area.x, "lab.test");
    head(area.x + c.name, "lab.range");
    for (std::size_t i = 0; i < c.count; ++i) {
      f.canvas.text({right_of(i) - 0.6F * em, y}, day_text(report.days[c.first + i]), Type::small,
                    i + 1 == c.count ? f.palette.ink : f.palette.quiet, Align::right);
    }
    head(usual_x, "lab.usual");
    if (c.change) head(c.change_x, "lab.change");
    y += 1.5F * small_h;
    const std::string& note = f.word("lab.note");
    const std::string& legend = f.words.at("lab.legend");
    const float legend_h = f.canvas.paragraph_height(legend, Type::small, area.w) + 0.4F * em;
    const float foot = low ? 0 : legend_h;
    // Under the heads the rows, each with its verdict under it where there is no column for that, and what the test
    // can tell; they scroll if they must.
    const auto height_of = [&](const Line& line) {
      return line_h + (c.change || line.verdict.empty() ? 0 : 1.2F * small_h) +
             f.canvas.paragraph_height(line.tells, Type::small, area.w) + 0.7F * em;
    };
    float rows = 0;
    for (const Line& line : lines) rows += height_of(line);
    float total = rows + f.canvas.paragraph_height(note, Type::body, area.w) + 0.5F * em;
    if (low) total += legend_h + f.canvas.paragraph_height(blood, Type::body, area.w) + 0.8F * em;
    const Box list{area.x, y, area.w, area.bottom() - y - foot};
    ScrollArea scrolled(f, "lab", {list.x, list.y, list.w + 0.8F * em, list.h}, total, list);
    scrolled.by_keys("lab.list");
    f.canvas.clip({list.x, list.y - 0.25F * em, list.w, list.h + 0.25F * em});
    y = scrolled.top();
    // The newest report stands on a ground of its own.
    const float air = std::clamp((list.h - total) / static_cast<float>(lines.size()), 0.0F, 1.2F * em);
    f.canvas.fill(
        {right_of(c.count - 1) - c.cell, y - 0.2F * em, c.cell, rows + air * static_cast<float>(lines.size())},
        f.palette.raised, 0.3F * em);
    for (const Line& line : lines) {
      f.canvas.line({{area.x, y - 0.2F * em}, {area.right(), y - 0.2F * em}}, f.palette.line, 1.0F);
      const float small_y = y + f.canvas.line_height(Type::strong) - small_h;
      f.canvas.fitted({area.x, y, c.name - 0.5F * em, line_h}, line.name, Type::strong, f.palette.ink);
      f.canvas.text({area.x + c.name, small_y}, line.range, Type::small, f.palette.quiet);
      for (std::size_t i = 0; i < c.count; ++i) draw_cell(line, c.first + i, right_of(i), y, i + 1 == c.count);
      f.canvas.text({usual_x, small_y}, line.usual, Type::small, f.palette.quiet);
      if (c.change) f.canvas.text({c.change_x, small_y}, line.verdict, Type::small, f.palette.ink);
      float under = y + line_h;
      if (!c.change && !line.verdict.empty()) {
        f.canvas.fitted({area.x, under, area.w, small_h}, line.verdict, Type::small, f.palette.ink);
        under += 1.2F * small_h;
      }
      f.canvas.paragraph({area.x, under, area.w, 4 * em}, line.tells, Type::small, f.palette.quiet);
      y += height_of(line) + air;
    }
    y += 0.2F * em;
    if (low) y += f.canvas.paragraph({area.x, y, area.w, total}, blood, Type::body, f.palette.ink) + 0.4F * em;
    if (low) y += f.canvas.paragraph({area.x, y, area.w, total}, legend, Type::small, f.palette.quiet) + 0.4F * em;
    f.canvas.paragraph({area.x, y, area.w, total}, note, Type::body, f.palette.quiet);
    f.canvas.unclip();
    scrolled.draw_bar();
    if (!low)
      f.canvas.paragraph({area.x, area.bottom() - foot + 0.4F * em, area.w, foot}, legend, Type::small,
                         f.palette.quiet);
  }

  // One value: a triangle before it where it differs from the own usual, the laboratory's letter after it.
  void draw_cell(const Line& line, std::size_t report_number, float right, float y, bool newest) {
    const stage::LabCell& cell = line.cells[report_number];
    const Type type = newest ? Type::strong : Type::body;
    const std::string& value = line.values[report_number];
    const float x = right - 1.7F * em;
    f.canvas.text({x, y}, value, type, cell.mark != 0 ? f.palette.mark : f.palette.ink, Align::right);
    if (cell.mark != 0) {
      f.canvas.text({x + 0.3F * em, y}, f.words.at(cell.mark < 0 ? "lab.low" : "lab.high"), Type::strong,
                    f.palette.mark);
    }
    if (cell.own == 0) return;
    const float size = 0.42F * em;
    const float middle = x - f.canvas.width(value, type) - 0.75F * em;
    const float at = y + 0.5F * f.canvas.line_height(type);
    const float tip = cell.own < 0 ? size : -size;
    f.canvas.shape({middle, at}, {{middle - size, at - tip}, {middle, at + tip}, {middle + size, at - tip}},
                   f.palette.ink);
  }

  Frame& f;
  const Run& run;
  float em;
  Box box;
  double day = 0;
  bool low = false;
  stage::LabReport report;
  std::string blood;  // what one sample says beside what is in the blood
  std::vector<Line> lines;
};

}  // namespace

void draw_lab_sheet(Frame& f, const Box& box) {
  Sheet(f, box).draw();
}

}  // namespace drawdown::panels
