#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Pictures and standard output: written whole or not at all, and never over something without --force.
set -eu
program=$1 scratch=$2
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }
expect() { # status, words, command...
    want=$1 words=$2; shift 2
    got=0; "$@" >out 2>err || got=$?
    [ "$got" -eq "$want" ] || fail "exit $got, expected $want: $*: $(cat err)"
    grep -q -- "$words" err || fail "\"$words\" is not said by: $*: $(cat err)"
}
whole() { # file: its first and last bytes are those of its kind
    [ -s "$1" ] || fail "$1 is missing or empty"
    case $1 in
    *.png) head -c 8 "$1" | grep -q PNG && tail -c 12 "$1" | grep -q IEND ;;
    *.svg) head -c 200 "$1" | grep -q '<svg' && tail -c 20 "$1" | grep -q '</svg>' ;;
    *.pdf) head -c 8 "$1" | grep -q '%PDF' && tail -c 20 "$1" | grep -q '%%EOF' ;;
    esac || fail "$1 is not whole"
}

for kind in png svg pdf; do
    for app in cook compare explain; do
        "$program" $app --plot $app.$kind >out 2>err
        whole $app.$kind
        [ "$(cat err)" = "stallwright: note: picture drawn to \"$app.$kind\"" ] || fail "$app prints: $(cat err)"
    done
done
"$program" cook -q --set meat.shape=packer --set meat.thickness=0cm --set solver.rows=10 --set solver.columns=16 \
    --set solver.relative_tolerance=1e-3 --hours 2,5 --plot section.png >out 2>err
whole section.png
[ ! -s err ] || fail "-q does not silence the notes: $(cat err)"
# One choice, many choices, no stall, no rest: there is something to draw in any case.
"$program" compare -q --wraps paper --plot one.png >out
"$program" compare -q --wrap-at 150F,155F,160F,165F,170F --plot many.png >out
"$program" cook -q --set rest.until=none --set hold.until=none --set stall.above=94C --plot bare.png >out
whole one.png; whole many.png; whole bare.png
grep -q 'No stall' out || fail "the bare cook stalls"

before=$(cksum cook.png)
expect 2 "exists already" "$program" cook --plot cook.png
[ "$(cksum cook.png)" = "$before" ] || fail "the existing picture was touched"
"$program" cook -q --force --units us --plot cook.png >out
[ "$(cksum cook.png)" != "$before" ] || fail "--force does not replace the picture"
mkdir folder.png
expect 1 "is a directory" "$program" cook -f --plot folder.png
expect 1 "cannot be written" "$program" cook --plot nowhere/a.png
# Not even root can make a file under a file.
expect 1 "Not a directory" "$program" cook --plot cook.png/a.png
# What cannot be written is said before the work: a cook that would never end does not come to say so.
for app in cook compare; do
    expect 2 "exists already" "$program" $app --set pit.temperature=80C --plot cook.png
    expect 1 "Not a directory" "$program" $app --set pit.temperature=80C -o cook.png/a.h5
done

# A full disk, as a limit on the size of files.
if (ulimit -f 8) 2>/dev/null; then
    for kind in png svg pdf; do
        got=0; (trap '' XFSZ 2>/dev/null; ulimit -f 8; exec "$program" compare -q --plot full.$kind) >out 2>err || got=$?
        [ "$got" -eq 1 ] && grep -q 'could not be written whole' err || fail "a full disk gives exit $got: $(cat err)"
        [ ! -e full.$kind ] || fail "a partial picture stands under its final name"
    done
fi
if [ -c /dev/full ]; then
    for arguments in cook "cook --format json" "cook --format csv" "cook --print-scenario" "cook --help" compare \
        "compare --format json" "compare --format csv" explain "explain --format json" --version ""; do
        got=0; "$program" $arguments >/dev/full 2>err || got=$?
        [ "$got" -eq 1 ] && grep -q 'be written: No space' err ||
            fail "a full standard output gives exit $got: $arguments: $(cat err)"
    done
fi

# Interrupted: exit status 130, nothing left behind. The cook is finer than any machine can do in the time.
got=0
timeout -s INT --preserve-status 1 "$program" compare --set meat.shape=packer --set meat.thickness=0cm \
    --set solver.rows=60 --set solver.columns=200 --plot late.png -o late.h5 >out 2>err || got=$?
[ "$got" -eq 130 ] && grep -q 'interrupted' err || fail "an interrupt gives exit $got: $(cat err)"
[ ! -s out ] || fail "an interrupted run shows something"
if ls late.* 2>/dev/null | grep -q .; then fail "an interrupted run leaves a file"; fi

# No progress on what is no terminal, none under --progress never, some under always.
"$program" cook >out 2>err
[ ! -s err ] || fail "progress is shown where there is no terminal: $(cat err)"
"$program" cook --progress always >out 2>err
grep -q 'into the cook' err || fail "--progress always shows none"
if ls | grep '\.part$'; then fail "a temporary file was left"; fi
echo "pictures: whole or not at all"
