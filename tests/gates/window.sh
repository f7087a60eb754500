#!/bin/sh
# The real program in a real window under Xvfb: it opens, draws, closes by itself; pictures of every view in both rooms
# are written, whole and not blank; without a display it says so.
set -eu
program=$1
out=$(mktemp -d)
trap 'rm -rf "$out"' EXIT
unset DISPLAY
export XDG_STATE_HOME="$out/state"

if "$program" 2>"$out/said"; then echo "opened a window without a display" >&2; exit 1; fi
grep -q "no display" "$out/said"

xvfb-run -a -s "-screen 0 1600x900x24" "$program" --size 1600x900 --quit-after 2
grep -q "cautions" "$out/state/drawdown/settings"
xvfb-run -a -s "-screen 0 1600x900x24" "$program" /nowhere.toml --quit-after 1

for room in bright dark; do
  for view in balance words course levers compare cautions stories keys; do
    "$program" picture kidney-flare --view $view --room $room --day 95 --size 1100x700 -o "$out/$view-$room.png"
    size=$(wc -c <"$out/$view-$room.png")
    [ "$size" -gt 20000 ] || { echo "$view in the $room room is blank ($size bytes)" >&2; exit 1; }
  done
done
"$program" picture kidney-flare --text 160 --size 1600x900 -o "$out/large.png"
"$program" picture kidney-flare --size 3840x2160 -o "$out/4k.png"
echo precious >"$out/keep.png"
if "$program" picture /nowhere.toml -o "$out/keep.png" 2>/dev/null; then exit 1; fi
grep -q precious "$out/keep.png"
