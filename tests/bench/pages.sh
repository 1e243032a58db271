#!/usr/bin/env bash
# How long a book takes to become a PDF, against one engraver process over its whole text: the first time, and again with
# one chord of the tune changed. Medians of so many rounds, in seconds and as ratios; on a quiet machine. Needs LilyPond.
# usage: tests/bench/pages.sh PROGRAM [ROUNDS]      e.g. tests/bench/pages.sh build/shedbook 5
set -euo pipefail
program=$(realpath "$1")
rounds=${2:-5}
cd "$(dirname "$0")/../.."
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
export XDG_DATA_HOME=$folder/data
# Debian's engraver does not find its own compiled code by itself.
compiled=$(dpkg -L lilypond 2> /dev/null | grep '/ccache$' || true)

seconds() {
    local start
    start=$(date +%s%N)
    "$@" > "$folder/said" 2>&1 || { cat "$folder/said" >&2; exit 1; }
    echo $((($(date +%s%N) - start) / 1000000))
}
alone() { (cd "$folder" && GUILE_LOAD_COMPILED_PATH=$compiled lilypond --loglevel=WARN -o alone "$1"); }
median() { sort -n | sed -n "$(((rounds + 1) / 2))p"; }

# name, tune, a chord and what it becomes, options
while read -r name tune from to options; do
    cp "$tune" "$folder/tune.tune"
    # shellcheck disable=SC2086  # several options
    book() { "$program" book "$folder/tune.tune" $options -o "$1"; }
    rm -f "$folder"/*.times
    for ((round = 0; round < rounds; ++round)); do
        cp "$tune" "$folder/tune.tune"
        export XDG_CACHE_HOME=$folder/cache$round
        book "$folder/book.ly" > /dev/null
        seconds alone book.ly >> "$folder/alone.times"
        seconds book "$folder/book.pdf" >> "$folder/first.times"
        sed -i "s/$from/$to/" "$folder/tune.tune"
        seconds book "$folder/book.pdf" >> "$folder/changed.times"
        rm -rf "$XDG_CACHE_HOME"
    done
    pages=$(pdfinfo "$folder/book.pdf" | sed -n 's/^Pages: *//p')
    awk -v name="$name" -v pages="$pages" -v a="$(median < "$folder/alone.times")" -v f="$(median < "$folder/first.times")" \
        -v c="$(median < "$folder/changed.times")" 'BEGIN { printf "%s, %d pages: engraver alone %.1f s; first %.1f s, ratio %.2f; one chord changed %.1f s, ratio %.2f\n", name, pages, a / 1000, f / 1000, f / a, c / 1000, c / a }'
done << 'LIST'
long sample-charts/ferry-at-six.tune C7(b9) C7alt --for alto-sax --by chord
short sample-charts/ferry-at-six.tune C7(b9) C7alt --for alto-sax
LIST
