// What a person's own results say, in words: shared by the panel, the sheet to take along and the command line.
#pragma once

#include <string>
#include <vector>

#include "labs/fit.hpp"
#include "labs/judge.hpp"
#include "labs/read.hpp"
#include "look/words.hpp"

namespace drawdown::stage {

// How the text was read: counts, unit, date order, columns not used, values read in the other unit.
[[nodiscard]] std::vector<std::string> reading_sentences(const labs::Reading& reading, const look::WordBook& words);
// The values read in the other unit, as the person answered.
[[nodiscard]] std::vector<std::string> converted_sentences(const labs::Reading& reading, const look::WordBook& words);
// What is asked about a value whose unit may have slipped, and about the other half of its line with it.
[[nodiscard]] std::string slip_sentence(const labs::Slip& slip, const labs::Reading& reading,
                                        const look::WordBook& words);
// All that is asked, a question a line at most, `most` of them at most.
[[nodiscard]] std::vector<std::string> slip_sentences(const labs::Reading& reading, const look::WordBook& words,
                                                      std::size_t most = std::string::npos);
// Why a line was not read, with its number.
[[nodiscard]] std::string rejected_sentence(const labs::Rejected& rejected, const look::WordBook& words);

// "C3 went from 1.10 to 0.90 ...": two results, and what noise does between two. A figure, and no finding.
[[nodiscard]] std::string change_sentence(const labs::Change& change, labs::Protein p,
                                          const std::vector<labs::Row>& rows, scenario::Unit unit,
                                          const look::WordBook& words);

// Some pair is beyond what noise does to most: then it is said beside the pairs that none is counted alone.
[[nodiscard]] bool a_pair_is_beyond(const labs::Judgement& judged);
// Did it change, in one or two plain sentences: what stands first, on the screen, on paper and in the terminal.
[[nodiscard]] std::string verdict_sentence(const labs::OfProtein& judged, labs::Protein p,
                                           const std::vector<labs::Row>& rows, const look::WordBook& words);
// All that is said of one protein: its verdict, the figures behind it, what is not known or left out, and what holds of
// anybody's values.
struct OwnSentence {
  enum class Kind { verdict, figure, unknown, general };
  Kind kind = Kind::verdict;
  std::string text;
  bool found = false;  // it tells of a change
};
[[nodiscard]] std::vector<OwnSentence> protein_sentences(const labs::OfProtein& judged, labs::Protein p,
                                                         const std::vector<labs::Row>& rows, scenario::Unit unit,
                                                         const look::WordBook& words);
// Do C3 and C4 go with the person's flares: the answer, what was counted, and what was assumed. One sentence if no
// visit is marked as a flare.
[[nodiscard]] std::vector<std::string> marker_sentences(const labs::Marker& marker, const look::WordBook& words);
// What was measured when the illness was found, if a visit is marked so; a sentence a visit, the first ones.
[[nodiscard]] std::vector<std::string> diagnosis_sentences(const labs::Reading& reading, const labs::Judgement& judged,
                                                           const look::WordBook& words);
// What all that is said leaves out, if anything, and dates after today: said before the rest.
[[nodiscard]] std::vector<std::string> left_out_sentences(const labs::Reading& reading, const look::WordBook& words);
// The pattern of the pair with its day, and a newer sample of one of the two.
[[nodiscard]] std::vector<std::string> pattern_sentences(const labs::Reading& reading, const labs::Judgement& judged,
                                                         const look::WordBook& words);
// The ranges a protein's values are held against: those the results name, newest first, and the general one for the
// samples that name none.
[[nodiscard]] std::vector<std::string> range_sentences(const labs::Ranges& ranges, const scenario::Laboratory& general,
                                                       labs::Protein p, scenario::Unit unit,
                                                       const look::WordBook& words);
// What is asked of the order of dates: they could be read either way, or they contradict each other.
[[nodiscard]] const std::string& order_question(const labs::Reading& reading, const look::WordBook& words);

// What a fit found, or why it found nothing.
struct FitSentence {
  std::string text;
  bool headline = false;
  bool small = false;
};
[[nodiscard]] std::vector<FitSentence> fit_sentences(const labs::Fit& fit, const look::WordBook& words);

[[nodiscard]] const std::string& position_word(labs::Position position, const look::WordBook& words);
// The same with a star where the value is held against the common range and others of its protein are not.
[[nodiscard]] std::string position_text(const labs::OfProtein& judged, std::size_t row, const look::WordBook& words);
// Some are and some are not, so that a star stands somewhere.
[[nodiscard]] bool ranges_are_mixed(const labs::OfProtein& judged);
// "1.10", "<0.02", "0.0125": as many digits as the laboratory gave, two at least (none in mg/dL), four at most; empty
// if it was not measured.
[[nodiscard]] std::string value_text(const std::optional<labs::Value>& value, labs::Protein p, scenario::Unit unit);
[[nodiscard]] const char* protein_name(labs::Protein p);

}  // namespace drawdown::stage
