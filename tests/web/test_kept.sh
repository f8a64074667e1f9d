#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# What the page keeps: several cooks, the pit, over reloads, in two tabs, without storage, over midnight, zones and summer time.
set -eu
exec /usr/bin/python3 "$(dirname "$0")/check_kept.py" "$1" "$2" "$4"
