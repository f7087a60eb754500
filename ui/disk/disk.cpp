// Reading and writing files.
#include "disk/disk.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <stdexcept>

namespace drawdown::disk {

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

}  // namespace

void write_file(const std::string& path, const std::string& content) {
  std::string temporary = path + ".XXXXXX";
  {
    const Descriptor file(::mkstemp(temporary.data()));
    if (file.get() < 0) fail(path, "cannot be written");
    std::size_t done = 0;
    while (done < content.size()) {
      const ssize_t n = ::write(file.get(), content.data() + done, content.size() - done);
      if (n < 0 && errno == EINTR) continue;
      if (n < 0) {
        const int why = errno;
        (void)::unlink(temporary.c_str());
        errno = why;
        fail(path, "cannot be written");
      }
      done += static_cast<std::size_t>(n);
    }
    (void)::fchmod(file.get(), 0644);
    if (::fsync(file.get()) != 0) fail(path, "cannot be made safe on disk");
  }
  if (::rename(temporary.c_str(), path.c_str()) != 0) {
    const int why = errno;
    (void)::unlink(temporary.c_str());
    errno = why;
    fail(path, "cannot be put in place");
  }
  std::string folder = std::filesystem::path(path).parent_path().string();
  if (folder.empty()) folder = ".";
  const Descriptor directory(::open(folder.c_str(), O_RDONLY | O_DIRECTORY));
  if (directory.get() >= 0) (void)::fsync(directory.get());
}

std::string read_whole_file(const std::string& path, std::size_t most) {
  errno = 0;
  std::ifstream in(path, std::ios::binary);
  if (!in) fail(path, "cannot be read");
  std::error_code code;
  if (std::filesystem::is_directory(path, code)) throw std::runtime_error(path + ": is a folder");
  std::string text;
  std::string block(std::size_t{1} << 20U, '\0');
  while (in) {
    in.read(block.data(), static_cast<std::streamsize>(block.size()));
    text.append(block, 0, static_cast<std::size_t>(in.gcount()));
    if (text.size() > most) throw std::runtime_error(path + ": larger than " + std::to_string(most) + " bytes");
  }
  return text;
}

std::optional<std::string> read_small_file(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  if (path.empty() || !in) return std::nullopt;
  std::string text(std::size_t{64} * 1024, '\0');
  in.read(text.data(), static_cast<std::streamsize>(text.size()));
  text.resize(static_cast<std::size_t>(in.gcount()));
  return text;
}

void forget_file(const std::string& path) {
  if (::unlink(path.c_str()) != 0 && errno != ENOENT) fail(path, "cannot be deleted");
}

}  // namespace drawdown::disk
