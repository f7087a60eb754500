// Writing, reading and adding up parts.
#include "study/clinic_text.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cstdio>
#include <map>
#include <sstream>

namespace drawdown::study {

namespace {

std::string fixed(double v, int decimals) {
  std::array<char, 64> text{};
  (void)std::snprintf(text.data(), text.size(), "%.*f", decimals, v);
  return text.data();
}
std::string percent_of(std::uint64_t part, std::uint64_t whole) {
  return whole > 0 ? fixed(100.0 * static_cast<double>(part) / static_cast<double>(whole), 2) : "";
}
std::string printed_text(int hundredths) {
  return fixed(hundredths / 100.0, 2);
}

// Bins that are not empty: "120:3 121:7".
std::string histogram_text(const Histogram& h) {
  std::string text;
  for (std::size_t i = 0; i < Histogram::bins; ++i) {
    if (h.at(i) > 0) text += (text.empty() ? "" : " ") + std::to_string(i) + ":" + std::to_string(h.at(i));
  }
  return text;
}

std::string moment_text(const std::string& name, const MomentTally& m) {
  std::ostringstream out;
  out << "counts," << name << ',' << m.people;
  for (const Low* low : {&m.below_range, &m.below_own}) {
    for (const std::uint64_t n : *low) out << ',' << n;
  }
  out << ',' << m.products << "\nC3," << name << ',' << histogram_text(m.c3) << "\nC4," << name << ','
      << histogram_text(m.c4) << '\n';
  return out.str();
}

// Line by line, each begun by its name.
class PartReader {
 public:
  explicit PartReader(const std::string& text) : text_(text) {}

  [[nodiscard]] bool ended() const { return at_ >= text_.size(); }
  [[noreturn]] void fail(const std::string& what) const {
    throw PartError("line " + std::to_string(line_) + ": " + what);
  }
  // What stands behind "NAME," on the next line.
  std::string take(const std::string& name) {
    line_ += 1;
    const std::size_t end = text_.find('\n', at_);
    if (end == std::string::npos) fail("it ends here; '" + name + "' should come");
    const std::string line = text_.substr(at_, end - at_);
    at_ = end + 1;
    if (line.compare(0, name.size() + 1, name + ",") != 0) fail("'" + name + ",' should stand here");
    return line.substr(name.size() + 1);
  }
  std::uint64_t number(const std::string& text) const {
    std::uint64_t value = 0;
    const auto read = std::from_chars(text.data(), text.data() + text.size(), value);
    if (read.ec != std::errc{} || read.ptr != text.data() + text.size()) fail("a whole number should stand here");
    return value;
  }
  std::uint64_t take_number(const std::string& name) { return number(take(name)); }
  [[nodiscard]] std::vector<std::string> cells(const std::string& text, char between) const {
    std::vector<std::string> out(1);
    for (const char c : text) {
      if (c == between) {
        out.emplace_back();
      } else {
        out.back() += c;
      }
    }
    return out;
  }
  MomentTally take_moment(const std::string& name) {
    MomentTally m;
    const auto counts = cells(take("counts"), ',');
    if (counts.size() != 11 || counts[0] != name) fail("the counts of '" + name + "' should stand here, ten of them");
    m.people = number(counts[1]);
    for (std::size_t i = 0; i < 4; ++i) {
      m.below_range[i] = number(counts[2 + i]);
      m.below_own[i] = number(counts[6 + i]);
    }
    m.products = number(counts[10]);
    m.c3 = take_histogram("C3", name, m.people);
    m.c4 = take_histogram("C4", name, m.people);
    return m;
  }

