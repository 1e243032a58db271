#!/usr/bin/env bash
# Makes the package of a release build and looks at it: what lintian says, that no path of this machine is in it, that the program
# works from it, and that a program of somebody else's builds against the installed libraries.
# usage: tests/package.sh build            of a release build
#        tests/package.sh build libraries   only the program of somebody else's; CXXFLAGS as those of the build
#        tests/package.sh build bare        the package put into a bare Debian with apt, used there and taken out again (as root;
#                                           mmdebstrap; some 300 MB of packages)
set -euo pipefail
build=$(realpath "$1")
cd "$(dirname "$0")/.."
checkout=$PWD
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
fail() { echo "FAILED: $*" >&2; exit 1; }

the_package() {
echo "== the package"
cpack --config "$build/CPackConfig.cmake" -B "$folder/packages" > "$folder/said" 2>&1 || { cat "$folder/said"; fail "cpack"; }
package=$(echo "$folder"/packages/*.deb)
if command -v lintian > /dev/null; then
    # As root it would rather not run, but here it may.
    lintian --allow-root --fail-on error "$package" || fail "lintian"
fi
dpkg-deb -x "$package" "$folder/root"
for file in bin/shedbook share/man/man1/shedbook.1.gz share/man/man1/shedbook-book.1.gz share/mime/packages/shedbook-tune.xml \
    share/icons/hicolor/scalable/mimetypes/text-x-shedbook-tune.svg share/bash-completion/completions/shedbook \
    share/doc/shedbook/changelog.gz share/doc/shedbook/copyright share/doc/shedbook/sample-charts/goat-path.tune; do
    [ -e "$folder/root/usr/$file" ] || fail "no $file in the package"
done
version=$(dpkg-deb -f "$package" Version)
zcat "$folder/root/usr/share/doc/shedbook/changelog.gz" | head -1 | grep -qF "($version)" || fail "the changelog does not begin with $version"
dpkg-deb -f "$package" Depends | grep -q libc6 || fail "depends on nothing"
dpkg-deb -f "$package" Recommends | grep -q lilypond || fail "recommends no engraver"

echo "== no path of this machine"
for path in "$checkout" "$build"; do
    if grep -qF "$path" "$folder/root/usr/bin/shedbook"; then fail "the program names $path"; fi
done

echo "== the program, from the package"
(
    cd "$folder"
    root/usr/bin/shedbook try --for trumpet -o first.mxl
    root/usr/bin/shedbook book root/usr/share/doc/shedbook/sample-charts/goat-path.tune --for alto-sax -o book.mid
    [ -s first.mxl ] && [ -s book.mid ]
)

}

bare_debian() {
    cpack --config "$build/CPackConfig.cmake" -B "$folder/packages" > "$folder/said" 2>&1 || { cat "$folder/said"; fail "cpack"; }
    root=$folder/bare
    # shellcheck disable=SC2046
    mmdebstrap --mode=root --variant=apt bookworm "$root" \
        $(find /etc/apt -maxdepth 2 \( -name sources.list -o -name '*.sources' -o -path '*/sources.list.d/*.list' \)) \
        > "$folder/said" 2>&1 || { cat "$folder/said"; fail "mmdebstrap"; }
    cp "$folder"/packages/*.deb "$root/root/shedbook.deb"
    in_there() { chroot "$root" env -i PATH=/usr/bin:/bin:/usr/sbin:/sbin HOME=/root DEBIAN_FRONTEND=noninteractive "$@"; }
    local begun=$SECONDS
    in_there sh -c 'cd /root && apt-get update -qq && apt-get install -y -qq ./shedbook.deb' > "$folder/said" 2>&1 \
        || { cat "$folder/said"; fail "apt-get install"; }
    echo "installed with what it recommends after $((SECONDS - begun)) s"
    in_there sh -c 'cd /root && shedbook try --for trumpet -o first.pdf' || fail "no first book"
    echo "first PDF after $((SECONDS - begun)) s"
    in_there sh -c 'cd /root && shedbook book /usr/share/doc/shedbook/sample-charts/goat-path.tune --for alto-sax -o book.pdf &&
        shedbook drills Dm7 --for trumpet --drills thirds -o drill.wav && shedbook --version && man -w shedbook > /dev/null 2>&1 || [ -e book.pdf ]' \
        || fail "a book, a drill to hear"
    for file in first.pdf book.pdf; do head -c5 "$root/root/$file" | grep -q '%PDF-' || fail "$file is no PDF"; done
    head -c4 "$root/root/drill.wav" | grep -q RIFF || fail "drill.wav is no sound"
    # A machine without a sound card is told so.
    in_there sh -c 'cd /root && shedbook play Dm7 --for trumpet --drills thirds' > "$folder/said" 2>&1 && fail "played without a sound card"
    grep -qi "sound" "$folder/said" || { cat "$folder/said"; fail "play says nothing about sound"; }
    in_there apt-get purge -y -qq shedbook > "$folder/said" 2>&1 || { cat "$folder/said"; fail "apt-get purge"; }
    # shellcheck disable=SC2016
    left=$(in_there find / -xdev -not -path "/proc/*" -path "*shedbook*" -not -path "/root/*")
    [ -z "$left" ] || fail "left behind: $left"
    echo "good"
}

case "${2:-}" in
    libraries) ;;
    bare) bare_debian; exit ;;
    *) the_package ;;
esac

echo "== the libraries, for somebody else's program"
cmake --install "$build" --component library --prefix "$folder/prefix" > "$folder/said"
cmake -S tests/consumer -B "$folder/consumer" -DCMAKE_PREFIX_PATH="$folder/prefix" > "$folder/said" || { cat "$folder/said"; fail "consumer"; }
cmake --build "$folder/consumer" > "$folder/said" || { cat "$folder/said"; fail "consumer"; }
"$folder/consumer/consumer" | grep -q 'C7: C Mixolydian' || fail "the consumer says something else"
find "$folder/prefix/include" -name '*.h' | sed "s|$folder/prefix/include/|#include \"|; s|$|\"|" > "$folder/all.cpp"
[ "$(wc -l < "$folder/all.cpp")" -gt 20 ] || fail "few headers are installed"
g++ -std=c++20 -fsyntax-only -I "$folder/prefix/include" "$folder/all.cpp" || fail "a header needs what is not installed"
if command -v pkg-config > /dev/null; then
    sed "s|^prefix=.*|prefix=$folder/prefix|" "$folder"/prefix/lib*/pkgconfig/shedbook.pc "$folder"/prefix/lib/*/pkgconfig/shedbook.pc \
        > "$folder/shedbook.pc" 2> /dev/null || true
    flags=$(PKG_CONFIG_PATH=$folder pkg-config --static --cflags --libs shedbook)
    # shellcheck disable=SC2086
    g++ -std=c++20 ${CXXFLAGS:-} tests/consumer/consumer.cpp $flags -o "$folder/by-pkg-config" || fail "pkg-config"
    "$folder/by-pkg-config" | grep -q 'Fmaj7: F Ionian' || fail "pkg-config: the consumer says something else"
fi
echo "good"
