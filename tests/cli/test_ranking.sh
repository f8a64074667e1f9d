#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# compare --by: the order, the paragraph and its numbers, ties, cooks that never finish, and what is refused.
set -eu
program=$1 scratch=$2
here=$(cd "$(dirname "$0")" && pwd)
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }
check() { /usr/bin/python3 "$here/check_ranking.py" "$@" || fail "check_ranking.py $*"; }

for by in time yield bark tender; do
    "$program" compare --by $by --format json >$by.json
    check json $by.json $by
    /usr/bin/python3 "$here/check_output.py" json $by.json "$here/../../docs/reference/json-output.md" none paper open-tray \
        closed-foil || fail "the reference does not name a key of compare --by $by"
    for units in si us; do
        "$program" compare --by $by --units $units >table
        awk 'length($0) > 80 { exit 1 }' table || fail "--by $by --units $units has a line over 80 columns"
        if grep -n -i -w -E 'nan|-nan|inf|-inf' table; then fail "--by $by shows a figure that is none"; fi
        grep -q '^Ranked by ' table || fail "--by $by ranks nothing"
        tr '\n' ' ' <table | grep -q 'Safety is not ranked' || fail "--by $by explains nothing"
    done
    if grep -q -E '[0-9] (C|kg|cm|MJ|K)\b' table; then fail "--by $by --units us shows SI units"; fi
    "$program" compare --by $by --format csv >$by.csv
    check csv $by.csv $by.json
done
# Who does not ask for it gets no ranking.
coarse="--wraps none,paper --set solver.cells=12"
if "$program" compare $coarse | grep -q '^Ranked by '; then fail "compare ranks without --by"; fi
if "$program" compare $coarse --format json | grep -q '"ranking"'; then fail "JSON ranks without --by"; fi
if "$program" compare $coarse --format csv | grep -q 'place'; then fail "CSV ranks without --by"; fi

# The same wrap at two moments a hair apart is a tie; labels hold digits; other numbers are still traced.
"$program" compare --by yield --wraps paper --wrap-at 165F,165.1F --format json >tie.json
check json tie.json yield
[ "$(grep -c '"place": 1' tie.json)" -eq 2 ] || fail "two cooks that cannot be told apart do not share a place"
grep -q 'Too close to tell apart' tie.json || fail "a tie is not explained"
"$program" compare --by bark --wraps paper --format json >one.json
check json one.json bark
grep -q 'Only paper was asked for' one.json || fail "a single choice is called the best"

# Some cooks never finish: they have no place; if none does nothing is recommended.
got=0; "$program" compare --by time --set pit.temperature=99C --format json >some.json 2>err || got=$?
[ "$got" -eq 1 ] || fail "a failing choice gives exit $got"
check failing some.json
got=0; "$program" compare --by time --set pit.temperature=80C --wraps none,paper --format json >none.json 2>err || got=$?
[ "$got" -eq 1 ] || fail "failing choices give exit $got"
check nothing none.json
"$program" compare --by time --set pit.temperature=80C --wraps none,paper >table 2>err || true
grep -q 'no choice finishes' table || fail "nothing is said where nothing finishes"

refuse() { # words, arguments...
    words=$1; shift
    got=0; "$program" "$@" >out 2>err || got=$?
    [ "$got" -eq 2 ] && [ ! -s out ] && grep -q -- "$words" err || fail "not refused: $*: $(cat err)"
}
refuse 'did you mean "yield"' compare --by yeild
refuse 'allowed are: time yield bark tender' compare --by taste
refuse 'needs a value' compare --by
refuse 'unknown option "--by"' cook --by time
refuse 'allowed range' cook --set serving.size=2kg
refuse 'no unit' cook --set serving.size=150
refuse 'whole number from 0' cook --set serving.people=-1
refuse 'allowed range' cook --set serving.trimming=0.9

# What to buy follows from people, serving, trimming and yield; nobody to feed leaves it out.
"$program" cook --set serving.people=10 --set serving.size=200g --set serving.trimming=20% --format json >ten.json
/usr/bin/python3 - ten.json <<'CHECK' || fail "what to buy is wrong"
import json, math, sys
choice = json.load(open(sys.argv[1]))["choices"][0]
assert math.isclose(choice["mass_to_buy_kg"], 10 * 0.2 / choice["yield_fraction"] / 0.8, rel_tol=1e-12)
assert math.isclose(choice["servings"], choice["budget_at_end"]["meat_mass_kg"] / 0.2, rel_tol=1e-12)
CHECK
"$program" cook --set serving.people=0 >out
grep -q '^Feeds ' out && ! grep -q 'buy' out || fail "with nobody to feed there is something to buy"

# A rate used outside its range is flagged: closed foil and a pull close to boiling.
"$program" cook --set wrap.kind=closed-foil --set pull=99C --set pit.temperature=135C >out
grep -q 'NOTE: .* outside 60.0 C to 95.0 C' out || fail "a rate outside its range is not flagged"
"$program" cook --set pull=85C --set hold.until=none >out
if grep -q 'NOTE: .* outside' out; then fail "a rate within its range is flagged"; fi
echo "ranking: orders, paragraphs and servings hold"
