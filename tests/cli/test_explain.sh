#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# What explain says is what it computed, and what it computed is the balance of cook.
set -eu
program=$1 scratch=$2
here=$(cd "$(dirname "$0")" && pwd)
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }
check() { /usr/bin/python3 "$here/check_explain.py" "$@" || fail "check_explain.py $*"; }

"$program" explain >text 2>err
[ ! -s err ] || fail "explain says something on standard error: $(cat err)"
awk 'length($0) > 80 { exit 1 }' text || fail "explain has a line over 80 columns"
"$program" explain --units us >us
if grep -q -E '[0-9] (C|kg|cm|mm|MJ|kJ|K)\b' us; then fail "explain --units us shows SI units"; fi
if grep -q -E '[0-9] (F|lb|in|BTU)\b' text; then fail "explain shows US units unasked"; fi
for words in 'local food codes' 'thermometer' 'local food codes' 'Findlay and Stanley' 'from memory'; do
    grep -q "$words" text || fail "explain does not speak of \"$words\""
done
"$program" explain --format json >explain.json
"$program" cook --format json >cook.json
check balance explain.json cook.json "$here/../../docs/reference/json-output.md"
check words explain.json text

# One cause changed at a time: the same cooks by hand.
"$program" cook --format json --set solver.evaporation=no >evaporation.json
"$program" cook --format json --set pit.humidity_ratio=0.15 >damp.json
usual=$("$program" cook --print-scenario | sed -n '/^pit:/,/^wrap:/s/^ *convection: usual  # \([0-9.]*\) .*/\1/p')
"$program" cook --format json --set pit.convection="$(awk "BEGIN { print 2 * $usual }") W/m2/K" >draught.json
half=$(/usr/bin/python3 -c "import json; print(0.5 * json.load(open(\"cook.json\"))[\"meat\"][\"thickness_m\"])")
"$program" cook --format json --set meat.thickness="$half m" >half.json
"$program" cook --format json --set wrap.kind=closed-foil --set wrap.when="0 min" >wrapped.json
"$program" cook --format json --set meat.water_holding_loss=0 >holds.json
check changes explain.json no_evaporation=evaporation.json damp_pit=damp.json twice_the_draught=draught.json \
    half_the_thickness=half.json wrapped_from_the_start=wrapped.json holds_its_water=holds.json

# Other cooks balance too: a wrap, a fat cap, a section, sizes that the scenario leaves open.
for settings in "--set wrap.kind=paper" "--set meat.fat_cap.thickness=6mm --set pit.humidity_ratio=0.1" \
    "--set meat.shape=cylinder --set meat.thickness=12cm" "--set meat.thickness=0cm" \
    "--set meat.shape=packer --set meat.thickness=0cm --set solver.rows=10 --set solver.columns=14 --set solver.relative_tolerance=1e-4"; do
    "$program" explain -q $settings --format json >other.json
    "$program" cook -q $settings --format json >other_cook.json
    check balance other.json other_cook.json "$here/../../docs/reference/json-output.md"
done

# No stall: said, and nothing pretended.
"$program" explain --set solver.evaporation=no >text
grep -q 'no stall' text && grep -q 'nothing ends it' text || fail "a cook without a stall is not told as one"
"$program" explain --set solver.evaporation=no --format json >none.json
check no-stall none.json

# A cook that never finishes is followed and explained; it has no outcome, and the exit status says so.
got=0; "$program" explain --set pit.temperature=80C >text 2>err || got=$?
[ "$got" -eq 1 ] && grep -q 'does not end' err || fail "a cook that never finishes gives exit $got: $(cat err)"
grep -q 'never finishes' text && grep -q '^as planned  *never' text || fail "a cook that never finishes is not told as one"
got=0; "$program" explain --set pit.temperature=80C --format json >never.json 2>err || got=$?
[ "$got" -eq 1 ] || fail "a cook that never finishes gives exit $got with JSON"
check never never.json

# There is something to draw without evaporation too (test_pictures.sh looks at pictures as files).
"$program" explain -q --set solver.evaporation=no --plot none.png >out
[ -s none.png ] || fail "the picture of a cook without evaporation is missing"
got=0; "$program" explain --format csv >out 2>err || got=$?
[ "$got" -eq 2 ] && grep -q 'allowed are: table json$' err || fail "explain --format csv gives exit $got: $(cat err)"
echo "explain: words, JSON and balance agree"
