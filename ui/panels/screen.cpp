// The whole screen: where each panel goes at this size and text scale, and the keys that work everywhere. Distances
// are in em, so larger text changes the layout before anything is cut off.
#include <algorithm>

#include "panels/views.hpp"

namespace drawdown::panels {

using draw::Box;
using stage::Overlay;

Layout lay_out(const Frame& f, const Box& window) {
  const float em = f.em();
  const float gap = 0.7F * em;
  Layout l;
  Box rest = window.inset(0.9F * em, 0.7F * em);
  l.short_of_room = window.h < (f.state.first.step || f.state.talk.step ? 42 : 31) * em;
  const float head = head_height(f, rest.w, l.short_of_room);
  l.head = {rest.x, rest.y, rest.w, head};
  rest.y += head + gap;
  rest.h -= head + gap;
  const std::string& caution = f.words.at("caution.foot");
  const float foot = f.canvas.paragraph_height(caution, draw::Type::small, rest.w);
  l.foot = {rest.x, rest.bottom() - foot, rest.w, foot};
  rest.h -= foot + 0.5F * em;
  const float most = 0.45F * rest.h;
  // A talk's words are fitted to that; where even small letters take more they are not cut.
  const float bar = f.state.first.step ? std::min(first_minute_height(f, rest.w), most) : talk_height(f, rest.w, most);
  if (const float talk = std::min(bar, 0.75F * rest.h); talk > 0) {
    l.talk = {rest.x, rest.bottom() - talk, rest.w, talk};
    rest.h -= talk + gap;
  }
  if (const std::string banner = stage::banner_text(f.state, f.words); !banner.empty()) {
    const float h = 2.6F * em + f.canvas.paragraph_height(banner, draw::Type::small, rest.w - 12 * em);
    l.banner = {rest.x, rest.y, rest.w, std::min(h, 0.3F * rest.h)};
    rest.y += l.banner.h + gap;
    rest.h -= l.banner.h + gap;
  }
  // In a talk the picture has the whole width: the hall sees it, levers have a tab.
  l.wide = rest.w >= 82 * em && !f.state.talk.step;
  if (l.wide && shown_view(f, l).beside_levers) {
    const float w = std::clamp(0.26F * rest.w, 24 * em, 32 * em);
    l.levers = {rest.right() - w, rest.y, w, rest.h};
    rest.w -= w + gap;
  }
  l.main = rest;
  // Sentence and table stand under the picture where there is room; in plain words they have a page of their own: there
  // the title over the picture says it.
  const float least = 20 * em;  // of the picture
  const bool plain = f.state.page.depth == look::Depth::plain;
  const float strip = plain ? 0 : strip_height(f, rest.w);
  l.words_page = plain || rest.h < least + strip + gap + (rest.h < 34 * em ? 0 : 12.5F * em);
  const float told = l.words_page ? 0 : strip + gap;
  l.stacked = rest.h >= least + told + 9.5F * em + gap;
  const float course = l.stacked ? std::clamp(rest.h - told - gap - 31 * em, 9.5F * em, 0.34F * rest.h) : 0;
  // In a low window the course stands under the picture in small.
  l.sketched = !l.stacked && !f.state.talk.step && rest.h >= 15 * em;
  const float small = l.sketched ? 3.4F * em : 0;
  const float picture = rest.h - told - (l.stacked ? course + gap : 0) - (l.sketched ? small + gap : 0);
  l.balance = {rest.x, rest.y, rest.w, picture};
  l.strip = {rest.x, rest.y + picture + gap, rest.w, strip};
  l.course = {rest.x, rest.bottom() - course - small, rest.w, course + small};
  return l;
}

namespace {

void global_keys(Frame& f) {
  Interaction& i = f.interaction;
  const stage::AppState& s = f.state;
  if (i.take(Key::escape)) {
    if (s.page.overlay != Overlay::cautions && s.page.overlay != Overlay::none) f.act(stage::SetOverlay{Overlay::none});
    if (!s.problem.empty() || s.runs.stopped) f.act(stage::DismissProblem{});
    if (s.talk.step && s.page.overlay == Overlay::none) f.act(stage::EndTalk{});
    if (s.first.step && s.page.overlay == Overlay::none) f.act(stage::EndFirstMinute{});
  }
  // The chooser and a line being typed take letters themselves.
  if (s.page.overlay == Overlay::cautions || s.page.overlay == Overlay::files || i.typing()) return;
  if (i.take(Key::undo)) f.act(stage::Undo{});
  if (i.take(Key::redo)) f.act(stage::Redo{});
  if (i.take_letter('1')) f.act(stage::SetDepth{look::Depth::plain});
  if (i.take_letter('2')) f.act(stage::SetDepth{look::Depth::clinic});
  if (i.take_letter('3')) f.act(stage::SetDepth{look::Depth::mechanism});
  if (i.take_letter('+') || i.take_letter('=')) f.act(stage::SetTextPercent{s.look.text_percent + 10});
  if (i.take_letter('-')) f.act(stage::SetTextPercent{s.look.text_percent - 10});
  if (i.take_letter('r')) f.act(stage::SetRoom{look::next(s.look.room)});
  if (i.take_letter('k')) f.act(stage::KeepRun{});
  if (i.take_letter('u')) f.act(stage::ToggleUnit{});
  if (i.take_letter('t')) f.act(stage::NextTrack{});
  if (i.take_letter('e')) f.act(stage::ToggleLanguage{});
  if (i.take_letter('v')) f.act(stage::ToggleMotion{});
  if (i.take_letter('o'))
    f.act(stage::SetOverlay{s.page.overlay == Overlay::stories ? Overlay::none : Overlay::stories});
  if (i.take_letter('?')) f.act(stage::SetOverlay{s.page.overlay == Overlay::keys ? Overlay::none : Overlay::keys});
  if (i.take_letter('d'))
    f.act(stage::SetOverlay{s.page.overlay == Overlay::glossary ? Overlay::none : Overlay::glossary});
  for (const ViewRow& row : f.views) {
    if (row.key != 0 && i.take_letter(row.key)) f.act(stage::SetView{row.view});
  }
  if (i.take_letter('n')) f.act(s.talk.step ? stage::Action{stage::EndTalk{}} : stage::Action{stage::StartTalk{}});
  if (i.take_letter('h')) f.act(stage::ToggleNote{});
  if (i.take_letter('x')) f.act(stage::ComeBack{});
  if (i.take_letter('y')) f.act(stage::TakeUpAside{});
  if (i.take_letter('f')) f.act(stage::StartFirstMinute{});
}

// After the panels, so that a control with the focus has had the arrows and the space bar first.
void leftover_keys(Frame& f) {
  Interaction& i = f.interaction;
  if (f.state.page.overlay != Overlay::none) return;
  if (f.state.talk.step) {
    // A presenter's clicker sends Page Down and Page Up.
    if (i.take(Key::page_down) || i.take(Key::right)) f.act(stage::StepTalk{1});
    if (i.take(Key::page_up) || i.take(Key::left)) f.act(stage::StepTalk{-1});
    if (i.take(Key::enter)) f.act(stage::Reveal{});
    if (i.take(Key::home)) f.act(stage::JumpTalk{0});
    if (i.take(Key::end)) f.act(stage::JumpTalk{f.state.document.now.story.talk.size() - 1});
  }
  if (i.take(Key::space)) f.act(stage::TogglePlay{});
  if (i.take(Key::left)) f.act(stage::StepDays{-1});
  if (i.take(Key::right)) f.act(stage::StepDays{1});
  if (i.take(Key::page_up)) f.act(stage::StepDays{-10});
  if (i.take(Key::page_down)) f.act(stage::StepDays{10});
  if (i.take(Key::home)) f.act(stage::GoToDay{0});
  if (i.take(Key::end)) f.act(stage::GoToDay{f.state.document.now.story.days});
}

}  // namespace

void draw_screen(Frame& f, const Box& window) {
  f.canvas.fill(window, f.palette.ground, 0);
  global_keys(f);
  const Layout l = lay_out(f, window);
  const bool covered = f.state.page.overlay != Overlay::none;
  f.interaction.enable(!covered);
  draw_head(f, l.head, l);
  if (l.banner.h > 0) draw_banner(f, l.banner);
  if (f.state.runs.now) {
    const ViewRow& view = shown_view(f, l);
    view.draw(f, l);
    if (l.wide && view.beside_levers) draw_levers(f, l.levers);
  }
  if (f.state.first.step) {
    draw_first_minute(f, l.talk);
  } else if (f.state.talk.step) {
    draw_talk(f, l.talk);
  }
  draw_foot(f, l.foot);
  f.interaction.enable(true);
  if (covered) f.canvas.fill(window, f.palette.ground.with_alpha(0.82F), 0);
  if (f.state.page.overlay == Overlay::cautions) draw_cautions(f, window);
  if (f.state.page.overlay == Overlay::stories) draw_stories(f, window);
  if (f.state.page.overlay == Overlay::keys) draw_keys(f, window);
  if (f.state.page.overlay == Overlay::glossary) draw_glossary(f, window);
  if (f.state.page.overlay == Overlay::files) draw_files(f, window);
  if (f.state.page.overlay == Overlay::tools) draw_tools(f, window);
  draw_pointed_term(f, window);
  leftover_keys(f);
}

}  // namespace drawdown::panels
