// Adding to the body as a newcomer would: rows and a chapter, in memory, through the doors DEVELOPERS.md names. Each
// thing added must come out everywhere such things come out; each fault must be refused by name.
#include <doctest/doctest.h>

#include <algorithm>

#include "body/builder.hpp"
#include "command/tables.hpp"
#include "exchange/sbml.hpp"
#include "network/network.hpp"
#include "scenario/read.hpp"
#include "stage/narrate.hpp"
#include "support/near.hpp"
#include "support/stories.hpp"

using namespace drawdown;
using body::Catalogue;
using body::Model;

namespace {

// A made-up protein of 120 kDa that leaves the plasma and is used up by active C1, at a rate a lever sets.
Catalogue with_a_protein() {
  Catalogue c = body::standard_catalogue();
  body::Protein p;
  p.name = "PX";
  p.label = "protein X";
  p.level = 80;
  p.mass = 120;
  p.fcr = 0.02;
  p.outside = 0.6;
  p.source = "made up";
  p.gene_lever = "px_gene_copies";
  p.reading = "protein X";
  body::add_protein(c, p);
  c.levers.push_back({"px_use", body::LeverGroup::complexes, body::LeverKind::sliding, "relative", 0, 5, 0, 1});
  c.chapters.emplace_back([](body::Builder& b) {
    b.chapter("made up");
    b.species("PX_used", "protein X, used", "nmol/L plasma", 1.0, {"PX"});
    b.reaction("px_cut", "active C1 cuts protein X", 4000.0, "/h", "made up")
        .lose("PX")
        .gain("PX_used")
        .by("C1_kidney")
        .by("px_use")
        .saturating("PX", 300.0, "nmol/L", "made up")
        .at("kidney");
    b.reaction("clear_px", "used protein X is cleared", 0.4, "/h", "made up").lose("PX_used").by("PX_used");
  });
  return c;
}

scenario::Scenario story_of(const std::shared_ptr<const Model>& model, const std::string& levers) {
  return scenario::read_text("title = 'added'\ndays = 40\n[levers]\n" + levers, "added.toml", model);
}

// Why a catalogue is refused; empty if it is not.
std::string refusal(const Catalogue& c) {
  try {
    const Model model(c);
  } catch (const std::logic_error& error) {
    return error.what();
  }
  return {};
}

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("a protein added by a row and a reaction is run, accounted for, read, tabled, exported and written out") {
  const auto model = std::make_shared<const Model>(with_a_protein());
  const body::ProteinId px = model->protein("PX");
  const auto quiet = simulate(story_of(model, ""));
  REQUIRE(quiet->complete());
  CHECK(quiet->level(px, 30) == support::near(0.080, 1e-4));
  const std::string flare = "antibody_drive = 6\nantigen_release = 3\npx_use = 2\n";
  const auto run = simulate(story_of(model, flare));
  REQUIRE(run->complete());
  CHECK(run->level(px, 30) < 0.9 * 0.080);  // used: the level falls
  const auto rates = body::reaction_rates(run->body(), run->state(30), run->levers(30));
  const auto flows = readout::read_flows_of(*model, px, run->state(30), rates, 2.8);
  CHECK(flows.spent_total() > 0.1 * flows.made);
  // at the kidney, whose active C1 cuts it, and nowhere else
  using readout::Place;
  CHECK(flows.spent[static_cast<std::size_t>(Place::kidney)] == support::near(flows.spent_total(), 1e-12));
  CHECK(flows.spent[static_cast<std::size_t>(Place::skin)] == 0.0);
  CHECK(flows.classical == 0.0);  // its chapter is its own
  // one gene of two: half is made
  const auto half = simulate(story_of(model, "px_gene_copies = 1\n"));
  CHECK(half->level(px, 30) == support::near(0.040, 1e-3));
  CHECK(run->in_sample(model->readout("protein X"), 30) == support::near(1000 * run->level(px, 30), 1e-12));
  const std::string table = command::course_csv(*run);
  CHECK(has(table, ",protein X [mg/L],"));
  CHECK_FALSE(has(command::course_csv(*support::run_of(support::story_with({}))), "protein X"));
  CHECK(has(exchange::to_sbml(*run), "px_cut"));
  CHECK(has(network::equations_markdown(run->body().network), "active C1 cuts protein X"));
  // its conserved sum: lost only where it says it is lost
  const auto& moieties = model->network().moieties;
  const auto sum = std::find_if(moieties.begin(), moieties.end(), [](const auto& m) { return m.name == "PX"; });
  REQUIRE(sum != moieties.end());
  // A story without the row knows nothing of its levers.
  CHECK_THROWS_WITH_AS((void)scenario::read_text("title = 'x'\n[levers]\npx_use = 1\n", "x.toml"),
                       doctest::Contains("unknown lever 'px_use'"), scenario::ReadError);
  // What was there before is what it was.
  const auto without = support::run_of(support::settled_with({{"antibody_drive", 6}, {"antigen_release", 3}}, 40));
  const auto unused = simulate(story_of(model, "antibody_drive = 6\nantigen_release = 3\n"));
  CHECK(unused->c3(30) == support::near(without->c3(30), 2e-4));
}

TEST_CASE("a lever, a tissue, a readout added by a row come out where such things come out") {
  Catalogue c = body::standard_catalogue();
  body::add_tissue(c, {"lung", "skin", "share_lung"});
  body::Readout ratio;
  ratio.name = "C3 over C4";
  ratio.unit = "ratio";
  ratio.prepare = [](const Model& m) -> body::Readout::Read {
    return [c3 = m.species("C3"), c4 = m.species("C4")](const double* x, const double*) { return x[c3] / x[c4]; };
  };
  c.readouts.push_back(ratio);
  const auto model = std::make_shared<const Model>(c);
  const auto run = simulate(story_of(model, "antibody_drive = 6\nantigen_release = 3\nshare_lung = 0.8\n"));
  REQUIRE(run->complete());
  const auto tissues = run->tissues(30);
  REQUIRE(tissues.size() == 5);
  CHECK(tissues[4].deposit > 1.5 * tissues[0].deposit);
  const auto flows = run->flows(30);
  REQUIRE(flows.c4.spent.size() == 7);
  CHECK(flows.c4.spent[body::first_tissue_place + 4] > flows.c4.spent[body::first_tissue_place]);
  CHECK(flows.c4.spent[body::place_red_cells] == 0.0);
  const auto x = run->state(30);
  CHECK(run->in_sample(model->readout("C3 over C4"), 30) ==
        support::near(x[model->species("C3")] / x[model->species("C4")], 1e-12));
  CHECK(has(command::course_csv(*run), ",C3 over C4 [ratio],"));
}

TEST_CASE("a medicine against a protein added by its row stops what says so, in the body and in the tube") {
  Catalogue c = body::standard_catalogue();
  c.levers.push_back(
      {"block_c2", body::LeverGroup::treatment, body::LeverKind::sliding, "fraction blocked", 0, 1, 0, 1});
  for (body::Protein& p : c.proteins) {
    if (p.name == "C2") p.blocked_by = "block_c2";
  }
  c.chapters.emplace_back([](body::Builder& b) {
    b.chapter("made up");
    b.reaction("c2_lost", "C2 is lost unless it is blocked", 0.018, "/h", "made up")
        .lose("C2")
        .by("C2")
        .unblocked("C2")
        .at("fluid");
  });
  const auto model = std::make_shared<const Model>(c);
  const auto free = simulate(story_of(model, "block_c2 = 0\n"));
  const auto blocked = simulate(story_of(model, "block_c2 = 1\n"));
  REQUIRE(blocked->complete());
  const body::ProteinId c2 = model->protein("C2");
  CHECK(blocked->level(c2, 30) > 1.5 * free->level(c2, 30));
  CHECK(blocked->serum(30).ch50 < 1.0);
  CHECK(free->serum(30).ch50 > 50.0);
  // No row names a medicine against C9.
  c.chapters.emplace_back([](body::Builder& b) {
    b.chapter("made up");
    b.reaction("c9_lost", "C9 is lost", 0.005, "/h", "made up").lose("C9").by("C9").unblocked("C9").at("fluid");
  });
  CHECK(has(refusal(c), "nothing blocks C9"));
}

TEST_CASE("a tissue's own constants, a story's own laboratory: each is what it is for that one alone") {
  Catalogue c = body::standard_catalogue();
  body::Tissue slow{"lung", "skin", "share_lung"};
  slow.calming = 0.006;
  slow.injuring = 0.0;
  body::add_tissue(c, slow);
  body::add_tissue(c, {"pleura", "skin", "share_pleura"});
  const auto model = std::make_shared<const Model>(c);
  const auto run =
      simulate(story_of(model, "antibody_drive = 6\nantigen_release = 3\nshare_lung = 0.5\nshare_pleura = 0.5\n"));
  REQUIRE(run->complete());
  const auto tissues = run->tissues(30);
  CHECK(tissues[4].deposit == support::near(tissues[5].deposit, 1e-6));
  CHECK(tissues[4].inflammation > 2.0 * tissues[5].inflammation);
  CHECK(tissues[4].injury < 1e-9);
  CHECK(tissues[5].injury > 0.01);
  // A laboratory of the story's own, in memory: its interval is what the run is held against.
  const std::string text = "title = 'x'\n[laboratory]\nc3_g_per_l = [1.30, 2.10]\n";
  const auto strict = simulate(scenario::read_text(text, "x.toml"));
  CHECK(strict->story().laboratory.c3.low == 1.30);
  CHECK(stage::read_balance(*strict, 5, stage::Which::c3).below_range);
  CHECK_FALSE(stage::read_balance(*support::run_of(support::story_with({})), 5, stage::Which::c3).below_range);
}

TEST_CASE("a mistake in a catalogue is refused by name when a model is made of it") {
  CHECK(refusal(body::standard_catalogue()).empty());
  const auto with_reaction = [](auto write) {
    Catalogue c = body::standard_catalogue();
    c.chapters.emplace_back([write](body::Builder& b) {
      b.chapter("made up");
      write(b.reaction("odd", "something odd", 0.1, "/h", "made up"));
    });
    return refusal(c);
  };
  using R = body::ReactionBuilder;
  CHECK(has(with_reaction([](R r) { r.lose("C3").by("C3"); }), "odd changes C3 and does not say what it counts for"));
  CHECK(with_reaction([](R r) { r.lose("C3").by("C3").at("fluid"); }).empty());
  CHECK(has(with_reaction([](R r) { r.lose("C3").by("C3").counts(body::Term::used); }), "odd changes C3"));
  CHECK(has(with_reaction([](R r) { r.lose("C3").by("C3").counts(body::Term::made); }), "the opposite"));
  CHECK(has(with_reaction([](R r) { r.gain("C3").by("C3").at("fluid"); }), "the opposite"));
  CHECK(has(with_reaction([](R r) { r.gain("C3b_surface").by("C4"); }), "odd feeds surface_C3b and does not say"));
  CHECK(has(with_reaction([](R r) { r.lose("C3").by("C3").at("liver"); }), "no place named liver"));
  CHECK(has(with_reaction([](R r) { r.lose("C3").by("C3").as("C9"); }), "no carrier named C9"));
  CHECK(has(with_reaction([](R r) { r.lose("iC3b").by("C7"); }), "no species or lever named C7"));
  const auto with = [](auto change) {
    Catalogue c = body::standard_catalogue();
    change(c);
    return refusal(c);
  };
  CHECK(has(with([](Catalogue& c) { body::add_protein(c, c.proteins.front()); }), "stands twice or has no name: C1"));
  CHECK(has(with([](Catalogue& c) { c.levers.push_back(c.levers.front()); }), "antibody_drive"));
  CHECK(has(with([](Catalogue& c) { c.readouts.pop_back(); }), "no readout named"));
  CHECK(has(with([](Catalogue& c) { c.chapters.erase(c.chapters.begin() + 4); }), "no species"));
  CHECK(has(with([](Catalogue& c) {
              c.readouts.front().prepare = [](const Model& m) -> body::Readout::Read {
                return [at = m.species("C33")](const double* x, const double*) { return x[at]; };
              };
            }),
            "no species named C33"));
}

TEST_CASE("uses by an enzyme are shared out as what fed it") {
  const Model model(body::standard_catalogue());
  const body::Accounts& accounts = model.accounts();
  std::vector<double> rates(model.network().reactions.size(), 0.0);
  const std::size_t places = accounts.places.size();
  const auto share = [&](const char* carrier, std::size_t place) {
    const auto at = std::find_if(accounts.carriers.begin(), accounts.carriers.end(),
                                 [&](const network::Moiety& c) { return c.name == carrier; });
    return accounts.shares(rates.data())[static_cast<std::size_t>(at - accounts.carriers.begin()) * places + place];
  };
  const std::size_t kidney = body::first_tissue_place;
  rates[model.reaction("c3_bound_kidney")] = 3.0;
  rates[model.reaction("c3_bound_skin")] = 1.0;
  CHECK(share("surface_C3b", kidney) == support::near(0.75, 1e-12));
  rates[model.reaction("land_C3b")] = 4.0;
  rates[model.reaction("c3_surface_bound")] = 50.0;  // its own: feeds nobody anew
  CHECK(share("surface_C3b", kidney) == support::near(0.375, 1e-12));
  CHECK(share("surface_C3b", body::place_fluid) == support::near(0.5, 1e-12));
  std::fill(rates.begin(), rates.end(), 0.0);
  CHECK(share("surface_C3b", body::place_fluid) == 1.0);
}
