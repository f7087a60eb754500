// The checks.
#include "command/options.hpp"

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <sstream>
#include <stdexcept>

namespace drawdown::command {

CLI::Validator number_within(double least, double most) {
  std::ostringstream range;
  range << "a number from " << least << " to " << most;
  const std::string allowed = range.str();
  return CLI::Validator(
      [=](std::string& text) {
        char* end = nullptr;
        const double value = std::strtod(text.c_str(), &end);
        const bool read = !text.empty() && end == text.c_str() + text.size();
        const bool inside = read && std::isfinite(value) && value >= least && value <= most;
        return inside ? std::string() : "'" + text + "' is not " + allowed;
      },
      allowed);
}

CLI::Validator some_name() {
  return CLI::Validator(
      [](std::string& text) { return text.empty() ? std::string("a name or a file is needed") : std::string(); },
      "NAME");
}

void must_exist(const std::string& path) {
  std::error_code code;
  if (!std::filesystem::exists(path, code)) throw std::invalid_argument(path + ": no such file");
}

CLI::Validator file_to_write(const std::vector<std::string>& endings, bool or_dash) {
  std::string allowed;
  for (const std::string& ending : endings) allowed += (allowed.empty() ? "" : " or ") + ending;
  if (or_dash) allowed += ", or - for here";
  return CLI::Validator(
      [=](std::string& text) {
        if (or_dash && text == "-") return std::string();
        const std::string ending = std::filesystem::path(text).extension().string();
        for (const std::string& known : endings) {
          if (ending == known) return std::string();
        }
        return "'" + text + "' must end with " + allowed;
      },
      allowed);
}

}  // namespace drawdown::command
