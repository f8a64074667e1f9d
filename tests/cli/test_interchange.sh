#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Files for others: results keep to CF 1.8 and are the same when they are made again; pictures tell what they are; the lines of Python
# in docs/reference/results-file.md draw.
set -eu
program=$1 scratch=$2
root=$(cd "$(dirname "$0")/../.." && pwd)
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }
coarse="-q --set solver.cells=12 --set solver.relative_tolerance=1e-3 --set solver.surface_cell=2mm"
section="--set meat.shape=packer --set meat.thickness=0cm --set solver.rows=8 --set solver.columns=12"
"$program" cook $coarse -o run.h5 >out
"$program" compare $coarse --no-band -o wraps.h5 >out
"$program" cook $coarse $section -o section.h5 >out
"$program" sweep $coarse --vary pit.temperature=110C,120C --vary wrap.kind=none,paper -o sweep.h5 >out
/usr/bin/python3 "$root/tests/cli/check_cf.py" run.h5 wraps.h5 section.h5 sweep.h5 || fail "check_cf.py"

# The lines of the page, as they stand there.
sed -n '/^```python$/,/^```$/p' "$root/docs/reference/results-file.md" | sed '/^```/d' >draw.py
[ "$(wc -l <draw.py)" -gt 5 ] || fail "docs/reference/results-file.md has no lines of Python"
MPLCONFIGDIR=$PWD /usr/bin/python3 -W error::UserWarning draw.py >out 2>&1 || fail "draw.py: $(tail -3 out)"
head -c 8 run.png | grep -q PNG || fail "the lines of the page draw nothing"

# Made again at another moment, the same to the byte; a date that is none is refused before anything is written.
title='Supper "54 °C" & <more>'
for folder in one two; do
    mkdir $folder
    (cd $folder && SOURCE_DATE_EPOCH=1764158400 "$program" cook $coarse -o run.h5 --set title="$title" --plot run.pdf >out &&
        SOURCE_DATE_EPOCH=1764158400 "$program" sweep $coarse --vary pit.temperature=110C,120C -o sweep.h5 --plot sweep.svg >out &&
        SOURCE_DATE_EPOCH=1764158400 "$program" cook $coarse --plot run.png >out) || fail "nothing is made in $folder"
    sleep 1.1
done
for file in run.h5 sweep.h5 run.pdf run.png sweep.svg; do
    cmp "one/$file" "two/$file" || fail "$file is another when it is made again"
done
for wrong in tomorrow -1 1e9 253402300800; do
    got=0; SOURCE_DATE_EPOCH=$wrong "$program" cook $coarse -o never.h5 >out 2>err || got=$?
    [ "$got" -ne 0 ] && grep -q 'SOURCE_DATE_EPOCH is' err || fail "a date that is none is taken: $wrong"
    got=0; SOURCE_DATE_EPOCH=$wrong "$program" cook $coarse --plot never.pdf >out 2>err || got=$?
    [ "$got" -ne 0 ] && grep -q 'SOURCE_DATE_EPOCH is' err || fail "a date that is none is taken for a picture: $wrong"
done
[ -z "$(ls | grep never || true)" ] || fail "something was written: $(ls | grep never)"

"$program" cook $coarse --set title="$title" --plot run.svg >out
/usr/bin/python3 "$root/tests/cli/check_pictures.py" "$title" run.svg one/run.png one/run.pdf || fail "check_pictures.py"
echo "interchange: the same again, and told what it is"
