#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# The shared library lets others call what is listed, no more and no less, and each of it is declared in a header.
set -eu
program=$1 scratch=$2
root=$(cd "$(dirname "$0")/../.." && pwd)
build=$(cd "$(dirname "$program")/.." && pwd)
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
sh "$root/lib/cmake/exported_symbols.sh" "$build" >now
if ! diff "$root/lib/cmake/exported_symbols.txt" now >changed; then
    echo "FAILED: what the library exports has changed (< is gone, > is new):" >&2
    grep '^[<>]' changed >&2
    echo "If that is meant, write a line in docs/changes.md and run, from the top of the sources," >&2
    echo "    sh lib/cmake/exported_symbols.sh build >lib/cmake/exported_symbols.txt" >&2
    exit 1
fi
[ "$(wc -l <now)" -gt 100 ] || { echo "FAILED: only $(wc -l <now) symbols are exported" >&2; exit 1; }
cat "$root"/lib/include/stallwright/*.h "$root"/lib/internal/stallwright/*.h | grep -o '\bsw_[a-z0-9_]*(' | tr -d '(' | LC_ALL=C sort -u >declared
LC_ALL=C comm -23 now declared >hidden
[ ! -s hidden ] || { echo "FAILED: exported, but in no header: $(cat hidden)" >&2; exit 1; }
echo "symbols: $(wc -l <now), all listed and declared"
