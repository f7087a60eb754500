// The file chooser: one folder at a time, folders first. Arrow keys walk it, a letter jumps, Enter opens, Backspace's
// work is done by the first row (one folder up).
#include <algorithm>
#include <cctype>
#include <charconv>

#include "panels/panels.hpp"

namespace drawdown::panels {

using draw::Box;
using draw::Type;

namespace {

std::string row_name(std::size_t row) {
  return "file." + std::to_string(row);
}

// The row that has the focus; none = the first.
std::size_t focused_row(const Frame& f, std::size_t rows) {
  const std::string& name = f.interaction.focused();
  const std::size_t from = row_name(0).size() - 1;
  if (name.size() <= from || name.size() > from + 9 || name.compare(0, from, row_name(0), 0, from) != 0) return rows;
  std::size_t row = 0;
  const auto read = std::from_chars(name.data() + from, name.data() + name.size(), row);
  return read.ec == std::errc{} ? std::min(row, rows) : rows;
}

// Up, down, page and letter keys; returns the row that has the focus after them.
std::size_t walk(Frame& f, std::size_t rows, std::size_t page) {
  const auto& entries = f.state.files.folder.entries;
  std::size_t at = focused_row(f, rows);
  const std::size_t before = at;
  if (at == rows) at = 0;
  if (f.interaction.take(Key::down)) at = std::min(at + 1, rows - 1);
  if (f.interaction.take(Key::up)) at = at == 0 ? 0 : at - 1;
  if (f.interaction.take(Key::page_down)) at = std::min(at + page, rows - 1);
  if (f.interaction.take(Key::page_up)) at = at < page ? 0 : at - page;
  if (f.interaction.take(Key::home)) at = 0;
  if (f.interaction.take(Key::end)) at = rows - 1;
  const std::string letters = f.interaction.input().letters;
  for (const char letter : letters) {
    (void)f.interaction.take_letter(letter);
    const auto begins = [&](std::size_t row) {
      if (row == 0 || entries[row - 1].name.empty()) return false;
      return std::tolower(static_cast<unsigned char>(entries[row - 1].name.front())) ==
             std::tolower(static_cast<unsigned char>(letter));
    };
    for (std::size_t step = 1; step <= rows; ++step) {
      if (!begins((at + step) % rows)) continue;
      at = (at + step) % rows;
      break;
    }
  }
  if (at != before) f.interaction.walk_to(row_name(at));
  return at;
}

}  // namespace

void draw_files(Frame& f, const Box& window) {
  const float em = f.em();
  const stage::Folder& folder = f.state.files.folder;
  const std::size_t rows = folder.entries.size() + 1;  // the first leads up
  const float row_h = 2.1F * em;
  const float total = static_cast<float>(rows) * row_h;
  const std::string problem = folder.problem.empty() ? f.state.problem : folder.problem;
  const float width = std::min(56 * em, window.w - 2 * em);
  const float said = problem.empty() ? 0 : f.canvas.paragraph_height(problem, Type::body, width - 3 * em) + em;
  const Box b = page(f, window, 56, std::max(total + 7.4F * em + said, 24 * em));
  page_head(f, b, "files");
  // A path longer than its line loses its beginning, not its end.
  f.canvas.fitted_end({b.x + 1.5F * em, b.y + 3.5F * em, b.w - 3 * em, em}, folder.path, Type::small, f.palette.quiet);
  if (!problem.empty()) {
    f.canvas.paragraph({b.x + 1.5F * em, b.bottom() - said - 0.6F * em, b.w - 3 * em, said}, problem, Type::body,
                       f.palette.mark, 6);
  }
  const Box list{b.x + 1.5F * em, b.y + 5.2F * em, b.w - 3 * em, b.h - 6.4F * em - said};
  ScrollArea scrolled(f, "files", {list.x, list.y, list.w + 0.9F * em, list.h}, total, window);
  const std::size_t at = walk(f, rows, static_cast<std::size_t>(std::max(1.0F, list.h / row_h - 1)));
  if (f.interaction.focus_moved()) scrolled.reveal(static_cast<float>(at) * row_h, row_h);
  f.canvas.clip(list.inset(-0.3F * em));
  f.interaction.reach(&list);
  // Only what is in sight, and a row either side for Tab.
  const auto above = static_cast<std::size_t>(std::max(0.0F, (list.y - scrolled.top()) / row_h));
  const std::size_t first = above > 0 ? above - 1 : 0;
  const std::size_t past = std::min(rows, above + static_cast<std::size_t>(list.h / row_h) + 3);
  float y = scrolled.top() + row_h * static_cast<float>(first);
  for (std::size_t i = first; i < past; ++i, y += row_h) {
    const Box row{list.x, y, list.w, row_h - 0.2F * em};
    const auto r = f.interaction.control(row_name(i), row);
    const bool is_folder = i == 0 || folder.entries[i - 1].folder;
    const std::string name = i == 0 ? f.words.at("files.up") : folder.entries[i - 1].name;
    if (r.hovered || i == at) f.canvas.fill(row, f.palette.raised, 0.4F * em);
    if (r.show_focus) focus_ring(f, row.inset(0.2F * em), 0.4F * em);
    const std::string kind = is_folder && i > 0 ? f.words.at("files.folder") : std::string();
    const float kind_w = kind.empty() ? 0 : f.canvas.width(kind, Type::small) + em;
    f.canvas.fitted(
        {row.x + 0.8F * em, row.middle_y() - f.canvas.line_height(Type::body) / 2, row.w - 1.6F * em - kind_w, em},
        name, is_folder ? Type::strong : Type::body, f.palette.ink);
    if (!kind.empty()) {
      f.canvas.text({row.right() - 0.8F * em, row.middle_y() - f.canvas.line_height(Type::small) / 2}, kind,
                    Type::small, f.palette.quiet, draw::Align::right);
    }
    if (!r.clicked) continue;
    const std::string target = folder.path + "/" + (i == 0 ? ".." : folder.entries[i - 1].name);
    if (is_folder) {
      f.act(stage::OpenFolder{target});
    } else {
      const bool story = target.size() > 5 && target.compare(target.size() - 5, 5, ".toml") == 0;
      f.act(story ? stage::Action{stage::OpenStory{target}} : stage::Action{stage::OpenResults{target}});
    }
  }
  f.interaction.reach(nullptr);
  f.canvas.unclip();
  scrolled.draw_bar();
}

}  // namespace drawdown::panels
