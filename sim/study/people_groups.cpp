// The table of groups. What the levels of a group are judged by stands in its row; what is called assumed nobody has
// measured: it was chosen so that the levels come out as published.
#include "study/people_groups.hpp"

#include <stdexcept>

#include "study/people_stories.hpp"

namespace drawdown::study {

namespace {

// Copies of the C4 genes (Yang 2007 Am J Hum Genet 80:1037, table 4): healthy women, and women with lupus.
constexpr C4Copies healthy_genes{0.015, 0.270, 0.594, 0.105, 0.016};
constexpr C4Copies lupus_genes{0.093, 0.329, 0.519, 0.051, 0.008};
// Of people whose C4 is low when well: most with two copies, assumed (Wilson 1989 Ann Rheum Dis 48:600).
constexpr C4Copies few_genes{0.60, 0.30, 0.10, 0.0, 0.0};

constexpr Normal sound_liver{1.0, 0.0, 1.0, 1.0};        // its spread is in the proteins' own
constexpr LogNormal usual_response{1.0, 0.3, 0.3, 1.5};  // assumed
constexpr LogNormal no_antibody{0.0, 0.0, 0.0, 0.0};
constexpr Normal anywhere{0.4, 0.1, 0.0, 1.0};  // without complexes a pattern does nothing

constexpr Constitution well{healthy_genes, sound_liver, usual_response, no_antibody, anywhere, 0.0};
// People with lupus: median antibody drive when quiet, median acute-phase response, mean share of the kidney, how many
// have antibodies to C1q. The response is small in many flares, least with kidney disease (common practice); antibodies
// to C1q are commonest there (from memory). Sizes assumed.
constexpr Constitution lupus(double quiet, double response, double kidney, double anti_c1q) {
  return {
      lupus_genes, {1.0, 0.07, 0.7, 1.25}, {response, 0.6, 0.0, 1.5}, {quiet, 0.85, 0.0, 4.0}, {kidney, 0.1, 0.0, 1.0},
      anti_c1q};
}
constexpr Constitution few_genes_lupus{
    few_genes, {0.74, 0.06, 0.55, 1.0}, {0.4, 0.6, 0.0, 1.5}, {0.3, 0.5, 0.0, 1.0}, {0.4, 0.1, 0.0, 1.0}, 0.1};
// No lupus, antibody that settles away from the kidney: as in people with Sjogren's syndrome.
constexpr Constitution dry_eyes{healthy_genes,        sound_liver,           {0.5, 0.5, 0.0, 1.5},
                                {0.4, 0.5, 0.0, 2.0}, {0.1, 0.05, 0.0, 1.0}, 0.0};
constexpr Constitution clotting{lupus_genes, {0.95, 0.09, 0.6, 1.15}, {0.3, 0.5, 0.0, 1.5},
                                no_antibody, {0.1, 0.05, 0.0, 1.0},   0.0};
// Complexes that settle in the skin.
constexpr Constitution in_the_skin{healthy_genes,        sound_liver,           {0.4, 0.5, 0.0, 1.5},
                                   {0.3, 0.5, 0.0, 1.5}, {0.0, 0.03, 0.0, 0.2}, 0.0};
// A liver still compensated (Child-Pugh A: C3 1.06, C4 0.21 g/L, Hepatogastroenterology 2004;51:1451).
constexpr Constitution cirrhosis{
    healthy_genes, {0.88, 0.08, 0.6, 1.05}, {0.5, 0.5, 0.0, 1.5}, no_antibody, anywhere, 0.0};

constexpr Uniform never{0.0, 0.0};  // treatment that there is none of
constexpr LogNormal at_once{1.0, 0.0, 1.0, 1.0};

// One cold, on a day of its own: inflammation that lifts C3 by some per cent (assumed).
constexpr Illness a_cold{"infection", {0.02, 0.5, 0.005, 0.08}, {10.0, 200.0}, at_once, {5.0, 10.0}, never};
// A flare built up in a month, seen a month later, treated with an incomplete response (assumed). Median antibody
// drive, the spread of its logarithm, and the mean share of synthesis that is left: it was depressed in most tracer
// studies of low-C3 lupus, nearly all nephritis (Sliwinski & Zvaifler 1972, Alper & Rosen 1967, not Hunsicker 1972);
// sizes assumed.
constexpr Illness flare_of(double drive, double spread, Normal synthesis) {
  return {
      "antibody_drive", {drive, spread, 0.0, 10.0}, {15.0, 25.0}, {30.0, 0.35, 14.0, 75.0}, {20.0, 40.0}, {0.35, 1.0},
      synthesis};
}
constexpr Normal unhurt{1.0, 0.0, 1.0, 1.0};
constexpr Normal depressed(double mean) {
  return {mean, 0.05, 0.5, 1.0};
}

constexpr const char* narayanan = "C3 and C4 low in 92, 85 % with and 43, 53 % without: Narayanan 2010 MJAFI 66:102";
constexpr const char* birmingham = "sensitivity and specificity: Birmingham 2010 Lupus (71 people, 70 flares)";
constexpr const char* steiman = "Wilson 1989 Ann Rheum Dis 48:600, Steiman 2010, Durcan 2016";
constexpr const char* six_months = "rise in six months: Front Immunol 2025 10.3389/fimmu.2025.1655825 (n 445)";
constexpr const char* cameron = "C3 often under half, back in 8-12 weeks: Cameron 1973 BMJ 3:668";
constexpr const char* schwertz = "C3 low in four of five, C4 normal: Schwertz 2001";
constexpr const char* schifferli = "C1q use 5.84 %/h: Schifferli 1987 Clin Exp Immunol 69:188";
constexpr const char* ramos = "complement low in three of four: Ramos-Casals 1998 Semin Arthritis Rheum 28:200";
constexpr const char* agglutinins = "C4 lower than C3: Eur J Haematol 1999;63:259";
constexpr const char* oku =
    "low in 33 of 70 (Ramos-Casals 2004 Lupus 13:777, volume and page from memory); C3 0.81, C4 0.13 g/L (Oku 2009 Ann "
    "Rheum Dis 68:1030)";
constexpr const char* carpenter =
    "C4 low in 81 % untreated (Clin Exp Immunol 2007;149:513), 49-20 % of normal (Carpenter 1969 J Clin Invest "
    "48:1495)";
constexpr const char* child_pugh =
    "C3 0.78 and 0.49, C4 0.11 and 0.09 g/L in Child-Pugh B and C: Hepatogastroenterology 2004;51:1451";
constexpr const char* buyon = "C3 +33 %, C4 +19 %: Buyon 1986 Am J Med 81:194";
constexpr const char* brandtzaeg = "C3 low, C4 not: Brandtzaeg 1996 J Infect Dis 173:647";
constexpr const char* low_fixing = "C3 and C4 hardly touched where antibody fixes little (common practice, no source)";
constexpr const char* varade = "C5 and properdin low in 8 of 8: Varade, Forristal & West 1990 Am J Kidney Dis";
constexpr const char* wisnieski = "C1q very low, C4 low: Wisnieski 1995 Medicine 74:24 (18 people)";
constexpr const char* romano = "C3 -33 %, C4 -55 % when the signal is taken away: Romano 2018 Clin Rheumatol";

std::vector<Group> table() {
  using namespace stories;  // NOLINT(google-build-using-namespace): the rows' last column
  // id, person, illness {lever, severity, onset, build-up, delay, treatment}, story, days between visits, source
  return {
      {"healthy", well, a_cold, cold, 90.0, "intervals of healthy people; a cold: assumed"},
      {"quiet-lupus", lupus(1.4, 0.4, 0.5, 0.2), a_cold, cold, 80.0, birmingham},
      {"low-but-quiet", few_genes_lupus, a_cold, cold, 80.0, steiman},
      {"mild-flare", lupus(0.7, 0.5, 0.1, 0.2), flare_of(1.3, 0.5, unhurt), flare, 50.0, "assumed"},
      {"flare-without-kidney", lupus(0.7, 0.15, 0.1, 0.2), flare_of(4.2, 0.5, unhurt), flare, 40.0, narayanan},
      {"flare-with-kidney", lupus(0.7, 0.3, 0.6, 0.5), flare_of(6.0, 0.4, depressed(0.93)), flare, 30.0, narayanan},
      {"kidney-relapse", lupus(1.7, 0.4, 0.5, 0.5), flare_of(2.6, 0.5, depressed(0.88)), flare, 60.0, birmingham},
      {"nephritis-mixed", lupus(0.6, 0.3, 0.6, 0.5), flare_of(2.4, 0.7, depressed(0.88)), flare, 30.0, six_months},
      {"after-throat-infection",
       well,
       {"activating_surface", {0.3, 0.6, 0.05, 1.0}, {3.0, 10.0}, {10.0, 0.3, 7.0, 21.0}, {7.0, 14.0}, never},
       throat,
       21.0,
       cameron},
      {"c3-glomerulopathy",
       well,
       {"nephritic_factor", {2.4, 0.45, 1.0, 8.0}, {20.0, 60.0}, {30.0, 0.5, 10.0, 90.0}, {60.0, 120.0}, {0.2, 0.9}},
       nephritic_factor,
       45.0,
       schwertz},
      {"cryoglobulins",
       well,
       {"cryoglobulin", {0.3, 0.8, 0.03, 1.0}, {20.0, 40.0}, {30.0, 0.4, 10.0, 75.0}, {40.0, 80.0}, {0.3, 1.0}},
       cryoglobulins,
       40.0,
       schifferli},
      {"cryoglobulins-sjogren",
       dry_eyes,
       {"cryoglobulin", {0.18, 0.8, 0.02, 1.0}, {20.0, 40.0}, {30.0, 0.4, 10.0, 75.0}, {40.0, 80.0}, {0.3, 1.0}},
       cryoglobulins_and_antibody,
       40.0,
       ramos},
      {"cold-antibody-anaemia",
       well,
       {"cold_antibody", {0.4, 0.6, 0.05, 1.0}, {20.0, 40.0}, {30.0, 0.4, 10.0, 75.0}, {30.0, 60.0}, {0.7, 1.0}},
       cold_antibodies,
       30.0,
       agglutinins},
      {"antiphospholipid",
       clotting,
       {"antibody_drive", {0.9, 0.6, 0.0, 6.0}, {40.0, 120.0}, {5.0, 0.0, 5.0, 5.0}, {10.0, 20.0}, never},
       clot,
       60.0,
       oku},
      {"c1-inhibitor-deficiency",
       well,
       {"c1inh_dose", {0.28, 0.35, 0.08, 0.5}, {0.0, 0.0}, at_once, {100.0, 160.0}, {0.6, 1.0}},
       inhibitor_lacking,
       45.0,
       carpenter},
      {"liver-failure",
       cirrhosis,
       {"hepatic_output", {0.47, 0.3, 0.2, 0.9}, {20.0, 60.0}, {60.0, 0.4, 20.0, 120.0}, {30.0, 60.0}, {0.0, 0.7}},
       failing_liver,
       30.0,
       child_pugh},
      {"pregnancy",
       well,
       {"pregnancy", {0.92, 0.12, 0.5, 1.0}, {0.0, 14.0}, {200.0, 0.05, 180.0, 220.0}, {55.0, 65.0}, never},
       pregnancy,
       40.0,
       buyon},
      {"arthritis",
       well,
       {"acute_trigger", {0.03, 0.6, 0.003, 0.4}, {10.0, 40.0}, {30.0, 0.5, 7.0, 90.0}, {30.0, 90.0}, {0.3, 1.0}},
       inflamed_joints,
       60.0,
       romano},
      {"arthritis-il6-blocked",
       well,
       {"acute_trigger", {0.03, 0.6, 0.003, 0.4}, {10.0, 40.0}, {30.0, 0.5, 7.0, 90.0}, {10.0, 20.0}, {0.95, 1.0}},
       inflamed_joints_il6,
       60.0,
       romano},
      {"severe-infection",
       well,
       {"infection", {0.9, 0.2, 0.5, 1.0}, {5.0, 20.0}, at_once, {3.0, 5.0}, {0.8, 1.0}},
       germs_in_the_blood,
       20.0,
       brandtzaeg},
      {"membranous-like", lupus(0.7, 0.5, 0.95, 0.0), flare_of(3.0, 0.5, unhurt), membranous, 60.0, low_fixing},
      {"c5-nephritic-factor",
       well,
       {"c5_nephritic_factor", {1.5, 0.3, 0.5, 3.0}, {20.0, 60.0}, {30.0, 0.5, 10.0, 90.0}, {60.0, 120.0}, never},
       terminal_factor,
       45.0,
       varade},
      {"vasculitis-anti-c1q",
       in_the_skin,
       {"antibody_drive", {3.5, 0.4, 1.0, 10.0}, {15.0, 25.0}, {30.0, 0.35, 14.0, 75.0}, {20.0, 40.0}, {0.35, 1.0}},
       vasculitis,
       40.0,
       wisnieski},
  };
}

}  // namespace

const std::vector<Group>& groups() {
  static const std::vector<Group> rows = table();
  return rows;
}

const Group& group_named(std::string_view id) {
  std::string allowed;
  for (const Group& group : groups()) {
    if (group.id == id) return group;
    allowed += (allowed.empty() ? "" : ", ") + group.id;
  }
  throw std::invalid_argument("no group '" + std::string(id) + "', there are: " + allowed);
}

}  // namespace drawdown::study
