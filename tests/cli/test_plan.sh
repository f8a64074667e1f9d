#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Plans: complete, true to their JSON, the same for the same seed, replayed by cook, and refused in a sentence.
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
coarse="--draws 24 --set solver.cells=12 --set solver.surface_cell=2mm"
few="--draws 40"

# With no arguments: a plan for one o'clock.
"$program" plan >plan.si 2>err
[ ! -s err ] || fail "plan says something on standard error: $(cat err)"
"$program" plan $few --units us >plan.us
for units in si us; do
    awk 'length($0) > 80 { exit 1 }' plan.$units || fail "plan --units $units has a line over 80 columns: $(awk 'length($0) > 80' plan.$units)"
    if grep -n -i -w -E 'nan|-nan|inf|-inf' plan.$units; then fail "plan --units $units shows a figure that is none"; fi
done
if grep -q -E '[0-9] (F|lb|in|BTU)\b' plan.si; then fail "plan shows US units unasked"; fi
if grep -q -E '[0-9] (C|kg|cm|MJ|K)\b' plan.us; then fail "plan --units us shows SI units: $(grep -E '[0-9] (C|kg|cm|MJ|K)\b' plan.us)"; fi
for words in 'light the fire' 'put the meat on' 'the stall begins' 'the meat comes off' 'the rest is over' 'slice and serve' 'If it runs late' \
    'Closed foil at once' 'If it is early' 'What to buy' 'measured cooks' 'carbon monoxide' 'local food codes' 'too hot to slice'; do
    tr -s '\n ' '  ' <plan.si | grep -q "$words" || fail "plan does not speak of \"$words\""
done

# How well such odds did is what the report of measured cooks says.
report="$here/../../validation/measured_cooks/report.md"
ends=$(tr '\n' ' ' <"$report" | sed -n 's/.*Ends of \([0-9]*\) cooks: the median is -\([0-9]*\) % off[^;]*; \([0-9]*\) lie in.*/of \1 measured cooks \3 ended .* median draw took \2.0 % less time/p')
[ -n "$ends" ] && tr -s '\n ' '  ' <plan.si | grep -q "$ends" || fail "plan does not say \"$ends\""

# JSON: documented, and bit for bit the same for the same seed; another for another.
"$program" plan $few --format json >plan.json
check plan plan.json "$here/../../docs/reference/json-output.md"
"$program" plan $few --format json --seed 1 | cmp -s - plan.json || fail "the same seed gives another plan"
if "$program" plan $few --format json --seed 2 | cmp -s - plan.json; then fail "another seed gives the same plan"; fi
# shellcheck disable=SC2046
"$program" cook --format json $(check start plan.json | sed 's/13:00+\(.*\)day/13:00+\1day/') >cook.json
check replayed plan.json cook.json

# A day; summer time begins in the night before 29 March 2037 in Berlin: the meat goes on an hour earlier by the clock.
"$program" plan $coarse --date 2037-03-29 --timezone Europe/Berlin --set pit.heat_up=75min --format json >summer.json
"$program" plan $coarse --date 2037-03-22 --timezone Europe/Berlin --format json >winter.json
check moments summer.json
on() { sed -n '/"recommended"/,/}/s/.*"words": ".* \([0-9:]*\)".*/\1/p' "$1" | head -1; }
[ "$(date -d "$(on summer.json) 1 hour" +%H:%M 2>/dev/null)" = "$(on winter.json)" ] || fail "summer time: $(on summer.json), $(on winter.json)"

# What the scenario says: a wrap by the bark, sprays, a start that is left aside.
"$program" plan $coarse --set wrap.kind=paper --set wrap.when=bark --set spritz.amount=20g --set start=20:00 >own 2>err
grep -q 'the bark is set' own && grep -q 'begin to spray' own || fail "wrap and sprays are not in the timetable"
grep -q 'note: --set start is ignored' err || fail "a start that is left aside is not said: $(cat err)"
"$program" cook --set solver.cells=12 --set pull=2h --set serving.time=12:00 2>err >/dev/null
grep -q 'serving.time changes nothing; it counts if it is a plan' err || fail "cook does not say that serving.time does nothing: $(cat err)"

