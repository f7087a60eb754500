// Parts to files, files to tables.
#include "command/clinic.hpp"

#include <unistd.h>

#include <CLI/CLI.hpp>

#include <algorithm>
#include <array>
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
constexpr double largest_seed = 1e15;  // a double holds whole numbers exactly, so far

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
  const std::string part = "-" + std::to_string(p.part) + "-of-" + std::to_string(p.parts);
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

// The part as it stands in the folder: whole and the one asked for, or nothing. Throws disk::Refused if it is whole and
// another one, which nobody may have meant to lose.
bool is_finished(const std::string& folder, const ClinicPart& asked) {
  const std::string path = file_of(folder, "part", asked);
  ClinicPart there;
  try {
    const auto text = disk::read_file_if_there(path, most_bytes_of_part);
    if (!text) return false;
    there = study::read_part(*text);
    if (there.each && there.each_sum != checksum_of(file_of(folder, "each", there))) return false;
  } catch (const std::exception&) {
    return false;
  }
  const bool same = there.program == asked.program && there.asked == asked.asked && there.each == asked.each;
  if (!same) throw disk::Refused(path + ": is a finished part of another clinic; name another folder, or take it away");
  return true;
}

constexpr std::array<const char*, 3> tables{"summary", "daily", "each"};
std::string table_of(const std::string& folder, const std::string& name) {
  return (fs::path(folder) / (name + ".csv")).string();
}
// Tables that are there would stand beside others of another run, or be lost.
void check_free(const std::string& folder, bool overwrite) {
  for (const char* name : tables) {
    const std::string path = table_of(folder, name);
    disk::check_target(path);
    std::error_code code;
    if (!overwrite && fs::exists(path, code)) {
      throw disk::Refused(path + ": is there already; name another folder, or say --overwrite");
    }
  }
}
// Before new ones are put in place, the summary first: it is what says that a run is whole.
void clear_tables(const std::string& folder) {
  for (const char* name : tables) disk::forget_file(table_of(folder, name));
}

void write_tables(const std::string& folder, const ClinicPart& whole) {
  if (whole.asked.daily) disk::write_file(table_of(folder, "daily"), study::daily_csv(whole));
  disk::write_file(table_of(folder, "summary"), study::summary_csv(whole));
}

void say_result(const ClinicPart& whole, const std::string& folder) {
  const auto& at = whole.tally.moments[static_cast<std::size_t>(study::Moment::turn)];
  const auto share = [&](std::uint64_t n) {
    return at.people > 0 ? 100.0 * static_cast<double>(n) / static_cast<double>(at.people) : 0.0;
  };
  std::cout << whole.asked.group << ", seed " << whole.asked.seed << ": " << whole.tally.people << " people, "
            << whole.tally.failed << " of them not run to the end\n";
  if (at.people > 0) {
    std::cout << "of " << at.people << " tested on the day the illness turns (treatment or recovery begins), below the "
              << "laboratory's range: C3 " << std::lround(share(at.below_range[0])) << " %, C4 "
              << std::lround(share(at.below_range[1])) << " %, either " << std::lround(share(at.below_range[2]))
              << " %, both " << std::lround(share(at.below_range[3])) << " %\n";
  }
  std::cout << table_of(folder, "summary") << '\n'
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
  check_free(o.out, o.overwrite);
  std::unique_ptr<disk::GrowingFile> rows;
  if (whole.each) {
    rows = std::make_unique<disk::GrowingFile>(table_of(o.out, "each"));
    disk::GrowingFile& each = *rows;
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
  }
  clear_tables(o.out);
  if (rows) rows->place();
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
  clinic->add_flag("--overwrite", o.overwrite, "Let new tables take the place of those in the folder");
  CLI::Option* merge = clinic->add_option("--merge", o.merge, "Add up the parts in these folders")->check(some_name());
  for (const char* other : {"--group", "--people", "--seed", "--days", "--threads", "--part", "--each", "--daily"}) {
    merge->excludes(clinic->get_option(other));
  }
  return clinic;
}

int run_clinic(const ClinicOptions& o) {
  if (!o.merge.empty()) return merge(o);
  if (o.group.empty()) throw CLI::RequiredError("--group (or --merge)");
  ClinicPart p;
  p.asked = {o.group, static_cast<std::uint64_t>(o.seed), static_cast<std::uint64_t>(o.people),
             static_cast<int>(o.days), o.daily};
  p.program = std::string(DRAWDOWN_VERSION) + "-" + study::fingerprint();
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
  if (!is_part) check_free(o.out, o.overwrite);
  if (is_part && is_finished(o.out, p)) {
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
    each = std::make_unique<disk::GrowingFile>(is_part ? file_of(o.out, "each", p) : table_of(o.out, "each"));
    write_row(study::each_header(p.asked));
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
  if (!is_part) clear_tables(o.out);
  if (each) {
    each->place();
    p.each_sum = sum.digits();
  }
  if (is_part) {
    disk::write_file(file_of(o.out, "part", p), study::part_text(p));
    std::cout << file_of(o.out, "part", p) << '\n';
    return done;
  }
  write_tables(o.out, p);
  say_result(p, o.out);
  return done;
}

}  // namespace drawdown::command
