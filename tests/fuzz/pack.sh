#!/bin/sh
# Keeps of a fuzzer's corpus what reaches something of its own, packed for the replay in every test run:
#   sh tests/fuzz/pack.sh NAME       after tests/long.sh, which leaves the corpus in build/long/corpus/NAME
set -eu
cd "$(dirname "$0")/../.."
merged=$(mktemp -d)
trap 'rm -rf "$merged"' EXIT
case $1 in actions) longest=400 ;; typing) longest=200 ;; *) longest=4096 ;; esac
ASAN_OPTIONS=detect_leaks=0 "build/long/fuzz/tests/fuzz_$1" -merge=1 -max_len=$longest "$merged" "build/long/corpus/$1" >/dev/null 2>&1
tar -C "$merged" -cJf "tests/fuzz/$1.tar.xz" --sort=name --mtime=2026-01-01 --owner=0 --group=0 .
echo "tests/fuzz/$1.tar.xz: $(find "$merged" -type f | wc -l) inputs"
