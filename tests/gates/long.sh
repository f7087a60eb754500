#!/bin/sh
# The report of the long runs is no older than what it vouches for. And the check can fail: with a hash changed, a part
# left out, a finding left open, or a source touched, it does.
set -eu
cd "$1"
sh tests/long.sh --check

copy=$(mktemp -d)
trap 'rm -rf "$copy"' EXIT
must_fail() {
  if (cd "$2" && sh tests/long.sh --check "$3") >"$copy/said"; then echo "not noticed: $1" >&2; exit 1; fi
  grep -q "$4" "$copy/said" || { echo "$1: not said: $(cat "$copy/said")" >&2; exit 1; }
}
report=tests/long-report.txt
sed '/^\[words\]$/,/^$/s/^sources: ./sources: x/' $report >"$copy/hash.txt"
must_fail "another hash" . "$copy/hash.txt" "'words' vouches for has changed"
sed '/^\[shapes\]$/,/^$/d' $report >"$copy/part.txt"
must_fail "a part left out" . "$copy/part.txt" "nothing about 'shapes'"
sed '/^\[levers\]$/,/^$/s/^findings: 0/findings: 1/' $report >"$copy/found.txt"
must_fail "a finding left open" . "$copy/found.txt" "'levers' found something"
sed '/^\[words\]$/,/^$/s/^done: [0-9]*/done: 3/' $report >"$copy/few.txt"
must_fail "three executions" . "$copy/few.txt" "'words' did less"
sed '/^\[kills\]$/,/^$/s/^last in full: [0-9-]*/last in full: 2020-01-01/' $report >"$copy/aged.txt"
must_fail "a full run of years ago" . "$copy/aged.txt" "'kills' has not run in full"
mkdir "$copy/tree"
cp -r sim ui tests "$copy/tree"
(cd "$copy/tree" && sh tests/long.sh --check >/dev/null) || { echo "a copy of the sources has other hashes" >&2; exit 1; }
echo "// touched" >>"$copy/tree/sim/labs/read.cpp"
must_fail "a source touched" "$copy/tree" $report "'results' vouches for has changed"
