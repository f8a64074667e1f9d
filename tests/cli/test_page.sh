#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Pages: their numbers are those of their data, their HTML is valid, and they work in a browser without a network.
set -eu
program=$1 scratch=$2
here=$(cd "$(dirname "$0")" && pwd)
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }
check() { /usr/bin/python3 "$here/check_page.py" "$@" || fail "check_page.py $*"; }
check_sweep() { /usr/bin/python3 "$here/check_sweep_page.py" "$@" || fail "check_sweep_page.py $*"; }
# Of a page whose figures matter little here: a cook in a fraction of the time.
coarse="--set solver.cells=12 --set solver.relative_tolerance=1e-4"
valid() { # file: HTML without an error or a warning
    tidy -q -e "$1" 2>complaints || fail "tidy: $1: $(cat complaints)"
}
expect() { # status, words, command...
    want=$1 words=$2; shift 2
    got=0; "$@" >out 2>err || got=$?
    [ "$got" -eq "$want" ] || fail "exit $got, expected $want: $*: $(cat err)"
    grep -q -- "$words" err || fail "\"$words\" is not said by: $*: $(cat err)"
}

"$program" explain --page story.html --format json >explain.json 2>err
[ "$(cat err)" = 'stallwright: note: page written to "story.html"' ] || fail "explain prints: $(cat err)"
"$program" cook --format json >cook.json
valid story.html
check story story.html explain.json
check planned story.html cook.json
grep -q 'Permission is hereby granted' story.html || fail "the licence of the charting library is not in the page"
check browser story.html story
"$program" cook -q --sensitivity --format json >inputs.json
check drivers story.html inputs.json

"$program" compare -q --page compare.html >out
valid compare.html
check numbers compare.html

# In US units from the start; a section; a cut and a title that would break out of the page.
"$program" explain -q $coarse --units us --page us.html >out
check numbers us.html
"$program" explain -q --page section.html --set meat.shape=packer --set meat.thickness=0cm --set solver.rows=10 \
    --set solver.columns=14 --set solver.relative_tolerance=1e-3 >out
valid section.html
check numbers section.html
printf 'title: "</script><!-- & \\"quotes\\""\nmeat:\n  name: "<script>alert(1)</script>"\n' >hostile.yaml
"$program" explain -q $coarse --page hostile.html hostile.yaml >out
valid hostile.html
check hostile hostile.html

# Vapour that condenses gives heat: it hangs from the axis of zero.
"$program" explain -q $coarse --set pit.humidity_ratio=0.3 --page damp.html >out
check damp damp.html

# No stall, and a cook that never finishes: said in the page too.
"$program" explain -q $coarse --set solver.evaporation=no --page none.html >out
valid none.html
check no-stall none.html
expect 1 'does not end' "$program" explain -q $coarse --set pit.temperature=80C --page never.html
valid never.html
check never never.html
expect 1 'choices failed' "$program" compare -q --set pit.temperature=99C --page failing.html
valid failing.html
check numbers failing.html
grep -q 'does not end' failing.html || fail "the failing choice is not explained in the page"
check opens compare.html us.html section.html hostile.html none.html never.html failing.html

# Plans: of one piece and of two in one pit; the timetable for the fridge door is one sheet.
day="--draws 30 --date 2037-11-28 --timezone Europe/Berlin"
printf 'meat:\n  cut: flat\n  mass: 2.8 kg\nwrap:\n  kind: paper\n' >flat.yaml
printf 'meat:\n  cut: pork-butt\n  mass: 3.6 kg\n' >'shoulder & co.yaml'
"$program" plan -q $coarse $day --set wrap.kind=paper --page plan.html --format json >plan.json
"$program" plan -q $coarse $day --pieces 'flat.yaml,shoulder & co.yaml' --page pieces.html --format json >pieces.json
for name in plan pieces; do
    valid $name.html
    check plan $name.html $name.json
done
check sheet plan.html pieces.html
"$program" plan -q $coarse $day --units us --page plan_us.html >out
check numbers plan_us.html

# What is not met of food safety is in the page as on the terminal.
"$program" explain -q $coarse --units us --set hold.temperature=40C --page cold.html >cold.txt
valid cold.html
check warnings cold.html cold.txt
"$program" compare -q $coarse --set hold.temperature=40C --page colds.html >colds.txt
valid colds.html
check warnings colds.html colds.txt
"$program" compare -q $coarse --set hold.temperature=40C --format json >colds.json
check quality colds.html colds.json

