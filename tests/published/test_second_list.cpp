// Findings of the second list: published, and most of them used for no constant (the ledger says which). As in
// test_published.cpp the ranges stand here a second time.
#include <doctest/doctest.h>

#include "published/holds.hpp"

using namespace drawdown::study;
using published::holds;
using published::known_limit;

TEST_CASE("S12: IL-6 blocked in arthritis: C3 and C4 after one, three, six and twelve months (8 points)") {
  holds("S12x", 20, 36, "Romano 2018");
  holds("S12a1", -32, -16, "Romano 2018");
  holds("S12b1", -53, -37, "Romano 2018");
  holds("S12a3", -35, -19, "Romano 2018");
  holds("S12b3", -51, -35, "Romano 2018");
  holds("S12a6", -42, -26, "Romano 2018");
  holds("S12b6", -62, -46, "Romano 2018");
  holds("S12a12", -41, -25, "Romano 2018");
  holds("S12b12", -63, -47, "Romano 2018");
}

TEST_CASE("K10: the severest nephritis at a fair liver has C3 of 0.40-0.55 g/L used at 4-5.5 %/h") {
  holds("K10a", 0.4, 0.55, "to 5.3");
  holds("K10b", 4, 5.5, "to 5.3");
}

TEST_CASE(
    "P5: after a classical trigger the loop carries most of C5's cleavage, as serum without factors B or D shows") {
  holds("P5a", 65, 95, "Harboe &");
  holds("P5b", 65, 95, "Harboe &");
  holds("P5c", 65, 95, "Harboe &");
}

TEST_CASE("P6: factor B falls little in nephritis, and is hardly used faster when a weak liver makes little C3") {
  holds("P6a", 70, 95, "Perrin 1975");
  holds("P6b", 0.9, 1.4, "Perrin 1975");
  holds("P6c", 1.8, 4, "Perrin 1975");
}

TEST_CASE(
    "P7: in active nephritis C5, C4BP and properdin are lower and inside normal, factors H and I hardly changed") {
  holds("P7a", 75, 98, "Int Arch");
  holds("P7b", 75, 98, "Int Arch");
  holds("P7c", 75, 98, "Int Arch");
  holds("P7d", 85, 105, "Int Arch");
  holds("P7e", 85, 105, "Int Arch");
}

TEST_CASE("P8: a classical trigger in the fluid takes CH50 with C4 and leaves AH50 and C3") {
  holds("P8a", 45, 75, "Shaio 1992");
  holds("P8b", 90, 110, "Shaio 1992");
  holds("P8c", 85, 115, "Shaio 1992");
}

TEST_CASE("P9: in shock C3 is very low and used fast") {
  holds("P9a", 20, 45, "Bokisch 1973");
  known_limit("P9b", 20, 45, "Bokisch 1973");
  holds("P9c", 85, 200, "Bokisch 1973");
  holds("P9d", 1.5, 10, "Bokisch 1973");
}

TEST_CASE("P10: infection in one place raises C3, septic shock lowers it and leaves C4") {
  holds("P10a", 102, 200, "Greenwood 1976");
  holds("P10b", 30, 85, "Greenwood 1976");
  holds("P10c", 85, 150, "Greenwood 1976");
}

TEST_CASE("P11: septic shock cleaves B and not C4, and C3 is back by day 10") {
  holds("P11a", 0.5, 1.5, "Lin 1993");
  holds("P11b", 1.3, 50, "Lin 1993");
  holds("P11c", 90, 200, "Lin 1993");
}

TEST_CASE("P14: a nephritic factor of C5 type lowers C5 and properdin") {
  holds("P14a", 5, 60, "Varade, Forristal");
  holds("P14b", 5, 75, "Varade, Forristal");
}

TEST_CASE("P15: factor I missing empties C3 and B, half of factor I or H hardly") {
  holds("P15a", 15, 40, "Vyse 1994");
  holds("P15b", 0, 30, "Vyse 1994");
  holds("P15c", 80, 100, "Vyse 1994");
  holds("P15d", 70, 95, "Vyse 1994");
}

