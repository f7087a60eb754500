// The ledger, printed.
#include "command/truth.hpp"

#include <CLI/CLI.hpp>

#include <cmath>
#include <iomanip>
#include <iostream>
#include <locale>
#include <sstream>

#include "command/command.hpp"
#include "study/truth/reach.hpp"

namespace drawdown::command {

namespace {

using study::TruthEntry;
using study::TruthKind;

constexpr const char* caution =
    "A teaching model: not for diagnosis or treatment decisions. Laboratories differ. Talk to your own clinician.";

std::string fixed(double value, int decimals) {
  std::ostringstream out;
  out.imbue(std::locale::classic());
  out << std::fixed << std::setprecision(decimals) << value;
  return out.str();
}
std::string figure(double v) {
  return fixed(v, std::abs(v) < 10 ? 2 : 1);
}

std::string row(const TruthEntry& e) {
  std::string worth = study::name_of(e.kind);
  if (!e.constant.empty()) worth += ": " + e.constant;
  return "| " + e.id + " | " + worth + " | " + e.situation + " | " + e.published + " | " + figure(e.low) + " to " +
         figure(e.high) + " | " + figure(e.model) + " " + e.unit +
         (e.people > 0 ? " (95 %: " + figure(e.model_low) + " to " + figure(e.model_high) + ")" : "") + " | " +
         (e.inside() ? "yes" : "NO") + " | " + e.source + " | " + e.note + " | " +
         (e.breaks.empty() ? "nothing" : e.breaks) + " |\n";
}

std::string cell(const std::string& text) {
  if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
  std::string quoted = "\"";
  for (const char c : text) quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
  return quoted + "\"";
}

}  // namespace

CLI::App* add_truth(CLI::App& app, TruthOptions& o) {
  CLI::App* truth = app.add_subcommand("truth", "Published values, the model's figures, and what it cannot do");
  CLI::Option* csv = truth->add_flag("--csv", o.csv, "As CSV, a row a figure");
  truth
      ->add_flag("--constants", o.constants,
                 "How far each constant can be moved before a figure leaves its range (takes many minutes)")
      ->excludes(csv);
  return truth;
}

int run_truth(const TruthOptions& o) {
  if (o.constants) {
    std::cout << study::truth::reach_head() << '\n';
    for (const auto& constant : study::truth::written_constants()) {
      std::cout << study::truth::reach_line(constant, study::truth::reach_of(constant)) << '\n' << std::flush;
      if (!std::cout) break;
    }
    return done;
  }
  const auto ledger = study::truth_ledger();
  std::cout << (o.csv ? truth_csv(ledger) : truth_text(ledger));
  return truth_exit(ledger);
}

int truth_exit(const std::vector<TruthEntry>& ledger) {
  return study::counted(ledger).untold.empty() ? done : finding;
}

std::string truth_text(const std::vector<TruthEntry>& ledger) {
  const study::TruthCount count = study::counted(ledger);
  std::ostringstream out;
  out << "# What was published, and what Drawdown " << DRAWDOWN_VERSION << " gives\n\n"
      << caution << "\n\n"
      << count.inside << " of " << count.independent << " independent figures inside; " << count.calibrated
      << " calibrated and " << count.wiring << " wiring are listed apart";
  if (count.anyway > 0) out << ", and " << count.anyway << " that hold whatever was tried";
  out << ".\n\n## Not met\n\n";
  for (const TruthEntry* e : count.not_met) {
    const std::string told = study::told_limit(*e);
    out << "- " << e->id << " (" << study::name_of(e->kind) << "): " << e->situation << ": " << figure(e->model) << " "
        << e->unit << ", accepted " << figure(e->low) << " to " << figure(e->high) << ". "
        << (told.empty() ? "NOT TOLD among the limits." : "Known limit " + told) << "\n";
  }
  out << "\n## Where papers disagree\n\n";
  for (const TruthEntry* e : count.disputed) out << "- " << e->id << ": " << e->disputed << "\n";
  const std::pair<TruthKind, const char*> parts[] = {
      {TruthKind::independent, "Independent: no constant was set with the figure in sight"},
      {TruthKind::calibrated, "Calibrated: the constant named was set with this figure, or one of its cause, in sight"},
      {TruthKind::wiring, "Wiring: follows from how the list is written, or restates what was put in"},
      {TruthKind::holds_anyway, "Holds anyway: nothing tried takes it outside, so it is no evidence"},
      {TruthKind::unsaid, "Not judged yet"}};
  for (const auto& [kind, head] : parts) {
    bool begun = false;
    for (const TruthEntry& e : ledger) {
      if (e.kind != kind) continue;
      if (!begun) {
        out << "\n## " << head
            << "\n\n| | kind | situation | published | accepted | model | inside | source | note | what breaks it "
               "|\n|---|---|---|---|---|---|---|---|---|---|\n";
      }
      begun = true;
      out << row(e);
    }
  }
  out << "\n## Constants that the figures support least\n\nAssumed, and no figure leaves its range when one of these "
         "is multiplied "
         "or divided by 4; of all these the ten that move the figures least (tests/published/constants.txt):\n\n";
  for (const std::string& name : study::truth::least_supported()) out << "- " << name << "\n";
  out << "\n## What the model does not do\n\n";
  for (const std::string& limit : study::known_limits()) out << "- " << limit << "\n";
  return out.str();
}

std::string truth_csv(const std::vector<TruthEntry>& ledger) {
  std::ostringstream out;
  out << "id,kind,constant,situation,published,low,high,model,unit,inside,source,breaks\n";
  for (const TruthEntry& e : ledger) {
    const auto number = [](double v) {
      std::ostringstream text;
      text.imbue(std::locale::classic());
      text << std::setprecision(6) << v;
      return text.str();
    };
    out << e.id << ',' << study::name_of(e.kind) << ',' << cell(e.constant) << ',' << cell(e.situation) << ','
        << cell(e.published) << ',' << number(e.low) << ',' << number(e.high) << ',' << number(e.model) << ','
        << cell(e.unit) << ',' << (e.inside() ? "yes" : "no") << ',' << cell(e.source) << ',' << cell(e.breaks) << '\n';
  }
  return out.str();
}

}  // namespace drawdown::command
