// The account of a level: debts that add up, a direction that balances, and where it would settle.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "account_of.hpp"
#include "body/builder.hpp"
#include "support/near.hpp"
#include "support/stories.hpp"

using namespace drawdown;
using readout::Account;
using readout::AccountOf;
using support::near;

namespace {

double sum_of(const std::vector<double>& v) {
  return std::accumulate(v.begin(), v.end(), 0.0);
}
double unpaid(const AccountOf& a) {
  return std::abs(sum_of(a.debts) - (a.level - a.usual)) / a.usual;
}
std::size_t token(const Account& account, const std::string& name) {
  const auto& names = account.tokens().names;
  const auto at = std::find(names.begin(), names.end(), name);
  REQUIRE_MESSAGE(at != names.end(), name);
  return static_cast<std::size_t>(at - names.begin());
}
std::shared_ptr<const Run> run_of_file(const std::string& file, double rtol = 1e-5) {
  return support::run_of(scenario::read_file(support::source_folder() + "/scenarios/" + file), rtol);
}

struct Worst {
  double unpaid = 0.0;   // of usual
  double before = 0.0;   // owed to before day 0, of usual
  double dropped = 0.0;  // unpaid if the largest debt of the day is left out
};
Worst worst_of(const Run& run) {
  const Account account = account_of(run);
  Worst worst;
  for (std::size_t p = 0; p < account.proteins().size(); ++p) {
    for (double day = 0.0; day <= run.last_day(); day += 0.5) {
      AccountOf a = account.at(p, 24.0 * day);
      worst.unpaid = std::max(worst.unpaid, unpaid(a));
      worst.before = std::max(worst.before, std::abs(a.debts[account.tokens().before]) / a.usual);
      const auto largest = std::max_element(a.debts.begin(), a.debts.end(),
                                            [](double x, double y) { return std::abs(x) < std::abs(y); });
      *largest = 0.0;
      worst.dropped = std::max(worst.dropped, unpaid(a));
    }
  }
  return worst;
}

}  // namespace

TEST_CASE("the debts add up to level less usual on every half day of every story, better at a finer tolerance") {
  std::size_t found = 0;
  for (const std::string& path : support::shipped_stories()) {
    const auto story = scenario::read_file(path);
    const Worst shipped = worst_of(*support::run_of(story));
    CHECK_MESSAGE(shipped.unpaid < 2.5e-5, path);
    CHECK_MESSAGE(shipped.before < 1e-8, path);
    const Worst fine = worst_of(*support::run_of(story, 1e-6));
    CHECK_MESSAGE(fine.unpaid < 2e-6, path);
    // Negative control: with a part dropped they do not.
    found += shipped.dropped > 100.0 * shipped.unpaid && shipped.dropped > 1e-3 ? 1U : 0U;
  }
  CHECK(found >= 15);
}

TEST_CASE(
    "in less out and what comes from tissue fluid is the change of the pool, and out is drain, level and volume") {
  for (const char* file : {"02-kidney-flare.toml", "15-third-trimester.toml", "16-plasma-exchange.toml"}) {
    const auto run = run_of_file(file, 1e-8);
    const Account account = account_of(*run);
    for (std::size_t p = 0; p < account.proteins().size(); ++p) {
      const body::ProteinId protein = account.proteins()[p];
      double exchanged = 0.0;
      for (double day = 0.77; day < run->last_day() - 1; day += 2.9) {
        const AccountOf a = account.at(p, 24.0 * day);
        CHECK(std::abs(a.in - a.out + a.from_tissue - a.pool_change) < 1e-9);
        CHECK(a.out == near(a.drain * a.against_usual * a.volume, 1e-6));
        CHECK(sum_of(a.drain_parts) == near(a.drain, 1e-12));
        // The slopes against differences of the course, away from events.
        const double h = 0.01;
        const auto grams = [&](double at) { return run->level(protein, at) * run->plasma_litres(at); };
        const double usual_made =
            readout::read_flows_of(*run->body().model, protein, run->usual_state(),
                                   body::reaction_rates(run->body(), run->usual_state(), run->usual_levers()),
                                   run->body().patient.plasma_litres())
                .made;
        CHECK(std::abs(a.pool_change - (grams(day + h) - grams(day - h)) / (2 * h) / usual_made) < 2e-3);
        const double slope = (run->level(protein, day + h) - run->level(protein, day - h)) / (2 * h);
        CHECK(std::abs(a.slope - 100.0 * slope / a.usual) < 0.1);
        CHECK(sum_of(a.debt_slopes) == near(0.01 * a.slope * a.usual, 1e-3).scale(0.01 * a.usual));
        exchanged = std::max(exchanged, std::abs(a.debts[account.tokens().taken_out]));
      }
      CHECK((exchanged > 0.05 * account.at(p, 0.0).usual) == (std::string(file) == "16-plasma-exchange.toml"));
    }
  }
}

