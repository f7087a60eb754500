#include "stage/spoken.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <set>

#include "stage/phrases.hpp"

namespace drawdown::support {

namespace {

std::size_t of(Group group) {
  return static_cast<std::size_t>(group);
}

// What has been said of one protein.
struct Heard {
  std::optional<Stand> stand;
  std::optional<Tells> turn;
  std::optional<Group> mover;
  std::set<Group> down, up;
  bool born = false;
};

class Listener {
 public:
  Listener(const Run& run, const OwnPair& own, const Birth& c3, const Birth& c4, const Tongue& tongue,
           look::Depth depth)
      : run_(run), own_{&own.c3, &own.c4}, births_{&c3, &c4}, day_(own.day), tongue_(tongue), depth_(depth) {}

  std::vector<std::string> listen(const std::string& text) {
    for (std::size_t from = 0; from < text.size();) {
      std::size_t end = text.find(". ", from);
      if (end == std::string::npos) end = text.size() - 1;
      sentence_ = text.substr(from, end - from);
      if (text[end] != '.') lie("no full stop");
      from = end + 2;
      hear();
    }
    for (std::size_t p = 0; p < 2; ++p) missing(p);
    if (!range_ && (below(0) || below(1))) lie_plain("nothing is said of the range");
    if (!volume_ && depth_ != look::Depth::plain && std::abs(own_[0]->volume - 1) > 0.0051) {
      lie_plain("nothing is said of the volume");
    }
    return lies_;
  }

 private:
  void lie_plain(const std::string& what) { lies_.push_back(what); }
  void lie(const std::string& what) { lies_.push_back(what + " in: " + sentence_); }
  void claim(bool so, std::size_t p, const std::string& what) {
    if (!so) lie((p == 0 ? "C3 " : "C4 ") + what);
  }
  [[nodiscard]] bool below(std::size_t p) const {
    return own_[p]->level < (p == 0 ? run_.story().laboratory.c3.low : run_.story().laboratory.c4.low);
  }

  void hear() {
    std::string rest = sentence_;
    for (const auto& [name, who] :
         {std::pair<std::string, std::vector<std::size_t>>{tongue_.both, {0, 1}}, {"C3", {0}}, {"C4", {1}}}) {
      if (rest.rfind(name + ": ", 0) != 0) continue;
      about_ = who;
      rest = rest.substr(name.size() + 2);
      for (const Tongue::Lead& lead : tongue_.leads) {
        if (hear_lead(lead, rest)) return;
      }
      if (!rest.empty() && rest[0] >= 'a' && rest[0] <= 'z') rest[0] = static_cast<char>(rest[0] - 32);
      break;
    }
    std::vector<std::string> slots;
    for (const Tongue::Sentence& known : tongue_.sentences) {
      const bool deep = depth_ == look::Depth::mechanism && !known.in_mechanism.empty();
      if (!matches(deep ? known.in_mechanism : known.pattern, rest, slots)) continue;
      hear_part(known.tells, slots);
      return;
    }
    lie("not understood");
  }

