#include "command/explain.hpp"

#include <chrono>
#include <future>
#include <ostream>
#include <sstream>

#include "stage/why_words.hpp"
#include "work/bank.hpp"

namespace drawdown::command {

using study::explain::explanations;

labs::Explained explain_rows(const labs::Reading& reading, const labs::Noise& noise, std::size_t people,
                             const look::WordBook& words, std::ostream& progress) {
  study::explain::Control control;
  study::explain::BankOptions options;
  options.people = people;
  auto bank = std::async(std::launch::async, [&] { return work::kept_bank(options, &control); });
  int told = -1;
  while (bank.wait_for(std::chrono::milliseconds(50)) != std::future_status::ready) {
    const int tenths = static_cast<int>(10.0 * control.progress);
    if (!control.building || tenths == told) continue;
    told = tenths;
    progress << words.fill("why.building", {std::to_string(10 * tenths)}) << std::endl;
  }
  return labs::explained(reading.rows, reading.titles, noise, *bank.get());
}

std::string explain_text(const labs::Explained& why, const look::WordBook& words) {
  const stage::WhyTold told = stage::why_told(why, words);
  std::ostringstream out;
  out << words.at("why.title") << '\n' << told.head << '\n';
  const auto letters = [](const std::string& text) {
    std::size_t n = 0;
    for (const char c : text) n += (static_cast<unsigned char>(c) & 0xC0U) == 0x80U ? 0U : 1U;
    return n;
  };
  std::size_t wide = 0;
  std::size_t wide_verdict = 0;
  for (const stage::WhyBar& bar : told.bars) {
    wide = std::max(wide, letters(bar.name));
    wide_verdict = std::max(wide_verdict, letters(bar.verdict));
  }
  for (const stage::WhyBar& bar : told.bars) {
    const std::string share = stage::share_text(bar.share, words);
    out << (bar.together ? "  | " : "    ") << bar.name << std::string(wide - letters(bar.name) + 2, ' ') << bar.verdict
        << std::string(wide_verdict - letters(bar.verdict) + 2, ' ') << share << '\n';
  }
  for (const std::string& said : told.sentences) out << "- " << said << '\n';
  for (const std::string& said : told.small) out << said << '\n';
  if (told.bars.empty()) return out.str();
  out << words.at("why.assumed") << '\n';
  for (const std::string& line : study::explain::priors()) out << "    " << line << '\n';
  return out.str();
}

std::string explain_csv(const labs::Explained& why) {
  std::ostringstream out;
  out.precision(6);
  out << "explanation,share,verdict,log_evidence,effective_people,misfit_p\n";
  if (why.weights.status != study::explain::Status::done) return out.str();
  for (std::size_t e = 0; e < explanations; ++e) {
    const study::explain::Weighed& one = why.weights.each[e];
    out << study::explain::explanation_names[e] << ',' << one.share << ','
        << study::explain::verdict_names[static_cast<std::size_t>(one.verdict)] << ',' << one.log_evidence << ',';
    if (one.people) out << *one.people;
    out << ',' << one.misfit << '\n';
  }
  return out.str();
}

}  // namespace drawdown::command
