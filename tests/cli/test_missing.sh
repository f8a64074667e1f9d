#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Hours that are missed and phases that do not end: told in every app, in tables, JSON and CSV; test_page.sh has the pages.
set -eu
program=$1 scratch=$2
here=$(cd "$(dirname "$0")" && pwd)
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }
check() { /usr/bin/python3 "$here/check_missing.py" "$@" || fail "check_missing.py $*"; }

# An hour that has passed is missed, and told so everywhere; the day that is given makes it an overnight hold.
late='--set solver.cells=16 --set start=06:00 --set hold.until=13:00'
for app in cook compare explain; do
    "$program" $app $late >out 2>err || fail "$app with a missed hour gives exit $?: $(cat err)"
    grep -q 'NOT READY at 13:00, late by [1-9] h [0-9][0-9] min: ' out || fail "$app does not tell a missed hour"
    tr -s '\n ' '  ' <out | grep -q 'write hold.until=13:00 +1 day\.' || fail "$app does not offer the next day"
done
"$program" cook $late | grep -q '^1[4-9]:[0-9][0-9]  *1[0-9] h [0-9]* min  *NOT READY at 13:00' || fail "the timeline has no missed hour"
"$program" compare $late | grep -q '^  late by  *[1-9] h .* min  *[1-9] h' || fail "compare has no row of lateness"
"$program" compare --wraps none >out
! grep -q 'late by' out || fail "compare tells lateness where no hour was planned"
for app in cook compare; do
    for format in json csv; do
        "$program" $app $late --format $format >out.$app.$format 2>err
        grep -q 'stallwright: warning: .*NOT READY at 13:00, late by' err || fail "$app $format does not warn of a missed hour"
    done
    check late out.$app.json
done
check keys out.cook.json "$here/../../docs/reference/json-output.md"
check late-csv out.compare.csv
"$program" compare $late --set 'hold.until=13:00 +1 day' >out || fail "an overnight hold fails"
grep -q '^  late by  *in time  *in time' out || fail "an overnight hold is late"
grep -q '^ready to slice  *13:00 +1 day' out || fail "an overnight hold does not end on its day"

# A hold that waits in vain: what was before it is told, in part, and the exit status says so.
endless='--set solver.cells=16 --set hold.until=60C'
for app in cook compare explain; do
    got=0; "$program" $app $endless >out 2>err || got=$?
    [ "$got" -eq 1 ] && grep -q 'error: .*a phase that does not end\|error: a phase does not end' err ||
        fail "$app with a hold that does not end gives exit $got: $(cat err)"
    tr -s '\n ' '  ' <out >flat
    grep -q 'NEVER READY: the hold does not end: hold.until waits for the probe to fall to 60.0 C' flat || fail "$app does not tell it"
    grep -q 'A hold.temperature below 60.0 C, a hold.until above 6[0-9].[0-9] C or a time such as hold.until=2h ends it' flat ||
        fail "$app does not say what would end it"
    if grep -q 'nan\|NaN' out; then fail "$app shows no number"; fi
done
"$program" compare $endless --units us 2>err | tr -s '\n ' '  ' | grep -q 'fall to 140.0 F, but it is never below 14[0-9].[0-9] F' ||
    fail "the sentence is not in the user's units"
"$program" compare $endless 2>err >out || true
grep -q '^ready to slice  *never  *never' out || fail "compare does not say never"
grep -q '^done after  *1[0-9] h' out || fail "compare does not show when the meat is done"
for app in cook compare; do
    "$program" $app $endless --format json >out.json 2>err || true
    check endless out.json
done
"$program" cook $endless -q -o endless.h5 --force >out 2>err || true
"$program" draw endless.h5 --plot endless.svg >out || fail "a cook that does not end is not drawn"
grep -q 'NEVER READY: the hold does not end' out || fail "draw does not tell what is missing"
"$program" compare $endless --by yield 2>err | grep -q 'Nothing can be recommended' || fail "a cook that never gets ready is recommended"

# A wrap that the pull forestalls is told, and is no failure.
forestalled='--set solver.cells=16 --set wrap.kind=paper --set wrap.when=1pm'
for app in cook compare explain; do
    "$program" $app $forestalled >out 2>err || fail "$app fails on a wrap that does not go on: $(cat err)"
    tr -s '\n ' '  ' <out | grep -q 'NOT WRAPPED: pulled before wrap.when, 13:00 +1 day' || fail "$app does not tell of the wrap"
done
"$program" compare $forestalled --format csv 2>err | grep -q '^paper,.*wrap.when: pulled first' || fail "the CSV does not tell of the wrap"
grep -q 'warning: paper: NOT WRAPPED' err || fail "nothing is told beside the CSV"
printf 'time [min],temperature [C]\n0,121\n30,125\n' >log.csv
"$program" sweep $forestalled --set pit.temperature=log.csv --vary pit.altitude=0ft,5000ft --units us >out 2>err ||
    fail "a sweep over places fails: $(cat err)"
grep -q '^Pulled before the wrap went on: 2 of 2 cooks' out || fail "the sweep does not tell of the wrap"
grep -q '^Longer than the pit log, whose last value holds: 2 of 2 cooks' out || fail "the sweep does not tell where its log ends"
grep -q '^5000 ft  ' out || fail "a place is not told in feet: $(cat out)"

# Sweeps count.
"$program" sweep --set solver.cells=16 --set start=03:00 --set hold.until=13:00 --vary pit.temperature=120C,140C >out 2>err ||
    fail "a sweep with a missed hour fails: $(cat err)"
grep -q '^In time for the hour planned: 1 of 2 cooks; 1 is late, by up to [0-9 hmin]*' out || fail "the sweep does not count: $(cat out)"
got=0; "$program" sweep --set solver.cells=16 --vary hold.until=60C,2h >out 2>err || got=$?
[ "$got" -eq 1 ] && grep -q '1 of 2 cooks have a phase that does not end' err || fail "an endless sweep gives exit $got: $(cat err)"
grep -q 'never' out || fail "the sweep does not say never"
echo "missing: told everywhere"
