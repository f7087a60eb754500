#!/bin/sh
# Installs what is missing, builds, and opens Drawdown's window. Words after it go to the program: sh ui/start.sh steady-day
# Without a display it says so, and writes the opening story's picture and table into build/ instead.
set -eu
top=$(cd "$(dirname "$0")/.." && pwd)
sh "$top/.ci/setup" run
build=$top/build/program
cmake -S "$top" -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Release >/dev/null
cmake --build "$build"
if [ -n "${DISPLAY:-}" ]; then
  exec "$build/ui/drawdown" "$@"
fi
echo "There is no display to open a window on. Writing the opening story's picture and table instead:"
"$build/ui/drawdown" picture kidney-flare -o "$top/build/kidney-flare.png"
"$build/ui/drawdown" course kidney-flare --csv "$top/build/kidney-flare.csv"
"$build/ui/drawdown" course kidney-flare
echo "$top/build/kidney-flare.png"
echo "$top/build/kidney-flare.csv"
