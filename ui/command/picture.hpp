// `drawdown picture`: a still of any view, as PNG or SVG.
#pragma once

#include <string>
#include <vector>

#include "command/command.hpp"

namespace CLI {
class App;
}

namespace drawdown::command {

struct PictureOptions {
  std::string file;
  std::string out = "drawdown.png";
  std::string view = "balance";
  std::string size = "1600x900";
  std::string room = "bright";
  std::string depth = "plain";
  std::string track = "none";
  bool bare = false;
  std::string language = "en";
  std::string results;  // own results to show; empty = none
  std::string own_page = "findings";
  std::vector<std::string> set;
  double day = -1.0;
  int text = 100;
  int talk = 0;  // step, from 1; 0 = none
};
CLI::App* add_picture(CLI::App& app, PictureOptions& options);
// Throws with the reason.
int write_picture(const PictureOptions& options, const Screen& screen);

struct Size {
  unsigned width = 0;
  unsigned height = 0;
};
// "1600x900". Throws CLI::ValidationError.
[[nodiscard]] Size size_of(const std::string& text);

}  // namespace drawdown::command
