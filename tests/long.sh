#!/bin/sh
# The long things, outside CI: fuzzers under the address and undefined-behaviour sanitizers (ten million executions in
# all), ten thousand random lever settings, the fit's coverage on 100 people, explanations weighed for 5 000, five hundred kills while saving. What ran
# is written to tests/long-report.txt, a part at a time, each with a hash of the sources it vouches for.
#   sh tests/long.sh                     everything in full, two parts at a time
#   sh tests/long.sh 100                 one hundredth of it
#   sh tests/long.sh --part NAME [100]   one part, and its lines of the report
#   sh tests/long.sh --changed           a hundredth of each part whose sources have changed since it last ran
#   sh tests/long.sh --check [REPORT]    is the report no older than what it vouches for? (what CI asks): each part has
#                                        run on the present sources, a hundredth of it at least, and its last run in
#                                        full is at most sixty days older (a part that never ran in full is noted)
#   sh tests/long.sh --parts             the parts, and what each vouches for
# Exit codes: 0 done, 1 something was found or is out of date, 2 misuse, 3 could not be built.
set -eu
export LC_ALL=C
top=$(cd "$(dirname "$0")/.." && pwd)
cd "$top"
report=tests/long-report.txt
out=build/long
parts="results scenario session words shapes typing actions levers fit explain kills"

# How many in full: executions, settings, people, kills.
full() {
  case $1 in
    results) echo 2000000 ;;
    scenario) echo 3000000 ;;
    session) echo 100000 ;;
    words) echo 2400000 ;;
    shapes) echo 2500000 ;;
    typing) echo 50000 ;;
    actions) echo 25000 ;;
    levers) echo 10000 ;;
    fit) echo 100 ;;
    explain) echo 5000 ;;
    kills) echo 500 ;;
    *) echo "long.sh: no part '$1'; the parts: $parts" >&2; exit 2 ;;
  esac
}

