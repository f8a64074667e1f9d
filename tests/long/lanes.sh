#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Right-hand sides and Jacobians by every choice of vector instructions: on this machine, by its wide ones and by those that any
# 64-bit x86 has (the same program under an emulator that has no others), and cross-compiled for 64-bit Arm, emulated too. They
# agree to 1e-12 of the largest number of their kind: sh tests/long/lanes.sh [FOLDER]. Takes a minute. Needs Debian's
# gcc-aarch64-linux-gnu, libc6-dev-arm64-cross and qemu-user; what it printed last is in lanes.txt.
set -eu
root=$(cd "$(dirname "$0")/../.." && pwd)
folder=${1:-$root/build/lanes}
mkdir -p "$folder"
rooms='base properties mesh scenario surroundings meat'
sources=$root/tests/long/print_kernels.c
flags="-std=c11 -O3 -fno-math-errno -fno-trapping-math -ffp-contract=fast -Wno-psabi -D_POSIX_C_SOURCE=200809L -include $root/lib/src/base/allocation.h -I$root/lib/include -I$root/lib/internal"
for room in $rooms; do
    sources="$sources $(ls "$root"/lib/src/$room/*.c)"
    flags="$flags -I$root/lib/src/$room"
done
# shellcheck disable=SC2086
gcc $flags $sources -static -o "$folder/x86" -lm -lpthread
# shellcheck disable=SC2086
aarch64-linux-gnu-gcc $flags $sources -static -o "$folder/arm" -lm -lpthread
"$folder/x86" >"$folder/wide.txt"
qemu-x86_64 -cpu Nehalem "$folder/x86" >"$folder/narrow.txt"
qemu-aarch64 "$folder/arm" >"$folder/arm.txt"
cmp -s "$folder/wide.txt" "$folder/narrow.txt" && { echo "this machine has no wide vector instructions: nothing is compared"; exit 1; }
for other in narrow arm; do
    paste -d' ' "$folder/wide.txt" "$folder/$other.txt" | awk -v name=$other '
        $1 != $3 { print name ": line " NR " is of another kind"; exit failed = 1 }
        { size = $2 < 0 ? -$2 : $2; apart = $2 - $4; if (apart < 0) apart = -apart
          if (size > largest[$1]) largest[$1] = size
          if (apart > most[$1]) most[$1] = apart }
        END { for (kind in largest) {
                  share = most[kind] / largest[kind]
                  if (!(share <= 1e-12)) failed = 1
                  if (share > worst) worst = share }
              if (NR < 1000) failed = 1
              printf "%s: %d numbers, apart by %.1e of the largest of their kind at most%s\n", name, NR, worst, failed ? ": FAILED" : ""
              exit failed }'
done
