#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# A cook from planning to slicing on the page, in a browser: the plan, the calendar, readings, events, what is kept. The calendar is
# read by libical.
set -eu
exec /usr/bin/python3 "$(dirname "$0")/check_cook.py" "$1" "$2" "$(dirname "$2")/../tests/read_calendar" "$4"
