// The cascade's view in two files: cascade.cpp draws water, land and bars, cascade_words.cpp what is written on them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "panels/cascade_map.hpp"
#include "panels/panels.hpp"

namespace drawdown::panels {

class CascadeView {
 public:
  CascadeView(Frame& frame, const draw::Box& box);
  void draw();

 private:
  // cascade.cpp
  void find_pointed();
  [[nodiscard]] look::Colour colour_of(body::ProteinId protein) const;
  void draw_stream(const Stream& stream, bool chosen);
  void draw_motion(const Stream& stream);
  void draw_ring_heads();
  void draw_narrows(const Narrows& narrows);
  void draw_mouth();
  void draw_dam(const Dam& dam);

  // cascade_words.cpp
  [[nodiscard]] const std::string& said(const std::string& key, const std::string& otherwise) const;
  [[nodiscard]] std::string name_of(const network::Symbol& symbol, std::size_t main) const;
  [[nodiscard]] std::string name_of(const std::string& key, body::SpeciesId species) const;
  [[nodiscard]] std::string opener_name(std::size_t main, const Opener& opener) const;
  [[nodiscard]] std::string percent(double share) const;
  [[nodiscard]] std::string times(const Amount& amount) const;
  [[nodiscard]] std::vector<std::string> biggest(std::size_t main) const;
  // Written only where it fits the card and lies on no other words.
  bool put(draw::Point at, const std::string& words, draw::Type type, const look::Colour& colour, draw::Align align);
  bool free_of_words(const draw::Box& box) const;
  [[nodiscard]] bool on_water(const draw::Box& box) const;
  void write_reach(std::size_t main);
  void write_plates();
  void write_triggers();
  void write_helpers();
  void write_guards();
  void write_loop();
  void write_dams();
  void write_scale();
  void tell();
  // The first thing that is not as in health, from the left; a dam before all else.
  [[nodiscard]] std::string verdict() const;
  [[nodiscard]] std::string sentence(const MapPart& part) const;
  [[nodiscard]] std::vector<body::ReactionId> reactions_of(const MapPart& part) const;
  [[nodiscard]] std::string part_key(const MapPart& part) const;
  [[nodiscard]] Amount flux(const MapPart& part) const;

  Frame& f;
  const Run& run;
  const CascadeFlows& flows;
  const CascadeParts& parts;
  float em;
  bool plain;
  draw::Box box, map, told;
  float told_h = 0, scale_h = 0;
  int lines = 3;  // that stand over a reach
  CascadeMap m;
  std::vector<draw::Box> taken;
  int pointed = -1;
  std::optional<draw::Box> focus;
};

}  // namespace drawdown::panels
