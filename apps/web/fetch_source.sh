#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Fetches and unpacks what Debian has of the original source of a package, without patches for packaging: sh apps/web/fetch_source.sh PACKAGE FOLDER
# Asks where the machine's own packages come from, through lists of its own below the folder: nothing of the machine's apt changes.
set -eu
package=$1
mkdir -p "$2"
folder=$(cd "$2" && pwd)
[ -e "$folder/$package/.complete" ] && exit 0
apt=$folder/apt-$package
rm -rf "${folder:?}/$package" "$apt"
mkdir -p "$apt/sources" "$apt/lists/partial" "$apt/archives/partial"

# The machine's sources, of packages turned into those of their sources.
for list in /etc/apt/sources.list.d/*.sources; do
    [ -e "$list" ] && sed 's/^Types:.*/Types: deb-src/' "$list" >"$apt/sources/$(basename "$list")"
done
for list in /etc/apt/sources.list /etc/apt/sources.list.d/*.list; do
    [ -e "$list" ] && sed -n 's/^deb[[:space:]]/deb-src /p' "$list" >"$apt/sources/$(basename "$list" .list).list"
done

own="-o Dir::Etc::SourceList=/dev/null -o Dir::Etc::SourceParts=$apt/sources -o Dir::State::Lists=$apt/lists
    -o Dir::Cache::Archives=$apt/archives -o Dir::Cache::srcpkgcache= -o Dir::Cache::pkgcache= -o APT::Sandbox::User="
cd "$apt"
# $own is several words.
apt-get $own -qq update || echo "web: not every list of source packages could be fetched; going on with the others" >&2
apt-get $own -qq --download-only --tar-only source "$package" >"$apt/log" 2>&1 ||
    { cat "$apt/log" >&2; echo "web: the Debian source package $package could not be fetched" >&2; exit 1; }
mkdir "$folder/$package"
tar -xf ./*.orig.tar.* -C "$folder/$package" --strip-components=1 ||
    { echo "web: the Debian source package $package could not be unpacked" >&2; exit 1; }
touch "$folder/$package/.complete"
rm -rf "$apt"
