// What could make this pattern: a bar an explanation, a bracket round those that cannot be told apart, and what
// follows.
#include <algorithm>

#include "panels/own_parts.hpp"
#include "stage/own_words.hpp"
#include "stage/why_words.hpp"

namespace drawdown::panels {

using draw::Align;
using draw::Box;
using draw::Type;

namespace {

struct Line {
  std::string text;
  Type type = Type::body;
};

// The bars and what is said of them, on a page that scrolls.
class WhyPage {
 public:
  WhyPage(Frame& f, const Box& box) : f_(f), box_(box), em_(f.em()), wide_(box.w - 1.2F * f.em()) {}

  void add(const std::string& text, Type type) { (bars_.empty() ? above_ : below_).push_back({text, type}); }
  void add(const std::vector<stage::WhyBar>& bars) { bars_ = bars; }

  void draw() {
    float total = bar_height() * static_cast<float>(bars_.size()) + 0.6F * em_;
    for (const auto* lines : {&above_, &below_}) {
      for (const Line& line : *lines) total += height(line);
    }
    ScrollArea scrolled(f_, "own.why_list", box_, total, box_);
    scrolled.by_keys("own.why_list");
    f_.canvas.clip(box_);
    float y = scrolled.top();
    for (const Line& line : above_) y += draw_line(line, y);
    draw_bracket(y);
    for (const stage::WhyBar& bar : bars_) y += draw_bar(bar, y);
    if (!bars_.empty()) y += 0.6F * em_;
    for (const Line& line : below_) y += draw_line(line, y);
    f_.canvas.unclip();
    scrolled.draw_bar();
  }

 private:
  [[nodiscard]] float bar_height() const { return 2.3F * em_; }
  [[nodiscard]] bool in_sight(float y, float h) const { return y + h > box_.y && y < box_.bottom(); }
  [[nodiscard]] float height(const Line& line) const {
    return f_.canvas.paragraph_height(line.text, line.type, wide_ - 0.6F * em_) + 0.55F * em_;
  }
  float draw_line(const Line& line, float y) {
    const float h = height(line);
    if (in_sight(y, h)) {
      const look::Colour& ink = line.type == Type::small ? f_.palette.quiet : f_.palette.ink;
      const Box place{box_.x + 0.6F * em_, y, wide_ - 0.6F * em_, h};
      if (line.type == Type::strong) {
        f_.canvas.paragraph(place, line.text, line.type, ink);
      } else {
        explained_paragraph(f_, place, line.text, line.type, ink);
      }
    }
    return h;
  }
  // Round the first bars: those that fit stand in front.
  void draw_bracket(float y) {
    const auto many = static_cast<float>(
        std::count_if(bars_.begin(), bars_.end(), [](const stage::WhyBar& bar) { return bar.together; }));
    if (many < 1.0F) return;
    const float x = box_.x + 0.2F * em_;
    const float top = y + 0.2F * em_;
    const float bottom = y + many * bar_height() - 0.4F * em_;
    if (!in_sight(top, bottom - top)) return;
    f_.canvas.line({{x + 0.6F * em_, top}, {x, top}, {x, bottom}, {x + 0.6F * em_, bottom}}, f_.palette.ink,
                   0.12F * em_);
  }
  float draw_bar(const stage::WhyBar& bar, float y) {
    const float h = bar_height();
    if (!in_sight(y, h)) return h;
    const Box row{box_.x + 1.2F * em_, y, wide_ - 1.2F * em_, h};
    const look::Colour& ink = bar.fits ? f_.palette.ink : f_.palette.quiet;
    const float verdict = std::min(0.4F * row.w, f_.canvas.width(bar.verdict, Type::small) + 0.4F * em_);
    f_.canvas.fitted({row.x, y, row.w - verdict - 0.4F * em_, 1.2F * em_}, bar.name, Type::small, ink);
    f_.canvas.fitted({row.right() - verdict, y, verdict, 1.2F * em_}, bar.verdict, Type::small, ink, Align::right);
    const float figure = std::min(0.3F * row.w, 4.5F * em_);
    const Box track{row.x, y + 1.35F * em_, row.w - figure, 0.5F * em_};
    f_.canvas.fill(track, f_.palette.raised, 0.1F * em_);
    const float share = track.w * static_cast<float>(bar.share);
    f_.canvas.fill({track.x, track.y, std::max(0.15F * em_, share), track.h},
                   bar.fits ? f_.palette.usual : f_.palette.quiet, 0.1F * em_);
    f_.canvas.fitted({row.right() - figure, y + 1.05F * em_, figure, 1.1F * em_},
                     stage::share_text(bar.share, f_.words), Type::small, ink, Align::right);
    return h;
  }

