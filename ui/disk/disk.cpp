// Reading and writing files.
#include "disk/disk.hpp"

#include <fcntl.h>
#include <poll.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <random>

namespace drawdown::disk {

namespace fs = std::filesystem;

namespace {

[[noreturn]] void fail(const std::string& path, const char* what) {
  throw std::runtime_error(path + ": " + what + ": " + std::strerror(errno));
}

class Descriptor {
 public:
  explicit Descriptor(int fd) : fd_(fd) {}
  Descriptor(const Descriptor&) = delete;
  Descriptor(Descriptor&&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  Descriptor& operator=(Descriptor&&) = delete;
  ~Descriptor() {
    if (fd_ >= 0) (void)::close(fd_);
  }
  [[nodiscard]] int get() const { return fd_; }

 private:
  int fd_;
};

const char* kind_of(mode_t mode) {
  if (S_ISDIR(mode)) return "a folder";
  if (S_ISCHR(mode) || S_ISBLK(mode)) return "a device";
  if (S_ISFIFO(mode)) return "a pipe";
  if (S_ISSOCK(mode)) return "a socket";
  return "not a plain file";
}

// Where a write to `path` goes: the file behind a symbolic link, else the path itself.
std::string target_of(const std::string& path) {
  struct stat there {};
  if (::lstat(path.c_str(), &there) != 0) return path;  // nothing there yet
  std::string target = path;
  if (S_ISLNK(there.st_mode)) {
    std::error_code code;
    target = fs::canonical(path, code).string();
    if (code || ::stat(target.c_str(), &there) != 0) throw Refused(path + ": is a symbolic link that leads nowhere");
  }
  if (!S_ISREG(there.st_mode))
    throw Refused(path + ": is " + kind_of(there.st_mode) + "; only plain files are written");
  return target;
}

std::string folder_of(const std::string& path) {
  const std::string folder = fs::path(path).parent_path().string();
  return folder.empty() ? "." : folder;
}

// A fresh file in the folder of `path`, and its name.
int open_temporary(const std::string& path, mode_t mode, std::string& name) {
  std::random_device random;
  for (int tries = 0; tries < 100; ++tries) {
    name = folder_of(path) + "/.drawdown-" + std::to_string(random()) + ".part";
    const int file = ::open(name.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, mode);
    if (file >= 0 || errno != EEXIST) return file;
  }
  return -1;
}

// Takes the temporary file away unless it was put in place.
class Temporary {
 public:
  Temporary() = default;
  Temporary(const Temporary&) = delete;
  Temporary(Temporary&&) = delete;
  Temporary& operator=(const Temporary&) = delete;
  Temporary& operator=(Temporary&&) = delete;
  ~Temporary() {
    if (!name_.empty()) (void)::unlink(name_.c_str());
  }
  [[nodiscard]] const char* name() const { return name_.c_str(); }
  void is(std::string name) { name_ = std::move(name); }
  void placed() { name_.clear(); }

