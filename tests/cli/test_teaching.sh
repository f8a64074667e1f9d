#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Key and sheet of the teaching note come from one source, and what the exercises rely on holds.
set -eu
program=$1 scratch=$2
root=$(cd "$(dirname "$0")/../.." && pwd)
rm -rf "$scratch"; mkdir -p "$scratch"
cp "$root/docs/teaching/source.md" "$scratch/source.md"
/usr/bin/python3 "$root/docs/teaching/teaching.py" "$program" "$scratch/source.md"
"$program" cook -q --sensitivity --format json >"$scratch/inputs.json"
/usr/bin/python3 - "$scratch/key.md" "$scratch/sheet.md" "$scratch/inputs.json" <<'EOF'
import json
import re
import sys

text = open(sys.argv[1]).read()
sheet = open(sys.argv[2]).read()


def rows(name):
    part = re.search(rf"<!-- computed: {name} -->(.*?)<!-- end -->", text, re.S).group(1)
    cells = [[cell.strip() for cell in line.strip("|").split("|")] for line in part.splitlines() if line.startswith("|")]
    return [row for row in cells if row[0] != "---"], part


def number(cell):
    return float(re.search(r"-?\d+(?:\.\d+)?", cell).group(0))


found, part = rows("explanations")
sizes = {row[0]: number(row[2]) for row in found if "at most" in row[2]}
assert len(sizes) == 3 and max(sizes.values()) < 0.2, f"an explanation is nearly as large as evaporation: {sizes}"
done = {row[0]: number(row[1]) for row in found if len(row) == 4 and row[0] != "cook" and row[1] != "-"}
assert done["no evaporation"] < done["as planned"] and done["half the thickness"] < done["as planned"]
assert part.count("\n- ") == 6 and "In US units: is done" in part

found, part = rows("thickness")
for column in (1, 3):
    times = [number(row[column]) for row in found[1:]]
    assert times == sorted(times) and len(set(times)) == 4, "thicker meat is not done later"
wet, dry = map(float, re.search(r"exponent is ([\d.]+) with evaporation and ([\d.]+) without", part).groups())
# Conduction alone gives 2, heat transfer at the surface alone 1: without evaporation the cook lies between.
assert 1 < dry < 2 and wet > 0.5, (wet, dry)

found, part = rows("plateau")
bulbs = [number(row[1]) for row in found[1:5] if row[1] != "-"]
assert bulbs == sorted(bulbs), "a damper pit does not raise the wet-bulb"
assert len(found) == 7 and all("-" not in row[1:] for row in found), f"a row has nothing to tell: {found}"
for row in found[1:]:
    for cell in row[1:4]:
        c, f = map(float, re.fullmatch(r"([\d.]+) C \(([\d.]+) F\)", cell).groups())
        assert abs(1.8 * c + 32 - f) <= 0.15, cell

# The settings that move the stall most come first, with the ranges of the program.
inputs = {one["key"]: one for one in json.load(open(sys.argv[3]))["sensitivity"]["inputs"]}
found, part = rows("drivers")
keys = [row[0].strip("`") for row in found[1:]]
sizes = [abs(inputs[key]["stall_length_slope_s"]) for key in keys]
rest = [abs(one["stall_length_slope_s"] or 0) for key, one in inputs.items() if key not in keys]
assert len(keys) == 6 and sizes == sorted(sizes, reverse=True) and min(sizes) >= max(rest), sizes
for key, row in zip(keys, found[1:]):
    one = inputs[key]
    factor = re.fullmatch(r"x or / ([\d.]+)", row[1])
    told = one["value_si"] * float(factor.group(1)) if factor else one["value_si"] + float(re.match(r"\+- ([\d.]+)", row[1]).group(1))
    assert abs(told - one["high_si"]) <= 2e-3 * abs(one["high_si"]), (key, row[1])
    assert [f"{one[f'stall_length_{side}_s'] / 3600:+.1f} h" for side in ("low", "high")] == row[2:], row

# The sheet asks the same and answers nothing: its tables are empty, and no figure of the key's tables is in it.
questions = lambda document: re.findall(r"^\d\. .*$", document, re.M)
assert questions(sheet) == questions(text) and len(questions(sheet)) == 11
assert "Heat must first cross the air" in text and "Heat must first cross the air" not in sheet
assert "exponent is" not in sheet and "During the stall" not in sheet and "is done" not in sheet and "juice_runoff" not in sheet
cells = [cell for line in sheet.splitlines() if line.startswith("|") and "---" not in line for cell in line.strip("|").split("|")[1:]]
assert sum(cell.strip() == "" for cell in cells) > 60
assert not any(re.search(r"\d", cell) for cell in cells), cells
assert "\n\n\n" not in sheet and "\n\n\n" not in text and "<!-- teacher" not in sheet + text and "<!-- student" not in sheet + text
assert "\n\n```sh\nstallwright explain --page" in text and "\n\n```sh\nstallwright explain --page" in sheet
EOF
# What is written down is what comes from the source, but for its figures.
for name in key.md sheet.md; do
    sed 's/[0-9][0-9.]*/N/g' "$root/docs/teaching/$name" | grep '^#\|^[0-9N]\. ' >"$scratch/written"
    sed 's/[0-9][0-9.]*/N/g' "$scratch/$name" | grep '^#\|^[0-9N]\. ' | cmp -s "$scratch/written" - || { echo "FAILED: docs/teaching/$name is not of its source" >&2; exit 1; }
done
echo "teaching: key and sheet are computed, and the findings hold"
