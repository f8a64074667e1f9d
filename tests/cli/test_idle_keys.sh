#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# A key that is given and does nothing is told with what would make it count; one that does, or is as it is by default, is not.
set -eu
program=$1 scratch=$2
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }
coarse="--set solver.cells=10 --set meat.thickness=3cm"

# notes APP ARGUMENT...: what it says about keys is exactly the standard input, and goes to standard error.
notes() {
    "$program" "$@" $coarse >out 2>err || fail "$* ends with $?"
    grep 'changes nothing' err >got || true
    cat >expected
    cmp -s expected got || fail "$* notes: $(cat got); expected: $(cat expected)"
    ! grep -q 'changes nothing' out || fail "$* tells a note on standard output"
}
note() { printf 'stallwright: note: %s changes nothing; it counts if %s\n' "$1" "$2"; }

note '--set rewrap.when' 'wrap.kind is not none and rewrap.kind is another' | notes cook --set rewrap.when=85C
note '--set rewrap.when' 'wrap.kind is not none and rewrap.kind is another' |
    notes cook --set wrap.kind=open-tray --set rewrap.when=85C
note '--set wrap.pour' 'wrap.kind or rewrap.kind is open-tray' | notes cook --set wrap.kind=paper --set wrap.pour=off
note '--set wrap.liquid' 'wrap.kind or rewrap.kind is open-tray, closed-foil or covered-pan' |
    notes cook --set wrap.kind=paper --set wrap.liquid=200g
given='--set pit.convection=8W/m2/K --set pit.humidity_ratio=0.03 --set pit.wall_offset=0K'
damp='pit.humidity is balance or pit.humidity_ratio usual'
{ note '--set pit.kind' "$damp, pit.wall_offset is usual, or pit.convection is usual or, with pit.air_speed, 0"
  note '--set pit.pan.area' "$damp, and pit.pan.depth is above 0"; } |
    notes explain $given --set pit.kind=kettle --set pit.pan.area=300cm2
notes explain --set pit.kind=kettle --set pit.pan.area=300cm2 </dev/null
notes cook --set wrap.kind=open-tray --set wrap.pour=off --set wrap.liquid=200g </dev/null
notes cook --set pit.humidity=balance --set pit.kind=kettle --set pit.pan.area=300cm2 </dev/null

# In a file only what differs from its default; the place is told.
printf 'wrap:\n  kind: paper\n  foil: {emissivity: 0.3, resistance: 0.069 m2 K/W}\nspritz: {every: 20 min}\n' >own.yaml
{ note 'own.yaml:3:22: wrap.foil.emissivity' 'wrap.kind or rewrap.kind is open-tray, closed-foil or covered-pan'
  note 'own.yaml:4:17: spritz.every' 'spritz.amount is above 0'; } | notes cook own.yaml
"$program" cook --print-scenario >whole.yaml
notes cook whole.yaml </dev/null

# Several cooks: what counts in one of them counts.
notes compare --set wrap.paper.greasy=0.5 --set wrap.tray.ring=0.1 </dev/null
note '--set wrap.lid.resistance' 'wrap.kind or rewrap.kind is covered-pan' | notes compare --set wrap.lid.resistance="0.2 m2 K/W"
notes sweep --vary wrap.kind=none,paper --set wrap.paper.greasy=0.5 </dev/null
{ note '--set pit.pieces' "$damp"
  note '--vary wrap.paper.greasy' 'wrap.kind or rewrap.kind is paper'; } |
    notes sweep --vary wrap.paper.greasy=0.3,0.5 --set pit.pieces=2 $given

# Not where it is to be quiet.
"$program" cook -q $coarse $given --set pit.pieces=2 >out 2>err
[ ! -s err ] || fail "-q prints: $(cat err)"

# A written scenario says of each key when it counts, and whether it does.
"$program" cook $given --print-scenario | tr -s '\n# ' ' ' >flat
grep -q "pieces of meat like this one in the pit, which damp its air; [^;]*; does nothing here: counts if $damp \[" flat ||
    fail 'the written scenario does not say that pit.pieces does nothing'
"$program" cook --print-scenario --set pit.humidity=balance | tr -s '\n# ' ' ' >flat
grep -q "which damp its air; [^;]*; counts if $damp \[" flat || fail 'the written scenario says that pit.pieces does nothing'
