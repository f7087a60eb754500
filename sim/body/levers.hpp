// Everything a story, a slider or a dated event can move, as rows. A lever is an input of the network (or, for the
// laboratory's group, of the readout). To add a lever: a row in levers.cpp, its factor in the chapter it acts in, and
// its words in assets/en.toml.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace drawdown::body {

enum class LeverGroup { complexes, production, inherited, treatment, laboratory, person };

enum class LeverKind {
  sliding,  // any value in the range
  counted,  // whole numbers (gene copies)
  dated     // something done over stated hours (plasma exchange): an event on the time line, not a slider
};

// How its value is shown.
enum class Shown {
  times,    // "0.80 x"
  percent,  // of a fraction; "off" at 0
  copies,
  plain  // the number in the lever's unit
};

struct Lever {
  std::string name;
  LeverGroup group = LeverGroup::complexes;
  LeverKind kind = LeverKind::sliding;
  std::string unit;
  double least = 0.0;
  double most = 1.0;
  double rest = 0.0;  // value when nothing acts
  // A change one would speak of at a bedside, in the lever's unit (half the antibody gone, a drug given in full); 0:
  // none (counted and dated levers, and what makes one person differ from another). Chosen by us, common practice, no
  // source.
  double step = 0.0;
  // Of dated levers: one usual session, its value in the lever's unit held for so many hours.
  double session_value = 0.0;
  double session_hours = 0.0;
  // Offered at once; the others come with "More levers" or when the story uses them.
  bool main = false;
  [[nodiscard]] Shown shown() const;
};

}  // namespace drawdown::body
