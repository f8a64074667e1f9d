#!/bin/bash
# SPDX-License-Identifier: BSD-3-Clause
# Completion offers every app, option and key, and values that are then understood; and so it does in bash, zsh and fish.
set -eu
[ -n "${BASH_VERSION:-}" ] || exec bash "$0" "$@"
program=$1 scratch=$2
root=$(cd "$(dirname "$0")/../.." && pwd)
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }
offers() { # expected lines as one text, words...
    expected=$1; shift
    [ "$("$program" --complete "$@" | tr '\n' ' ')" = "$expected " ] || fail "for \"$*\" it offers $("$program" --complete "$@" | tr '\n' ' '), not $expected"
}
apps=$("$program" --help | sed -n '/^Apps:/,/^$/s/^  \([a-z]*\) .*/\1/p')
[ "$("$program" --complete '')" = "$apps" ] || fail "it offers other apps than the help"
for app in $apps; do
    "$program" "$app" --help | sed -n 's/^\(  \(-.,\|   \) --.[^ ]*\( -.,\| --[a-z]*,\{0,1\}\)*\).*/\1/p' | grep -o -e '--[a-z-]*' >options
    "$program" --complete "$app" -- | cmp -s - options || fail "it offers other options of $app than its help"
done
offers 'cook compare' co
offers '--format --force' cook --fo
offers 'table json csv' cook --format ''
offers 'csv' cook --format c
offers '<file> .svg .png .pdf' cook -q --plot c
offers '<file>' cook -o ''
offers '<file> .yaml' cook v
offers '<file> .h5' draw --units us ''
offers 'paper,open-tray' compare --wraps paper,op
offers 'meat.cut=' cook --set meat.cu
offers 'meat.cut=pork-butt meat.cut=pork-picnic' cook --set meat.cut=pork
offers 'rest.keep_wrap=yes rest.keep_wrap=no' cook -s rest.keep_wrap=
offers 'pull=usual' compare --set pull=
offers 'wrap.when=none wrap.when=bark wrap.when=71C wrap.when=159.8F' cook --set wrap.when=
offers 'meat.name=usual' compare --set meat.name=
"$program" --complete cook --set nonsense=x >out && [ ! -s out ] || fail "it offers values of what is no key"
"$program" --complete sweep --vary '' | sed 's/=$//' >keys
sed -n 's/^| `\([a-z_.]*\)` |.*/\1/p' "$root/docs/reference/scenario.md" | cmp -s - keys || fail "it offers other keys than docs/reference/scenario.md has"
# The last value offered, a number in US units where there is one, is one that the key may hold; a scenario may still have no use
# for it.
values=0
while read -r key; do
    value=$("$program" --complete cook --set "$key=" | tail -1)
    [ -n "$value" ] || continue
    values=$((values + 1))
    "$program" cook --set "$value" --print-scenario >out 2>err ||
        ! grep -q 'allowed\|unit\|is not an\|understood\|did you mean' err || fail "$value is offered and refused: $(cat err)"
done <keys
[ "$values" -gt 110 ] || fail "only for $values keys are values offered"

mkdir -p home here/bin; cd here
touch night.yaml other.txt run.h5
ln -sf "$program" bin/stallwright; PATH=$(pwd)/bin:$PATH
in_bash() { # command line
    bash -c '. "$1"; COMP_LINE=$2 COMP_POINT=${#2}; _stallwright; printf "%s\n" "${COMPREPLY[@]}"' - \
        "$root/apps/completions/stallwright.bash" "$1"
}
in_zsh() {
    zsh -f -c '_files() { print -r -- "files $*"; }
        compadd() { while [[ $1 != -- ]]; do shift; done; shift; print -rl -- "$@"; }
        complete_now() { local -a words; words=("${(@s: :)2}"); local CURRENT=$#words; source "$1"; }
        complete_now "$@"' - "$root/apps/completions/_stallwright" "$1"
}
in_fish() {
    HOME=$(pwd)/../home fish --no-config -c "source $root/apps/completions/stallwright.fish; complete -C '$1'"
}
shows() { # shell, expected, command line
    got=$("in_$1" "$3" | sort | tr '\n' ' ')
    [ "$got" = "$2 " ] || fail "in $1, \"$3\" gives $got, not $2"
}
# Bash replaces what stands behind the equals sign alone.
shows bash 'pork-butt pork-picnic' 'stallwright cook --set meat.cut=pork'
for shell in zsh fish; do shows $shell 'meat.cut=pork-butt meat.cut=pork-picnic' 'stallwright cook --set meat.cut=pork'; done
for shell in bash zsh fish; do
    shows $shell 'meat.cut=' 'stallwright cook --set meat.cut'
    shows $shell 'compare cook' 'stallwright co'
    shows $shell '--force --format' 'stallwright cook --fo'
done
shows bash 'bin night.yaml' 'stallwright cook '
shows bash 'run.h5' 'stallwright draw ru'
shows zsh 'files -g *(.yaml)' 'stallwright cook n'
in_fish 'stallwright cook ' | grep -q '^night.yaml' || fail "fish offers no scenario"
echo "completion: $(wc -l <../keys) keys, $values with values, three shells"
