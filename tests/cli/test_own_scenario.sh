#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# A scenario of one's own: what it is called, what it says of the cut, how the mass and the pull follow from what is given,
# and sentences in the units that were asked for.
set -eu
program=$1 scratch=$2
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }
says() { grep -q -- "$1" "$2" || fail "\"$1\" is not said: $(cat "$2")"; }
refuse() { # words, arguments...
    words=$1; shift
    got=0; "$program" "$@" >out 2>err || got=$?
    [ "$got" -eq 2 ] || fail "exit $got, expected 2: $*: $(cat err)"
    says "$words" err
}
quick="--set solver.cells=20 --set solver.relative_tolerance=1e-3 --set rest.until=none --set hold.until=none"

# Its title is its file's name, and it says what to buy only if it says for how many.
mkdir -p kitchen
printf 'meat:\n  mass: 5 kg\n' >kitchen/sunday.yaml
"$program" cook -q $quick kitchen/sunday.yaml >out
[ "$(head -1 out)" = sunday ] || fail "the title is not the file's name: $(head -1 out)"
! grep -q ' buy ' out || fail "it says what to buy for nobody"
printf 'title: A wedding\nserving: {people: 60}\n' >wedding.yaml
"$program" cook -q $quick wedding.yaml >out
[ "$(head -1 out)" = "A wedding" ] || fail "the title is not the one given"
says 'For 60: buy ' out
"$program" cook -q $quick >out
says 'For 24: buy ' out

# More meat is thicker and takes longer; the heading says where the thickness comes from.
"$program" cook -q $quick --set meat.mass=11lb --units us >light
"$program" cook -q $quick --set meat.mass=18lb --units us >heavy
says 'a slab 2.45 in thick (from its mass)' light
says 'a slab 2.88 in thick (from its mass)' heavy
hours() { sed -n 's/.* \([0-9]*\) h \([0-9]*\) min *PULLED.*/\1 \2/p' "$1" | awk '{ print 60 * $1 + $2 }'; }
[ "$(hours light)" -lt "$(hours heavy)" ] || fail "18 lb are done as soon as 11 lb"
"$program" cook -q $quick --set meat.mass=18lb --set meat.thickness=3in --units us >out
says 'a slab 3.00 in thick (as given)' out
"$program" compare -q $quick --wraps none >out
says '6.50 kg, 6.8 cm thick (from its mass)' out
"$program" explain -q $quick >out
says '6.50 kg, 6.8 cm thick (from its mass)' out

# A cut by name and the kind of pit stand for what is left open, told as they come out; what is said wins.
"$program" cook -q $quick --set meat.cut=pork-butt --set pit.kind=electric --set meat.bone=0.05 --format json >out
/usr/bin/python3 - <<'CHECK' || fail "the JSON does not tell what usual comes to"
import json
told = json.load(open("out"))
meat, pit = told["meat"], told["pit"]
assert (meat["name"], meat["cut"], meat["shape"], meat["bone"]) == ("pork butt", "pork-butt", "slab", 0.05), meat
assert meat["composition"] == {"water": 0.743, "protein": 0.187, "fat": 0.061, "carbohydrate": 0, "ash": 0.009}, meat
assert pit["kind"] == "electric" and pit["convection_w_per_m2_k"] == 4.6 and abs(pit["humidity_ratio"] - 0.32) < 1e-12, pit
assert abs(told["pull_k"] - 368.15) < 1e-9 and told["serving"]["trimming"] == 0.03, told
CHECK
"$program" cook --print-scenario --set pit.kind=pellet --set pit.humidity_ratio=0.02 >out
says '  convection: usual  # 11 W/m2/K' out
says '  humidity_ratio: 0.02' out
refuse 'one of packer, half-packer, flat' cook --set meat.cut=sirloin

