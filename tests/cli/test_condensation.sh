#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Vapour that condenses on cold meat is told as that: a yield over 100 % is no mistake, and nothing has a sign.
set -eu
program=$1 scratch=$2
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }

for units in si us; do
    "$program" cook -q --set pull=1min --set hold.temperature=52C --units $units >cook
    tr -s '\n ' ' ' <cook >line
    grep -q ' yield 100.[01] % 10[01][.][1-9] % Condensation: 0[.][1-9][0-9] [kl][gb] more vapour has condensed on the cold meat' line ||
        fail "a yield over 100 % is not explained: $(grep -B6 -A3 yield cook)"
    yield=$(sed -n 's/^  yield  *100.[01] %  *\([0-9.]*\) %$/\1/p' cook)
    grep -q "so it weighs $yield % of its raw mass" line || fail "condensation tells another yield than $yield %"
    "$program" compare -q --set pull=1min --set hold.temperature=52C --wraps paper --units $units >compare
    tr -s '\n ' ' ' <compare | grep -q 'paper: condensation, 0[.][0-9]* [kl][gb] more vapour' || fail "compare does not explain its yield"
    "$program" explain -q --set pull=1min --set hold.temperature=52C --units $units >explain
    tr -s '\n ' ' ' <explain | grep -q 'More vapour condenses on the cold meat than evaporates from it, [0-9.]* [kl][gb] of water, and brings it' ||
        fail "explain does not tell condensation"
    grep -q '^(Negative: vapour that condenses' explain || fail "explain does not tell what negative heat is"
    for text in cook compare explain; do
        if grep -n -e '-0[.]00 ' $text; then fail "nothing has a sign"; fi
        awk 'length($0) > 80 { exit 1 }' $text || fail "$text is wider than 80 columns"
    done
done
"$program" cook -q >cook
if grep -q ondens cook; then fail "a cook that loses water tells of condensation"; fi
"$program" explain -q --set pull=50C >explain
if grep -q 'Negative' explain; then fail "heat is called negative that is not"; fi
echo "condensation: it is told where it is"
