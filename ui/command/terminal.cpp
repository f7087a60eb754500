// The stream between.
#include "command/terminal.hpp"

#include "scenario/visible.hpp"

namespace drawdown::command {

namespace {
constexpr std::size_t most_waiting = std::size_t{64} * 1024;
}

VisibleOutput::VisibleOutput(std::ostream& stream) : stream_(stream), behind_(stream.rdbuf(this)) {}

VisibleOutput::~VisibleOutput() {
  if (!send(true)) stream_.setstate(std::ios::badbit);
  const std::ios::iostate state = stream_.rdstate();
  stream_.rdbuf(behind_);  // clears the state
  stream_.setstate(state);
}

VisibleOutput::int_type VisibleOutput::overflow(int_type c) {
  if (traits_type::eq_int_type(c, traits_type::eof())) return traits_type::not_eof(c);
  const char one = traits_type::to_char_type(c);
  return xsputn(&one, 1) == 1 ? c : traits_type::eof();
}

std::streamsize VisibleOutput::xsputn(const char* text, std::streamsize size) {
  waiting_.append(text, static_cast<std::size_t>(size));
  return waiting_.size() < most_waiting || send(false) ? size : 0;
}

int VisibleOutput::sync() {
  return send(false) && behind_->pubsync() == 0 ? 0 : -1;
}

bool VisibleOutput::send(bool all) {
  // A carriage return waits for the line end it may belong to.
  std::size_t kept = all ? 0 : scenario::unfinished(waiting_);
  if (!all && kept == 0 && !waiting_.empty() && waiting_.back() == '\r') kept = 1;
  const std::string_view now = std::string_view(waiting_).substr(0, waiting_.size() - kept);
  const std::string shown = scenario::visible(now, scenario::Keep::lines);
  const auto size = static_cast<std::streamsize>(shown.size());
  const bool sent = size == 0 || behind_->sputn(shown.data(), size) == size;
  waiting_.erase(0, now.size());
  return sent;
}

}  // namespace drawdown::command
