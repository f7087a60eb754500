// The system's date, in its own zone.
#include "command/today.hpp"

#include <ctime>

#include "labs/dates.hpp"

namespace drawdown::command {

int today() {
  const std::time_t now = std::time(nullptr);
  std::tm here{};
  (void)::localtime_r(&now, &here);
  return labs::days_of(here.tm_year + 1900, here.tm_mon + 1, here.tm_mday).value_or(0);
}

}  // namespace drawdown::command
