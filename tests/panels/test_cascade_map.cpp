// The cascade's river beside the network it is read from: its geometry is held to rates that the tests add up from the
// reactions themselves, its loop to readout/loops.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <string>

#include "body/builder.hpp"
#include "panels/cascade_map.hpp"
#include "readout/loops.hpp"
#include "support/near.hpp"
#include "support/screen.hpp"
#include "support/stories.hpp"

using namespace drawdown;
using panels::CascadeFlows;
using panels::CascadeMap;
using panels::CascadeParts;
using panels::MapPart;
using panels::Stream;

namespace {

const panels::MapSetting wide{{0, 0, 1100, 560}, 16, 130, 64, 80};

std::shared_ptr<const Run> story(const std::string& name) {
  return simulate(scenario::read_file(support::source_folder() + "/scenarios/" + name + ".toml"));
}

// A day's flows with numbers of one's own in place of the rates.
struct Day {
  CascadeParts parts;
  CascadeFlows::Given now, health;
  std::vector<double> usual;
  Day(const Run& run, double day) : usual(run.usual_state()) {
    const body::Body& body = run.body();
    const auto rest = body.model->resting_levers();
    parts = panels::read_cascade(body.model, body::reaction_rates(body, body.rest, rest));
    now = CascadeFlows::given(parts, body, run.state(day), run.levers(day));
    health = CascadeFlows::given(parts, body, body.rest, rest);
  }
  [[nodiscard]] CascadeMap map() const { return lay_out(CascadeFlows(parts, now, health, usual), wide); }
};

bool in_cascade(const network::Reaction& r) {
  return r.chapter == "classical" || r.chapter == "alternative" || r.chapter == "terminal";
}

// Molecules of a species lost an hour in the three chapters, from the reactions; `only`: of those it says yes to.
template <class Only>
double lost(const body::Model& model, const char* protein, const std::vector<double>& rates, Only only) {
  const auto species = static_cast<int>(model.species(protein).index);
  double sum = 0.0;
  for (std::size_t r = 0; r < model.network().reactions.size(); ++r) {
    const network::Reaction& reaction = model.network().reactions[r];
    if (!in_cascade(reaction) || !only(r)) continue;
    for (const auto& c : reaction.changes) {
      if (c.species == species && c.count < 0.0) sum -= c.count * rates[r];
    }
  }
  return sum;
}
double lost(const body::Model& model, const char* protein, const std::vector<double>& rates) {
  return lost(model, protein, rates, [](std::size_t) { return true; });
}

const panels::Main* main_of(const CascadeParts& parts, const std::string& key) {
  for (const auto& main : parts.mains) {
    if (main.key == key) return &main;
  }
  return nullptr;
}

// The trunk's width of a main protein: the first stream of what is used.
double trunk(const CascadeMap& map, const CascadeParts& parts, const std::string& key) {
  for (const Stream& s : map.streams) {
    const MapPart& part = map.parts[s.part];
    if (s.kind == Stream::Kind::used && part.kind == MapPart::Kind::main && parts.mains[part.main].key == key)
      return s.from.now;
  }
  return -1.0;
}
double at_bar(const CascadeMap& map, const CascadeParts& parts, const std::string& key) {
  double sum = 0.0;
  for (const Stream& s : map.streams) {
    if (s.kind == Stream::Kind::cause && parts.mains[map.parts[s.part].main].key == key) sum += s.to.now;
  }
  return sum;
}

bool widths_are_rates(const Day& day, const std::vector<double>& rates, const body::Model& model) {
  const CascadeMap map = day.map();
  bool all = true;
  for (const char* protein : {"C1", "C4", "C3", "C5"}) {
    const double made = day.health.rates[model.reaction("make_" + std::string(protein))];
    const double wanted = double{map.full} * lost(model, protein, rates) / made;
    all = all && std::abs(trunk(map, day.parts, protein) - wanted) < 1e-3 * double{map.full};
  }
  return all;
}

double gain_of_loops(const body::Model& model, const Day& day, const std::vector<double>& rates) {
  const readout::Loops loops(model, day.health.state, day.health.rates);
  return lost(model, "C3", rates, [&](std::size_t r) { return loops.drives(network::ReactionId(r)); }) /
         lost(model, "C3", rates);
}

}  // namespace

