#!/bin/sh
# Fits the keys of calibration/parameters.csv to calibration/targets.csv and writes calibration/report.md:
# sh validation/calibrate.sh, from any directory. SW_BUILD names another build folder than build/.
set -eu
root=$(cd "$(dirname "$0")/.." && pwd)
build=${SW_BUILD:-$root/build}
here=$root/validation/calibration
sh "$root/lib/cmake/install_packages.sh" build test
cmake -S "$root" -B "$build" -DCMAKE_BUILD_TYPE=Release -DSW_TESTS=ON >/dev/null
cmake --build "$build" -j2 --target calibrate >/dev/null
"$build/validation/calibrate" "$here/parameters.csv" "$here/targets.csv" "$here/report.md.part"
mv "$here/report.md.part" "$here/report.md"
