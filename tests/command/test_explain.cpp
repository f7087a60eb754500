// `drawdown labs --explain` and the bank kept on disk. What is said is held to the weighing itself
// (study/test_explain); here that it is said, in both languages, kept to its owner, and made anew when a file is not
// what it says.
#include <doctest/doctest.h>
#include <sys/stat.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "command/command.hpp"
#include "command/explain.hpp"
#include "disk/disk.hpp"
#include "stage/why_words.hpp"
#include "support/command_line.hpp"
#include "support/stories.hpp"
#include "work/bank.hpp"

using namespace drawdown;
namespace fs = std::filesystem;

namespace {

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

// The cache in a folder of its own.
struct Cache {
  fs::path folder = fs::temp_directory_path() / "drawdown-cache-test";
  std::string before = std::getenv("XDG_CACHE_HOME") != nullptr ? std::getenv("XDG_CACHE_HOME") : "";
  Cache() {
    fs::remove_all(folder);
    fs::create_directories(folder);
    ::setenv("XDG_CACHE_HOME", folder.c_str(), 1);
  }
  Cache(const Cache&) = delete;
  Cache(Cache&&) = delete;
  Cache& operator=(const Cache&) = delete;
  Cache& operator=(Cache&&) = delete;
  ~Cache() {
    fs::remove_all(folder);
    if (before.empty()) {
      ::unsetenv("XDG_CACHE_HOME");
    } else {
      ::setenv("XDG_CACHE_HOME", before.c_str(), 1);
    }
  }
  [[nodiscard]] std::vector<fs::path> files() const {
    std::vector<fs::path> all;
    for (const auto& entry : fs::directory_iterator(folder / "drawdown")) all.push_back(entry.path());
    return all;
  }
};

labs::Explained told_of(const labs::Reading& reading, const study::explain::BankOptions& options) {
  return labs::explained(reading.rows, reading.titles, {}, *work::kept_bank(options));
}
look::WordBook words_of(const char* language) {
  return look::WordBook::load(support::source_folder() + "/assets/" + language + ".toml");
}

}  // namespace

TEST_CASE("a bank is kept for its owner alone, read again, made anew where it is damaged, and older ones go") {
  const Cache cache;
  const study::explain::BankOptions one{64, 20, 2};
  const study::explain::BankOptions other{64, 21, 2};
  const auto first = work::kept_bank(one);
  REQUIRE(cache.files().size() == 1);
  const fs::path file = cache.files()[0];
  struct stat status {};
  REQUIRE(::stat(file.c_str(), &status) == 0);
  CHECK((status.st_mode & 0777U) == 0600);
  // Another bank: the file of the first is deleted, and the memory too.
  CHECK(work::kept_bank(other)->own != first->own);
  CHECK(cache.files().size() == 1);
  CHECK(cache.files()[0] != file);
  CHECK(work::kept_bank(one)->own == first->own);
  // One that is damaged, beside a file that is not ours.
  const std::string bytes = disk::read_whole_file(file.string(), 100000000);
  (void)work::kept_bank(other);
  std::ofstream(file, std::ios::binary) << bytes.substr(0, bytes.size() / 2);
  std::ofstream(cache.folder / "drawdown" / "mine.txt") << "stays";
  CHECK(work::kept_bank(one)->own == first->own);
  CHECK(disk::read_whole_file(file.string(), 100000000) == bytes);
  CHECK(fs::exists(cache.folder / "drawdown" / "mine.txt"));
  // Whole and readable: it is the file that counts, not what would be made.
  (void)work::kept_bank(other);
  study::explain::Bank changed = *first;
  changed.own[0] = static_cast<std::int16_t>(changed.own[0] + 1);
  disk::write_file(file.string(), study::explain::bytes_of(changed, one), disk::Who::person);
  CHECK(work::kept_bank(one)->own == changed.own);
}

