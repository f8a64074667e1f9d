#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Verdicts of food safety in both apps: every rule has one, what is not met is warned of, and no figure is rounded to the
# unsafe side in either unit system. Limits: docs/theory/safety.md.
set -eu
program=$1 scratch=$2 here=$(cd "$(dirname "$0")" && pwd)
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }

# Settings that break a rule, and the rule.
cat >stalled.yaml <<'END'
title: The fire stalls for three hours
pit:
  temperature:
    - {from: 0 h, temperature: 121 C}
    - {from: 5 h, temperature: 60 C}
    - {from: 8 h, temperature: 121 C}
END
"$program" cook -q stalled.yaml >stalled
grep -q '^NOT MET: the pit at its coolest is at 60.0 C; the least is 121.0 C' stalled ||
    fail "a stalled fire is not warned of"
"$program" cook -q --set pit.temperature=50C --set pull=12h --set hold.until=none --set rest.until=none >cool
grep -q '^WARNING, not met: the pit at its coolest' cool || fail "a pit that is too cool is not warned of"
grep -q '^WARNING, not met: NOT COOKED' cool || fail "meat that stays cool is not warned of"
"$program" cook -q --set hold.temperature=40C >cold
grep -q '^WARNING, not met: the hold is at 40.0 C; the least is 57.3 C' cold || fail "a cold hold is not warned of"
grep -q '^WARNING, not met: from the pull on the coolest place' cold || fail "meat that cools in the hold is not warned of"
"$program" cook -q --set meat.initial_temperature=5.1C | grep -q '^WARNING, not met: the meat goes on at 5.1 C' ||
    fail "warm raw meat is not warned of"
"$program" cook -q --set cooling.until=8h >cooled
grep -q '^WARNING, not met: cooling' cooled || fail "a whole cut in a refrigerator is not warned of"
grep -q 'cooling ends, probe at' cooled || fail "the timeline does not know the cooling"

# A limit stated in the other unit is kept, not missed by the last digit.
for hold in 135F 57.3C; do
    if "$program" cook -q --set hold.temperature=$hold | tr '\n' ' ' | grep -q 'WARNING[^.]*the hold is'; then
        fail "a hold at $hold is warned of"
    fi
done

# compare: a warning names its choice, and what it implies is not said again; a good cook has none.
"$program" compare -q --set pit.temperature=50C --set pull=12h --set hold.until=none --set rest.until=none >choices
[ "$(grep -c '^WARNING, all choices, not met: NOT COOKED' choices)" -eq 1 ] || fail "compare does not warn once: $(cat choices)"
[ "$(grep -c '^WARNING.*the pit at its coolest' choices)" -eq 1 ] || fail "compare does not warn of the cool pit: $(cat choices)"
"$program" compare -q --wraps none,paper,closed-foil --set rest.until=10h --set hold.until=none >some
grep -q '^WARNING, none, not met' some || fail "a warning does not name its choice: $(cat some)"
"$program" cook -q >good
"$program" cook -q -v >told
"$program" compare -q >good.choices
if grep -q WARNING good good.choices; then fail "the default cook is warned of: $(grep -A2 WARNING good good.choices)"; fi
grep -q '^not assessed: cooling. The reason: no cooling is planned.$' told || fail "no word on the cooling"
[ "$(grep -c 'no cooling is planned' told)" -eq 1 ] || fail "cooling that was not asked for takes more than a line"
for output in good good.choices choices; do
    tr '\n' ' ' <$output | grep -q 'can warn but never promise: local food codes and licensed practice come first' ||
        fail "$output does not defer to local codes"
done

# A pit cooler than the Code's ovens is told once for all choices, after what is more urgent, with what it means; the row
# stays not met, and by another authority's table too. Meat that is not cooked is warned of as ever.
"$program" compare -q --set pit.temperature=225F --set rest.until=none >slow
"$program" compare -q --set pit.temperature=225F --set hold.temperature=40C --units us >slow.cold
"$program" compare -q --set pit.temperature=225F --set rest.until=none --format json >slow.json
"$program" compare -q --set pit.temperature=225F --set rest.until=none --page slow.html --force >/dev/null
for output in slow slow.cold; do
    [ "$(grep -c 'the pit at its coolest' $output)" -eq 1 ] || fail "the oven is not told once: $(cat $output)"
    tr -s '\n ' ' ' <$output >line
    grep -q "NOT MET, all choices: the pit at its coolest is at .*The Code requires both, and no clause" line ||
        fail "what a cool oven means is not told: $(cat $output)"
    grep -q 'FSIS, another authority.*does not change the Code.s rule' line || fail "FSIS is not told apart"
done
grep -q 'at 225.0 F; the least is 249.8 F' line || fail "the oven is not told in F: $(cat slow.cold)"
if grep -q WARNING slow; then fail "more is warned of than the oven: $(cat slow)"; fi
[ "$(grep -c '^WARNING, all choices, not met: the hold is at 104' slow.cold)" -eq 1 ] || fail "one hold is warned of more than once"
[ "$(grep -n '^NOT MET' slow.cold | cut -d: -f1)" -gt "$(grep -n '^WARNING' slow.cold | tail -n 1 | cut -d: -f1)" ] ||
    fail "the oven stands before the warnings"
