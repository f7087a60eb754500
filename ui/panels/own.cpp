// My own numbers: results in (typed, pasted, opened), both charts, and beside them what the numbers say. Nothing is
// sent and nothing saved unless asked; "Forget this" really deletes.
#include <algorithm>

#include "panels/own_parts.hpp"
#include "panels/panels.hpp"
#include "sheet/results_chart.hpp"
#include "stage/narrate.hpp"
#include "stage/own_words.hpp"

namespace drawdown::panels {

using draw::Box;
using draw::Type;
using stage::OwnPage;

namespace {

class Own {
 public:
  Own(Frame& frame, const Box& b)
      : f(frame), own(frame.state.own), em(frame.em()), box(b.inset(1.1F * em, 0.8F * em)) {}

  void draw() {
    if (!f.interaction.typing() && f.interaction.take(Key::paste))
      f.act(stage::PasteResults{f.interaction.input().pasted});
    if (own.any()) {
      draw_full();
    } else {
      draw_empty();
    }
  }

 private:
  // Buttons from the left; starts a new row where the next one does not fit. Returns the height used.
  struct Button {
    const char* key;
    std::string label;
    bool chosen;
    stage::Action action;
  };
  float draw_buttons(const Box& area, const std::vector<Button>& buttons) {
    const float h = 2.0F * em;
    float x = area.x;
    float y = area.y;
    for (const Button& b : buttons) {
      ButtonStyle style;
      style.type = Type::small;
      style.chosen = b.chosen;
      const float w = std::min(area.w, button_width(f, b.label, Type::small));
      if (x > area.x && x + w > area.right()) {
        x = area.x;
        y += h + 0.3F * em;
      }
      if (button(f, b.key, {x, y, w, h}, b.label, style)) f.act(b.action);
      x += w + 0.4F * em;
    }
    return y + h - area.y;
  }

  // The line to type and the ways in; returns the height used.
  float draw_entry(const Box& area) {
    const float h = 2.2F * em;
    const std::string& open = f.words.at("own.open");
    const std::string& paste = f.words.at("own.paste");
    const float open_w = button_width(f, open, Type::small);
    const float paste_w = button_width(f, paste, Type::small);
    const bool beside = area.w > open_w + paste_w + 22 * em;
    const Box field{area.x, area.y, beside ? area.w - open_w - paste_w - 0.8F * em : area.w, h};
    const TextResult typed = text_field(f, "own.entry", field, own.typed, f.words.at("own.type"));
    for (const Ended& ended : typed.ended) {
      if (ended.pasted) {
        f.act(stage::PasteResults{ended.text});
        continue;
      }
      f.act(stage::TypeResult{ended.text});
      f.act(stage::AddTypedResult{});
    }
    if (typed.changed) f.act(stage::TypeResult{typed.text});
    const float y = beside ? area.y : area.y + h + 0.3F * em;
    const float x = beside ? field.right() + 0.4F * em : area.x;
    ButtonStyle style;
    style.type = Type::small;
    if (button(f, "own.paste", {x, y, paste_w, h}, paste, style))
      f.act(stage::PasteResults{f.interaction.input().clipboard()});
    if (button(f, "own.open", {x + paste_w + 0.4F * em, y, open_w, h}, open, style)) f.act(stage::OpenFolder{});
    return beside ? h : 2 * h + 0.3F * em;
  }

  void draw_empty() {
    const float width = std::min(box.w, 52 * em);
    const float x = box.middle_x() - width / 2;
    const std::string& lead = f.words.at("own.lead");
    const std::string& stays = f.words.at("own.stays");
    const float tall = 2.8F * em + f.canvas.paragraph_height(lead, Type::body, width) + 9.5F * em +
                       f.canvas.paragraph_height(stays, Type::small, width);
    float y = std::max(box.y, box.middle_y() - tall / 2);
    f.canvas.text({x, y}, f.words.at("own.title"), Type::title, f.palette.ink);
    y += 2.6F * em;
    y += f.canvas.paragraph({x, y, width, box.h}, lead, Type::body, f.palette.ink) + 1.0F * em;
    y += draw_entry({x, y, width, box.h}) + 0.7F * em;
    if (!f.state.files.example.empty()) {
      y += draw_buttons({x, y, width, box.h},
                        {{"own.example", f.words.at("own.example"), false, stage::OpenResults{f.state.files.example}}});
      y += 1.0F * em;
    }
    f.canvas.paragraph({x, y, width, box.h}, stays, Type::small, f.palette.quiet);
  }

