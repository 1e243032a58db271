#!/usr/bin/env bash
# Builds the fuzz targets of the readers with clang and runs each for so many seconds: tests/fuzz.sh 5 in CI, 600 over lunch.
set -euo pipefail
cd "$(dirname "$0")/.."
seconds=${1:-10}
cmake --preset fuzz > /dev/null
cmake --build --preset fuzz > /dev/null
for target in tune json score abc chord_symbol; do
    seeds=$(mktemp -d)
    [ "$target" = tune ] && cp sample-charts/*.tune "$seeds"
    "build-fuzz/tests/fuzz/fuzz_$target" -max_total_time="$seconds" -timeout=10 -verbosity=0 "$seeds" 2>&1 | tail -3
    rm -rf "$seeds"
    echo "fuzz_$target: $seconds s without a fault"
done
