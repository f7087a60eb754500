// What is written, where, and who may read it: targets that must not be replaced, files of a person, a full disk, a
// closed output, names and numbers that are misuse.
#include <doctest/doctest.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/un.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <regex>

#include "disk/disk.hpp"
#include "support/command_line.hpp"
#include "support/folder.hpp"
#include "support/stories.hpp"

using namespace drawdown;
namespace fs = std::filesystem;
using support::drawdown_with;

namespace {

unsigned mode_of(const std::string& path) {
  struct stat s {};
  REQUIRE(::lstat(path.c_str(), &s) == 0);
  return s.st_mode & 0777U;
}

class Umask {
 public:
  explicit Umask(mode_t mode) : before_(::umask(mode)) {}
  Umask(const Umask&) = delete;
  Umask(Umask&&) = delete;
  Umask& operator=(const Umask&) = delete;
  Umask& operator=(Umask&&) = delete;
  ~Umask() { (void)::umask(before_); }

 private:
  mode_t before_;
};

ssize_t full(int /*file*/, const void* /*from*/, size_t /*count*/) {
  errno = ENOSPC;
  return -1;
}
int no_fsync(int /*file*/) {
  errno = EIO;
  return -1;
}
int no_rename(const char* /*from*/, const char* /*to*/) {
  errno = ENOSPC;
  return -1;
}

std::string results() {
  return support::source_folder() + "/assets/example-results.csv";
}

}  // namespace

TEST_CASE("a device, pipe, socket, folder or dead link is never replaced, and the refusal names what it is") {
  const support::Folder folder;
  const std::string pipe = folder.path + "/pipe";
  REQUIRE(::mkfifo(pipe.c_str(), 0600) == 0);
  const std::string socket = folder.path + "/socket";
  const int end = ::socket(AF_UNIX, SOCK_STREAM, 0);
  sockaddr_un address{};
  address.sun_family = AF_UNIX;
  socket.copy(address.sun_path, sizeof(address.sun_path) - 1);
  REQUIRE(::bind(end, reinterpret_cast<const sockaddr*>(&address), sizeof(address)) == 0);
  const std::string dead = folder.path + "/dead";
  fs::create_symlink(folder.path + "/gone", dead);
  const std::string to_device = folder.path + "/to-device";
  fs::create_symlink("/dev/null", to_device);
  const std::pair<std::string, const char*> targets[] = {
      {"/dev/null", "a device"}, {"/dev/full", "a device"}, {pipe, "a pipe"},       {socket, "a socket"},
      {folder.path, "a folder"}, {dead, "leads nowhere"},   {to_device, "a device"}};
  for (const auto& [path, kind] : targets) {
    CHECK_THROWS_WITH_AS(disk::write_file(path, "x"), doctest::Contains(kind), disk::Refused);
  }
  (void)::close(end);
  CHECK(fs::is_fifo(pipe));
  CHECK(fs::is_socket(socket));
  CHECK(fs::is_symlink(dead));
  CHECK(fs::is_character_file("/dev/null"));
  CHECK(support::files_in(folder.path) == 3);  // pipe, socket, the link to a device; a dead link does not exist
}

TEST_CASE("through a symbolic link the file it leads to is written, and the link stays") {
  const support::Folder folder;
  fs::create_directory(folder.path + "/real");
  const std::string file = support::file_with(folder.path + "/real/data.csv", "old");
  const std::string link = folder.path + "/link.csv";
  fs::create_symlink("real/data.csv", link);
  disk::write_file(link, "new");
  CHECK(fs::is_symlink(link));
  CHECK(support::content_of(file) == "new");
}

