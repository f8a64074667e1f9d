#!/bin/sh
# Installs what the tests need, builds everything and runs every test.
# Usage: sh tests/run.sh, from anywhere; may be run again.
set -eu
cd "$(dirname "$0")/.."
sh lib/cmake/install_packages.sh build test
echo "tests: building in $(pwd)/build"
cmake -S . -B build -DSW_BUILD_TESTS=ON >/dev/null
cmake --build build -j "$(nproc)" >/dev/null
echo "tests: running"
cd build
ctest --output-on-failure --no-tests=error
