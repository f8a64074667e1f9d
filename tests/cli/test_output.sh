#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Tables, JSON and CSV: complete, well formed, in both unit systems, and true to docs/reference/json-output.md.
set -eu
program=$1 scratch=$2
here=$(cd "$(dirname "$0")" && pwd)
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }
check() { /usr/bin/python3 "$here/check_output.py" "$@" || fail "check_output.py $*"; }

"$program" cook --format json >cook.json 2>err
[ ! -s err ] || fail "cook says something on standard error: $(cat err)"
"$program" compare --format json >compare.json
check json cook.json "$here/../../docs/reference/json-output.md" none
check json compare.json "$here/../../docs/reference/json-output.md" none paper open-tray closed-foil
check same-choice cook.json compare.json

"$program" cook --format csv >cook.csv
"$program" compare --format csv >compare.csv
check csv cook.csv time_s probe_k air_k top_surface_k lowest_k evaporated_mass_kg
check csv compare.csv label wrap wrap_at_k stall_start_s done_s saved_s probe_k yield_fraction top_state
[ "$(wc -l <compare.csv)" -eq 5 ] || fail "compare --format csv has no four rows"

# Text that a spreadsheet would take for a formula is guarded; numbers are not.
"$program" sweep -q --set solver.cells=12 --set solver.relative_tolerance=1e-3 --set solver.surface_cell=2mm \
    --vary 'title==1+1,+2 C,-x"y,@sum(a1),-5,+1e3,plain,a=b' --format csv >formulas.csv
check formulas formulas.csv "'=1+1" "'+2 C" "'-x\"y" "'@sum(a1)" -5 +1e3 plain a=b

# Only what is asked for is shown; the cook without a wrap is the yardstick all the same.
"$program" compare --wraps paper --wrap-at 165F,180F --format json >two.json
check json two.json "$here/../../docs/reference/json-output.md" paper paper
check saved two.json compare.json

# How far cooks differ is told, and left out if it is not wanted; nothing else changes.
"$program" cook --no-band --format json >alone.json
"$program" compare --no-band --format json >alone_compare.json
check no-band cook.json alone.json
check no-band compare.json alone_compare.json
"$program" cook >with; "$program" cook --no-band >without
grep -q 'Four cooks in five like this one' with || fail "cook does not tell how far cooks differ"
! grep -q -i 'four cooks in five' without || fail "cook --no-band tells how far cooks differ"
"$program" compare >with; "$program" compare --no-band >without
grep -q '^  four in five  *[0-9]' with && grep -q 'four cooks in five' with || fail "compare does not tell how far cooks differ"
! grep -q -i 'four' without || fail "compare --no-band tells how far cooks differ"
"$program" compare --no-band --page alone.html -q >out
! grep -q -i 'four in five' alone.html || fail "the page of compare --no-band tells how far cooks differ"

# A scenario written and read back is the same cook, to the last digit.
for units in si us; do
    "$program" cook --set meat.mass=14lb --set pit.temperature=275F --set wrap.kind=paper --units $units \
        --print-scenario >written.yaml
    "$program" cook written.yaml --format json >read.json
    "$program" cook --set meat.mass=14lb --set pit.temperature=275F --set wrap.kind=paper --format json >direct.json
    cmp -s read.json direct.json || fail "the scenario written in $units units is another cook"
done

# Raw meat is never announced as ready without a warning, in either app; a cook that keeps the rules has none.
for app in cook compare; do
    "$program" $app -q --set pull=2h --set rest.until=none --set hold.until=none >raw
    grep -q 'WARNING.*NOT COOKED' raw || fail "$app does not warn of raw meat"
    "$program" $app -q --set hold.temperature=40C >cold
    grep -q 'WARNING.*the hold is at 40.0 C; the least is 57.3 C' cold || fail "$app does not warn of a cold hold"
    "$program" $app -q >good
    ! grep -q WARNING good || fail "$app warns of the default cook: $(grep -A1 WARNING good)"
done

# Tables: nothing that is no number, no line over 80 columns, and the unit system that was asked for.
for app in cook compare; do
    for units in si us; do
        "$program" $app --units $units >$app.$units
        if grep -n -i -w -E 'nan|-nan|inf|-inf' $app.$units; then fail "$app --units $units shows a figure that is none"; fi
        awk 'length($0) > 80 { exit 1 }' $app.$units || fail "$app --units $units has a line over 80 columns"
    done
    if grep -q -E '[0-9] (F|lb|in|BTU)\b' $app.si; then fail "$app shows US units unasked"; fi
    if grep -q -E '[0-9] (C|kg|cm|MJ|K)\b' $app.us; then fail "$app --units us shows SI units"; fi
done
# 121 C is 249.8 F by definition; 6.5 kg is 14.33 lb (international pound, 0.45359237 kg, 1959).
grep -q 'pit at 121.0 C' cook.si && grep -q 'pit at 249.8 F' cook.us || fail "the pit's temperature is not converted"
grep -q '6.50 kg' cook.si && grep -q '14.33 lb' cook.us || fail "the mass is not converted"
for words in 'STALL begins' 'STALL ends' 'PULLED' 'highest reading' 'rest ends' 'ready to slice' 'evaporating water' \
    'yield' 'balances' 'FDA Food Code' 'thermometer' 'carbon monoxide' 'local food codes'; do
    grep -q "$words" cook.si || fail "cook does not speak of \"$words\""
done
check sorted-times cook.si
# A hold under the limit of the Food Code (3-501.16: 135 F, 57 C) is warned of, one above is not.
"$program" cook --set hold.temperature=56C | grep -q 'WARNING, not met: the hold is at 56.0 C; the least is 57.3 C' ||
    fail "a cool hold is not warned of"
if "$program" cook --set hold.temperature=60C | grep -q 'WARNING.*the hold'; then fail "a warm hold is warned of"; fi

# A cook that never ends: the others are shown, its sentence below and in JSON, exit status 1.
got=0; "$program" compare --set pit.temperature=99C >table 2>err || got=$?
[ "$got" -eq 1 ] || fail "a failing choice gives exit $got"
tr -s '\n ' '  ' <table | grep -q ' none failed: [^.]*does not end' || fail "the failing choice is not explained"
grep -q '^done after .* failed .* h .* min' table || fail "the choices that end are not shown"
got=0; "$program" compare --set pit.temperature=99C --format json >failing.json 2>err || got=$?
[ "$got" -eq 1 ] || fail "a failing choice gives exit $got with JSON"
check failing failing.json
got=0; "$program" cook --set pit.temperature=80C >out 2>err || got=$?
[ "$got" -eq 1 ] && [ ! -s out ] || fail "a cook that never ends gives exit $got"
echo "output: tables, JSON and CSV agree"
