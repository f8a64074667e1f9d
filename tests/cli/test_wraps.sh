#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Wraps that are changed, taken off or asked for in vain are told as what they are.
set -eu
program=$1 scratch=$2
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }

# expect TEXT SETTING...: a line of the cook's table or notes holds the text.
expect() {
    text=$1; shift
    arguments=
    for setting in "$@"; do arguments="$arguments --set $setting"; done
    "$program" cook $arguments >said 2>&1 || fail "cook $arguments ends with $?"
    grep -q -- "$text" said || fail "cook $arguments does not say \"$text\""
}

expect 'wrap: paper, then open-tray$' wrap.kind=paper rewrap.when=85C
expect 'wrapped anew (open-tray), probe at 85.0 C' wrap.kind=paper rewrap.when=85C
expect '^The tray keeps' wrap.kind=paper rewrap.when=85C
expect 'wrap: open-tray, then bare$' wrap.kind=open-tray rewrap.kind=none rewrap.when=85C
expect 'wrap taken off, probe at 85.0 C' wrap.kind=open-tray rewrap.kind=none rewrap.when=85C
expect 'juice poured off, probe at 90.0 C' wrap.kind=open-tray wrap.pour=off wrap.pour_when=90C
expect 'juice poured over the meat, probe at 92.0 C' wrap.kind=open-tray wrap.pour=over wrap.pour_when=92C

# A pool that dries up is empty, not less than that.
"$program" cook -q --set wrap.kind=open-tray --set wrap.tray.ring=3 --set wrap.liquid=1kg >said
! grep -q -- '-0.00' said || fail "$(grep -- '-0.00' said)"
