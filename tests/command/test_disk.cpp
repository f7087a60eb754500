// Saving: a program killed at any moment leaves the old file or the new one, whole.
#include <doctest/doctest.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <csignal>
#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <random>
#include <thread>

#include "disk/disk.hpp"
#include "support/folder.hpp"

using namespace drawdown;

TEST_CASE("killed with signal 9 while saving, 500 times: the file is always whole, the old one or the new one") {
  const support::Folder folder;
  const std::string path = folder.path + "/numbers.csv";
  // Large enough that a write takes a while.
  const std::string one(200000, 'a');
  const std::string two(300000, 'b');
  disk::write_file(path, one);
  // When to kill is drawn from four times what a child needs here to start and save twice: on a slow disk as well.
  const auto begun = std::chrono::steady_clock::now();
  const pid_t first = ::fork();
  REQUIRE(first >= 0);
  if (first == 0) {
    disk::write_file(path, two);
    disk::write_file(path, one);
    ::_exit(0);
  }
  (void)::waitpid(first, nullptr, 0);
  const auto needed = std::chrono::duration_cast<std::chrono::microseconds>(std::chrono::steady_clock::now() - begun);
  std::mt19937 random(3);
  std::uniform_int_distribution<int> microseconds(0,
                                                  4 * static_cast<int>(std::max<std::int64_t>(1000, needed.count())));
  int replaced = 0;
  int killed = 0;
  for (int i = 0; i < 500; ++i) {
    const pid_t child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) {
      for (int k = 0;; ++k) disk::write_file(path, k % 2 == 0 ? two : one);
    }
    (void)::usleep(static_cast<useconds_t>(microseconds(random)));
    (void)::kill(child, SIGKILL);
    int status = 0;
    (void)::waitpid(child, &status, 0);
    const std::string left = disk::read_whole_file(path, 1000000);
    REQUIRE((left == one || left == two));
    killed += WIFSIGNALED(status) && WTERMSIG(status) == SIGKILL ? 1 : 0;
    if (left == two) replaced += 1;
    // What a killed writer leaves behind is a temporary file beside it, never the file.
    for (const auto& file : std::filesystem::directory_iterator(folder.path)) {
      if (file.path() != path) std::filesystem::remove(file.path());
    }
  }
  std::cout << "killed while saving: " << killed << '\n';
  CHECK(killed == 500);
  CHECK_MESSAGE(replaced > 10, "some were killed after a save, or the test tries nothing");
}

namespace {

// Killed at a chosen place while writing.
ssize_t killed_half_written(int file, const void* from, size_t count) {
  (void)::write(file, from, count / 2);
  (void)::raise(SIGKILL);
  return -1;
}
int killed_before_safe(int /*file*/) {
  (void)::raise(SIGKILL);
  return -1;
}
int killed_before_placed(const char* /*from*/, const char* /*to*/) {
  (void)::raise(SIGKILL);
  return -1;
}
int killed_after_placed(const char* from, const char* to) {
  (void)std::rename(from, to);
  (void)::raise(SIGKILL);
  return -1;
}

}  // namespace

TEST_CASE("killed half written, before it is safe, before and after it is put in place: the old file, or the new one") {
  const support::Folder folder;
  const std::string path = folder.path + "/numbers.csv";
  const std::pair<disk::Calls, const char*> places[] = {{{killed_half_written, ::fsync, std::rename}, "old"},
                                                        {{::write, killed_before_safe, std::rename}, "old"},
                                                        {{::write, ::fsync, killed_before_placed}, "old"},
                                                        {{::write, ::fsync, killed_after_placed}, "new"}};
  for (const auto& [calls, left] : places) {
    disk::write_file(path, "old");
    const pid_t child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) {
      disk::write_file(path, "new", disk::Who::person, calls);
      ::_exit(0);
    }
    int status = 0;
    (void)::waitpid(child, &status, 0);
    REQUIRE(WIFSIGNALED(status));
    CHECK(disk::read_whole_file(path, 100) == left);
  }
}

TEST_CASE("forgetting deletes the file, twice is no error, and a folder is not deleted") {
  const support::Folder folder;
  const std::string path = folder.path + "/numbers.csv";
  disk::write_file(path, "x");
  disk::forget_file(path);
  CHECK_FALSE(std::filesystem::exists(path));
  disk::forget_file(path);
  CHECK_THROWS_AS(disk::forget_file(folder.path), std::runtime_error);
  CHECK_THROWS_AS((void)disk::read_whole_file(folder.path, 10), std::runtime_error);
  disk::write_file(path, "0123456789");
  CHECK_THROWS_AS((void)disk::read_whole_file(path, 9), std::runtime_error);
  CHECK(disk::read_whole_file(path, 10) == "0123456789");
}

TEST_CASE(
    "a pipe is read to its end if somebody writes into it, and refused if nobody does, never waited for without end") {
  const support::Folder folder;
  const std::string pipe = folder.path + "/pipe";
  REQUIRE(::mkfifo(pipe.c_str(), 0600) == 0);
  CHECK_THROWS_WITH_AS((void)disk::read_whole_file(pipe, 1000), doctest::Contains("nobody writes into"),
                       std::runtime_error);
  // More than a pipe holds, from a writer that begins before the reader and goes on.
  const std::string text(300000, 'x');
  std::thread writer([&] { std::ofstream(pipe) << text; });
  CHECK(disk::read_whole_file(pipe, 1000000) == text);
  writer.join();
  // As from a shell's <(...): already open for reading, all written, the writer gone.
  int ends[2];
  REQUIRE(::pipe(ends) == 0);
  REQUIRE(::write(ends[1], "date", 4) == 4);
  (void)::close(ends[1]);
  CHECK(disk::read_whole_file("/dev/fd/" + std::to_string(ends[0]), 1000) == "date");
  (void)::close(ends[0]);
}
