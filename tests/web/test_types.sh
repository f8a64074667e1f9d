#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# The types that the page's scripts state in comments hold, and the page is small, whole and asks for nothing. $1: page, $3: what npm
# brought, $4: a scratch folder.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
fail() { echo "FAILED: $1" >&2; exit 1; }
node "$3/node_modules/typescript/bin/tsc" --noEmit --allowJs --checkJs --strict --noUnusedLocals --target es2022 --lib es2022,dom,dom.iterable \
    "$here/page_globals.d.ts" "$here"/../../apps/web/*.js || fail "types"
for file in "$here"/../../apps/web/*.js; do
    head -2 "$file" | grep -q '@ts-check' || fail "$file states no types"
done
size=$(wc -c <"$1")
[ "$size" -lt 1500000 ] || fail "the page has $size bytes"
grep -q "connect-src 'none'" "$1" || fail "no policy"
if grep -qE '(src|href)="(https?:)?//' "$1"; then fail "the page asks for something"; fi
# Valid HTML: tidy drops what is empty until it is filled, and does not know inputmode of HTML 5.1.
mkdir -p "$4"
tidy -q -e "$1" 2>"$4/complaints" || true
if grep -v 'trimming empty\|"inputmode"' "$4/complaints" >&2; then fail "tidy"; fi
echo "types hold; the page has $size bytes"
