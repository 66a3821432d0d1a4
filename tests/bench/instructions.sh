#!/usr/bin/env bash
# instructions.sh PROGRAM [--write]: counts the instructions of whole commands with valgrind's
# callgrind, and compares them with instructions.json beside this script. Fails when one needs over
# 10 % more, and asks for a new record when one needs over 10 % less. --write records the counts.
# They hardly depend on the load of the machine, but on compiler, libraries and the vector
# instructions of the processor: the record says which they were.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
program=$(realpath "$1")
record=$here/instructions.json
unset TICKOVER_KNOWLEDGE
folder=$(mktemp -d)
trap 'rm -r "$folder"' EXIT
cd "$folder"

quiet() { "$program" "$@" >/dev/null 2>&1 || [ $? -eq 1 ]; }
quiet open four.job --machine four-inline --risk long-storage
quiet record four.job idle-hunts clear
quiet record four.job steady-surge clear
quiet record four.job idles-only-propped yes

commands=(
  'list causes'
  'explain pilot-jet-blocked'
  'causes four.job'
  'next four.job'
  'vet'
)

count() {
  # shellcheck disable=SC2086
  valgrind --tool=callgrind --callgrind-out-file=/dev/null "$program" $1 2>count.txt >/dev/null ||
    [ $? -eq 1 ] || { cat count.txt >&2; exit 2; }
  sed -n 's/.*Collected : *\([0-9]*\).*/\1/p' count.txt
}

failed=0
lines=()
for command in "${commands[@]}"; do
  now=$(count "$command")
  lines+=("  \"$command\": $now")
  known=$(sed -n "s/^  \"$command\": \([0-9]*\).*/\1/p" "$record" 2>/dev/null || true)
  if [ "${2:-}" = --write ] || [ -z "$known" ]; then
    printf '%-28s %12d\n' "$command" "$now"
    [ "${2:-}" = --write ] || { echo '  no record'; failed=1; }
    continue
  fi
  change=$(awk "BEGIN { printf \"%.1f\", 100 * ($now / $known - 1) }")
  printf '%-28s %12d  recorded %12d  %+6.1f %%\n' "$command" "$now" "$known" "$change"
  awk "BEGIN { exit !($change > 10 || $change < -10) }" && { failed=1; echo '  beyond 10 %'; }
done

if [ "${2:-}" = --write ]; then
  {
    echo '{'
    echo "  \"made with\": \"$(g++ -dumpfullversion) release, valgrind $(valgrind --version | sed 's/valgrind-//'), $(uname -m)$(grep -q avx2 /proc/cpuinfo && echo ' avx2')\","
    printf '%s,\n' "${lines[@]}" | sed '$ s/,$//'
    echo '}'
  } >"$record"
  exit 0
fi
[ "$failed" -eq 0 ] || echo "instructions.sh: if that is meant, record it: tests/bench/instructions.sh $1 --write" >&2
exit "$failed"