  bool hear_lead(const Tongue::Lead& lead, const std::string& rest) {
    std::vector<std::string> slots;
    const std::string& pattern = lead.patterns[static_cast<std::size_t>(depth_)];
    // The pace with its unit is a slot of the pattern's and a pattern of its own.
    const auto pace = pattern.find("<pace>");
    bool hour = false;
    bool found = false;
    if (pace == std::string::npos) {
      found = matches(pattern, rest, slots);
    } else {
      for (const bool by_hour : {false, true}) {
        if (found) break;
        std::string whole = pattern;
        whole.replace(pace, 6, by_hour ? tongue_.an_hour : tongue_.a_day);
        found = matches(whole, rest, slots);
        hour = by_hour;
      }
    }
    if (!found) return false;
    if (pattern.find("<place>") != std::string::npos &&
        std::find(tongue_.places.begin(), tongue_.places.end(), slots[0]) == tongue_.places.end()) {
      return false;
    }
    for (const std::size_t p : about_) {
      const OwnAccount& a = *own_[p];
      if (heard_[p].stand) lie("stands twice");
      heard_[p].stand = lead.stand;
      claim(stands(p, lead.stand), p,
            "does not stand so (" + std::to_string(a.percent_a_day) + " % of usual a day, " +
                std::to_string(a.against()) + " of usual)");
      std::size_t at = 0;
      const auto figure = [&](double value, double slack) {
        const std::string digits = one_of(slots[at++], p);
        claim(shown_as(digits, value, slack), p, digits + " for " + std::to_string(value));
      };
      if (pattern.find("<place>") != std::string::npos) {
        const double off = a.against() - 1;
        const bool so = slots[0] == tongue_.places[0]   ? std::abs(off) <= 0.0801
                        : slots[0] == tongue_.places[1] ? off <= -0.0799
                                                        : off >= 0.0799;
        claim(so, p, "is not there");
        continue;
      }
      if (pace != std::string::npos) {
        const double size = std::abs(a.percent_a_day);
        claim(hour ? size > 99.9 : size < 100.1, p, "pace of another unit");
        figure(size / (hour ? 24 : 1), 1e-4 * size);
      }
      if (depth_ == look::Depth::plain) continue;
      figure(100 * a.against(), 1e-3);
      figure(a.tap, 1e-4 * a.tap);
      figure(a.drain, 1e-4 * a.drain);
    }
    return true;
  }

  // "a and b": of C3 and C4.
  [[nodiscard]] std::string one_of(const std::string& slot, std::size_t p) const {
    const std::size_t between = slot.find(tongue_.last);
    if (between == std::string::npos || about_.size() < 2) return slot;
    return p == 0 ? slot.substr(0, between) : slot.substr(between + tongue_.last.size());
  }

  [[nodiscard]] bool stands(std::size_t p, Stand stand) const {
    const OwnAccount& a = *own_[p];
    const double s = a.percent_a_day;
    const double off = a.against() - 1;
    const double low = p == 0 ? run_.story().laboratory.c3.low : run_.story().laboratory.c4.low;
    // A slow drift within 2 % of usual counts as none.
    const bool rests = std::abs(s) < 0.1001 || (std::abs(s) < 0.501 && std::abs(off) < 0.0201);
    const bool drifts = std::abs(s) > 0.0999 && std::abs(s) < 0.501 && std::abs(off) > 0.0199;
    const bool hidden = a.tap > 1.4999 && a.drain > 1.4999;
    const bool clearly_hidden = a.tap > 1.5001 && a.drain > 1.5001;
    const bool at_usual = rests && std::abs(off) < 0.0801;
    switch (stand) {
      case Stand::falling:
        return s < -0.499;
      case Stand::slowly_falling:
        return s < 0 && drifts;
      case Stand::filling:
        return s > 0.499;
      case Stand::slowly_filling:
        return s > 0 && drifts;
      case Stand::below:
        return rests && off < -0.0799;
      case Stand::above:
        return rests && off > 0.0799;
      case Stand::hidden:
        return at_usual && hidden;
      case Stand::usual_low:
        return at_usual && !clearly_hidden && a.usual < low * 1.0001;
      case Stand::usual:
        return at_usual && !clearly_hidden && std::abs(off) < 0.0201 && a.usual > low * 0.9999;
      case Stand::near:
        return at_usual && !clearly_hidden && std::abs(off) > 0.0199 && a.usual > low * 0.9999;
    }
    return false;
  }

  void hear_part(Tells tells, const std::vector<std::string>& slots) {
    switch (tells) {
      case Tells::born:
        hear_births(slots);
        return;
      case Tells::volume:
        volume_ = true;
        if (!shown_as(slots[0], own_[0]->volume, 1e-6)) lie("volume");
        return;
      case Tells::both_below:
        range_ = true;
        if (!(below(0) && below(1))) lie("not so");
        return;
      case Tells::c3_below:
        range_ = true;
        if (!below(0) || below(1)) lie("not so");
        return;
      case Tells::c4_below:
        range_ = true;
        if (below(0) || !below(1)) lie("not so");
        return;
      case Tells::pulls:
      case Tells::also_pulls:
      case Tells::lifts:
      case Tells::also_lifts:
        hear_list(tells, slots[0]);
        return;
      default:
        hear_turn(tells, slots.empty() ? "" : slots[0]);
    }
  }

