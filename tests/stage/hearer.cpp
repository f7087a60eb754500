// A run listened to: its own accounts, and who would have been usual.
#include "stage/spoken.hpp"

namespace drawdown::support {

namespace {

enum class Put { genes, liver, supply, all };
// C3 and C4 of the same person, quiet, with that put right.
std::pair<double, double> with_put_right(const Run& run, Put what) {
  scenario::Scenario story = run.story();
  story.levers = quiet_levers(run.story());
  story.events.clear();
  story.days = 1;
  const auto& rows = story.lever_rows();
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const bool genes = rows[i].group == body::LeverGroup::inherited;
    const bool made = rows[i].group == body::LeverGroup::production;
    const bool liver = rows[i].name == "hepatic_output";
    const bool put = what == Put::all     ? genes || made
                     : what == Put::genes ? genes
                     : what == Put::liver ? liver
                                          : made && !liver;
    if (put) story.levers[i] = rows[i].rest;
  }
  if (story.levers == quiet_levers(run.story())) return {run.usual_c3(), run.usual_c4()};
  const auto healthy = simulate(story);
  return {healthy->usual_c3(), healthy->usual_c4()};
}

}  // namespace

Hearer::Hearer(const Run& run, const std::vector<double>& days) : run_(run), days_(own_accounts(run, days)) {
  const auto share = [](double usual, double other) { return other > 0 ? usual / other : 1.0; };
  const auto fill = [&](Put what, double Birth::*member) {
    const auto [c3, c4] = with_put_right(run, what);
    c3_.*member = share(run.usual_c3(), c3);
    c4_.*member = share(run.usual_c4(), c4);
  };
  fill(Put::all, &Birth::all);
  fill(Put::genes, &Birth::genes);
  fill(Put::liver, &Birth::liver);
  fill(Put::supply, &Birth::supply);
}

std::vector<std::string> Hearer::lies_in(const std::string& text, std::size_t day, const std::string& language,
                                         look::Depth depth) const {
  return lies_heard(text, run_, days_.at(day), c3_, c4_, language, depth);
}

std::vector<std::string> lies_in(const std::string& text, const Run& run, double day, const std::string& language,
                                 look::Depth depth) {
  return Hearer(run, {day}).lies_in(text, 0, language, depth);
}

}  // namespace drawdown::support
