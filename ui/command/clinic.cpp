// Parts to files, files to tables.
#include "command/clinic.hpp"

#include <unistd.h>

#include <CLI/CLI.hpp>

#include <algorithm>
#include <atomic>
#include <charconv>
#include <cmath>
#include <csignal>
#include <filesystem>
#include <fstream>
#include <functional>
#include <iostream>
#include <memory>
#include <thread>

#include "command/command.hpp"
#include "command/options.hpp"
#include "disk/disk.hpp"
#include "scenario/visible.hpp"
#include "study/clinic_text.hpp"

namespace drawdown::command {

namespace {

namespace fs = std::filesystem;
using study::ClinicPart;

constexpr std::size_t most_bytes_of_part = std::size_t{64} * 1024 * 1024;
constexpr std::uint64_t most_parts = 100'000;
constexpr double largest_seed = 9007199254740992.0;  // whole numbers a double holds exactly

std::atomic<bool> stopped{false};
static_assert(std::atomic<bool>::is_always_lock_free);
void stop(int /*signal*/) {
  stopped = true;
}
// Ctrl C and the end of a job stop between blocks, so that nothing is left half written.
class StopOnSignal {
 public:
  StopOnSignal() : before_int_(std::signal(SIGINT, stop)), before_term_(std::signal(SIGTERM, stop)) {}
  StopOnSignal(const StopOnSignal&) = delete;
  StopOnSignal(StopOnSignal&&) = delete;
  StopOnSignal& operator=(const StopOnSignal&) = delete;
  StopOnSignal& operator=(StopOnSignal&&) = delete;
  ~StopOnSignal() {
    (void)std::signal(SIGINT, before_int_);
    (void)std::signal(SIGTERM, before_term_);
  }

