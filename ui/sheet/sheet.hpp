// One page to take along: the person's chart, what changed beyond noise, the laboratory's interval, five questions to
// ask the own clinician chosen from the data, cautions and sources. As PDF (A4) and HTML; readable in black and white.
#pragma once

#include <string>
#include <vector>

#include "labs/fit.hpp"
#include "labs/judge.hpp"
#include "labs/read.hpp"
#include "look/words.hpp"

namespace drawdown::sheet {

struct Content {
  const labs::Reading& reading;
  const labs::Judgement& judged;
  const labs::Noise& noise;
  scenario::Laboratory laboratory;
  const labs::Fit* fit = nullptr;  // may be none
};

struct Section {
  std::string title;
  std::vector<std::string> lines;
  bool numbered = false;
};
// Everything but the charts, in order.
[[nodiscard]] std::vector<Section> sections(const Content& content, const look::WordBook& words);
// The five questions.
[[nodiscard]] std::vector<std::string> questions(const Content& content, const look::WordBook& words);

// The files' bytes. Throws std::runtime_error.
[[nodiscard]] std::string pdf(const Content& content, const look::WordBook& words);
[[nodiscard]] std::string html(const Content& content, const look::WordBook& words);

}  // namespace drawdown::sheet
