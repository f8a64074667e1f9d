#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# cook --sensitivity: its JSON is documented, its changes are those of cooks run by hand, and it says what it cannot do.
set -eu
program=$1 scratch=$2
here=$(cd "$(dirname "$0")" && pwd)
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }

"$program" cook --sensitivity --format json --set wrap.kind=paper --set meat.edges=no >all.json
python3 "$here/check_output.py" json all.json "$here/../../docs/reference/json-output.md" paper || fail "the JSON is not as documented"
"$program" cook --format json --set wrap.kind=paper --set meat.edges=no --set pit.temperature=127C >hot.json
"$program" cook --format json --set wrap.kind=paper --set meat.edges=no --set meat.permeability=3e-17m2 >tight.json
python3 - <<'END' || fail "a change is not that of the cook run by hand"
import json, math
load = lambda name: json.load(open(name))
whole = load("all.json")
base = whole["choices"][0]
inputs = {one["key"]: one for one in whole["sensitivity"]["inputs"]}
hot = load("hot.json")["choices"][0]
pit = inputs["pit.temperature"]
assert math.isclose(pit["high_si"] - pit["value_si"], 6.0, abs_tol=1e-9), pit
assert math.isclose(pit["done_high_s"], hot["done_s"] - base["done_s"], abs_tol=1e-6), (pit, hot["done_s"])
assert math.isclose(pit["yield_at_pull_high"], hot["yield_at_pull"] - base["yield_at_pull"], abs_tol=1e-9)
assert pit["done_low_s"] > 0 > pit["done_high_s"], pit
for one in inputs.values():
    assert one["low_si"] < one["value_si"] < one["high_si"], one
    if one["done_low_s"] is not None and one["done_high_s"] is not None:
        assert math.isclose(one["done_slope_s"], 0.5 * (one["done_high_s"] - one["done_low_s"]), abs_tol=1e-6), one
# Of the wraps' own numbers only those of this wrap play a part.
assert "wrap.paper.permeance" in inputs and not any(key.startswith(("wrap.foil", "wrap.tray")) for key in inputs)
# A slab's thickness and mass: more mass at the same thickness is a wider cut, and without ends cooks as long.
assert abs(inputs["meat.mass"]["done_slope_s"]) < 60, inputs["meat.mass"]
squares = sum(one["done_slope_s"] ** 2 for one in inputs.values() if one["done_slope_s"] is not None)
assert math.isclose(whole["sensitivity"]["done_together_s"], math.sqrt(squares), rel_tol=1e-9)
END
"$program" cook --sensitivity >table
grep -q '^pit.temperature .*6.0 K' table || fail "the table has no row for the pit"
grep -q 'not how wrong the model is' table || fail "the table does not say what it leaves out"
"$program" cook --sensitivity --units us | grep -q '^pit.temperature .*10.8 F' || fail "--units us is not obeyed"
got=0; "$program" cook --sensitivity --format csv >out 2>err || got=$?
[ $got -eq 2 ] && [ ! -s out ] && grep -q 'table or JSON' err || fail "--format csv is not refused"