  // A noun with what it owes, if that is told at this depth; the second is empty if not.
  std::pair<std::string, std::string> noun_in(const std::string& item, bool a_day) {
    if (depth_ != look::Depth::mechanism) return {item, ""};
    std::vector<std::string> slots;
    if (!matches(a_day ? tongue_.owed_a_day : tongue_.owed, item, slots)) {
      lie("no figure with " + item);
      return {item, ""};
    }
    return {slots[0], slots[1]};
  }

  void check_noun(const Noun& noun, std::size_t p) {
    if (noun.group != Group::tissue) return;
    const OwnAccount& a = *own_[p];
    const bool without = p == 0 && a.in_tissue > 0.01 * a.used;
    if (noun.without_complexes) {
      claim(without && a.by_classical < 0.051 * a.in_tissue, p, "complexes are at work");
    } else {
      claim(!without || a.by_classical > 0.049 * a.in_tissue || a.in_tissue < 0.0101 * a.used, p, "no complexes");
    }
  }

  void hear_turn(Tells tells, const std::string& slot) {
    const bool liver = tells == Tells::recovers || tells == Tells::again || tells == Tells::eases;
    const bool pulls = tells == Tells::further_down || tells == Tells::less_down || tells == Tells::refills ||
                       tells == Tells::recovers;
    const bool fills =
        tells == Tells::less_down || tells == Tells::further_up || tells == Tells::refills || tells == Tells::recovers;
    Noun noun{Group::made};
    std::string owed;
    if (!slot.empty()) {
      const auto [name, digits] = noun_in(slot, true);
      const auto& nouns = pulls ? tongue_.pulls : tongue_.lifts;
      const auto found = nouns.find(name);
      if (found == nouns.end()) return lie("not understood");
      noun = found->second;
      owed = digits;
    }
    for (const std::size_t p : about_) {
      const OwnAccount& a = *own_[p];
      const double way = fills ? 1.0 : -1.0;
      const double slope = a.debt_slope[of(noun.group)];
      const double debt = a.debt[of(noun.group)];
      const double fastest = way * *std::max_element(a.debt_slope.begin(), a.debt_slope.end(),
                                                     [&](double x, double y) { return way * x < way * y; });
      if (heard_[p].turn) lie("moved twice");
      heard_[p].turn = tells;
      heard_[p].mover = noun.group;
      claim(way * a.percent_a_day > 0, p, "goes the other way");
      claim(way * slope >= fastest - 5e-5 * a.usual - 1e-3 * std::abs(fastest), p, "is not moved by that");
      claim(pulls ? debt <= 1e-4 * a.usual : debt >= -1e-4 * a.usual, p, "owes that the other way");
      if (liver) claim(noun.group == Group::made, p, "is not the liver's");
      if (tells == Tells::refills) claim(noun.group == Group::taken, p, "was not taken out");
      if (tells == Tells::less_down) claim(noun.group != Group::taken && noun.group != Group::made, p, "has its words");
      if (tells == Tells::eases) claim(eases() > 9e-4, p, "does not ease");
      if (tells == Tells::again) claim(eases() < 1.1e-3, p, "eases");
      check_noun(noun, p);
      if (!owed.empty()) {
        const std::string digits = one_of(owed, p);
        claim(shown_as(digits, slope, 5e-5 * a.usual + 1e-3 * std::abs(slope)), p,
              digits + " a day for " + std::to_string(slope));
      }
    }
  }
  // How much the signal of inflammation fell in a day.
  [[nodiscard]] double eases() const {
    const auto at = static_cast<std::size_t>(run_.body().network.species_index("acute_phase"));
    return run_.state(std::max(0.0, day_ - 1))[at] - run_.state(day_)[at];
  }

