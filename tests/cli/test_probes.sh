#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Flat and point by name: in the timeline, the comparison, the page and JSON, the same figures everywhere.
set -eu
program=$1 scratch=$2
here=$(cd "$(dirname "$0")" && pwd)
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }
check() { /usr/bin/python3 "$here/check_output.py" "$@" || fail "check_output.py $*"; }
packer='--set meat.shape=packer --set meat.thickness=0cm --set solver.rows=10 --set solver.columns=16'

"$program" cook -q $packer --format json >cook.json
"$program" cook -q $packer >cook.txt
"$program" compare -q $packer --wraps none,paper --page page.html >compare.txt
check probes cook.json cook.txt compare.txt page.html
check json cook.json "$here/../../docs/reference/json-output.md" none
# The heading has names of any length.
for units in si us; do
    for app in cook compare; do
        "$program" $app -q $packer --units $units >wide
        awk 'NR > 2 && length($0) > 80 { exit 1 }' wide || fail "$app --units $units has a line over 80 columns"
    done
done
# Round temperatures are round in the user's degrees, and passed when the timeline says.
"$program" cook -q $packer --units us >us.txt
for round in 140.0 160.0 180.0 200.0; do
    sed -n "s/.*  \(.* min\)  *flat passes $round F\$/\1/p" us.txt | tr -d ' ' >timeline
    sed -n "/^flat/,/^point/s/^  passes $round F  *//p" us.txt | tr -d ' ' >probe
    [ -s probe ] && cmp -s timeline probe || fail "$round F: the timeline says $(cat timeline), the probe's table $(cat probe)"
done
grep -q 'rest ends, .* at ' cook.txt || fail "the end of the rest lacks its reading"
"$program" cook -q | grep -q 'rest ends, probe at [0-9]' || fail "the end of the rest lacks the probe's reading"
# The first to reach the temperature, and none if the clock ends it.
"$program" cook -q $packer --set meat.last_probe_decides=no | grep -q 'the first to reach' || fail "the first does not decide"
"$program" cook -q $packer --set pull=6h --format json | grep -q '"done_by": null' || fail "a time is ended by a probe"
"$program" cook -q $packer --set pull=6h | grep -q 'ended the time on the pit' && fail "a time is said to be ended by a probe"
echo "probes: flat and point each have their say"
