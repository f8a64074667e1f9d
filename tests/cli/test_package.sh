#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Debian packages of this build: what they hold and need, no error that lintian knows, and installed into a root of their own,
# run there and removed without a trace. What the machine does not allow is told and left out.
set -eu
program=$1 scratch=$2
root=$(cd "$(dirname "$0")/../.." && pwd)
build=$(cd "$(dirname "$program")/.." && pwd)
if nm -D "$program" | grep -q __asan; then
    echo "package: not under the sanitizers, of which nobody makes packages"
    exit 0
fi
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
scratch=$(pwd)
fail() { echo "FAILED: $1" >&2; exit 1; }
version=$("$program" --version | sed -n 's/^stallwright //p')
grep -q "^stallwright ($version) " "$root/lib/cmake/debian/changelog" || fail "the changelog of the packages is not of version $version"
# Kept from one run to the next would be slower to read than to make: the least compression does for a test.
cpack -G DEB --config "$build/CPackConfig.cmake" -B "$scratch/packages" -D CPACK_DEBIAN_COMPRESSION_TYPE=gzip >log 2>&1 || fail "cpack: $(tail -5 log)"
architecture=$(dpkg --print-architecture)
main=packages/stallwright_${version}_$architecture.deb develop=packages/libstallwright-dev_${version}_$architecture.deb
[ -s "$main" ] && [ -s "$develop" ] || fail "packages are missing: $(ls packages)"

field() { dpkg-deb --field "$1" "$2"; }
for needed in plplot-driver-cairo fonts-dejavu-core libsundials-cvodes libhdf5 libudunits2 libfyaml libjansson libplplot libical libc6; do
    field "$main" Depends | grep -q "$needed" || fail "the program does not ask for $needed: $(field "$main" Depends)"
done
for needed in "stallwright (= $version)" libsundials-dev libfyaml-dev libudunits2-dev libcminpack-dev zlib1g-dev; do
    field "$develop" Depends | grep -qF "$needed" || fail "the library does not ask for $needed"
done
for package in "$main" "$develop"; do
    dpkg-deb --contents "$package" | awk '{ print $6 }' >"$(basename "$package").list"
done
holds() { grep -q "^\./$2$" "$(basename "$1").list" || fail "$1 has no $2"; }
for file in usr/bin/stallwright usr/share/man/man1/stallwright-cook.1.gz usr/share/man/man5/stallwright-scenario.5.gz \
    usr/share/doc/stallwright/copyright usr/share/doc/stallwright/changelog.gz usr/share/stallwright/schema/scenario.json "usr/.*/libstallwright\.so\.${version%.*}"; do
    holds "$main" "$file"
done
for file in usr/include/stallwright/handles.h "usr/.*/libstallwright\.a" "usr/.*/libstallwright\.so" "usr/.*/pkgconfig/stallwright\.pc" \
    usr/share/doc/libstallwright-dev/copyright usr/share/doc/libstallwright-dev/changelog.gz; do
    holds "$develop" "$file"
done
if command -v lintian >/dev/null; then
    lintian --allow-root --fail-on error "$main" "$develop" >lint 2>&1 || fail "lintian: $(grep '^E' lint)"
else
    echo "skipped: lintian is not installed"
fi

if [ "$(id -u)" -ne 0 ]; then
    echo "skipped: only root installs packages"
    exit 0
fi
mkdir -p rootfs/var/lib/dpkg/info rootfs/var/lib/dpkg/updates rootfs/var/lib/dpkg/triggers
: >rootfs/var/lib/dpkg/status
# What the packages ask for is not in that root; the machine's own libraries serve, since the tests need them.
in_root() { dpkg --root="$scratch/rootfs" --force-script-chrootless --force-depends --no-triggers "$@" >dpkg.log 2>&1; }
in_root --install "$main" "$develop" || fail "they cannot be installed: $(tail -5 dpkg.log)"
installed=rootfs/usr/bin/stallwright
! readelf -S "$installed" | grep -q '\.symtab' || fail "the program is not stripped"
# What ldconfig would tell programs of a real root: packages have no run path (lintian), and a build may be with the shared library.
run() { LD_LIBRARY_PATH=$(dirname "$(find "$scratch/rootfs" -name 'libstallwright.so.*.*.*')") "$@"; }
short="-q --set solver.cells=10 --set pull=1h --set rest.until=none --set hold.until=none --set wrap.kind=none"
run "$installed" cook $short -o run.h5 --plot run.svg >out || fail "the installed program does not cook"
run "$installed" cook $short rootfs/usr/share/stallwright/scenarios/village_hall_supper.yaml >out || fail "an installed scenario fails"
PKG_CONFIG_SYSROOT_DIR= PKG_CONFIG_PATH=$(dirname "$(find "$scratch/rootfs" -name stallwright.pc)")
export PKG_CONFIG_PATH
cc "$root/docs/example/cook_brisket.c" $(pkg-config --cflags --libs stallwright) -o cook_brisket || fail "nothing can be built against it"
run ./cook_brisket | grep -q 'done after' || fail "a program of others does not run"
in_root --purge libstallwright-dev stallwright || fail "they cannot be removed: $(tail -5 dpkg.log)"
left=$(find rootfs/usr -name '*stallwright*' 2>/dev/null | head -3)
[ -z "$left" ] || fail "left after removing: $left"
echo "package: installed, run and removed"