  void hear_list(Tells tells, const std::string& list) {
    const bool up = tells == Tells::lifts || tells == Tells::also_lifts;
    std::vector<double> before(2, 1e9);
    for (const std::string& item : items_in(list, tongue_)) {
      const auto [name, owed] = noun_in(item, false);
      const auto& nouns = up ? tongue_.lifts : tongue_.pulls;
      const auto found = nouns.find(name);
      if (found == nouns.end()) return lie("not understood");
      const Noun noun = found->second;
      for (const std::size_t p : about_) {
        const OwnAccount& a = *own_[p];
        const double debt = (up ? 1 : -1) * a.debt[of(noun.group)];
        claim(debt >= (0.02 - 1e-4) * a.usual, p, name + " owes " + std::to_string(debt / a.usual) + " of usual");
        claim(debt <= before[p] + 1e-4 * a.usual, p, "larger ones come later");
        before[p] = debt;
        claim((up ? heard_[p].up : heard_[p].down).insert(noun.group).second, p, "named twice");
        check_noun(noun, p);
        if (owed.empty()) continue;
        const std::string digits = one_of(owed, p);
        claim(shown_as(digits, (up ? 1 : -1) * debt, 3e-5 * a.usual), p, digits + " g/L for " + std::to_string(debt));
      }
    }
    for (const std::size_t p : about_) {
      const auto turn = heard_[p].turn;
      const bool said = up ? turn == Tells::further_up || turn == Tells::less_up
                           : turn == Tells::further_down || turn == Tells::less_down || turn == Tells::refills;
      claim(said == (tells == Tells::also_pulls || tells == Tells::also_lifts), p, "also?");
    }
  }
  void hear_births(const std::vector<std::string>& slots) {
    std::set<char> said;
    for (const std::string& item : items_in(slots[1], tongue_)) {
      const auto found = tongue_.births.find(item);
      if (found == tongue_.births.end()) return lie("not understood");
      said.insert(found->second);
    }
    for (const std::size_t p : about_) {
      const Birth& b = *births_[p];
      heard_[p].born = true;
      const std::string digits = one_of(slots[0], p);
      claim(shown_as(digits, 100 * b.all, 0.01), p, digits + " % for " + std::to_string(100 * b.all));
      for (const auto& [kind, share] : {std::pair{'g', b.genes}, {'l', b.liver}, {'s', b.supply}}) {
        const double off = std::abs(share - 1);
        claim(said.count(kind) == 1 ? off > 0.0199 : off < 0.0201, p, std::string("birth ") + kind);
      }
    }
  }

  // What must be said of a protein and was not.
  void missing(std::size_t p) {
    const OwnAccount& a = *own_[p];
    const std::string name = p == 0 ? "C3" : "C4";
    if (!heard_[p].stand) return lie_plain(name + ": where it stands is not said");
    const bool moves = *heard_[p].stand <= Stand::slowly_filling;
    if (moves != heard_[p].turn.has_value()) lie_plain(name + ": what moves it");
    for (std::size_t g = 0; g < groups; ++g) {
      const auto group = static_cast<Group>(g);
      if (!(std::abs(a.debt[g]) > (0.02 + 1e-4) * a.usual)) continue;
      const auto turn = heard_[p].turn;
      const bool told_by_turn =
          turn && heard_[p].mover == group && turn != Tells::recovers && turn != Tells::again && turn != Tells::eases;
      const bool listed = (a.debt[g] > 0 ? heard_[p].up : heard_[p].down).count(group) == 1;
      if (!listed && !told_by_turn) {
        lie_plain(name + ": " + group_names[g] + " owes " + std::to_string(a.debt[g] / a.usual) + " and is not named");
      }
    }
    const Birth& b = *births_[p];
    for (const double share : {b.genes, b.liver, b.supply}) {
      if (std::abs(share - 1) > 0.0201 && !heard_[p].born) lie_plain(name + ": what usual is against is not said");
    }
  }

  const Run& run_;
  std::array<const OwnAccount*, 2> own_;
  std::array<const Birth*, 2> births_;
  double day_;
  const Tongue& tongue_;
  look::Depth depth_;
  std::string sentence_;
  std::vector<std::size_t> about_;
  std::array<Heard, 2> heard_;
  bool range_ = false, volume_ = false;
  std::vector<std::string> lies_;
};

}  // namespace

std::vector<std::string> lies_heard(const std::string& text, const Run& run, const OwnPair& own, const Birth& c3,
                                    const Birth& c4, const std::string& language, look::Depth depth) {
  return Listener(run, own, c3, c4, tongue(language), depth).listen(text);
}

}  // namespace drawdown::support
