#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# A results file opens in h5py, xarray, ncdump and h5dump; nothing is lost or left behind when it cannot be written.
set -eu
program=$1 scratch=$2
here=$(cd "$(dirname "$0")" && pwd)
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }
expect() { # status, words, command...
    want=$1 words=$2; shift 2
    got=0; "$@" >out 2>err || got=$?
    [ "$got" -eq "$want" ] || fail "exit $got, expected $want: $*: $(cat err)"
    grep -q -- "$words" err || fail "\"$words\" is not said by: $*: $(cat err)"
    ! grep -q "HDF5-DIAG" err || fail "HDF5 prints its own errors: $*: $(cat err)"
}

"$program" cook -q -o one.h5 >/dev/null
/usr/bin/python3 "$here/check_results.py" one.h5
"$program" compare -q -o many.h5 >/dev/null
/usr/bin/python3 "$here/check_results.py" many.h5 none paper open-tray closed-foil
"$program" cook -q -o section.h5 --set meat.shape=packer --set meat.thickness=0cm --set solver.rows=10 \
    --set solver.columns=16 --set solver.relative_tolerance=1e-3 >/dev/null
/usr/bin/python3 "$here/check_results.py" section.h5

# An existing file stays as it was unless --force is given.
before=$(cksum one.h5)
expect 2 "exists already" "$program" cook -q -o one.h5
[ "$(cksum one.h5)" = "$before" ] || fail "the existing file was touched"
"$program" cook -q -f -o one.h5 >/dev/null

mkdir folder
expect 1 "is a directory" "$program" cook -q -f -o folder
expect 1 "cannot be written" "$program" cook -q -o nowhere/one.h5
expect 1 "cannot be" "$program" cook -q -o one.h5/one.h5
echo "another run" >busy.h5.part
expect 1 "is in the way" "$program" cook -q -o busy.h5
[ "$(cat busy.h5.part)" = "another run" ] || fail "the part of another run was touched"
[ ! -e busy.h5 ] || fail "a file was written in spite of another run"
rm busy.h5.part

# A full disk, as a limit on the size of files: nothing under the final name, nothing temporary.
if (ulimit -f 8) 2>/dev/null; then
    got=0
    (trap '' XFSZ 2>/dev/null; ulimit -f 8; exec "$program" cook -q -o full.h5) >out 2>err || got=$?
    [ "$got" -eq 1 ] || fail "a full disk gave exit $got: $(cat err)"
    grep -q "cannot be written" err || fail "a full disk is not explained: $(cat err)"
    [ ! -e full.h5 ] || fail "a partial file stands under the final name"
fi
# A disk that is full indeed, where this user may mount one (root may, outside of most containers).
mkdir disk
if mount -t tmpfs -o size=64k tmpfs disk 2>/dev/null; then
    trap 'umount "$PWD/disk"' EXIT
    echo "mine" >disk/full.h5
    expect 1 "No space left" env LC_ALL=C "$program" cook -q -f -o disk/full.h5
    [ "$(ls disk)" = full.h5 ] || fail "on a full disk is left: $(ls disk)"
    [ "$(cat disk/full.h5)" = "mine" ] || fail "the file that was to be replaced is lost"
    umount "$PWD/disk"
    trap - EXIT
else
    echo "skipped: no disk could be mounted to fill it"
fi
[ -z "$(ls | grep '\.part$' || true)" ] || fail "a temporary file was left: $(ls)"
echo "results files: all readers agree"
