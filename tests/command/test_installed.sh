#!/bin/sh
# Installed into a folder of its own, with the source out of reach, the program finds its words and stories; without
# them it says where it looked, exit 3.
#   test_installed.sh BUILD SOURCE
set -eu
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
cmake --install "$1" --prefix "$folder" >/dev/null
unset DRAWDOWN_DATA
cd "$folder"
bin/drawdown list | grep -q "02-kidney-flare" || { echo "installed: no stories" >&2; exit 1; }
bin/drawdown picture kidney-flare --day 50 --size 1100x700 -o out.png
[ -s out.png ] || { echo "installed: no picture" >&2; exit 1; }
if strings -a bin/drawdown 2>/dev/null | grep -q "^$(cd "$2" && pwd)\$"; then echo "the source's path is compiled in" >&2; exit 1; fi
mv share elsewhere
code=0
bin/drawdown list >said 2>&1 || code=$?
[ "$code" = 3 ] || { echo "without its folders: exit $code" >&2; cat said >&2; exit 1; }
grep -q "DRAWDOWN_DATA" said || { echo "not said where it looked" >&2; cat said >&2; exit 1; }
DRAWDOWN_DATA=$folder/elsewhere/drawdown bin/drawdown list | grep -q "02-kidney-flare"
