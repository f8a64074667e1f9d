#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# The manual has a page for each app with every option that its help has, and one with every key of the page of keys; man reads all
# of them without a complaint. The page of options is made of them.
set -eu
program=$1 scratch=$2
root=$(cd "$(dirname "$0")/../.." && pwd)
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }
"$program" --manual >pages
apps=$("$program" --help | sed -n '/^Apps:/,/^$/s/^  \([a-z]*\) .*/\1/p')
[ "$(wc -l <pages)" -eq $(($(echo "$apps" | wc -l) + 2)) ] || fail "there are other pages than apps: $(cat pages)"
while read -r page; do
    "$program" --manual "$page" >"$page" 2>err || fail "$page: $(cat err)"
    groff -man -ww -Tascii "$page" >text 2>complaints || fail "groff fails on $page"
    [ ! -s complaints ] || fail "$page: $(head -3 complaints)"
    sed -n 's/^stallwright.* \\- .*/named/p' "$page" | grep -q named || fail "$page does not say what it is in one line"
    tr -s ' \n' ' ' <text >folded
    grep -q '135 F' folded && grep -q 'bon monoxide' folded || fail "$page has no cautions"
done <pages
plain() { sed 's/\\-/-/g; s/\\f[BIR]//g; s/\\&//g; s/\\e/\\/g' "$1"; }
checked=0
for app in $apps; do
    plain "stallwright-$app.1" >plain
    "$program" "$app" --help | grep -v 'as in every app' | sed -n 's/^  \(-.,\|   \) \(--[a-z-]*\)\( [A-Z=]*\)\{0,1\} *\(.*\)/\2 \4/p' >options
    while read -r option help; do
        sed -n "/^\(-., \)\{0,1\}$option\( [A-Z=]*\)\{0,1\}\$/{n;p;}" plain | grep -qF -- "$help" || fail "the page of $app does not tell of $option as its help does"
        checked=$((checked + 1))
    done <options
done
[ "$checked" -gt 60 ] || fail "only $checked options were found"
plain stallwright-scenario.5 >plain
sed -n 's/^| `\([a-z_.]*\)` | \([^|;]*\).*/\1 \2/p' "$root/docs/reference/scenario.md" >keys
while read -r key meaning; do
    sed -n "/^$key\$/{n;p;}" plain | grep -qF -- "${meaning% }" || fail "the page of keys does not tell of $key as docs/reference/scenario.md does"
done <keys
[ "$(wc -l <keys)" -gt 120 ] || fail "only $(wc -l <keys) keys were found"
/usr/bin/python3 "$root/docs/reference/options.py" "$program" options.md && cmp -s options.md "$root/docs/reference/options.md" ||
    fail "docs/reference/options.md is not what docs/reference/options.py writes"
got=0; "$program" --manual nonsense.1 >out 2>err || got=$?
[ $got -eq 2 ] && grep -q 'has no page "nonsense.1"' err || fail "a page that is not there is not refused"
echo "manual: $checked options, $(wc -l <keys) keys"
