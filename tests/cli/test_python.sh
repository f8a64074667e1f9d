#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# The Python binding gives the figures of the program, to the bit, and finds the library of the folder it is installed in.
set -eu
program=$1 scratch=$2
root=$(cd "$(dirname "$0")/../.." && pwd)
build=$(cd "$(dirname "$program")/.." && pwd)
library=$(ls "$build"/lib*/libstallwright.so "$build"/lib/*/libstallwright.so 2>/dev/null | head -1)
if nm -D "$library" | grep -q __asan; then
    echo "python: not under the sanitizers, which the interpreter is built without"
    exit 0
fi
rm -rf "$scratch"; mkdir -p "$scratch/lib/stallwright"; cd "$scratch"
PYTHONDONTWRITEBYTECODE=1; export PYTHONDONTWRITEBYTECODE
# As an installed copy lies: the binding a folder below the library.
cp "$root/lib/bindings/stallwright.py" lib/stallwright/
soname=$(readelf -d "$library" | sed -n 's/.*(SONAME).*\[\(.*\)\]$/\1/p')
ln -s "$library" "lib/$soname"
PYTHONPATH=lib/stallwright python3 "$root/tests/cli/check_python.py" "$program"
