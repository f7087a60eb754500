// The study view: which page, what it says in one line, and the button that works it out for the playhead's day.
#include "panels/study.hpp"

#include <algorithm>
#include <cmath>

#include "panels/panels.hpp"

namespace drawdown::panels {

using draw::Box;
using draw::Type;
using stage::StudyPage;

void draw_study(Frame& f, const Box& box) {
  card(f, box);
  const float em = f.em();
  const stage::AppState& s = f.state;
  const Box inner = box.inset(1.1F * em, 0.8F * em);
  const float row = 2.1F * em;
  const std::vector<std::string> pages{f.words.at("study.tracer"), f.words.at("study.levers"),
                                       f.words.at("study.truth")};
  const float pages_w = std::min(choice_width(f, pages), inner.w);
  const int page = choice(f, "study.page", {inner.x, inner.y, pages_w, row}, pages, static_cast<int>(s.study.page));
  if (page >= 0) f.act(stage::SetStudyPage{static_cast<StudyPage>(page)});

  // What the page is asked with: after the pages, or in a row of their own.
  float x = inner.x + pages_w + 0.8F * em;
  float y = inner.y;
  const auto place = [&](const std::string& name, const std::string& label) {
    ButtonStyle style;
    style.type = Type::small;
    const float w = button_width(f, label, Type::small);
    if (x + w > inner.right()) {
      x = inner.x;
      y += row + 0.4F * em;
    }
    const bool pressed = button(f, name, {x, y, w, row}, label, style);
    x += w + 0.5F * em;
    return pressed;
  };
  const std::string day = look::number(std::floor(s.time.day), 0);
  if (s.study.page == StudyPage::tracer) {
    if (place("study.protein", s.study.traced == study::Traced::c3 ? "C3" : "C4")) f.act(stage::ToggleTraced{});
    if (place("study.noise", f.words.at(s.study.counting_noise ? "study.noise_on" : "study.noise_off")))
      f.act(stage::ToggleNoise{});
    if (place("study.ask", f.words.fill("study.inject", {day}))) f.act(stage::AskStudy{});
  } else if (s.study.page == StudyPage::levers) {
    if (place("study.ask", f.words.fill("study.work_out", {day}))) f.act(stage::AskStudy{});
  }
  y += row + 0.7F * em;
  std::string intro;
  if (s.study.page == StudyPage::tracer) {
    intro = f.words.fill("study.intro", s.page.depth, {s.study.traced == study::Traced::c3 ? "C3" : "C4"});
  } else if (s.study.page == StudyPage::levers) {
    intro = f.words.fill("study.levers_intro", s.page.depth,
                         {s.study.effects ? look::number(std::floor(s.study.effects->day), 0) : day});
  } else {
    intro = f.word("study.truth_intro");
  }
  if (s.study.busy) intro += " " + f.words.at("study.working");
  y += f.canvas.paragraph({inner.x, y, inner.w, 4 * em}, intro, Type::body, f.palette.quiet, 2) + 0.5F * em;
  const Box body{inner.x, y, inner.w, inner.bottom() - y};
  if (body.h < 4 * em) return;
  f.canvas.clip(body);
  switch (s.study.page) {
    case StudyPage::tracer:
      draw_tracer_page(f, body);
      break;
    case StudyPage::levers:
      draw_effects_page(f, body);
      break;
    case StudyPage::truth:
      draw_truth_page(f, body);
      break;
  }
  f.canvas.unclip();
}

}  // namespace drawdown::panels