TEST_CASE("labs --explain says what could make the pattern, what was assumed, and writes it as a table") {
  const Cache cache;
  const std::string csv = (cache.folder / "why.csv").string();
  const std::string example = support::source_folder() + "/assets/example-results.csv";
  for (const char* language : {"en", "es"}) {
    const look::WordBook words = words_of(language);
    const auto a =
        support::drawdown_with({"labs", example, "--explain", "--people", "64", "--csv", csv, "--language", language});
    CHECK(has(a.out, words.at("why.title")));
    for (const std::string_view name : study::explain::explanation_names) {
      CHECK_MESSAGE(has(a.out, words.at("why.cause." + std::string(name))), name);
    }
    for (const char* key : {"why.shares", "why.caution", "why.flares", "why.assumed"}) {
      CHECK_MESSAGE(has(a.out, words.at(key)), key);
    }
    for (const std::string& line : study::explain::priors()) CHECK(has(a.out, line));
    const std::string table = disk::read_whole_file(csv, 100000);
    CHECK(std::count(table.begin(), table.end(), '\n') == 10);
    CHECK(table.rfind("explanation,share,verdict,log_evidence,effective_people,misfit_p\nnoise,", 0) == 0);
  }
  CHECK(support::drawdown_with({"labs", example, "--csv", csv}).code == 2);
  CHECK(support::drawdown_with({"labs", example, "--explain", "--people", "10"}).code == 2);
}

TEST_CASE("used up more is said where its share is above a half, and only there") {
  const look::WordBook words = words_of("en");
  labs::Explained why;
  why.weights.status = study::explain::Status::done;
  why.weights.each[1].share = 0.52;
  why.weights.each[0].share = 0.48;
  CHECK(stage::why_told(why, words).head == "Used up more, in one way or another: 52 of 100.");
  why.weights.each[1].share = 0.49;
  CHECK(has(stage::why_told(why, words).head, "do not say"));
  // Those that fit stand together; the bracket is round them alone.
  why.weights.each[0].verdict = why.weights.each[4].verdict = study::explain::Verdict::fits;
  const stage::WhyTold told = stage::why_told(why, words);
  CHECK(told.bars[0].name == "Only noise");
  CHECK((told.bars[0].together && told.bars[1].together && !told.bars[2].together));
  CHECK(has(told.sentences[0], "cannot be told from each other: Only noise; Made less."));
}

TEST_CASE("tests beside C3 and C4 are weighed, by their changes alone where no unit is named") {
  const std::string rows = "2024-01-01,1.1,0.2,6\n2024-03-01,1.1,0.2,7\n2024-05-01,1.0,0.2,60\n";
  const auto named = labs::read("date,C3,C4,CRP (mg/L)\n" + rows);
  const auto unnamed = labs::read("date,C3,C4,CRP\n" + rows);
  const auto at_crp = study::explain::at(study::explain::Column::crp);
  CHECK(labs::series_of(named.rows, named.titles, {}).scale_known[at_crp]);
  CHECK_FALSE(labs::series_of(unnamed.rows, unnamed.titles, {}).scale_known[at_crp]);
  const auto tenfold =
      labs::read("date,C3,C4,CRP\n2024-01-01,1.1,0.2,60\n2024-03-01,1.1,0.2,70\n2024-05-01,1.0,0.2,600\n");
  const study::explain::BankOptions options{64, 20, 2};
  // (Up to the floor that is added before a logarithm.)
  CHECK(told_of(unnamed, options).weights.used_up() ==
        doctest::Approx(told_of(tenfold, options).weights.used_up()).epsilon(0.1));
  CHECK(told_of(named, options).weights.used_up() !=
        doctest::Approx(told_of(unnamed, options).weights.used_up()).epsilon(0.001));
  const auto more = labs::read("date,C3,C4,C4d (mg/L),AH50 (%),Factor B\n2024-01-01,1.1,0.2,1.5,95,210\n");
  CHECK(more.rows[0].c4d->value == 1.5);
  CHECK(more.rows[0].ah50->value == 95.0);
  CHECK(more.rows[0].factor_b->value == 210.0);
  CHECK(more.ignored_columns.empty());
}

TEST_CASE("how often it is wrong is said as the long run found it") {
  const std::string table = disk::read_whole_file(support::source_folder() + "/tests/study/explain-table.txt", 100000);
  const auto figure = [&](const std::string& name) {
    const std::size_t at = table.find(name + ": ");
    REQUIRE_MESSAGE(at != std::string::npos, name);
    return std::stod(table.substr(at + name.size() + 2));
  };
  CHECK(stage::how_often.healthy == figure("said to use more up, healthy people, C3 and C4"));
  CHECK(stage::how_often.flares == figure("complexes fit, flares with kidney disease, C3 and C4"));
  CHECK(stage::how_often.next == figure("next visit inside 90 %, both proteins"));
  labs::Explained why;
  why.weights.status = study::explain::Status::done;
  const std::string said = stage::why_told(why, words_of("en")).small[1];
  CHECK(has(said, look::number(stage::how_often.flares, 0) + " of 100 invented kidney flares"));
}
