#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Fits calibration/parameters.csv to the measured cooks and calibration/targets.csv and writes calibration/report.md and its pictures:
# sh validation/calibrate.sh, from any directory; name=value holds a parameter, on the scale of the fit, and writes to standard output only. SW_BUILD names another build folder than build/.
set -eu
root=$(cd "$(dirname "$0")/.." && pwd)
build=${SW_BUILD:-$root/build}
here=$root/validation/calibration
sh "$root/lib/cmake/install_packages.sh" build test
cmake -S "$root" -B "$build" -DCMAKE_BUILD_TYPE=Release -DSW_TESTS=ON >/dev/null
cmake --build "$build" -j2 --target calibrate >/dev/null
if [ $# -gt 0 ]; then
    trial=$(mktemp -d)
    "$build/validation/calibrate" "$trial/report.md" "$trial" "$@"
    cat "$trial/report.md"
    rm -r "$trial"
    exit
fi
"$build/validation/calibrate" "$here/report.md.part" "$here"
mv "$here/report.md.part" "$here/report.md"