TEST_CASE("a full disk at writing, at making safe and at putting in place leaves the old file and nothing beside it") {
  const support::Folder folder;
  const std::string path = support::file_with(folder.path + "/kept.csv", "old");
  for (const disk::Calls& calls : {disk::Calls{full, ::fsync, std::rename}, disk::Calls{::write, no_fsync, std::rename},
                                   disk::Calls{::write, ::fsync, no_rename}}) {
    CHECK_THROWS_AS(disk::write_file(path, "new", disk::Who::person, calls), std::runtime_error);
    CHECK(support::content_of(path) == "old");
    CHECK(support::files_in(folder.path) == 1);
  }
  disk::write_file(path, "new", disk::Who::person, {::write, ::fsync, std::rename});  // the same with room on the disk
  CHECK(support::content_of(path) == "new");
}

TEST_CASE("what tells of a person is readable by its owner only, whatever the umask, and the rest follows the umask") {
  const support::Folder folder;
  for (const mode_t mask : {mode_t{0}, mode_t{022}, mode_t{077}}) {
    const Umask umask(mask);
    const std::string place = folder.path + "/" + std::to_string(mask);
    REQUIRE(disk::make_private_folder(place + "/state/drawdown"));
    CHECK(mode_of(place) == 0700);
    CHECK(mode_of(place + "/state/drawdown") == 0700);
    disk::write_file(place + "/person", "x", disk::Who::person);
    CHECK(mode_of(place + "/person") == 0600);
    disk::write_file(place + "/anyone", "x");
    CHECK(mode_of(place + "/anyone") == (0666U & ~static_cast<unsigned>(mask)));
    // A file that was open to others does not stay so, once it tells of a person.
    REQUIRE(::chmod((place + "/anyone").c_str(), 0644) == 0);
    disk::write_file(place + "/anyone", "x", disk::Who::person);
    CHECK(mode_of(place + "/anyone") == 0600);
    const std::string sheet = place + "/sheet.html";
    CHECK(drawdown_with({"labs", results(), "--sheet", sheet}).code != 2);
    CHECK(mode_of(sheet) == 0600);
  }
}

TEST_CASE("a page to take along never takes the place of an older one unasked") {
  const support::Folder folder;
  const std::string first = disk::write_new_file(folder.path + "/page.pdf", "1", disk::Who::person);
  const std::string second = disk::write_new_file(folder.path + "/page.pdf", "2", disk::Who::person);
  CHECK(first == folder.path + "/page.pdf");
  CHECK(second == folder.path + "/page-2.pdf");
  CHECK(support::content_of(first) == "1");
  CHECK(support::files_in(folder.path) == 2);
  const std::string sheet = support::file_with(folder.path + "/mine.html", "precious");
  const auto refused = drawdown_with({"labs", results(), "--sheet", sheet});
  CHECK(refused.code == 2);
  CHECK(refused.err.find("--overwrite") != std::string::npos);
  CHECK(support::content_of(sheet) == "precious");
  CHECK(drawdown_with({"labs", results(), "--sheet", sheet, "--overwrite"}).code != 2);
  CHECK(support::content_of(sheet) != "precious");
}

TEST_CASE("the file being read is never the file written, by whatever name") {
  const support::Folder folder;
  const std::string story = folder.path + "/story.toml";
  fs::copy_file(support::shipped_stories().front(), story);
  const std::string told = support::content_of(story);
  for (const char* ending : {".csv", ".xml", ".svg", ".png"}) fs::create_hard_link(story, story + ending);
  const std::string own = folder.path + "/own.html";
  fs::copy_file(results(), own);
  for (const std::vector<std::string>& words :
       std::vector<std::vector<std::string>>{{"course", story, "--csv", story + ".csv"},
                                             {"sbml", story, "-o", story + ".xml"},
                                             {"picture", story, "-o", story + ".svg"},
                                             {"picture", story, "-o", story + ".png"},
                                             {"labs", own, "--sheet", own, "--overwrite"}}) {
    const auto answer = drawdown_with(words);
    CHECK(answer.code == 2);
    CHECK(answer.err.find("the file being read") != std::string::npos);
  }
  CHECK(support::content_of(story) == told);
  CHECK(support::content_of(own) == support::content_of(results()));
}

