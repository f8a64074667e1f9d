#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Sweeps: one is a cook; whatever the threads and ranks, all is the same to the bit; killed, interrupted or out of disk, what
# was made is kept; impossible cooks are recorded.
set -eu
program=$1 scratch=$2
here=$(cd "$(dirname "$0")" && pwd)
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }
check() { /usr/bin/python3 "$here/check_sweep.py" "$@" || fail "check_sweep.py $*"; }
expect() { # status, words, command...
    want=$1 words=$2; shift 2
    got=0; "$@" >out 2>err || got=$?
    [ "$got" -eq "$want" ] || fail "exit $got, expected $want: $*: $(cat err)"
    grep -q -- "$words" err || fail "\"$words\" is not said by: $*: $(cat err)"
}
# Coarse cooks of a few milliseconds.
quick="--set solver.cells=12 --set solver.relative_tolerance=1e-4 --set solver.surface_cell=2mm"

"$program" sweep -q >usual
grep -q '^done after  *none  *paper  *open-tray  *closed-foil$' usual || fail "the table has no wraps across: $(cat usual)"
[ "$(grep -c '^1[1234]0.0 C ' usual)" -eq 16 ] || fail "the table has no pit temperatures down: $(cat usual)"
awk 'length($0) > 80 { exit 1 }' usual || fail "the table is wider than 80 columns"
if grep -n -i -w -E 'nan|inf' usual; then fail "the table shows a figure that is none"; fi

"$program" sweep -q --format json >usual.json
check told usual usual.json

# Two pits side by side for an hour, one of them too late for it: each with its yield, its bark, and whether it is in time.
pits="$quick --vary pit.temperature=225F,275F --set hold.until=15:30"
for more in "" "--vary wrap.kind=none,paper"; do
    "$program" sweep -q $pits $more >pits || fail "two pits: exit $?"
    "$program" sweep -q $pits $more --format json >pits.json
    check told pits pits.json
    grep -q 'in time' pits || fail "no pit is in time: $(cat pits)"
    awk 'length($0) > 80 { exit 1 }' pits || fail "the table of pits is wider than 80 columns"
done

"$program" sweep -q --vary pit.temperature=121C --format json >one.json
"$program" cook -q --set pit.temperature=121C --format json >cook.json
check one one.json cook.json

# shellcheck disable=SC2086
sweep_many() { "$program" sweep -q $quick --vary "meat.mass=uniform(5kg,7kg)" --vary wrap.kind=none,paper --runs 1500 "$@"; }
sweep_many --threads 1 -o one.h5 --format csv >one.csv
sweep_many --threads 7 -o many.h5 --format csv >many.csv
cmp -s one.csv many.csv || fail "the number of threads changes the results"
check same one.h5 many.h5
check layout one.h5 1500 halton meat_mass wrap_kind
[ ! -e one.h5.journal ] || fail "the journal of a complete sweep is left behind"
if ldd "$program" | grep -q libmpi && command -v mpirun >/dev/null; then
    # Open MPI leaves memory behind at its end, which a sanitizer would blame on the program.
    ASAN_OPTIONS=detect_leaks=0 OMPI_ALLOW_RUN_AS_ROOT=1 OMPI_ALLOW_RUN_AS_ROOT_CONFIRM=1 mpirun --oversubscribe -n 3 "$program" sweep -q $quick \
        --vary "meat.mass=uniform(5kg,7kg)" --vary wrap.kind=none,paper --runs 1500 -o ranks.h5 --format csv >ranks.csv
    cmp -s one.csv ranks.csv || fail "the number of ranks changes the results"
    check same one.h5 ranks.h5
fi

check killed "$program" killed.h5 one.h5 --set solver.cells=12 --set solver.relative_tolerance=1e-4 \
    --set solver.surface_cell=2mm --vary "meat.mass=uniform(5kg,7kg)" --vary wrap.kind=none,paper --runs 1500
for signal in INT TERM; do
    rm -f interrupted.h5
    check interrupted "$program" interrupted.h5 one.h5 $signal --set solver.cells=12 --set solver.relative_tolerance=1e-4 \
        --set solver.surface_cell=2mm --vary "meat.mass=uniform(5kg,7kg)" --vary wrap.kind=none,paper --runs 1500
done

# Impossible corners are failures with sentences; the rest go on.
expect 1 '4 of 6 cooks failed' "$program" sweep $quick --vary pit.temperature=60C,80C,120C \
    --vary meat.thickness=5cm,8cm -o corners.h5
grep -q 'Cook 0 (60.0 C, 5.0 cm) failed: .*does not end' out || fail "the failure is not told: $(cat out)"
check layout corners.h5 6 grid pit_temperature meat_thickness
check failures corners.h5 'does not end'
got=0; "$program" sweep -q $quick --vary pit.temperature=60C,120C --format json >some.json 2>err || got=$?
[ $got -eq 1 ] || fail "a failed cook gives exit status $got"
check json some.json "$here/../../docs/reference/json-output.md" 2