# The cut as bought: what trimming leaves is cooked.
"$program" cook -q $quick --set meat.bought_mass=8kg --set serving.trimming=25% >out
says '6.00 kg trimmed from 8.00 kg' out
refuse 'both give the mass' cook --set meat.bought_mass=8kg --set meat.mass=6kg
printf 'meat:\n  mass: 6 kg\n  bought_mass: 8 kg\n' >both.yaml
refuse 'both.yaml:3:16: .*both.yaml:2:9' cook both.yaml
"$program" sweep -q $quick --vary meat.bought_mass=5kg,8kg --format csv >out
awk -F, 'NR == 2 { first = $0 } NR == 3 { exit $0 == first } END { exit NR != 3 }' out || fail "a sweep over the cut as bought: $(cat out)"
! grep -q fail out || fail "a sweep over the cut as bought fails: $(cat out)"

# Where water boils low the usual pull follows; a pull that was typed is refused with one that works.
"$program" cook $quick --set pit.altitude=1600m --units us >out 2>err
says 'pull is 198.7 F, not the usual 203.0 F' err
says 'PULLED, probe at 198.8 F' out
refuse 'pull is 203.0 F.* 198.8 F works' cook --units us --set pit.altitude=1600m --set pull=203F
refuse 'pull is 95.0 C.* 92.6 C works' cook --set pit.altitude=1600m --set pull=95C
"$program" cook --print-scenario >all.yaml
says '^pull: usual  # 95 C$' all.yaml
"$program" cook $quick all.yaml --set pit.altitude=1600m >out 2>err
says 'not the usual 95.0 C' err
"$program" sweep -q $quick --units us --vary pull=90C,99.8C >out 2>err || true
says 'pull is 211.6 F; allowed below' out

# A contradiction between two keys has the places of both.
printf 'wrap:\n  kind: paper\n  when: 90 C\npull: 85 C\n' >order.yaml
refuse 'order.yaml:3:9: wrap.when is 90.0 C; allowed below pull, 85.0 C (pull: order.yaml:4:7)' cook order.yaml
refuse 'order.yaml:3:9: wrap.when is 194.0 F; allowed below pull, 176.0 F (pull: --set)' cook order.yaml --units us --set pull=176F
printf 'wrap: {kind: paper, when: 97 C}\n' >one.yaml
refuse 'one.yaml:1:27: wrap.when is 97.0 C; allowed below pull, 95.0 C (pull: the default)' cook one.yaml
printf 'pit:\n  pan: {area: 600 cm2, depth: 30 in}\n  height: 20 in\n' >pan.yaml
refuse 'pan.yaml:2:31: pit.pan.depth is 30 in; allowed below pit.height, 20 in (pit.height: pan.yaml:3:11)' compare --units us pan.yaml

# In US units a written scenario has figures to read, and is the same cook; the probe passes tens.
"$program" cook --print-scenario --units us >us.yaml
! grep -v '#' us.yaml | grep '[0-9]\{8\}' || fail "a figure in US units has too many digits"
says '^  mass: 6.5 kg  # 14.33 lb$' us.yaml
"$program" cook --print-scenario us.yaml --set title=x >again.yaml
"$program" cook --print-scenario --set title=x --set serving.people=24 | cmp - again.yaml || fail "the scenario in US units is another cook"
"$program" cook -q $quick --units us >out
for tens in 50 60 70 80 90 100 110 120 130 140 150 160 170 180 190 200; do says "probe passes $tens.0 F" out; done
! grep -q 'probe passes .*[1-9]\.0 F' out || fail "the probe passes what is no ten"
! grep -q 'kg' out || fail "a cook in US units speaks of kg"

# A measured log ends before the meat is done: its last value holds, and that is said.
printf 'note,time,temperature [F]\n"coals, lit",21:40,200\n,22:20,250\n,23:10,245\n' >log.csv
"$program" cook $quick --set pit.temperature=log.csv --units us >out 2>err
says 'note: none: the pit log ends after 1 h 10 min, before the pull; from there its last value holds, 245.0 F' err
says '23:10 .* the pit log ends; its last value holds: 245.0 F' out
printf 'from [h],temperature [F]\n0,225\n6,275\n' >steps.csv
"$program" cook $quick --set pit.temperature=steps.csv --units us >out 2>err
[ ! -s err ] || fail "steps are taken for a log: $(cat err)"
says '04:00 .* pit set to 275.0 F' out
"$program" cook -q $quick --set 'pit.lid.openings=[2h, 3h]' --print-scenario >out
says '      - 3 h$' out
echo "own scenario: cut, mass, pull and units are told"
