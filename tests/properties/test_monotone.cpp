// Where physiology is monotone the model is: each sweep says which level may never rise (or fall) as a lever goes up,
// in a body under a moderate load of complexes without acute-phase response, settled for 300 days.
#include <doctest/doctest.h>

#include "support/near.hpp"
#include "support/stories.hpp"

using namespace drawdown;

namespace {

enum class Goes { down, up, nowhere };

struct Sweep {
  const char* lever;
  std::vector<double> values;  // rising
  Goes c3;
  Goes c4;
};

void follows(Goes goes, double last, double now, const char* lever, double value, const char* protein) {
  if (goes == Goes::down)
    CHECK_MESSAGE(now <= last * (1 + 1e-6), protein, " rose with ", std::string(lever), " at ", value);
  if (goes == Goes::up)
    CHECK_MESSAGE(now >= last * (1 - 1e-6), protein, " fell with ", std::string(lever), " at ", value);
  if (goes == Goes::nowhere)
    CHECK_MESSAGE(now == support::near(last, 1e-6), protein, " moved with ", std::string(lever));
}

}  // namespace

TEST_CASE("monotone where physiology is: twelve levers swept through their ranges") {
  for (const Sweep& sweep : {Sweep{"fixation", {0, 0.5, 1, 1.5, 2}, Goes::down, Goes::down},
                             Sweep{"antibody_drive", {0, 1, 3, 6, 10}, Goes::down, Goes::down},
                             Sweep{"antigen_release", {0, 1, 2, 4, 6}, Goes::down, Goes::down},
                             Sweep{"clearance", {0.2, 0.5, 1, 1.5, 2}, Goes::up, Goes::up},
                             Sweep{"hepatic_output", {0.3, 0.5, 0.8, 1.0, 1.2}, Goes::up, Goes::up},
                             Sweep{"nephritic_factor", {1, 2, 4, 8}, Goes::down, Goes::down},
                             Sweep{"activating_surface", {0, 0.2, 0.5, 1}, Goes::down, Goes::down},
                             Sweep{"c4_gene_copies", {2, 3, 4, 6, 8}, Goes::down, Goes::up},
                             Sweep{"c1inh_dose", {0.2, 0.4, 0.7, 1}, Goes::up, Goes::up},
                             Sweep{"b_cell_treatment", {0, 0.3, 0.6, 1}, Goes::up, Goes::up},
                             Sweep{"block_c1s", {0, 0.3, 0.6, 1}, Goes::up, Goes::up},
                             Sweep{"block_c3", {0, 0.3, 0.6, 1}, Goes::up, Goes::up}}) {
    double last_c3 = -1;
    double last_c4 = -1;
    for (const double value : sweep.values) {
      const support::Levers levers{
          {"antibody_drive", 3}, {"antigen_release", 2}, {"acute_phase_response", 0}, {sweep.lever, value}};
      const auto run = support::run_of(support::story_with(levers, 300.0), 1e-6);
      REQUIRE(run->complete());
      if (last_c3 >= 0) {
        follows(sweep.c3, last_c3, run->c3(300), sweep.lever, value, "C3");
        follows(sweep.c4, last_c4, run->c4(300), sweep.lever, value, "C4");
      }
      last_c3 = run->c3(300);
      last_c4 = run->c4(300);
    }
  }
}

TEST_CASE("blocking C5 in a healthy body moves neither C3 nor C4, whatever the dose") {
  const auto open = support::run_of(support::settled_with({}));
  for (const double dose : {0.3, 0.7, 1.0}) {
    const auto blocked = support::run_of(support::settled_with({{"block_c5", dose}}));
    follows(Goes::nowhere, open->c3(10), blocked->c3(10), "block_c5", dose, "C3");
    follows(Goes::nowhere, open->c4(10), blocked->c4(10), "block_c5", dose, "C4");
  }
}
