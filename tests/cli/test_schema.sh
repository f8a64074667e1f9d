#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# The schemas the program writes are schemas; shipped and written scenarios and the JSON of every app keep to them, and files that are
# wrong in one place do not.
set -eu
program=$1 scratch=$2
root=$(cd "$(dirname "$0")/../.." && pwd)
rm -rf "$scratch"; mkdir -p "$scratch/schema"; cd "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }
for name in $("$program" --schema); do
    "$program" --schema "$name" >"schema/$name.json" || fail "there is no schema of $name"
    cmp -s "schema/$name.json" "$(dirname "$program")/schema/$name.json" || fail "the build wrote another schema of $name"
done
got=0; "$program" --schema pit >out 2>err || got=$?
[ "$got" -eq 2 ] && grep -q 'no schema "pit"' err || fail "a schema that is none gives exit $got"
# An app that prints JSON has one.
for app in $("$program" --help | sed -n '/^Apps:/,/^$/s/^  \([a-z]*\) .*/\1/p'); do
    "$program" "$app" --help | grep -q -- '--format' || continue
    [ -s "schema/$app.json" ] || fail "$app prints JSON, but has no schema"
done

coarse="-q --set solver.cells=12 --set solver.relative_tolerance=1e-3 --set solver.surface_cell=2mm --format json"
"$program" cook --print-scenario --set pit.lid.openings=2h --set meat.shape=packer --set meat.thickness=0cm >si.yaml
"$program" cook --print-scenario --units us --set wrap.kind=paper --set wrap.when=bark >us.yaml
cat >lists.yaml <<'YAML'
pit:
  temperature: [{from: 0 h, temperature: 107 C, ramp: yes}, {from: 6 h, temperature: 135 C}]
  lid: {openings: [2 h, 4 h 30 min]}
meat:
  shape: outline
  thickness: 0 cm
  outline: [{x: 0 cm, y: 0 cm}, {x: 30 cm, y: 0 cm}, {x: 30 cm, y: 7 cm}, {x: 0 cm, y: 7 cm}, {x: 0 cm, y: 0 cm}]
  probes: [{name: flat, along: 10 cm, up: 3 cm}]
YAML
"$program" cook --print-scenario lists.yaml >out || fail "the scenario with lists is none"

"$program" cook $coarse --sensitivity --set spritz.amount=20g --set wrap.kind=open-tray >cook.json
"$program" cook $coarse --no-band --set hold.until=12:00 --set start=11:00 >missing.json || true
"$program" compare $coarse --by time >compare.json
"$program" compare $coarse --no-band --set pit.temperature=97C >failing.json 2>err || true
"$program" sweep $coarse --vary pit.temperature=97C,120C --vary wrap.kind=none,paper >sweep.json 2>err || true
"$program" explain $coarse >explain.json
"$program" explain $coarse --set pit.temperature=80C >endless.json 2>err || true
"$program" plan $coarse --serve 18:00 --draws 20 >plan.json
"$program" plan -q --format json --pieces "$root/apps/scenarios/thin_flat.yaml,$root/apps/scenarios/village_hall_supper.yaml" --draws 20 >pieces.json
"$program" track $coarse --reading 2h=50C --reading 5h30m=65C >track.json
/usr/bin/python3 "$root/tests/cli/check_schema.py" schema "$root"/apps/scenarios/*.yaml si.yaml us.yaml lists.yaml -- cook=cook.json cook=missing.json \
    compare=compare.json compare=failing.json sweep=sweep.json explain=explain.json explain=endless.json plan=plan.json plan=pieces.json track=track.json ||
    fail "check_schema.py"
