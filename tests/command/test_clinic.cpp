// `drawdown clinic`: parts, one of them stopped and run again, are added up to the bytes of the single run.
#include <doctest/doctest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <filesystem>

#include "support/command_line.hpp"
#include "support/folder.hpp"

using namespace drawdown;
using support::content_of;
using support::drawdown_with;

namespace {

bool has(const std::string& text, const std::string& what) {
  return text.find(what) != std::string::npos;
}
std::vector<std::string> words(std::vector<std::string> more) {
  std::vector<std::string> all{"clinic", "--group", "flare-with-kidney", "--people",  "600", "--seed", "7", "--days",
                               "90",     "--each",  "--daily",           "--threads", "1"};
  all.insert(all.end(), more.begin(), more.end());
  return all;
}

}  // namespace

TEST_CASE("clinic: eight parts, one killed and run again, are added up to the bytes of the single run") {
  const support::Folder folder;
  const std::string single = folder.path + "/single";
  REQUIRE(drawdown_with(words({"--out", single})).code == 0);
  const std::string parts = folder.path + "/parts";
  // The fifth is killed while it runs: nothing half written stands under its name.
  const pid_t child = ::fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    ::raise(SIGSTOP);
    (void)drawdown_with(words({"--out", parts, "--part", "5/8"}));
    ::_exit(0);
  }
  int status = 0;
  (void)::waitpid(child, &status, WUNTRACED);
  (void)::kill(child, SIGCONT);
  (void)::usleep(2000);
  (void)::kill(child, SIGKILL);
  (void)::waitpid(child, &status, 0);
  for (const char* k : {"8/8", "1/8", "2/8", "3/8", "4/8", "6/8", "7/8"}) {
    REQUIRE(drawdown_with(words({"--out", parts, "--part", k})).code == 0);
  }
  const std::string fifth = parts + "/part-5-of-8.csv";
  if (!std::filesystem::exists(fifth)) {
    const auto missing = drawdown_with({"clinic", "--merge", parts, "--out", folder.path + "/m"});
    CHECK(missing.code == 2);
    CHECK(has(missing.err, "part 5 of 8 is missing"));
  }
  REQUIRE(drawdown_with(words({"--out", parts, "--part", "5/8"})).code == 0);
  // A finished part is recognised; one that was altered, or whose rows were, is run again.
  const auto again = drawdown_with(words({"--out", parts, "--part", "5/8"}));
  CHECK(again.code == 0);
  CHECK(has(again.out, "finished before"));
  const std::string sound = content_of(fifth);
  (void)support::file_with(fifth, sound.substr(0, sound.size() / 2));
  CHECK_FALSE(has(drawdown_with(words({"--out", parts, "--part", "5/8"})).out, "finished before"));
  CHECK(content_of(fifth) == sound);
  (void)support::file_with(parts + "/each-5-of-8.csv", "person\n");
  CHECK_FALSE(has(drawdown_with(words({"--out", parts, "--part", "5/8"})).out, "finished before"));
  // A finished part of another clinic is not lost, and tables are not mixed.
  const auto other =
      drawdown_with({"clinic", "--group", "healthy", "--people", "600", "--part", "5/8", "--out", parts});
  CHECK(other.code == 2);
  CHECK(content_of(fifth) == sound);
  CHECK(drawdown_with(words({"--out", single})).code == 2);
  CHECK(drawdown_with(words({"--out", single, "--overwrite"})).code == 0);
  const std::string merged = folder.path + "/merged";
  const auto added = drawdown_with({"clinic", "--merge", parts, "--out", merged});
  CHECK(added.code == 0);
  CHECK(has(added.out, "600 people, 0 of them not run to the end"));
  for (const char* table : {"/summary.csv", "/each.csv", "/daily.csv"}) {
    CHECK(content_of(merged + table) == content_of(single + table));
    CHECK(content_of(merged + table).size() > 200);
  }
}

