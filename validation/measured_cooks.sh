#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Cooks every measured cook as it was stated and writes measured_cooks/report.md and its pictures: sh validation/measured_cooks.sh, from
# any directory. SW_BUILD names another build folder than build/.
set -eu
root=$(cd "$(dirname "$0")/.." && pwd)
build=${SW_BUILD:-$root/build}
here=$root/validation/measured_cooks
sh "$root/lib/cmake/install_packages.sh" build test
cmake -S "$root" -B "$build" -DCMAKE_BUILD_TYPE=Release -DSW_TESTS=ON >/dev/null
cmake --build "$build" -j2 --target measured_cooks >/dev/null
"$build/validation/measured_cooks" "$here/report.md.part" "$here"
mv "$here/report.md.part" "$here/report.md"
