// Running, reading, counting.
#include "study/clinic.hpp"

#include <algorithm>
#include <boost/crc.hpp>
#include <cmath>
#include <cstdio>
#include <map>
#include <mutex>
#include <stdexcept>

#include "network/elementary.hpp"
#include "network/network.hpp"
#include "scenario/scenario.hpp"
#include "study/change_value.hpp"
#include "study/cohort.hpp"

namespace drawdown::study {

namespace {

constexpr std::uint64_t all_ones = 0xFFFFFFFFFFFFFFFFULL;
using Crc = boost::crc_optimal<64, 0x42F0E1EBA9EA3693ULL, all_ones, all_ones, true, true>;

int hundredths(double printed_level) {
  return static_cast<int>(std::lround(100.0 * printed_level));
}

struct Below {
  bool c3 = false, c4 = false;
};
// What a person's readings are held against, in hundredths.
struct Limits {
  int range_c3, range_c4;
  double own_c3, own_c4;
  explicit Limits(const ClinicPerson& person)
      : range_c3(hundredths(printed(person.laboratory.c3.low))),
        range_c4(hundredths(printed(person.laboratory.c4.low))),
        own_c3(100.0 * own_limit(person.usual_c3, Test::c3)),
        own_c4(100.0 * own_limit(person.usual_c4, Test::c4)) {}
  [[nodiscard]] Below below_range(const PrintedPair& read) const { return {read.c3 < range_c3, read.c4 < range_c4}; }
  [[nodiscard]] Below below_own(const PrintedPair& read) const { return {read.c3 < own_c3, read.c4 < own_c4}; }
};

// Where the pair is not of one test, both low are counted of people who had both low in one.
void count(MomentTally& tally, const PrintedPair& read, const Limits& limits, const ClinicPerson& person,
           bool in_one_test = true) {
  tally.people += 1;
  const auto low = [](Low& of, const Below& below, bool together) {
    of[0] += below.c3 ? 1U : 0U;
    of[1] += below.c4 ? 1U : 0U;
    of[2] += below.c3 || below.c4 ? 1U : 0U;
    of[3] += together ? 1U : 0U;
  };
  const Below range = limits.below_range(read);
  const Below own = limits.below_own(read);
  low(tally.below_range, range, in_one_test ? range.c3 && range.c4 : person.both_below_range);
  low(tally.below_own, own, in_one_test ? own.c3 && own.c4 : person.both_below_own);
  tally.c3.add(read.c3);
  tally.c4.add(read.c4);
  tally.products += static_cast<std::uint64_t>(read.c3) * static_cast<std::uint64_t>(read.c4);
}

void add_to(MomentTally& to, const MomentTally& other) {
  to.people += other.people;
  for (std::size_t i = 0; i < to.below_range.size(); ++i) {
    to.below_range[i] += other.below_range[i];
    to.below_own[i] += other.below_own[i];
  }
  to.c3.add(other.c3);
  to.c4.add(other.c4);
  to.products += other.products;
}

ClinicPerson read_person(const Person& who, std::uint64_t number, const ClinicAsked& asked,
                         const CohortCourse& course) {
  ClinicPerson p;
  p.number = number;
  p.laboratory = who.laboratory;
  p.severity = who.severity;
  p.complete = !course.read.empty();
  if (!p.complete) return p;
  p.usual_c3 = course.usual[0];
  p.usual_c4 = course.usual[1];
  const Limits limits(p);
  const auto level = [&](int day, std::size_t which) { return course.read[2 * static_cast<std::size_t>(day) + which]; };
  for (std::size_t visit = 0; visit < who.visits.size(); ++visit) {
    const int day = static_cast<int>(std::floor(who.visits[visit]));
    if (day > asked.days) break;
    const auto at = static_cast<std::uint32_t>(visit);
    const PrintedPair read{hundredths(reading(who, Test::c3, level(day, 0), at)),
                           hundredths(reading(who, Test::c4, level(day, 1), at))};
    const auto moment = [&](Moment m) -> std::optional<PrintedPair>& { return p.read[static_cast<std::size_t>(m)]; };
    const auto take = [&](Moment m) {
      moment(m) = read;
      p.test_day[static_cast<std::size_t>(m)] = day;
    };
    if (visit == 0) take(Moment::first);
    if (who.visits[visit] == who.treatment_day) take(Moment::turn);
    take(Moment::last);
    p.tests += 1;
    const Below range = limits.below_range(read);
    const Below own = limits.below_own(read);
    p.both_below_range = p.both_below_range || (range.c3 && range.c4);
    p.both_below_own = p.both_below_own || (own.c3 && own.c4);
    std::optional<PrintedPair>& lowest = moment(Moment::lowest);
    lowest = lowest ? PrintedPair{std::min(lowest->c3, read.c3), std::min(lowest->c4, read.c4)} : read;
  }
  if (!asked.daily) return p;
  p.days.reserve(static_cast<std::size_t>(asked.days) + 1);
  for (int day = 0; day <= asked.days; ++day) {
    p.days.push_back({hundredths(printed(level(day, 0))), hundredths(printed(level(day, 1)))});
  }
  return p;
}

}  // namespace

bool operator==(const ClinicAsked& a, const ClinicAsked& b) {
  return a.group == b.group && a.seed == b.seed && a.people == b.people && a.days == b.days && a.daily == b.daily;
}

double own_limit(double usual, Test test) {
  const Variation& cv = test == Test::c3 ? c3_variation : c4_variation;
  return usual * elementary::exp(-1.959964 * log_sd(cv));
}

void Histogram::add(int hundredths, std::uint64_t times) {
  counts_[std::min(static_cast<std::size_t>(std::max(hundredths, 0)), bins - 1)] += times;
  count_ += times;
}

void Histogram::add(const Histogram& other) {
  for (std::size_t i = 0; i < bins; ++i) counts_[i] += other.counts_[i];
  count_ += other.count_;
}

double Histogram::quantile(double share) const {
  std::uint64_t seen = 0;
  for (std::size_t i = 0; i < bins; ++i) {
    seen += counts_[i];
    if (count_ > 0 && static_cast<double>(seen) >= share * static_cast<double>(count_)) {
      return static_cast<double>(i) / 100.0;
    }
  }
  return 0.0;
}

double Histogram::mean() const {
  std::uint64_t sum = 0;
  for (std::size_t i = 0; i < bins; ++i) sum += counts_[i] * i;
  return count_ > 0 ? static_cast<double>(sum) / static_cast<double>(count_) / 100.0 : 0.0;
}

std::optional<double> Histogram::sd() const {
  if (count_ < 2) return std::nullopt;
  std::uint64_t squares = 0;
  for (std::size_t i = 0; i < bins; ++i) squares += counts_[i] * i * i;
  const auto n = static_cast<double>(count_);
  const double m = 100.0 * mean();
  return std::sqrt(std::max(0.0, static_cast<double>(squares) / n - m * m) * n / (n - 1.0)) / 100.0;
}

std::optional<double> MomentTally::correlation() const {
  const auto a = c3.sd();
  const auto b = c4.sd();
  if (!a || !b || !(*a * *b > 0.0)) return std::nullopt;
  const auto n = static_cast<double>(people);
  const double together = static_cast<double>(products) / n / 10000.0;
  return (together - c3.mean() * c4.mean()) * n / (n - 1.0) / (*a * *b);
}

void Tally::add(const ClinicPerson& person) {
  people += 1;
  if (!person.complete) {
    failed += 1;
    return;
  }
  const Limits limits(person);
  for (std::size_t m = 0; m < moments.size(); ++m) {
    if (person.read[m]) count(moments[m], *person.read[m], limits, person, static_cast<Moment>(m) != Moment::lowest);
  }
  if (days.size() < person.days.size()) days.resize(person.days.size());
  for (std::size_t day = 0; day < person.days.size(); ++day) count(days[day], person.days[day], limits, person);
}

void Tally::add(const Tally& other) {
  people += other.people;
  failed += other.failed;
  for (std::size_t m = 0; m < moments.size(); ++m) add_to(moments[m], other.moments[m]);
  if (days.size() < other.days.size()) days.resize(other.days.size());
  for (std::size_t day = 0; day < other.days.size(); ++day) add_to(days[day], other.days[day]);
}

namespace {

const Group& checked(const ClinicAsked& asked) {
  if (asked.people < 1 || asked.people > most_people || asked.days < fewest_days || asked.days > longest_days) {
    throw std::logic_error("a clinic has 1 to 100 000 000 people and 30 to 730 days");
  }
  return group_named(asked.group);
}

// People as they are drawn for their block's run, kept until the block is read.
class Drawn {
 public:
  Drawn(const Group& group, const ClinicAsked& asked) : group_(&group), seed_(asked.seed), days_(asked.days) {}

