#!/usr/bin/env bash
# The placement engine against general-purpose solvers on one model in one run: 30 fabrics used 4 times on 10 x 12, no edges touching,
# similar colours counted. Usage: tests/bench/solvers.sh [SECONDS for each solver, 120]. Needs build/motley-bench; installs gringo (which
# brings clingo) and minizinc (with Gecode) from Debian's packages when they are missing. No test needs this.
set -euo pipefail
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)
. "$root/src/setup.sh"
install_missing gringo minizinc
seconds=${1:-120}
model=$(mktemp -d)
trap 'rm -rf "$model"' EXIT

"$root/build/motley-bench" scatter --columns 12 --rows 10 --fabrics 30 --touching edge --seconds 0.1 --model "$model" |
  sed -E 's/.*"energy": ([0-9]+).*/{"solver": "motley", "seconds": 0.1, "energy": \1}/'
best=$(clingo --time-limit="$seconds" --opt-strategy=bb,lin --quiet=1,1 "$root/tests/bench/scatter.lp" "$model/model.lp" 2>/dev/null |
  sed -nE 's/^Optimization ?: ?([0-9]+).*/\1/p' | tail -1) || true
echo "{\"solver\": \"clingo\", \"seconds\": $seconds, \"energy\": ${best:-null}}"
best=$(minizinc --solver org.gecode.gecode -a -r 1 --time-limit "$((seconds * 1000))" "$root/tests/bench/scatter.mzn" "$model/model.dzn" 2>/dev/null |
  sed -nE 's/^energy ([0-9]+)/\1/p' | tail -1) || true
echo "{\"solver\": \"minizinc with Gecode\", \"seconds\": $seconds, \"energy\": ${best:-null}}"
