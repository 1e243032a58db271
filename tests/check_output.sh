#!/usr/bin/env bash
# Writes books and sheets of several tunes and instruments and checks them with the maintainers' program, where that is there;
# as many tunes at a time as there are cores.
# usage: tests/check_output.sh PROGRAM CHECKS [few|TUNE...]      e.g. build/shedbook container,xsd,xsd31,structure
set -euo pipefail
program=$(realpath "$1")
checks=$2
shift 2
cd "$(dirname "$0")/.."
check=../shared/checks/check-musicxml
if [ ! -x "$check" ]; then
    echo "skipped: no ../shared/checks/check-musicxml beside the checkout"
    exit 0
fi
folder=$(mktemp -d)
export XDG_CACHE_HOME=$folder/cache XDG_DATA_HOME=$folder/data
trap 'rm -rf "$folder"' EXIT
tunes=("$@")
if [ ${#tunes[@]} -eq 0 ]; then
    mapfile -t tunes < <(ls sample-charts/*.tune)
elif [ "${tunes[0]}" = few ]; then
    mapfile -t tunes < <(ls sample-charts/*.tune | sed -n '1~3p')
fi

check_tune() {
    local name failed=0 at said transposing
    name=$(basename "$1"); name=${name%.*}
    at=$(mktemp -d "$folder/XXXXXX")
    said=$("$program" book "$1" --for flute,alto-sax,trombone,guitar,clarinet,double-bass,piano -o "$at/$name.mxl" 2>&1) ||
        { echo "$said"; return 1; }
    python3 "$check" --strict-skips --only "$checks" "$at/$name"-{alto-sax,trombone,guitar,clarinet,double-bass,piano}.mxl \
        > "$at/report" || { failed=1; grep -v -E '(passed|ok)' "$at/report" | head -20; }
    for transposing in alto-sax guitar clarinet double-bass; do
        python3 "$check" --only expect --expect "$at/$name-flute.mxl" --loose "$at/$name-$transposing.mxl" \
            > "$at/report" || { failed=1; head -20 "$at/report"; }
    done
    rm -rf "$at"
    echo "$name: written and checked"
    return $failed
}
export -f check_tune
export program checks check folder
printf '%s\0' "${tunes[@]}" | xargs -0 -n 1 -P "${SHEDBOOK_JOBS:-$(nproc)}" bash -c 'check_tune "$1"' _
