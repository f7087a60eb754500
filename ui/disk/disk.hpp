// Files, written so that a crash leaves either the old file or the new one, never half of it.
#pragma once

#include <sys/types.h>

#include <cstddef>
#include <optional>
#include <stdexcept>
#include <string>

namespace drawdown::disk {

// A target that must not be written: a device, a pipe, a socket, a folder, a link that leads nowhere, the file being
// read. Misuse, not bad luck.
class Refused : public std::invalid_argument {
 public:
  using std::invalid_argument::invalid_argument;
};

enum class Who {
  anyone,  // as the umask says
  person   // what may tell of a person: readable by its owner only, whatever the umask
};

// What is asked of the system; a test puts a full disk in their place.
struct Calls {
  ssize_t (*write)(int, const void*, size_t);
  int (*fsync)(int);
  int (*rename)(const char*, const char*);
};
[[nodiscard]] const Calls& system_calls();

// Temporary file beside it, fsync, rename. Through a symbolic link the file it leads to is written. On any failure the
// temporary file is taken away and what stood there before stands. Throws Refused, or std::runtime_error with the path
// and the system's reason.
void write_file(const std::string& path, const std::string& content, Who who = Who::anyone,
                const Calls& calls = system_calls());
// A file written bit by bit, for what is too large to be held: under a temporary name beside `path` until it is placed,
// taken away if it never is. Throws as write_file() does.
class GrowingFile {
 public:
  explicit GrowingFile(const std::string& path, Who who = Who::anyone);
  GrowingFile(const GrowingFile&) = delete;
  GrowingFile(GrowingFile&&) = delete;
  GrowingFile& operator=(const GrowingFile&) = delete;
  GrowingFile& operator=(GrowingFile&&) = delete;
  ~GrowingFile();
  void add(const std::string& text);
  // Safe on disk and under its name; nothing can be added after.
  void place();

 private:
  void flush();
  std::string path_, target_, temporary_, waiting_;
  int file_ = -1;
};
// Never replaces: where `path` is taken it writes path-2, path-3 and so on (before the ending). Returns the name it
// took.
std::string write_new_file(const std::string& path, const std::string& content, Who who);
// Throws Refused, naming what it is, if write_file() would refuse the target. For use before long work.
void check_target(const std::string& path);
// Throws Refused if both name one file.
void check_differ(const std::string& target, const std::string& source);

// The whole file. Throws std::runtime_error with the path and the system's reason, or if it is larger than `most`
// bytes.
[[nodiscard]] std::string read_whole_file(const std::string& path, std::size_t most);
// The same of a plain file; nothing if there is no such file.
[[nodiscard]] std::optional<std::string> read_file_if_there(const std::string& path, std::size_t most);
// Gives a file another name beside it, path.NAME or path.NAME-2 and so on, that no file has. Returns it. Throws
// std::runtime_error.
std::string set_aside(const std::string& path, const std::string& name);
// Makes the folder and those above it, open to their owner only; one that was there is left as it is, but `path` itself
// is closed to others. False if it cannot be made.
bool make_private_folder(const std::string& path);
// Deletes it; no file is no error. Throws std::runtime_error.
void forget_file(const std::string& path);

}  // namespace drawdown::disk
