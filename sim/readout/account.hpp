// Why a level is where it is: for any protein of the plasma, against the settled quiet person ("usual", subscript 0).
//
// Level: made as much and leaving as fast as today for ever, it would settle at usual x tap / (drain x volume).
// Direction: in - out + from tissue = change of the pool, all as a share of what is usually made.
// Debts: each cause i owes c_i grams per litre, and their sum is level - usual at every moment. With c the level, e the
// pool in tissue fluid (both per litre of plasma), V the plasma volume, m what is made, k_j the share of the pool that
// leaves for good in an hour by part j, E what is taken out less what is given, x and r the shares that pass into
// tissue fluid and come back:
//   made      (m - m0)/V0                 part j     -(k_j - k_j0) c
//   volume    m (1/V - 1/V0) - c V'/V, on its twin in tissue fluid -e V'/V
//   taken out -E/V (given, where E is below 0)
//   leak      -(x - x0) c + (r - r0) e, on its twin the same the other way round
//   dc_i/dt = source_i - (k0 + x0) c_i + r0 e_i,  de_i/dt = twin_i + x0 c_i - r0 e_i
// A run starts settled: c_i = source_i / k0, e_i = (x0 c_i + twin_i) / r0, the leak's c_i = 0. What an unsettled start
// owes besides is owed to what was before day 0.
//
// Nothing here knows a protein or a reaction by name: what each counts for is in its row (body/accounts.hpp).
#pragma once

#include <string>
#include <vector>

#include "body/body.hpp"
#include "readout/born.hpp"
#include "readout/loops.hpp"
#include "solve/course.hpp"
#include "solve/segments.hpp"

namespace drawdown::readout {

// Of the level just after the moment, in per cent of the usual level a day: holding under 0.1, slowly under 0.5.
enum class LevelTrend { falling, slowly_falling, holding, slowly_filling, filling };
[[nodiscard]] const char* level_trend_name(LevelTrend trend);

// What a debt or a part of the drain is owed to, by its name. A closed list:
//   made       more or less is made                    red_cells  used on red cells
//   given      comes with replacement plasma           fluid      used in the fluid, without C1
//   wear       ordinary turnover                       loop       used by a loop whose gain has changed (loops.hpp)
//   kidney ... used at a tissue: the tissue's name,    c1_free    used in the fluid by active C1 free there
//              linings for serosa                      taken_out  taken out by plasma exchange
//   volume     the plasma volume                       leak       passes into tissue fluid, or stays there
//   before     an unsettled start                      lost       lost from the body whole
// What a loop uses at its usual gain is used where the rows say that what feeds it is (body/accounts.hpp).
struct Tokens {
  explicit Tokens(const body::Model& model);
  std::vector<std::string> names;
  std::size_t made = 0, given = 1, wear = 2, first_tissue = 3;
  std::size_t red_cells, fluid, loop, c1_free, taken_out, lost, leak, volume, before;
  [[nodiscard]] std::size_t size() const { return names.size(); }
  // Of what is used at a place of the model's (body/model.hpp).
  [[nodiscard]] std::size_t of_place(std::size_t place, bool classical) const;
  [[nodiscard]] bool is_tissue(std::size_t token) const { return token >= first_tissue && token < red_cells; }
};

// One protein at one moment.
struct AccountOf {
  double usual = 0.0;          // g/L
  double level = 0.0;          // g/L
  double against_usual = 1.0;  // level / usual
  double tap = 1.0;            // grams made a day / usual
  double drain = 1.0;          // share of the pool that leaves for good in a day / usual
  double volume = 1.0;         // plasma volume / usual
  double settles = 0.0;        // g/L
  double in = 1.0;             // made and given; these four as a share of what is usually made
  double out = 1.0;            // leaves for good
  double from_tissue = 0.0;    // comes back from tissue fluid less what goes there
  double pool_change = 0.0;    // in - out + from_tissue
  double slope = 0.0;          // of the level, % of usual a day
  LevelTrend trend = LevelTrend::holding;
  std::vector<double> drain_parts;  // by token: their sum is drain
  std::vector<double> usual_parts;  // the same in the usual state: their sum is 1
  double given = 0.0;               // of what comes in: with replacement plasma
  std::vector<double> debts;        // by token, g/L
  std::vector<double> debt_slopes;  // by token, g/L a day
};

// A debt below this share of usual is no cause of its own.
inline constexpr double least_debt = 0.02;
// The tokens of the debts that are causes of where the level is, largest first; tissues are added up before ranking and
// stand together, the largest of them first. Empty: none.
[[nodiscard]] std::vector<std::size_t> causes_of_level(const Tokens& tokens, const AccountOf& account);
// Of where it goes: the debt that changes fastest the way the level does. Only of a level that does not hold.
[[nodiscard]] std::size_t cause_of_trend(const Tokens& tokens, const AccountOf& account);

class Account {
 public:
  // Of these proteins on this course, whose stretches are `segments` (hours) and which has started settled (or not)
  // under the levers `before`; `usual` is the settled quiet state, under `usual_levers`. All must outlive it but the
  // vectors. Throws std::logic_error if the course is empty.
  Account(const body::Body& body, const solve::Course& course, std::vector<solve::Segment> segments,
          const std::vector<double>& before, const std::vector<double>& usual, const std::vector<double>& usual_levers,
          std::vector<body::ProteinId> proteins);

