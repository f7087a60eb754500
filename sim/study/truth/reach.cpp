#include "study/truth/reach.hpp"

#include <algorithm>
#include <cmath>
#include <iomanip>
#include <locale>
#include <sstream>
#include <stdexcept>

#include "study/truth/world.hpp"

namespace drawdown::study::truth {

namespace {

constexpr TruthChapter asked[] = {TruthChapter::kinetics, TruthChapter::patterns, TruthChapter::treatments,
                                  TruthChapter::wider, TruthChapter::mechanisms};

std::vector<TruthEntry> ledger_of(const World& world) {
  std::vector<TruthEntry> all;
  for (const TruthChapter chapter : asked) {
    for (TruthEntry& e : truth_chapter(chapter, world)) all.push_back(std::move(e));
  }
  return all;
}

// The name with each place of the body as @.
std::string without_place(std::string name, const std::vector<std::string>& places) {
  for (const std::string& place : places) {
    for (std::size_t at = name.find("_" + place); at != std::string::npos; at = name.find("_" + place, at + 1)) {
      const std::size_t end = at + 1 + place.size();
      if (end == name.size() || name[end] == '_' || name[end] == '/') name.replace(at + 1, place.size(), "@");
    }
  }
  return name;
}

std::string figure(double value) {
  std::ostringstream out;
  out.imbue(std::locale::classic());
  out << std::setprecision(4) << value;
  return out.str();
}

std::string joined(const std::vector<std::string>& ids) {
  std::string text;
  for (std::size_t i = 0; i < ids.size() && i < 4; ++i) text += (i > 0 ? " " : "") + ids[i];
  if (ids.size() > 4) text += " +" + std::to_string(ids.size() - 4);
  return text.empty() ? "-" : text;
}

const std::vector<TruthEntry>& unaltered() {
  static const std::vector<TruthEntry> ledger = ledger_of(World());
  return ledger;
}

// Which figures leave, and how far the one moves that moves most.
std::vector<std::string> leaving(const WrittenConstant& constant, double factor, double& moved) {
  std::ostringstream altered;
  altered.imbue(std::locale::classic());
  for (const std::string& member : constant.members) {
    altered << (altered.tellp() > 0 ? ", " : "") << member << " x " << std::setprecision(12) << factor;
  }
  std::vector<std::string> out;
  try {
    const std::vector<TruthEntry> now = ledger_of(World(altered.str()));
    const std::vector<TruthEntry>& before = unaltered();
    for (std::size_t i = 0; i < now.size(); ++i) {
      if (before[i].kind == TruthKind::holds_anyway || !before[i].inside()) continue;
      moved = std::max(moved, std::abs(now[i].model - before[i].model) / (now[i].high - now[i].low));
      if (!now[i].inside()) out.push_back(now[i].id);
    }
  } catch (const std::logic_error&) {
    out.emplace_back("no healthy body");
  } catch (const std::runtime_error&) {
    out.emplace_back("no run");
  }
  return out;
}

std::vector<std::string> named(const std::vector<const char*>& names) {
  std::vector<std::string> lines;
  for (const WrittenConstant& c : written_constants()) {
    const bool listed = std::any_of(names.begin(), names.end(), [&](const char* name) { return c.name == name; });
    if (listed) lines.push_back(c.name + ": " + c.what + ", " + figure(c.value) + " (" + c.source + ")");
  }
  return lines;
}

}  // namespace

std::vector<WrittenConstant> written_constants() {
  const body::Model& model = *body::standard_model();
  const network::Network& network = model.network();
  std::vector<std::string> places{"red_cells"};
  for (const body::Tissue& tissue : model.tissues()) places.push_back(tissue.name);
  std::vector<WrittenConstant> all;
  const auto add = [&](const std::string& member, double value, const std::string& what, const std::string& source) {
    if (member.rfind("return_", 0) == 0) return;  // moves with the escape, or health is no steady state
    const std::string name = without_place(member, places);
    const auto same = [&](const WrittenConstant& c) { return c.name == name; };
    const auto found = std::find_if(all.begin(), all.end(), same);
    if (found != all.end()) {
      if (std::find(found->members.begin(), found->members.end(), member) == found->members.end())
        found->members.push_back(member);
    } else {
      all.push_back({name, {member}, value, what, source});
      if (member.rfind("escape_", 0) == 0 && member.find('/') == std::string::npos)
        all.back().members.push_back("return_" + member.substr(7));
    }
  };
  for (const body::Protein& p : model.proteins()) {
    add(p.name + ".fcr", p.fcr, p.label + " is used, fraction an hour", p.source);
    const auto field = [&](const char* name, double value, const char* what) {
      if (value != 0.0) add(p.name + "." + name, value, p.label + what, p.source);
    };
    field("outside", p.outside, ": pool outside the plasma");
    field("liver_share", p.liver_share, ": share made in the liver");
    field("acute_gain", p.acute_gain, ": rise with the acute phase");
    field("leak_gain", p.leak_gain, ": rise of escape with a leak");
    field("il6_share", p.il6_share, ": share of synthesis that needs IL-6");
    field("food_share", p.food_share, ": share of synthesis that stops in malnutrition");
    field("pregnancy_gain", p.pregnancy_gain, ": rise in pregnancy");
  }
  for (const network::Reaction& r : network.reactions) {
    if (r.name.rfind("make_", 0) == 0) continue;  // its factors are the proteins' rows
    if (r.constant.value != 0.0 && !is_definition(r.constant))
      add(r.name, r.constant.value, r.label, r.constant.source);
    for (const network::Factor& f : r.factors) {
      const auto at = static_cast<std::size_t>(f.symbol.index);
      const std::string& on = f.symbol.is_input ? network.inputs[at].name : network.species[at].name;
      if (f.a.value != 0.0 && !is_definition(f.a)) add(r.name + "/" + on, f.a.value, r.label, f.a.source);
    }
  }
  return all;
}

Reach reach_of(const WrittenConstant& constant) {
  Reach reach;
  for (const double step : reach_steps) {
    if (reach.up == 0.0) {
      reach.first_up = leaving(constant, step, reach.moved);
      if (!reach.first_up.empty()) reach.up = step;
    }
    if (reach.down == 0.0) {
      reach.first_down = leaving(constant, 1.0 / step, reach.moved);
      if (!reach.first_down.empty()) reach.down = step;
    }
  }
  return reach;
}

std::string reach_head() {
  return "constant\tvalue\tdivided by\tfirst out\tmultiplied by\tfirst out\tmoved\tsource";
}

std::string reach_line(const WrittenConstant& constant, const Reach& reach) {
  const auto step = [](double s) { return s > 0.0 ? figure(s) : std::string("none to 4"); };
  std::ostringstream moved;
  moved.imbue(std::locale::classic());
  moved << std::fixed << std::setprecision(3) << reach.moved;
  return constant.name + "\t" + figure(constant.value) + "\t" + step(reach.down) + "\t" + joined(reach.first_down) +
         "\t" + step(reach.up) + "\t" + joined(reach.first_up) + "\t" + moved.str() + "\t" + constant.source;
}

std::vector<std::string> least_supported() {
  return named({"C2.il6_share", "C4BP.il6_share", "C9.il6_share", "leak_C4", "escape_C2/germs", "leak_C3",
                "properdin_C3bIgGBb_@/c5_nephritic_factor", "c5_activator_sC5b9/c5_nephritic_factor",
                "c5_activator_attack/c5_nephritic_factor", "c5_activator_idle/c5_nephritic_factor"});
}

}  // namespace drawdown::study::truth
