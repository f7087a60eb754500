// The stories as a gallery: a card each with both courses in small, grouped by the question they answer, and looked for
// by words.
#include <algorithm>
#include <cmath>

#include "look/folded.hpp"
#include "panels/panels.hpp"

namespace drawdown::panels {

using draw::Box;
using draw::Type;

namespace {

// A story's file name without folder and ending: its key among the words.
std::string stem_of(const std::string& path) {
  const std::size_t slash = path.find_last_of('/');
  const std::size_t from = slash == std::string::npos ? 0 : slash + 1;
  return path.substr(from, path.rfind('.') - from);
}

struct Card {
  const stage::StoryEntry* story;
  std::string title;
  std::string said;
};
struct Part {
  std::string heading;
  std::vector<Card> cards;
};

// No story of ours is so long; another's may be.
constexpr std::size_t most_title = 120;  // bytes
constexpr std::size_t most_said = 300;
std::string beginning(std::string text, std::size_t most) {
  if (text.size() <= most) return text;
  text.resize(before(text, most));
  return text + "…";
}

Card card_of(const Frame& f, const stage::StoryEntry& s) {
  const std::string said = s.problem.empty() ? f.words.told(stem_of(s.path), "message.plain", s.message)
                                             : f.words.fill("stories.broken", {beginning(s.problem, most_said)});
  return {&s, beginning(f.words.told(stem_of(s.path), "title", s.title), most_title), beginning(said, most_said)};
}

// What was opened before and is not among the shipped ones comes first, then a part for each question, then what names
// none. Parts without a story that holds the words looked for are left out.
std::vector<Part> parts_of(const Frame& f) {
  const stage::FilesPart& files = f.state.files;
  const std::string sought = look::folded(files.sought);
  std::vector<Part> parts;
  const auto add = [&](const std::string& heading, const std::vector<stage::StoryEntry>& from, const auto& belongs) {
    Part part{heading, {}};
    for (const stage::StoryEntry& story : from) {
      if (!belongs(story)) continue;
      Card one = card_of(f, story);
      if (!sought.empty() && look::folded(one.title + " " + one.said).find(sought) == std::string::npos) continue;
      part.cards.push_back(std::move(one));
    }
    if (!part.cards.empty()) parts.push_back(std::move(part));
  };
  add(f.words.at("stories.recent"), files.recent, [&](const stage::StoryEntry& s) {
    return std::none_of(files.stories.begin(), files.stories.end(), [&](const auto& e) { return e.path == s.path; });
  });
  for (const std::string_view question : scenario::questions) {
    add(f.words.at("question." + std::string(question)), files.stories,
        [&](const stage::StoryEntry& s) { return s.question == question; });
  }
  add(f.words.at("question.none"), files.stories, [](const stage::StoryEntry& s) {
    return std::find(scenario::questions.begin(), scenario::questions.end(), s.question) == scenario::questions.end();
  });
  return parts;
}

class Gallery {
 public:
  Gallery(Frame& frame, const Box& window) : f(frame), em(frame.em()), parts(parts_of(frame)) {
    wide = std::min(108 * em, window.w - 2 * em);
    narrow = wide < 58 * em;  // the field has a row of its own
    list_w = wide - 3.4F * em;
    across = std::clamp(static_cast<int>((list_w + gap()) / (22 * em)), 1, 4);
    card_w = (list_w - static_cast<float>(across - 1) * gap()) / static_cast<float>(across);
    for (const Part& part : parts) {
      total += head_h();
      for (std::size_t from = 0; from < part.cards.size(); from += static_cast<std::size_t>(across)) {
        heights.push_back(row_height(part, from));
        total += heights.back() + gap();
      }
    }
    if (parts.empty()) total += 3 * em;
  }

  void draw(const Box& window) {
    const float above = narrow ? 6.9F * em : 4.3F * em;
    const Box b = page(f, window, 108, std::max(total + above + 1.2F * em, window.h));
    const float close_x = page_head(f, b, "stories");
    const std::string& open = f.words.at("stories.open");
    const float open_w = button_width(f, open);
    const float open_x = close_x - 0.5F * em - open_w;
    draw_field(narrow ? Box{b.x + 1.5F * em, b.y + 3.9F * em, b.w - 3 * em, 2.1F * em} : field_box(b, open_x));
    if (button(f, "stories.open", {open_x, b.y + 1.0F * em, open_w, 2.1F * em}, open)) f.act(stage::OpenFolder{});
    const Box list{b.x + 1.5F * em, b.y + above, list_w, b.bottom() - b.y - above - 0.9F * em};
    draw_list(list, window);
  }

 private:
  [[nodiscard]] float gap() const { return 0.8F * em; }
  [[nodiscard]] float head_h() const { return f.canvas.line_height(Type::heading) + 1.0F * em; }
  [[nodiscard]] float sketch_h() const { return 3.6F * em; }

  [[nodiscard]] Box field_box(const Box& b, float right) const {
    const float title = f.canvas.width(f.words.at("stories.title"), Type::title);
    const float x = std::max(b.x + 3 * em + title, right - 30 * em);
    return {x, b.y + 1.0F * em, right - 0.5F * em - x, 2.1F * em};
  }

