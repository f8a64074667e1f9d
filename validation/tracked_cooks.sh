#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Tracks every measured cook from the readings of its first half and writes tracked_cooks/report.md: sh validation/tracked_cooks.sh, from
# any directory. SW_BUILD names another build folder than build/.
set -eu
root=$(cd "$(dirname "$0")/.." && pwd)
build=${SW_BUILD:-$root/build}
here=$root/validation/tracked_cooks
sh "$root/lib/cmake/install_packages.sh" build test
cmake -S "$root" -B "$build" -DCMAKE_BUILD_TYPE=Release -DSW_TESTS=ON >/dev/null
cmake --build "$build" -j2 --target tracked_cooks >/dev/null
"$build/validation/tracked_cooks" "$here/report.md.part"
mv "$here/report.md.part" "$here/report.md"
