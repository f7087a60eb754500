// Reading what is altered, and making a model of it.
#include "study/truth/world.hpp"

#include <algorithm>
#include <iterator>
#include <optional>
#include <stdexcept>

#include "body/builder.hpp"
#include "scenario/decimal.hpp"

namespace drawdown::study::truth {

namespace {

struct Alteration {
  std::string name;
  std::string part;  // after / or .
  char mark = 0;     // '/', '.', '=' or 0
  double value = 1.0;
};

[[noreturn]] void refuse(const std::string& text) {
  throw std::invalid_argument("truth: cannot be altered so: " + text);
}

Alteration read_alteration(const std::string& text) {
  Alteration a;
  std::size_t sign = text.find(" x ");
  if (sign == std::string::npos) {
    sign = text.find(" = ");
    a.mark = '=';
  }
  if (sign == std::string::npos) refuse(text);
  const auto value = scenario::read_decimal(text.substr(sign + 3));
  if (!value) refuse(text);
  a.value = *value;
  a.name = text.substr(0, sign);
  const std::size_t cut = a.name.find_first_of("/.");
  if (cut != std::string::npos) {
    if (a.mark == '=') refuse(text);
    a.mark = a.name[cut];
    a.part = a.name.substr(cut + 1);
    a.name.resize(cut);
  }
  return a;
}

std::vector<std::string> parted(const std::string& text) {
  std::vector<std::string> parts;
  for (std::size_t from = 0; from < text.size();) {
    const std::size_t to = std::min(text.find(", ", from), text.size());
    parts.push_back(text.substr(from, to - from));
    from = to + 2;
  }
  return parts;
}

bool matches(const std::string& pattern, const std::string& name) {
  if (pattern.empty() || pattern.back() != '*') return pattern == name;
  return name.compare(0, pattern.size() - 1, pattern, 0, pattern.size() - 1) == 0;
}

double* field_of(body::Protein& p, const std::string& field) {
  const std::pair<const char*, double*> fields[] = {
      {"fcr", &p.fcr},
      {"outside", &p.outside},
      {"liver_share", &p.liver_share},
      {"acute_gain", &p.acute_gain},
      {"leak_gain", &p.leak_gain},
      {"il6_share", &p.il6_share},
      {"food_share", &p.food_share},
      {"pregnancy_gain", &p.pregnancy_gain},
  };
  for (const auto& [name, value] : fields) {
    if (field == name) return value;
  }
  return nullptr;
}

// How many rows it touched.
std::size_t alter_rows(body::Catalogue& catalogue, const Alteration& a) {
  std::size_t touched = 0;
  for (body::Protein& protein : catalogue.proteins) {
    double* field = matches(a.name, protein.name) ? field_of(protein, a.part) : nullptr;
    if (field == nullptr) continue;
    *field *= a.value;
    touched += 1;
  }
  for (body::Tissue& tissue : catalogue.tissues) {
    if (!matches(a.name, tissue.name) || a.part != "to_igg") continue;
    tissue.to_igg *= a.value;
    touched += 1;
  }
  return touched;
}

std::size_t alter_reaction(const network::Network& names, network::Reaction& reaction, const Alteration& a) {
  if (!matches(a.name, reaction.name)) return 0;
  if (a.mark == 0) {
    reaction.constant.value *= a.value;
    return 1;
  }
  std::size_t touched = 0;
  for (network::Factor& factor : reaction.factors) {
    const auto at = static_cast<std::size_t>(factor.symbol.index);
    const std::string& on = factor.symbol.is_input ? names.inputs[at].name : names.species[at].name;
    using network::FactorKind;
    const bool none = factor.kind == FactorKind::first_order || factor.kind == FactorKind::reciprocal;
    if (on != a.part || none || is_definition(factor.a)) continue;
    factor.a.value *= a.value;
    touched += 1;
  }
  return touched;
}

std::shared_ptr<const body::Body> standard() {
  static const auto body = body::make_body({});
  return body;
}

}  // namespace

bool is_definition(const network::Constant& constant) {
  const char* const said[] = {"definition", "nothing at the usual number", "each working copy", "injury saturates"};
  return std::any_of(std::begin(said), std::end(said),
                     [&](const char* words) { return constant.source.find(words) != std::string::npos; });
}

World::World() : body_(standard()) {}

World::World(const std::string& altered, std::size_t people, std::vector<std::string> only)
    : body_(standard()), people_(people), only_(std::move(only)) {
  if (altered.empty()) return;
  body::Catalogue catalogue = body::standard_catalogue();
  std::vector<Alteration> reactions;
  for (const std::string& text : parted(altered)) {
    const Alteration a = read_alteration(text);
    if (a.mark == '=') {
      const auto lever = body::standard_model()->find_lever(a.name);
      if (!lever) refuse(text);
      levers_.emplace_back(*lever, a.value);
    } else if (a.mark == '.') {
      if (alter_rows(catalogue, a) == 0) refuse(text);
    } else {
      network::Network copy = body::standard_model()->network();
      std::size_t touched = 0;
      for (network::Reaction& r : copy.reactions) touched += alter_reaction(body::standard_model()->network(), r, a);
      if (touched == 0) refuse(text);
      reactions.push_back(a);
    }
  }
  catalogue.chapters.emplace_back([reactions](body::Builder& b) {
    b.revise([&](network::Reaction& r) {
      for (const Alteration& a : reactions) (void)alter_reaction(body::standard_model()->network(), r, a);
    });
  });
  body_ = body::make_body({}, std::make_shared<const body::Model>(std::move(catalogue)));
}

bool World::wanted(const std::vector<std::string>& ids) const {
  if (only_.empty()) return true;
  return std::any_of(ids.begin(), ids.end(), [&](const std::string& id) {
    return std::any_of(only_.begin(), only_.end(), [&](const std::string& one) { return one.rfind(id, 0) == 0; });
  });
}

scenario::Scenario World::held(scenario::Scenario story) const {
  story.model = body_->model;
  for (const auto& [lever, value] : levers_) {
    story.levers[lever] = value;
    const auto of = [lever = lever](const scenario::Event& e) { return e.lever == lever; };
    story.events.erase(std::remove_if(story.events.begin(), story.events.end(), of), story.events.end());
  }
  return story;
}

std::shared_ptr<const Run> World::run(scenario::Scenario story) const {
  const scenario::Scenario here = held(std::move(story));
  auto result = here.patient == body::Patient{} ? simulate(body_, here) : simulate(here);
  if (!result->complete()) throw std::runtime_error("truth: a run did not finish");
  return result;
}

}  // namespace drawdown::study::truth
