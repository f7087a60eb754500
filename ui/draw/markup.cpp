// Escaping.
#include "draw/markup.hpp"

#include "scenario/visible.hpp"

namespace drawdown::draw {

std::string escaped(const std::string& text) {
  std::string out;
  for (const char c : scenario::visible(text)) {
    if (c == '&') {
      out += "&amp;";
    } else if (c == '<') {
      out += "&lt;";
    } else if (c == '>') {
      out += "&gt;";
    } else if (c == '"') {
      out += "&quot;";
    } else if (c == '\'') {
      out += "&#39;";
    } else {
      out += c;
    }
  }
  return out;
}

}  // namespace drawdown::draw
