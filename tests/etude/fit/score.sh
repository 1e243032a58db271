#!/bin/sh
# Writes etudes over varied charts and measures them: the figures, and how well they can be told from solos.
#   score.sh PROGRAM REFERENCE CHECK FIRST_SEED COUNT [KIND] [more options of `shedbook etude`]
# PROGRAM build/shedbook; REFERENCE the folder solos of the reference; CHECK the program score-etude; chart k of
# COUNT (4/4, 32 bars or more, spread over the whole list) gets seed FIRST_SEED + k. What came out stays in $OUT.
set -eu
program=$1 reference=$2 check=$3 first=$4 count=$5 kind=${6:-composed}
shift 5
[ $# -gt 0 ] && shift
OUT=${OUT:-$(mktemp -d)}
mkdir -p "$OUT"
rm -f "$OUT"/*.musicxml
python3 - "$reference" "$count" > "$OUT/charts" <<'P'
import glob, json, sys
charts = []
for path in sorted(glob.glob(sys.argv[1] + '/charts/*.json')):
    chart = json.load(open(path))
    bars = sum(len(section['bars']) for section in chart['sections'])
    if chart['meter'] == '4/4' and bars >= 32:
        charts.append(path)
count = int(sys.argv[2])
for k in range(count):
    print(charts[k * len(charts) // count])
P
k=0
while read -r chart; do
    "$program" etude "$chart" --for alto-sax --kind "$kind" --seed $((first + k)) "$@" \
        -o "$OUT/$(basename "$chart" .json)-$((first + k)).musicxml"
    k=$((k + 1))
done < "$OUT/charts"
[ "$count" -ge 20 ] && auc=--auc || auc=
python3 "$check" $auc --fresh "$OUT"/*.musicxml