  void draw_field(const Box& box) {
    if (f.interaction.focused().empty()) f.interaction.focus("stories.seek");
    const TextResult r = text_field(f, "stories.seek", box, f.state.files.sought, f.words.at("stories.seek"));
    if (r.changed && r.ended.empty()) f.act(stage::SeekStory{r.text});
    // Enter opens the first that is left.
    if (r.ended.empty() || parts.empty() || f.state.files.sought.empty()) return;
    f.act(stage::OpenStory{parts.front().cards.front().story->path});
  }

  [[nodiscard]] float card_height(const Card& one) const {
    return 0.7F * em + f.canvas.paragraph_height(one.title, Type::strong, card_w - 1.6F * em) + 0.4F * em + sketch_h() +
           0.6F * em + f.canvas.paragraph_height(one.said, Type::small, card_w - 1.6F * em) + 0.7F * em;
  }
  [[nodiscard]] float row_height(const Part& part, std::size_t from) const {
    float h = 0;
    for (std::size_t i = from; i < std::min(part.cards.size(), from + static_cast<std::size_t>(across)); ++i) {
      h = std::max(h, card_height(part.cards[i]));
    }
    return h;
  }

  void draw_list(const Box& list, const Box& window) {
    ScrollArea scrolled(f, "stories", {list.x, list.y, list.w + 0.9F * em, list.h}, total, window);
    f.canvas.clip(list.inset(-0.3F * em));
    f.interaction.reach(&list);
    const float start = scrolled.top();
    float y = start;
    // How to read the small courses, beside the first heading where there is room.
    const std::string& reading = f.words.at("stories.reading");
    const float reading_w = f.canvas.width(reading, Type::small);
    if (!parts.empty() && reading_w + f.canvas.width(parts.front().heading, Type::heading) + 2 * em < list.w) {
      f.canvas.text({list.right(), y + 0.7F * em}, reading, Type::small, f.palette.quiet, draw::Align::right);
    }
    std::size_t row = 0;
    std::size_t number = 0;
    for (const Part& part : parts) {
      if (y + head_h() > list.y && y < list.bottom()) {
        f.canvas.fitted({list.x, y + 0.4F * em, list.w, head_h()}, part.heading, Type::heading, f.palette.ink);
      }
      y += head_h();
      for (std::size_t from = 0; from < part.cards.size(); from += static_cast<std::size_t>(across)) {
        const float h = heights[row++];
        for (std::size_t i = from; i < std::min(part.cards.size(), from + static_cast<std::size_t>(across)); ++i) {
          const Box box{list.x + static_cast<float>(i - from) * (card_w + gap()), y, card_w, h};
          const std::string name = "story." + std::to_string(number++);
          const auto r = f.interaction.control(name, box);
          if (r.focused && f.interaction.focus_moved()) scrolled.reveal(box.y - start, box.h);
          if (box.bottom() > list.y && box.y < list.bottom()) draw_card(part.cards[i], box, r);
          if (r.clicked) f.act(stage::OpenStory{part.cards[i].story->path});
        }
        y += h + gap();
      }
    }
    if (parts.empty())
      f.canvas.paragraph({list.x, y, list.w, 3 * em}, f.words.at("stories.nothing"), Type::body, f.palette.quiet);
    f.interaction.reach(nullptr);
    f.canvas.unclip();
    scrolled.draw_bar();
  }

  void draw_card(const Card& one, const Box& box, const Interaction::Response& r) {
    const stage::StoryEntry& s = *one.story;
    const bool current = !s.title.empty() && s.title == f.state.document.now.story.title;
    f.canvas.fill(box, r.hovered ? look::mix(f.palette.raised, f.palette.quiet, 0.15F) : f.palette.raised, 0.5F * em);
    if (current) f.canvas.outline(box, f.palette.select, 0.5F * em, std::max(2.0F, 0.18F * em));
    if (r.show_focus) focus_ring(f, box.inset(0.2F * em), 0.5F * em);
    const Box inner = box.inset(0.8F * em, 0.7F * em);
    float y = inner.y;
    y += f.canvas.paragraph({inner.x, y, inner.w, inner.h}, one.title, Type::strong, f.palette.ink) + 0.4F * em;
    const Box small{inner.x, y, inner.w, sketch_h()};
    if (s.sketch) draw_sketch(f, small, *s.sketch, -1.0);
    y += sketch_h() + 0.6F * em;
    f.canvas.paragraph({inner.x, y, inner.w, inner.h}, one.said, Type::small,
                       s.problem.empty() ? f.palette.quiet : f.palette.mark);
  }

  Frame& f;
  float em;
  std::vector<Part> parts;
  bool narrow = false;
  int across = 1;  // cards in a row
  float wide = 0, list_w = 0, card_w = 0;
  float total = 0;
  std::vector<float> heights;  // of the rows of cards, in order
};

}  // namespace

void draw_stories(Frame& f, const Box& window) {
  Gallery(f, window).draw(window);
}

}  // namespace drawdown::panels
