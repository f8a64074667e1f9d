#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Installs what the program needs, builds it, and compares four wraps on the built-in brisket.
# Usage: sh apps/demo.sh, from anywhere; may be run again.
set -eu
cd "$(dirname "$0")/.."
sh lib/cmake/install_packages.sh build
echo "demo: building in $(pwd)/build"
# The tests are left as they are: on if an earlier tests/run.sh turned them on.
tests=OFF
[ -f build/CMakeCache.txt ] && grep -q '^SW_TESTS:[A-Z]*=ON' build/CMakeCache.txt && tests=ON
cmake -S . -B build -DSW_APPS=ON -DSW_PLOT=ON -DSW_TESTS="$tests" >/dev/null
cmake --build build -j "$(nproc)" --target stallwright_app >/dev/null
mkdir -p build/demo
echo "demo: build/apps/stallwright compare --plot build/demo/compare.png"
echo
build/apps/stallwright compare --plot build/demo/compare.png --force --quiet
echo
echo "demo: the curves are in $(pwd)/build/demo/compare.png"
