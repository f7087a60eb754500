// A story back to text, so that reading it gives the same story.
#include <toml++/toml.h>

#include <sstream>

#include "scenario/read.hpp"

namespace drawdown::scenario {

namespace {

std::string quoted(const std::string& text) {
  std::ostringstream out;
  out << toml::value<std::string>(text);
  return out.str();
}

std::string exact(double value) {
  std::ostringstream out;
  out.precision(17);
  out << value;
  std::string text = out.str();
  if (text.find_first_of(".en") == std::string::npos) text += ".0";
  return text;
}

}  // namespace

std::string write_text(const Scenario& s) {
  std::ostringstream out;
  const auto words = [&](const Words& w) {
    if (!w.plain.empty()) out << "plain = " << quoted(w.plain) << '\n';
    if (!w.clinic.empty()) out << "clinic = " << quoted(w.clinic) << '\n';
    if (!w.mechanism.empty()) out << "mechanism = " << quoted(w.mechanism) << '\n';
  };
  const auto claims = [&](const std::vector<Claim>& held) {
    if (held.empty()) return;
    out << "claims = [";
    for (std::size_t i = 0; i < held.size(); ++i) out << (i > 0 ? ", " : "") << quoted(held[i].text);
    out << "]\n";
  };
  const auto list = [&](const char* key, const std::vector<std::string>& texts) {
    if (texts.empty()) return;
    out << key << " = [\n";
    for (const std::string& text : texts) out << "  " << quoted(text) << ",\n";
    out << "]\n";
  };
  out << "title = " << quoted(s.title) << '\n';
  if (!s.question.empty()) out << "question = " << quoted(s.question) << '\n';
  out << "days = " << exact(s.days) << '\n';
  list("learn", s.learn);
  list("sources", s.sources);
  out << "\n[message]\n";
  words(s.message);
  claims(s.claims);
  out << "\n[patient]\nweight_kg = " << exact(s.patient.weight)
      << "\nplasma_volume_ml_per_kg = " << exact(s.patient.plasma_volume);
  const auto usual = [&](const char* protein) { return s.patient.usual[s.model->protein(protein)]; };
  out << "\nusual_c3_g_per_l = " << exact(usual("C3") / 1000.0)
      << "\nusual_c4_g_per_l = " << exact(usual("C4") / 1000.0) << "\n\n[patient.usual_mg_per_l]\n";
  for (const body::Protein& p : s.model->proteins()) {
    if (p.name != "C3" && p.name != "C4") out << p.name << " = " << exact(usual(p.name.c_str())) << '\n';
  }
  out << "\n[laboratory]\nc3_g_per_l = [" << exact(s.laboratory.c3.low) << ", " << exact(s.laboratory.c3.high)
      << "]\nc4_g_per_l = [" << exact(s.laboratory.c4.low) << ", " << exact(s.laboratory.c4.high)
      << "]\nunit = " << (s.laboratory.unit == Unit::g_per_l ? "\"g/L\"" : "\"mg/dL\"") << "\n\n[levers]\n";
  const auto& levers = s.model->levers();
  const auto moved = [&](const std::vector<double>& values) {
    for (std::size_t i = 0; i < levers.size(); ++i) {
      if (values[i] != levers[i].rest) out << levers[i].name << " = " << exact(values[i]) << '\n';
    }
  };
  moved(s.levers);
  if (!s.beside.empty()) {
    out << "\n[beside]\n";
    moved(s.beside);
  }
  for (const Event& e : s.events) {
    out << "\n[[event]]\nday = " << exact(e.day) << "\nlever = " << quoted(levers[e.lever].name)
        << "\nvalue = " << exact(e.value) << '\n';
    if (e.ramp_days > 0.0) out << "ramp_days = " << exact(e.ramp_days) << '\n';
    if (e.for_hours > 0.0) out << "for_hours = " << exact(e.for_hours) << '\n';
    if (!e.label.empty()) out << "label = " << quoted(e.label) << '\n';
  }
  for (const TalkStep& t : s.talk) {
    out << "\n[[talk]]\nday = " << exact(t.day) << '\n';
    if (!t.look.empty()) out << "look = " << quoted(t.look) << '\n';
    words(t.say);
    if (!t.ask.empty()) out << "ask = " << quoted(t.ask) << '\n';
    if (!t.reveal.empty()) out << "reveal = " << quoted(t.reveal) << '\n';
    claims(t.claims);
  }
  return out.str();
}

}  // namespace drawdown::scenario
