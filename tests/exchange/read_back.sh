#!/bin/sh
# Every shipped story through SBML into SciPy's LSODA and back.
set -eu
program=$1
source=$2
out=$(mktemp -d)
trap 'rm -rf "$out"' EXIT
for story in "$source"/scenarios/*.toml; do
  "$program" sbml "$story" -o "$out/story.xml"
  "$program" course "$story" --csv "$out/course.csv"
  /usr/bin/python3 "$source/tests/exchange/read_back.py" "$out/story.xml" "$out/course.csv"
done
