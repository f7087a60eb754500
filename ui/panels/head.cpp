// The head strip: what story this is, how it is told and shown, and the way through its days.
#include <algorithm>
#include <cmath>

#include "panels/views.hpp"

namespace drawdown::panels {

using draw::Box;
using draw::Type;
using stage::View;

namespace {

// What the next language calls itself.
std::string language_label(const Frame& f) {
  const auto next = stage::next_language(f.state);
  return next ? next->name : std::string();
}

constexpr float transport_beside_tabs = 56;  // em of width from which they share a row

struct Measures {
  float row;  // height of a row of controls
  float gap;
  float controls;  // width of depth, text, room, keys and stories together
  bool folded;     // the controls stand behind one button
  Type type;       // of their labels
};

std::string room_key(look::Room room) {
  return "head." + look::name_of(look::room_names, room);
}

std::vector<std::string> depth_labels(const Frame& f) {
  return {f.words.at("depth.plain"), f.words.at("depth.clinic"), f.words.at("depth.mechanism")};
}

Measures measure(const Frame& f, float width) {
  const float em = f.em();
  Measures m{2.2F * em, 0.5F * em, 0, false, Type::strong};
  {
    const Type type = m.type;
    m.controls = 7 * m.gap;
    for (const std::string& label : depth_labels(f)) m.controls += button_width(f, label, type);
    for (const char* key : {"head.smaller", "head.larger", "head.keys", "head.stories", "head.talk"}) {
      m.controls += button_width(f, f.words.at(key), type);
    }
    m.controls += button_width(f, language_label(f), type);
    m.controls += button_width(f, f.words.at(room_key(f.state.look.room)), type);
  }
  m.folded = width < m.controls + 24 * em;
  return m;
}

void draw_controls(Frame& f, const Box& box, const Measures& m) {
  const stage::AppState& s = f.state;
  float x = box.right();
  const auto from_right = [&](const std::string& label) {
    const float w = button_width(f, label, m.type);
    x -= w;
    const Box b{x, box.y, w, m.row};
    x -= m.gap;
    return b;
  };
  const std::string& keys = f.words.at("head.keys");
  const Box keys_box = from_right(keys);
  const std::string language = language_label(f);
  const Box language_box = from_right(language);
  const std::string& room = f.words.at(room_key(s.look.room));
  const Box room_box = from_right(room);
  const std::string& larger = f.words.at("head.larger");
  const Box larger_box = from_right(larger);
  const std::string& smaller = f.words.at("head.smaller");
  const Box smaller_box = from_right(smaller);
  const auto labels = depth_labels(f);
  const float w = choice_width(f, labels, m.type);
  x -= w;
  const Box depth_box{x, box.y, w, m.row};
  x -= m.gap;
  const std::string& stories = f.words.at("head.stories");
  const Box stories_box = from_right(stories);
  const std::string& talk = f.words.at("head.talk");
  const Box talk_box = from_right(talk);
  // Drawn left to right, so that Tab walks them so.
  ButtonStyle plain;
  plain.type = m.type;
  if (button(f, "head.stories", stories_box, stories, plain)) f.act(stage::SetOverlay{stage::Overlay::stories});
  ButtonStyle talking = plain;
  talking.chosen = s.talk.step.has_value();
  if (button(f, "head.talk", talk_box, talk, talking)) {
    f.act(s.talk.step ? stage::Action{stage::EndTalk{}} : stage::Action{stage::StartTalk{}});
  }
  const int depth = choice(f, "head.depth", depth_box, labels, static_cast<int>(s.page.depth), m.type);
  if (depth >= 0) f.act(stage::SetDepth{static_cast<look::Depth>(depth)});
  if (button(f, "head.smaller", smaller_box, smaller, plain)) f.act(stage::SetTextPercent{s.look.text_percent - 10});
  if (button(f, "head.larger", larger_box, larger, plain)) f.act(stage::SetTextPercent{s.look.text_percent + 10});
  if (button(f, "head.room", room_box, room, plain)) {
    f.act(stage::SetRoom{look::next(s.look.room)});
  }
  if (button(f, "head.language", language_box, language, plain)) f.act(stage::ToggleLanguage{});
  if (button(f, "head.keys", keys_box, keys, plain)) f.act(stage::SetOverlay{stage::Overlay::keys});
}

std::vector<const ViewRow*> tabs_of(const Frame& f, const Layout& l) {
  std::vector<const ViewRow*> tabs;
  for (const ViewRow& row : f.views) {
    if (row.applies(l)) tabs.push_back(&row);
  }
  return tabs;
}

// Large text in a small window sets the tabs closer, then smaller.
struct TabStyle {
  Type type = Type::strong;
  float air = 1.2F;  // em
};
float tab_width(const Frame& f, const ViewRow& tab, const TabStyle& style) {
  return f.canvas.width(f.words.at(tab.words), style.type) + style.air * f.em();
}
float tabs_width(const Frame& f, const Layout& l, const TabStyle& style) {
  float w = 0;
  for (const ViewRow* tab : tabs_of(f, l)) w += tab_width(f, *tab, style);
  return w;
}
TabStyle tab_style(const Frame& f, const Layout& l, float width) {
  for (const TabStyle& style : {TabStyle{}, TabStyle{Type::strong, 0.7F}, TabStyle{Type::small, 0.7F}}) {
    if (tabs_width(f, l, style) <= width) return style;
  }
  return {Type::small, 0.35F};
}

void draw_tabs(Frame& f, const Box& box, const Layout& l) {
  float x = box.x;
  const TabStyle style = tab_style(f, l, box.w);
  const ViewRow& shown = shown_view(f, l);
  for (const ViewRow* tab : tabs_of(f, l)) {
    const std::string& label = f.words.at(tab->words);
    const float w = tab_width(f, *tab, style);
    const Box b{x, box.y, w, box.h};
    const auto r = f.interaction.control(tab->words, b);
    const bool chosen = shown.view == tab->view;
    f.canvas.text({b.middle_x(), b.middle_y() - f.canvas.line_height(style.type) / 2}, label, style.type,
                  chosen || r.hovered ? f.palette.ink : f.palette.quiet, draw::Align::centre);
    if (chosen)
      f.canvas.fill({b.x + 0.5F * f.em(), b.bottom() - 0.2F * f.em(), w - f.em(), 0.2F * f.em()}, f.palette.ink);
    if (r.show_focus) focus_ring(f, b.inset(0.2F * f.em()), 0.4F * f.em());
    if (r.clicked) f.act(stage::SetView{tab->view});
    x += w;
  }
}

// What was taken back or done again, lever by lever: the first two, and how many more; empty = nothing.
std::string undone_text(const Frame& f) {
  const auto& undone = f.state.document.undone;
  if (!undone) return {};
  const auto& rows = f.state.document.now.story.lever_rows();
  std::string all;
  constexpr std::size_t most = 2;
  for (std::size_t i = 0; i < std::min(most, undone->moved.size()); ++i) {
    const auto& moved = undone->moved[i];
    const body::Lever& lever = rows[moved.lever];
    const std::string& name = f.words.at("lever." + lever.name);
    if (!all.empty()) all += ", ";
    all += std::isnan(moved.from)
               ? name
               : f.words.fill("undo.moved", {name, value_text(f, lever, moved.from), value_text(f, lever, moved.to)});
  }
  if (undone->moved.size() > most) all += f.words.fill("undo.more", {std::to_string(undone->moved.size() - most)});
  return f.words.fill(undone->again ? "undo.again" : "undo.done", {all});
}

void triangle(Frame& f, float x, float y, float size, const look::Colour& ink) {
  f.canvas.shape({x, y}, {{x - 0.5F * size, y - 0.6F * size}, {x + 0.6F * size, y}, {x - 0.5F * size, y + 0.6F * size}},
                 ink);
}

void draw_transport(Frame& f, const Box& box) {
  const stage::AppState& s = f.state;
  const float em = f.em();
  const float gap = 0.5F * em;
  float x = box.x;
  const Box play{x, box.y, 2.6F * em, box.h};
  const auto r = f.interaction.control("head.play", play);
  f.canvas.fill(play, r.hovered ? look::mix(f.palette.select, f.palette.quiet, 0.3F) : f.palette.select, play.h / 2);
  if (r.show_focus) focus_ring(f, play, play.h / 2);
  if (s.time.playing) {
    for (const float dx : {-0.38F, 0.14F}) {
      f.canvas.fill({play.middle_x() + dx * em, play.middle_y() - 0.45F * em, 0.26F * em, 0.9F * em},
                    f.palette.select_ink);
    }
  } else {
    triangle(f, play.middle_x(), play.middle_y(), 0.8F * em, f.palette.select_ink);
  }
  if (r.clicked) f.act(stage::TogglePlay{});
  x += play.w + gap;

  const std::string day = f.words.at("head.day") + " " + look::number(std::floor(s.time.day), 0);
  const std::string widest = f.words.at("head.day") + " 8888";
  f.canvas.text({x, box.middle_y() - f.canvas.line_height(Type::heading) / 2}, day, Type::heading, f.palette.ink);
  x += f.canvas.width(widest, Type::heading) + gap;

  const std::string speed = f.words.fill("head.speed_short", {look::number(s.time.speed, 0)});
  const float speed_width = f.canvas.width("100 d/s", Type::small) + 0.4F * em;
  const float side = 1.8F * em;
  const float right = box.right() - speed_width - 2 * side;
  const auto moved = slider(f, "head.day", {x, box.y, std::max(4 * em, right - gap - x), box.h}, s.time.day, 0.0,
                            s.document.now.story.days, 1.0, std::nan(""));
  if (moved.moved) f.act(stage::GoToDay{moved.value});
  x = right;
  if (button(f, "head.slower", {x, box.y, side, box.h}, "−")) f.act(stage::SetSpeed{s.time.speed / 2});
  f.canvas.text({x + side + speed_width / 2, box.middle_y() - f.canvas.line_height(Type::small) / 2}, speed,
                Type::small, f.palette.quiet, draw::Align::centre);
  if (button(f, "head.faster", {x + side + speed_width, box.y, side, box.h}, "+"))
    f.act(stage::SetSpeed{s.time.speed * 2});
}

}  // namespace

namespace {

// Which rows there is room for: in a low window a talk goes through the days by itself, and the first minute needs only
// the picture.
struct Rows {
  bool message;
  bool tabs;
  bool transport;  // in a row of its own
};
Rows rows_of(const Frame& f, float width, bool short_of_room) {
  const bool transport = width < transport_beside_tabs * f.em();
  const bool first = f.state.first.step.has_value();
  const bool talk = f.state.talk.step.has_value();
  return {!f.state.document.now.story.message.plain.empty() && !short_of_room, !(short_of_room && first),
          transport && f.state.page.view != View::own && !(short_of_room && (first || talk))};
}

}  // namespace

float head_height(const Frame& f, float width, bool short_of_room) {
  const Measures m = measure(f, width);
  const float em = f.em();
  const float title = std::max(m.row, f.canvas.line_height(Type::title));
  const Rows rows = rows_of(f, width, short_of_room);
  return title + (rows.message ? 1.6F * em : 0) + (rows.tabs ? m.gap + m.row : 0) +
         (rows.transport ? m.row + m.gap : 0);
}

void draw_head(Frame& f, const Box& box, const Layout& l) {
  const Measures m = measure(f, box.w);
  const float em = f.em();
  const scenario::Scenario& story = f.state.document.now.story;
  float y = box.y;
  const float title = std::max(m.row, f.canvas.line_height(Type::title));
  const std::string& tools = f.words.at("tools.title");
  const float title_width = box.w - em - (m.folded ? button_width(f, tools) : m.controls);
  // Own numbers are no story.
  const bool own = f.state.page.view == View::own;
  // What undoing took back is said for a moment where the story's sentence stands, else where its title does.
  const bool instead = !own && !rows_of(f, box.w, l.short_of_room).message && f.state.document.undone;
  f.canvas.fitted({box.x, y + (title - f.canvas.line_height(Type::title)) / 2, title_width, title},
                  own       ? f.words.at("own.title")
                  : instead ? undone_text(f)
                            : f.told("title", story.title),
                  instead ? Type::body : Type::title, f.palette.ink);
  const Box controls{box.x, y + (title - m.row) / 2, box.w, m.row};
  if (m.folded) {
    const float w = button_width(f, tools);
    if (button(f, "head.tools", {controls.right() - w, controls.y, w, controls.h}, tools)) {
      f.act(stage::SetOverlay{stage::Overlay::tools});
    }
  } else {
    draw_controls(f, controls, m);
  }
  y += title;
  std::string message = f.told("message.plain", story.message.plain);
  if (f.state.page.depth == look::Depth::clinic && !story.message.clinic.empty()) {
    message = f.told("message.clinic", story.message.clinic);
  }
  if (f.state.page.depth == look::Depth::mechanism && !story.message.mechanism.empty()) {
    message = f.told("message.mechanism", story.message.mechanism);
  }
  if (own) message = f.words.at("own.stays");
  const Rows rows = rows_of(f, box.w, l.short_of_room);
  const std::string undone = own ? std::string() : undone_text(f);
  if (!undone.empty()) message = undone;
  if (rows.message) {
    const Type type = f.canvas.width(message, Type::body) > box.w ? Type::small : Type::body;
    f.canvas.fitted({box.x, y + 0.25F * em, box.w, 1.4F * em}, message, type,
                    undone.empty() ? f.palette.quiet : f.palette.ink);
    y += 1.6F * em;
  }
  y += m.gap;
  if (rows.tabs) draw_tabs(f, {box.x, y, box.w, m.row}, l);
  if (rows.transport) draw_transport(f, {box.x, y + m.row + m.gap, box.w, m.row});
  if (rows.tabs && box.w >= transport_beside_tabs * em && !own) {
    const float tabs = tabs_width(f, l, {});
    const float w = std::min(box.w - tabs - em, 52 * em);
    draw_transport(f, {box.right() - w, y, w, m.row});
  }
}

}  // namespace drawdown::panels
