#!/usr/bin/env bash
# Books and sheets for many instruments, papers and tunes, set as PDF: the engraver fits them all, and nothing stands in
# the margins. usage: tests/pages/pages.sh PROGRAM few|all
set -euo pipefail
program=$(realpath "$1")
which=${2:-all}
here=$(cd "$(dirname "$0")" && pwd)
samples=$here/../../sample-charts
for tool in lilypond pdftoppm pdftotext python3; do
    command -v "$tool" > /dev/null || { echo "skipped: $tool is not installed"; exit 0; }
done
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
export XDG_CACHE_HOME=$folder XDG_DATA_HOME=$folder
cd "$here"

status=0
count=0
# name, margin in millimetres that stays white, then what to write; those with a star are the few.
while read -r star name margin arguments; do
    [ "$which" = all ] || [ "$star" = "*" ] || continue
    count=$((count + 1))
    eval "set -- $arguments"
    "$program" "$@" -o "$folder/$name.pdf" > "$folder/said" 2>&1 || { echo "$name: $(cat "$folder/said")"; status=1; continue; }
    python3 pages.py "$margin" "$folder/$name.pdf" | sed "s|$folder/||" || status=1
done <<LIST
* guitar-fingers 10 book $samples/narrow-stairs.tune --for guitar --fingerings all
- two-hands 10 book $samples/narrow-stairs.tune --for piano-both-hands
* viola-five 10 book five.tune --for viola --fingerings all
- violin-level-6 10 book five.tune --for violin --level 6
- by-chord 10 book five.tune --for alto-sax --by chord
- trumpet-six 10 book six.tune --for trumpet --fingerings all
- two-hands-six 10 book six.tune --for piano-both-hands
- bass-seven 10 book seven.tune --for double-bass
- flute-seven 10 book seven.tune --for flute --by chord --level 6
- forty 10 book forty.tune --for tenor-sax
- forty-voice 10 book forty.tune --for alto-voice
- long-cello 10 book long.tune --for cello
- long-trombone 10 book long.tune --for trombone --fingerings scales
* vamp 10 book vamp.tune --for clarinet
- vamp-mallets 10 book vamp.tune --for vibraphone
- letter 10 book $samples/ferry-at-six.tune --for alto-sax --paper letter
* tablet 6 book five.tune --for trumpet --paper tablet
- tablet-usual 6 book $samples/ferry-at-six.tune --for alto-sax --paper tablet
- waltz 10 book $samples/thimble-waltz.tune --for bassoon
- blues 10 book $samples/wet-umbrella-blues.tune --for guitar
- low 10 book $samples/hurry-postman.tune --for baritone-sax --level 2
* frets 10 book $samples/crooked-fence.tune --for electric-bass --fingerings all
- all-drills 10 drills 'Db7#11' Gbm7 --for violin --drills all --fingerings all
- all-drills-hands 10 drills 'C#maj7' --for piano-both-hands --drills all
- twelve-keys 10 drills Fb7alt --for flute --keys fourths
- etude-five 10 etude five.tune --for alto-sax --kind composed --level 6
- etude-scale 10 etude $samples/narrow-stairs.tune --for tenor-sax --kind unbroken-scale
- etude-targets 10 etude forty.tune --for trumpet --kind targets
- etude-cell 10 etude $samples/ferry-at-six.tune --for violin --kind cell --fingerings all
- etude-hands 10 etude six.tune --for piano-both-hands --kind composed
- etude-guide 10 etude long.tune --for double-bass --kind guide-tones
- evening 10 book $samples/ferry-at-six.tune --for trumpet --plan evening
* for-good 10 book $samples/ferry-at-six.tune --for trumpet --plan for-good
- from-memory 10 book $samples/second-hand-horn.tune --for horn --by chord --memory cell
- mandolin 10 book $samples/millstream.tune --for mandolin --fingerings all --by chord
- lead-five 10 convert five.tune --for clarinet
- lead-forty 10 convert forty.tune --for alto-sax
- lead-long 10 convert long.tune --for piano
- tuba 10 book $samples/gravel-yard.tune --for tuba
* long-symbols 10 book $samples/slack-tide.tune --for ukulele --fingerings all
- piccolo 10 book $samples/third-floor-third-door.tune --for piccolo --level 6
- guitar-by-chord 10 book five.tune --for guitar --fingerings all --by chord
LIST
echo "$count books and sheets"
exit "$status"
