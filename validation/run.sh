#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Builds what it needs and writes validation/report.md with its pictures: sh validation/run.sh, from any directory.
# SW_BUILD names another build folder than build/.
set -eu
root=$(cd "$(dirname "$0")/.." && pwd)
build=${SW_BUILD:-$root/build}
sh "$root/lib/cmake/install_packages.sh" build test
cmake -S "$root" -B "$build" -DCMAKE_BUILD_TYPE=Release -DSW_TESTS=ON >/dev/null
cmake --build "$build" -j2 --target validate >/dev/null
"$build/validation/validate" "$root/validation/report.md"
