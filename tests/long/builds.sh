#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Builds with gcc and clang, guards, optimisation across files, shared, and each part left out, all with warnings as errors, and
# cooks with each: sh tests/long/builds.sh [FOLDER]. Takes about ten minutes; what it printed last, from the commit it names, is in
# builds.txt.
set -eu
root=$(cd "$(dirname "$0")/../.." && pwd)
folder=${1:-$root/build/builds}
mkdir -p "$folder"
failed=no
short="--set solver.cells=10 --set pull=1h --set rest.until=none --set hold.until=none --set wrap.kind=none"
try() { # name, compiler, what to run or nothing, options...
    name=$1 compiler=$2 then=$3; shift 3
    build=$folder/$name
    rm -rf "$build"; mkdir "$build"
    CC=$compiler cmake -S "$root" -B "$build" -DCMAKE_BUILD_TYPE=Release -DCMAKE_C_FLAGS=-Werror "$@" >"$build/log" 2>&1 &&
        cmake --build "$build" -j2 >>"$build/log" 2>&1 || { echo "$name: FAILED"; grep -A3 'rror' "$build/log" | head -20; failed=yes; return; }
    told=built
    case $then in
    cook) "$build/apps/stallwright" cook -q $short >"$build/out" && told="built, cooks" || { told="FAILED: does not cook"; failed=yes; } ;;
    install)
        DESTDIR=$build/stage cmake --install "$build" --prefix /opt/x >>"$build/log" && mv "$build/stage/opt/x" "$build/moved" &&
            "$build/moved/bin/stallwright" cook -q $short -o "$build/run.h5" >"$build/out" &&
            told="built, installed, moved, cooks" || { told="FAILED: does not run where it was moved to"; failed=yes; } ;;
    test) told="built, $(ctest --test-dir "$build" -j2 -E "$long" --output-on-failure 2>&1 | tee "$build/told" | grep 'tests passed')" &&
        ! grep -q 'tests FAILED' "$build/told" || { told="$told FAILED: $(sed -n '/tests FAILED/,$p' "$build/told")"; failed=yes; } ;;
    esac
    echo "$name: $told"
    rm -rf "$build/CMakeFiles"
}
# Browser, long sweeps: the same program as in the every-day build.
long='cli_test_(page|sweep|pictures|kills|builds)|key_ends'
echo "$(git -C "$root" describe --always 2>/dev/null || echo unknown), $(gcc --version | head -1), $(clang --version | head -1)"
try gcc gcc cook
try clang clang test
try gcc-hardened gcc cook -DSW_HARDEN=ON
try clang-hardened clang cook -DSW_HARDEN=ON -DSW_TESTS=OFF
try gcc-lto gcc cook -DSW_LTO=ON -DSW_TESTS=OFF
try shared gcc install -DBUILD_SHARED_LIBS=ON -DSW_TESTS=OFF
try shared-tests gcc test -DBUILD_SHARED_LIBS=ON
try debian-folders gcc install -DCMAKE_INSTALL_LIBDIR=lib/x86_64-linux-gnu -DSW_TESTS=OFF
try without-qhull gcc cook -DSW_QHULL=OFF
try without-hdf5 gcc cook -DSW_HDF5=OFF
try without-plot gcc cook -DSW_PLOT=OFF
try without-mpi gcc cook -DSW_MPI=OFF -DSW_TESTS=OFF
try without-tests gcc cook -DSW_TESTS=OFF
try library-alone gcc "" -DSW_APPS=OFF -DSW_QHULL=OFF -DSW_HDF5=OFF -DSW_PLOT=OFF -DSW_MPI=OFF -DSW_TESTS=OFF
[ "$failed" = no ]