 private:
  std::string name_;
};

void write_all(int file, const std::string& path, const std::string& content, const Calls& calls) {
  std::size_t done = 0;
  while (done < content.size()) {
    const ssize_t n = calls.write(file, content.data() + done, content.size() - done);
    if (n < 0 && errno == EINTR) continue;
    if (n < 0) fail(path, "cannot be written");
    done += static_cast<std::size_t>(n);
  }
}

// Puts the content, whole and on the disk, under a temporary name in the folder of `path`.
void write_beside(const std::string& path, const std::string& content, Who who, const Calls& calls,
                  Temporary& temporary) {
  std::string name;
  const Descriptor file(open_temporary(path, who == Who::person ? 0600 : 0666, name));
  if (file.get() < 0) fail(path, "cannot be written");
  temporary.is(name);
  write_all(file.get(), path, content, calls);
  // A plain file that was there keeps who may read it; what tells of a person never does.
  struct stat before {};
  if (who == Who::anyone && ::stat(path.c_str(), &before) == 0) (void)::fchmod(file.get(), before.st_mode & 0777U);
  if (calls.fsync(file.get()) != 0) fail(path, "cannot be made safe on disk");
}

void settle_folder(const std::string& path) {
  const Descriptor directory(::open(folder_of(path).c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
  if (directory.get() >= 0) (void)::fsync(directory.get());
}

// "a.pdf", "a-2.pdf", "a-3.pdf" ...
std::string numbered(const std::string& path, int number) {
  if (number == 1) return path;
  const fs::path whole(path);
  return (whole.parent_path() / (whole.stem().string() + "-" + std::to_string(number) + whole.extension().string()))
      .string();
}

}  // namespace

const Calls& system_calls() {
  static constexpr Calls calls{::write, ::fsync, std::rename};
  return calls;
}

void write_file(const std::string& path, const std::string& content, Who who, const Calls& calls) {
  const std::string target = target_of(path);
  Temporary temporary;
  write_beside(target, content, who, calls, temporary);
  if (calls.rename(temporary.name(), target.c_str()) != 0) fail(path, "cannot be put in place");
  temporary.placed();
  settle_folder(target);
}

GrowingFile::GrowingFile(const std::string& path, Who who) : path_(path), target_(target_of(path)) {
  file_ = open_temporary(target_, who == Who::person ? 0600 : 0666, temporary_);
  if (file_ < 0) fail(path_, "cannot be written");
}

GrowingFile::~GrowingFile() {
  if (file_ < 0) return;
  (void)::close(file_);
  (void)::unlink(temporary_.c_str());
}

void GrowingFile::add(const std::string& text) {
  constexpr std::size_t at_a_time = std::size_t{1} << 20U;
  waiting_ += text;
  if (waiting_.size() >= at_a_time) flush();
}

void GrowingFile::flush() {
  write_all(file_, path_, waiting_, system_calls());
  waiting_.clear();
}

void GrowingFile::place() {
  flush();
  if (::fsync(file_) != 0) fail(path_, "cannot be made safe on disk");
  if (std::rename(temporary_.c_str(), target_.c_str()) != 0) fail(path_, "cannot be put in place");
  (void)::close(file_);
  file_ = -1;
  settle_folder(target_);
}

std::string write_new_file(const std::string& path, const std::string& content, Who who) {
  Temporary temporary;
  write_beside(path, content, who, system_calls(), temporary);
  for (int number = 1; number < 10000; ++number) {
    std::string name = numbered(path, number);
    // link() takes a name only if nothing has it.
    if (::link(temporary.name(), name.c_str()) == 0) {
      settle_folder(name);
      return name;
    }
    if (errno != EEXIST) fail(name, "cannot be put in place");
  }
  throw std::runtime_error(path + ": too many files of this name");
}

void check_target(const std::string& path) {
  (void)target_of(path);
}

void check_differ(const std::string& target, const std::string& source) {
  std::error_code code;
  if (fs::equivalent(target, source, code)) throw Refused(target + ": is the file being read; name another to write");
}

namespace {

constexpr int writer_may_take = 1000;  // milliseconds until somebody opens a pipe to write into it
constexpr int longest_silence = 60000;

// True if there is something to read, or the end of it, within so many milliseconds.
bool comes_within(int fd, int milliseconds) {
  pollfd one{fd, POLLIN, 0};
  return ::poll(&one, 1, milliseconds) > 0;
}

}  // namespace

std::string read_whole_file(const std::string& path, std::size_t most) {
  // Not blocking: opening a pipe that nobody writes into would wait for ever.
  const Descriptor file(::open(path.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC));
  struct stat there {};
  if (file.get() < 0 || ::fstat(file.get(), &there) != 0) fail(path, "cannot be read");
  if (S_ISDIR(there.st_mode)) throw std::runtime_error(path + ": is a folder");
  // A writer that is there and slow is waited for; where there is none a read ends at once.
  const bool silent = S_ISFIFO(there.st_mode) && !comes_within(file.get(), writer_may_take);
  std::string text;
  std::string block(std::size_t{1} << 20U, '\0');
  for (;;) {
    const ssize_t n = ::read(file.get(), block.data(), block.size());
    if (n == 0 && silent && text.empty()) throw std::runtime_error(path + ": is a pipe that nobody writes into");
    if (n == 0) return text;
    if (n > 0) {
      text.append(block, 0, static_cast<std::size_t>(n));
      if (text.size() > most) throw std::runtime_error(path + ": larger than " + std::to_string(most) + " bytes");
    } else if (errno == EAGAIN) {
      if (!comes_within(file.get(), longest_silence)) throw std::runtime_error(path + ": nothing comes from it");
    } else if (errno != EINTR) {
      fail(path, "cannot be read");
    }
  }
}

std::optional<std::string> read_file_if_there(const std::string& path, std::size_t most) {
  std::error_code code;
  if (path.empty() || !fs::exists(path, code)) return std::nullopt;
  if (!fs::is_regular_file(path, code)) throw std::runtime_error(path + ": is not a plain file");
  return read_whole_file(path, most);
}

std::string set_aside(const std::string& path, const std::string& name) {
  for (int number = 1; number < 10000; ++number) {
    std::string other = path;
    other += '.';
    other += name;
    if (number > 1) other += '-' + std::to_string(number);
    if (::link(path.c_str(), other.c_str()) == 0) {
      forget_file(path);
      return other;
    }
    if (errno != EEXIST) fail(path, "cannot be set aside");
  }
  throw std::runtime_error(path + ": too many files were set aside");
}

bool make_private_folder(const std::string& path) {
  std::error_code code;
  const fs::path folder(path);
  if (folder.empty()) return false;
  if (fs::is_directory(folder, code)) {
    (void)::chmod(path.c_str(), 0700);
    return true;
  }
  const fs::path above = folder.parent_path();
  if (!above.empty() && above != folder && !fs::is_directory(above, code) && !make_private_folder(above.string())) {
    return false;
  }
  if (::mkdir(path.c_str(), 0700) == 0) return ::chmod(path.c_str(), 0700) == 0;  // the umask may have taken more
  return fs::is_directory(folder, code);
}

void forget_file(const std::string& path) {
  if (::unlink(path.c_str()) != 0 && errno != ENOENT) fail(path, "cannot be deleted");
}

}  // namespace drawdown::disk
