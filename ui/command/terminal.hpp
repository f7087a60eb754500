// What the command line prints, made visible on its way out: no title, note, cell or file name reaches a terminal with
// an escape sequence or anything else in it that the terminal would act on.
#pragma once

#include <ostream>
#include <streambuf>
#include <string>

namespace drawdown::command {

// While it lives, all that is written to the stream passes through scenario::visible, line ends and tabs kept. A
// character written in parts arrives whole. Errors of what is behind are the stream's own, also afterwards.
class VisibleOutput : private std::streambuf {
 public:
  explicit VisibleOutput(std::ostream& stream);
  VisibleOutput(const VisibleOutput&) = delete;
  VisibleOutput(VisibleOutput&&) = delete;
  VisibleOutput& operator=(const VisibleOutput&) = delete;
  VisibleOutput& operator=(VisibleOutput&&) = delete;
  ~VisibleOutput() override;

 private:
  int_type overflow(int_type c) override;
  std::streamsize xsputn(const char* text, std::streamsize size) override;
  int sync() override;
  // Sends what waits, but for the beginning of a character unless `all`. False if it could not be written.
  bool send(bool all);

  std::ostream& stream_;
  std::streambuf* behind_;
  std::string waiting_;
};

}  // namespace drawdown::command
