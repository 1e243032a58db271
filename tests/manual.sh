#!/usr/bin/env bash
# Looks at the man pages and completions that the build has made, each with the program that it is for; what is not installed is
# passed over, and said.
# usage: tests/manual.sh build/manual
set -euo pipefail
manual=$(realpath "$1")
failed=0
fail() { echo "FAILED: $*"; failed=1; }
# Where a name stands among words, a line each.
has() { grep -qx -- "$1" <<< "$2" || fail "$3 does not offer $1: $(tr '\n' ' ' <<< "$2" | cut -c 1-200)"; }

folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
cd "$folder"
touch goat-path.tune

pages=0
for page in "$manual"/man/*.1; do
    pages=$((pages + 1))
    if command -v groff > /dev/null; then
        said=$(groff -man -Tascii -P-c -P-b -P-u -ww -rLL=78n "$page" 2>&1 > "$folder/page.txt")
        [ -z "$said" ] || fail "$page: $said"
        for heading in NAME SYNOPSIS DESCRIPTION "EXIT STATUS" "SEE ALSO"; do
            grep -q "$heading" "$folder/page.txt" || fail "$page has no $heading"
        done
    fi
done
[ "$pages" -ge 14 ] || fail "only $pages pages"
grep -q 'shedbook\\-book' "$manual/man/shedbook.1" || fail "shedbook(1) does not name shedbook-book(1)"

# What bash offers at the end of a line.
bash_offers() {
    bash --norc --noprofile -c '
        source "$1"; shift
        COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1))
        _shedbook
        printf "%s\n" "${COMPREPLY[@]}"' _ "$manual/completions/shedbook.bash" "$@"
}
has book "$(bash_offers shedbook bo)" bash
has --for "$(bash_offers shedbook book --f)" bash
has alto-sax "$(bash_offers shedbook book --for al)" bash
has trumpet,alto-sax "$(bash_offers shedbook book --for trumpet,al)" bash
has thirds "$(bash_offers shedbook drills --drills thi)" bash
has goat-path.tune "$(bash_offers shedbook book goat)" bash
has goat-path.tune "$(bash_offers shedbook convert x.tune -o go)" bash
has instruments "$(bash_offers shedbook list ins)" bash
has etude "$(bash_offers shedbook help e)" bash

if command -v fish > /dev/null; then
    fish_offers() {
        HOME=$folder fish --no-config -c 'source $argv[1]; complete -C $argv[2]' "$manual/completions/shedbook.fish" "$1" | cut -f 1
    }
    has book "$(fish_offers 'shedbook bo')" fish
    has --for "$(fish_offers 'shedbook book --f')" fish
    has alto-sax "$(fish_offers 'shedbook book --for al')" fish
    has trumpet,alto-sax "$(fish_offers 'shedbook book --for trumpet,al')" fish
    has thirds "$(fish_offers 'shedbook drills --drills thi')" fish
    has goat-path.tune "$(fish_offers 'shedbook book goat')" fish
    has goat-path.tune "$(fish_offers 'shedbook convert x.tune -o go')" fish
    has instruments "$(fish_offers 'shedbook list ins')" fish
else
    echo "passed over: no fish here"
fi

if command -v zsh > /dev/null; then
    # A shell in a shell: what stands on the terminal after the tabulator. Nothing here waits for what may not come.
    cat > "$folder/offers.zsh" << 'ZSH'
zmodload zsh/zpty
zpty -b shell zsh -f
# Listens until a word comes, ten seconds at most.
hear() { repeat 100; do while zpty -rt shell piece; do said+=$piece; done; [[ $said == *$1* ]] && return; sleep 0.1; done }
zpty -w shell "PS1=; fpath=($1 \$fpath); autoload -Uz compinit && compinit -u -D; LISTMAX=0; unsetopt automenu; print ready\$((40+2))"
hear ready42
said=
zpty -w -n shell "$2"$'\t'
hear $3
zpty -d shell
print -r -- $said
ZSH
    zsh_offers() {
        timeout 30 zsh -f "$folder/offers.zsh" "$manual/completions" "$1" "$2" 2>&1 |
            sed 's/\x1b\[[0-9;?]*[A-Za-z]//g' | tr -c 'a-zA-Z0-9.,\n-' '\n'
    }
    has alto-sax, "$(zsh_offers 'shedbook book --for alto-s' alto-sax)" zsh
    has goat-path.tune "$(zsh_offers 'shedbook book goat' goat-path.tune)" zsh
    has --drills "$(zsh_offers 'shedbook book --dr' --drills)" zsh
else
    echo "passed over: no zsh here"
fi
[ $failed = 0 ] && echo "man pages and completions: good"
exit $failed
