#!/bin/sh
# The house stays as agreed: top level, layers kept by includes, files short enough to read, nothing left open.
set -eu
cd "$1"
bad=0
say() { echo "$1"; bad=1; }
for entry in *; do
  case $entry in
    README.md | DEVELOPERS.md | CMakeLists.txt | sim | ui | scenarios | tests | assets | build) ;;
    *) say "not in the agreed top level: $entry" ;;
  esac
done
hits() { grep -rnE "$1" $2 --include='*.hpp' --include='*.cpp' || true; }
[ -z "$(hits '#include *[<"](imgui|SFML|GL/)' sim)" ] || say "screen code inside sim"
[ -z "$(hits '#include *<(SFML|GL)/' 'ui/stage ui/panels ui/draw ui/look ui/shell ui/command')" ] || say "SFML outside ui/window"
[ -z "$(hits '#include *[<"]imgui' 'ui/stage ui/look ui/panels')" ] || say "Dear ImGui outside draw, shell and window"
[ -z "$(hits '#include "(sheet|disk|draw|panels|shell|command|work|window)/' 'ui/stage')" ] || say "stage knows a layer above it, or files"
[ -z "$(hits '#include "(panels|shell|command|work|window)/' 'ui/sheet ui/draw ui/disk ui/look')" ] || say "paper, drawing, files or words know a layer above them"
[ -z "$(hits '#include "(shell|command|work|window|disk)/' 'ui/panels')" ] || say "panels reach for files, threads or the window"
[ -z "$(hits '#include "(body|solve|readout|study|scenario)/' sim/network)" ] || say "network knows a layer above it"
[ -z "$(hits '#include "(body|readout|study|scenario)/' sim/solve)" ] || say "solve knows a layer above it"
[ -z "$(hits '#include "(readout|study|scenario)/' sim/body)" ] || say "body knows a layer above it"
[ -z "$(hits '#include "(study|scenario)/' sim/readout)" ] || say "readout knows a layer above it"
[ -z "$(hits '#include "labs/' 'sim/network sim/solve sim/body sim/readout sim/scenario sim/study sim/exchange')" ] || say "something below labs knows it"
[ -z "$(hits '#include *[<"](imgui|SFML|GL/)' 'ui/sheet ui/disk')" ] || say "screen code on paper"
[ -z "$(grep -rlE '#include *<ceres' sim ui | grep -v '^sim/labs/fit_search.cpp$' || true)" ] || say "Ceres outside sim/labs/fit_search.cpp"
[ -z "$(grep -rlE '#include *<csv.h>' sim ui | grep -v '^sim/labs/cells.cpp$' || true)" ] || say "libcsv outside sim/labs/cells.cpp"
[ -z "$(grep -rlE '#include *<cairo' sim ui | grep -v '^ui/draw/cairo_canvas.cpp$' || true)" ] || say "Cairo outside ui/draw/cairo_canvas.cpp"
[ -z "$(grep -rlE '#include *<sbml' sim ui | grep -v '^sim/exchange/' || true)" ] || say "libsbml outside sim/exchange"
[ "$(grep -rlE '#include <boost/numeric/odeint' sim ui | wc -l)" -le 1 ] || say "odeint in more than one file"
[ -z "$(grep -rlE 'toml\+\+' sim ui | grep -vE '^sim/scenario/(toml_text.(hpp|cpp)|write.cpp)$' | grep -v CMakeLists || true)" ] ||
  say "toml++ outside its one door (sim/scenario/toml_text.hpp) and the writer of stories"
[ -z "$(grep -rlE '#include *<Random123' sim ui | grep -v '^sim/study/random.cpp$' || true)" ] || say "Random123 outside sim/study/random.cpp"
core='sim/network sim/solve sim/body sim/readout sim/scenario sim/simulate.cpp'
inexact='exp|exp2|expm1|log|log2|log10|log1p|pow|cbrt|hypot|sin|cos|tan|asin|acos|atan|atan2|sinh|cosh|tanh|erf|erfc|tgamma|lgamma|fma'
[ -z "$(hits "\bstd::($inexact)[fl]?\(|unordered_|std::(hash|thread|async|execution)" "$core")" ] ||
  say "in the core something whose bits or order differ from system to system (network/elementary.hpp has exp, log, power)"
[ -z "$(hits "\bstd::($inexact)[fl]?\(|std::[a-z_]*_distribution|std::(mt19937|shuffle)" "sim/study/people* sim/study/random.* sim/study/clinic* sim/study/cohort*")" ] ||
  say "in the sampler of people or the clinic something whose bits differ from system to system"
[ -z "$(hits '#include *<(filesystem|fstream|thread|chrono|random)>' "$core" | grep -v '^sim/scenario/read_file.cpp' || true)" ] ||
  say "files, threads, clocks or chance in the core"
[ -z "$(grep -rnIE '\b([T]ODO|[F]IXME|[X]XX|[H]ACK)\b' sim ui scenarios assets || true)" ] || say "something left open"
for file in $(find sim ui tests -name '*.?pp'); do
  lines=$(wc -l <"$file")
  [ "$lines" -le 400 ] || say "over 400 lines: $file ($lines)"
done
exit $bad
