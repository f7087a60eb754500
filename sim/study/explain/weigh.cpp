// Every candidate's density, and what follows from them all.
#include "study/explain/weigh.hpp"

#include <algorithm>
#include <boost/math/special_functions/gamma.hpp>
#include <cmath>
#include <numeric>
#include <thread>

#include "study/explain/candidates.hpp"
#include "study/explain/foresee.hpp"

namespace drawdown::study::explain {

namespace {

// Products of a matrix with a vector that one explanation may cost: bounds the time of a long file with many tests.
constexpr std::size_t most_products = 30'000'000;
constexpr std::size_t fewest_asked = 400;
constexpr std::size_t most_times = 1;  // 24 onsets

double log_below(double z) {
  return std::log(std::max(1e-300, 0.5 * std::erfc(-z * 0.70710678118654752)));
}

}  // namespace

void turn_block(const Turned& turned, const float* moves, float* turned_moves) {
  const std::size_t n = turned.size;
  for (std::size_t i = 0; i < n; ++i) {
    std::array<float, block> sum{};
    const float* row = turned.turn.data() + i * n;
    for (std::size_t j = 0; j < n; ++j) {
      const float w = row[j];
      const float* m = moves + j * block;
      for (std::size_t k = 0; k < block; ++k) sum[k] += w * m[k];
    }
    for (std::size_t k = 0; k < block; ++k) turned_moves[i * block + k] = sum[k];
  }
}

void levels_apart(const Turned& turned, const File& file, const Candidates& of, std::size_t first, float* apart) {
  const std::size_t n = turned.size;
  std::vector<float> levels(n);
  for (std::size_t k = 0; k < block; ++k) {
    const std::size_t candidate = std::min(first + k, of.size() - 1);
    if (k == 0 || candidate / of.shifts() != (first + k - 1) / of.shifts()) {
      for (std::size_t j = 0; j < n; ++j) {
        levels[j] = static_cast<float>(of.level(candidate / of.shifts(), file.seen[j].column));
      }
      for (std::size_t i = 0; i < n; ++i) {
        float sum = turned.values[i];
        for (std::size_t j = 0; j < n; ++j) sum -= turned.turn[i * n + j] * levels[j];
        apart[i * block + k] = sum;
      }
    } else {
      for (std::size_t i = 0; i < n; ++i) apart[i * block + k] = apart[i * block + k - 1];
    }
  }
}

namespace {

// The candidates of an explanation against the file: log density with the node's weight, and squared distance.
class Tried {
 public:
  Tried(const File& file, const Turned& turned, const Candidates& of)
      : file_(&file), turned_(&turned), of_(&of), entries_(file.seen) {
    for (const Entry& hidden : file.hidden) {
      given_.push_back(turned.given(file, {hidden.day, hidden.column}));
      entries_.push_back(hidden);
    }
    out.log_density.assign(of.size() * nodes, -1e30F);
    out.distance.assign(of.size() * nodes, 0.0F);
  }
  void run(std::size_t threads, const Control* control) {
    const std::size_t blocks = (of_->size() + block - 1) / block;
    const auto part = [&](std::size_t from, std::size_t to) {
      Work work{std::vector<float>(entries_.size() * block), std::vector<float>(turned_->size * block),
                std::vector<float>(turned_->size * block)};
      for (std::size_t b = from; b < to; ++b) {
        if (control != nullptr && control->cancel) return;
        one(b * block, work);
      }
    };
    const std::size_t many = blocks < 32 ? 1 : std::max<std::size_t>(1, threads);
    std::vector<std::thread> others;
    for (std::size_t t = 1; t < many; ++t) others.emplace_back(part, blocks * t / many, blocks * (t + 1) / many);
    part(0, blocks / many);
    for (std::thread& other : others) other.join();
  }
  Densities out;

