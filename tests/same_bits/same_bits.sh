#!/bin/sh
# same_bits.sh STORIES CORE_BYTES OTHER: both commands say the same of every story, of numbers that are hard to read
# and of exp, log and power. And the comparison can fail: with one constant moved by one unit in its last place, every
# story differs. OTHER may be "node ... run_wasi.mjs PROGRAM.wasm".
set -eu
stories=$1
out=$(mktemp -d)
trap 'rm -rf "$out"' EXIT

# all COMMAND FOLDER ARGUMENTS -- FILES: the command's output for each file, in the folder.
all() {
  command=$1 folder=$out/$2
  shift 2
  mkdir "$folder"
  wish=
  [ "$1" = -- ] || { wish=$1; shift; }
  shift
  # shellcheck disable=SC2086  # a command of several words, a wish or none
  for file in "$@"; do $command $wish <"$file" >"$folder/$(basename "$file")"; done
}

count=0
for story in "$stories"/*.toml; do count=$((count + 1)); done
[ "$count" -ge 19 ] || { echo "only $count stories in $stories" >&2; exit 1; }
all "$2" one -- "$stories"/*.toml
all "$3" other -- "$stories"/*.toml
all "$3" nudged --nudge -- "$stories"/*.toml
bad=0
for story in "$stories"/*.toml; do
  name=$(basename "$story")
  [ "$(wc -l <"$out/one/$name")" -gt 50 ] || { echo "$name: hardly anything was said" >&2; bad=1; }
  if ! cmp -s "$out/one/$name" "$out/other/$name"; then
    echo "$name differs:" >&2
    diff "$out/one/$name" "$out/other/$name" | head -6 >&2
    bad=1
  fi
  if cmp -s "$out/one/$name" "$out/nudged/$name"; then echo "$name: a constant moved by one bit was not seen" >&2; bad=1; fi
done

# Halfway between two doubles and just beside it, many digits, the ends of the range. (Below 2.2e-308 the C++ library
# for WebAssembly refuses to read.)
cat >"$out/numbers.toml" <<'END'
numbers = [0.1, 0.88, 1e23, 8.5e22, 9007199254740993.0, 9007199254740992.9999, 9007199254740993.00001,
  2.2250738585072014e-308, 1.7976931348623157e308, 6.02214076e23,
  0.500000000000000166533453693773481063, 0.50000000000000011102230246251565,
  1.00000000000000011102230246251565404, 3.141592653589793238462643383279502884, 1.00000000000000011102230246251565404236316680908203126,
  1.448997445238699, 0.00000000000000000000001, 123456789012345678.0, 7.2057594037927933e16]
END
all "$2" numbers_one --numbers -- "$out/numbers.toml"
all "$3" numbers_other --numbers -- "$out/numbers.toml"
cmp "$out/numbers_one/numbers.toml" "$out/numbers_other/numbers.toml" || bad=1
all "$2" elementary_one --elementary -- "$out/numbers.toml"
all "$3" elementary_other --elementary -- "$out/numbers.toml"
cmp "$out/elementary_one/numbers.toml" "$out/elementary_other/numbers.toml" || bad=1
exit $bad
