#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Writes docs/theory/sensitivity.md: sh validation/sensitivity.sh, from any directory. SW_BUILD names another build folder.
set -eu
root=$(cd "$(dirname "$0")/.." && pwd)
build=${SW_BUILD:-$root/build}
page=$root/docs/theory/sensitivity.md
sh "$root/lib/cmake/install_packages.sh" build test
cmake -S "$root" -B "$build" -DCMAKE_BUILD_TYPE=Release >/dev/null
cmake --build "$build" -j2 --target stallwright_app >/dev/null
python3 "$root/validation/sensitivity.py" "$build/apps/stallwright" >"$page.part"
mv "$page.part" "$page"