  // Draws the person and tells their story. By several threads at once.
  scenario::Scenario story(std::uint64_t number) {
    Person one = person(*group_, seed_, number);
    scenario::Scenario told = story_of(one, days_);
    const std::lock_guard lock(mutex_);
    waiting_.insert_or_assign(number, std::move(one));
    return told;
  }
  // Once, of a person whose story was told.
  Person take(std::uint64_t number) {
    const std::lock_guard lock(mutex_);
    return std::move(waiting_.extract(number).mapped());
  }

 private:
  const Group* group_;
  std::uint64_t seed_;
  double days_;
  std::mutex mutex_;
  std::map<std::uint64_t, Person> waiting_;
};

}  // namespace

std::shared_ptr<const Run> open_person(const ClinicAsked& asked, std::uint64_t number) {
  const Group& group = checked(asked);
  if (number >= asked.people) throw std::logic_error("no person of that number");
  const auto told = [&](std::size_t k) { return story_of(person(group, asked.seed, k), asked.days); };
  return Cohort(body::make_body(body::Patient{}), told, asked.people).open(number);
}

std::uint64_t run_clinic(const ClinicAsked& asked, std::uint64_t first, std::uint64_t last,
                         const std::function<void(const ClinicPerson&)>& hand_over, std::size_t threads,
                         const std::atomic<bool>* stop) {
  Drawn drawn(checked(asked), asked);
  const Cohort cohort(
      body::make_body(body::Patient{}), [&](std::size_t number) { return drawn.story(number); }, asked.people);
  const auto& known = body::standard_model()->known();
  CohortReads reads;
  reads.levels = {known.c3, known.c4};
  reads.usual = true;
  for (int day = 0; day <= asked.days; ++day) reads.days.push_back(day);
  const auto take = [&](std::size_t number, const std::vector<CohortCourse>& block) {
    for (std::size_t i = 0; i < block.size(); ++i) {
      hand_over(read_person(drawn.take(number + i), number + i, asked, block[i]));
    }
  };
  return cohort.run(first, last, reads, take, threads, stop);
}

People people_of_part(std::uint64_t people, std::uint64_t part, std::uint64_t parts) {
  const std::uint64_t blocks = (people + block_people - 1) / block_people;
  const auto cut = [&](std::uint64_t k) { return std::min<std::uint64_t>(people, blocks * k / parts * block_people); };
  return {cut(part - 1), cut(part)};
}

Checksum::Checksum() : state_(all_ones) {}
void Checksum::add(const std::string& text) {
  Crc crc(state_);
  crc.process_bytes(text.data(), text.size());
  state_ = crc.get_interim_remainder();
}
std::string Checksum::digits() const {
  std::array<char, 32> text{};
  (void)std::snprintf(text.data(), text.size(), "%016llx", static_cast<unsigned long long>(Crc(state_).checksum()));
  return text.data();
}

std::string fingerprint() {
  Checksum sum;
  const auto take = [&](const std::string& text) { sum.add(text + "\n"); };
  const auto number = [&](double v) {
    std::array<char, 64> text{};
    (void)std::snprintf(text.data(), text.size(), "%a", v);
    take(text.data());
  };
  take(network::equations_markdown(body::make_body(body::Patient{})->network));
  // The sampler: what is drawn of the first person of each group, and the story told of it.
  for (const Group& group : groups()) {
    const Person first = person(group, 1, 0);
    take(group.id);
    for (const double v : first.levers) number(v);
    for (const double v : first.visits) number(v);
    for (const scenario::Event& event : story_of(first, longest_days).events) {
      for (const double v : {event.day, event.value, event.ramp_days, event.for_hours}) number(v);
    }
    for (const Test test : {Test::c3, Test::c4}) number(noisy(first.key, test, 1.0, 0));
  }
  return sum.digits();
}

}  // namespace drawdown::study
