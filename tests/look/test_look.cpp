// Colours can be read and words are there. WCAG 2.2 (https://www.w3.org/TR/WCAG22/): text 4.5 to 1, graphics 3 to 1.
#include <doctest/doctest.h>

#include "look/palette.hpp"
#include "look/words.hpp"
#include "support/near.hpp"
#include "support/stories.hpp"

using namespace drawdown;
using namespace drawdown::look;

TEST_CASE("contrast is computed as WCAG defines it") {
  CHECK(contrast(rgb(0xFFFFFF), rgb(0x000000)) == support::near(21.0, 1e-3));
  CHECK(contrast(rgb(0x777777), rgb(0xFFFFFF)) == support::near(4.48, 5e-3));  // W3C's own example pair
}

TEST_CASE("text reaches 4.5 to 1 and graphics 3 to 1 in the bright room, the dark room and on paper") {
  for (const Room room : {Room::bright, Room::dark, Room::print}) {
    const Palette& p = palette(room);
    const auto text = [&](const Colour& ink, const Colour& ground, const std::string& what) {
      CHECK_MESSAGE(contrast(ink, ground) >= 4.5, what, " in room ", static_cast<int>(room), ": ",
                    contrast(ink, ground));
    };
    const auto graphic = [&](const Colour& ink, const Colour& ground, const std::string& what) {
      CHECK_MESSAGE(contrast(ink, ground) >= 3.0, what, " in room ", static_cast<int>(room), ": ",
                    contrast(ink, ground));
    };
    text(p.ink, p.ground, "ink on ground");
    text(p.ink, p.card, "ink on card");
    text(p.ink, p.raised, "ink on a button");
    text(p.ink, p.notice, "ink on a notice");
    text(p.quiet, p.ground, "quiet on ground");
    text(p.quiet, p.card, "quiet on card");
    text(p.quiet, p.raised, "quiet on raised");
    text(p.quiet, p.notice, "quiet on a notice");
    text(p.c3, p.card, "C3's words");
    text(p.c4, p.card, "C4's words");
    text(p.c3, p.notice, "C3's numbers");
    text(p.c4, p.notice, "C4's numbers");
    text(p.range_ink, p.range, "the range's label");
    text(p.usual, p.range, "the usual label");
    text(p.usual, p.card, "the usual label on card");
    text(p.liver_ink, p.liver, "the liver's name");
    text(p.tissue_ink, p.calm, "a calm tissue's name");
    text(p.tissue_ink, p.inflamed, "an inflamed tissue's name");
    text(p.tissue_ink, mix(p.calm, p.inflamed, 0.5F), "a half inflamed tissue's name");
    text(p.select_ink, p.select, "the chosen one");
    text(p.mark, p.card, "a changed value");
    graphic(p.c3, p.card, "C3's curve");
    graphic(p.c4, p.card, "C4's curve");
    graphic(p.c3, p.range, "C3's curve on the range");
    graphic(p.c4, p.range, "C4's curve on the range");
    graphic(p.complexes, p.calm, "settled complexes, calm");
    graphic(p.complexes, p.inflamed, "settled complexes, inflamed");
    graphic(p.focus, p.card, "focus ring");
    graphic(p.focus, p.ground, "focus ring on ground");
    graphic(p.mark, p.card, "the story's mark");
    graphic(p.liver, p.card, "the liver");
  }
}

TEST_CASE("every lever has English words, and placeholders are filled") {
  const WordBook words = WordBook::load(support::source_folder() + "/assets/en.toml");
  for (const body::Lever& lever : body::standard_model()->levers()) {
    if (lever.group == body::LeverGroup::person) continue;
    CHECK_MESSAGE(words.has("lever." + lever.name), lever.name);
  }
  CHECK(words.at("no.such.key") == "<no.such.key>");
  CHECK(filled("{0} and {1}, {9}", {"a", "b"}) == "a and b, {9}");
  CHECK_THROWS_AS((void)WordBook::load("/nowhere/en.toml"), std::runtime_error);
}
