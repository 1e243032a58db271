#!/usr/bin/env bash
# Writes books and sheets of several tunes and instruments and checks them with the maintainers' program, where that is there.
# usage: tests/check_output.sh PROGRAM CHECKS      e.g. build/shedbook container,xsd,xsd31,structure
set -euo pipefail
program=$(realpath "$1")
checks=$2
cd "$(dirname "$0")/.."
check=../shared/checks/check-musicxml
if [ ! -x "$check" ]; then
    echo "skipped: no ../shared/checks/check-musicxml beside the checkout"
    exit 0
fi
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
instruments=alto-sax,trombone,guitar,clarinet,double-bass,piano
tunes=("$@")
tunes=("${tunes[@]:2}")
if [ ${#tunes[@]} -eq 0 ]; then
    mapfile -t tunes < <(ls sample-charts/*.tune)
fi
failed=0
for tune in "${tunes[@]}"; do
    name=$(basename "$tune"); name=${name%.*}
    "$program" book "$tune" --for "flute,$instruments" -o "$folder/$name.mxl" 2> "$folder/said" || { cat "$folder/said"; exit 1; }
    python3 "$check" --strict-skips --only "$checks" "$folder/$name"-{alto-sax,trombone,guitar,clarinet,double-bass,piano}.mxl \
        > "$folder/report" || { failed=1; grep -v -E '(passed|ok)' "$folder/report" | head -20; }
    for transposing in alto-sax guitar clarinet double-bass; do
        python3 "$check" --only expect --expect "$folder/$name-flute.mxl" --loose "$folder/$name-$transposing.mxl" \
            > "$folder/report" || { failed=1; head -20 "$folder/report"; }
    done
    rm -f "$folder"/*.mxl
    echo "$name: written and checked"
done
exit $failed
