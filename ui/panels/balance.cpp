// The opening picture: a liver, a vessel for each protein, an opening in its floor. What is drawn is the account
// (readout/account.hpp); where and how wide is worked out in stage_shape.cpp.
#include <algorithm>
#include <array>

#include "panels/balance_parts.hpp"
#include "panels/panels.hpp"
#include "stage/verdict_words.hpp"

namespace drawdown::panels {

using draw::Align;
using draw::Box;
using draw::Type;

namespace {

class Picture {
 public:
  Picture(Frame& frame, const Box& box, const Run& of, const readout::Account& its, std::string name)
      : f(frame), run(of), account(its), key(std::move(name)), em(frame.em()) {
    area = box.inset(1.1F * em, 0.7F * em);
    const scenario::Laboratory& laboratory = run.story().laboratory;
    sides[0] = side(stage::Which::c3, "C3", f.palette.c3, laboratory.c3, c3_in_account);
    sides[1] = side(stage::Which::c4, "C4", f.palette.c4, laboratory.c4, c4_in_account);
  }

  void draw() {
    lines = stage::verdict_lines(stage::verdicts(run, account, f.state.time.day), f.words);
    StageRoom room;
    room.em = em;
    room.verdict = verdict_height();
    const StageTexts texts = stage_texts(f, area);
    room.texts = texts;
    shape =
        shape_of(sides[0].numbers, sides[1].numbers,
                 plates_for(f, run, account.tokens(), sides[0].numbers, sides[1].numbers, most_plates()), area, room);
    draw_verdict();
    for (std::size_t i = 0; i < 2; ++i) draw_streams(f, shape, sides[i], i);
    for (std::size_t i = 0; i < 2; ++i) draw_side(f, shape, sides[i], i, texts);
    draw_liver(texts);
    draw_plates(f, run, shape, account.tokens(), texts);
    for (std::size_t i = 0; i < 2; ++i) draw_figures(f, shape, sides[i], i, texts);
    if (texts.note) draw_note();
    if (!f.state.look.bare) tell_parts(f, shape, sides, account.tokens(), key);
    if (const readout::Account* before = f.state.levers.before.get(); before != nullptr && shown_now()) {
      const double hour = 24.0 * f.state.time.day;
      const auto numbers = [&](std::size_t p) { return side_numbers(before->tokens(), before->at(p, hour)); };
      const StageShape old = shape_of(numbers(c3_in_account), numbers(c4_in_account), shape.plates, area, room);
      for (std::size_t i = 0; i < 2; ++i) draw_before(f, shape, old, i);
    }
    if (f.state.first.step == stage::FirstMinute::watch_it_fall ||
        f.state.first.step == stage::FirstMinute::watch_it_rise) {
      for (const SideShape& s : shape.side) {
        f.canvas.outline(s.vessel.inset(-0.6F * em), f.palette.mark, 0.8F * em, std::max(2.5F, 0.22F * em));
      }
    }
  }

 private:
  Side side(stage::Which which, const char* name, const look::Colour& colour, const scenario::Interval& range,
            std::size_t p) {
    Side s{&run, which, account.at(p, 24.0 * f.state.time.day), {}, name, colour, range};
    s.numbers = side_numbers(account.tokens(), s.account);
    const std::string at = key + name;
    const auto ease = [&](const char* part, double& value) { value = f.motion.towards(at + part, value); };
    ease(".level", s.numbers.level);
    ease(".made", s.numbers.made);
    ease(".given", s.numbers.given);
    ease(".volume", s.numbers.volume);
    ease(".tissue", s.numbers.from_tissue);
    ease(".ordinary", s.numbers.ordinary);
    for (std::size_t t = 0; t < s.numbers.extra.size(); ++t) {
      s.numbers.extra[t] = f.motion.towards(at + std::to_string(t), s.numbers.extra[t]);
    }
    return s;
  }

