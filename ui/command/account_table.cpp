// An account's numbers to text.
#include "command/account_table.hpp"

#include <cmath>
#include <sstream>
#include <vector>

#include "account_of.hpp"
#include "command/tables.hpp"
#include "stage/narrate.hpp"

namespace drawdown::command {

namespace {

using readout::Account;

struct Row {
  double hour;
  const char* moment;  // "before" or "after" an event, else empty
};

std::vector<Row> rows_of(const Run& run, double every) {
  std::vector<double> events;
  for (const solve::Segment& s : scenario::Timeline(run.story()).segments()) {
    if (s.start > 0.0 && s.start < run.course().end_time()) events.push_back(s.start);
  }
  std::vector<Row> rows;
  std::size_t next = 0;
  const auto end = static_cast<long>(std::floor(run.course().end_time() / every + 1e-9));
  const auto tell_events = [&](double to) {
    for (; next < events.size() && events[next] <= to; ++next) {
      rows.push_back({events[next], "before"});
      rows.push_back({events[next], "after"});
    }
  };
  for (long i = 0; i <= end; ++i) {
    const double hour = static_cast<double>(i) * every;
    const std::size_t told = rows.size();
    tell_events(hour);
    if (rows.size() > told && rows.back().hour == hour) continue;
    rows.push_back({hour, ""});
  }
  tell_events(run.course().end_time());
  return rows;
}

std::string quoted(const std::string& text) {
  std::string cell = "\"";
  for (const char c : text) cell += c == '"' ? std::string("\"\"") : std::string(1, c);
  return cell + '"';
}

}  // namespace

std::string account_csv(const Run& run, double every_hours, const look::WordBook& words, look::Depth depth) {
  const Account account = account_of(run);
  const body::Model& model = *run.body().model;
  const std::vector<std::string>& tokens = account.tokens().names;
  std::ostringstream out;
  out.precision(9);
  out << csv_head(run) << "day,moment,plasma volume [L]";
  for (const body::ProteinId protein : account.proteins()) {
    const std::string name = model.proteins()[protein].reading;
    for (const char* what : {"trend", "usual [g/L]", "against usual", "tap", "drain", "in", "out", "from tissue",
                             "settles [g/L]", "slope [% of usual/day]", "cause", "moves by"}) {
      out << ',' << name << ' ' << what;
    }
    for (const std::string& token : tokens) out << ',' << name << " debt " << token << " [g/L]";
  }
  out << ",sentence\n";
  for (const Row& row : rows_of(run, every_hours)) {
    const bool before = row.moment == std::string("before");
    // Just before an event everything that answers with the later state is asked a moment earlier.
    const double day = row.hour / 24.0 * (before ? 1.0 - 1e-12 : 1.0);
    out << row.hour / 24.0 << ',' << row.moment << ',' << run.plasma_litres(day);
    for (std::size_t p = 0; p < account.proteins().size(); ++p) {
      const readout::AccountOf a = account.at(p, row.hour, before ? Account::Side::before : Account::Side::after);
      out << ',' << readout::level_trend_name(a.trend);
      for (const double value :
           {a.usual, a.against_usual, a.tap, a.drain, a.in, a.out, a.from_tissue, a.settles, a.slope}) {
        out << ',' << value;
      }
      out << ',';
      const char* between = "";
      for (const std::size_t cause : readout::causes_of_level(account.tokens(), a)) {
        out << between << tokens[cause];
        between = " ";
      }
      out << ',';
      if (a.trend != readout::LevelTrend::holding) out << tokens[readout::cause_of_trend(account.tokens(), a)];
      for (const double debt : a.debts) out << ',' << debt;
    }
    out << ',' << quoted(stage::balance_sentence(run, account, day, words, depth)) << '\n';
  }
  return out.str();
}

}  // namespace drawdown::command