TEST_CASE("the river is read from the network: what opens what, who helps, who guards") {
  const auto body = support::standard_body();
  const CascadeParts parts =
      panels::read_cascade(body->model, body::reaction_rates(*body, body->rest, body->model->resting_levers()));
  // The order of the cascade and the parts of its proteins as any textbook has them.
  std::map<std::string, int> column;
  for (const auto& main : parts.mains) column[main.key] = main.column;
  CHECK(column == std::map<std::string, int>{{"C1", 0}, {"C4", 1}, {"C3", 2}, {"C5", 3}});
  std::map<std::string, std::string> helps;
  for (const auto& helper : parts.helpers) helps[helper.key] = parts.mains[helper.main].key;
  CHECK(helps == std::map<std::string, std::string>{{"C2", "C4"}, {"FB", "C3"}, {"C9", "C5"}});
  std::map<std::string, std::string> guards;
  for (const auto& guard : parts.guards) guards[guard.key] = parts.mains[guard.main].key;
  CHECK(guards == std::map<std::string, std::string>{{"C1INH", "C1"}, {"C4BP", "C4"}, {"FH", "C3"}, {"FI", "C3"}});
  std::map<std::string, std::string> aides;
  for (const auto& aide : parts.aides) aides[aide.key] = parts.mains[aide.main].key;
  CHECK(aides == std::map<std::string, std::string>{{"FD", "C3"}, {"P", "C3"}});
  for (const auto& main : parts.mains) CHECK(main.loop == (main.key == "C3"));
}

TEST_CASE("a stream is as wide as its rate on the one scale, in every story, and two rates exchanged are found") {
  for (const std::string& path : support::shipped_stories()) {
    const auto run = simulate(scenario::read_file(path));
    for (const double day : {0.0, 45.0, 110.0}) {
      Day today(*run, std::min(day, run->last_day()));
      const body::Model& model = *run->body().model;
      const std::vector<double> rates = today.now.rates;
      CHECK_MESSAGE(widths_are_rates(today, rates, model), path, " day ", day);
      const CascadeMap map = today.map();
      for (const auto& main : today.parts.mains) {
        const double there = double{trunk(map, today.parts, main.key)};
        CHECK_MESSAGE(std::abs(double{at_bar(map, today.parts, main.key)} - there) <= 1e-9 + 1e-5 * there, path,
                      " day ", day, ": what comes to the bar of ", main.key);
        // Nothing is wider than the place kept for it.
        CHECK_MESSAGE(trunk(map, today.parts, main.key) < 1.15 * double{map.full}, path, " day ", day, " ", main.key);
      }
      std::swap(today.now.rates[model.reaction("wake_alone")], today.now.rates[model.reaction("tick_over")]);
      CHECK_MESSAGE(!widths_are_rates(today, rates, model), path, " day ", day);
    }
  }
}

TEST_CASE("ring over trunk is the loop's gain as readout/loops finds it, and not when two rates are exchanged") {
  for (const char* name : {"01-steady-day", "02-kidney-flare", "11-after-a-throat-infection",
                           "12-a-convertase-that-will-not-let-go", "17-blocking"}) {
    const auto run = story(name);
    Day today(*run, std::min(100.0, run->last_day()));
    const body::Model& model = *run->body().model;
    const double gain = gain_of_loops(model, today, today.now.rates);
    const auto drawn = [&] {
      const CascadeMap map = today.map();
      return map.streams[map.ring].from.now / trunk(map, today.parts, "C3");
    };
    REQUIRE(gain > 0.02);
    CHECK_MESSAGE(drawn() == support::near(gain, 1e-6), name);
    std::swap(today.now.rates[model.reaction("c3_loop")], today.now.rates[model.reaction("tick_over")]);
    CHECK_MESSAGE(drawn() != support::near(gain, 1e-3), name);
  }
}

