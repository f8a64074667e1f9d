#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Every command that a page of the documentation shows runs, or is named in doc_commands.txt with its reason; what a page shows of
# an answer is what the program answers, but for the numbers; scenarios and lines of Python that pages show are read and run.
set -eu
program=$1 scratch=$2
root=$(cd "$(dirname "$0")/../.." && pwd)
build=$(cd "$(dirname "$program")/.." && pwd)
library=$(ls "$build"/lib*/libstallwright.so "$build"/lib/*/libstallwright.so 2>/dev/null | head -1)
if nm -D "$library" | grep -q __asan; then
    echo "doc_commands: not under the sanitizers, where the apps have tests of their own"
    exit 0
fi
shift 2
exec /usr/bin/python3 "$root/tests/cli/doc_commands.py" "$root" "$program" "$library" "$scratch" "$@"
