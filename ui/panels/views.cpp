// The rows of the views.
#include "panels/views.hpp"

#include <algorithm>

namespace drawdown::panels {

using draw::Box;
using stage::View;

namespace {

void balance(Frame& f, const Layout& l) {
  draw_balance(f, l.balance);
  if (!l.words_page) draw_strip(f, l.strip);
  if (l.stacked) draw_course(f, l.course);
  if (l.sketched) {
    card(f, l.course);
    const Run& run = *f.state.runs.now;
    draw_sketch(f, l.course.inset(0.8F * f.em(), 0.4F * f.em()), *stage::sketch_of(run, stage::Against::own_usual),
                f.state.time.day / std::max(1e-9, run.last_day()));
  }
}

void levers(Frame& f, const Layout& l) {
  // A drawer under the picture, so that what a lever does is seen; where there is no room for both the levers alone.
  if (!f.state.talk.step) {
    const float em = f.em();
    const float least = 10.0F * em;  // of the picture
    if (l.main.h < least + 9 * em || !f.state.runs.account) {
      draw_levers(f, l.main);
      return;
    }
    const float drawer = std::min(l.main.h - least - 0.7F * em, 0.6F * l.main.h);
    draw_balance(f, {l.main.x, l.main.y, l.main.w, l.main.h - drawer - 0.7F * em});
    draw_levers(f, {l.main.x, l.main.bottom() - drawer, l.main.w, drawer});
    return;
  }
  // What is asked about the lines is seen beside the levers.
  const float width = std::min(std::max(24 * f.em(), 0.4F * l.main.w), 0.62F * l.main.w);
  draw_course(f, {l.main.x, l.main.y, l.main.w - width - 0.7F * f.em(), l.main.h});
  draw_levers(f, {l.main.right() - width, l.main.y, width, l.main.h});
}

// A view that has the whole of the middle.
ViewRow row(View view, const char* words, char key, void (*draw)(Frame&, const Box&)) {
  ViewRow r;
  r.view = view;
  r.words = words;
  r.key = key;
  r.draw = [draw](Frame& f, const Layout& l) { draw(f, l.main); };
  return r;
}

}  // namespace

std::vector<ViewRow> standard_views() {
  std::vector<ViewRow> rows{
      row(View::balance, "view.balance", 'b', draw_balance), row(View::words, "view.words", 'w', draw_strip),
      row(View::course, "view.course", 'c', draw_course),    row(View::cascade, "view.cascade", 'a', draw_cascade),
      row(View::tissues, "view.tissues", 'i', draw_tissues), row(View::lab, "view.lab", 'g', draw_lab_sheet),
      row(View::levers, "view.levers", 'l', draw_levers),    row(View::compare, "view.compare", 'm', draw_compare),
      row(View::study, "view.study", 's', draw_study),       row(View::own, "view.own", 'p', draw_own)};
  for (ViewRow& r : rows) {
    if (r.view == View::balance) r.draw = balance;
    if (r.view == View::words) r.applies = [](const Layout& l) { return l.words_page; };
    if (r.view == View::levers) {
      r.applies = [](const Layout& l) { return !l.wide; };
      r.draw = levers;
    }
    if (r.view == View::own) r.beside_levers = false;  // own numbers have no levers
  }
  return rows;
}

const ViewRow& shown_view(const Frame& f, const Layout& layout) {
  const auto chosen = std::find_if(f.views.begin(), f.views.end(),
                                   [&](const ViewRow& r) { return r.view == f.state.page.view && r.applies(layout); });
  return chosen == f.views.end() ? f.views.front() : *chosen;
}

}  // namespace drawdown::panels
