#include "fuzz/make_action.hpp"

#include <array>
#include <type_traits>
#include <typeinfo>

#include "fuzz/world.hpp"

namespace drawdown::fuzz {

using namespace stage;

namespace {

// What the world answers; and a session's what-ifs, laid once at the start, which are no step of undo.
template <class T, class... Us>
inline constexpr bool one_of = (std::is_same_v<T, Us> || ...);
template <class T>
inline constexpr bool answers =
    one_of<T, FolderListed, ResultsText, FitFinished, ResultsDeleted, WrittenDown, StoryOpened, RunFinished,
           TracerFinished, EffectsFinished, TruthFinished, StudyFailed, BesideFinished, ReportProblem, LayEdits>;

template <class T>
struct Kind {};

std::string results_text(Bytes& b) {
  static const std::array<const char*, 12> lines{"2024-01-09 1.1937 0.1973",
                                                 "9.1.2024;1,1937;0,1973 zwirbel7",
                                                 "2024-02-09 0.9 0.2",
                                                 "2024-05-09 <0.05 0.1973",
                                                 "date,C3 (mg/dL),C4,treatment\n3/4/2024,119.37,19.73,zwirbel7\n",
                                                 "3/4/2024 1.1937 0.1973",
                                                 "2024-02-31 1.1937 0.1973",
                                                 "zwirbel7 \x1b[31mred",
                                                 "zwirbel7 \xc3\xa9\xce\xb1\xf0\x9f\x98\x80",
                                                 "2024-03-09 nan inf zwirbel7",
                                                 "\"zwirbel7",
                                                 "2024-03-09,1e999,-1,zwirbel7"};
  const std::size_t which = b.below(lines.size() + 3);
  if (which < lines.size()) return lines.at(which);
  if (which == lines.size()) return " \t\r\n";
  if (which == lines.size() + 1) return std::string(mark_word) + std::string(3000, 'w');
  return std::string(mark_word) + b.raw(40);
}

struct Make {
  Bytes& b;
  const AppState& s;

  template <class E, std::size_t N>
  E any(const look::Names<N>&) {
    return static_cast<E>(b.below(N));
  }
  int steps() { return static_cast<int>(b.below(9)) - 4; }
  body::LeverId lever() {
    return body::LeverId(b.below(body::standard_model()->levers().size() + 2));
  }  // two past the end
  std::string path() {
    const std::size_t which = b.below(story_paths().size() + 1);
    return which < story_paths().size() ? story_paths()[which] : "/nowhere/\x1b[2J.toml";
  }

  template <class T>
  T operator()(Kind<T>) {
    return T{};
  }
  GoToDay operator()(Kind<GoToDay>) { return {b.number(-5, 40)}; }
  StepDays operator()(Kind<StepDays>) { return {b.number(-10, 10)}; }
  SetSpeed operator()(Kind<SetSpeed>) { return {b.number(0, 200)}; }
  Tick operator()(Kind<Tick>) { return {b.number(0, 1)}; }
  SetDepth operator()(Kind<SetDepth>) { return {any<look::Depth>(look::depth_names)}; }
  SetTextPercent operator()(Kind<SetTextPercent>) {
    constexpr std::array<int, 6> sizes{100, 130, 160, 200, -1000, 1000};
    return {sizes.at(b.below(sizes.size()))};
  }
  SetRoom operator()(Kind<SetRoom>) { return {any<look::Room>(look::room_names)}; }
  SetView operator()(Kind<SetView>) { return {any<View>(view_names)}; }
  SetOverlay operator()(Kind<SetOverlay>) {
    return {b.flag() ? Overlay::none : any<Overlay>(overlay_names)};  // most sequences are to show what is below
  }
  StepTalk operator()(Kind<StepTalk>) { return {steps()}; }
  JumpTalk operator()(Kind<JumpTalk>) { return {b.below(6) == 5 ? std::size_t{0} - 1 : b.below(5)}; }
  OpenFolder operator()(Kind<OpenFolder>) { return {b.flag() ? "" : "/memory"}; }
  OpenResults operator()(Kind<OpenResults>) { return {b.flag() ? results_path() : path()}; }
  PasteResults operator()(Kind<PasteResults>) { return {results_text(b)}; }
  TypeResult operator()(Kind<TypeResult>) { return {results_text(b)}; }
  SetResultsUnit operator()(Kind<SetResultsUnit>) {
    return {b.flag() ? scenario::Unit::mg_per_dl : scenario::Unit::g_per_l};
  }
  SetDateOrder operator()(Kind<SetDateOrder>) {
    return {b.flag() ? labs::DateOrder::month_first : labs::DateOrder::day_first};
  }
  SetNoise operator()(Kind<SetNoise>) {
    labs::Noise noise;
    noise.one_sided = b.flag();
    return {noise};
  }
  SetOwnPage operator()(Kind<SetOwnPage>) { return {any<OwnPage>(own_page_names)}; }
  WriteSheet operator()(Kind<WriteSheet>) { return {b.flag() ? Paper::pdf : Paper::html}; }
  MoveLever operator()(Kind<MoveLever>) {
    const body::LeverId which = lever();
    if (which >= body::standard_model()->levers().size()) return {which, 1.0, b.flag()};
    const body::Lever& l = body::standard_model()->levers()[which];
    const double value = b.number(l.least, l.most);
    return {which, value, b.flag()};
  }
  PlaceDated operator()(Kind<PlaceDated>) { return {lever()}; }
  ResetLever operator()(Kind<ResetLever>) { return {lever()}; }
  DropKept operator()(Kind<DropKept>) { return {b.below(6)}; }
  OpenStory operator()(Kind<OpenStory>) { return {path()}; }
  SetStudyPage operator()(Kind<SetStudyPage>) { return {any<StudyPage>(study_page_names)}; }
};

template <std::size_t I>
std::optional<Action> made(Make& make) {
  using T = std::variant_alternative_t<I, AnyAction>;
  if constexpr (answers<T>) {
    return std::nullopt;
  } else {
    return Action{make(Kind<T>{})};
  }
}

template <std::size_t... Is>
std::optional<Action> dispatch(std::size_t which, Make& make, std::index_sequence<Is...>) {
  using Maker = std::optional<Action> (*)(Make&);
  static constexpr Maker makers[] = {&made<Is>...};
  return makers[which](make);
}

}  // namespace

std::optional<Action> make_action(Bytes& bytes, const AppState& state) {
  constexpr std::size_t kinds = std::variant_size_v<AnyAction>;
  Make make{bytes, state};
  // A third of all: levers, undo and redo, which hang together longest.
  const std::size_t which = bytes.byte();
  if (which % 3 == 0) {
    switch ((which / 3) % 8) {
      case 0:
        return Undo{};
      case 1:
        return Redo{};
      case 2:
        return PlaceDated{body::lever_at("plasma_exchange")};
      case 3:
        return EndDrag{};
      default:
        return make(Kind<MoveLever>{});
    }
  }
  return dispatch(bytes.byte() % kinds, make, std::make_index_sequence<kinds>{});
}

std::string name_of(const Action& action) {
  return std::visit([](const auto& a) { return std::string(typeid(a).name()); }, action.any());
}

}  // namespace drawdown::fuzz
