#!/usr/bin/env bash
# Builds Motley on a Debian machine, installing what is missing, and runs the main job on the demo plans.
set -euo pipefail
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
. "$root/src/setup.sh"
install_missing "${debian_packages[@]}"
configure
cmake --build "$root/build" --target motley
cd "$root"
for plan in palettes/*.json; do
  echo
  echo "== $plan"
  build/motley make "$plan" --pixels 1280 "$@"
done
