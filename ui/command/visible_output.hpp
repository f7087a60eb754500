// While it lives, what is printed to a stream passes through scenario::visible: a title, a note or a cell from a file
// can say nothing to the terminal that is not seen.
#pragma once

#include <ostream>
#include <streambuf>
#include <string>

#include "scenario/visible.hpp"

namespace drawdown::command {

class VisibleOutput final : public std::streambuf {
 public:
  explicit VisibleOutput(std::ostream& stream) : stream_(&stream), to_(stream.rdbuf(this)) {}
  VisibleOutput(const VisibleOutput&) = delete;
  VisibleOutput(VisibleOutput&&) = delete;
  VisibleOutput& operator=(const VisibleOutput&) = delete;
  VisibleOutput& operator=(VisibleOutput&&) = delete;
  ~VisibleOutput() override {
    (void)send();
    stream_->rdbuf(to_);
  }

 protected:
  int_type overflow(int_type c) override {
    if (!traits_type::eq_int_type(c, traits_type::eof())) held_ += traits_type::to_char_type(c);
    return held_.size() < enough || send() ? traits_type::not_eof(c) : traits_type::eof();
  }
  std::streamsize xsputn(const char* text, std::streamsize count) override {
    held_.append(text, static_cast<std::size_t>(count));
    return held_.size() < enough || send() ? count : 0;
  }
  int sync() override { return send() && to_->pubsync() == 0 ? 0 : -1; }

 private:
  static constexpr std::size_t enough = 65536;

  // All that is held but a character begun at its end.
  bool send() {
    std::size_t whole = held_.size();
    while (whole > 0 && held_.size() - whole < 3 && (static_cast<unsigned char>(held_[whole - 1]) & 0xC0U) == 0x80U) {
      whole -= 1;
    }
    const bool open = whole > 0 && static_cast<unsigned char>(held_[whole - 1]) >= 0xC0U &&
                      held_.size() - whole < needed(static_cast<unsigned char>(held_[whole - 1]));
    const std::size_t count = open ? whole - 1 : held_.size();
    const std::string seen = scenario::visible(std::string_view(held_).substr(0, count), true);
    held_.erase(0, count);
    return to_->sputn(seen.data(), static_cast<std::streamsize>(seen.size())) ==
           static_cast<std::streamsize>(seen.size());
  }
  // Bytes that follow the first.
  static std::size_t needed(unsigned char first) { return first >= 0xF0U ? 3 : first >= 0xE0U ? 2 : 1; }

  std::ostream* stream_;
  std::streambuf* to_;
  std::string held_;
};

}  // namespace drawdown::command
