// Dates as people and laboratories write them.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "labs/record.hpp"

namespace drawdown::labs {

enum class DateOrder { day_first, month_first };

// Days since 1970-01-01 of a day that exists; nothing for 30 February.
[[nodiscard]] std::optional<int> days_of(int year, int month, int day);
// "2024-03-09".
[[nodiscard]] std::string iso_date(int days);

// A cell taken apart: year first or with the month's name it is plain; two numbers before the year may mean either.
struct DateCell {
  int first = 0;  // day or month
  int second = 0;
  int year = 0;
  bool plain = false;         // then first = day, second = month
  std::optional<int> minute;  // of the day, where a time stands behind it
  std::optional<Reason> wrong;
};
// Takes 2024-03-09, 2024/03/09, 09.03.2024, 9/3/2024, 9-3-2024, 9 Mar 2024, 9-mar-2024, Mar 9, 2024, 9th of March 2024,
// 9 de marzo de 2024 (English and Spanish names); a time of day may follow (10:30, T10:30:00, 10:30 PM), and a zone
// behind it (Z, +02:00), which moves nothing: the day and the time are those of the place where the sample was taken.
// Numbers with dots are day first, as everywhere they are used.
[[nodiscard]] DateCell take_apart(std::string_view cell);

// The cells of a line with a date that was cut into several made whole: "Jan 15", "2024" by commas, "15", "Jan", "2024"
// by blanks. Where blanks part the cells (`blanks`) a time of day behind the date goes into its column, `time_at`, or
// to the date if there is none; where no time stands there, and cells are fewer than `columns`, its column is left
// empty. Never joins to a cell that is a date.
[[nodiscard]] std::vector<std::string> with_whole_date(std::vector<std::string> cells, std::size_t date_at,
                                                       std::optional<std::size_t> time_at, std::size_t columns,
                                                       bool blanks);

// From 1950 to 2100. The reason if the cell is no day in that order.
struct DateRead {
  int days = 0;
  std::optional<Reason> wrong;
};
[[nodiscard]] DateRead read_date(const DateCell& cell, DateOrder order);

}  // namespace drawdown::labs