# An hour on another day is that hour, and said to be: the day is what plan finds out.
"$program" plan $coarse --set 'serving.time=18:30 +1 day' >next 2>err
grep -q 'the +1 day of the serving time is ignored' err || fail "a day that is left aside is not said: $(cat err)"
"$program" plan $coarse --serve '6:30 pm' 2>err | cmp -s - next || fail "18:30 +1 day is not 18:30"
[ ! -s err ] || fail "plan --serve says something: $(cat err)"

# A cold hold is warned of, a box that cools too.
"$program" plan $coarse --set hold.temperature=45C | tr -s '\n ' '  ' >cold
grep -q 'WARNING' cold && grep -q 'the hold is at 45.0 C; the least is 57.3 C' cold || fail "a cold hold is not warned of"
"$program" plan $coarse --set hold.kind=box --set hold.loss=8W/K >box
tr -s '\n ' '  ' <box | grep -q 'the hold does not keep it hot for that long' || fail "a box that cools is not warned of"

# A plan holds the meat whatever ends its hold in a cook: the place of the hold counts, its end is left aside.
"$program" plan $coarse --set hold.kind=box --set hold.until=none >held 2>err
grep -q 'hold.until is ignored' err && [ "$(wc -l <err)" -eq 1 ] || fail "what counts of the hold is not said: $(cat err)"
grep -q 'the insulated box' held || fail "the place of the hold does not count"

# Outside what was measured.
"$program" plan $coarse --set pit.temperature=160C >hot
tr -s '\n ' '  ' <hot | grep -q 'No measured cook began in a pit at 160.0 C' || fail "a pit beyond the measured ones is not told"

# The files it writes: whole, never over one that is there; a calendar that a reader of calendars agrees with.
"$program" plan $coarse -q --date 2037-03-29 --timezone Europe/Berlin --set wrap.kind=paper --plot plan.png --page plan.html --calendar plan.ics \
    --format json >files.json
[ "$(head -c 4 plan.png | tail -c 3)" = PNG ] || fail "the picture is none"
tidy -q -e plan.html >tidy.out 2>&1 || [ $? -le 1 ] || fail "the page is no good HTML: $(cat tidy.out)"
grep -q 'put the meat on' plan.html && ! grep -q '{{' plan.html || fail "the page is not filled"
"${program%/apps/*}"/tests/read_calendar plan.ics >events || fail "the calendar cannot be read: $(cat events)"
check calendar files.json events
grep -q '^TZID:Europe/Berlin' plan.ics || fail "the calendar does not call the zone Europe/Berlin"
[ "$(tail -c 2 plan.ics | od -An -c | tr -d ' ')" = '\r\n' ] || fail "the calendar does not end in CR LF (RFC 5545, 3.1)"
before=$(cksum plan.ics)
refuse 2 'exists already' $coarse --date 2037-03-29 --calendar plan.ics
[ "$before" = "$(cksum plan.ics)" ] || fail "a calendar that was there was touched"
refuse 2 'without --date' --calendar new.ics
refuse 2 'a calendar is a .ics file' --calendar plan.txt --date 2037-03-29
refuse 1 'cannot be written' --calendar nowhere/a.ics --date 2037-03-29

# Refused.
refuse 2 '2020 is past' --date 2020-01-05
refuse 2 'there is no such day' --date 2037-02-29
refuse 2 'a date is written' --date 28.11.2037
refuse 2 'never shows 02:30' --date 2037-03-29 --timezone Europe/Berlin --serve 2:30
refuse 2 'no such zone' --date 2037-03-28 --timezone Mars/Base
refuse 2 'without --date' --timezone UTC
refuse 2 'it takes a share' --odds 120%
refuse 2 'it takes a share' --odds often
refuse 2 'a time of day' --serve 25:00
refuse 2 'not a time of day' --serve 95C
refuse 2 '+1 day to +30 days' --serve '13:00 +99 days'
refuse 2 'whole number' --seed -1
refuse 2 'whole number from 20 to 10000' --draws 5
refuse 2 'allowed are: table json$' --format csv
refuse 2 'rest.until is a time of day' --set rest.until=11:00
refuse 2 'serving.hold_at_least is 9 h' --set serving.hold_at_least=9h
refuse 2 'did you mean "--serve"' --srve 13:00
refuse 1 'No start is ready in time' $coarse --set pit.temperature=85C
soon=$(date -d '+2 hours' '+--date %Y-%m-%d --serve %H:%M')
# shellcheck disable=SC2086
refuse 1 'the nearest time for these odds is' $coarse $soon
echo "plan: counted, told and refused"