 private:
  Histogram take_histogram(const std::string& protein, const std::string& name, std::uint64_t people) {
    Histogram h;
    const auto parts = cells(take(protein), ',');
    if (parts.size() != 2 || parts[0] != name) fail("the readings of '" + name + "' should stand here");
    if (!parts[1].empty()) {
      for (const std::string& bin : cells(parts[1], ' ')) {
        const auto pair = cells(bin, ':');
        if (pair.size() != 2 || number(pair[0]) >= Histogram::bins) fail("bins are written 120:3");
        h.add(static_cast<int>(number(pair[0])), number(pair[1]));
      }
    }
    if (h.count() != people) fail("the bins do not add up to the people counted");
    return h;
  }
  const std::string& text_;
  std::size_t at_ = 0;
  std::size_t line_ = 0;
};

std::string sum_of(const std::string& text) {
  Checksum sum;
  sum.add(text);
  return sum.digits();
}

std::string or_empty(const std::optional<double>& v, int decimals) {
  return v ? fixed(*v, decimals) : "";
}

// A pair that is not of one test has no correlation.
void columns_of(std::ostringstream& out, const MomentTally& m, bool in_one_test = true) {
  out << m.people;
  for (const Low* low : {&m.below_range, &m.below_own}) {
    for (const std::uint64_t n : *low) out << ',' << n << ',' << percent_of(n, m.people);
  }
  for (const Histogram* h : {&m.c3, &m.c4}) {
    for (const double share : {0.05, 0.25, 0.5, 0.75, 0.95}) {
      out << ',' << (m.people > 0 ? fixed(h->quantile(share), 2) : "");
    }
    out << ',' << (m.people > 0 ? fixed(h->mean(), 4) : "") << ',' << or_empty(h->sd(), 4);
  }
  out << ',' << (in_one_test ? or_empty(m.correlation(), 3) : "") << '\n';
}

std::string column_names() {
  std::string names = "people";
  for (const char* what : {"below range", "below own limit"}) {
    for (const std::string_view which : low_names) {
      const std::string name = std::string(which) + " " + what;
      names.append(",").append(name).append(",").append(name).append(" %");
    }
  }
  for (const char* protein : {"C3", "C4"}) {
    for (const char* figure :
         {"5th percentile", "25th percentile", "median", "75th percentile", "95th percentile", "mean", "sd"}) {
      names += std::string(",") + protein + " " + figure + " g/L";
    }
  }
  return names + ",correlation\n";
}

}  // namespace

std::string part_text(const ClinicPart& p) {
  std::ostringstream out;
  out << "clinic,1\nprogram," << p.program << "\ngroup," << p.asked.group << "\nseed," << p.asked.seed << "\npeople,"
      << p.asked.people << "\ndays," << p.asked.days << "\ndaily," << (p.asked.daily ? 1 : 0) << "\neach,"
      << (p.each ? p.each_sum : "none") << "\npart," << p.part << "\nparts," << p.parts << "\nrun," << p.tally.people
      << "\nfailed," << p.tally.failed << '\n';
  for (std::size_t m = 0; m < moment_names.size(); ++m)
    out << moment_text(std::string(moment_names[m]), p.tally.moments[m]);
  out << "rows," << p.tally.days.size() << '\n';
  for (std::size_t day = 0; day < p.tally.days.size(); ++day)
    out << moment_text(std::to_string(day), p.tally.days[day]);
  return out.str() + "checksum," + sum_of(out.str()) + "\n";
}

ClinicPart read_part(const std::string& text) {
  PartReader reader(text);
  ClinicPart p;
  const std::size_t last = text.rfind("checksum,");
  if (last == std::string::npos || text.substr(last) != "checksum," + sum_of(text.substr(0, last)) + "\n") {
    throw PartError("cut short or altered: the checksum at its end does not fit");
  }
  if (reader.take("clinic") != "1") reader.fail("only parts of the first kind ('clinic,1') are read");
  p.program = reader.take("program");
  p.asked.group = reader.take("group");
  p.asked.seed = reader.take_number("seed");
  p.asked.people = reader.take_number("people");
  p.asked.days = static_cast<int>(std::min<std::uint64_t>(reader.take_number("days"), 1000000));
  p.asked.daily = reader.take_number("daily") == 1;
  p.each_sum = reader.take("each");
  p.each = p.each_sum != "none";
  p.part = reader.take_number("part");
  p.parts = reader.take_number("parts");
  p.tally.people = reader.take_number("run");
  p.tally.failed = reader.take_number("failed");
  for (std::size_t m = 0; m < moment_names.size(); ++m) {
    p.tally.moments[m] = reader.take_moment(std::string(moment_names[m]));
  }
  const std::uint64_t rows = reader.take_number("rows");
  if (rows > static_cast<std::uint64_t>(longest_days) + 1) reader.fail("at most 731 days are counted");
  for (std::uint64_t day = 0; day < rows; ++day) p.tally.days.push_back(reader.take_moment(std::to_string(day)));
  (void)reader.take("checksum");
  if (!reader.ended()) reader.fail("more stands behind the checksum");
  const bool sound =
      p.asked.people >= 1 && p.asked.people <= most_people && p.parts >= 1 && p.part >= 1 && p.part <= p.parts;
  if (!sound) reader.fail("people must be 1 to 100 000 000, and the part one of its parts");
  const People of = people_of_part(p.asked.people, p.part, p.parts);
  if (p.tally.people != of.last - of.first) reader.fail("the people counted are not those of the part");
  return p;
}

ClinicPart merged(const std::vector<ClinicPart>& parts) {
  if (parts.empty()) throw PartError("no part to add up");
  const ClinicPart& first = parts.front();
  const auto agree = [&](bool same, const char* what, const std::string& one, const std::string& other) {
    if (!same) throw PartError(std::string("parts do not agree in ") + what + ": " + one + " and " + other);
  };
  const auto number = [](std::uint64_t n) { return std::to_string(n); };
  std::map<std::uint64_t, const ClinicPart*> by_part;
  for (const ClinicPart& p : parts) {
    agree(p.asked.group == first.asked.group, "the group", first.asked.group, p.asked.group);
    agree(p.asked.seed == first.asked.seed, "the seed", number(first.asked.seed), number(p.asked.seed));
    agree(p.program == first.program, "the program", first.program, p.program);
    agree(p.asked.people == first.asked.people, "people", number(first.asked.people), number(p.asked.people));
    agree(p.asked.days == first.asked.days, "days", std::to_string(first.asked.days), std::to_string(p.asked.days));
    agree(p.asked.daily == first.asked.daily, "--daily", first.asked.daily ? "on" : "off",
          p.asked.daily ? "on" : "off");
    agree(p.each == first.each, "--each", first.each ? "on" : "off", p.each ? "on" : "off");
    agree(p.parts == first.parts, "how many parts there are", number(first.parts), number(p.parts));
    if (!by_part.emplace(p.part, &p).second) throw PartError("part " + number(p.part) + " is there twice");
  }
  ClinicPart whole = first;
  whole.part = whole.parts = 1;
  whole.each_sum.clear();
  whole.tally = {};
  for (std::uint64_t k = 1; k <= first.parts; ++k) {
    const auto found = by_part.find(k);
    if (found == by_part.end()) {
      throw PartError("part " + number(k) + " of " + number(first.parts) + " is missing");
    }
    whole.tally.add(found->second->tally);
  }
  return whole;
}

std::string summary_csv(const ClinicPart& whole) {
  std::ostringstream out;
  out << "group,seed,days,run,failed,moment," << column_names();
  for (std::size_t m = 0; m < moment_names.size(); ++m) {
    out << whole.asked.group << ',' << whole.asked.seed << ',' << whole.asked.days << ',' << whole.tally.people << ','
        << whole.tally.failed << ',' << moment_names[m] << ',';
    columns_of(out, whole.tally.moments[m], static_cast<Moment>(m) != Moment::lowest);
  }
  return out.str();
}

std::string daily_csv(const ClinicPart& whole) {
  std::ostringstream out;
  out << "group,seed,day," << column_names();
  for (std::size_t day = 0; day < whole.tally.days.size(); ++day) {
    out << whole.asked.group << ',' << whole.asked.seed << ',' << day << ',';
    columns_of(out, whole.tally.days[day]);
  }
  return out.str();
}

std::string each_header(const ClinicAsked& asked) {
  std::string names =
      "person,C3 without the illness g/L,C4 without the illness g/L,C3 own limit g/L,C4 own limit g/L,"
      "C3 range low,C4 range low," +
      std::string(group_named(asked.group).illness.lever) + ",tests";
  for (std::size_t m = 0; m < moment_names.size(); ++m) {
    const std::string moment(moment_names[m]);
    if (static_cast<Moment>(m) != Moment::lowest) names += "," + moment + " day";
    for (const char* protein : {"C3", "C4"}) names += "," + moment + " " + protein + " g/L";
  }
  return names + ",both below range in one test,both below own limit in one test\n";
}

std::string each_row(const ClinicPerson& p) {
  std::string row = std::to_string(p.number);
  if (!p.complete) return row + std::string(8 + 3 * moment_names.size() - 1 + 2, ',') + "\n";
  for (const double v : {p.usual_c3, p.usual_c4}) row += "," + fixed(v, 4);
  row += "," + fixed(own_limit(p.usual_c3, Test::c3), 6) + "," + fixed(own_limit(p.usual_c4, Test::c4), 6);
  for (const double v : {p.laboratory.c3.low, p.laboratory.c4.low}) row += "," + fixed(v, 2);
  row += "," + fixed(p.severity, 4) + "," + std::to_string(p.tests);
  for (std::size_t m = 0; m < p.read.size(); ++m) {
    const auto& read = p.read[m];
    if (m < p.test_day.size()) row += "," + (read ? std::to_string(p.test_day[m]) : std::string());
    row += read ? "," + printed_text(read->c3) + "," + printed_text(read->c4) : ",,";
  }
  return row + (p.both_below_range ? ",1" : ",0") + (p.both_below_own ? ",1" : ",0") + "\n";
}

}  // namespace drawdown::study
