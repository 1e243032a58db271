#!/usr/bin/env bash
# Makes the package of a release build and looks at it: what lintian says, that no path of this machine is in it, that the program
# works from it, and that a program of somebody else's builds against the installed libraries.
# usage: tests/package.sh build            of a release build
#        tests/package.sh build libraries   only the program of somebody else's; CXXFLAGS as those of the build
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
[ "${2:-}" = libraries ] || the_package

echo "== the libraries, for somebody else's program"
cmake --install "$build" --component library --prefix "$folder/prefix" > "$folder/said"
cmake -S tests/consumer -B "$folder/consumer" -DCMAKE_PREFIX_PATH="$folder/prefix" > "$folder/said" || { cat "$folder/said"; fail "consumer"; }
cmake --build "$folder/consumer" > "$folder/said" || { cat "$folder/said"; fail "consumer"; }
"$folder/consumer/consumer" | grep -q 'C7: C Mixolydian' || fail "the consumer says something else"
if command -v pkg-config > /dev/null; then
    sed "s|^prefix=.*|prefix=$folder/prefix|" "$folder"/prefix/lib*/pkgconfig/shedbook.pc "$folder"/prefix/lib/*/pkgconfig/shedbook.pc \
        > "$folder/shedbook.pc" 2> /dev/null || true
    flags=$(PKG_CONFIG_PATH=$folder pkg-config --static --cflags --libs shedbook)
    # shellcheck disable=SC2086
    g++ -std=c++20 ${CXXFLAGS:-} tests/consumer/consumer.cpp $flags -o "$folder/by-pkg-config" || fail "pkg-config"
    "$folder/by-pkg-config" | grep -q 'Fmaj7: F Ionian' || fail "pkg-config: the consumer says something else"
fi
echo "good"
