#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Runs the tests under the sanitizers: sh tests/sanitizers.sh [FOLDER]. Everything under those of addresses and undefined behaviour,
# what has threads under that of races. Takes too long for run.sh; what it printed last, from the commit it names, is in
# tests/sanitizers.txt.
set -eu
root=$(cd "$(dirname "$0")/.." && pwd)
build=${1:-$root/build/sanitizers}
mkdir -p "$build"
configure_and_build() { # folder, options...
    folder=$1; shift
    cmake -S "$root" -B "$folder" "$@" >"$folder.log" 2>&1 && cmake --build "$folder" -j2 >>"$folder.log" 2>&1 ||
        { tail -30 "$folder.log"; exit 1; }
}
result() { # words, file with the output of ctest
    echo "$1: $(grep 'tests passed' "$2")"
    sed -n '/The following tests FAILED/,/^Errors/p' "$2"
    grep -h 'runtime error:\|ERROR: AddressSanitizer\|ERROR: LeakSanitizer\|WARNING: ThreadSanitizer' "$2" | sort | uniq -c || true
}

echo "$(git -C "$root" describe --always 2>/dev/null || echo unknown), $(gcc --version | head -1)"
configure_and_build "$build/address" -DSW_SANITIZE=ON -DCMAKE_BUILD_TYPE=RelWithDebInfo
failed=no
ctest --test-dir "$build/address" -j2 --output-on-failure --no-tests=error >"$build/address.out" 2>&1 || failed=yes
result "addresses, leaks and undefined behaviour" "$build/address.out"
configure_and_build "$build/thread" -DSW_MPI=OFF -DSW_APPS=OFF -DCMAKE_BUILD_TYPE=RelWithDebInfo -DCMAKE_C_FLAGS=-fsanitize=thread
ctest --test-dir "$build/thread" -R 'test_(study|cook_grid)' --output-on-failure --no-tests=error >"$build/thread.out" 2>&1 || failed=yes
result "races between threads" "$build/thread.out"
[ "$failed" = no ]