  [[nodiscard]] bool is_asked() const {
    return !own.pending.empty() || own.reading.order_open || !own.problem.empty() || !own.reading.slips.empty() ||
           (!own.reading.unit_sure && !own.reading.rows.empty());
  }

  // What is asked of the person: the unit where it was guessed, the order of dates where it is open.
  float draw_questions(const Box& area) {
    std::vector<Button> buttons;
    std::string said;
    if (!own.pending.empty()) {
      said = f.words.at("own.whose");
      buttons.push_back({"own.same_person", f.words.at("own.same_person"), false, stage::AnswerPending{true}});
      buttons.push_back({"own.other_person", f.words.at("own.other_person"), false, stage::AnswerPending{false}});
    } else if (own.reading.order_open) {
      said = stage::order_question(own.reading, f.words);
      buttons.push_back(
          {"own.day_first", f.words.at("own.day_first"), false, stage::SetDateOrder{labs::DateOrder::day_first}});
      buttons.push_back(
          {"own.month_first", f.words.at("own.month_first"), false, stage::SetDateOrder{labs::DateOrder::month_first}});
    } else if (!own.reading.slips.empty()) {
      // Those a unit explains are asked about first; of what is left only the line can be mended, or kept.
      const auto& slips = own.reading.slips;
      const auto meant = std::find_if(slips.begin(), slips.end(), [](const labs::Slip& slip) { return slip.meant; });
      const labs::Slip& first = meant != slips.end() ? *meant : slips.front();
      said = stage::slip_sentence(first, own.reading, f.words);
      const std::size_t said_of = first.other ? 2 : 1;
      if (slips.size() > said_of) {
        said += " " + f.words.fill("own.slips_more", {std::to_string(slips.size() - said_of)});
      }
      const bool converted = own.asked.slips == labs::SlipAnswer::convert;
      buttons.push_back({"own.slip_keep", f.words.at("labs.slip_keep"), false,
                         stage::AnswerSlips{converted ? labs::SlipAnswer::convert_or_keep : labs::SlipAnswer::keep}});
      if (first.meant) {
        buttons.push_back({"own.slip_convert", f.words.at("labs.slip_convert"), false,
                           stage::AnswerSlips{labs::SlipAnswer::convert}});
      } else {
        buttons.push_back({"own.slip_line", f.words.fill("own.edit_line", {std::to_string(first.line)}), false,
                           stage::EditLine{first.line}});
      }
    } else if (!own.reading.unit_sure && !own.reading.rows.empty()) {
      const auto unit = own.reading.unit;
      const auto other = unit == scenario::Unit::g_per_l ? scenario::Unit::mg_per_dl : scenario::Unit::g_per_l;
      said = f.words.fill("labs.unit_guessed", {stage::unit_text(unit)});
      buttons.push_back(
          {"own.unit_is", f.words.fill("own.unit_is", {stage::unit_text(unit)}), true, stage::SetResultsUnit{unit}});
      buttons.push_back({"own.unit_other", f.words.fill("own.unit_other", {stage::unit_text(other)}), false,
                         stage::SetResultsUnit{other}});
    }
    if (!own.problem.empty() && own.pending.empty()) {
      // The text as a whole cannot be read: its last line comes back to be mended, or all is forgotten below.
      said = own.problem;
      const auto lines = static_cast<std::size_t>(std::count(own.text.begin(), own.text.end(), '\n'));
      buttons.push_back(
          {"own.last_line", f.words.at("own.last_line"), false, stage::EditLine{std::max<std::size_t>(1, lines)}});
      buttons.push_back({"own.forget_all", f.words.at("own.forget"), false, stage::ForgetResults{}});
    }
    if (said.empty()) return 0;
    const float words = f.canvas.paragraph_height(said, Type::body, area.w - 1.6F * em);
    const float h = words + (buttons.empty() ? 1.0F : 3.2F) * em;
    f.canvas.fill({area.x, area.y, area.w, h}, f.palette.notice, 0.5F * em);
    f.canvas.paragraph({area.x + 0.8F * em, area.y + 0.5F * em, area.w - 1.6F * em, h}, said, Type::body,
                       own.problem.empty() ? f.palette.ink : f.palette.mark);
    if (!buttons.empty())
      draw_buttons({area.x + 0.8F * em, area.y + 0.6F * em + words, area.w - 1.6F * em, h}, buttons);
    return h + 0.5F * em;
  }

