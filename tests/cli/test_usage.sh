#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Help fits a screen; a mistyped command is named, explained and refused with exit status 2.
set -eu
program=$1 scratch=$2
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }
refuse() { # words, arguments...
    words=$1; shift
    got=0; "$program" "$@" >out 2>err || got=$?
    [ "$got" -eq 2 ] || fail "exit $got, expected 2: $*: $(cat err)"
    [ ! -s out ] || fail "standard output is not empty: $*"
    grep -q '^stallwright: error: ' err || fail "no error is printed: $*"
    grep -q -- "$words" err || fail "\"$words\" is not said by: $*: $(cat err)"
}

# A terminal of 24 lines of 80 columns, the size of the ANSI and VT100 screens.
for app in cook compare sweep draw explain track plan; do
    for option in --help -h; do
        "$program" $app $option >help 2>err
        [ ! -s err ] || fail "$app $option writes to standard error"
        [ "$(wc -l <help)" -le 24 ] || fail "$app $option has more than 24 lines"
        awk 'length($0) > 80 { exit 1 }' help || fail "$app $option has a line over 80 columns"
    done
    [ "$(sed -n '/^Examples:/,$p' help | grep -c '^  stallwright ')" -eq 2 ] || fail "$app --help shows no two examples"
    grep -q '^Stall: .*55 to 85 C.*3.0 K/h.*45 min' help || fail "$app --help does not say what a stall is"
done
described() { "$program" "$1" --help | grep "^  \(-.,\|   \) --$2 "; }
for option in set format units plot output force quiet verbose progress help version; do
    [ -n "$(described cook $option)" ] && [ "$(described cook $option)" = "$(described compare $option)" ] ||
        fail "--$option is not described the same in both apps"
done
"$program" >help
"$program" --help | cmp -s - help || fail "the program alone does not show its help"
grep -q 'stallwright compare' help || fail "the help does not name the first thing to try"
for arguments in --version -V "cook --version" "compare -V"; do
    "$program" $arguments | grep -q '^stallwright [0-9]*\.[0-9]*\.[0-9]*$' || fail "$arguments shows no version"
done

refuse 'did you mean "cook"' cok
refuse '"bake" is no app' bake
refuse 'unknown option "--foo"' --foo
refuse 'did you mean "--plot"' cook --plto x.png
refuse 'did you mean "--format"' compare --fromat=json
refuse 'unknown option "--pl"' cook --pl x.png
refuse 'unknown option "--wraps"' cook --wraps none
refuse 'unknown option "-Z"' cook -Z
refuse 'needs a value' cook --set
refuse 'takes no value' cook --quiet=yes
refuse 'did you mean "json"' cook --format jsn
refuse 'allowed are: si us' cook --units metric
refuse 'allowed are: auto always never' cook --progress maybe
refuse 'one file too many' cook a.yaml b.yaml
refuse 'No such file' cook missing.yaml
refuse 'did you mean "pit.temperature"' cook --set pit.temperatur=120C
refuse 'no unit' cook --set pit.temperature=120
refuse 'allowed range' cook --set pull=2000C
refuse 'a .svg, .png or .pdf file' cook --plot curves.gif
refuse 'a .svg, .png or .pdf file' compare --plot curves
refuse 'name the same file' cook --plot a.png -o a.png
refuse 'meat.shape is none' cook --plot a.png --hours 2
refuse '--plot is not given' cook --hours 2 --set meat.shape=packer --set meat.thickness=0cm
for hours in 2,x ,2 2, 1,2,3,4 -1 ''; do
    refuse 'numbers of hours' cook --plot a.png --set meat.shape=packer --set meat.thickness=0cm --hours "$hours"
done
refuse 'a page is a .html file' explain --page lesson.pdf
refuse 'a page is a .html file' compare --page .html
refuse 'did you mean "--page"' explain --pgae x.html
refuse 'unknown option "--page"' cook --page x.html
refuse 'did you mean "paper"' compare --wraps none,papr
refuse 'the results file is missing' draw --plot a.png
refuse 'plot is missing' draw a.h5
refuse 'unknown option "--set"' draw a.h5 --set pull=95C --plot a.png
refuse 'a .svg, .png or .pdf file' draw a.h5 --plot a.gif
refuse 'twice' compare --wraps paper,paper
refuse 'twice' compare --wrap-at 165F,165F
refuse 'twice' compare --wraps paper@165F,paper@165F
refuse 'twice' compare --wraps paper@165F,paper --wrap-at 165F
refuse 'nothing goes on then' compare --wraps none@3h
refuse 'is not an ending' compare --wraps paper@
refuse 'no unit' compare --wraps paper@165
refuse 'did you mean "paper"' compare --wraps papr@165F
refuse 'a word is missing' compare --wraps none,,paper
refuse 'no unit' compare --wrap-at 165
printf 'pit:\n  temperature: 120 C\n  humidty: 3\n' >bad.yaml
refuse '^stallwright: error: bad.yaml:3:3' cook bad.yaml
# What comes after "--" is a file, whatever it looks like; "-" is standard input.
refuse 'No such file' cook -- --help
echo 'title: From a pipe' | "$program" cook - >out
grep -q '^From a pipe$' out || fail "standard input is not read"
echo "usage: every mistake is named"
