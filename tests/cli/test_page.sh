#!/bin/sh
# Pages: their numbers are those of their data, their HTML is valid, and they work in a browser without a network.
set -eu
program=$1 scratch=$2
here=$(cd "$(dirname "$0")" && pwd)
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }
check() { /usr/bin/python3 "$here/check_page.py" "$@" || fail "check_page.py $*"; }
valid() { # file: HTML without an error or a warning
    tidy -q -e "$1" 2>complaints || fail "tidy: $1: $(cat complaints)"
}
expect() { # status, words, command...
    want=$1 words=$2; shift 2
    got=0; "$@" >out 2>err || got=$?
    [ "$got" -eq "$want" ] || fail "exit $got, expected $want: $*: $(cat err)"
    grep -q -- "$words" err || fail "\"$words\" is not said by: $*: $(cat err)"
}

"$program" explain --page story.html --format json >explain.json 2>err
[ "$(cat err)" = 'stallwright: note: page written to "story.html"' ] || fail "explain prints: $(cat err)"
"$program" cook --format json >cook.json
valid story.html
check story story.html explain.json
check planned story.html cook.json
grep -q 'Permission is hereby granted' story.html || fail "the licence of the charting library is not in the page"
check browser story.html story

"$program" compare -q --page compare.html >out
valid compare.html
check numbers compare.html

# In US units from the start; a section; a cut and a title that would break out of the page.
"$program" explain -q --units us --page us.html >out
check numbers us.html
"$program" explain -q --page section.html --set meat.shape=packer --set meat.thickness=0cm --set solver.rows=10 \
    --set solver.columns=14 --set solver.relative_tolerance=1e-3 >out
valid section.html
check numbers section.html
printf 'title: "</script><!-- & \\"quotes\\""\nmeat:\n  name: "<script>alert(1)</script>"\n' >hostile.yaml
"$program" explain -q --page hostile.html hostile.yaml >out
valid hostile.html
check hostile hostile.html

# No stall, and a cook that never finishes: said in the page too.
"$program" explain -q --set solver.evaporation=no --page none.html >out
valid none.html
check no-stall none.html
expect 1 'does not end' "$program" explain -q --set pit.temperature=80C --page never.html
valid never.html
check never never.html
expect 1 'choices failed' "$program" compare -q --set pit.temperature=97C --page failing.html
valid failing.html
check numbers failing.html
grep -q 'does not end' failing.html || fail "the failing choice is not explained in the page"
check opens compare.html us.html section.html hostile.html none.html never.html failing.html

# What cannot be written is said before the work.
before=$(cksum story.html)
expect 2 'exists already' "$program" explain --page story.html
[ "$(cksum story.html)" = "$before" ] || fail "the existing page was touched"
expect 1 'cannot be written' "$program" explain --page nowhere/a.html
expect 1 'Not a directory' "$program" compare --page story.html/a.html
mkdir folder.html
expect 1 'is a directory' "$program" explain -f --page folder.html
if (ulimit -f 8) 2>/dev/null; then
    got=0; (trap '' XFSZ 2>/dev/null; ulimit -f 8; exec "$program" explain -q --page full.html) >out 2>err || got=$?
    [ "$got" -eq 1 ] && grep -q 'could not be written whole' err || fail "a full disk gives exit $got: $(cat err)"
    [ ! -e full.html ] || fail "a partial page stands under its final name"
fi
if ls | grep '\.part$'; then fail "a temporary file was left"; fi
echo "page: valid, true to its data, alive in a browser"