 private:
  struct Work {
    std::vector<float> moves, turned, apart;
  };
  // With a the square of the turned moves and b their product with the distance, both by the precision: how strong the
  // cause is, 1 + N(0, t^2), adds -ln(1 + t^2 a) / 2 + t^2 b^2 / (1 + t^2 a) / 2 to the logarithm.
  void one(std::size_t first, Work& work) {
    if (of_->shifts() % block == 0 && !of_->has(first / of_->shifts())) return;
    of_->fill(first, entries_, work.moves.data());
    turn_block(*turned_, work.moves.data(), work.turned.data());
    levels_apart(*turned_, *file_, *of_, first, work.apart.data());
    const std::size_t n = turned_->size;
    const double t2 = of_->sampled() ? strength * strength : 0.0;
    for (std::size_t node = 0; node < nodes; ++node) {
      std::array<float, block> sum{};
      std::array<float, block> a{};
      std::array<float, block> b{};
      for (std::size_t i = 0; i < n; ++i) {
        const float p = turned_->precision[node][i];
        const float* g = work.turned.data() + i * block;
        const float* r = work.apart.data() + i * block;
        for (std::size_t k = 0; k < block; ++k) {
          const float d = r[k] - g[k];
          sum[k] += p * d * d;
          a[k] += p * g[k] * g[k];
          b[k] += p * g[k] * d;
        }
      }
      for (std::size_t k = 0; k < std::min(block, of_->size() - first); ++k) {
        if (of_->shifts() % block != 0 && !of_->has((first + k) / of_->shifts())) continue;
        const double more = 1.0 + t2 * static_cast<double>(a[k]);
        const double part = t2 * static_cast<double>(b[k]) / more;
        const double distance = static_cast<double>(sum[k]) - part * static_cast<double>(b[k]);
        double density = turned_->log_density[node] - 0.5 * (std::log(more) + distance);
        for (std::size_t h = 0; h < given_.size(); ++h) density += hidden(h, node, k, 1.0 + part, first, work);
        out.log_density[(first + k) * nodes + node] = static_cast<float>(density);
        out.distance[(first + k) * nodes + node] = static_cast<float>(distance);
      }
    }
  }
  [[nodiscard]] double hidden(std::size_t h, std::size_t node, std::size_t k, double times, std::size_t first,
                              const Work& work) const {
    const Entry& entry = file_->hidden[h];
    const std::vector<double>& slope = given_[h].slope[node];
    double middle = file_->usual[at(entry.column)] + of_->level((first + k) / of_->shifts(), entry.column) +
                    times * static_cast<double>(work.moves[(turned_->size + h) * block + k]);
    for (std::size_t i = 0; i < slope.size(); ++i) {
      const std::size_t place = i * block + k;
      middle += slope[i] * (static_cast<double>(work.apart[place]) - times * static_cast<double>(work.turned[place]));
    }
    return log_below((entry.y - middle) / std::sqrt(given_[h].variance[node]));
  }
  const File* file_;
  const Turned* turned_;
  const Candidates* of_;
  std::vector<Entry> entries_;
  std::vector<Turned::Given> given_;
};

// Evidence, effective people and the posterior predictive p of the distance.
void sum_up(Weighed& one, const Candidates& of, const Densities& found, std::size_t size) {
  std::size_t there = 0;
  for (std::size_t p = 0; p < of.people(); ++p) there += of.has(p) ? 1U : 0U;
  const double most = static_cast<double>(*std::max_element(found.log_density.begin(), found.log_density.end()));
  double all = 0.0;
  double squares = 0.0;
  double tail = 0.0;
  const std::size_t each = of.shifts() * nodes;
  for (std::size_t p = 0; p < of.people(); ++p) {
    double person = 0.0;
    for (std::size_t i = p * each; i < (p + 1) * each; ++i) {
      const double w = std::exp(static_cast<double>(found.log_density[i]) - most);
      person += w;
      if (w > 1e-7) {
        tail += w * boost::math::gamma_q(0.5 * static_cast<double>(size), 0.5 * static_cast<double>(found.distance[i]));
      }
    }
    all += person;
    squares += person * person;
  }
  one.log_evidence = most + std::log(all) - std::log(static_cast<double>(there * of.shifts()));
  one.misfit = tail / all;
  if (of.sampled()) one.people = all * all / squares;
}

void share_out(Weights& out, const Shares& prior) {
  double most = -1e300;
  for (const Weighed& one : out.each) most = std::max(most, one.log_evidence);
  double sum = 0.0;
  for (std::size_t e = 0; e < explanations; ++e) {
    out.each[e].share = prior[e] * std::exp(out.each[e].log_evidence - most);
    sum += out.each[e].share;
  }
  for (Weighed& one : out.each) {
    one.share /= sum;
    if (one.share > 0.0) out.undecided -= one.share * std::log(one.share);
    const double behind = most - one.log_evidence;
    // Evidence of few people is mostly too small: what comes near all the same stands, unless it rests on one or two.
    const bool near = behind <= std::log(fits_within);
    const bool few = one.people && *one.people < (near ? fewest_near : fewest_effective);
    one.verdict = few && behind < cannot_within       ? Verdict::cannot_tell
                  : near && one.misfit > odd          ? Verdict::fits
                  : behind <= std::log(poorly_within) ? Verdict::poorly
                                                      : Verdict::does_not;
  }
}

Series last_visits(const Series& series) {
  Series kept = series;
  const auto empty = [](const Visit& v) {
    return std::none_of(v.values.begin(), v.values.end(), [](const auto& value) { return value.has_value(); });
  };
  kept.visits.erase(std::remove_if(kept.visits.begin(), kept.visits.end(), empty), kept.visits.end());
  if (kept.visits.size() > most_visits) kept.visits.erase(kept.visits.begin(), kept.visits.end() - most_visits);
  // A test that was never made can be made where its unit is known.
  for (std::size_t c = 0; c < columns; ++c) {
    const bool made =
        std::any_of(kept.visits.begin(), kept.visits.end(), [&](const Visit& v) { return v.values[c].has_value(); });
    kept.scale_known[c] = kept.scale_known[c] || !made;
  }
  return kept;
}

}  // namespace

double Weights::used_up() const {
  double sum = 0.0;
  for (std::size_t e = 0; e < explanations; ++e) sum += is_use(static_cast<Explanation>(e)) ? each[e].share : 0.0;
  return sum;
}

Explanation Weights::best() const {
  const auto* const most = std::max_element(
      each.begin(), each.end(), [](const Weighed& a, const Weighed& b) { return a.log_evidence < b.log_evidence; });
  return static_cast<Explanation>(most - each.begin());
}

std::vector<Explanation> Weights::fitting() const {
  std::vector<Explanation> all;
  for (std::size_t e = 0; e < explanations; ++e) {
    if (each[e].verdict == Verdict::fits) all.push_back(static_cast<Explanation>(e));
  }
  std::stable_sort(all.begin(), all.end(),
                   [&](Explanation a, Explanation b) { return each[at(a)].log_evidence > each[at(b)].log_evidence; });
  return all;
}

Weights weigh(const Series& whole, const Bank& bank, const WeighOptions& options, Control* control) {
  Weights out;
  const Series series = last_visits(whole);
  out.visits = series.visits.size();
  if (out.visits < fewest_visits || series.visits.back().day - series.visits.front().day < 1.0) return out;
  const File file(series, bank);
  out.values = file.seen.size() + file.hidden.size();
  out.hidden = file.hidden.size();
  for (const auto* list : {&file.seen, &file.hidden}) {
    for (const Entry& entry : *list) out.used[at(entry.column)] = true;
  }
  if (file.seen.size() < fewest_visits) return out;
  const Turned near(file, kept_near * kept_near);
  const Turned free(file, 1.0);
  const std::size_t n = file.seen.size();
  out.people = std::min(bank.people, std::max(fewest_asked, most_products / (n * n)));
  const std::size_t times = std::clamp<std::size_t>(most_products / (n * n) / out.people, 1, most_times);
  std::vector<std::unique_ptr<Candidates>> all;
  std::vector<Densities> densities;
  for (std::size_t e = 0; e < explanations; ++e) {
    all.push_back(candidates_for(static_cast<Explanation>(e), series, bank, out.people, times));
    const Turned& turned = all.back()->sampled() ? near : free;
    Tried tried(file, turned, *all.back());
    tried.run(options.threads, control);
    if (control != nullptr && control->cancel) {
      out.status = Status::cancelled;
      return out;
    }
    sum_up(out.each[e], *all.back(), tried.out, n);
    densities.push_back(std::move(tried.out));
    if (control != nullptr) control->progress = 0.9 * static_cast<double>(e + 1) / static_cast<double>(explanations);
  }
  share_out(out, options.prior);
  if (options.foresee) foresee(out, series, file, near, free, all, densities, options);
  if (control != nullptr) control->progress = 1.0;
  out.status = Status::done;
  return out;
}

}  // namespace drawdown::study::explain
