// Saving: a program killed at any moment leaves the old file or the new one, whole.
#include <doctest/doctest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <filesystem>
#include <random>

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
  std::mt19937 random(3);
  std::uniform_int_distribution<int> microseconds(0, 4000);
  int replaced = 0;
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
    if (left == two) replaced += 1;
    // What a killed writer leaves behind is a temporary file beside it, never the file.
    for (const auto& file : std::filesystem::directory_iterator(folder.path)) {
      if (file.path() != path) std::filesystem::remove(file.path());
    }
  }
  CHECK_MESSAGE(replaced > 10, "some were killed after a save, or the test tries nothing");
  CHECK_MESSAGE(replaced < 490, "and some before");
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