# What a part vouches for, and nothing else: other changes do not make its lines old.
vouched() {
  case $1 in
    results) echo sim/labs/read.* sim/labs/cells.* sim/labs/columns.* sim/labs/dates.* sim/labs/drafts.* sim/labs/judge.* sim/labs/noise.hpp sim/labs/series.* sim/labs/change.* sim/labs/censored.* sim/labs/marker.* sim/labs/ranges.* sim/labs/slips.* sim/labs/slip_lines.* sim/labs/facts.* sim/labs/spoken_cells.* \
      tests/fuzz/fuzz_results.cpp ;;
    scenario) echo sim/scenario/* tests/fuzz/fuzz_scenario.cpp ;;
    session) echo ui/command/session.* tests/fuzz/fuzz_session.cpp ;;
    words) echo ui/look/words.* ui/look/terms.* tests/fuzz/fuzz_words.cpp ;;
    shapes) echo ui/draw/shapes.* tests/fuzz/fuzz_shapes.cpp ;;
    typing) echo ui/panels/interaction.* ui/shell/input_imgui.* ui/panels/typed.* ui/stage/own_results.* tests/fuzz/typing.cpp tests/fuzz/typing.hpp ;;
    actions) echo ui/stage/* ui/work/* tests/fuzz/broken.* tests/fuzz/make_action.* tests/fuzz/play.* tests/fuzz/world.* ;;
    levers) echo sim/network/* sim/solve/* sim/body/* tests/properties/random_levers.* ;;
    fit) echo sim/labs/fit* sim/network/* sim/solve/* sim/body/* tests/labs/coverage.* ;;
    explain) echo sim/study/explain/* sim/study/people* sim/study/cohort.* sim/study/random.* sim/network/* sim/solve/* sim/body/* tests/study/explained.* tests/study/main_explain.cpp ;;
    kills) echo ui/disk/* tests/command/test_disk.cpp ;;
  esac
}

# The files' hashes with their names, hashed. Only what git knows, where there is git.
hash_of() {
  if git rev-parse --git-dir >/dev/null 2>&1; then
    # shellcheck disable=SC2046  # a list of names without blanks
    git ls-files -- $(vouched "$1")
  else
    vouched "$1" | tr ' ' '\n'
  fi | sort | xargs sha256sum | sha256sum | cut -d' ' -f1
}

# A part's lines out of a report.
lines_of() { [ ! -f "$2" ] || sed -n "/^\[$1\]\$/,/^\$/p" "$2"; }
value_of() { lines_of "$1" "$3" | sed -n "s/^$2: //p"; }

days_of() { echo $(($(date -u -d "$1" +%s) / 86400)); }

check() {
  old=0
  for part in $parts; do
    again="; run: sh tests/long.sh --part $part"
    if [ -z "$(lines_of "$part" "$1")" ]; then echo "$1: nothing about '$part'$again"; old=1; continue; fi
    [ "$(value_of "$part" findings "$1")" = 0 ] || { echo "$1: '$part' found something that is not mended$again"; old=1; }
    [ "$(value_of "$part" done "$1" | cut -d' ' -f1)" -ge $(($(full "$part") / 100)) ] 2>/dev/null ||
      { echo "$1: '$part' did less than a hundredth$again"; old=1; }
    [ "$(value_of "$part" sources "$1")" = "$(hash_of "$part")" ] ||
      { echo "$1: what '$part' vouches for has changed since it ran$again 100"; old=1; }
    in_full=$(value_of "$part" 'last in full' "$1" | cut -d, -f1)
    ran=$(value_of "$part" ran "$1" | cut -d, -f1)
    if [ -z "$in_full" ]; then
      echo "$1: note: '$part' has not run in full yet"
    elif [ "$(days_of "$ran")" -gt $(($(days_of "$in_full") + 60)) ]; then
      echo "$1: '$part' has not run in full for sixty days$again"; old=1
    fi
  done
  return $old
}

build_fuzzers() {
  sh .ci/setup long
  CC=clang CXX=clang++ cmake -S . -B $out/fuzz -G Ninja -DCMAKE_BUILD_TYPE=Debug "-DCMAKE_CXX_FLAGS_DEBUG=-O1 -g1" \
    -DDRAWDOWN_TESTS=ON -DDRAWDOWN_FUZZ=ON -DDRAWDOWN_SANITIZE=fuzzer-no-link,address,undefined ${LONG_CMAKE:-} >/dev/null
  cmake --build $out/fuzz --target "$@"
}
build_plain() {
  sh .ci/setup test
  cmake -S . -B $out/plain -G Ninja -DCMAKE_BUILD_TYPE=Release -DDRAWDOWN_TESTS=ON ${LONG_CMAKE:-} >/dev/null
  cmake --build $out/plain --target "$@"
}
build() {
  case $1 in
    levers) build_plain random_levers ;;
    fit) build_plain fit_coverage ;;
    explain) build_plain explain_table ;;
    kills) build_plain test_command ;;
    *) build_fuzzers "fuzz_$1" ;;
  esac
}

# Runs a part `wanted` times; leaves its log, and says in `did` how many were done and in `found` what came of it.
run_fuzzer() {
  corpus=$out/corpus/$1
  mkdir -p "$corpus" "$out/found"
  (cd "$corpus" && cmake -E tar xf "$top/tests/fuzz/$1.tar.xz")
  case $1 in actions) longest=400 ;; typing) longest=200 ;; *) longest=4096 ;; esac
  # Leaks are not looked for: the font libraries keep memory until the end on purpose.
  found=0
  ASAN_OPTIONS=detect_leaks=0 "$out/fuzz/tests/fuzz_$1" -runs="$wanted" -max_len=$longest -timeout=120 -print_final_stats=1 \
    -artifact_prefix="$out/found/$1-" "$corpus" "tests/fuzz/$1" >"$log" 2>&1 || found=1
  did=$(sed -n 's/^stat::number_of_executed_units: *//p' "$log")
  detail="executions of fuzz_$1 under the address and undefined-behaviour sanitizers"
}
run_levers() {
  found=0
  "$out/plain/tests/random_levers" "$wanted" >"$log" 2>&1 || found=1
  did=$(sed -n 's/^random lever settings: *//p' "$log")
  detail="random lever settings, half a year each and half a year after"
}
run_fit() {
  found=0
  "$out/plain/tests/fit_coverage" "$wanted" >"$log" 2>&1 || found=1
  did=$(sed -n 's/^\([0-9]*\) simulated people.*/\1/p' "$log")
  grep -q '; 0 fits not done' "$log" || found=1
  detail="simulated people fitted"
}
run_explain() {
  found=0
  "$out/plain/tests/explain_table" "$wanted" >"$log" 2>&1 || found=1
  did=$(sed -n 's/^people: *//p' "$log")
  detail="people whose cause is known, their results weighed"
  [ "$found" = 1 ] || [ "$wanted" -lt 500 ] || cp "$log" tests/study/explain-table.txt
}
run_kills() {
  found=0
  "$out/plain/tests/test_command" -tc='*signal 9*' >"$log" 2>&1 || found=1
  did=$(sed -n 's/^killed while saving: *//p' "$log")
  [ "${did:-0}" -gt 0 ] || found=1
  detail="kills with signal 9 while saving (always all of them)"
}

