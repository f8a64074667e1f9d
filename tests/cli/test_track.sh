#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Logs as thermometers write them give the same cook; twenty that are wrong give a sentence with a line each; what is said is what
# was computed. Logs here are made up.
set -eu
program=$1 scratch=$2
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }

# A cook of the program itself, read every ten minutes for five hours.
"$program" cook --format csv >cook.csv
/usr/bin/python3 - <<'PYTHON'
import csv
rows = list(csv.DictReader(open("cook.csv")))
time = [k for k in rows[0] if k.startswith("time")][0]
probe = [k for k in rows[0] if k.startswith("probe_temperature") or k.startswith("probe_k")][0]
points = [(float(r[time]) / 60.0, float(r[probe]) - 273.15) for r in rows]
points = [p for p in points if p[0] % 10 < 1e-6 and 0 < p[0] <= 300]
def clock(m, start=22 * 60): return "%02d:%02d" % ((start + m) // 60 % 24, (start + m) % 60)
def write(name, lines): open(name, "w", encoding="utf-8").write("\n".join(lines) + "\n")
write("plain.csv", ["time [min],flat [C]"] + ["%g,%.3f" % p for p in points])
write("elapsed.csv", ["Elapsed,Probe 1 (°F)"] + ["%d:%02d,%.3f" % (m // 60, m % 60, 1.8 * t + 32) for m, t in points])
write("comma.csv", ["Zeit;time s;meat C", ] + ["x;%d;%s" % (60 * m, ("%.3f" % t).replace(".", ",")) for m, t in points])
write("tab.csv", ["hours\tmeat temp C\tbattery"] + ["%.8f\t%.3f\t90" % (m / 60, t) for m, t in points])
write("dated.csv", ["timestamp,meat_F"] + ["2026-11-%02dT%s:00Z,%.3f" % (26 if m < 120 else 27, clock(m), 1.8 * t + 32) for m, t in points])
write("clock.csv", ["time,meat F"] + ["%s,%.3f" % (clock(m), 1.8 * t + 32) for m, t in points])
write("messy.csv", ["time [min],flat [C]"] + ["%g,%.3f" % (m, t + (50 if m == 150 else 0)) if m != 200 else "%g,--" % m for m, t in points]
      + ["%g,%.3f" % points[-1]])
PYTHON
middle() { /usr/bin/python3 -c "import json,sys; print(round(json.load(open(sys.argv[1]))['choices'][0]['done_s']['middle']))" "$1"; }
"$program" track --log plain.csv --on 0min --format json >plain.json 2>err || fail "plain.csv: $(cat err)"
want=$(middle plain.json)
for log in elapsed comma tab dated clock; do
    on=0min; case $log in dated|clock) on=22:00 ;; esac
    "$program" track --log $log.csv --on $on --format json >$log.json 2>err || fail "$log.csv: $(cat err)"
    got=$(middle $log.json)
    [ $((got > want ? got - want : want - got)) -le 60 ] || fail "$log.csv is done after $got s, plain.csv after $want s"
done
"$program" track --log messy.csv --on 0min >text || fail "messy.csv is refused"
for words in 'line 16: a spike of flat' 'line 21: the meat has no reading' 'line 32: the same moment' 'local food codes'; do
    grep -q "$words" text || fail "messy.csv: \"$words\" is not said: $(cat text)"
done
awk 'length($0) > 82 { exit 1 }' text || fail "track has a line over 80 columns"
# The cook that was read is the one that is found: done when cook says, within the band, and the band is told.
"$program" cook --format json >cook.json
/usr/bin/python3 - <<'PYTHON' || fail "the band does not hold the cook itself"
import json
t, c = json.load(open("plain.json")), json.load(open("cook.json"))
band, done = t["choices"][0]["done_s"], c["choices"][0]["done_s"]
assert band["low"] < done < band["high"], (band, done)
names = [x["choice"] for x in t["choices"]]
assert names == ["as planned", "paper now", "open tray now", "foil now", "hotter pit"], names
foil = t["choices"][3]
assert foil["done_s"]["middle"] < band["middle"] and foil["yield_at_pull"]["middle"] > t["choices"][0]["yield_at_pull"]["middle"]
assert len(t["fan"]) == 49 and len(t["readings"]) == 30
PYTHON
# A cold probe put into meat is when it goes on; a pit column drives the pit.
{ echo "time [min],pit [F],meat [F]"
  for m in 0 10 20 30; do echo "$m,$((200 + m)),72"; done
  for m in 40 50 60 70 80 90 100 110 120 130 140 150; do echo "$m,250,$((40 + (m - 40) / 2))"; done; } >jump.csv
"$program" track --log jump.csv --units us >text
tr '\n' ' ' <text | tr -s ' ' | grep -q 'went on 40 min after the log.s first row' || fail "the jump is not found: $(cat text)"
grep -q 'The pit follows the log' text || fail "the pit column is not told"
# Cold meat that stands for an hour and then warms: a quarter of an hour before. A time in a heading, from 0:00 on, is elapsed; a gap is told.
{ echo "time,meat [C]"; for m in 0 30 60 80 100; do echo "$((m / 60)):$(printf %02d $((m % 60))),4"; done; echo "3:00,20"; echo "4:00,34"; } >rise.csv
"$program" track --log rise.csv >text
tr '\n' ' ' <text | tr -s ' ' | grep -q 'went on 1 h 25 min after the log.s first row' || fail "the rise is not found: $(cat text)"
grep -q 'on at 22:00' text || fail "a time in a heading, from 0:00 on, is no time of day: $(cat text)"
grep -q 'line 7: no readings for 80 min' text || fail "a gap is not told: $(cat text)"
# The meat went on before the log began; an hour that is past is tomorrow's; a time of day that may be meant otherwise is told.
"$program" track --log clock.csv --on 21:50 >text
grep -q 'on at 21:50' text && tr '\n' ' ' <text | grep -q '5 h 10 min after the meat went on' || fail "--on before the log: $(cat text)"
"$program" track --log clock.csv --on 22:00 --serve 01:00 >text
tr '\n' ' ' <text | tr -s ' ' | grep -q 'served at 01:00 +2 days' || fail "a past hour is not tomorrow's: $(cat text)"
"$program" track --on 22:00 --reading 21:50=60C >text
tr '\n' ' ' <text | tr -s ' ' | grep -q '21:50=60C is taken as 23 h 50 min after' || fail "a reading before the start is not told: $(cat text)"
# A pit that is too cool never gets there.
"$program" track --reading 3h=40C --set pit.temperature=60C --plot never.svg -q >text
tr '\n' ' ' <text | grep -q 'Not done in this pit: 100 %' || fail "a cook that levels off is not told: $(cat text)"
if grep -q ' - now\| never and' text; then fail "$(cat text)"; fi
# By hand, a wrap, the odds of the hour.
"$program" track --reading 5h30m=149F --reading 04:10=155F --wrapped 6h5m=paper --serve 11:00 --units us >text 2>err || fail "$(cat err)"
grep -q 'Wrapped (paper)' text && grep -q 'in time' text || fail "wrap and odds are not told: $(cat text)"
if grep -q 'foil now' text; then fail "meat in paper is offered foil"; fi

# What was done, by options and by a column of the log, is the same; "on" beats the jump; what is not understood is told.
/usr/bin/python3 - <<'PYTHON'
rows = open("plain.csv").read().split("\n")[1:-1]
said = {60: "Lid opened", 90: "spritzed", 100: "Sprayed", 150: "pit=130C", 180: "lid", 240: "wrapped paper", 270: "stirred the beans", 280: "pit 300 C"}
with open("events.csv", "w") as f:
    f.write("time [min],flat [C],Notes\n-30,20,\n-20,20,fire lit\n0,,meat on\n")
    for row in rows:
        minute = int(row.split(",")[0])
        f.write("%s,\n" % row + ("%d,,%s\n" % (minute, said[minute]) if minute in said else ""))
PYTHON
"$program" track --log events.csv --format json >events.json 2>err || fail "events.csv: $(cat err)"
"$program" track --log plain.csv --on 0min --lid 1h --lid 3h --spritzed 90min --spritzed 100min --pit 150min=130C --wrapped 4h=paper --format json >options.json
/usr/bin/python3 - <<'PYTHON' || fail "events of the log are not those of the options"
import json
e, o = json.load(open("events.json")), json.load(open("options.json"))
for key in ("choices", "inputs", "fan", "offset_k", "now_s"):
    assert e[key] == o[key], key
assert [d["line"] for d in e["doubts"]["log"] if "is left out; wrapped" in d["sentence"]] == [3, 38, 40], e["doubts"]["log"]
assert any("every 10 min" in a for a in e["doubts"]["assumed"]), e["doubts"]["assumed"]
assert any("line 4 says so" in a for a in e["doubts"]["assumed"]), e["doubts"]["assumed"]
PYTHON
# What is read after the meat came off is no reading of the cook: the answer is that of the log until then. Food safety has it.
/usr/bin/python3 - <<'PYTHON'
rows = [(m, 5 + m / 4, 110 + m % 7) for m in range(0, 241, 10)]
after = [(m, 70 - (m - 240) / 4, 30) for m in range(250, 361, 10)]
with open("whole.csv", "w") as whole, open("until.csv", "w") as until:
    for file, some in ((whole, rows + after), (until, rows)):
        file.write("time [min],meat [C],pit [C],event\n")
        for m, meat, pit in some:
            file.write(f"{m},{meat},{pit},{'meat on' if m == 0 else 'lid' if m in (100, 300) else 'off the pit' if m == 240 else 'in the hold' if m == 270 else ''}\n")
PYTHON
sed 's/off the pit//' until.csv >on.csv
sed 's/off the pit/in the hold/' whole.csv >held.csv
for name in whole until on held; do "$program" track --log $name.csv --format json >$name.json 2>err || fail "$name.csv: $(cat err)"; done
/usr/bin/python3 - <<'PYTHON' || fail "what was read after the meat came off counts for the cook, or not for food safety"
import json
whole, until, on, held = (json.load(open(name + ".json")) for name in ("whole", "until", "on", "held"))
for key in ("choices", "inputs", "fan", "offset_k", "now_s", "stall"):
    assert whole[key] == until[key] == on[key] == held[key], key
# Meat that came off hot had come up, however it cooled.
for key in ("come_up", "come_up_s"):
    assert whole["measured_safety"][key] == on["measured_safety"][key], (key, whole["measured_safety"], on["measured_safety"])
assert on["measured_safety"]["come_up"] == "met", on["measured_safety"]
assert sorted(map(str, whole["readings"])) == sorted(map(str, on["readings"])) and len(on["readings"]) == 25 and on["now_s"] == 14400
assert on["measured_safety"]["fall_back"] == "met" and whole["measured_safety"]["fall_back"] == "not met", (on["measured_safety"], whole["measured_safety"])
assert abs(whole["measured_safety"]["lowest_since_hot_k"] - 313.15) < 1e-9, whole["measured_safety"]
assert any("came off 4 h 00 min" in a for a in whole["doubts"]["assumed"]) and not whole["doubts"]["log"], whole["doubts"]
PYTHON
"$program" track --log whole.csv >text
tr '\n' ' ' <text | grep -q 'The meat came off at .*What follows is what it would have done on the pit' || fail "what is off the pit is told as if it were on it: $(cat text)"
"$program" track --log events.csv --wrapped 5h=foil >text
grep -q 'Wrapped (closed-foil) since 03:00' text || fail "--wrapped does not go before the log's events: $(cat text)"
# What is done after the last reading counts from then on.
"$program" track --reading 5h=60C --wrapped 6h=foil >text 2>err && grep -q 'Wrapped (closed-foil) since 04:00' text || fail "a wrap after the last reading: $(cat err)"
# A wrap that is planned at a temperature has not gone on because that was read: asked for, and said what is taken.
"$program" track --log plain.csv --on 0min --set wrap.kind=paper --set wrap.when=50C >text
tr '\n' ' ' <text | grep -q 'WARNING: the scenario plans the wrap (paper) at 50.0 C, which the probe has read since 0.*--wrapped 0.:.0=paper' ||
    fail "a wrap that is due is not asked for: $(cat text)"
if grep -q 'Wrapped (paper)' text; then fail "a wrap that nobody told of is taken to be on"; fi
"$program" track --log plain.csv --on 0min --set wrap.kind=paper --set wrap.when=3h >text
tr '\n' ' ' <text | tr -s ' ' | grep -q 'The wrap went on at 01:00 +1 day, the hour that the scenario' || fail "a wrap by the clock is not noted: $(cat text)"
# A logged pit that falls: the fire.
{ echo "time [min],pit [C],meat [C]"; for m in 0 10 20 30 40 50 60 70 80 90 100 110 120; do echo "$m,$((m < 60 ? 121 : m < 100 ? 104 : 215 - m)),$((5 + m / 5))"; done; } >cold.csv
# It was to be 131 C by then, and is to be 190 C later: that stays planned.
printf 'pit:\n  temperature:\n    - {from: 0 h, temperature: 131 C}\n    - {from: 2 h 30 min, temperature: 190 C}\n' >steps.yaml
"$program" track steps.yaml --log cold.csv --on 0min --format json >hot.json
"$program" track --log cold.csv --on 0min --format json >cold.json
[ "$(middle hot.json)" -lt "$(($(middle cold.json) - 3600))" ] || fail "the plan does not go on after the log"
"$program" track steps.yaml --log cold.csv --on 0min >text
tr '\n' ' ' <text | grep -q 'WARNING: the pit reads 104.8 C, 26.2 K below what was planned. Check the fire' || fail "a fallen pit is not told: $(cat text)"

refuse() { # words, arguments...
    words=$1; shift; got=0
    "$program" track "$@" >out 2>err || got=$?
    [ "$got" -eq 2 ] || fail "exit $got, expected 2: $*: $(cat err)"
    [ ! -s out ] || fail "standard output is not empty: $*"
    grep -q -e "$words" err || fail "\"$words\" is not said by $*: $(cat err)"
}
bad() { # words, text of a log
    printf "$2" >bad.csv
    refuse "$1" --log bad.csv --on 0min
}
bad 'bad.csv:1:1: the file is empty' ''
bad 'bad.csv:1:1: the log has a heading and no rows' 'time [min],meat [C]\n'
bad 'bad.csv:1:1: no column has the time' 'when,meat [C]\n0,5\n'
bad 'bad.csv:1:1: no column is of the meat' 'time [min],wind\n0,5\n'
bad 'bad.csv:1:.*more than 2 columns are of the meat' 'time [min],probe 1 C,probe 2 C,probe 3 C\n0,5,5,5\n'
bad 'bad.csv:1:.*two columns are of the pit' 'time [min],meat C,pit C,grate C\n0,5,5,5\n'
bad 'bad.csv:2:1: the time "0" has no unit' 'time,meat [C]\n0,5\n'
bad 'bad.csv:2:1: "soon" is no time' 'time,meat [C]\nsoon,5\n'
bad 'bad.csv:2:1: "22: 0" is no time' 'time,meat [C]\n22:\t0,5\n'
bad 'bad.csv:2:1: "25:99" is no time' 'time,meat [C]\n25:99,5\n'
bad 'bad.csv:3:1: "2026-02-30T10:00" is no time' 'time,meat [C]\n2026-02-28T10:00,5\n2026-02-30T10:00,6\n'
bad 'bad.csv:3:1: the time "1:10" is not written like that of the first row' 'time [min],meat [C]\n60,5\n1:10,6\n'
bad 'bad.csv:3:1: the time goes back by 5 min' 'time [min],meat [C]\n10,5\n5,6\n'
bad 'bad.csv:3:1: the row is 300 h after the first' 'time [h],meat [C]\n0,5\n300,6\n'
bad 'bad.csv:2:3: the temperature "cold" is not a plain number' 'time [min],meat [C]\n0,cold\n'
bad 'bad.csv:2:3: the temperature "41 F" is not a plain number' 'time [min],meat\n0,41 F\n'
bad 'bad.csv:3:1: the row has 1 fields and the heading 2' 'time [min],meat [C]\n0,5\n10\n'
bad 'bad.csv:3:1: the row has 3 fields and the heading 2' 'time [min],meat [C]\n0,5\n10,5,5\n'
bad 'bad.csv:2:3: the temperature "5,5" is not a plain number' 'time [min],meat [C]\n0,"5,5"\n'
bad 'bad.csv:2:' 'time [min],meat [C]\n0,\001\n'
bad 'bad.csv:2:.*a field is longer' "time [min],meat [C]\n0,$(printf '%0120d' 5)\n"
bad 'bad.csv:1:19: two columns are of events, "event" and "notes"' 'time,meat C,event,notes\n0:00,5,,\n'
bad 'bad.csv:2:.*fields' 'time [min];meat [C]\n0,5\n'
refuse 'cannot be' --log missing.csv
refuse 'not of the form' --reading 149F
refuse 'no wrap, did you mean "paper"' --wrapped 6h=papr
refuse '--follow needs the file' --follow
refuse 'pull is not a temperature' --set pull=12h
refuse 'allowed are: table json$' --format csv
refuse 'does not have' --log plain.csv --columns flat=Middle

# A growing log: a line an update, a half-written line is waited for, Ctrl-C leaves the summary.
head -n 12 plain.csv >grow.csv
: >follow # which the program in the background may open late
"$program" track --log grow.csv --on 0min --follow --page grow.html >follow 2>err &
follower=$!
wait_lines() { n=0; while [ "$(wc -l <follow)" -lt "$1" ]; do n=$((n + 1)); [ $n -lt 600 ] || fail "--follow told no $1 lines"; sleep 0.1; done; }
wait_lines 1
printf '120,4' >>grow.csv
wait_lines 2
printf '0.5\n' >>grow.csv
wait_lines 3
grep -q '<html' grow.html || fail "--follow makes no page before it ends"
kill -TERM $follower # a shell lets background work ignore Ctrl-C, which means the same
got=0; wait $follower || got=$?
[ "$got" -eq 0 ] || fail "--follow ends with $got: $(cat err)"
sed -n 2p follow | grep -q '^23:50' || fail "a half-written line was read: $(sed -n 2p follow)"
sed -n 3p follow | grep -q '^00:00 +1 day' || fail "a line that was completed was not read: $(sed -n 3p follow)"
grep -q 'from here' follow || fail "--follow leaves no summary"
