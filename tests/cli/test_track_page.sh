#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# The picture and the page of a cook under way: their figures are those of the JSON, the page is valid HTML and draws in a browser.
# Logs here are made up.
set -eu
program=$1 scratch=$2
here=$(cd "$(dirname "$0")" && pwd)
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }
check() { /usr/bin/python3 "$here/check_track_page.py" "$@" || fail "check_track_page.py $*"; }

{ echo "time [min],flat [C],point [C],pit [C],notes"
  for i in 0 1 2 3 4 5 6 7 8 9 10 11 12; do echo "$((i * 20)),$((5 + i * 5)),$((6 + i * 5)),$((118 + i % 3)),"; done
  echo '240,,,,"<script>alert(1)</script>"'; } >cook.csv
track() { "$program" track --log cook.csv --on 0min --serve 12:00 "$@"; }
track -q --page cook.html --plot cook.svg --format json >cook.json
tidy -q -e cook.html 2>complaints || fail "tidy: $(cat complaints)"
track -q --units us --page us.html --plot cook.png >us.txt
# All but the likeliest cooks: done, and not begun.
"$program" track -q --reading 9h=95C --reading 9h10m=95.5C --page done.html --plot done.svg >done.txt
grep -q 'Done: the probe reads' done.txt || fail "a cook that is done is not told: $(cat done.txt)"
"$program" track -q --page none.html --plot none.pdf >none.txt
for page in done none us; do tidy -q -e $page.html 2>complaints || fail "tidy: $page.html: $(cat complaints)"; done
check figures cook.html cook.json
check figures us.html
check picture cook.svg cook.json
head -c 8 cook.png | grep -q PNG && head -c 5 none.pdf | grep -q '%PDF' || fail "a picture is of another kind than its name"
check browser cook.html us.html done.html none.html
before=$(cksum cook.html)
got=0; track --page cook.html >out 2>err || got=$?
[ $got -eq 2 ] && grep -q 'exists already' err && [ "$(cksum cook.html)" = "$before" ] || fail "an existing page: exit $got: $(cat err)"
got=0; track --plot cook.gif >out 2>err || got=$?
[ $got -eq 2 ] || fail "a picture of an unknown kind gives exit $got"
echo "page and picture of a cook under way: true to the data, alive in a browser"