  Frame& f_;
  Box box_;
  float em_, wide_;
  std::vector<Line> above_, below_;
  std::vector<stage::WhyBar> bars_;
};

void draw_waiting(Frame& f, const Box& box) {
  const float em = f.em();
  const study::explain::Control& control = *f.state.own.fitting;
  const double share = control.progress;
  const std::string& intro = f.words.at("why.intro");
  f.canvas.paragraph(box, intro, Type::body, f.palette.ink);
  float y = box.y + f.canvas.paragraph_height(intro, Type::body, box.w) + 0.8F * em;
  const std::string said =
      f.words.fill(control.building ? "why.building" : "why.weighing", {look::number(100.0 * share, 0)});
  f.canvas.fitted({box.x, y, box.w, 1.3F * em}, said, Type::small, f.palette.quiet);
  y += 1.5F * em;
  f.canvas.fill({box.x, y, box.w, 0.8F * em}, f.palette.raised, 0.4F * em);
  f.canvas.fill({box.x, y, std::max(0.8F * em, box.w * static_cast<float>(share)), 0.8F * em}, f.palette.select,
                0.4F * em);
  const std::string& cancel = f.words.at("own.cancel");
  if (button(f, "own.cancel", {box.x, y + 1.6F * em, button_width(f, cancel), 2.1F * em}, cancel)) {
    f.act(stage::CancelFit{});
  }
}

}  // namespace

void draw_own_why(Frame& f, const Box& box) {
  const float em = f.em();
  const stage::OwnResults& own = f.state.own;
  const float row = 2.1F * em;
  if (own.fitting) return draw_waiting(f, box);
  const bool weighed = own.why && own.why->weights.status == study::explain::Status::done;
  const bool fitted = own.fit && own.fit->status == labs::FitStatus::done;
  const std::string& go = f.words.at(weighed ? "own.again" : "own.work_out");
  float x = box.x;
  if (button(f, "own.work_out", {x, box.y, button_width(f, go), row}, go)) f.act(stage::AskFit{});
  x += button_width(f, go) + 0.5F * em;
  float y = box.y + row + 0.7F * em;
  if (weighed && (!own.fit || fitted)) {
    const std::string label =
        fitted && own.outlook < own.fit->outlooks.size()
            ? f.words.fill("own.ahead", {f.words.at("own.ahead_" + own.fit->outlooks[own.outlook].name)})
            : f.words.at("why.what_if");
    ButtonStyle style;
    style.type = Type::small;
    const float w = button_width(f, label, Type::small);
    const bool fits = x + w <= box.right();
    const Box b{fits ? x : box.x, fits ? box.y : y, std::min(w, box.w), row};
    if (!fits) y += row + 0.5F * em;
    if (button(f, "own.outlook", b, label, style)) f.act(stage::NextOutlook{});
  }
  WhyPage page(f, {box.x, y, box.w, box.bottom() - y});
  // What was asked for last stands first.
  if (own.fit) {
    for (const stage::FitSentence& said : stage::fit_sentences(*own.fit, f.words)) {
      page.add(said.text, said.headline ? Type::strong : said.small ? Type::small : Type::body);
    }
  }
  if (weighed) {
    const stage::WhyTold told = stage::why_told(*own.why, f.words);
    page.add(told.head, Type::strong);
    page.add(told.bars);
    for (const std::string& said : told.sentences) page.add(said, Type::body);
    for (const std::string& said : told.small) page.add(said, Type::small);
  } else {
    const bool few = own.reading.rows.size() < labs::fewest_to_fit ||
                     (own.why && own.why->weights.status == study::explain::Status::too_few);
    page.add(f.words.at(few ? "why.few" : "why.intro"), Type::body);
    page.add(f.words.at("why.shares"), Type::small);
    page.add(f.words.at("why.caution"), Type::small);
  }
  page.draw();
}

}  // namespace drawdown::panels
