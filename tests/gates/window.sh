#!/bin/sh
# The real program in a real window under Xvfb: it opens, draws, closes by itself; pictures of twelve views and pages in both rooms
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

# A key stroke shorter than a frame is not lost, nor its Ctrl: Return leaves the cautions page, + makes the text
# larger. (Dear ImGui 1.86 reads key states once a frame; both were lost before the platform kept them.)
cat >"$out/hands.sh" <<'HANDS'
"$1" --size 1200x800 --quit-after 6 &
sleep 2
window=$(xdotool search --name Drawdown | head -n 1)
xdotool windowfocus "$window"
sleep 0.3
xdotool key Return
sleep 0.3
xdotool key plus
sleep 0.3
xdotool key plus
sleep 0.3
xdotool key a
wait
HANDS
rm -f "$out/state/drawdown/settings"
xvfb-run -a -s "-screen 0 1600x900x24" sh "$out/hands.sh" "$program"
grep -q "text = 120" "$out/state/drawdown/settings" && grep -q "cautions_read = true" "$out/state/drawdown/settings" || {
  echo "keys were lost: $(cat "$out/state/drawdown/settings")" >&2
  exit 1
}

# The session is taken up again: the view left is the view found, and left again.
xvfb-run -a -s "-screen 0 1600x900x24" "$program" --quit-after 2
grep -q "view = .cascade." "$out/state/drawdown/settings" || {
  echo "the session was lost: $(cat "$out/state/drawdown/settings")" >&2
  exit 1
}
# A damaged session does not keep the window from opening, and is set aside.
echo "text = = 3" >"$out/state/drawdown/settings"
xvfb-run -a -s "-screen 0 1600x900x24" "$program" --quit-after 1
grep -q "text = = 3" "$out/state/drawdown/settings.unreadable"
[ "$(stat -c %a "$out/state/drawdown/settings") $(stat -c %a "$out/state/drawdown")" = "600 700" ]

# Asked to end by a signal, the session is kept as when the window is closed; killed outright, it was kept before.
cat >"$out/signal.sh" <<'HANDS'
"$2" --size 1200x800 --quit-after 30 kidney-flare &
program=$!
for i in $(seq 100); do window=$(xdotool search --name Drawdown | head -n 1) && [ -n "$window" ] && break; sleep 0.1; done
xdotool windowfocus "$window"
sleep 0.5
xdotool key Return
sleep 0.3
xdotool key "$3"
if [ "$1" = KILL ]; then sleep 2.5; else sleep 0.4; fi
kill -"$1" $program
wait $program
echo "ended with $?"
HANDS
for case in "TERM i tissues" "HUP g lab" "INT c course" "KILL a cascade"; do
  set -- $case
  ended=$(xvfb-run -a -s "-screen 0 1600x900x24" sh "$out/signal.sh" "$1" "$program" "$2")
  [ "$1" = KILL ] || [ "$ended" = "ended with 0" ] || { echo "$1: $ended" >&2; exit 1; }
  grep -q "view = .$3." "$out/state/drawdown/settings" || { echo "$1 lost the session: $(cat "$out/state/drawdown/settings")" >&2; exit 1; }
done

# A person's own numbers in the window: the example's sheet is written as PDF and HTML, and the panel is drawn.
"$program" labs "$(dirname "$0")/../../assets/example-results.csv" --sheet "$out/sheet.pdf" >/dev/null && exit 1
"$program" picture kidney-flare --view own --results "$(dirname "$0")/../../assets/example-results.csv" -o "$out/own.png"
[ "$(wc -c <"$out/own.png")" -gt 20000 ] && [ "$(head -c 4 "$out/sheet.pdf")" = "%PDF" ]

for room in bright dark; do
  for view in balance words course levers compare cascade tissues lab cautions stories keys glossary; do
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
