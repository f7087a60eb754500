#!/bin/sh
# lanes.sh ARCHIVE: code for wide registers stands in functions of the lanes' own file that no other file can name.
# Weak functions exist once a program, and the linker takes whichever it meets first: one with instructions that a
# machine does not have would end the program there. The look does see such instructions where they belong.
set -eu
out=$(mktemp -d)
trap 'rm -rf "$out"' EXIT
(cd "$out" && ar x "$1" lanes.cpp.o)
# The functions with registers wider than every x86-64 has, or with opcodes encoded for them.
objdump -d --no-show-raw-insn "$out/lanes.cpp.o" |
  awk '/^[0-9a-f]+ <.*>:$/ { name = substr($2, 2, length($2) - 3) } /%[yz]mm|\tv[a-z0-9]+ / { print name }' |
  sort -u >"$out/wide"
# Local symbols have a small letter (t); everything else can be met from outside.
nm "$out/lanes.cpp.o" | awk '$2 ~ /^[A-Zuvw]$/ { print $3 }' | sort -u >"$out/shared"
nm "$out/lanes.cpp.o" | awk '$2 ~ /^[WVuvw]$/ { print $3 }' | sort -u >"$out/weak"
[ -s "$out/weak" ] || { echo "no weak symbol at all: this looks at the wrong file"; exit 1; }
wide_here=$(grep -c 'run_avx' "$out/wide" || true)
if [ "$2" = GNU ]; then
  [ "$wide_here" -ge 2 ] || { echo "no wide instructions where they belong: this would see none elsewhere"; exit 1; }
fi
if comm -12 "$out/wide" "$out/shared" | grep .; then echo "wide instructions in functions that others may be given"; exit 1; fi
