// Two bars and the last value.
#include <algorithm>

#include "panels/own_parts.hpp"
#include "stage/own_words.hpp"

namespace drawdown::panels {

using draw::Box;
using draw::Type;
using labs::Protein;

float own_gauge_height(const Frame& f) {
  return 2.0F * f.canvas.line_height(Type::small) + 0.5F * f.canvas.em();
}

void draw_own_gauge(Frame& f, const OwnGauge& gauge, const Box& box) {
  const labs::OfProtein& of = *gauge.of;
  if (!of.level.usual || !of.level.last) return;
  const labs::OwnUsual& usual = *of.level.usual;
  const auto& last = labs::value_of(f.state.own.reading.rows.at(*of.level.last), gauge.protein);
  if (!last) return;
  const float em = f.em();
  const bool is_c3 = gauge.protein == Protein::c3;
  const labs::Row& row = f.state.own.reading.rows.at(*of.level.last);
  const auto& own_range = is_c3 ? row.c3_range : row.c4_range;
  const scenario::Laboratory common;
  // The range that the last value was held against; none where it could not be read, or only its mark is known.
  const labs::Placed& placed = of.placed.at(*of.level.last);
  const bool with_range = placed.own_interval || placed.common;
  const scenario::Interval range = own_range ? *own_range : is_c3 ? common.c3 : common.c4;

  const std::string& usual_word = f.words.at("own.usual");
  const std::string& range_word = f.words.at("own.range");
  const float label = std::min(0.45F * box.w, 0.6F * em + std::max(f.canvas.width(usual_word, Type::small),
                                                                   f.canvas.width(range_word, Type::small)));
  const Box scale{box.x + label, box.y, box.w - label - 0.5F * em, box.h};
  const double most = 1.12 * std::max({last->value, usual.high, with_range ? range.high : 0.0});
  const auto x_of = [&](double level) { return scale.x + scale.w * static_cast<float>(level / most); };
  const float line = f.canvas.line_height(Type::small);
  const auto bar = [&](int at, const std::string& word, double low, double high, const look::Colour& fill,
                       const look::Colour& edge) {
    const float y = box.y + static_cast<float>(at) * (line + 0.25F * em);
    f.canvas.fitted({box.x, y, label - 0.5F * em, em}, word, Type::small, f.palette.quiet);
    const Box b{x_of(low), y + 0.15F * line, x_of(high) - x_of(low), 0.7F * line};
    f.canvas.fill(b, fill, 0.2F * em);
    f.canvas.outline(b, edge, 0.2F * em, std::max(1.0F, 0.08F * em));
    return b;
  };
  const Box own = bar(0, usual_word, usual.low, usual.high, f.palette.usual.with_alpha(0.16F), f.palette.usual);
  const float middle = x_of(usual.level);
  f.canvas.line({{middle, own.y}, {middle, own.bottom()}}, f.palette.usual, std::max(1.2F, 0.12F * em));
  if (with_range) bar(1, range_word, range.low, range.high, f.palette.range, f.palette.range_ink);
  const look::Colour& ink = is_c3 ? f.palette.c3 : f.palette.c4;
  const float x = x_of(last->value);
  const float bottom = with_range ? box.y + 2.0F * line + 0.25F * em : own.bottom();
  f.canvas.line({{x, box.y}, {x, bottom}}, ink, std::max(1.2F, 0.12F * em));
  const float r = 0.42F * em;
  const draw::Point at{x, own.middle_y()};
  if (last->below) {  // somewhere to the left
    f.canvas.shape(at, {{at.x, at.y - r}, {at.x, at.y + r}, {at.x - 1.6F * r, at.y}}, ink);
  } else if (is_c3) {
    f.canvas.dot(at, r, ink);
  } else {
    f.canvas.fill({at.x - r, at.y - r, 2 * r, 2 * r}, f.palette.card, 0);
    f.canvas.outline({at.x - r, at.y - r, 2 * r, 2 * r}, ink, 0, std::max(1.4F, 0.16F * em));
  }
}

}  // namespace drawdown::panels