TEST_CASE("a protein added to the body is a reach of its own, and without its reaction it is none") {
  const auto with = [](bool used) {
    body::Catalogue c = body::standard_catalogue();
    body::Protein p;
    p.name = "PX";
    p.label = "protein X";
    p.level = 80;
    p.mass = 120;
    p.fcr = 0.02;
    p.outside = 0.6;
    p.source = "made up";
    p.reading = "protein X";
    body::add_protein(c, p);
    if (used) {
      c.chapters.emplace_back([](body::Builder& b) {
        b.chapter("made up");
        b.species("PX_used", "protein X, used", "nmol/L plasma", 1.0);
        b.reaction("px_cut", "active C1 cuts protein X", 4000.0, "/h", "made up")
            .lose("PX")
            .gain("PX_used")
            .by("C1_kidney")
            .saturating("PX", 500.0, "nmol/L", "made up")
            .at("kidney");
        b.reaction("px_cleared", "what is left of it is cleared", 1.0, "/h", "made up").lose("PX_used").by("PX_used");
      });
    }
    return std::make_shared<const body::Model>(std::move(c));
  };
  for (const bool used : {true, false}) {
    const auto model = with(used);
    body::Patient patient;
    patient.usual = model->standard_levels();
    const auto body = body::make_body(patient, model);
    const auto rest = model->resting_levers();
    const CascadeParts parts = panels::read_cascade(model, body::reaction_rates(*body, body->rest, rest));
    const panels::Main* px = main_of(parts, "PX");
    CHECK((px != nullptr) == used);
    if (px == nullptr) continue;
    CHECK(px->column == 1);
    std::vector<double> state = body->rest;
    state[model->species("C1_kidney")] = 0.01;
    const auto now = CascadeFlows::given(parts, *body, state, rest);
    const auto health = CascadeFlows::given(parts, *body, body->rest, rest);
    const CascadeMap map = lay_out(CascadeFlows(parts, now, health, body->rest), wide);
    const double wanted =
        double{map.full} * now.rates[model->reaction("px_cut")] / health.rates[model->reaction("make_PX")];
    REQUIRE(wanted > 1.0);
    CHECK(trunk(map, parts, "PX") == support::near(wanted, 1e-5));
    CHECK(map.reaches.size() == parts.mains.size());
    // Beside C4, which the same enzyme opens, and not on it.
    for (std::size_t i = 0; i < parts.mains.size(); ++i) {
      if (&parts.mains[i] == px) continue;
      CHECK(std::hypot(map.reaches[i].at.x - map.reaches[static_cast<std::size_t>(px - parts.mains.data())].at.x,
                       map.reaches[i].at.y - map.reaches[static_cast<std::size_t>(px - parts.mains.data())].at.y) > 30);
    }
  }
}

TEST_CASE("a block is a dam, open as far as it leaves free, and without it there is none") {
  for (const char* lever : {"block_c1s", "block_c3", "block_factor_b", "block_c5"}) {
    for (const double part : {0.0, 0.6, 1.0}) {
      const auto run = support::run_of(support::story_with({{lever, part}}, 30.0));
      const CascadeMap map = Day(*run, 20.0).map();
      CHECK_MESSAGE(map.dams.size() == (part > 0.0 ? 1U : 0U), lever, " ", part);
      if (map.dams.empty()) continue;
      CHECK(std::abs(double{map.dams[0].free} - (1.0 - part)) < 1e-6);
      CHECK(static_cast<std::size_t>(map.dams[0].block) == body::lever_at(lever).index);
    }
  }
}

TEST_CASE("antibodies to C1q have a stream of their own: what complexes wake because of them") {
  const auto stream = [](double antibodies) {
    const auto run = support::run_of(support::settled_with({{"antibody_drive", 6.0}, {"anti_c1q", antibodies}}));
    const Day day(*run, 10.0);
    const CascadeFlows flows(day.parts, day.now, day.health, day.usual);
    const panels::Main& c1 = *main_of(day.parts, "C1");
    for (const auto& opener : c1.openers) {
      if (opener.key == "C1.anti_c1q") return flows.opened(c1, opener).now;
    }
    return -1.0;
  };
  CHECK(stream(0.0) == 0.0);
  const auto run = support::run_of(support::settled_with({{"antibody_drive", 6.0}, {"anti_c1q", 1.0}}));
  const Day day(*run, 10.0);
  const body::Model& model = *run->body().model;
  // By hand: 0.8 of 1.8 of what settled complexes wake, and all that these antibodies wake and take.
  double by_hand = 0.0;
  for (std::size_t r = 0; r < model.network().reactions.size(); ++r) {
    const std::string& name = model.network().reactions[r].name;
    for (const auto& tissue : model.tissues())
      by_hand += name == "wake_" + tissue.name ? day.now.rates[r] * 0.8 / 1.8 : 0.0;
    if (name == "wake_anti_c1q" || name.rfind("take_anti_c1q", 0) == 0) by_hand += day.now.rates[r];
  }
  CHECK(stream(1.0) == support::near(by_hand / day.health.rates[model.reaction("make_C1")], 1e-5));
  CHECK(by_hand > 0.0);
}

