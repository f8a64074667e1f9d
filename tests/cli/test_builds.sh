#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# A build of the least there is besides the program, by the other compiler, without warnings: it says in a sentence what it lacks,
# before it has cooked anything. The other builds are in tests/long/builds.sh.
set -eu
program=$1 scratch=$2
root=$(cd "$(dirname "$0")/../.." && pwd)
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }
refuse() { # words, arguments...
    words=$1; shift
    got=0; bare/apps/stallwright "$@" >out 2>err || got=$?
    [ "$got" -ne 0 ] || fail "it is not refused: $*"
    grep -q "^stallwright: error: .*$words" err || fail "\"$words\" is not said by: $*: $(cat err)"
    [ ! -s out ] || fail "it cooks before it refuses: $*"
}
CC=clang cmake -S "$root" -B bare -DCMAKE_BUILD_TYPE=None -DCMAKE_C_FLAGS="-O0 -Werror" -DSW_APPS=ON -DSW_HDF5=OFF -DSW_PLOT=OFF \
    -DSW_MPI=OFF -DSW_TESTS=OFF >log 2>&1 || fail "it cannot be configured: $(tail -5 log)"
for part in HDF5 PLOT MPI TESTS; do
    grep -q "stallwright: without .*SW_$part is OFF" log || fail "it is not told that SW_$part is left out"
done
cmake --build bare -j2 >log 2>&1 || fail "it cannot be built: $(grep -A3 'error' log | head -20)"
short="--set solver.cells=10 --set pull=1h --set rest.until=none --set hold.until=none --set wrap.kind=none"
bare/apps/stallwright cook -q $short >out || fail "it does not cook"
"$program" cook -q $short >other
cmp -s out other || fail "it cooks otherwise: $(diff out other | head -5)"
refuse 'without HDF5 (SW_HDF5=OFF)' cook -o run.h5
refuse 'without PLplot (SW_PLOT=OFF)' cook --plot curves.svg
refuse 'without PLplot (SW_PLOT=OFF)' draw a.h5 --plot curves.svg
PMI_SIZE=2 PMI_RANK=0; export PMI_SIZE PMI_RANK
refuse 'without MPI (SW_MPI=OFF)' sweep --vary pit.temperature=100C,110C
unset PMI_SIZE PMI_RANK
printf '\211HDF\r\n\032\n' >a.h5
bare/apps/stallwright --version | grep -q '^hdf5 none$' || fail "the version names a library it does not have"
# Asked for and not there: told by name, with what to do.
cmake -S "$root" -B asked -DCMAKE_DISABLE_FIND_PACKAGE_HDF5=ON -DSW_HDF5=ON >log 2>&1 && fail "a part that is not there is left out silently"
tr '\n' ' ' <log | tr -s ' ' | grep -q 'SW_HDF5 is ON, but not found: HDF5' || fail "what is missing is not named: $(tail -8 log)"
echo "builds: what is left out says so"