grep -q 'one rule is not met, that of the Food Code on the oven' slow.html || fail "the page's first line is not about the oven"
/usr/bin/python3 - <<'END' || fail "a cool oven is not judged as not met in each choice"
import json

for choice in json.load(open("slow.json"))["choices"]:
    verdicts = {finding["rule"]: finding["verdict"] for finding in choice["safety"]}
    assert verdicts["pit_heat"] == "not met" and verdicts["lethality_roast"] == verdicts["lethality_6_5_log"] == "met", verdicts
END

# No line is too long, whatever is warned of.
for output in stalled cool cold cooled choices slow slow.cold; do
    awk 'length($0) > 80 { exit 1 }' $output || fail "$output has a line over 80 columns"
done

# Figures as shown against the figures in JSON.
for name in default cold cool; do
    case $name in
    default) settings="" ;;
    cold) settings="--set hold.temperature=40C --set meat.initial_temperature=7.77C --set cooling.until=20h" ;;
    cool) settings="--set pit.temperature=50C --set pull=7h --set hold.until=none --set rest.until=none" ;;
    esac
    "$program" cook -q $settings --format json >$name.json
    "$program" cook -q -v $settings >$name.si
    "$program" cook -q -v $settings --units us >$name.us
done
/usr/bin/python3 - "$here/../../docs/reference/json-output.md" <<'END' || fail "figures and verdicts disagree"
import json
import math
import re
import sys

with open(sys.argv[1]) as file:  # the rules that the reference names
    RULES = set(re.findall(r"`(\w+)`", next(line for line in file if line.startswith("| `rule` |")).split("|", 2)[2]))
HAIR = 2e-7  # what is a tenth but for so little is shown as that tenth
PHRASES = {  # the text just before the figure, and which way it is rounded
    "raw_storage": ("the meat goes on at", +1), "pit_heat": ("the pit at its coolest is at", -1),
    "fall_back": ("once hot, the coolest place on the pit is at", -1),
    "hot_holding": ("from the pull on the coolest place is at", -1), "holding_place": ("the hold is at", -1),
    "hot_holding_fsis": ("by FSIS: the coolest place is at", -1)}


def minutes(text):
    found = re.match(r"(?:(\d+) h )?(\d+) min", text)
    return 60 * int(found[1] or 0) + int(found[2])


for name in ("default", "cold", "cool"):
    with open(f"{name}.json") as file:
        safety = json.load(file)["choices"][0]["safety"]
    assert len(safety) == len(RULES) and {finding["rule"] for finding in safety} == RULES
    shown = {}
    for units in ("si", "us"):
        with open(f"{name}.{units}") as file:
            shown[units] = " ".join(file.read().split())
    for finding in safety:
        rule, figure = finding["rule"], finding["figure"]
        assert finding["verdict"] in ("met", "not met", "not assessed")
        assert (finding["verdict"] == "not assessed") == (finding["reason"] is not None) == (finding["margin"] is None)
        if finding["margin"] is not None:
            assert (finding["verdict"] == "met") == (finding["margin"] >= 0), finding
            assert math.isclose(abs(finding["margin"]), abs(figure - finding["limit"]), rel_tol=1e-12), finding
        if rule in PHRASES and figure is not None:
            phrase, direction = PHRASES[rule]
            for units, value in (("si", figure - 273.15), ("us", 1.8 * (figure - 273.15) + 32)):
                got = float(re.search(re.escape(phrase) + r" (-?[\d.]+) [CF]", shown[units])[1])
                assert direction * (got - value) >= -HAIR and abs(got - value) < 0.1 + HAIR, (name, rule, got, value)
    for units in ("si", "us"):
        count = shown[units].count("WARNING")
        assert count == sum(finding["verdict"] == "not met" for finding in safety), (name, units)
        # Hours in the warm and in the cooling are never shown too short, dwell times never too long.
        figures = {finding["rule"]: finding for finding in safety}
        warm = re.search(r"hours in the warm: .*? for ((?:\d+ h )?\d+ min)", shown[units])[1]
        assert 0 <= 60 * minutes(warm) - figures["warm_hours"]["figure"] < 60
        held = re.search(r"6.5 powers of ten: all of the meat is at .*? or more for ((?:\d+ h )?\d+ min)", shown[units])[1]
        assert 0 <= figures["lethality_6_5_log"]["figure"] - 60 * minutes(held) < 60
    if name == "cool":
        for rule in ("lethality_6_5_log", "lethality_7_log", "lethality_roast", "lethality_check"):
            assert figures[rule]["verdict"] == "not met" and figures[rule]["figure"] == 0, figures[rule]
        assert figures["lethality_check"]["beyond_fit"] is True
END
echo "food safety: verdicts, warnings and rounding agree"