  void draw_full() {
    Box rest = box;
    const std::vector<Button> actions{
        {"own.pdf", f.words.at("own.pdf"), false, stage::WriteSheet{stage::Paper::pdf}},
        {"own.html", f.words.at("own.html"), false, stage::WriteSheet{stage::Paper::html}},
        {"own.keep", f.words.at(own.kept ? "own.kept" : "own.keep"), own.kept, stage::KeepResults{}},
        {"own.forget", f.words.at("own.forget"), false, stage::ForgetResults{}}};
    // Very large text in a small window: the entry and its buttons stand only where they are looked for.
    const bool tiny = rest.h < 17 * em;
    const bool with_foot = !tiny || (own.page == OwnPage::lines && !is_asked());
    if (with_foot) rest.h -= draw_foot(rest, actions);
    const float asked = draw_questions(rest);
    rest.y += asked;
    rest.h -= asked;
    if (own.reading.rows.empty()) {
      draw_own_page(f, OwnPage::lines, rest);
      return;
    }
    const bool beside = rest.w > 58 * em;
    const bool low = !beside && rest.h < 30 * em;  // one page at a time, the charts one of them
    if (low) {
      draw_low(rest);
      return;
    }
    const float gap = 1.2F * em;
    const Box charts =
        beside ? Box{rest.x, rest.y, 0.54F * rest.w, rest.h} : Box{rest.x, rest.y, rest.w, 0.42F * rest.h};
    const Box page = beside ? Box{charts.right() + gap, rest.y, rest.w - charts.w - gap, rest.h}
                            : Box{rest.x, charts.bottom() + 0.5F * em, rest.w, rest.h - charts.h - 0.5F * em};
    draw_charts(charts, beside);
    const OwnPage shown = own.page == OwnPage::charts ? OwnPage::findings : own.page;
    const float row = draw_choice(page, shown, false);
    draw_own_page(f, shown, {page.x, page.y + row, page.w, page.h - row});
  }

  void draw_low(const Box& rest) {
    const float row = draw_choice(rest, own.page, true);
    const Box page{rest.x, rest.y + row, rest.w, rest.h - row};
    if (own.page == OwnPage::charts) {
      draw_charts(page, false);
    } else {
      draw_own_page(f, own.page, page);
    }
  }

  // Which page; returns the height used.
  float draw_choice(const Box& area, OwnPage shown, bool with_charts) {
    std::vector<std::string> labels;
    for (const std::string_view name : stage::own_page_names) {
      if (name != "charts" || with_charts) labels.push_back(f.words.at("own." + std::string(name)));
    }
    const float h = 2.0F * em;
    const int pressed = choice(f, "own.page", {area.x, area.y, std::min(area.w, choice_width(f, labels)), h}, labels,
                               static_cast<int>(shown));
    if (pressed >= 0) f.act(stage::SetOwnPage{static_cast<OwnPage>(pressed)});
    return h + 0.6F * em;
  }

