// Pointer and keyboard focus.
#include "panels/interaction.hpp"

#include <algorithm>
#include <utility>

namespace drawdown::panels {

void Interaction::begin(Input input) {
  input_ = std::move(input);
  building_.clear();
  enabled_ = true;
  reach_ = nullptr;
  focus_moved_ = false;
  pointed_ = {};
  if (input_.pressed) by_keyboard_ = false;
  const bool forward = take(Key::tab);
  const bool back = !forward && take(Key::back_tab);
  if ((forward || back) && !order_.empty()) {
    by_keyboard_ = true;
    focus_moved_ = true;
    const auto here = std::find(order_.begin(), order_.end(), focus_);
    const auto n = static_cast<std::ptrdiff_t>(order_.size());
    std::ptrdiff_t next = forward ? 0 : n - 1;
    if (here != order_.end()) next = (here - order_.begin() + (forward ? 1 : n - 1)) % n;
    focus_ = order_[static_cast<std::size_t>(next)];
  }
}

void Interaction::finish() {
  order_ = building_;
  if (!active_.empty() && !input_.down) active_.clear();
  if (!focus_.empty() && std::find(order_.begin(), order_.end(), focus_) == order_.end()) focus_.clear();
}

bool Interaction::take(Key key) {
  const auto found = std::find(input_.keys.begin(), input_.keys.end(), key);
  if (found == input_.keys.end()) return false;
  input_.keys.erase(found);
  return true;
}

bool Interaction::take_letter(char letter) {
  const auto at = input_.letters.find(letter);
  if (at == std::string::npos) return false;
  input_.letters.erase(at, 1);
  return true;
}

std::vector<Typed> Interaction::take_typed() {
  for (const Key key :
       {Key::enter, Key::space, Key::backspace, Key::left, Key::right, Key::home, Key::end, Key::paste}) {
    while (take(key)) continue;
  }
  input_.letters.clear();
  return std::exchange(input_.typed, {});
}

void Interaction::forget_typed() {
  input_ = {};
  carets_.clear();
}

Interaction::Response Interaction::control(const std::string& name, const draw::Box& box, bool pressed_by_keys) {
  Response r;
  if (!enabled_) return r;
  building_.push_back(name);
  const bool reachable = reach_ == nullptr || reach_->holds(input_.mouse);
  r.hovered = reachable && box.holds(input_.mouse) && (active_.empty() || active_ == name);
  if (r.hovered && input_.pressed) {
    active_ = name;
    focus_ = name;
  }
  r.held = active_ == name && input_.down;
  if (active_ == name && input_.released) {
    r.released = true;
    r.clicked = r.hovered;
    active_.clear();
  }
  r.focused = focus_ == name;
  r.show_focus = r.focused && by_keyboard_;
  if (pressed_by_keys && r.focused && (take(Key::enter) || (by_keyboard_ && take(Key::space)))) {
    by_keyboard_ = true;
    r.clicked = true;
  }
  return r;
}

}  // namespace drawdown::panels
