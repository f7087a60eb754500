// A file of figures: whatever the bytes, it is read or refused with file and place; what is read lies in its unit box,
// before the curve and after.
#include <cmath>
#include <cstdlib>
#include <stdexcept>

#include "draw/shapes.hpp"
#include "fuzz/fuzz.hpp"

using namespace drawdown;

int fuzz_one(const std::string& text) {
  try {
    const draw::Shapes shapes = draw::Shapes::read(text, "shapes");
    for (std::size_t i = 0; i < draw::figure_names.size(); ++i) {
      const auto figure = static_cast<draw::Figure>(i);
      for (const draw::Point& p : shapes.drawn(figure).points) {
        if (!(p.x >= 0 && p.x <= 1 && p.y >= 0 && p.y <= 1)) std::abort();
      }
      for (const draw::Point& p : shapes.figure(figure, {0, 0, 100, 100}).points) {
        if (!std::isfinite(p.x) || !std::isfinite(p.y)) std::abort();
      }
    }
  } catch (const std::runtime_error& error) {
    if (std::string(error.what()).rfind("shapes:", 0) != 0) std::abort();
  }
  return 0;
}