TEST_CASE("a file set aside gets a name that no file has") {
  const support::Folder folder;
  const std::string path = folder.path + "/settings";
  for (const char* text : {"a", "b", "c"}) {
    support::file_with(path, text);
    const std::string aside = disk::set_aside(path, "unreadable");
    CHECK(support::content_of(aside) == text);
    CHECK_FALSE(fs::exists(path));
  }
  CHECK(support::files_in(folder.path) == 3);
  CHECK_THROWS_AS((void)disk::set_aside(path, "unreadable"), std::runtime_error);
}

TEST_CASE("two programs that write one file at once leave one of the two texts, whole, and nothing beside it") {
  const support::Folder folder;
  const std::string path = folder.path + "/session";
  const std::string texts[] = {std::string(50000, 'a'), std::string(70000, 'b')};
  pid_t children[2] = {};
  for (int who = 0; who < 2; ++who) {
    children[who] = ::fork();
    REQUIRE(children[who] >= 0);
    if (children[who] != 0) continue;
    for (int k = 0; k < 60; ++k) disk::write_file(path, texts[who]);
    ::_exit(0);
  }
  for (const pid_t child : children) {
    int status = 1;
    REQUIRE(::waitpid(child, &status, 0) == child);
    CHECK(status == 0);
  }
  const std::string left = support::content_of(path);
  CHECK((left == texts[0] || left == texts[1]));
  CHECK(support::files_in(folder.path) == 1);
}

TEST_CASE("not a number, no end, an empty name and an unknown ending are misuse in every option with a number") {
  const std::string story = "steady-day";
  std::size_t tried = 0;
  for (const std::string command : {"course", "picture", "tracer", "sensitivity", "sbml", "labs", "check"}) {
    const std::string help = drawdown_with({command, "--help"}).out;
    std::vector<std::string> call{command, command == "labs" ? results() : story};
    REQUIRE(drawdown_with({command, ""}).code == 2);
    const std::regex option("(--[a-z0-9-]+) (FLOAT|INT)(.*)");
    std::istringstream lines(help);
    for (std::string line; std::getline(lines, line);) {
      std::smatch found;
      if (!std::regex_search(line, found, option)) continue;
      const bool pair = found[3].str().find(" x 2") != std::string::npos;
      for (const char* bad : {"nan", "inf", "-inf", "NaN", "1e999", "-nan", "", "0x", "1,5"}) {
        std::vector<std::string> words = call;
        words.push_back(found[1].str() + (pair ? "" : "=" + std::string(bad)));
        if (pair) words.insert(words.end(), {bad, bad});
        const auto answer = drawdown_with(words);
        CHECK_MESSAGE(answer.code == 2, command, " ", found[1].str(), " ", bad);
        tried += 1;
      }
    }
  }
  CHECK(tried >= 9 * 7);
  for (const char* bad : {"nan", "inf", "", "1e999"}) {
    CHECK(drawdown_with({"course", story, "--set", std::string("hepatic_output=") + bad}).code == 2);
    CHECK(drawdown_with({"--quit-after", bad, story}).code == 2);
  }
  for (const std::vector<std::string>& words :
       std::vector<std::vector<std::string>>{{"picture", story, "-o", "x.jpg"},
                                             {"picture", story, "-o", ""},
                                             {"course", story, "--csv", "x.doc"},
                                             {"course", story, "--csv", ""},
                                             {"sbml", story, "-o", "x"},
                                             {"labs", results(), "--sheet", "x.doc"},
                                             {""}}) {
    const auto answer = drawdown_with(words);
    CHECK_MESSAGE(answer.code == 2, words.front());
    CHECK_FALSE(fs::exists("x.doc"));
  }
  CHECK(drawdown_with({"course", story, "--set", "hepatic_output=0.9"}).code == 0);  // and what is allowed is done
}
