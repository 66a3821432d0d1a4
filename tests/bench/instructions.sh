#!/usr/bin/env bash
# instructions.sh PROGRAM [--write]: counts the instructions of whole commands with valgrind's
# callgrind, and compares them with instructions.json beside this script. Fails when one needs over
# 10 % more, and asks for a new record when one needs over 10 % less. --write records the counts.
# They hardly depend on the load of the machine, but on compiler, libraries and the vector
# instructions of the processor: the record says which they were; elsewhere nothing is compared.
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
  "vet $here/../errors/base-pack"
)

count() {
  # shellcheck disable=SC2086
  valgrind --tool=callgrind --callgrind-out-file=/dev/null "$program" $1 2>count.txt >/dev/null ||
    [ $? -eq 1 ] || { cat count.txt >&2; exit 2; }
  sed -n 's/.*Collected : *\([0-9]*\).*/\1/p' count.txt
}

made_with="$(g++ -dumpfullversion) release, valgrind $(valgrind --version | sed 's/valgrind-//'), $(uname -m)$(grep -q avx2 /proc/cpuinfo && echo ' avx2' || true)"
recorded_with=$(sed -n 's/^  "made with": "\(.*\)",$/\1/p' "$record" 2>/dev/null || true)
if [ "${2:-}" != --write ] && [ "$made_with" != "$recorded_with" ]; then
  echo "not comparable: here $made_with; recorded with $recorded_with"
  exit 0
fi

failed=0
lines=()
for command in "${commands[@]}"; do
  now=$(count "$command")
  name=${command//$here\/..\//}
  lines+=("  \"$name\": $now")
  known=$(sed -n "s|^  \"$name\": \([0-9]*\).*|\1|p" "$record" 2>/dev/null || true)
  if [ "${2:-}" = --write ] || [ -z "$known" ]; then
    printf '%-28s %12d\n' "$name" "$now"
    [ "${2:-}" = --write ] || { echo '  no record'; failed=1; }
    continue
  fi
  change=$(awk "BEGIN { printf \"%.1f\", 100 * ($now / $known - 1) }")
  printf '%-28s %12d  recorded %12d  %+6.1f %%\n' "$name" "$now" "$known" "$change"
  awk "BEGIN { exit !($change > 10 || $change < -10) }" && { failed=1; echo '  beyond 10 %'; }
done

if [ "${2:-}" = --write ]; then
  {
    echo '{'
    echo "  \"made with\": \"$made_with\","
    printf '%s,\n' "${lines[@]}" | sed '$ s/,$//'
    echo '}'
  } >"$record"
  exit 0
fi
[ "$failed" -eq 0 ] || echo "instructions.sh: if that is meant, record it: tests/bench/instructions.sh $1 --write" >&2
exit "$failed"
