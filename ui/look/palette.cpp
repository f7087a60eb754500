// The three palettes.
#include "look/palette.hpp"

#include <algorithm>
#include <cmath>

namespace drawdown::look {

Colour mix(const Colour& a, const Colour& b, float t) {
  const float s = std::clamp(t, 0.0F, 1.0F);
  return {a.r + s * (b.r - a.r), a.g + s * (b.g - a.g), a.b + s * (b.b - a.b), a.a + s * (b.a - a.a)};
}

namespace {

Palette bright() {
  Palette p;
  p.ground = rgb(0xEFF1F0);
  p.card = rgb(0xFFFFFF);
  p.raised = rgb(0xE4E8E7);
  p.line = rgb(0xD3DAD9);
  p.ink = rgb(0x16222B);
  p.quiet = rgb(0x4A5A63);
  p.c3 = rgb(0x17639C);
  p.c4 = rgb(0xA65200);
  p.hatch = rgb(0xF6D3A6);
  p.range = rgb(0xD5EADB);
  p.range_ink = rgb(0x265A3B);
  p.usual = rgb(0x3A4650);
  p.liver = rgb(0x7D463F);
  p.liver_ink = rgb(0xFFFFFF);
  p.calm = rgb(0xF4ECE6);
  p.inflamed = rgb(0xEE9C86);
  p.tissue_ink = rgb(0x2A1A16);
  p.complexes = rgb(0x541E60);
  p.notice = rgb(0xFFF6E0);
  p.notice_edge = rgb(0xC9952F);
  p.select = rgb(0x16323F);
  p.select_ink = rgb(0xFFFFFF);
  p.focus = rgb(0x6A3FB5);
  p.mark = rgb(0xB3261E);
  return p;
}

Palette dark() {
  Palette p;
  p.ground = rgb(0x0E141A);
  p.card = rgb(0x172029);
  p.raised = rgb(0x2A3641);
  p.line = rgb(0x33414D);
  p.ink = rgb(0xF1F5F7);
  p.quiet = rgb(0xB0BEC8);
  p.c3 = rgb(0x6DB7F0);
  p.c4 = rgb(0xF2A24A);
  p.hatch = rgb(0x7A3E00);
  p.range = rgb(0x1F3F30);
  p.range_ink = rgb(0x9EDBB4);
  p.usual = rgb(0xD5DDE3);
  p.liver = rgb(0xA05A50);
  p.liver_ink = rgb(0xFFFFFF);
  p.calm = rgb(0x2B2A2C);
  p.inflamed = rgb(0x9C3B28);
  p.tissue_ink = rgb(0xFBF3EF);
  p.complexes = rgb(0xD8A2C0);
  p.notice = rgb(0x2E2817);
  p.notice_edge = rgb(0xC9952F);
  p.select = rgb(0xE3EDF2);
  p.select_ink = rgb(0x101A20);
  p.focus = rgb(0xB99CFF);
  p.mark = rgb(0xFF8A7A);
  return p;
}

Palette print() {
  Palette p = bright();
  p.ground = rgb(0xFFFFFF);
  p.card = rgb(0xFFFFFF);
  p.raised = rgb(0xEDEDED);
  p.line = rgb(0xB9B9B9);
  p.ink = rgb(0x000000);
  p.quiet = rgb(0x333333);
  p.range = rgb(0xE6E6E6);
  p.range_ink = rgb(0x2B2B2B);
  p.usual = rgb(0x000000);
  p.notice = rgb(0xFFFFFF);
  return p;
}

double linear(float channel) {
  const double c = static_cast<double>(channel);
  return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
}

double luminance(const Colour& c) {
  return 0.2126 * linear(c.r) + 0.7152 * linear(c.g) + 0.0722 * linear(c.b);
}

}  // namespace

const Palette& palette(Room room) {
  static const Palette in_bright = bright();
  static const Palette in_dark = dark();
  static const Palette on_paper = print();
  switch (room) {
    case Room::dark:
      return in_dark;
    case Room::print:
      return on_paper;
    case Room::bright:
      break;
  }
  return in_bright;
}

double contrast(const Colour& a, const Colour& b) {
  const double la = luminance(a);
  const double lb = luminance(b);
  return (std::max(la, lb) + 0.05) / (std::min(la, lb) + 0.05);
}

}  // namespace drawdown::look
