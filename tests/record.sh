#!/usr/bin/env bash
# Writes books, sheets, etudes, class sets, lead sheets and sounds of many kinds into a folder, so that what two versions of the
# program write can be compared:
#     tests/record.sh build/shedbook before;  (change something)  tests/record.sh build/shedbook after;  diff -r before after
# MusicXML and LilyPond as text, MIDI as bytes. Nothing that needs the engraver or the synthesizer.
set -euo pipefail
[ $# -eq 2 ] || { echo "usage: tests/record.sh PROGRAM FOLDER" >&2; exit 2; }
program=$(realpath "$1")
mkdir -p "$2"
folder=$(realpath "$2")
cd "$(dirname "$0")/.."
charts=sample-charts

# NAME ENDINGS COMMAND...: the command with -o NAME.ENDING for each ending, and what it said.
record() {
    local name=$1 endings=$2 ending
    shift 2
    for ending in $endings; do
        "$program" "$@" -o "$folder/$name.$ending" > "$folder/$name.$ending.said" 2>&1 || echo "exit $?" >> "$folder/$name.$ending.said"
        # What was written is told with its folder, which differs between two records.
        sed -i "s|$folder/||g" "$folder/$name.$ending.said"
    done
}
all="musicxml ly mid"

record book-plain "$all" book $charts/borrowed-ladder.tune --for alto-sax
record book-level-1 "$all" book $charts/cellar-steps.tune --for trombone --level 1
record book-level-3 "$all" book $charts/cellar-steps.tune --for trombone --level 3
record book-level-6 "$all" book $charts/ferry-at-six.tune --for violin --level 6
record book-piano "$all" book $charts/ferry-at-six.tune --for piano
record book-evening "$all" book $charts/thimble-waltz.tune --for violin --plan evening
record book-for-good "$all" book $charts/cellar-steps.tune --for clarinet --plan for-good
record book-weeks "$all" book $charts/goat-path.tune --for flute --plan scale-a-week
record book-fingerings "$all" book $charts/wet-umbrella-blues.tune --for guitar --fingerings scales
record book-memory "$all" book $charts/millstream.tune --for double-bass --memory cell --order mixed
record book-symbols "$all" book $charts/moss-on-the-sill.tune --for viola --memory symbol
record book-basic "$all" book $charts/narrow-stairs.tune --for tenor-sax --basic-first --scales rich
record book-together "$all" book $charts/slack-tide.tune --for alto-sax,trumpet,tuba
record book-two-tunes "$all" book $charts/sunday-bicycle.tune $charts/late-window.tune --for horn
record book-bars "$all" book $charts/second-hand-horn.tune --for flute --bars 3-6
record book-all "$all" book $charts/gravel-yard.tune --for trumpet --all --no-line
record book-transposed "$all" book $charts/hurry-postman.tune --for clarinet --transpose Eb --prefer flats
record book-letter ly book $charts/five-loose-buttons.tune --for cello --paper letter --fingerings all
record book-tablet ly book $charts/round-by-the-weir.tune --for alto-recorder --paper tablet
record book-odd "$all" book $charts/third-floor-third-door.tune --for guitar --octaves all --drills thirds,range-scale
record book-tenths "$all" book $charts/crooked-fence.tune --for piano-in-tenths --etude guide-tones
record book-only "$all" book $charts/borrowed-ladder.tune --for alto-sax --only 1,2.3,9
record book-boxes mid book $charts/borrowed-ladder.tune --for alto-sax --only 1 --tempo boxes

record sheet "$all" drills "Db7#11" "F lydian" --for tenor-sax
record sheet-keys "$all" drills "C dorian" --keys fourths --for flute --drills usual
record sheet-setting "$all" drills Dm7 G7 --for bassoon --meter 6/8 --rhythm triplets --articulation "(o o) . ."
record sheet-piano "$all" drills "C7alt" --for piano
record sheet-all musicxml drills "Gmaj7" --for alto-sax --drills all
record sheet-quintuplets musicxml drills "G7" --for flute --rhythm quintuplets

for kind in composed guide-tones arpeggios-up unbroken-scale targets added-note cell call-and-answer aab; do
    record "etude-$kind" "$all" etude $charts/cellar-steps.tune --for alto-sax --kind $kind --seed 3
done
record etude-waltz "$all" etude $charts/thimble-waltz.tune --for trombone --chorus 2 --explain
record etude-two "$all" etude $charts/goat-path.tune $charts/millstream.tune --for piano

for tune in $charts/*.tune; do
    record "changes-$(basename "$tune" .tune)" "musicxml ly mid json" convert "$tune" --for alto-sax
done
for ending in musicxml ly; do
    "$program" class docs/thursday-class.toml $charts/cellar-steps.tune --as $ending -o "$folder/class-$ending" > "$folder/class-$ending.said" 2>&1
done
for tune in $charts/*.tune; do
    "$program" changes "$tune" --why
    "$program" changes "$tune" --json
done > "$folder/changes.txt"
