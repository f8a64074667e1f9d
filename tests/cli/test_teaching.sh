#!/bin/sh
# The teaching note can be computed anew, and what its exercises rely on holds.
set -eu
program=$1 scratch=$2
root=$(cd "$(dirname "$0")/../.." && pwd)
rm -rf "$scratch"; mkdir -p "$scratch"
cp "$root/docs/teaching.md" "$scratch/note.md"
/usr/bin/python3 "$root/docs/teaching.py" "$program" "$scratch/note.md"
/usr/bin/python3 - "$scratch/note.md" <<'EOF'
import re
import sys

text = open(sys.argv[1]).read()


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
assert part.count("\n- ") == 6

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
EOF
echo "teaching: the note is computed, and its findings hold"