TEST_CASE("where a level holds it is where tap, drain and volume say it settles, and tap and drain swapped is found") {
  std::vector<double> off;
  std::size_t swapped = 0;
  for (const std::string& path : support::shipped_stories()) {
    const auto run = support::run_of(scenario::read_file(path));
    const Account account = account_of(*run);
    for (std::size_t p = 0; p < account.proteins().size(); ++p) {
      for (double day = 0.0; day <= run->last_day(); day += 1.0) {
        const AccountOf a = account.at(p, 24.0 * day);
        if (a.trend != readout::LevelTrend::holding) continue;
        off.push_back(std::abs(a.settles / a.level - 1.0));
        const double other_way = a.usual * a.drain / (a.tap * a.volume);
        swapped += std::abs(other_way / a.level - 1.0) > 0.05 ? 1U : 0U;
      }
    }
  }
  std::sort(off.begin(), off.end());
  REQUIRE(off.size() > 1000);
  MESSAGE(off.size(), " readings hold; nine in ten within ", off[off.size() * 9 / 10], ", the worst ", off.back());
  CHECK(off[off.size() * 9 / 10] < 0.002);
  CHECK(off.back() < 0.015);
  CHECK(swapped > 300);
}

TEST_CASE(
    "a level held down by complexes, one made less and one diluted each name their cause, and settle where they are") {
  const std::vector<std::pair<support::Levers, std::string>> people{
      {{{"antibody_drive", 6}, {"antigen_release", 3}, {"acute_phase_response", 0}}, "kidney"},
      {{{"hepatic_output", 0.5}}, "made"},
      {{{"plasma_volume", 1.3}}, "volume"},
      {{{"vascular_leak", 1}}, ""}};
  for (const auto& [levers, cause] : people) {
    // Moved on day 5, and settled long after.
    const auto run = support::run_of(support::story_with(levers, 600.0, 5.0));
    const Account account = account_of(*run);
    const AccountOf a = account.at(0, 24.0 * 599);
    const auto causes = readout::causes_of_level(account.tokens(), a);
    CHECK(a.settles == near(a.level, 1e-3));
    CHECK(a.trend == readout::LevelTrend::holding);
    if (cause.empty()) {
      // A leak moves the pool to the tissue, not the level that holds.
      CHECK(causes.empty());
      CHECK(a.against_usual == near(1.0, 1e-3));
      continue;
    }
    REQUIRE(!causes.empty());
    CHECK(account.tokens().names[causes.front()] == cause);
    CHECK(a.against_usual < 0.92);
    CHECK((a.volume > 1.0) == (cause == "volume"));
    CHECK((a.tap < 0.9) == (cause == "made"));
    CHECK((a.drain > 1.35) == (cause == "kidney"));
  }
}

TEST_CASE(
    "before and after an event the account stands on either side of it: a jump of the volume is owed to the volume") {
  auto story = support::story_with({{"antibody_drive", 6}}, 60.0, 10.0);
  story.events.push_back({40.0, body::lever_at("plasma_volume"), 1.25, 0.0, 0.0, ""});
  const auto run = support::run_of(story);
  const Account account = account_of(*run);
  for (std::size_t p = 0; p < account.proteins().size(); ++p) {
    const AccountOf before = account.at(p, 960.0, Account::Side::before);
    const AccountOf after = account.at(p, 960.0);
    CHECK(before.volume == 1.0);
    CHECK(after.volume == near(1.25, 1e-12));
    CHECK(after.level == near(before.level / 1.25, 1e-9));
    const std::size_t volume = token(account, "volume");
    for (std::size_t t = 0; t < account.tokens().size(); ++t) {
      const double moved = t == volume ? after.level - before.level : 0.0;
      CHECK(std::abs(after.debts[t] - before.debts[t] - moved) < 1e-12);
    }
    CHECK(unpaid(before) < 2.5e-5);
    CHECK(unpaid(after) < 2.5e-5);
    // As many grams are made on either side.
    CHECK(after.in == near(before.in, 1e-9));
  }
}

TEST_CASE("what an unsettled start owes is owed to before day 0 and paid off") {
  // At rest but for C3, of which three tenths are gone.
  const auto body = support::standard_body();
  const body::ProteinId c3 = body->model->known().c3;
  const std::vector<double> levers = body::resting_levers();
  std::vector<double> x = body->rest;
  x[body->model->in_plasma(c3)] *= 0.7;
  network::Bound<double> bound = body->bound();
  const solve::NetworkSystem system(bound);
  solve::Course course(x.size());
  REQUIRE(solve::solve(system, x, 0.0, 1200.0, body->options(1e-6), course).status == solve::Status::ok);
  const solve::Segment all{0.0, 1200.0, levers, std::vector<double>(levers.size(), 0.0)};
  const Account account(*body, course, {all}, levers, body->rest, levers, {c3});
  const std::size_t before = token(account, "before");
  const AccountOf first = account.at(0, 0.0);
  CHECK(unpaid(first) < 1e-12);
  CHECK(first.debts[before] == near(-0.3 * first.usual, 0.1));
  const AccountOf last = account.at(0, 1200.0);
  CHECK(std::abs(last.debts[before]) < 1e-3 * last.usual);
  CHECK(unpaid(last) < 2e-6);
  const solve::Course none(x.size());
  CHECK_THROWS_AS(Account(*body, none, {all}, levers, body->rest, levers, {c3}), std::logic_error);
}