# A missed hour and a hold that does not end are told in pages, by figures of their data.
late="--set start=03:00 --set hold.until=13:00"
"$program" compare -q $coarse $late --page late.html >out
valid late.html
check numbers late.html
grep -q 'NOT READY at 13:00' late.html || fail "the page does not tell a missed hour"
expect 1 'a phase does not end' "$program" explain -q $coarse --set hold.until=60C --units us --page endless.html
valid endless.html
check numbers endless.html
grep -q 'NEVER READY: the hold does not end' endless.html || fail "the page does not tell a hold that does not end"
"$program" sweep -q $coarse $late --vary pit.temperature=110C,140C --page hours.html --format json >hours.json
check_sweep true hours.html hours.json
grep -q 'In time for the hour planned: 1 of 2 cooks' hours.html || fail "the page of a sweep does not count the cooks in time"

# Sweeps: a grid in which some cooks fail, of three factors and of one; a random design with a word.
grid="--vary pit.temperature=85C:135C:10C --vary wrap.kind=none,paper --vary meat.thickness=5cm,8cm"
expect 1 'of 24 cooks failed' "$program" sweep $coarse $grid --page grid.html --format json
mv out grid.json
grep -q '"grid.html"' err || fail "the page is not named: $(cat err)"
"$program" sweep -q $coarse --vary meat.thickness=5cm:8cm:1cm --page one.html --format json >one.json
"$program" sweep -q $coarse --vary "meat.thickness=uniform(5cm,9cm)" --vary "pit.humidity_ratio=uniform(0.01,0.08)" \
    --vary wrap.kind=none,paper --runs 60 --page random.html --format json >random.json
for name in grid one random; do
    valid $name.html
    check_sweep true $name.html $name.json
done

# However many cooks, a page stays small: a thinned grid, a random design, and nothing but failures.
quick="--set solver.cells=10 --set solver.relative_tolerance=1e-5"
short="--set pull=30min --set rest.until=none --set hold.until=none"
"$program" sweep -q $quick $short --vary pit.temperature=110C:140C:2C --vary meat.thickness=4cm:6cm:0.1cm --vary wrap.kind=none,paper \
    --vary pit.humidity_ratio=0.01:0.06:0.01 --page thinned.html >out
valid thinned.html
check_sweep small thinned.html 4032
wide=""
for key in meat.initial_temperature=uniform\(1C,5C\) meat.thickness=uniform\(7cm,8cm\) pit.humidity_ratio=uniform\(0.01,0.08\) \
    pit.air_speed=uniform\(0.2m/s,0.6m/s\) meat.mass=uniform\(5kg,7kg\); do
    wide="$wide --vary $key"
done
"$program" sweep -q $quick --set rest.until=none --set hold.until=none $wide --runs 5000 --page wide.html >out
valid wide.html
check_sweep small wide.html 5000
got=0; "$program" sweep -q --vary meat.composition.water=0.1:0.6:0.001 --vary wrap.kind=none,paper --page failed.html >out 2>err || got=$?
[ "$got" -eq 1 ] || fail "a sweep of failures gives exit $got"
valid failed.html
check_sweep small failed.html 1002
"$program" sweep -q $coarse --vary 'meat.name=<img src=x onerror=alert(1)>,a & b' --page names.html hostile.yaml >out
valid names.html
check_sweep hostile names.html
check_sweep browser 'grid.html one.html random.html' 'thinned.html wide.html failed.html names.html'

# What cannot be written is said before the work.
before=$(cksum story.html)
expect 2 'exists already' "$program" explain --page story.html
[ "$(cksum story.html)" = "$before" ] || fail "the existing page was touched"
expect 1 'cannot be written' "$program" explain --page nowhere/a.html
expect 1 'Not a directory' "$program" compare --page story.html/a.html
mkdir folder.html
expect 2 'exists already' "$program" sweep --page grid.html
expect 2 'name the same file' "$program" sweep --page new.html --output ./new.html
expect 2 'name the same file' "$program" sweep --page new.html --output "$PWD/new.html" --force
expect 1 'cannot be written' "$program" sweep --page nowhere/a.html
expect 2 'a page is a .html file' "$program" sweep --page sweep.htm
[ ! -e new.html.journal ] && [ ! -e new.html ] || fail "a refused sweep leaves a file"
expect 1 'is a directory' "$program" explain -f --page folder.html
if (ulimit -f 8) 2>/dev/null; then
    got=0; (trap '' XFSZ 2>/dev/null; ulimit -f 8; exec "$program" explain -q --page full.html) >out 2>err || got=$?
    [ "$got" -eq 1 ] && grep -q 'could not be written whole' err || fail "a full disk gives exit $got: $(cat err)"
    [ ! -e full.html ] || fail "a partial page stands under its final name"
fi
if ls | grep '\.part$'; then fail "a temporary file was left"; fi
echo "page: valid, true to its data, alive in a browser"
