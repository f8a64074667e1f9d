#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Makes the page that computes: one HTML file for a phone, tablet or desktop that needs no network.
# Usage: sh apps/web.sh, from anywhere; may be run again.
set -eu
cd "$(dirname "$0")/.."
sh lib/cmake/install_packages.sh build web
echo "web: building in $(pwd)/build"
# The tests are left as they are: on if an earlier tests/run.sh turned them on.
tests=OFF
[ -f build/CMakeCache.txt ] && grep -q '^SW_TESTS:[A-Z]*=ON' build/CMakeCache.txt && tests=ON
cmake -S . -B build -DSW_WEB=ON -DSW_TESTS="$tests" >/dev/null
cmake --build build -j "$(nproc)" --target web_page >/dev/null
echo "web: the page is $(pwd)/build/apps/stallwright.html: open it in a browser, or put it on any web server"