TEST_CASE("the trend is the level's slope in per cent of usual a day, in five steps") {
  const auto run = run_of_file("02-kidney-flare.toml");
  const Account account = account_of(*run);
  std::array<int, 5> seen{};
  for (double day = 0.0; day < run->last_day(); day += 1.0) {
    const AccountOf a = account.at(0, 24.0 * day);
    const double limit = std::abs(a.slope);
    const int size = limit < 0.1 ? 0 : limit < 0.5 ? 1 : 2;
    const int expected = 2 + (a.slope < 0.0 ? -size : size);
    CHECK(static_cast<int>(a.trend) == expected);
    seen.at(static_cast<std::size_t>(a.trend)) += 1;
    // Where it goes is a debt that moves that way.
    if (size > 0) {
      const std::size_t mover = readout::cause_of_trend(account.tokens(), a);
      CHECK(a.debt_slopes[mover] * a.slope > 0.0);
    }
  }
  for (const int n : seen) CHECK(n > 0);
  CHECK(readout::level_trend_name(readout::LevelTrend::slowly_filling) == std::string("slowly_filling"));
}

TEST_CASE("what a row of the catalogue loses from the body whole is owed to that, and leaves with what is used") {
  body::Catalogue c = body::standard_catalogue();
  c.levers.push_back({"loss", body::LeverGroup::complexes, body::LeverKind::sliding, "relative, 0 = none", 0, 1, 0});
  c.chapters.emplace_back([](body::Builder& b) {
    b.chapter("made up");
    b.reaction("spill", "C3 is lost", 0.01, "/h", "made up").lose("C3").by("C3").by("loss").counts(body::Term::lost);
  });
  scenario::Scenario story;
  story.model = std::make_shared<const body::Model>(c);
  story.patient.usual = story.model->standard_levels();
  story.levers = story.model->resting_levers();
  story.days = 120.0;
  story.events = {{5.0, story.model->lever("loss"), 1.0, 0.0, 0.0, ""}};
  const auto run = simulate(story);
  REQUIRE(run->complete());
  const Account account = account_of(*run);
  const AccountOf a = account.at(0, 24.0 * 119);
  const auto causes = readout::causes_of_level(account.tokens(), a);
  REQUIRE(!causes.empty());
  CHECK(account.tokens().names[causes.front()] == "lost");
  CHECK(unpaid(a) < 2.5e-5);
  CHECK(a.settles == near(a.level, 2e-3));
  // A hundredth an hour, beside the usual 2.1: so much wider is the drain by it.
  CHECK(a.drain_parts[account.tokens().lost] == near(0.01 / 0.021, 1e-3));
  const auto flows = run->flows(119.0).c3;
  CHECK(flows.lost == near(0.24 * flows.pool, 1e-9));
  CHECK(flows.used() == near(flows.made + flows.net_back(), 1e-3));
  CHECK(account.at(1, 24.0 * 119).debts[account.tokens().lost] == 0.0);
}

TEST_CASE("the tokens are the catalogue's own: its tissues by name, serosa as linings, and no other") {
  const std::vector<std::string> all{"made",  "given", "wear",    "kidney",    "skin", "joints", "linings", "red_cells",
                                     "fluid", "loop",  "c1_free", "taken_out", "lost", "leak",   "volume",  "before"};
  CHECK(readout::Tokens(*body::standard_model()).names == all);
  body::Catalogue c = body::standard_catalogue();
  body::add_tissue(c, {"lung", "lung", "share_lung"});
  const readout::Tokens more{body::Model(c)};
  CHECK(more.names.size() == all.size() + 1);
  CHECK(more.names[more.first_tissue + 4] == "lung");
  CHECK(more.names[more.red_cells] == "red_cells");
  CHECK(more.of_place(body::place_fluid, true) == more.c1_free);
  CHECK(more.of_place(body::first_tissue_place + 4, false) == more.first_tissue + 4);
}

