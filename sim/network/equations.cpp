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

// One factor as written mathematics, led by its sign: {x} what it reads, {a} and {b} its constants, {1} the number one.
const char* form_of(const Factor& factor) {
  switch (factor.kind) {
    case FactorKind::first_order:
      return " * {x}";
    case FactorKind::saturating:
      return " * {x} / ({a} + {x})";
    case FactorKind::repressing:
      return factor.b.value == 2.0 ? " / ({1} + ({x} / {a})^2)" : " / ({1} + {x} / {a})";
    case FactorKind::gain:
      return " * ({1} + {a} * {x})";
    case FactorKind::floor:
      return " * ({a} + ({1} - {a}) * {x} / {b})";
    case FactorKind::reciprocal:
      return " / {x}";
  }
  return "";
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

std::string rate_form(const Reaction& reaction, const Spelling& spelling) {
  std::string text = spelling.rate_constant;
  for (std::size_t i = 0; i < reaction.factors.size(); ++i) {
    for (const char* at = form_of(reaction.factors[i]); *at != '\0'; ++at) {
      if (*at != '{') {
        text += *at;
        continue;
      }
      const char sign = at[1];
      at += 2;
      text += sign == 'x'   ? spelling.symbol(reaction.factors[i].symbol)
              : sign == '1' ? spelling.one
                            : spelling.constant(i, sign == 'a' ? reaction.factors[i].a : reaction.factors[i].b, sign);
    }
  }
  return text;
}

std::string rate_text(const Network& network, const Reaction& reaction) {
  const Spelling spelling{[&](const Symbol& symbol) { return name_of(network, symbol); },
                          [](std::size_t, const Constant& constant, char) { return number(constant.value); },
                          number(reaction.constant.value), "1"};
  std::string text = rate_form(reaction, spelling);
  for (std::size_t at = text.find("+ -"); at != std::string::npos; at = text.find("+ -", at)) text.replace(at, 3, "- ");
  return text;
}

std::string equations_markdown(const Network& network) {
  std::ostringstream out;
  out << "## Species\n\nd[species]/dt is the sum of the rates below times what each reaction gains or loses, and where "
         "the "
         "plasma volume V moves, -[species] V'/V for each per litre of plasma; time in hours.\n\n| name | what it is | "
         "unit | chapter |\n|---|---|---|---|\n";
  for (const Species& s : network.species) {
    out << "| " << s.name << " | " << s.label << " | " << s.unit << " | " << s.chapter << " |\n";
  }
  out << "\n## Inputs (levers)\n\n| name | unit | at rest |\n|---|---|---|\n";
  for (const Input& i : network.inputs) out << "| " << i.name << " | " << i.unit << " | " << number(i.rest) << " |\n";
  if (!network.volume.empty()) {
    // Written as any rate law, of the constant one.
    Reaction volume;
    volume.constant.value = 1.0;
    volume.factors = network.volume;
    out << "\n## Plasma volume\n\nV / usual = `" << rate_text(network, volume) << "`\n";
  }
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
  for (const Factor& f : network.volume) print_constant(out, "plasma volume", "of " + name_of(network, f.symbol), f.a);
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
