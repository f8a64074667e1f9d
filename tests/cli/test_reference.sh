#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Doxygen makes the reference of the library without a warning, and every public function is in it with a sentence of its own or of its
# group; the citation names the version there is; every source says its licence.
set -eu
program=$1 scratch=$2
root=$(cd "$(dirname "$0")/../.." && pwd)
rm -rf "$scratch"; mkdir -p "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }
cd "$root"
version=$("$program" --version | sed -n 's/^stallwright //p')
grep -qx "version: $version" docs/CITATION.cff || fail "docs/CITATION.cff is not of version $version"
{ cat docs/Doxyfile; echo "OUTPUT_DIRECTORY = $scratch"; echo "GENERATE_HTML = NO"; echo "GENERATE_XML = YES"; } >"$scratch/Doxyfile"
doxygen "$scratch/Doxyfile" >"$scratch/log" 2>&1 || fail "doxygen: $(head -20 "$scratch/log")"
[ ! -s "$scratch/log" ] || fail "doxygen says: $(head -20 "$scratch/log")"
cat lib/include/stallwright/*.h | grep -o '^SW_API .*' | grep -o '\bsw_[a-z0-9_]*(' | tr -d '(' | sort -u >"$scratch/functions"
[ "$(wc -l <"$scratch/functions")" -gt 40 ] || fail "only $(wc -l <"$scratch/functions") public functions were found"
while read -r name; do
    grep -q "<name>$name</name>" "$scratch"/xml/*.xml || fail "$name is not in the reference"
done <"$scratch/functions"
echo "reference: $(wc -l <"$scratch/functions") functions, no warnings"
