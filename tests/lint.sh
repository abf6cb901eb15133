#!/usr/bin/env bash
# Format and lint as the house wants them. `tests/lint.sh --fix` formats in place. Needs clang-format-19 and clang-tidy-19 from Debian's
# packages, and a configured build/ for clang-tidy.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
mapfile -t files < <(git ls-files 'src/*.h' 'src/*.cpp' 'tests/*.h' 'tests/*.cpp')
if [ "${1:-}" = --fix ]; then
  clang-format-19 -i "${files[@]}"
  exit
fi
clang-format-19 --dry-run -Werror "${files[@]}"
mapfile -t sources < <(git ls-files 'src/*.cpp')
printf '%s\n' "${sources[@]}" | xargs -P "$(nproc)" -n 4 clang-tidy-19 -p build --quiet --extra-arg=-Wno-unknown-warning-option