  // The entry and the buttons at the foot; returns the height they took.
  float draw_foot(const Box& area, const std::vector<Button>& actions) {
    // Laid out from the bottom: what was written, the buttons, the line to type.
    float buttons_w = 0;
    for (const Button& b : actions) buttons_w += button_width(f, b.label, Type::small) + 0.4F * em;
    const bool one_row = area.w > buttons_w + 46 * em;
    const float entry_h = area.w > 44 * em ? 2.2F * em : 4.7F * em;
    const float note = own.done.empty() ? 0 : 1.3F * em;
    if (one_row) {
      const float y = area.bottom() - 2.2F * em - note;
      draw_entry({area.x, y, area.w - buttons_w - em, 0});
      draw_buttons({area.right() - buttons_w + 0.4F * em, y + 0.1F * em, buttons_w, 0}, actions);
      draw_done({area.x, area.bottom() - 1.1F * em, area.w, em});
      return 2.8F * em + note;
    }
    const int rows = buttons_w > area.w ? 2 : 1;
    const float h = entry_h + static_cast<float>(rows) * 2.3F * em + 0.4F * em + note;
    const float y = area.bottom() - h + 0.3F * em;
    draw_entry({area.x, y, area.w, 0});
    draw_buttons({area.x, y + entry_h + 0.3F * em, area.w, 0}, actions);
    draw_done({area.x, area.bottom() - 1.1F * em, area.w, em});
    return h + 0.3F * em;
  }
  void draw_done(const Box& line) {
    if (own.done.empty()) return;
    f.canvas.fitted(line, f.words.fill("own.written", {own.done}), Type::small, f.palette.quiet);
  }

  [[nodiscard]] sheet::ResultsChart chart_of(labs::Protein p) const {
    const bool is_c4 = p == labs::Protein::c4;
    sheet::ResultsChart chart;
    chart.protein = p;
    chart.rows = &own.reading.rows;
    chart.judged = is_c4 ? &own.judged.c4 : &own.judged.c3;
    chart.cv = own.noise.of(p);
    const scenario::Laboratory lab;  // a common one, not the open story's; rows may name their own
    chart.range = chart.judged->ranges.band(is_c4 ? lab.c4 : lab.c3);
    chart.unit = f.state.page.unit;
    chart.fit = own.fit && own.fit->status == labs::FitStatus::done ? own.fit.get() : nullptr;
    if (chart.fit != nullptr && own.page == OwnPage::fit && own.outlook < own.fit->outlooks.size()) {
      chart.outlook = &own.fit->outlooks[own.outlook];
    }
    return chart;
  }

  void draw_charts(const Box& whole, bool over) {
    const float gap = 0.8F * em;
    Box area = whole;
    // The load found stands under the values it explains.
    const sheet::ResultsChart c3 = chart_of(labs::Protein::c3);
    if (const float h = 6.5F * em; c3.fit != nullptr && own.page == OwnPage::fit && over && area.h > 28 * em) {
      area.h -= h + gap;
      sheet::draw_load_chart(f.canvas, f.palette, f.words, c3, {area.x, area.bottom() + gap, area.w, h});
    }
    for (const labs::Protein p : {labs::Protein::c3, labs::Protein::c4}) {
      const bool second = p == labs::Protein::c4;
      const float w = over ? area.w : (area.w - gap) / 2;
      const float h = over ? (area.h - gap) / 2 : area.h;
      const Box b{area.x + (second && !over ? w + gap : 0), area.y + (second && over ? h + gap : 0), w, h};
      sheet::draw_results_chart(f.canvas, f.palette, f.words, chart_of(p), b);
    }
  }

  Frame& f;
  const stage::OwnResults& own;
  float em;
  Box box;
};

}  // namespace

void draw_own(Frame& f, const Box& box) {
  card(f, box);
  if (stage::own_rests(f.state)) {
    // Before an audience nothing of a person's own is on the screen, unless it was chosen for this talk.
    const float em = f.em();
    const float width = std::min(box.w - 4 * em, 44 * em);
    const float x = box.middle_x() - width / 2;
    float y = box.y + 0.3F * box.h;
    y += f.canvas.paragraph({x, y, width, box.h}, f.words.at("own.rests"), Type::heading, f.palette.ink, 4) + em;
    const std::string& show = f.words.at("own.show_in_talk");
    if (button(f, "own.show_in_talk", {x, y, button_width(f, show), 2.2F * em}, show)) f.act(stage::ShowOwnInTalk{});
    return;
  }
  f.canvas.clip(box);
  Own(f, box).draw();
  f.canvas.unclip();
}

}  // namespace drawdown::panels
