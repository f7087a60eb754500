// The network printed for a reader: every reaction, rate law and constant with its unit and source.
#include <cmath>
#include <iomanip>
#include <map>
#include <sstream>

#include "network/network.hpp"

namespace drawdown::network {

namespace {

std::string number(double value) {
  std::ostringstream out;
  out << std::setprecision(6) << value;
  return out.str();
}

const std::string& name_of(const Network& network, Symbol symbol) {
  const auto i = static_cast<std::size_t>(symbol.index);
  return symbol.is_input ? network.inputs[i].name : network.species[i].name;
}

std::string factor_text(const Network& network, const Factor& factor) {
  const std::string& x = name_of(network, factor.symbol);
  const std::string a = number(factor.a.value);
  switch (factor.kind) {
    case FactorKind::first_order:
      return x;
    case FactorKind::saturating:
      return x + "/(" + a + " + " + x + ")";
    case FactorKind::repressing:
      return "1/(1 + (" + x + "/" + a + ")" + (factor.b.value == 2.0 ? "^2" : "") + ")";
    case FactorKind::gain:
      return "(1 " + std::string(factor.a.value < 0 ? "- " : "+ ") + number(std::abs(factor.a.value)) + " " + x + ")";
    case FactorKind::floor:
      return "(" + a + " + " + number(1.0 - factor.a.value) + " " + x + "/" + number(factor.b.value) + ")";
    case FactorKind::reciprocal:
      return "1/" + x;
  }
  return {};
}

std::string change_text(const Network& network, const Reaction& reaction) {
  std::string left;
  std::string right;
  for (const Change& change : reaction.changes) {
    std::string& side = change.count < 0 ? left : right;
    if (!side.empty()) side += " + ";
    const double count = std::abs(change.count);
    if (count != 1.0) side += number(count) + " ";
    side += network.species[static_cast<std::size_t>(change.species)].name;
  }
  return (left.empty() ? "nothing" : left) + " -> " + (right.empty() ? "nothing" : right);
}

void print_constant(std::ostringstream& out, const std::string& owner, const std::string& role, const Constant& c) {
  if (c.source.empty()) return;
  out << "| " << owner << " | " << role << " | " << number(c.value) << " | " << (c.unit.empty() ? "1" : c.unit) << " | "
      << c.source << " |\n";
}

}  // namespace

std::string rate_text(const Network& network, const Reaction& reaction) {
  std::string text = number(reaction.constant.value);
  for (const Factor& factor : reaction.factors) text += " * " + factor_text(network, factor);
  return text;
}

std::string equations_markdown(const Network& network) {
  std::ostringstream out;
  out << "## Species\n\nd[species]/dt is the sum of the rates below times what each reaction gains or loses; time in "
         "hours.\n\n| name | what it is | unit | chapter |\n|---|---|---|---|\n";
  for (const Species& s : network.species) {
    out << "| " << s.name << " | " << s.label << " | " << s.unit << " | " << s.chapter << " |\n";
  }
  out << "\n## Inputs (levers)\n\n| name | unit | at rest |\n|---|---|---|\n";
  for (const Input& i : network.inputs) out << "| " << i.name << " | " << i.unit << " | " << number(i.rest) << " |\n";
  std::string chapter;
  for (const Reaction& r : network.reactions) {
    if (r.chapter != chapter) {
      chapter = r.chapter;
      out << "\n## Reactions: " << chapter
          << "\n\n| name | what happens | change | rate per hour |\n|---|---|---|---|\n";
    }
    out << "| " << r.name << " | " << r.label << " | " << change_text(network, r) << " | `" << rate_text(network, r)
        << "` |\n";
  }
  out << "\n## Constants\n\n| reaction | role | value | unit | source |\n|---|---|---|---|---|\n";
  for (const Reaction& r : network.reactions) {
    print_constant(out, r.name, "rate", r.constant);
    for (const Factor& f : r.factors) {
      const std::string& x = name_of(network, f.symbol);
      print_constant(out, r.name, "of " + x, f.a);
      if (f.kind == FactorKind::floor) print_constant(out, r.name, "reference " + x, f.b);
    }
  }
  return out.str();
}

}  // namespace drawdown::network
