#!/usr/bin/env bash
# Puts small faults into the sources, one after the other, and looks whether the tests of their module see them:
#     tests/mutants.sh                        all of tests/mutants.txt
#     tests/mutants.sh 5 7                    five of them, chosen by the seed 7
#     tests/mutants.sh rows 2 14              these, by their numbers from 0
#     tests/mutants.sh first-of base theory   the first of each of these modules
# A copy of the sources is built under TMPDIR (preset dev); the checkout is not touched. Fails if fewer than nine in ten are
# seen, or if the text of a fault is not there any more.
set -euo pipefail
cd "$(dirname "$0")/.."
least=90        # per cent
time_limit=600  # seconds for one test program

copy=$(mktemp -d "${TMPDIR:-/tmp}/shedbook-mutants-XXXXXX")
trap 'rm -rf "$copy"' EXIT
git ls-files -z | while IFS= read -r -d '' file; do
    # What is deleted and not committed yet is no part of the copy.
    if [ -e "$file" ]; then printf '%s\0' "$file"; fi
done | xargs -0 cp --parents -t "$copy"
chosen=$(python3 "$copy/tests/mutants.py" choose "$copy/tests/mutants.txt" "$@")
cd "$copy"
# A compiler cache knows the sources by their place in the copy.
export CCACHE_BASEDIR=$copy CCACHE_NOHASHDIR=1

programs() { tr ',' '\n' <<< "$1" | sed 's/.*/shedbook_&_tests/'; }
build() { cmake --build --preset dev -- "${jobs[@]}" "$@" > build.log 2>&1; }
jobs=(-j "${SHEDBOOK_JOBS:-$(nproc)}")

all=$(cut -d ' ' -f 3 <<< "$chosen" | sort -u | while read -r modules; do programs "$modules"; done | sort -u)
echo "building $(wc -w <<< "$all") test programs"
# All the faults: most of the time goes into running tests. A few: into building what is run a few times.
optimised=-O1
if [ $# -gt 0 ]; then optimised=-O0; fi
cmake --preset dev "-DCMAKE_CXX_FLAGS_DEBUG=$optimised" > configure.log
# shellcheck disable=SC2086
build $all || { tail -30 build.log >&2; exit 1; }
for program in $all; do
    test=build-dev/tests/$(sed 's/shedbook_\(.*\)_tests/\1/' <<< "$program")/$program
    timeout "$time_limit" "$test" --abort > test.log 2>&1 || { echo "$program fails without a fault" >&2; tail -20 test.log >&2; exit 1; }
done

# "seen by drill", "survived", or why it cannot be said.
outcome() {
    local number=$1 modules=$2 program module
    # shellcheck disable=SC2046
    build $(programs "$modules") || { echo "does not compile"; return; }
    for module in ${modules//,/ }; do
        program=build-dev/tests/$module/shedbook_${module}_tests
        timeout "$time_limit" "$program" --abort > test.log 2>&1 || { echo "seen by $module"; return; }
    done
    echo survived
}

seen=0
total=0
while read -r number file modules; do
    cp "$file" original
    python3 tests/mutants.py apply tests/mutants.txt "$number" .
    said=$(outcome "$number" "$modules")
    cp original "$file"
    printf '%3d  %-40s %s\n' "$number" "$file" "$said"
    total=$((total + 1))
    case $said in seen*) seen=$((seen + 1)) ;; esac
done <<< "$chosen"
echo "$seen of $total faults are seen by the tests"
[ $((seen * 100)) -ge $((total * least)) ]