TEST_CASE("every part of the river has its words, at every depth, in both languages") {
  for (const char* language : {"en", "es"}) {
    stage::AppState state = support::opening_state(100);
    state.look.language = language;
    state.page.view = stage::View::cascade;
    support::Screen screen(state);
    for (const auto depth : {look::Depth::plain, look::Depth::clinic, look::Depth::mechanism}) {
      screen.do_action(stage::SetDepth{depth});
      screen.frame();
      std::size_t walked = 0;
      for (int i = 0; i < 140; ++i) {
        screen.key(ImGuiKey_Tab);
        if (screen.focused().rfind("cascade.", 0) != 0) continue;
        walked += 1;
        for (const auto& t : screen.texts()) CHECK_MESSAGE(t.text.find('<') == std::string::npos, t.text);
      }
      CHECK(walked > (depth == look::Depth::plain ? 7U : 20U));
    }
  }
}

TEST_CASE("specks drift along the river while time plays, and not where motion is reduced") {
  stage::AppState state = support::opening_state(100);
  state.page.view = stage::View::cascade;
  const auto drawn = [&](bool playing, bool reduced, double seconds) {
    stage::AppState s = state;
    s.time.playing = playing;
    s.look.reduced_motion = reduced;
    support::Screen screen(s);
    screen.frame_at(seconds);
    return screen.drawn();
  };
  CHECK(drawn(true, false, 0.3) != drawn(true, false, 0.6));
  CHECK(drawn(true, true, 0.3) == drawn(true, true, 0.6));
}

TEST_CASE("what the view says first is the first thing not as in health, and a dam before all else") {
  const auto says = [](const std::string& name, double day, const std::string& words) {
    stage::AppState state = command::state_for(support::source_folder() + "/scenarios/" + name + ".toml", day);
    state.page.view = stage::View::cascade;
    return support::Screen(state).shows(words);
  };
  CHECK(says("01-steady-day", 20, "Nearly as in health."));
  CHECK(says("02-kidney-flare", 110, "Swollen from Starter (C1) on: 1"));
  CHECK_FALSE(says("02-kidney-flare", 110, "Nearly"));
  CHECK(says("12-a-convertase-that-will-not-let-go", 200, "Swollen from C3 on: "));
  CHECK(says("12-a-convertase-that-will-not-let-go", 200, "(mostly its own loop)"));
  CHECK(says("17-blocking", 150, "Dammed: C3 blocked."));
}

TEST_CASE("pointing at the river tells what is there, and beside it nothing but the hint") {
  stage::AppState state = support::opening_state(100);
  state.page.view = stage::View::cascade;
  support::Screen screen(state);
  std::set<std::string> told;
  const auto look = [&] {
    for (const char* words : {"C4 is cut;", "C3 is cut to C3b;", "The loop's own enzyme", "What opens C4: active C1",
                              "What opens Starter (C1): Kidney", "Point at a stream"}) {
      if (screen.shows(words)) told.insert(words);
    }
  };
  for (float x = 40; x < 1150; x += 32) {
    for (float y = 130; y < 740; y += 32) {
      screen.move(x, y);
      screen.frame();
      look();
    }
  }
  CHECK(told.size() == 6);
  told.clear();
  screen.move(5, 5);
  screen.frame();
  look();
  CHECK(told == std::set<std::string>{"Point at a stream"});
}
