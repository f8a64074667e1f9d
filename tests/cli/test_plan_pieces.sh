#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Plans of several pieces in one pit: told, true to their JSON, replayed by cook, and refused in a sentence.
set -eu
program=$1 scratch=$2
here=$(cd "$(dirname "$0")" && pwd)
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }
check() { /usr/bin/python3 "$here/check_plan.py" "$@" || fail "check_plan.py $*"; }
refuse() { # status, words, arguments...
    want=$1 words=$2; shift 2
    got=0; "$program" plan "$@" >out 2>err || got=$?
    [ "$got" -eq "$want" ] || fail "exit $got, expected $want: plan $*: $(cat err)"
    grep -q '^stallwright: error: ' err && grep -q -- "$words" err || fail "\"$words\" is not said by plan $*: $(cat err)"
}
few="--draws 30 --set solver.cells=12 --set solver.surface_cell=2mm"
mkdir other
printf 'title: "Flat"\nmeat:\n  cut: flat\n  mass: 2.8 kg\nwrap:\n  kind: paper\n' >flat.yaml
printf 'start: 05:00\nmeat:\n  cut: pork-butt\n  mass: 3.6 kg\npit:\n  temperature: 110 C\n  pieces: 2\nrest:\n  until: 40 min\n' >other/shoulder.yaml

"$program" plan $few --pieces flat.yaml,other/shoulder.yaml >pieces.si 2>err
grep -q 'note: other/shoulder.yaml: ignored, since the scenario of the plan decides: start, pit.temperature' err ||
    fail "what is left aside of a piece is not said: $(cat err)"
[ "$(wc -l <err)" -eq 1 ] || fail "plan --pieces says more than it should: $(cat err)"
"$program" plan -q $few --pieces flat.yaml,other/shoulder.yaml --units us >pieces.us
for units in si us; do
    awk 'length($0) > 80 { exit 1 }' pieces.$units || fail "a line over 80 columns: $(awk 'length($0) > 80' pieces.$units)"
    if grep -n -i -w -E 'nan|-nan|inf|-inf' pieces.$units; then fail "--units $units shows a figure that is none"; fi
done
if grep -q -E '[0-9] (C|kg|cm|MJ|K)\b' pieces.us; then fail "--units us shows SI units: $(grep -E '[0-9] (C|kg|cm|MJ|K)\b' pieces.us)"; fi
for words in 'pieces in one pit: 2' 'flat: Put the meat on at' 'shoulder: Put the meat on at' 'shoulder: put the meat on' 'flat: the wrap goes on' \
    'all pieces are ready together' 'That some go on hours before others is left out' 'of untrimmed meat in all' 'it gets too cool in the rest already' 'carbon monoxide' 'local food codes'; do
    tr -s '\n ' '  ' <pieces.si | grep -q "$words" || fail "plan --pieces does not speak of \"$words\""
done
[ "$(grep -c 'light the fire  ' pieces.si)" -eq 1 ] && [ "$(grep -c '^slice and serve' pieces.si)" -eq 1 ] || fail "one fire and one serving are not told once"

# JSON: documented, hangs together, and the median cook of each is what cook makes of it.
"$program" plan -q $few --pieces flat.yaml,other/shoulder.yaml --format json >pieces.json
check pieces pieces.json "$here/../../docs/reference/json-output.md" flat shoulder
check loads pieces.json 1 2
check rest-of-piece pieces.json 1 2400
for number in 0 1; do
    file=$([ $number -eq 0 ] && echo flat.yaml || echo other/shoulder.yaml)
    # shellcheck disable=SC2046
    "$program" cook -q $file --set solver.cells=12 --set solver.surface_cell=2mm --set pit.temperature=121C --set hold.until=none \
        $(check start-of-piece pieces.json $number) --format json >cook.json
    check replayed-piece pieces.json $number cook.json
done

# Twice the same: two pieces, numbered; more of them in a file count in the pit.
"$program" plan -q $few --pieces flat.yaml,flat.yaml --format json >two.json
check pieces two.json "$here/../../docs/reference/json-output.md" flat 'flat 2'
grep -q '"pit_pieces": 2.0' two.json || fail "two pieces alike are not two in the pit"

# The scenario's own meat is left aside, and said to be; a picture and a calendar of all.
"$program" plan $few --pieces flat.yaml,other/shoulder.yaml --set meat.mass=9kg --set pit.kind=kettle --date 2037-03-29 --timezone Europe/Berlin \
    --plot all.png --calendar all.ics --format json >files.json 2>err
grep -q 'ignored, since the files of --pieces decide: meat.mass$' err || fail "the meat that is left aside is not said: $(cat err)"
[ "$(head -c 4 all.png | tail -c 3)" = PNG ] || fail "the picture is none"
"${program%/apps/*}"/tests/read_calendar all.ics >events || fail "the calendar cannot be read: $(cat events)"
check calendar files.json events
[ "$(grep -c '^UID' all.ics)" -eq "$(grep '^UID' all.ics | sort -u | wc -l)" ] || fail "two events have one UID"
grep -q '"kind": "kettle"' files.json || fail "the pit of the plan is not that of its pieces"

# Refused, or said to be impossible.
refuse 2 'nowhere.yaml' --pieces flat.yaml,nowhere.yaml
refuse 2 'with commas between' --pieces flat.yaml,,flat.yaml
refuse 2 'with commas between' --pieces ''
refuse 2 'at most 8 files' --pieces flat.yaml,flat.yaml,flat.yaml,flat.yaml,flat.yaml,flat.yaml,flat.yaml,flat.yaml,flat.yaml
printf 'rest:\n  until: 11:00\n' >clock.yaml
refuse 2 'piece 2: rest.until is a time of day' --pieces flat.yaml,clock.yaml
printf 'meat:\n  mass: 6.5\n' >bad.yaml
refuse 2 'bad.yaml:2:' --pieces flat.yaml,bad.yaml
refuse 1 'shoulder: No start is ready in time with odds of 90 % of all together' $few --pieces other/shoulder.yaml,flat.yaml --set pit.temperature=84C
grep -q '^- flat: ' out && grep -q -- '---- flat ----' out || fail "the other piece is not told of: $(cat out)"
soon=$(date -d '+2 hours' '+--date %Y-%m-%d --serve %H:%M')
# shellcheck disable=SC2086
refuse 1 'the nearest time for these odds is' $few --pieces flat.yaml,other/shoulder.yaml $soon
echo "plan --pieces: told, replayed and refused"
