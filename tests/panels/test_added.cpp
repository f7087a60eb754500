// A lever, a tissue, a readout, a view, a language and a story added through their doors come out on the screen; and
// nothing on it is looked up by name again and again.
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>

#include "panels/views.hpp"
#include "study/people.hpp"
#include "support/screen.hpp"

using namespace drawdown;

namespace {

// A model with a lever, a tissue and a readout more than the standard one.
std::shared_ptr<const body::Model> larger_model() {
  body::Catalogue c = body::standard_catalogue();
  c.levers.push_back({"made_up", body::LeverGroup::complexes, body::LeverKind::sliding, "relative", 0, 2, 1, 0.5});
  c.levers.back().main = true;
  body::add_tissue(c, {"lung", "skin", "share_lung"});
  body::Readout r;
  r.name = "made up";
  r.unit = "ng/L";
  r.key = "made_up";
  r.track = true;
  r.on_sheet = true;
  r.decimals = 1;
  r.prepare = [](const body::Model& m) -> body::Readout::Read {
    return [c3 = m.species("C3")](const double* x, const double*) { return 1000.0 + 0.0 * x[c3]; };
  };
  c.readouts.push_back(r);
  return std::make_shared<const body::Model>(c);
}

stage::AppState state_of(const std::shared_ptr<const body::Model>& model) {
  const auto story = scenario::read_text("title = 'added'\ndays = 60\n[levers]\nmade_up = 1.5\nshare_lung = 0.5\n",
                                         "added.toml", model);
  stage::AppState state;
  state.page.overlay = stage::Overlay::none;
  return work::Executor().settle(std::move(state), stage::StoryOpened{story, ""});
}

}  // namespace

TEST_CASE("a lever, a tissue and a readout added by rows stand in the menu, the pictures, the sheet and the tracks") {
  support::Screen screen(state_of(larger_model()), 1600, 2000);
  // Words that are missing show by their key, so that they are found.
  CHECK(screen.shows("<lever.made_up>"));
  screen.do_action(stage::SetDepth{look::Depth::clinic});  // each tissue on a plate of its own
  screen.frame();
  CHECK(screen.shows("<tissue.lung>"));
  screen.do_action(stage::SetDepth{look::Depth::plain});
  screen.do_action(stage::SetView{stage::View::tissues});
  screen.frame();
  CHECK(screen.shows("<tissue.lung>"));
  screen.do_action(stage::SetView{stage::View::lab});
  screen.frame();
  CHECK(screen.shows("<lab.made_up>"));
  CHECK(screen.shows("1000.0"));
  screen.do_action(stage::SetView{stage::View::course});
  const auto tracks = stage::tracks_of(*screen.state().document.now.story.model);
  bool drawn = false;
  for (std::size_t i = 0; i < tracks.size(); ++i) {
    screen.frame();
    drawn = drawn || screen.shows("<track.made_up>");
    screen.do_action(stage::NextTrack{});
  }
  CHECK(drawn);
}

TEST_CASE("without added rows no word is missing on any view") {
  support::Screen screen(support::opening_state());
  for (std::size_t view = 0; view < stage::view_names.size(); ++view) {
    screen.do_action(stage::SetView{static_cast<stage::View>(view)});
    screen.frame();
    for (const auto& text : screen.texts()) CHECK_MESSAGE(text.text.find("<") != 0, text.text);
  }
}

TEST_CASE("a view added by a row has a tab and a key and is drawn, beside the levers if it says so") {
  support::Screen screen(support::opening_state());
  panels::ViewRow row;
  row.view = static_cast<stage::View>(stage::view_names.size());
  row.words = "view.made_up";
  row.key = 'z';
  row.draw = [](panels::Frame& f, const panels::Layout& l) {
    f.canvas.text({l.main.x, l.main.y}, "drawn by the row", draw::Type::body, f.palette.ink);
  };
  screen.add_view(row);
  screen.frame();
  CHECK(screen.shows("<view.made_up>"));
  CHECK_FALSE(screen.shows("drawn by the row"));
  screen.type("z");
  screen.frame();
  CHECK(screen.shows("drawn by the row"));
  CHECK(screen.shows("Antibody"));  // the levers
}

TEST_CASE("a language added by its file is offered, chosen and remembered") {
  namespace fs = std::filesystem;
  const fs::path folder = fs::temp_directory_path() / "drawdown-added-language";
  fs::remove_all(folder);
  fs::create_directories(folder);
  const fs::path assets = support::source_folder() + "/assets";
  for (const char* file : {"en.toml", "es.toml", "shapes.toml"}) fs::copy_file(assets / file, folder / file);
  std::ifstream in(assets / "en.toml");
  std::string text((std::istreambuf_iterator<char>(in)), {});
  text.replace(text.find("\"English\""), 9, "\"Deutsch\"");
  std::ofstream(folder / "de.toml") << text;
  const look::Library library(folder.string());
  REQUIRE(library.names().size() == 3);
  CHECK(library.names()[0].code == "de");
  CHECK(library.names()[0].name == "Deutsch");
  CHECK(library.words("es").at("language.name") == "Español");
  CHECK(library.words("xx").at("language.name") == "Deutsch");  // there is none: the first
  stage::AppState s;
  s.page.languages = library.names();
  std::string seen;
  for (int i = 0; i < 3; ++i) {
    s = stage::reduce(std::move(s), stage::ToggleLanguage{}).state;
    seen += s.look.language + " ";
  }
  CHECK(seen == "es de en ");
  fs::remove(folder / "en.toml");
  fs::remove(folder / "es.toml");
  fs::remove(folder / "de.toml");
  CHECK_THROWS_WITH_AS(look::Library(folder.string()), doctest::Contains("no words"), std::runtime_error);
  fs::remove_all(folder);
}

TEST_CASE("a hundred frames of every view, a thousand steps and a hundred sampled people look nothing up by text") {
  stage::AppState start = support::opening_state();
  start.page.depth = look::Depth::mechanism;
  support::Screen screen(std::move(start));
  const auto each_view = [&](int frames) {
    for (std::size_t view = 0; view < stage::view_names.size(); ++view) {
      screen.do_action(stage::SetView{static_cast<stage::View>(view)});
      screen.frame(frames);
    }
  };
  each_view(2);  // what is set up the first time
  const auto body = support::standard_body();
  std::uint64_t number = 0;
  const auto person = [&] {
    return study::story_of(study::person(study::group_named("nephritis-mixed"), 5, number++), 40);
  };
  (void)simulate(body, person());
  const auto before = network::lookups_by_text().load();
  each_view(100);
  CHECK_MESSAGE(network::lookups_by_text() == before, "frames: ", network::lookups_by_text() - before);
  const auto after_frames = network::lookups_by_text().load();
  std::size_t steps = 0;
  for (int i = 0; i < 100 || steps < 1000; ++i) steps += simulate(body, person())->course().step_count();
  CHECK_MESSAGE(network::lookups_by_text() == after_frames, "people: ", network::lookups_by_text() - after_frames);
  // and the counter counts
  (void)body->model->species("C3");
  CHECK(network::lookups_by_text() == after_frames + 1);
}
