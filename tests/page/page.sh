#!/usr/bin/env bash
# The page of `serve` in Chromium: the whole story by hand and ear. usage: tests/page/page.sh PROGRAM [small|all] [PAGE [PICTURES]]
# small is for CI. PAGE: the files of the page from that folder, not those in the program; PICTURES: a folder for screenshots.
set -euo pipefail
program=$(realpath "$1")
which=${2:-all}
page=${3:-}
pictures=${4:-}
here=$(cd "$(dirname "$0")" && pwd)
for tool in npm node; do
    command -v "$tool" > /dev/null || { echo "skipped: $tool is not installed"; exit 0; }
done
[ -x /usr/bin/chromium ] || [ -x /usr/bin/chromium-browser ] || { echo "skipped: chromium is not installed"; exit 0; }
cd "$here"
[ -d node_modules/playwright-core ] || npm ci --silent --no-audit --no-fund
arguments=()
[ "$which" = small ] && arguments+=(--small)
[ -n "$page" ] && arguments+=(--page "$(realpath "$page")")
[ -n "$pictures" ] && arguments+=(--pictures "$pictures")
status=0
node story.mjs "$program" "${arguments[@]}" || status=1
phone=()
[ -n "$pictures" ] && phone+=(--pictures "$pictures")
node phone.mjs "$program" "${phone[@]}" || status=1
exit $status
