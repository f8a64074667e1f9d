#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Prints what the shared library of a build lets others call, one name a line: sh lib/cmake/exported_symbols.sh build.
# exported_symbols.txt is what it printed when that was last meant to change; a test compares the two.
set -eu
library=$(ls "$1"/lib*/libstallwright.so "$1"/lib/*/libstallwright.so 2>/dev/null | head -1)
[ -n "$library" ] || { echo "exported_symbols: no shared library below $1" >&2; exit 1; }
# Those of the sanitizers are in a build with them.
nm -D --defined-only "$library" | awk '$3 !~ /^__/ { print $3 }' | LC_ALL=C sort
