#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Every control of the page, wrong values, 200 random scenarios, in a browser; no complaint in its console, no request.
set -eu
exec /usr/bin/python3 "$(dirname "$0")/check_controls.py" "$1"
