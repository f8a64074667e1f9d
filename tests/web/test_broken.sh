#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# A module that traps or gets no memory leaves page and cook as they were, in a browser: in copies of the page that are broken so.
set -eu
exec /usr/bin/python3 "$(dirname "$0")/check_broken.py" "$1" "$4"
