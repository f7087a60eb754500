#!/bin/sh
# lanes.sh ARCHIVE: code for wide registers stands in functions of the lanes' own file that no other file can name.
# A weak function exists once in a program, and the linker takes whichever it meets first: one with instructions that a
# machine does not have would end the program there. And the look can fail: with the file's own wide functions given
# such names, it does.
set -eu
out=$(mktemp -d)
trap 'rm -rf "$out"' EXIT
(cd "$out" && ar x "$1" lanes.cpp.o)

# Functions that have registers, or instructions, which not every x86-64 has.
wide() {
  objdump -d --no-show-raw-insn "$1" |
    awk '/^[0-9a-f]+ <.*>:$/ { name = substr($2, 2, length($2) - 3) } /%[yz]mm|:\tv[a-z0-9]+ / { print name }' | sort -u
}
# Of these, those that stand under a name others can use (a local one has a small t).
wide_and_shared() {
  wide "$1" >"$out/wide"
  nm "$1" | awk '$2 ~ /^[A-Zuvw]$/ { print $3 }' | sort -u >"$out/shared"
  comm -12 "$out/wide" "$out/shared"
}

found=$(wide_and_shared "$out/lanes.cpp.o")
[ -z "$found" ] || { echo "wide instructions in functions that others may be given: $found"; exit 1; }

own=$(wide "$out/lanes.cpp.o")
if [ -z "$own" ]; then
  # Clang, sanitizers, another processor: nothing wide is built.
  [ "${2:-}" != wide ] || { echo "no wide instructions at all: this looks at the wrong file"; exit 1; }
  exit 0
fi
for name in $own; do
  objcopy --globalize-symbol="$name" --weaken-symbol="$name" "$out/lanes.cpp.o" "$out/planted.o"
  [ "$(wide_and_shared "$out/planted.o")" = "$name" ] || { echo "not noticed when weak: $name"; exit 1; }
done
