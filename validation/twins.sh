#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Tracks simulated cooks and prints the table of docs/theory/tracking.md: sh validation/twins.sh [COUNT], from any directory; 200 take about
# four minutes of processor. SW_BUILD names another build folder than build/.
set -eu
root=$(cd "$(dirname "$0")/.." && pwd)
build=${SW_BUILD:-$root/build}
sh "$root/lib/cmake/install_packages.sh" build test
cmake -S "$root" -B "$build" -DCMAKE_BUILD_TYPE=Release -DSW_TESTS=ON >/dev/null
cmake --build "$build" -j2 --target twins >/dev/null
"$build/validation/twins" "${1:-200}"
