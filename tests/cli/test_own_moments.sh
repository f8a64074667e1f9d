#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# compare --wraps with a moment of its own for each wrap: every choice is the cook that asks for it, and keeps its name in
# tables, CSV, JSON, pages and results.
set -eu
program=$1 scratch=$2
here=$(cd "$(dirname "$0")" && pwd)
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }
check() { /usr/bin/python3 "$here/check_output.py" "$@" || fail "check_output.py $*"; }

wraps=none,paper@165F,paper@3h,open-tray@180F,closed-foil@bark,paper,open-tray@6:30
labels='none paper-165F paper-3h open-tray-180F closed-foil-bark paper open-tray-6_30'
"$program" compare -q --wraps $wraps --wrap-at 160F --format json --plot all.png --page all.html -o all.h5 >all.json
"$program" compare -q --wraps $wraps --wrap-at 160F --format csv >all.csv
"$program" compare -q --wraps $wraps --wrap-at 160F >all.txt
awk 'length($0) > 80 { exit 1 }' all.txt || fail "a line has over 80 columns"
"$program" draw -q all.h5 --plot again.png
for label in $labels; do
    grep -q "^$label," all.csv || fail "the CSV lacks $label"
    grep '^wrap ' all.txt | grep -q -w -- "$label" || fail "the table lacks $label"
    for file in all.html all.h5; do
        grep -a -q -- "$label" $file || fail "$file lacks $label"
    done
done
[ "$(wc -l <all.csv)" -eq 8 ] || fail "not every choice has a row"

number=0
for setting in none paper@165F paper@3h open-tray@180F closed-foil@bark paper@160F open-tray@6:30; do
    moment=${setting#*@}
    [ "$moment" != none ] || moment=160F # of no wrap: changes nothing
    "$program" cook -q --set wrap.kind=${setting%@*} --set wrap.when=$moment --format json >one.json
    check choice-is all.json $number one.json
    number=$((number + 1))
done
# One moment for all is not said in their names, several are.
"$program" compare -q --wraps paper --wrap-at bark --format csv | grep -q '^paper,' || fail "one moment changes the name"
"$program" compare -q --wraps paper,open-tray@bark --wrap-at 3h,4h --format csv | cut -d, -f1 | tr '\n' ' ' >names
grep -q '^label paper-3h paper-4h open-tray-bark $' names || fail "moments are not kept apart: $(cat names)"
# Spaces around words do no harm; moments that no wrap takes are refused.
"$program" compare -q --wraps 'none, paper@165F' --format csv | cut -d, -f1 | tr '\n' ' ' >names
grep -q '^label none paper-165F $' names || fail "a space after a comma counts: $(cat names)"
got=0; "$program" compare -q --wraps none,paper@165F --wrap-at 160F >out 2>err || got=$?
[ "$got" -eq 2 ] && grep -q 'every wrap of --wraps has its own moment already' err || fail "an idle --wrap-at gives exit $got"
echo "compare: every wrap at its own moment"
