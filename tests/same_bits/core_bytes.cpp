// core_bytes < STORY: a story's text in, and out for every quantity the hash of its bytes on every day of the run. What
// is equal here is equal to the last bit. Built at several levels of optimisation and for WebAssembly.
//   core_bytes --nudge < STORY    the same with one constant, C3's catabolic rate, moved by one unit in its last place
//   core_bytes --numbers < LIST   the bytes of every number of a TOML list called `numbers`, as the reader has them
//   core_bytes --elementary       the hash of exp, log and power over many arguments
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <cstring>
#include <string>

#include "network/elementary.hpp"
#include "scenario/read.hpp"
#include "scenario/toml_text.hpp"
#include "simulate.hpp"

using namespace drawdown;

namespace {

// FNV-1a over the bytes of doubles, lowest byte first wherever it runs.
class Hash {
 public:
  void add(double value) {
    std::uint64_t bits = 0;
    std::memcpy(&bits, &value, sizeof bits);
    for (unsigned shift = 0; shift < 64; shift += 8) value_ = (value_ ^ ((bits >> shift) & 0xFFU)) * 0x100000001B3U;
  }
  void print(const std::string& name) const {
    std::printf("%s %08lx%08lx\n", name.c_str(), static_cast<unsigned long>(value_ >> 32U),
                static_cast<unsigned long>(value_ & 0xFFFFFFFFU));
  }

 private:
  std::uint64_t value_ = 0xCBF29CE484222325U;
};

std::string standard_input() {
  std::string text;
  char part[4096];
  for (std::size_t n = 0; (n = std::fread(part, 1, sizeof part, stdin)) > 0;) text.append(part, n);
  return text;
}

std::shared_ptr<const body::Model> model(bool nudged) {
  body::Catalogue catalogue = body::standard_catalogue();
  for (body::Protein& protein : catalogue.proteins) {
    if (nudged && protein.name == "C3") protein.fcr = std::nextafter(protein.fcr, 1.0);
  }
  return std::make_shared<const body::Model>(std::move(catalogue));
}

void hash_flows(const Run& run, double day, Hash& hash) {
  const readout::FlowPair pair = run.flows(day);
  for (const readout::Flows* f : {&pair.c3, &pair.c4}) {
    for (const double v : {f->made, f->ordinary, f->classical, f->alternative, f->out_to_tissue, f->back_from_tissue,
                           f->exchanged, f->pool, f->slope, f->spent_total(), f->share_used()}) {
      hash.add(v);
    }
    for (const double v : f->spent) hash.add(v);
  }
}

int story_bytes(bool nudged) {
  const auto made_of = model(nudged);
  const auto story = scenario::read_text(standard_input(), "story.toml", made_of);
  const auto run = simulate(story);
  std::printf("outcome %d, %lu steps\n", static_cast<int>(run->outcome().status),
              static_cast<unsigned long>(run->course().step_count()));
  if (!run->started()) return 1;
  const auto daily = [&](const std::string& name, auto add) {
    Hash hash;
    for (double day = 0.0; day <= run->last_day(); day += 1.0) add(day, hash);
    hash.print(name);
  };
  for (std::size_t i = 0; i < made_of->readouts().size(); ++i) {
    daily(made_of->readouts()[i].name,
          [&](double day, Hash& hash) { hash.add(run->in_sample(body::ReadoutId(i), day)); });
  }
  for (std::size_t i = 0; i < made_of->network().species.size(); ++i) {
    daily("species " + made_of->network().species[i].name,
          [&](double day, Hash& hash) { hash.add(run->course().value(i, 24.0 * day)); });
  }
  daily("flows of C3 and C4", [&](double day, Hash& hash) { hash_flows(*run, day, hash); });
  daily("levers", [&](double day, Hash& hash) {
    for (const double v : run->levers(day)) hash.add(v);
  });
  Hash usual;
  for (const double v : run->usual_state()) usual.add(v);
  usual.print("usual state");
  return run->complete() ? 0 : 1;
}

int number_bytes() {
  const toml::table table = scenario::parse_toml(standard_input(), "numbers");
  const toml::array* numbers = table["numbers"].as_array();
  if (numbers == nullptr) return 1;
  for (const toml::node& node : *numbers) {
    Hash hash;
    hash.add(node.value<double>().value_or(std::nan("")));
    hash.print("number");
  }
  return 0;
}

int elementary_bytes() {
  Hash exp;
  Hash log;
  Hash power;
  std::uint64_t random = 1;
  for (int i = 0; i < 100000; ++i) {
    random = random * 6364136223846793005U + 1442695040888963407U;
    const double share = static_cast<double>(random >> 11U) * 0x1p-53;
    exp.add(elementary::exp(1400.0 * share - 700.0));
    log.add(elementary::log(share / (1.0 - share)));
    power.add(elementary::power(2.0 * share, 20.0 * share - 10.0));
  }
  exp.print("exp");
  log.print("log");
  power.print("power");
  return 0;
}

}  // namespace

int main(int argc, char** argv) {
  const std::string wish = argc > 1 ? argv[1] : "";
  if (wish == "--numbers") return number_bytes();
  if (wish == "--elementary") return elementary_bytes();
  if (!wish.empty() && wish != "--nudge") {
    std::fputs("usage: core_bytes [--nudge|--numbers|--elementary] < TEXT\n", stderr);
    return 2;
  }
  return story_bytes(wish == "--nudge");
}
