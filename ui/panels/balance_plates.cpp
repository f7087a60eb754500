// The plates in the middle: where the extra goes.
#include <algorithm>
#include <cmath>

#include "panels/balance_parts.hpp"

namespace drawdown::panels {

using draw::Align;
using draw::Box;
using draw::Type;

namespace {

constexpr double of_its_own = 0.42;  // of the complexes that settle: such a tissue has its own plate at plain depth

// The largest share of the settling complexes that the story ever sends to each tissue.
std::vector<double> settling(const Run& run) {
  const auto& tissues = run.body().model->tissue_ids();
  std::vector<double> days{0.0};
  for (const scenario::Event& event : run.story().events) days.push_back(event.day + event.ramp_days);
  std::vector<double> most(tissues.size(), 0.0);
  for (const double day : days) {
    std::vector<double> weight;
    double all = 0.0;
    for (const body::Model::TissueIds& tissue : tissues) {
      weight.push_back(run.lever(tissue.share, day));
      all += weight.back();
    }
    for (std::size_t t = 0; t < tissues.size(); ++t) {
      if (all > 0.0) most[t] = std::max(most[t], weight[t] / all);
    }
  }
  return most;
}

std::string joined(const std::vector<std::string>& names) {
  std::string all;
  for (const std::string& name : names) all += (all.empty() ? "" : ", ") + name;
  return all;
}

// Several tissues on one plate: their names, and the state of the worst.
void draw_tissues_together(Frame& f, const Box& box, const std::vector<TissueLook>& looks,
                           const std::vector<readout::Tissue>& tissues) {
  const float em = f.em();
  const auto worst = std::max_element(tissues.begin(), tissues.end(), [](const auto& a, const auto& b) {
    return a.inflammation + a.injury < b.inflammation + b.injury;
  });
  const look::Colour ground = warm_ground(f, *worst);
  draw_tissue_ground(f, box, *worst);
  std::vector<std::string> names;
  std::vector<std::string> short_names;
  for (const TissueLook& look : looks) {
    names.push_back(f.word(look.key));
    short_names.push_back(f.words.at(look.key + "_short"));
  }
  const std::string& state = tissue_state(f, *worst);
  const float icon = std::min(box.h - 0.5F * em, 1.9F * em);
  float x = box.x + 0.5F * em;
  const float width = f.canvas.width(joined(short_names), Type::small);
  const bool icons = box.w > width + static_cast<float>(looks.size()) * (icon + 0.2F * em) + 2 * em;
  for (std::size_t i = 0; icons && i < looks.size(); ++i) {
    draw_tissue_figure(f, {x, box.middle_y() - icon / 2, icon, icon}, looks[i].figure, ground);
    x += icon + 0.25F * em;
  }
  if (icons) x += 0.3F * em;
  const float room = box.right() - x - 0.4F * em;
  std::string text = joined(names);
  Type type = Type::strong;
  if (f.canvas.width(text, type) > room) text = joined(short_names);
  if (f.canvas.width(text, type) > room) type = Type::small;
  if (f.canvas.width(text, type) > room) text = f.words.at("tissue.together");
  const bool two = box.h > 2.45F * em;
  f.canvas.fitted({x, box.middle_y() - (two ? 1.15F : 0.5F) * em, room, em}, text, type, f.palette.tissue_ink);
  if (two) f.canvas.fitted({x, box.middle_y() + 0.1F * em, room, em}, state, Type::small, f.palette.tissue_ink);
}

// One word for a hall: the first tissue's name, or that there are several; figures for the rest.
void draw_in_hall(Frame& f, const Plate& plate, const std::vector<TissueLook>& looks,
                  const std::vector<readout::Tissue>& tissues, std::size_t first) {
  const float em = f.em();
  const Box& box = plate.box;
  readout::Tissue worst;
  for (const std::size_t token : plate.tokens) {
    const readout::Tissue& t = tissues[token - first];
    if (t.inflammation + t.injury >= worst.inflammation + worst.injury) worst = t;
  }
  const look::Colour ground = warm_ground(f, worst);
  draw_tissue_ground(f, box, worst);
  const float icon = std::min(box.h - 0.4F * em, 2.6F * em);
  float x = box.x + 0.5F * em;
  for (const std::size_t token : plate.tokens) {
    if (x + icon > box.right() - 0.4F * em) break;
    draw_tissue_figure(f, {x, box.middle_y() - icon / 2, icon, icon}, looks[token - first].figure, ground);
    x += icon + 0.3F * em;
  }
  const float room = box.right() - x - 0.4F * em;
  const std::string& name = plate.tokens.size() == 1 ? f.words.at(looks[plate.tokens.front() - first].key + "_short")
                                                     : f.words.at("tissue.several");
  for (const Type type : {Type::figure, Type::heading, Type::small}) {
    if (f.canvas.width(name, type) > room || f.canvas.line_height(type) > box.h) continue;
    f.canvas.text({x, box.middle_y() - f.canvas.line_height(type) / 2}, name, type, f.palette.tissue_ink);
    break;
  }
}

}  // namespace

std::vector<Plate> plates_for(const Frame& f, const Run& run, const readout::Tokens& tokens, const SideNumbers& c3,
                              const SideNumbers& c4, std::size_t most) {
  const std::vector<double> settles = settling(run);
  const auto shown = [&](std::size_t token) { return c3.extra[token] >= least_way || c4.extra[token] >= least_way; };
  // What is used in the fluid: together under the name of what uses most.
  std::vector<std::size_t> fluid{tokens.loop, tokens.fluid, tokens.c1_free};
  const auto uses = [&](std::size_t token) { return std::max(c3.extra[token], c4.extra[token]); };
  std::stable_sort(fluid.begin(), fluid.end(), [&](std::size_t a, std::size_t b) { return uses(a) > uses(b); });
  const auto plates = [&](bool each, bool one) {
    std::vector<Plate> all;
    Plate together;
    together.tissue = true;
    for (std::size_t t = 0; t < settles.size(); ++t) {
      if (each || (settles[t] >= of_its_own && !one)) {
        all.push_back({{tokens.first_tissue + t}, true, {}});
      } else {
        together.tokens.push_back(tokens.first_tissue + t);
      }
    }
    if (!together.tokens.empty()) all.push_back(together);
    const auto add = [&](std::size_t token) {
      if (shown(token)) all.push_back({{token}, false, {}});
    };
    add(tokens.red_cells);
    if (each) {
      for (const std::size_t token : fluid) add(token);
    } else if (std::any_of(fluid.begin(), fluid.end(), shown)) {
      all.push_back({fluid, false, {}});
    }
    for (const std::size_t token : {tokens.wear, tokens.taken_out, tokens.lost}) add(token);
    return all;
  };
  for (const auto& [each, one] : {std::pair{true, false}, std::pair{false, false}}) {
    if (each && f.state.page.depth == look::Depth::plain) continue;
    std::vector<Plate> all = plates(each, one);
    if (all.size() <= most) return all;
  }
  std::vector<Plate> all = plates(false, true);
  // Where even that is too much: what is used elsewhere together, under the name of what uses most.
  if (all.size() > std::max<std::size_t>(most, 2)) {
    Plate elsewhere;
    for (std::size_t p = 1; p < all.size(); ++p) {
      elsewhere.tokens.insert(elsewhere.tokens.end(), all[p].tokens.begin(), all[p].tokens.end());
    }
    std::stable_sort(elsewhere.tokens.begin(), elsewhere.tokens.end(),
                     [&](std::size_t a, std::size_t b) { return uses(a) > uses(b); });
    all = {all.front(), elsewhere};
  }
  return all;
}

void draw_plates(Frame& f, const Run& run, const StageShape& shape, const readout::Tokens& tokens,
                 const StageTexts& texts) {
  const float em = f.em();
  const auto looks = tissue_looks(*run.body().model);
  const auto tissues = run.tissues(f.state.time.day);
  // By what takes most of what is extra.
  float at_tissues = 0;
  float elsewhere = 0;
  for (const SideShape& side : shape.side) {
    for (const Way& way : side.extra) (shape.plates[way.plate].tissue ? at_tissues : elsewhere) += way.opening();
  }
  const bool any = at_tissues + elsewhere > 0;
  const bool complexes =
      at_tissues >= elsewhere && !(shape.side[1].extra.empty() && stage::without_complexes(run, f.state.time.day));
  const char* key = !any ? "picture.no_extra" : complexes ? "picture.extra_complexes" : "picture.extra";
  const look::Colour ink = any ? f.palette.complexes : f.palette.quiet;
  for (const char* ending : {"", "_short"}) {
    if (!texts.heading) break;
    const std::string& heading = f.words.at(std::string(key) + ending);
    if (f.canvas.width(heading, Type::strong) > shape.heading.w - em && *ending == 0) continue;
    f.canvas.fitted(shape.heading, heading, Type::strong, ink, Align::centre);
    break;
  }
  for (const Plate& plate : shape.plates) {
    if (plate.tissue) {
      if (texts.hall) {
        draw_in_hall(f, plate, looks, tissues, tokens.first_tissue);
        continue;
      }
      std::vector<TissueLook> of;
      std::vector<readout::Tissue> states;
      for (const std::size_t token : plate.tokens) {
        of.push_back(looks[token - tokens.first_tissue]);
        states.push_back(tissues[token - tokens.first_tissue]);
      }
      if (of.size() == 1) {
        draw_tissue_box(f, plate.box, of.front(), states.front());
      } else {
        draw_tissues_together(f, plate.box, of, states);
      }
      continue;
    }
    f.canvas.fill(plate.box, look::mix(f.palette.card, f.palette.complexes, 0.10F), 0.5F * em);
    f.canvas.outline(plate.box, look::mix(f.palette.card, f.palette.complexes, 0.45F), 0.5F * em, 1.0F);
    const Box line{plate.box.x + 0.4F * em, plate.box.middle_y() - 0.55F * em, plate.box.w - 0.8F * em, em};
    const std::string& name = f.fitting("plate." + tokens.names[plate.tokens.front()], Type::small, line.w);
    Type type = texts.hall ? Type::heading : Type::strong;
    if (f.canvas.width(name, type) > line.w) type = Type::small;
    const float lh = f.canvas.line_height(type);
    f.canvas.fitted({line.x, plate.box.middle_y() - lh / 2, line.w, lh}, name, type, f.palette.ink, Align::centre);
  }
}

}  // namespace drawdown::panels
