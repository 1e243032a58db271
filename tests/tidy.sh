#!/usr/bin/env bash
# Looks through sources with clang-tidy-14; the checks, and why some are left out, stand in .clang-tidy.
#     tests/tidy.sh            what differs from the branch point of main, or from the last commit on main itself
#     tests/tidy.sh all        all of src, the files of a module a dozen at a time: most of the time goes into headers
#     tests/tidy.sh FILE...    these
# SHEDBOOK_TIDY_MOST=10: where many files differ no more than so many of all, others for each commit: where time is short.
set -euo pipefail
cd "$(dirname "$0")/.."

# clang-14 cannot read a header of qpdf in C++20: it has a vector of what is not yet complete.
unread=/pdf_join.cpp
changed() {
    local base
    base=$(git merge-base HEAD origin/main 2>/dev/null || git merge-base HEAD main 2>/dev/null || git rev-parse HEAD)
    if [ "$base" = "$(git rev-parse HEAD)" ]; then base=$(git rev-parse -q --verify HEAD~1 || git rev-parse HEAD); fi
    git diff --name-only --diff-filter=d "$base" -- 'src/*.cpp' 'src/**/*.cpp' | grep -v "$unread" || true
}
# As they are compiled in the preset: joined.
joined() { sed -n 's/^ *"file": "\(.*\)".*/\1/p' build-tidy/compile_commands.json | grep -v -e /embedded_templates -e /page_files -e "$unread"; }

cmake --preset tidy > /dev/null
cmake --build build-tidy --target src/io/embedded_templates.cpp > /dev/null
case ${1:-} in
    '') files=$(changed) ;;
    all) files=$(joined) ;;
    *) files=$(printf '%s\n' "$@") ;;
esac
[ -n "$files" ] || { echo "no source to look at"; exit 0; }
# Many changed files are looked at as all are: that is quicker.
if [ "$(wc -l <<< "$files")" -gt 30 ]; then
    files=$(joined)
    if [ -n "${SHEDBOOK_TIDY_MOST:-}" ] && [ "${1:-}" != all ]; then
        echo "looking at $SHEDBOOK_TIDY_MOST of $(wc -l <<< "$files") joined sources; tests/tidy.sh all looks at all"
        files=$(shuf -n "$SHEDBOOK_TIDY_MOST" --random-source=<(git rev-parse HEAD HEAD HEAD HEAD HEAD HEAD HEAD HEAD) <<< "$files")
    fi
fi
xargs -P "${SHEDBOOK_JOBS:-$(nproc)}" -n 1 clang-tidy-14 -p build-tidy --quiet <<< "$files" 2> >(grep -v 'warnings generated' >&2)
echo "clang-tidy: clean"
