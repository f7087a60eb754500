#!/bin/sh
# Every command on a full disk, with a closed standard output, and with a reader that left: exit 3 and a sentence.
set -eu
program=$1
results=$2
out=$(mktemp -d)
trap 'rm -rf "$out"' EXIT
bad=0
tried=0
check() {
  tried=$((tried + 1))
  if [ "$1" -ne 3 ] || ! grep -q "could not be written" "$out/err"; then
    echo "exit $1 from: $2 ($(cat "$out/err"))"
    bad=1
  fi
}
for words in "list" "check steady-day" "course steady-day" "course steady-day --csv -" "tracer steady-day" \
  "sensitivity steady-day" "sbml steady-day" "labs $results" "truth" "equations" "--help" "--version" "course --help"; do
  code=0
  # shellcheck disable=SC2086  # words are meant to split
  "$program" $words >/dev/full 2>"$out/err" || code=$?
  check "$code" "$words >/dev/full"
  code=0
  # shellcheck disable=SC2086
  "$program" $words >&- 2>"$out/err" || code=$?
  check "$code" "$words >&-"
done
# The other way round: with room for the output the same commands do not end with 3.
"$program" list >"$out/list" && [ "$(wc -l <"$out/list")" -ge 19 ]
# A reader that leaves at once is an error that is told, not a death by signal.
{ "$program" equations 2>"$out/err" || echo $? >"$out/code"; } | true
[ ! -f "$out/code" ] || [ "$(cat "$out/code")" -eq 3 ]
# A display that does not answer: one sentence, exit 3, no abort.
code=0
DISPLAY=:9999 XDG_STATE_HOME="$out/state" "$program" steady-day 2>"$out/err" >/dev/null || code=$?
[ "$code" -eq 3 ] && [ "$(wc -l <"$out/err")" -eq 1 ] || { echo "a display that does not answer: exit $code: $(cat "$out/err")"; bad=1; }
[ "$tried" -eq 26 ] || { echo "only $tried tried"; bad=1; }
exit $bad
