#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# The page computes what the program does, to the digits: in a browser, 30 scenarios.
set -eu
exec /usr/bin/python3 "$(dirname "$0")/check_same_numbers.py" "$1" "$2"