TEST_CASE("P16: malnutrition and weight loss lower C3 and leave C4") {
  holds("P16a", 50, 80, "Olusi 1976");
  holds("P16b", 90, 110, "Olusi 1976");
  holds("P16c", -18, -8, "Eur J");
  holds("P16d", -3, 3, "Eur J");
}

TEST_CASE("P17: a failing liver makes less: nothing is used faster") {
  holds("P17a", 1, 2, "Potter 1973");
  holds("P17b", 0.85, 1.15, "Potter 1973");
  holds("P17c", 0.85, 1.15, "Potter 1973");
}

TEST_CASE("P19: complexes in the blood fall while a severe flare goes on: not met, and told") {
  known_limit("P19", 0.1, 1.0, "J Autoimmun");
}

TEST_CASE("P20: antibodies to C1q act where complexes are") {
  holds("P20a", 80, 105, "ACR series");
  holds("P20b", 0, 30, "ACR series");
  holds("P20c", 0, 60, "ACR series");
  holds("P20d", 60, 100, "ACR series");
  holds("P20e", 85, 115, "ACR series");
}

TEST_CASE("P22: without C3 complexes leave the blood faster, without red cells' receptors they settle") {
  holds("P22a", 1.02, 5, "Halma 1992");
  holds("P22b", 1.05, 5, "Halma 1992");
}

TEST_CASE("P23: CH50 and AH50 show which component is missing") {
  holds("P23a1", 0, 5, "laboratory guideline");
  holds("P23a2", 90, 120, "laboratory guideline");
  holds("P23b1", 0, 5, "laboratory guideline");
  holds("P23b2", 90, 120, "laboratory guideline");
  holds("P23c1", 0, 5, "laboratory guideline");
  holds("P23c2", 90, 120, "laboratory guideline");
  holds("P23d1", 0, 5, "laboratory guideline");
  holds("P23d2", 0, 5, "laboratory guideline");
  holds("P23e1", 0, 5, "laboratory guideline");
  holds("P23e2", 0, 5, "laboratory guideline");
  holds("P23f1", 90, 120, "laboratory guideline");
  holds("P23f2", 0, 5, "laboratory guideline");
  holds("P23g1", 90, 120, "laboratory guideline");
  holds("P23g2", 0, 5, "laboratory guideline");
  holds("P23h1", 85, 120, "laboratory guideline");
  holds("P23h2", 0, 60, "laboratory guideline");
  holds("P23i1", 40, 60, "laboratory guideline");
  holds("P23i2", 0, 70, "laboratory guideline");
  holds("P23j", 75, 95, "laboratory guideline");
}

TEST_CASE("P24: without C1q debris stays and antibody follows, without C2 not") {
  holds("P24a", 1.3, 10, "Stegert 2015");
  holds("P24b", 0.3, 10, "Stegert 2015");
  holds("P24c", -0.001, 0.2, "Stegert 2015");
}

TEST_CASE("groups: which is low where, what goes together, what treatment brings back") {
  holds("P1a", 75, 95, "Narayanan 2010");
  holds("P1b", 0, 45, "Narayanan 2010");
  holds("P1c", 0, 45, "Narayanan 2010");
  holds("P2", 0, 20, "Narayanan 2010");
  holds("P4", 78, 94, "Xiao 2022");
  holds("P3", 0.65, 0.9, "cohort of");
  holds("P12a", 10, 17, "Petz 1969");
  holds("P12b", 0.4, 0.95, "Petz 1969");
  holds("P11d", 0, 2, "Crit Care");
  holds("P21a", 0.5, 0.9, "Am J");
  holds("P21b", 10, 30, "Am J");
  holds("P21c", 0, 8, "Am J");
  holds("P18", 65, 200, "PMID 38802607");
  holds("S12c", 46, 92, "Romano 2018");
  holds("S12d", 31, 81, "Romano 2018");
}