  [[nodiscard]] bool shown_now() const { return &run == f.state.runs.now.get(); }

  [[nodiscard]] Type verdict_type() const {
    for (const Type type : {Type::verdict, Type::title, Type::figure, Type::heading}) {
      const bool fits =
          std::all_of(lines.begin(), lines.end(), [&](const auto& l) { return f.canvas.width(l, type) <= area.w; });
      const float height = f.canvas.line_height(type) * static_cast<float>(lines.size());
      if (fits && height <= 0.17F * area.h) return type;
    }
    return Type::strong;
  }
  [[nodiscard]] float verdict_height() const {
    return f.canvas.line_height(verdict_type()) * (lines.size() > 1 ? 2.05F : 1.1F);
  }

  [[nodiscard]] std::size_t most_plates() const {
    return static_cast<std::size_t>(0.29F * (area.h - verdict_height()) / (1.55F * em));
  }

  void draw_verdict() {
    const Type type = verdict_type();
    float y = shape.verdict.y;
    for (const std::string& said : lines) {
      f.canvas.fitted({area.x, y, area.w, f.canvas.line_height(type)}, said, type, f.palette.ink, Align::centre);
      y += f.canvas.line_height(type);
    }
  }

  void draw_liver(const StageTexts& texts) {
    const draw::Outline outline = f.shapes.figure(draw::Figure::liver, shape.liver);
    f.canvas.shape(outline.centre, outline.points, f.palette.liver);
    const float name_y = shape.liver.y + 0.36F * shape.liver.h - 0.6F * em;
    const float x = shape.liver.x + 0.44F * shape.liver.w;
    f.canvas.text({x, name_y}, f.words.at("picture.liver"), Type::heading, f.palette.liver_ink, Align::centre);
    if (texts.hall) return;  // one word will do
    const std::string& makes = f.words.at("picture.makes", f.state.page.depth);
    if (f.canvas.width(makes, Type::small) > 0.7F * shape.liver.w || shape.liver.h < 5.2F * em) return;
    f.canvas.text({x, name_y + 1.35F * em}, makes, Type::small, f.palette.liver_ink, Align::centre);
  }

  void draw_note() {
    const bool below = sides[0].account.against_usual < 1.0 - readout::near_usual ||
                       sides[1].account.against_usual < 1.0 - readout::near_usual;
    const std::string& note = f.words.at(below ? "picture.rest_below" : "picture.rest_usual");
    if (f.canvas.width(note, Type::small) > shape.note.w) return;
    f.canvas.text({shape.note.middle_x(), shape.note.y}, note, Type::small, f.palette.quiet, Align::centre);
  }

  Frame& f;
  const Run& run;
  const readout::Account& account;
  std::string key;
  float em;
  Box area;
  std::array<Side, 2> sides;
  StageShape shape;
  std::vector<std::string> lines;
};

}  // namespace

StageTexts stage_texts(const Frame& f, const Box& area) {
  const float em = f.em();
  StageTexts t;
  t.hall = f.state.talk.step.has_value() && f.state.page.depth == look::Depth::plain;
  t.note = !t.hall && area.h > 27 * em && area.w > 44 * em;
  t.width = !t.hall && area.h > 17 * em;
  t.limits = !t.hall && area.h > 16 * em;
  t.flows = !t.hall && area.h > 13 * em;
  t.wear = !t.hall && area.h > 13 * em;
  t.heading = !t.hall && area.h > 11 * em;
  return t;
}

void draw_balance(Frame& f, const Box& box) {
  draw_stage(f, box, *f.state.runs.now, *f.state.runs.account, "stage.");
}

void draw_stage(Frame& f, const Box& box, const Run& run, const readout::Account& account, const std::string& name) {
  card(f, box);
  f.canvas.clip(box);
  Picture(f, box, run, account, name).draw();
  f.canvas.unclip();
}

}  // namespace drawdown::panels
