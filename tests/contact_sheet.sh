#!/bin/sh
# Every view in both rooms, at two sizes, into one folder with an HTML page to look at: sh tests/contact_sheet.sh [FOLDER]
# Uses the program that tests/run.sh or ui/start.sh built.
set -eu
top=$(cd "$(dirname "$0")/.." && pwd)
out=${1:-$top/build/contact-sheet}
for program in "$top/build/test/ui/drawdown" "$top/build/program/ui/drawdown"; do
  [ -x "$program" ] && break
done
mkdir -p "$out"
page=$out/index.html
echo '<!doctype html><meta charset="utf-8"><title>Contact sheet</title><body style="font-family:sans-serif">' >"$page"
for view in balance course cascade tissues lab levers compare tracer effects truth words stories files keys cautions glossary first own; do
  echo "<h2>$view</h2>" >>"$page"
  for room in bright dark; do
    for setting in "1600x900 100" "1600x900 160" "1100x700 100" "1100x700 160"; do
      size=${setting% *}
      text=${setting#* }
      name=$view-$room-$size-$text.png
      "$program" picture two-people-one-number --view "$view" --results "$top/assets/example-results.csv" --room "$room" --size "$size" --text "$text" --day 20 -o "$out/$name"
      echo "<a href=\"$name\"><img src=\"$name\" width=\"420\" alt=\"$view, $room room, $size, text $text %\"></a>" >>"$page"
    done
  done
done
echo "$page"
