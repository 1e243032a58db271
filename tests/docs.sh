#!/usr/bin/env bash
# Runs what README and docs tell people to type: every line of every ```sh block, one after the other as printed, in a fresh
# folder that holds what the checkout holds. The first two blocks of README, which build the program, are left out.
# Each page runs in a folder of its own; pages run beside each other, as many as there are cores.
# usage: tests/docs.sh PROGRAM [PAGE...]
set -euo pipefail
program=$(realpath "$1")
shift
cd "$(dirname "$0")/.."
checkout=$PWD
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT

mkdir "$folder/bin"
ln -s "$program" "$folder/bin/shedbook"
# Nobody listens to a test: the player looks whether it got a sound, and is done.
cat > "$folder/bin/aplay" << 'PLAYER'
#!/bin/sh
for file; do :; done
[ "$(head -c 4 "$file")" = RIFF ]
PLAYER
chmod +x "$folder/bin/aplay"

# PAGE BLOCKS-TO-SKIP: the lines of the blocks behind those.
lines_of() {
    awk -v skip="$2" '/^```sh$/ { inside = 1; n++; next } /^```/ { inside = 0 } inside && n > skip' "$1"
}

# What a machine without the engraver or the synthesizer cannot do is passed over, and said.
can_run() {
    case $1 in
        *.pdf* | *.png* | *.svg*) [[ $1 == *map.svg* ]] || command -v lilypond > /dev/null ;;
        *.html*) command -v npm > /dev/null ;;
        *.wav* | *.flac* | *" play "*) command -v fluidsynth > /dev/null ;;
    esac
}

run_page() {
    local page=$1 skip=0 at line count=0
    [ "$page" = README.md ] && skip=2
    at=$(mktemp -d "$folder/XXXXXX")
    cp -r "$checkout"/sample-charts "$checkout"/docs "$checkout"/README.md "$at"
    cd "$at"
    while IFS= read -r line; do
        [ -n "$line" ] || continue
        if ! can_run "$line"; then echo "$page: passed over, a program is missing: $line"; continue; fi
        # What goes on until somebody ends it is ended; then all must have been well.
        [[ $line != *" serve "* ]] || line="timeout --preserve-status 3 ${line/ serve / serve --no-open }"
        if ! bash -c "$line" > said 2>&1 < /dev/null; then
            printf '%s: fails as printed: %s\n' "$page" "$line"
            cat said
            return 1
        fi
        count=$((count + 1))
    done < <(lines_of "$checkout/$page" $skip)
    # A page without a block is no page to look at.
    echo "$page: $count lines work"
}
export PATH="$folder/bin:$PATH" XDG_STATE_HOME="$folder/state" HOME="$folder"
export -f run_page lines_of can_run
export checkout folder
pages=("$@")
[ ${#pages[@]} -gt 0 ] || mapfile -t pages < <(grep -l '^```sh$' README.md docs/*.md)
printf '%s\0' "${pages[@]}" | xargs -0 -n 1 -P "${SHEDBOOK_JOBS:-$(nproc)}" bash -euo pipefail -c 'run_page "$1"' _
