#!/bin/sh
# Replays what fuzzing found: sh replay.sh PROGRAM CORPUS.tar.xz FOLDER-OF-SEEDS
# The corpus is what libFuzzer kept as reaching something of its own (merged); 2 000 small files, so packed.
set -eu
unpacked=$(mktemp -d)
trap 'rm -rf "$unpacked"' EXIT
(cd "$unpacked" && cmake -E tar xf "$2")
"$1" "$unpacked" "$3"
