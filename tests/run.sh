#!/usr/bin/env bash
# Sets up, builds and runs the tests. Pass --approve to accept new golden outputs.
set -euo pipefail
cd "$(dirname "$0")/.."
.ci/setup
cmake --preset release >/dev/null
cmake --build build/release
cd build/release
if [ "${1:-}" = --approve ]; then
  TICKOVER_APPROVE=1 ./tests/tickover_tests '[golden]'
else
  ctest --output-on-failure
fi
