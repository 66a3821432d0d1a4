#!/usr/bin/env bash
# Plays a session: runs each line of FILE that begins with "$ " in the folder DIR and prints it with
# its answer. Usage: cases/play.sh FILE DIR
set -euo pipefail
session=$(realpath "$1")
mkdir -p "$2" && cd "$2"
grep '^\$ ' "$session" | while IFS= read -r line; do
  printf '%s\n' "$line"
  status=0
  bash -c "${line#\$ }" 2>&1 || status=$?
  [ "$status" -eq 0 ] || printf '(exit status %s)\n' "$status"
  printf '\n'
done
