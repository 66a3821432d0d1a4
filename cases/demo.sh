#!/usr/bin/env bash
# Sets up, builds, and plays the demo job: advice on the screen, job file and trail in build/demo.
set -euo pipefail
cd "$(dirname "$0")/.."
.ci/setup
cmake --preset release >/dev/null
cmake --build build/release --target tickover
rm -rf build/demo
export PATH="$PWD/build/release:$PATH"
export SOURCE_DATE_EPOCH=1772442000  # an invented job on an invented day
cases/play.sh cases/winter-four.session build/demo
echo "The job file and its trail: build/demo/winter-four.job, build/demo/winter-four.md"
