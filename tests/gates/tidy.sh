#!/bin/sh
# clang-tidy finds nothing in sim/ and ui/ (checks: .clang-tidy).
set -eu
source=$1
build=$2
log=$(mktemp)
if ! run-clang-tidy -quiet -p "$build" -j "$(nproc)" "$source/(sim|ui)/" >"$log" 2>&1; then
  grep -E 'error:|warning:' -A 4 "$log" || cat "$log"
  rm -f "$log"
  exit 1
fi
rm -f "$log"
