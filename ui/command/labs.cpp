// The text.
#include "command/labs.hpp"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <filesystem>
#include <iostream>
#include <sstream>

#include "command/command.hpp"
#include "command/explain.hpp"
#include "command/files.hpp"
#include "command/options.hpp"
#include "command/today.hpp"
#include "disk/disk.hpp"
#include "scenario/visible.hpp"
#include "sheet/sheet.hpp"
#include "stage/narrate.hpp"
#include "stage/own_words.hpp"

namespace drawdown::command {

namespace {

constexpr std::size_t most_changes = 1000;  // told one by one, the newest
constexpr std::size_t most_of_note = 2000;  // characters

using labs::Protein;

// Padded to a width that counts letters, not bytes.
std::string padded(const std::string& text, std::size_t width) {
  std::size_t letters = 0;
  for (const char c : text) letters += (static_cast<unsigned char>(c) & 0xC0U) == 0x80U ? 0 : 1;
  return text + std::string(letters < width ? width - letters : 0, ' ');
}

labs::Noise noise_of(const LabsOptions& o) {
  labs::Noise noise;
  noise.one_sided = o.one_sided;
  if (o.newer_variation) {
    noise.c3 = study::c3_variation_newer;
    noise.c4 = study::c4_variation_newer;
  }
  if (!o.cv_c3.empty()) noise.c3 = {o.cv_c3[0], o.cv_c3[1]};
  if (!o.cv_c4.empty()) noise.c4 = {o.cv_c4[0], o.cv_c4[1]};
  return noise;
}

}  // namespace

CLI::App* add_labs(CLI::App& app, LabsOptions& o) {
  CLI::App* labs = app.add_subcommand(
      "labs",
      "A person's own serial results: did the level change by more than noise, and does it go with flares? Exit code 1 "
      "if it did change, if two results of one day differ by more than noise, if the newest C3 or C4 is below its "
      "range, "
      "if something or all could not be read, if a question about a unit is open, or if a date lies after today; 0 if "
      "none of these. A cell that says there is no result (pending, haemolysed) is none of these");
  labs->add_option("file", o.file, "CSV: date, C3, C4 and more")->required()->check(some_name());
  labs->add_option("--dates", o.dates, "How dates like 3/4/2024 are meant")->check(CLI::IsMember({"day", "month"}));
  labs->add_option("--unit", o.unit, "Unit of C3 and C4")->check(CLI::IsMember({"g/L", "mg/dL"}));
  labs->add_option(
          "--slip", o.slip,
          "Values whose unit may have slipped: as written, read in the other unit where that explains them, or that "
          "and the rest as written")
      ->check(CLI::IsMember({"keep", "convert", "convert-or-keep"}));
  labs->add_flag("--one-sided", o.one_sided, "Ask about falls only");
  const auto cv = number_within(0.1, 50.0);
  labs->add_flag("--newer-variation", o.newer_variation,
                 "Variation within a person as newer tables give it, 4.5 and 6.5 %, not 5.2 and 8.9 %");
  labs->add_option("--cv-c3", o.cv_c3, "Analytical and within-person variation of C3, %")->expected(2)->check(cv);
  labs->add_option("--cv-c4", o.cv_c4, "The same of C4")->expected(2)->check(cv);
  labs->add_option("--language", o.language, "Language")->check(CLI::IsMember(languages()))->capture_default_str();
  labs->add_option("--sheet", o.sheet, "Write the page to take along to this .pdf or .html")
      ->check(file_to_write({".pdf", ".html"}, false));
  labs->add_flag("--overwrite", o.overwrite, "Let --sheet take the place of a file that is there");
  labs->add_flag("--explain", o.explain,
                 "Which mechanisms could make the pattern? Samples people the first time, and keeps them in the cache");
  labs->add_option("--csv", o.csv, "Write the explanations' table to this .csv (with --explain)")
      ->check(file_to_write({".csv"}, false));
  labs->add_option("--people", o.people, "People sampled for each explanation")
      ->check(number_within(64, static_cast<double>(study::explain::most_people_kept)))
      ->capture_default_str();
  labs->add_flag(
      "--fit", o.fit,
      "What might follow: one person of the model, complexes and liver, fitted to the values. Takes seconds");
  return labs;
}

namespace {

// Refused before anything is worked out.
void check_sheet(const LabsOptions& o) {
  if (!o.csv.empty()) {
    if (!o.explain) throw CLI::ValidationError("--csv", "only with --explain");
    disk::check_differ(o.csv, o.file);
    disk::check_target(o.csv);
  }
  if (o.sheet.empty()) return;
  disk::check_differ(o.sheet, o.file);
  disk::check_target(o.sheet);
  std::error_code code;
  if (!o.overwrite && std::filesystem::exists(o.sheet, code)) {
    throw disk::Refused(o.sheet + ": is there already; name another, or say --overwrite");
  }
}

}  // namespace

int run_labs(const LabsOptions& o) {
  must_exist(o.file);
  check_sheet(o);
  labs::ReadOptions options;
  options.name = o.file;
  options.today = today();
  if (!o.dates.empty()) options.order = o.dates == "month" ? labs::DateOrder::month_first : labs::DateOrder::day_first;
  if (!o.unit.empty()) options.unit = o.unit == "mg/dL" ? scenario::Unit::mg_per_dl : scenario::Unit::g_per_l;
  if (o.slip == "keep") options.slips = labs::SlipAnswer::keep;
  if (o.slip == "convert") options.slips = labs::SlipAnswer::convert;
  if (o.slip == "convert-or-keep") options.slips = labs::SlipAnswer::convert_or_keep;
  const labs::Reading reading = labs::read(disk::read_whole_file(o.file, labs::most_bytes), options);
  if (reading.rows.empty() && reading.rejected.empty() && reading.slips.empty()) {
    throw labs::ReadError(scenario::visible(o.file) + ": names of columns and no line of results under them");
  }
  const auto words = look::WordBook::load(data_folder() + "/assets/" + o.language + ".toml");
  if (reading.order_open) {
    std::cerr << o.file << ": " << stage::order_question(reading, words) << " (--dates day, --dates month)\n";
    return misuse;
  }
  if (reading.unit_open) {
    std::cerr << o.file << ": " << words.at("labs.unit_open") << " (--unit g/L, --unit mg/dL)\n";
    return misuse;
  }
  const labs::Noise noise = noise_of(o);
  const labs::Judgement judged = labs::judge(reading.rows, noise, {});
  std::cout << labs_text(reading, judged, noise, words);
  if (o.explain) {
    const labs::Explained why = explain_rows(reading, noise, o.people, words, std::cerr);
    std::cout << '\n' << explain_text(why, words);
    if (!o.csv.empty()) disk::write_file(o.csv, explain_csv(why), disk::Who::person);
  }
  labs::Fit fit;
  if (o.fit) {
    fit = labs::fit(reading.rows, noise);
    std::cout << '\n' << fit_text(fit, words);
  }
  if (!o.sheet.empty()) {
    const bool pdf = std::filesystem::path(o.sheet).extension() == ".pdf";
    const sheet::Content content{reading, judged, noise, {}, o.fit ? &fit : nullptr};
    disk::write_file(o.sheet, pdf ? sheet::pdf(content, words) : sheet::html(content, words), disk::Who::person);
    std::cout << o.sheet << '\n';
  }
  const bool open = !reading.slips.empty() || reading.unread() > 0 || !reading.after_today.empty();
  return judged.any_beyond || judged.low_now || open || reading.rows.empty() ? finding : done;
}

std::string fit_text(const labs::Fit& fit, const look::WordBook& words) {
  std::ostringstream out;
  for (const stage::FitSentence& said : stage::fit_sentences(fit, words)) out << "- " << said.text << '\n';
  return out.str();
}

namespace {

void write_table(std::ostream& out, const labs::Reading& reading, const labs::Judgement& judged,
                 const look::WordBook& words) {
  const auto unit = reading.unit;
  out << padded(words.at("labs.date"), 12);
  for (const Protein p : {Protein::c3, Protein::c4}) {
    out << padded(std::string(stage::protein_name(p)) + " " + stage::unit_text(unit), 22);
  }
  out << '\n';
  for (std::size_t i = 0; i < reading.rows.size(); ++i) {
    const labs::Row& row = reading.rows[i];
    out << padded(labs::iso_date(row.day), 12);
    for (const Protein p : {Protein::c3, Protein::c4}) {
      const labs::OfProtein& of = p == Protein::c3 ? judged.c3 : judged.c4;
      const std::string value = stage::value_text(labs::value_of(row, p), p, unit);
      out << padded(value, 8) << padded(value.empty() ? "" : stage::position_text(of, i, words), 14);
    }
    if (row.flare == true) out << words.at("labs.flare") << ' ';
    out << scenario::shortened(row.treatment, most_of_note) << '\n';
  }
}

// The verdicts first, then whether it is a marker, then the figures behind them.
void write_verdicts(std::ostream& out, const labs::Reading& reading, const labs::Judgement& judged,
                    const look::WordBook& words) {
  using Kind = stage::OwnSentence::Kind;
  std::ostringstream behind;
  for (const Protein p : {Protein::c3, Protein::c4}) {
    const labs::OfProtein& of = p == Protein::c3 ? judged.c3 : judged.c4;
    for (const stage::OwnSentence& said : stage::protein_sentences(of, p, reading.rows, reading.unit, words)) {
      if (said.kind == Kind::verdict) {
        out << said.text << '\n';
      } else {
        behind << "- " << said.text << '\n';
      }
    }
  }
  for (const std::string& said : stage::marker_sentences(judged.marker, words)) out << said << '\n';
  for (const std::string& said : stage::diagnosis_sentences(reading, judged, words)) out << said << '\n';
  out << '\n' << behind.str();
}

void write_judgements(std::ostream& out, const labs::Reading& reading, const labs::Judgement& judged,
                      const look::WordBook& words) {
  const scenario::Laboratory general;
  const auto unit = reading.unit;
  write_verdicts(out, reading, judged, words);
  for (const Protein p : {Protein::c3, Protein::c4}) {
    const labs::OfProtein& of = p == Protein::c3 ? judged.c3 : judged.c4;
    const std::size_t earlier = of.changes.size() - std::min(of.changes.size(), most_changes);
    if (earlier > 0) {
      const auto begin = of.changes.begin();
      const auto beyond =
          std::count_if(begin, begin + static_cast<std::ptrdiff_t>(earlier), [](const auto& c) { return c.beyond; });
      out << "- "
          << words.fill(earlier == 1 ? "labs.earlier_change" : "labs.earlier_changes",
                        {stage::protein_name(p), std::to_string(earlier), std::to_string(beyond)})
          << '\n';
    }
    for (std::size_t i = earlier; i < of.changes.size(); ++i) {
      out << "- " << stage::change_sentence(of.changes[i], p, reading.rows, unit, words) << '\n';
    }
  }
  if (stage::a_pair_is_beyond(judged)) out << "- " << words.at("labs.not_alone") << '\n';
  for (const Protein p : {Protein::c3, Protein::c4}) {
    const labs::OfProtein& of = p == Protein::c3 ? judged.c3 : judged.c4;
    for (const std::string& said : stage::range_sentences(of.ranges, general, p, unit, words)) {
      out << "- " << words.at("sheet.range") << ": " << said << '\n';
    }
  }
  if (stage::ranges_are_mixed(judged.c3) || stage::ranges_are_mixed(judged.c4)) {
    out << "- " << words.at("labs.common_star") << '\n';
  }
  for (const std::string& sentence : stage::pattern_sentences(reading, judged, words)) out << "- " << sentence << '\n';
}

}  // namespace

std::string labs_text(const labs::Reading& reading, const labs::Judgement& judged, const labs::Noise& noise,
                      const look::WordBook& words) {
  std::ostringstream out;
  const bool any = !reading.rows.empty();
  if (any) {
    write_table(out, reading, judged, words);
    out << '\n';
  }
  for (const std::string& sentence : stage::left_out_sentences(reading, words)) out << "- " << sentence << '\n';
  if (any) write_judgements(out, reading, judged, words);
  out << '\n';
  for (const std::string& sentence : stage::reading_sentences(reading, words)) out << sentence << '\n';
  for (const std::string& asked : stage::slip_sentences(reading, words)) {
    out << asked << " (--slip keep, --slip convert, --slip convert-or-keep)\n";
  }
  for (const labs::Rejected& rejected : reading.rejected) out << stage::rejected_sentence(rejected, words) << '\n';
  if (!any) {
    out << words.at("caution.foot") << '\n';
    return out.str();
  }
  const auto cv = [&](const char* name, const study::Variation& v) {
    out << name << " CV " << v.analytical << " % + " << v.within << " %; ";
  };
  cv("C3", noise.c3);
  cv("C4", noise.c4);
  out << (noise.one_sided ? "z 1.645" : "z 1.960") << '\n';
  out << words.at("labs.near") << ' ' << words.at("caution.foot") << '\n';
  return out.str();
}

}  // namespace drawdown::command
