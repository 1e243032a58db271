#!/usr/bin/env bash
# Builds the fuzz targets of the readers with clang and runs each for so many seconds: tests/fuzz.sh 5 in CI, 600 over lunch.
set -euo pipefail
cd "$(dirname "$0")/.."
seconds=${1:-10}
cmake --preset fuzz > /dev/null
cmake --build --preset fuzz > /dev/null

fuzz() {
    set -o pipefail
    local seeds
    seeds=$(mktemp -d)
    if [ "$1" = tune ]; then cp sample-charts/*.tune "$seeds"; fi
    "build-fuzz/tests/fuzz/fuzz_$1" -max_total_time="$2" -timeout=10 -verbosity=0 "$seeds" 2>&1 | tail -3 || return 1
    rm -rf "$seeds"
    echo "fuzz_$1: $2 s without a fault"
}
export -f fuzz
printf '%s\n' tune json score abc chord_symbol |
    xargs -n 1 -P "${SHEDBOOK_JOBS:-$(nproc)}" bash -c 'fuzz "$2" "$1"' _ "$seconds"
