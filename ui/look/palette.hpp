// Colours by what they mean, for a bright room, a dark room and paper. Values are sRGB; the tests compute WCAG contrast
// and colour-vision differences from this table, of the pairs that meet on a chart.
#pragma once

#include <cstdint>
#include <string>

#include "look/names.hpp"

namespace drawdown::look {

struct Colour {
  float r = 0, g = 0, b = 0, a = 1;  // sRGB, 0 to 1
  [[nodiscard]] Colour with_alpha(float alpha) const { return {r, g, b, alpha}; }
};

constexpr Colour rgb(std::uint32_t hex) {
  return {static_cast<float>((hex >> 16U) & 255U) / 255.0F, static_cast<float>((hex >> 8U) & 255U) / 255.0F,
          static_cast<float>(hex & 255U) / 255.0F, 1.0F};
}

// Straight mix in sRGB, t from 0 (a) to 1 (b).
[[nodiscard]] Colour mix(const Colour& a, const Colour& b, float t);

enum class Room { bright, dark, print };
inline constexpr Names<3> room_names{"bright", "dark", "print"};
// The one after it, round again.
[[nodiscard]] constexpr Room next(Room room) {
  return static_cast<Room>((static_cast<std::size_t>(room) + 1) % room_names.size());
}

struct Palette {
  Colour ground;      // behind everything
  Colour card;        // panels
  Colour raised;      // buttons, sliders' tracks
  Colour line;        // hairlines
  Colour ink;         // text
  Colour quiet;       // secondary text
  Colour c3;          // always plain
  Colour c4;          // always hatched or dashed as well
  Colour hatch;       // the stripes on C4
  Colour range;       // the laboratory's interval
  Colour range_ink;   // its label
  Colour usual;       // this person's usual level: line and band
  Colour liver;       // the liver's shape
  Colour liver_ink;   // words on it
  Colour calm;        // a tissue without inflammation
  Colour inflamed;    // a tissue in full inflammation
  Colour tissue_ink;  // words on a tissue
  Colour complexes;   // dots: settled complexes
  Colour notice;      // ground of a notice
  Colour notice_edge;
  Colour select;  // ground of the chosen one
  Colour select_ink;
  Colour focus;  // keyboard ring
  Colour mark;   // the story's value on a lever
};

[[nodiscard]] const Palette& palette(Room room);

// WCAG 2.2 contrast ratio of two opaque colours, 1 to 21 (https://www.w3.org/TR/WCAG22/#dfn-contrast-ratio).
[[nodiscard]] double contrast(const Colour& a, const Colour& b);

}  // namespace drawdown::look