  enum class Side { before, after };  // an event at that very moment
  // Of the p-th of the proteins. A frame asks for the same moment again and again: the last answer is kept.
  [[nodiscard]] AccountOf at(std::size_t p, double hour, Side side = Side::after) const;
  [[nodiscard]] const Tokens& tokens() const { return tokens_; }
  // What is usual of the p-th, against usual genes and liver.
  [[nodiscard]] const Born& born(std::size_t p) const { return born_[p]; }
  [[nodiscard]] const std::vector<body::ProteinId>& proteins() const { return proteins_; }

 private:
  // Of one protein at one moment, per hour and g/L.
  struct Terms {
    double level = 0.0, tissue = 0.0;    // c, e
    double made = 0.0, exchanged = 0.0;  // m/V, E/V
    double escape = 0.0, back = 0.0;     // x c, r e
    double volume = 1.0, grows = 0.0;    // V/V0, V'/V
    std::vector<double> used;            // by token: k_j c
    [[nodiscard]] double used_total() const;
  };
  struct Owed {
    std::vector<double> plasma, tissue;  // c_i, e_i by token
  };
  struct Usual {
    Terms terms;
    double k = 0.0, x = 0.0, r = 0.0;
    std::vector<double> used;       // k_j0
    double fast = 0.0, slow = 0.0;  // eigenvalues of the exchange, per hour
  };
  // What stands at the start of a piece of the course.
  struct Knot {
    double hour = 0.0;
    std::size_t segment = 0;
    std::vector<Owed> owed;  // by protein
  };

  struct Answer {
    double hour = -1.0;
    Side side = Side::after;
    AccountOf of;
  };
  [[nodiscard]] AccountOf worked_out(std::size_t p, double hour, Side side) const;
  [[nodiscard]] std::vector<Terms> terms_at(const std::vector<double>& state, double hour, std::size_t segment) const;
  [[nodiscard]] std::vector<Terms> terms_of(const std::vector<double>& state, const std::vector<double>& levers,
                                            double grows) const;
  void sources(std::size_t p, const Terms& terms, Owed& out) const;
  [[nodiscard]] Owed start(std::size_t p, const Terms& terms) const;
  void jump(std::vector<Owed>& owed, const std::vector<double>& from, const std::vector<double>& to) const;
  void advance(std::vector<Owed>& owed, double from, double to, std::size_t segment, std::size_t step) const;
  void turn(const Usual& usual, double hours, const Owed& from, double times, Owed& to) const;
  [[nodiscard]] std::vector<double> inside(std::size_t step, double hour) const;

  const body::Body* body_;
  const solve::Course* course_;
  std::vector<solve::Segment> segments_;
  std::vector<body::ProteinId> proteins_;
  std::vector<Born> born_;
  Tokens tokens_;
  mutable network::Bound<double> bound_;
  mutable std::vector<Answer> last_;  // by protein
  double usual_volume_ = 1.0;
  Loops loops_;
  std::vector<Usual> usual_;  // by protein
  std::vector<Knot> knots_;
  std::vector<std::size_t> steps_;       // of the course, by knot
  std::vector<std::size_t> segment_of_;  // by step
};

}  // namespace drawdown::readout
