#!/usr/bin/env bash
# Builds Motley on a Debian machine, installing what is missing, and passes its tests. MOTLEY_STRICT=1 makes warnings errors.
set -euo pipefail
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
. "$root/src/setup.sh"
install_missing "${debian_packages[@]}" catch2 poppler-utils
# Photographs for one test, which says so where it goes without them.
install_missing libjxl-testdata || echo "Going on without the package libjxl-testdata." >&2
configure
cmake --build "$root/build"
ctest --test-dir "$root/build" --output-on-failure -j "$(nproc)" "$@"
