#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# The page can be used by everyone: axe-core finds no violation, at three widths; $3: what npm brought, $4: folder for pictures.
set -eu
exec /usr/bin/python3 "$(dirname "$0")/check_everyone.py" "$1" "$3/node_modules/axe-core/axe.min.js" "$4"
