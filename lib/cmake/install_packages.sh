#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Installs the Debian packages of the named groups from packages.txt, if any is missing.
# Usage: sh lib/cmake/install_packages.sh build [package] [test]
set -eu
list=$(dirname "$0")/packages.txt
missing=""
for group in "$@"; do
    for package in $(awk -v g="$group" '$1 == g { print $2 }' "$list"); do
        dpkg-query -W -f='${Status}' "$package" 2>/dev/null | grep -q "install ok installed" || missing="$missing $package"
    done
done
if [ -z "$missing" ]; then
    echo "packages: everything needed ($*) is installed"
    exit 0
fi
echo "packages: installing$missing"
as_root=""
if [ "$(id -u)" -ne 0 ]; then
    command -v sudo >/dev/null 2>&1 || { echo "packages: root or sudo is needed to install$missing" >&2; exit 1; }
    as_root="sudo"
fi
$as_root apt-get update -qq
$as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $missing >/dev/null
echo "packages: done"