# A full disk, as a limit on the size of files: a sentence, and what was written is kept.
full() { (trap '' XFSZ; ulimit -f 2000; sweep_many "$@"); }
expect 1 'the journal "full.h5.journal" cannot be written: File too large' full -o full.h5
grep -q '[1-9][0-9]* of 1500 cooks are kept; to resume: .* --resume$' err || fail "nothing is said of what is kept: $(cat err)"
sweep_many -o full.h5 --resume >/dev/null
check same one.h5 full.h5

# Files that are there.
expect 2 'exists already' sweep_many -o full.h5
expect 0 '"full.h5" is complete' "$program" sweep $quick --vary "meat.mass=uniform(5kg,7kg)" --vary wrap.kind=none,paper \
    --runs 1500 -o full.h5 --resume
# A complete sweep is shown again from its file: the same to the byte, as a table, CSV, JSON, picture and page.
sweep_many -o full.h5 --resume --format csv | cmp -s one.csv - || fail "a complete sweep is not shown again as it was"
for kind in "--vary pit.temperature=60C,80C,120C --vary wrap.kind=none,paper" "--vary meat.mass=normal(6kg,0.5kg) --runs 40"; do
    rm -f again.*
    for format in table csv json; do
        first=0; "$program" sweep $quick $kind -o again.h5 --force --format $format --plot first.svg --page first.html >first 2>err || first=$?
        then=0; "$program" sweep $quick $kind -o again.h5 --resume --force --format $format --plot then.svg --page then.html >then 2>err || then=$?
        [ $first -eq $then ] && [ -s first ] && cmp -s first then || fail "$format of a complete sweep: $then instead of $first: $(cat err)"
        cmp -s first.svg then.svg && cmp -s first.html then.html || fail "the picture or page of a complete sweep is another"
    done
    rm then.svg
    then=0; "$program" sweep $quick $kind -o again.h5 --resume --format json --plot first.svg --page then.html >then 2>err || then=$?
    [ $first -eq $then ] && cmp -s first then || fail "a picture that is there stands in the way: $(cat err)"
    grep -q '"first.svg" exists already and stays as it is' err || fail "nothing is said of the picture: $(cat err)"
done
expect 2 'is of another sweep' "$program" sweep $quick --vary wrap.kind=none,paper -o full.h5 --resume
expect 2 'no results file of a sweep' "$program" sweep --vary wrap.kind=none,paper -o one.json --resume
expect 0 'the sweep starts from the beginning' "$program" sweep $quick --vary wrap.kind=none,paper -o new.h5 --resume
expect 2 '--output is not given' "$program" sweep --resume
printf x >stray.h5.journal
expect 2 'exists; resume that sweep' "$program" sweep $quick --vary wrap.kind=none -o stray.h5
echo "of a killed sweep" >stray.h5.part
expect 0 'results written' "$program" sweep $quick --vary wrap.kind=none -o stray.h5 --force
expect 1 'cannot be written' "$program" sweep -o nowhere/a.h5

# What is mistyped.
expect 2 'did you mean "pit.temperature"' "$program" sweep --vary pit.temperatur=110C
expect 2 'given twice' "$program" sweep --vary wrap.kind=none --vary wrap.kind=paper
expect 2 'empty range' "$program" sweep --vary pit.temperature=140C:110C:5C
expect 2 'mixes units' "$program" sweep --vary pit.temperature=110C:140C:5F
expect 2 'has a distribution, which a grid cannot hold' "$program" sweep --design grid --vary "meat.mass=normal(6kg,1kg)"
expect 2 '--runs is "1000000000"; it takes a whole number from 1 to 1000000' "$program" sweep --runs 1000000000
expect 2 '6005001 cooks; at most 1000000' "$program" sweep --vary pit.temperature=110C:140C:0.01C --vary meat.mass=5kg:7kg:0.001kg
expect 2 '--runs is for a halton design' "$program" sweep --design grid --runs 20
expect 2 '--seed is for a halton design' "$program" sweep --seed 3
expect 2 '--seed is "x"' "$program" sweep --runs 3 --seed x
expect 2 '--threads is "0"' "$program" sweep --threads 0
expect 2 'name the same file' "$program" sweep -o a.png --plot a.png

# Every kind of picture.
for kind in "--vary pit.temperature=110C:130C:10C" "--vary meat.mass=normal(6kg,0.5kg) --runs 40" \
    "--vary pit.temperature=60C,120C --vary meat.thickness=5cm:9cm:2cm --vary wrap.kind=none,paper" "--vary pit.temperature=60C"; do
    rm -f a.png
    "$program" sweep -q $quick $kind --plot a.png >/dev/null 2>err || grep -q 'cooks failed' err || fail "$kind: $(cat err)"
    [ "$kind" = "--vary pit.temperature=60C" ] || grep -q IEND a.png || fail "$kind is not drawn"
done
echo "sweep: results are the same whatever happens"
