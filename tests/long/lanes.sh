#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Right-hand sides, Jacobians and the moments of cooks by every choice of vector instructions: on this machine, by its wide ones and by
# those that any 64-bit x86 has (the same program under an emulator that has no others), and cross-compiled for 64-bit Arm, emulated
# too. Right-hand sides and Jacobians agree to 1e-12 of the largest number of their kind; wrap, stall and done time to a tenth of
# what the tolerance allows (print_events.c): sh tests/long/lanes.sh [FOLDER [ARM]]. Takes some minutes. Needs Debian's
# gcc-aarch64-linux-gnu, libc6-dev-arm64-cross and qemu-user; cooks on Arm need ARM too, a folder with the libsundials_*.a of
# libsundials-dev for arm64, and are left out without. What it printed last is in lanes.txt.
set -eu
root=$(cd "$(dirname "$0")/../.." && pwd)
folder=${1:-$root/build/lanes}
mkdir -p "$folder"
arm_libraries=${2:-}
failed=no

# build PROGRAM SOURCE LIBRARIES ROOMS COMPILER...
build() {
    program=$1
    sources=$2
    libraries=$3
    rooms=$4
    shift 4
    flags="-std=c11 -O3 -fno-math-errno -fno-trapping-math -ffp-contract=fast -Wno-psabi -D_POSIX_C_SOURCE=200809L -include $root/lib/src/base/allocation.h -I$root/lib/include -I$root/lib/internal"
    for room in $rooms; do
        sources="$sources $(ls "$root"/lib/src/$room/*.c)"
        flags="$flags -I$root/lib/src/$room"
    done
    # shellcheck disable=SC2086
    "$@" $flags $sources -static -o "$program" $libraries -lm -lpthread
}

of_kernels='base properties mesh scenario surroundings transport meat'
of_cooks="$of_kernels solver cook outcome"
build "$folder/x86" "$root/tests/long/print_kernels.c" '' "$of_kernels" gcc
build "$folder/arm" "$root/tests/long/print_kernels.c" '' "$of_kernels" aarch64-linux-gnu-gcc
build "$folder/cooks_x86" "$root/tests/long/print_events.c" '-lsundials_cvodes -lsundials_nvecserial' "$of_cooks" gcc
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
              exit failed }' || failed=yes
done

# compare_cooks NAME: those of another machine beside those of this one, event by event.
compare_cooks() {
    paste -d' ' "$folder/cooks_wide.txt" "$folder/cooks_$1.txt" | awk -v name="$1" '
        $1 != $4 { print name ": line " NR " is of another event"; exit failed = 1 }
        { apart = $2 - $5; if (apart < 0) apart = -apart
          share = apart / $3
          if (!(share <= 0.1)) { failed = 1; print name ": " $1 " differs by " apart " s, and the tolerance allows " $3 " s" }
          if (share > worst) worst = share
          if (apart > most) most = apart }
        END { if (NR < 10) failed = 1
              printf "%s: %d moments of cooks, apart by %.1e s at most, %.1e of what the tolerance allows%s\n", name, NR, most, worst, failed ? ": FAILED" : ""
              exit failed }'
}
"$folder/cooks_x86" >"$folder/cooks_wide.txt"
qemu-x86_64 -cpu Nehalem "$folder/cooks_x86" >"$folder/cooks_narrow.txt"
compare_cooks narrow || failed=yes
if [ -n "$arm_libraries" ]; then
    build "$folder/cooks_arm" "$root/tests/long/print_events.c" "-L$arm_libraries -lsundials_cvodes -lsundials_nvecserial" "$of_cooks" aarch64-linux-gnu-gcc -I/usr/include
    qemu-aarch64 "$folder/cooks_arm" >"$folder/cooks_arm.txt"
    compare_cooks arm || failed=yes
else
    echo "arm: cooks left out, no SUNDIALS for it was given"
fi
# The comparison can fail: a cook of ten times the tolerance is no longer the same.
"$folder/cooks_x86" 10 >"$folder/cooks_looser.txt"
compare_cooks looser >"$folder/looser.txt" && { echo "a looser tolerance is not noticed"; failed=yes; }
[ $failed = no ]
