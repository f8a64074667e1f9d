#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Some rounds of tests/long/kill_sweeps.py, which is meant for hundreds.
set -eu
program=$1 scratch=$2
here=$(cd "$(dirname "$0")" && pwd)
rm -rf "$scratch"; mkdir -p "$scratch"
exec /usr/bin/python3 "$here/../long/kill_sweeps.py" "$program" "$scratch" 8 2
