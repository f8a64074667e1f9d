#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Builds everything and runs all tests: sh tests/run.sh, from any directory, as often as wanted.
# Installs missing Debian packages (as root or through sudo), builds in build/ and prints the output of tests that fail.
set -eu
root=$(cd "$(dirname "$0")/.." && pwd)
build=$root/build

step() {
    echo "== $1"
}

step "packages"
sh "$root/lib/cmake/install_packages.sh" build web package test
command -v npm >/dev/null 2>&1 || sh "$root/lib/cmake/install_packages.sh" node
step "configuring $build"
cmake -S "$root" -B "$build" -DCMAKE_BUILD_TYPE=Release -DSW_APPS=ON -DSW_HDF5=ON -DSW_PLOT=ON -DSW_MPI=ON -DSW_WEB=ON -DSW_TESTS=ON
step "building"
cmake --build "$build" -j2
step "testing"
# Quiet about what passes, and complete about what does not.
ctest --test-dir "$build" -j2 --output-on-failure --no-tests=error
step "the page that computes: size and time, for information"
/usr/bin/python3 "$root/tests/web/timings.py" "$build/apps/stallwright.html"
step "fuzzing, one minute in all"
sh "$root/tests/fuzz/run.sh" 15
step "all tests passed"
