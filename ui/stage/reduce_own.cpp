// A person's own results.

#include "stage/own_results.hpp"
#include "stage/reducer.hpp"

namespace drawdown::stage {

void Reducer::operator()(const OpenResults& a) const {
  step.effects.emplace_back(ReadResults{a.path, ++s.files.results_asked});
}
void Reducer::operator()(const ResultsText& a) const {
  if (a.asked == 0 || a.asked == s.files.results_asked) own_results::take(s, a);  // else forgotten, or overtaken
}
void Reducer::operator()(const PasteResults& a) const {
  own_results::paste(s, a.text);
}
void Reducer::operator()(const AnswerPending& a) const {
  own_results::settle_pending(s, a.same_person);
}
void Reducer::operator()(const EditLine& a) const {
  own_results::edit_line(s, a.line);
}
void Reducer::operator()(const TypeResult& a) const {
  s.own.typed = a.line;
}
void Reducer::operator()(const AddTypedResult&) const {
  own_results::add(s, s.own.typed);
  s.own.typed.clear();
}
void Reducer::operator()(const SetResultsUnit& a) const {
  s.own.asked.unit = a.unit;
  s.page.unit = a.unit;
  own_results::read_again(s);
}
void Reducer::operator()(const SetDateOrder& a) const {
  s.own.asked.order = a.order;
  own_results::read_again(s);
}
void Reducer::operator()(const AnswerSlips& a) const {
  s.own.asked.slips = a.answer;
  own_results::read_again(s);
}
void Reducer::operator()(const SetNoise& a) const {
  s.own.noise = a.noise;
  own_results::judge_again(s);
}
void Reducer::operator()(const SetOwnPage& a) const {
  s.own.page = a.page;
}
void Reducer::operator()(const NextOutlook&) const {
  if (s.own.fit && !s.own.fit->outlooks.empty()) {
    s.own.outlook = (s.own.outlook + 1) % s.own.fit->outlooks.size();
  } else if (s.own.why && !s.own.fit) {
    run_fit(true);
  }
}
void Reducer::operator()(const AskFit&) const {
  run_fit(false);
}
void Reducer::run_fit(bool outlook) const {
  if (s.own.fitting || s.own.reading.rows.size() < labs::fewest_to_fit) return;
  s.own.fitting = std::make_shared<labs::FitControl>();
  s.own.page = OwnPage::fit;
  step.effects.emplace_back(RunFit{outlook, s.own.reading.rows, s.own.reading.titles, s.own.noise, s.own.fitting});
}
void Reducer::operator()(const CancelFit&) const {
  own_results::stop_fit(s);
}
void Reducer::operator()(const FitFinished& a) const {
  if (!s.own.fitting || s.own.fitting != a.control) return;  // of results that are no longer these
  s.own.fitting.reset();
  if (a.why) s.own.why = a.why;
  if (a.fit) s.own.fit = a.fit;
}
void Reducer::operator()(const KeepResults&) const {
  if (s.own.any() && !s.files.own.empty()) step.effects.emplace_back(WriteResults{s.files.own, s.own.text});
}
void Reducer::operator()(const ResultsDeleted&) const {
  s.own.kept = false;
}
void Reducer::operator()(const ForgetResults&) const {
  own_results::forget(s);
  if (!s.files.own.empty()) step.effects.emplace_back(DeleteResults{s.files.own});
}
void Reducer::operator()(const WriteSheet& a) const {
  if (s.own.any()) step.effects.emplace_back(MakeSheet{a.paper, s.own, s.look.language});
}
void Reducer::operator()(const WrittenDown& a) const {
  if (!s.own.any()) return;  // forgotten meanwhile
  s.own.done = a.path;
  if (a.kept) s.own.kept = true;
}

}  // namespace drawdown::stage
