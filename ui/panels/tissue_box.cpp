// One tissue: warm as it is inflamed, with its shape, its state in a word and its settled complexes as dots.
#include <algorithm>
#include <cmath>

#include "panels/balance_parts.hpp"

namespace drawdown::panels {

using draw::Box;
using draw::Type;

namespace {

// 0 (calm) to 1 (in full inflammation).
float warmth(const readout::Tissue& tissue) {
  return static_cast<float>(1.0 - std::exp(-2.2 * tissue.inflammation));
}

}  // namespace

const std::string& tissue_state(const Frame& f, const readout::Tissue& tissue) {
  if (tissue.injury > 0.25) return f.words.at("tissue.injured");
  if (tissue.inflammation > 0.22) return f.words.at("tissue.inflamed");
  if (tissue.inflammation > 0.06) return f.words.at("tissue.irritated");
  return f.words.at("tissue.calm");
}

look::Colour warm_ground(const Frame& f, const readout::Tissue& tissue) {
  return look::mix(f.palette.calm, f.palette.inflamed, warmth(tissue));
}

void draw_tissue_ground(Frame& f, const Box& box, const readout::Tissue& tissue) {
  const float em = f.em();
  const float heat = warmth(tissue);
  f.canvas.fill(box, warm_ground(f, tissue), 0.5F * em);
  f.canvas.outline(box, look::mix(f.palette.line, f.palette.tissue_ink, 0.15F + 0.5F * heat), 0.5F * em,
                   1.0F + 1.5F * heat);
}

void draw_tissue_figure(Frame& f, const Box& box, draw::Figure which, const look::Colour& ground) {
  const draw::Outline outline = f.shapes.figure(which, box);
  const look::Colour ink = look::mix(ground, f.palette.tissue_ink, 0.62F);
  for (const std::vector<draw::Point>& stroke : outline.strokes) {
    f.canvas.line(stroke, ink, draw::stroke_width * box.w);
  }
  f.canvas.shape(outline.centre, outline.points, ink);
  for (const draw::Outline& part : outline.more) f.canvas.shape(part.centre, part.points, ink);
}

std::vector<TissueLook> tissue_looks(const body::Model& model) {
  std::vector<TissueLook> looks;
  for (const body::Tissue& tissue : model.tissues()) {
    const auto figure = look::named<draw::Figure>(draw::figure_names, tissue.figure).value_or(draw::Figure::skin);
    looks.push_back({"tissue." + tissue.name, figure, body::first_tissue_place + looks.size()});
  }
  return looks;
}

void draw_tissue_box(Frame& f, const Box& box, const TissueLook& which, const readout::Tissue& tissue) {
  const float em = f.em();
  const std::string key = which.key;
  const look::Colour ground = warm_ground(f, tissue);
  draw_tissue_ground(f, box, tissue);
  const float icon = std::min(box.h - 0.6F * em, 2.6F * em);
  const Box icon_box{box.x + 0.55F * em, box.middle_y() - icon / 2, icon, icon};
  draw_tissue_figure(f, icon_box, which.figure, ground);
  const float x = icon_box.right() + 0.6F * em;
  const bool two = box.h > 2.6F * em;
  // Settled complexes: one dot for each sixteenth of a heavy deposit.
  const int dots = std::clamp(static_cast<int>(std::lround(tissue.deposit * 12.0)), 0, 16);
  const float dot = std::min(0.24F * em, 0.15F * box.h);
  const int per_row = 8;
  const float dots_width = 8 * 2.9F * dot;
  const float text_width = box.right() - x - 0.5F * em - (box.w > 15 * em ? dots_width : 0);
  const std::string& state = tissue_state(f, tissue);
  if (two) {
    f.canvas.fitted({x, box.middle_y() - 1.2F * em, text_width, em}, f.fitting(key, Type::strong, text_width),
                    Type::strong, f.palette.tissue_ink);
    f.canvas.fitted({x, box.middle_y() + 0.12F * em, text_width, em}, state, Type::small, f.palette.tissue_ink);
  } else {
    const float name_width = text_width - f.canvas.width(": " + state, Type::small);
    f.canvas.fitted({x, box.middle_y() - 0.5F * em, text_width, em},
                    f.fitting(key, Type::small, name_width) + ": " + state, Type::small, f.palette.tissue_ink);
  }
  if (box.w <= 15 * em) return;
  for (int k = 0; k < dots; ++k) {
    const int in_row = k / per_row;
    const auto row = static_cast<float>(in_row);
    const float column = static_cast<float>(k % per_row);
    const int last_row = (dots - 1) / per_row;
    const auto rows = static_cast<float>(last_row);
    f.canvas.dot({box.right() - 0.6F * em - dots_width + column * 2.9F * dot + dot,
                  box.middle_y() + (row - rows / 2) * 3.2F * dot},
                 dot, f.palette.complexes);
  }
}

}  // namespace drawdown::panels
