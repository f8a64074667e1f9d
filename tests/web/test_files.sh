#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Scenario files and logs are read and written on the page as by the program: in a browser. Its units are those of UDUNITS.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
/usr/bin/python3 "$here/check_units.py" "$here/../../apps/web/alone" "$(dirname "$1")/web/module/unit_table.c" "$4"
exec /usr/bin/python3 "$here/check_files.py" "$1" "$2" "$4"
