// Series are told apart under the three kinds of colour blindness. Matrices at full severity from Machado, Oliveira &
// Fernandes 2009 (IEEE Trans Vis Comput Graph 15:1291), on linear sRGB; difference as CIE 1976 L*a*b* distance (D65).
// A just noticeable difference is about 2.3 (Mahy 1994); series must differ by 20, the ends of the warming scale by 10.
// The hatching of C4 and the words at the tissues, which stand beside the colours, are not tested here.
#include <doctest/doctest.h>

#include <array>
#include <cmath>

#include "look/palette.hpp"
#include "support/near.hpp"

using namespace drawdown::look;

namespace {

using Triple = std::array<double, 3>;
using Matrix = std::array<Triple, 3>;

constexpr Matrix normal{{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}};
constexpr Matrix protanopia{
    {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}}};
constexpr Matrix deuteranopia{
    {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}}};
constexpr Matrix tritanopia{
    {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}}};

double linear(float v) {
  const double c = static_cast<double>(v);
  return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
}

Triple lab(const Colour& colour, const Matrix& sight) {
  const Triple rgb{linear(colour.r), linear(colour.g), linear(colour.b)};
  Triple seen{};
  for (std::size_t i = 0; i < 3; ++i) {
    for (std::size_t j = 0; j < 3; ++j) seen[i] += sight[i][j] * rgb[j];
    seen[i] = std::min(1.0, std::max(0.0, seen[i]));
  }
  const double x = (0.4124564 * seen[0] + 0.3575761 * seen[1] + 0.1804375 * seen[2]) / 0.95047;
  const double y = 0.2126729 * seen[0] + 0.7151522 * seen[1] + 0.0721750 * seen[2];
  const double z = (0.0193339 * seen[0] + 0.1191920 * seen[1] + 0.9503041 * seen[2]) / 1.08883;
  const auto f = [](double t) { return t > 216.0 / 24389 ? std::cbrt(t) : (24389.0 / 27 * t + 16) / 116; };
  return {116 * f(y) - 16, 500 * (f(x) - f(y)), 200 * (f(y) - f(z))};
}

double difference(const Colour& a, const Colour& b, const Matrix& sight) {
  const Triple p = lab(a, sight);
  const Triple q = lab(b, sight);
  return std::hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
}

}  // namespace

TEST_CASE("the colour difference is the published one: white and black differ by 100, red and green greatly") {
  CHECK(difference(rgb(0xFFFFFF), rgb(0x000000), normal) == drawdown::support::near(100, 1e-3));
  CHECK(difference(rgb(0xFF0000), rgb(0x00FF00), normal) == drawdown::support::near(170.6, 0.01));
  // Red and green of equal lightness come close without the red or the green cones.
  CHECK(difference(rgb(0xC04020), rgb(0x607000), deuteranopia) <
        0.5 * difference(rgb(0xC04020), rgb(0x607000), normal));
}

TEST_CASE(
    "C3, C4 and the further track are told apart with three kinds of colour blindness, in both rooms and on paper") {
  for (const Room room : {Room::bright, Room::dark, Room::print}) {
    const Palette& p = palette(room);
    for (const Matrix& sight : {normal, protanopia, deuteranopia, tritanopia}) {
      CHECK(difference(p.c3, p.c4, sight) >= 20);
      CHECK(difference(p.c4, p.complexes, sight) >= 20);
      CHECK(difference(p.c3, p.complexes, sight) >= 20);
      CHECK(difference(p.calm, p.inflamed, sight) >= 10);
      CHECK(difference(p.range, p.c3, sight) >= 20);
      CHECK(difference(p.range, p.c4, sight) >= 20);
      CHECK(difference(p.complexes, p.inflamed, sight) >= 20);
    }
  }
}
