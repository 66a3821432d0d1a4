#!/usr/bin/env bash
# Sets up, builds and runs the tests. --approve accepts new golden outputs; --sanitize builds and
# tests with sanitizers for addresses and undefined behaviour, --sanitize belief the belief alone.
set -euo pipefail
cd "$(dirname "$0")/.."
preset=release
[ "${1:-}" = --sanitize ] && preset=sanitize
.ci/setup
cmake --preset "$preset" >/dev/null
if [ "${2:-}" = belief ]; then
  cmake --build "build/$preset" --target tickover_belief_tests
  exec "build/$preset/tests/tickover_belief_tests" '~[measure]~[long]'
fi
cmake --build "build/$preset"
cd "build/$preset"
if [ "${1:-}" = --approve ]; then
  TICKOVER_APPROVE=1 ./tests/tickover_tests '[golden]'
else
  ctest --output-on-failure --parallel 2
fi
