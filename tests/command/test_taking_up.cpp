// Taking up the last session and keeping the present one: what cannot be read is set aside, and a kill costs two
// seconds.
#include <doctest/doctest.h>
#include <unistd.h>

#include "command/session.hpp"
#include "command/stories.hpp"
#include "stage/autosave.hpp"
#include "support/command_line.hpp"
#include "support/folder.hpp"
#include "support/stories.hpp"

using namespace drawdown;
namespace fs = std::filesystem;

namespace {

// What the program starts with when this stands in the session's file.
struct Start {
  stage::AppState state;
  std::string session;
  int windows = 0;
};
Start start_with(const std::string& file) {
  Start start;
  command::Screen screen;
  screen.session = file;
  screen.window = [&](stage::AppState state, std::string session, int, int, double) {
    start.windows += 1;
    start.state = std::move(state);
    start.session = std::move(session);
    return 0;
  };
  CHECK(support::drawdown_with({}, screen).code == 0);
  return start;
}

std::string deep() {
  std::string text = "text";
  for (int i = 0; i < 30000; ++i) text += ".a";
  return text + " = 1\n";
}

}  // namespace

TEST_CASE("a session that cannot be read is set aside under a new name, said, and the program starts") {
  const support::Folder folder;
  const std::string file = folder.path + "/settings";
  std::size_t number = 0;
  for (const std::string& damage :
       {std::string("text = = 3"), deep(), std::string(100000, '#'), std::string("text = 900"),
        std::string("\0\1\2\xff", 4), std::string("recent = [3]")}) {
    support::file_with(file, damage);
    const Start start = start_with(file);
    number += 1;
    CHECK(start.windows == 1);
    REQUIRE(static_cast<bool>(start.state.runs.now));
    CHECK(start.session == file);
    CHECK(start.state.problem.find("kept as " + file + ".unreadable") != std::string::npos);
    CHECK_FALSE(fs::exists(file));
    const std::string aside = file + ".unreadable" + (number == 1 ? "" : "-" + std::to_string(number));
    CHECK(support::content_of(aside) == damage);
  }
  // A sound one is taken up and stays.
  const stage::AppState left = command::state_for(support::shipped_stories().at(3), 40);
  support::file_with(file, command::session_text(left));
  const Start sound = start_with(file);
  CHECK(sound.state.problem.empty());
  CHECK(sound.state.document.now.story.name == left.document.now.story.name);
  CHECK(fs::exists(file));
}

TEST_CASE("a session that can be neither read nor set aside is left alone, and not written over") {
  const support::Folder folder;
  const std::string file = folder.path + "/settings";
  fs::create_directory(file);  // a folder stands in its place: not read, not linked
  const Start start = start_with(file);
  CHECK(start.windows == 1);
  CHECK(start.session.empty());
  CHECK(start.state.problem.find("stays as it is") != std::string::npos);
  CHECK(fs::is_directory(file));
}

TEST_CASE("a home that cannot be written starts and works, without a session") {
  if (::geteuid() == 0) MESSAGE("as root a read-only folder does not hold; a file in the folder's place does");
  const support::Folder folder;
  const std::string home = support::file_with(folder.path + "/home", "not a folder");
  const Start start = start_with(home + "/drawdown/settings");
  CHECK(start.windows == 1);
  CHECK(start.state.problem.empty());
  CHECK(static_cast<bool>(start.state.runs.now));
}

TEST_CASE(
    "the autosave comes due often enough that a kill costs at most two seconds of program time, and idle it writes "
    "nothing") {
  stage::Autosave autosave("0");
  std::string written = "0";
  int writes = 0;
  int looks = 0;
  // The text is the time it was made at, in hundredths; frames come late now and then.
  double now = 0.0;
  for (int frame = 0; frame < 2000; ++frame) {
    now += frame % 37 == 0 ? 0.25 : 0.016;
    const auto text = [&] {
      looks += 1;
      return std::to_string(static_cast<int>(now * 100));
    };
    if (const auto due = autosave.due(now, text)) {
      written = *due;
      writes += 1;
    }
    REQUIRE(now - std::stod(written) / 100 <= 2.0);
  }
  CHECK(writes > 20);
  CHECK(looks == writes);
  for (int frame = 0; frame < 1000; ++frame) {
    now += 0.016;
    CHECK_FALSE(autosave.due(now, [&] { return written; }).has_value());
  }
}
