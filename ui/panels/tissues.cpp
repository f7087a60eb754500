// Tissues: where complexes settle, what they set off, and the circle back - injured tissue gives debris, debris with
// antibody gives complexes - which low complement tightens because it slows clearing.
#include <algorithm>
#include <cmath>

#include "panels/balance_parts.hpp"
#include "panels/panels.hpp"

namespace drawdown::panels {

using draw::Align;
using draw::Box;
using draw::Type;

namespace {

void bar(Frame& f, const Box& box, const std::string& label, double share, const std::string& figure,
         const look::Colour& colour) {
  const float em = f.em();
  const float lh = f.canvas.line_height(Type::small);
  const float fw = f.canvas.width(figure, Type::small);
  f.canvas.fitted({box.x, box.y, box.w - fw - 0.5F * em, lh}, label, Type::small, f.palette.quiet);
  f.canvas.text({box.right(), box.y}, figure, Type::small, f.palette.ink, Align::right);
  const Box track{box.x, box.y + lh + 0.25F * em, box.w, std::clamp(box.h - lh - 1.0F * em, 0.5F * em, 1.1F * em)};
  f.canvas.fill(track, f.palette.raised, 0.25F * em);
  const auto s = static_cast<float>(std::clamp(share, 0.0, 1.0));
  if (s > 0.01F) f.canvas.fill({track.x, track.y, std::max(track.w * s, 0.5F * em), track.h}, colour, 0.25F * em);
}

void draw_card(Frame& f, const Box& box, const TissueLook& which, const readout::Tissue& t,
               const readout::FlowPair& flows) {
  const float em = f.em();
  const look::Colour ground = warm_ground(f, t);
  const std::size_t place = which.place;
  card(f, box);
  const bool tall = box.h > 17 * em;
  const float head = tall ? 7.0F * em : 2.6F * em;
  const Box top{box.x, box.y, box.w, head};
  f.canvas.fill(top, ground, 0.6F * em);
  const float size = tall ? 4.6F * em : 1.8F * em;
  const Box icon{tall ? top.middle_x() - size / 2 : top.x + 0.7F * em, top.y + 0.5F * em, size, size};
  draw_tissue_figure(f, icon, which.figure, ground);
  const float name_x = tall ? box.x + 0.8F * em : icon.right() + 0.6F * em;
  f.canvas.fitted({name_x, top.bottom() - (tall ? 1.7F : 1.9F) * em, box.right() - name_x - 0.5F * em, em},
                  f.fitting(which.key, Type::strong, box.right() - name_x - 0.5F * em), Type::strong,
                  f.palette.tissue_ink, tall ? Align::centre : Align::left);
  const Box inner = Box{box.x, top.bottom(), box.w, box.h - head}.inset(0.9F * em, 0.6F * em);
  const float row = std::min(4.6F * em, inner.h / 5);
  float y = inner.y;
  const auto line = [&](const char* key, double share, const std::string& figure, const look::Colour& colour) {
    if (y + row > inner.bottom() + 0.2F * em) return;
    bar(f, {inner.x, y, inner.w, row}, f.word(key), share, figure, colour);
    y += row;
  };
  const auto percent = [&](double v) { return f.words.fill("numbers.percent", {look::number(100 * v, 0)}); };
  line("tissues.deposit", t.deposit, look::number(t.deposit, 2), f.palette.complexes);
  line("tissues.inflammation", t.inflammation / 1.5, look::number(t.inflammation, 2), f.palette.mark);
  line("tissues.injury", t.injury, percent(t.injury), f.palette.tissue_ink);
  line("tissues.c3", flows.c3.spent[place] / std::max(1e-9, 0.4 * flows.c3.made),
       f.words.fill("numbers.milligrams", {look::number(1000 * flows.c3.spent[place], 0)}), f.palette.c3);
  line("tissues.c4", flows.c4.spent[place] / std::max(1e-9, 0.4 * flows.c4.made),
       f.words.fill("numbers.milligrams", {look::number(1000 * flows.c4.spent[place], 0)}), f.palette.c4);
}

// Debris -> complexes -> tissue -> injury -> debris, each with its figure; the strength of the arrow is its flux.
void draw_circle(Frame& f, const Box& box, const std::vector<double>& state,
                 const std::vector<readout::Tissue>& tissues) {
  const float em = f.em();
  const body::Model::Known& known = f.state.runs.now->body().model->known();
  double worst_inflammation = 0;
  double worst_injury = 0;
  double deposits = 0;
  for (const readout::Tissue& t : tissues) {
    worst_inflammation = std::max(worst_inflammation, t.inflammation);
    worst_injury = std::max(worst_injury, t.injury);
    deposits += t.deposit;
  }
  struct Stop {
    const char* key;
    double value;
    double full;
  };
  const Stop stops[] = {{"tissues.antibody", state[known.antibody], 3},     {"tissues.debris", state[known.antigen], 4},
                        {"tissues.circulating", state[known.complexes], 1}, {"tissues.settled", deposits, 1.5},
                        {"tissues.inflamed", worst_inflammation, 1},        {"tissues.injured", worst_injury, 0.6}};
  constexpr int count = 6;
  const float gap = 1.9F * em;
  const float w = (box.w - gap * (count - 1)) / count;
  const float h = std::min(box.h - 2.2F * em, 4.2F * em);
  for (int i = 0; i < count; ++i) {
    const Box b{box.x + static_cast<float>(i) * (w + gap), box.y + 0.3F * em, w, h};
    const auto s = static_cast<float>(std::clamp(stops[i].value / stops[i].full, 0.0, 1.0));
    f.canvas.fill(b, look::mix(f.palette.calm, f.palette.inflamed, s), 0.5F * em);
    f.canvas.fitted({b.x + 0.3F * em, b.y + 0.35F * h - 0.6F * em, b.w - 0.6F * em, em}, f.words.at(stops[i].key),
                    Type::small, f.palette.tissue_ink, Align::centre);
    f.canvas.fitted({b.x, b.y + 0.35F * h + 0.5F * em, b.w, em}, look::number(stops[i].value, 2), Type::strong,
                    f.palette.tissue_ink, Align::centre);
    if (i + 1 < count) {
      const float y = b.middle_y();
      const float x0 = b.right() + 0.3F * em;
      const float x1 = b.right() + gap - 0.9F * em;
      const float width = (0.12F + 0.35F * s) * em;
      // Antibody and debris meet: a plus between them, arrows after.
      if (i == 0) {
        f.canvas.line({{x0 + 0.1F * em, y}, {x0 + 1.1F * em, y}}, f.palette.ink, 0.16F * em);
        f.canvas.line({{x0 + 0.6F * em, y - 0.5F * em}, {x0 + 0.6F * em, y + 0.5F * em}}, f.palette.ink, 0.16F * em);
      } else {
        f.canvas.line({{x0, y}, {x1, y}}, f.palette.ink, width);
        f.canvas.shape({x1 + 0.2F * em, y}, {{x1, y - 0.5F * em}, {x1 + 0.7F * em, y}, {x1, y + 0.5F * em}},
                       f.palette.ink);
      }
    }
  }
  // The way back, under the row.
  const float y = box.y + h + 1.1F * em;
  const float from = box.right() - w / 2;
  const float to = box.x + w + gap + w / 2;
  const auto s = static_cast<float>(std::clamp(worst_injury / 0.6, 0.0, 1.0));
  const look::Colour ink = look::mix(f.palette.quiet, f.palette.mark, s);
  f.canvas.line({{from, box.y + h + 0.4F * em}, {from, y}, {to, y}, {to, box.y + h + 1.0F * em}}, ink,
                (0.12F + 0.35F * s) * em);
  f.canvas.shape(
      {to, box.y + h + 0.7F * em},
      {{to - 0.5F * em, box.y + h + 1.0F * em}, {to, box.y + h + 0.35F * em}, {to + 0.5F * em, box.y + h + 1.0F * em}},
      ink);
  const std::string& back = f.word("tissues.back");
  const float bw = std::min(f.canvas.width(back, Type::small) + 0.8F * em, from - to - 2 * em);
  const Box plate{(from + to) / 2 - bw / 2, y - 0.65F * em, bw, 1.3F * em};
  f.canvas.fill(plate, f.palette.card, 0.2F * em);
  f.canvas.fitted({plate.x + 0.4F * em, plate.y + 0.15F * em, plate.w - 0.8F * em, em}, back, Type::small, ink,
                  Align::centre);
}

}  // namespace

void draw_tissues(Frame& f, const Box& box) {
  const float em = f.em();
  const Run& run = *f.state.runs.now;
  const double day = std::min(f.state.time.day, run.last_day());
  const auto tissues = run.tissues(day);
  const auto flows = run.flows(day);
  const float gap = 0.7F * em;
  const float below = box.h > 26 * em ? 8.2F * em : 0.0F;
  const float h = box.h - (below > 0 ? below + gap : 0);
  const std::vector<TissueLook> looks = tissue_looks(*run.body().model);
  const auto count = static_cast<float>(looks.size());
  const bool two_rows = box.w < 60 * em && h > 24 * em;
  const float w = two_rows ? (box.w - (std::ceil(count / 2) - 1) * gap) / std::ceil(count / 2)
                           : (box.w - (count - 1) * gap) / count;
  const float each = two_rows ? (h - gap) / 2 : h;
  const std::size_t across = (looks.size() + 1) / 2;
  for (std::size_t i = 0; i < looks.size(); ++i) {
    const auto column = static_cast<float>(two_rows ? i % across : i);
    const auto row = static_cast<float>(two_rows ? i / across : 0);
    draw_card(f, {box.x + column * (w + gap), box.y + row * (each + gap), w, each}, looks[i], tissues[i], flows);
  }
  if (below <= 0) return;
  const Box circle{box.x, box.bottom() - below, box.w, below};
  card(f, circle);
  draw_circle(f, circle.inset(1.1F * em, 0.6F * em), run.state(day), tissues);
}

}  // namespace drawdown::panels