 private:
  void (*before_int_)(int);
  void (*before_term_)(int);
};

CLI::Validator whole_number(double least, double most) {
  CLI::Validator within = number_within(least, most);
  return within & CLI::Validator(
                      [](std::string& text) {
                        return text.find_first_not_of("0123456789") == std::string::npos
                                   ? std::string()
                                   : "'" + scenario::shortened(text, 40) + "' is not a whole number";
                      },
                      "WHOLE");
}

// "3/16"
study::People part_of(const std::string& text) {
  std::uint64_t part = 0;
  std::uint64_t parts = 0;
  const char* end = text.data() + text.size();
  const auto first = std::from_chars(text.data(), end, part);
  const bool slash = first.ec == std::errc{} && first.ptr != end && *first.ptr == '/';
  const auto second = slash ? std::from_chars(first.ptr + 1, end, parts) : first;
  if (!slash || second.ec != std::errc{} || second.ptr != end || part < 1 || part > parts || parts > most_parts) {
    throw CLI::ValidationError("--part", "'" + scenario::shortened(text, 40) +
                                             "' is no part; write 3/16, from 1/16 to 16/16, 100000 parts at most");
  }
  return {part, parts};
}

std::string file_of(const std::string& folder, const std::string& what, const ClinicPart& p) {
  const bool whole = p.parts == 1;
  const std::string part = whole ? "" : "-" + std::to_string(p.part) + "-of-" + std::to_string(p.parts);
  return (fs::path(folder) / (what + part + ".csv")).string();
}

void make_folder(const std::string& folder) {
  std::error_code code;
  fs::create_directories(folder, code);
  if (!fs::is_directory(folder)) throw std::runtime_error(folder + ": is no folder and cannot be made one");
}

// Rows of many people are never held at once.
void in_pieces(const std::string& path, const std::function<void(const std::string&)>& take) {
  std::ifstream in(path, std::ios::binary);
  if (!in) throw std::runtime_error(path + ": cannot be read");
  std::string piece(std::size_t{1} << 20U, '\0');
  while (in) {
    in.read(piece.data(), static_cast<std::streamsize>(piece.size()));
    take(piece.substr(0, static_cast<std::size_t>(in.gcount())));
  }
}
std::string checksum_of(const std::string& path) {
  study::Checksum sum;
  in_pieces(path, [&](const std::string& piece) { sum.add(piece); });
  return sum.digits();
}

// The part as it stands in the folder, if it is whole and the one asked for.
bool is_finished(const std::string& folder, const ClinicPart& asked) {
  try {
    const auto text = disk::read_file_if_there(file_of(folder, "part", asked), most_bytes_of_part);
    if (!text) return false;
    const ClinicPart there = study::read_part(*text);
    const auto same = [&] {
      return there.program == asked.program && there.asked.group == asked.asked.group &&
             there.asked.seed == asked.asked.seed && there.asked.people == asked.asked.people &&
             there.asked.days == asked.asked.days && there.asked.daily == asked.asked.daily &&
             there.each == asked.each && there.part == asked.part && there.parts == asked.parts;
    };
    if (!same()) return false;
    return !there.each || there.each_sum == checksum_of(file_of(folder, "each", asked));
  } catch (const std::exception&) {
    return false;
  }
}

void write_tables(const std::string& folder, const ClinicPart& whole) {
  if (whole.asked.daily) disk::write_file((fs::path(folder) / "daily.csv").string(), study::daily_csv(whole));
  disk::write_file((fs::path(folder) / "summary.csv").string(), study::summary_csv(whole));
}

void say_result(const ClinicPart& whole, const std::string& folder) {
  const auto& at = whole.tally.moments[static_cast<std::size_t>(study::Moment::treatment)];
  const auto share = [&](std::uint64_t n) {
    return at.people > 0 ? 100.0 * static_cast<double>(n) / static_cast<double>(at.people) : 0.0;
  };
  std::cout << whole.asked.group << ", seed " << whole.asked.seed << ": " << whole.tally.people << " people, "
            << whole.tally.failed << " of them not run to the end\n";
  if (at.people > 0) {
    std::cout << "on the day treatment begins, below the laboratory's range: C3 "
              << std::lround(share(at.below_range[0])) << " %, C4 " << std::lround(share(at.below_range[1]))
              << " %, either " << std::lround(share(at.below_range[2])) << " %, both "
              << std::lround(share(at.below_range[3])) << " %\n";
  }
  std::cout << (fs::path(folder) / "summary.csv").string() << '\n'
            << "Invented people of a teaching model; not for diagnosis or treatment decisions.\n";
}

int merge(const ClinicOptions& o) {
  std::vector<ClinicPart> parts;
  std::vector<std::string> folders;
  for (const std::string& folder : o.merge) {
    if (!fs::is_directory(folder)) throw std::invalid_argument(folder + ": no such folder");
    std::vector<std::string> names;
    for (const auto& file : fs::directory_iterator(folder)) {
      const std::string name = file.path().filename().string();
      if (name.rfind("part-", 0) == 0 && file.path().extension() == ".csv") names.push_back(file.path().string());
    }
    std::sort(names.begin(), names.end());
    for (const std::string& name : names) {
      try {
        parts.push_back(study::read_part(disk::read_whole_file(name, most_bytes_of_part)));
        folders.push_back(folder);
      } catch (const study::PartError& error) {
        throw study::PartError(name + ": " + error.what());
      }
    }
  }
  const ClinicPart whole = study::merged(parts);
  make_folder(o.out);
  if (whole.each) {
    disk::GrowingFile each((fs::path(o.out) / "each.csv").string());
    for (std::uint64_t k = 1; k <= parts.front().parts; ++k) {
      const auto at = std::find_if(parts.begin(), parts.end(), [&](const ClinicPart& p) { return p.part == k; });
      const std::string& folder = folders[static_cast<std::size_t>(at - parts.begin())];
      const std::string path = file_of(folder, "each", *at);
      if (checksum_of(path) != at->each_sum) throw study::PartError(path + ": is not what its part was written with");
      bool head = k > 1;  // the columns' names stand in every part
      in_pieces(path, [&](const std::string& piece) {
        each.add(head ? piece.substr(std::min(piece.size(), piece.find('\n') + 1)) : piece);
        head = false;
      });
    }
    each.place();
  }
  write_tables(o.out, whole);
  say_result(whole, o.out);
  return done;
}

}  // namespace

CLI::App* add_clinic(CLI::App& app, ClinicOptions& o) {
  CLI::App* clinic =
      app.add_subcommand("clinic", "A group of invented people by the thousand: how often C3 and C4 are low");
  std::vector<std::string> ids;
  for (const study::Group& group : study::groups()) ids.push_back(group.id);
  clinic->add_option("--group", o.group, "Which people")->check(CLI::IsMember(ids));
  clinic->add_option("--people", o.people, "How many")
      ->check(whole_number(1.0, static_cast<double>(study::most_people)))
      ->capture_default_str();
  clinic->add_option("--seed", o.seed, "Which of them")->check(whole_number(0.0, largest_seed))->capture_default_str();
  clinic->add_option("--days", o.days, "Length of the story")
      ->check(whole_number(study::fewest_days, study::longest_days))
      ->capture_default_str();
  clinic->add_option("--threads", o.threads, "How many at a time (0 = as many as the machine has)")
      ->check(whole_number(0.0, 1024.0));
  clinic->add_option("--out", o.out, "Folder for the tables")->required()->check(some_name());
  clinic->add_option("--part", o.part, "Only this part of them, as 3/16; parts are added up by --merge");
  clinic->add_flag("--each", o.each, "Also a row for each person");
  clinic->add_flag("--daily", o.daily, "Also a row for each day");
  clinic->add_option("--merge", o.merge, "Add up the parts in these folders")->check(some_name());
  return clinic;
}

int run_clinic(const ClinicOptions& o) {
  if (!o.merge.empty()) {
    if (!o.group.empty() || !o.part.empty()) throw std::invalid_argument("--merge adds up parts; it takes --out only");
    return merge(o);
  }
  if (o.group.empty()) throw CLI::RequiredError("--group (or --merge)");
  ClinicPart p;
  p.asked = {o.group, static_cast<std::uint64_t>(o.seed), static_cast<std::uint64_t>(o.people),
             static_cast<int>(o.days), o.daily};
  p.program = std::string(DRAWDOWN_VERSION) + "-" + study::fingerprint(p.asked);
  p.each = o.each;
  if (!o.part.empty()) {
    const study::People of = part_of(o.part);
    p.part = of.first;
    p.parts = of.last;
  }
  stopped = false;
  const StopOnSignal guard;
  make_folder(o.out);
  const bool is_part = !o.part.empty();
  if (is_part && p.parts > 1 && is_finished(o.out, p)) {
    std::cout << file_of(o.out, "part", p) << ": finished before\n";
    return done;
  }
  const study::People of = study::people_of_part(p.asked.people, p.part, p.parts);
  const bool talks = ::isatty(STDERR_FILENO) == 1;
  const std::uint64_t every = std::max<std::uint64_t>(1, (of.last - of.first) / 20);
  std::unique_ptr<disk::GrowingFile> each;
  study::Checksum sum;
  const auto write_row = [&](const std::string& row) {
    each->add(row);
    sum.add(row);
  };
  if (o.each) {
    each = std::make_unique<disk::GrowingFile>(file_of(o.out, "each", p));
    write_row(study::each_header());
  }
  const auto take = [&](const study::ClinicPerson& person) {
    p.tally.add(person);
    if (each) write_row(study::each_row(person));
    if (talks && p.tally.people % every == 0) {
      std::cerr << '\r' << p.tally.people << " of " << of.last - of.first << std::flush;
    }
  };
  const std::size_t threads =
      o.threads > 0 ? static_cast<std::size_t>(o.threads) : std::max(1U, std::thread::hardware_concurrency());
  const std::uint64_t reached = study::run_clinic(p.asked, of.first, of.last, take, threads, &stopped);
  if (talks) std::cerr << '\n';
  if (reached < of.last) {
    std::cerr << "drawdown: stopped after " << reached - of.first << " people; nothing was written\n";
    return could_not;
  }
  if (each) {
    each->place();
    p.each_sum = sum.digits();
  }
  if (p.parts > 1) {
    disk::write_file(file_of(o.out, "part", p), study::part_text(p));
    std::cout << file_of(o.out, "part", p) << '\n';
    return done;
  }
  write_tables(o.out, p);
  say_result(p, o.out);
  return done;
}

}  // namespace drawdown::command