TEST_CASE("clinic: one part of one is a part too, and a whole run without --each takes older rows away") {
  const support::Folder folder;
  const std::vector<std::string> small{"clinic", "--group", "healthy",   "--people", "64",
                                       "--days", "60",      "--threads", "1"};
  const auto with = [&](std::vector<std::string> more) {
    more.insert(more.begin(), small.begin(), small.end());
    return drawdown_with(more);
  };
  const std::string part = folder.path + "/part";
  CHECK(with({"--part", "1/1", "--out", part}).code == 0);
  CHECK(has(with({"--part", "1/1", "--out", part}).out, "finished before"));
  CHECK(drawdown_with({"clinic", "--merge", part, "--out", folder.path + "/m"}).code == 0);
  const std::string out = folder.path + "/o";
  CHECK(with({"--each", "--daily", "--out", out}).code == 0);
  CHECK(std::filesystem::exists(out + "/each.csv"));
  CHECK(with({"--out", out, "--overwrite"}).code == 0);
  CHECK_FALSE(std::filesystem::exists(out + "/each.csv"));
  CHECK(content_of(folder.path + "/m/summary.csv") == content_of(out + "/summary.csv"));
}

TEST_CASE("clinic: told to stop it ends with exit code 3 and leaves nothing behind") {
  const support::Folder folder;
  const std::string out = folder.path + "/o";
  const pid_t child = ::fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    const auto answer =
        drawdown_with({"clinic", "--group", "healthy", "--people", "50000", "--threads", "1", "--each", "--out", out});
    ::_exit(answer.code == 3 && has(answer.err, "nothing was written") ? 3 : 1);
  }
  // It has begun when its rows have a file to grow in.
  const auto begun = [&] {
    std::error_code code;
    return std::filesystem::exists(out, code) && !std::filesystem::is_empty(out, code);
  };
  int status = 0;
  while (!begun() && ::waitpid(child, &status, WNOHANG) == 0) (void)::usleep(1000);
  (void)::kill(child, SIGTERM);
  (void)::waitpid(child, &status, 0);
  CHECK((WIFEXITED(status) && WEXITSTATUS(status) == 3));
  CHECK(std::filesystem::is_empty(out));
}

TEST_CASE("clinic: what cannot be is misuse, with what is allowed") {
  const support::Folder folder;
  const std::string out = folder.path + "/o";
  const auto code = [&](const std::vector<std::string>& more) {
    std::vector<std::string> all{"clinic", "--out", out};
    all.insert(all.end(), more.begin(), more.end());
    const auto answer = drawdown_with(all);
    CHECK_MESSAGE(!answer.err.empty(), "it says why");
    return answer.code;
  };
  CHECK(code({}) == 2);
  CHECK(code({"--group", "nobody"}) == 2);
  for (const char* people : {"0", "-5", "nan", "inf", "1.5", "1e3", "1000000000", ""}) {
    CHECK_MESSAGE(code({"--group", "healthy", "--people", people}) == 2, people);
  }
  for (const char* part : {"0/4", "5/4", "1", "1/0", "a/b", "1/4x", "-1/4", "1/1000000"}) {
    CHECK_MESSAGE(code({"--group", "healthy", "--people", "64", "--part", part}) == 2, part);
  }
  CHECK(code({"--group", "healthy", "--days", "10"}) == 2);
  CHECK(code({"--group", "healthy", "--seed", "-1"}) == 2);
  CHECK(code({"--merge", folder.path + "/none"}) == 2);
  CHECK(code({"--merge", folder.path, "--group", "healthy"}) == 2);
  CHECK(code({"--merge", folder.path}) == 2);  // no part in it
  CHECK(code({"--merge", folder.path, "--each"}) == 2);
  CHECK_FALSE(std::filesystem::exists(out));
  CHECK(drawdown_with({"clinic", "--group", "healthy"}).code == 2);
  CHECK(has(drawdown_with({"clinic", "--out", out, "--group", "nobody"}).err, "flare-with-kidney"));
}
