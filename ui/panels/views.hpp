// The views as rows: what stands in the tabs, what each is called, its key, and how it is drawn. To add a view: an
// enumerator and a name in stage/state.hpp, a row in views.cpp, its words.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "panels/panels.hpp"

namespace drawdown::panels {

struct ViewRow {
  stage::View view = stage::View::balance;
  std::string words;          // key of its name in the tabs
  char key = 0;               // of the keyboard; 0 = none
  bool beside_levers = true;  // where there is room the levers stand beside it
  // Has a tab at this layout; else it is a part of the balance there, and choosing it shows that.
  std::function<bool(const Layout&)> applies = [](const Layout&) { return true; };
  std::function<void(Frame&, const Layout&)> draw;
};

// In the order of the tabs; the first is the balance.
[[nodiscard]] std::vector<ViewRow> standard_views();
// The row of what is shown at this layout.
[[nodiscard]] const ViewRow& shown_view(const Frame& f, const Layout& layout);

}  // namespace drawdown::panels