TEST_CASE("the loops are found in the network, and at the usual gain they run as they do") {
  const auto body = support::standard_body();
  const std::vector<double> levers = body::resting_levers();
  const std::vector<double> rates = body::reaction_rates(*body, body->rest, levers);
  const readout::Loops loops(*body->model, body->rest, rates);
  std::vector<std::string> names;
  for (const body::SpeciesId s : loops.species()) names.push_back(body->network.species[s].name);
  std::sort(names.begin(), names.end());
  CHECK(names == std::vector<std::string>{"C3b", "C3bBb", "C3bBb_surface", "C3b_surface"});
  const body::ProteinId c3 = body->model->known().c3;
  const auto same = loops.at_usual_gain(c3, body->rest, rates);
  for (std::size_t r = 0; r < rates.size(); ++r) CHECK(std::abs(same[r] - rates[r]) <= 1e-9 * rates[r]);
  // Less C3, or more of what feeds the loop, is no changed gain; a convertase that lives longer is.
  const body::ReactionId by_loop = body->model->reaction("c3_loop");
  CHECK(loops.drives(by_loop));
  CHECK_FALSE(loops.drives(body->model->reaction("tick_over")));
  std::vector<double> held = levers;
  const auto share_of_usual = [&](const char* lever, double value) {
    held = levers;
    held[body::lever_at(lever)] = value;
    const auto settled = body::settled(*body, held);
    const auto now = body::reaction_rates(*body, settled.state, held);
    return loops.at_usual_gain(c3, settled.state, now)[by_loop] / now[by_loop];
  };
  CHECK(share_of_usual("synthesis_C3", 0.6) == near(1.0, 0.03));
  CHECK(share_of_usual("nephritic_factor", 4.0) < 0.6);
  CHECK(share_of_usual("block_factor_b", 0.5) > 1.3);
}

TEST_CASE("a changed gain is a cause of its own, and an activating surface that feeds the loop is not") {
  const auto against = [](const support::Levers& levers, double day) {
    const auto run = support::run_of(support::story_with(levers, day + 1.0, 5.0));
    const Account account = account_of(*run);
    const AccountOf a = account.at(0, 24.0 * day);
    CHECK(unpaid(a) < 2.5e-5);
    return a.debts[token(account, "loop")] / (a.level - a.usual);
  };
  CHECK(against({{"nephritic_factor", 4}}, 200) > 0.9);
  CHECK(against({{"factor_h_gene_copies", 1}}, 200) > 0.9);
  CHECK(against({{"factor_i_gene_copies", 1}}, 200) > 0.9);
  CHECK(std::abs(against({{"activating_surface", 1}}, 60)) < 0.1);
  CHECK(std::abs(against({{"cold_antibody", 1}}, 200)) < 0.1);
}

TEST_CASE("at the bottom of the kidney story complexes and the fluid owe more than what is made pays back") {
  const auto run = run_of_file("02-kidney-flare.toml");
  const Account account = account_of(*run);
  double lowest = 0.0;
  for (double day = 0.0; day < run->last_day(); day += 0.5) {
    if (run->c3(day) < run->c3(lowest)) lowest = day;
  }
  const AccountOf a = account.at(0, 24.0 * lowest);
  const auto debt = [&](const char* name) { return a.debts[token(account, name)]; };
  CHECK(debt("kidney") < -0.15);
  CHECK(debt("skin") + debt("joints") + debt("linings") < -0.05);
  CHECK(debt("fluid") < -0.1);
  CHECK(debt("made") > 0.1);
  CHECK(std::abs(debt("volume")) < 1e-9);
  const auto causes = readout::causes_of_level(account.tokens(), a);
  REQUIRE(causes.size() >= 6);
  // The tissues together stand first, the kidney in front of them.
  CHECK(account.tokens().names[causes[0]] == "kidney");
  CHECK(account.tokens().names[causes[4]] == "fluid");
  CHECK(account.tokens().names[causes[5]] == "made");
}

TEST_CASE("an answer kept is the answer of that moment and side, whatever was asked in between") {
  const auto run = run_of_file("16-plasma-exchange.toml");
  const double event = 24.0 * 40.0;
  const Account one = account_of(*run);
  const auto fresh = [&](std::size_t p, double hour, Account::Side side) { return account_of(*run).at(p, hour, side); };
  std::size_t differ = 0;
  for (const double hour : {event, event, 24.0 * 60.0, event}) {
    for (const Account::Side side : {Account::Side::before, Account::Side::after}) {
      for (const std::size_t p : {0U, 1U}) {
        const AccountOf kept = one.at(p, hour, side);
        const AccountOf again = one.at(p, hour, side);
        const AccountOf wanted = fresh(p, hour, side);
        CHECK(kept.drain == wanted.drain);
        CHECK(again.drain == wanted.drain);
        CHECK(kept.debts == wanted.debts);
        differ += fresh(p, event, Account::Side::after).drain != wanted.drain ? 1U : 0U;
      }
    }
  }
  CHECK(differ > 4);  // another side or moment is another answer
}
