#!/usr/bin/env bash
# The design wall in a real browser: run.sh PROGRAM BUILD-FOLDER [FILTER]. Leaves with 77, and a word why, where Chromium, node or npm's
# packages are not to be had: nothing is tested then.
set -euo pipefail
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
program=$1 build=$2
skip() {
  echo "The browser tests are left out: $1."
  exit 77
}
command -v chromium >/dev/null || skip "there is no chromium (Debian's package of that name)"
command -v node >/dev/null || skip "there is no node (Debian's package nodejs)"
command -v npm >/dev/null || skip "there is no npm (Debian's package npm)"
mkdir -p "$build/browser"
cp "$here/package.json" "$here/package-lock.json" "$build/browser/"
if ! cmp -s "$here/package-lock.json" "$build/browser/installed"; then
  (cd "$build/browser" && npm ci --no-audit --no-fund --silent) || skip "npm's packages could not be fetched"
  cp "$here/package-lock.json" "$build/browser/installed"
fi
cp "$here"/*.mjs "$build/browser/"
cd "$build/browser"
MOTLEY=$program PHOTOS="$here/../../../palettes/orchard" SHOTS="$build/browser/shots" \
  node --test --test-concurrency=1 ${3:+--test-name-pattern="$3"} ./*.test.mjs