run_part() {
  part=$1
  wanted=$(($(full "$part") / $2))
  [ "$wanted" -gt 0 ] || wanted=1
  log=$out/$part.log
  sources=$(hash_of "$part")
  began=$(date +%s)
  case $part in levers | fit | explain | kills) "run_$part" ;; *) run_fuzzer "$part" ;; esac
  took=$(($(date +%s) - began))
  in_full=$(value_of "$part" 'last in full' "$report")
  [ "$2" != 1 ] || in_full="$(date +%Y-%m-%d), ${did:-0} done, findings: $found, sources $sources"
  if [ "$sources" != "$(hash_of "$part")" ]; then
    echo "long.sh: the sources of '$part' changed while it ran; nothing written" >&2
    exit 1
  fi
  {
    echo "[$part]"
    echo "ran: $(date +%Y-%m-%d), $took s"
    echo "done: ${did:-0} $detail; $(full "$part") in full"
    [ -z "$in_full" ] || echo "last in full: $in_full"
    echo "findings: $found"
    case $part in
      levers | fit | explain) sed 's/^/  /' "$log" ;;
      *) [ "$found" = 0 ] || grep -E '\(after|ERROR: |runtime error|in the line' "$log" | head -3 | sed 's/^/  /' || true ;;
    esac
    echo "vouches for: $(vouched "$part" | tr ' ' '\n' | sort | tr '\n' ' ' | sed 's/ $//')"
    echo "sources: $sources"
    echo
  } >"$out/$part.txt"
  # The other parts' lines stay as they are.
  (
    flock 9
    {
      echo "What the long runs found; written by tests/long.sh, checked by a quick test. Each part vouches for the"
      echo "files it names, as they were when it ran ('sources': SHA-256 of their SHA-256 sums, by name). After a change a"
      echo "hundredth of a part is enough; the last run in full, and the sources it ran on, stay in the report."
      echo
      for each in $parts; do
        if [ "$each" = "$part" ]; then cat "$out/$part.txt"; else lines_of "$each" "$report"; fi
      done
    } >"$out/report.new"
    mv "$out/report.new" "$report"
  ) 9>"$out/lock"
  echo "$part: ${did:-0} $detail in $took s, findings: $found (log: $log)"
  return "$found"
}

is_number() { case $1 in '' | *[!0-9]* | 0*) echo "long.sh: '$1' is not a whole number from 1" >&2; exit 2 ;; esac; }

case "${1:-}" in
  --parts) for part in $parts; do echo "$part ($(full "$part")): $(vouched "$part")"; done ;;
  --check) check "${2:-$report}" ;;
  --changed)
    for part in $parts; do
      [ "$(value_of "$part" sources $report)" = "$(hash_of "$part")" ] || sh tests/long.sh --part "$part" 100 || exit
    done
    ;;
  --part | --run)
    full "${2:-}" >/dev/null
    is_number "${3:-1}"
    mkdir -p "$out"
    [ "$1" = --run ] || build "$2" || exit 3
    run_part "$2" "${3:-1}"
    ;;
  *)
    is_number "${1:-1}"
    mkdir -p "$out"
    build_fuzzers fuzz_results fuzz_scenario fuzz_session fuzz_words fuzz_shapes fuzz_typing fuzz_actions || exit 3
    build_plain random_levers fit_coverage explain_table test_command || exit 3
    # The longest first; a part that finds something does not keep the others from running.
    printf '%s\n' fit explain actions results scenario session words shapes typing levers kills |
      xargs -P "$(nproc)" -I NAME sh tests/long.sh --run NAME "${1:-1}" || true
    check "$report"
    ;;
esac
