#!/usr/bin/env bash
# Plays a session: runs each line of FILE that begins with "$ " in the folder DIR and prints it with
# its answer. Lines below it that begin with "> " are what a person types at its prompts.
# Usage: cases/play.sh FILE DIR
set -euo pipefail
session=$(realpath "$1")
mkdir -p "$2" && cd "$2"

play() {  # COMMAND, typed lines on standard input
  printf '$ %s\n' "$1"
  status=0
  bash -c "$1" 2>&1 || status=$?
  [ "$status" -eq 0 ] || printf '(exit status %s)\n' "$status"
  printf '\n'
}

command= typed=
while IFS= read -r line; do
  case $line in
    '$ '*)
      [ -z "$command" ] || printf %s "$typed" | play "$command"
      command=${line#'$ '} typed= ;;
    '> '?*) typed+=${line#'> '}$'\n' ;;
  esac
done <"$session"
[ -z "$command" ] || printf %s "$typed" | play "$command"
