#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Builds the fuzz targets with clang and lets each run for some seconds, two at a time: sh tests/fuzz/run.sh [SECONDS [FOLDER]].
# Begins with the shipped scenarios and logs; an input that breaks something is kept in FOLDER and its path printed.
set -eu
seconds=${1:-15}
root=$(cd "$(dirname "$0")/../.." && pwd)
build=${2:-$root/build/fuzz}
mkdir -p "$build"

# -O1: half the time to build, and as fast to run as the sanitizers let it.
CC=clang cmake -S "$root" -B "$build" -DCMAKE_BUILD_TYPE=None -DCMAKE_C_FLAGS="-O1 -Wno-unknown-pragmas" -DSW_FUZZ=ON -DSW_APPS=OFF \
    -DSW_TESTS=OFF >"$build/log" 2>&1 && cmake --build "$build" -j2 >>"$build/log" 2>&1 || { cat "$build/log"; exit 1; }

for target in scenario set csv results log; do
    rm -rf "$build/found/$target" "$build/seeds/$target"
    mkdir -p "$build/found/$target" "$build/seeds/$target"
done
cp "$root"/apps/scenarios/*.yaml "$build/seeds/scenario"
cp "$root"/apps/scenarios/*.csv "$build/seeds/csv"

for log in "$root"/apps/scenarios/*.csv; do printf '0' | cat - "$log" >"$build/seeds/log/$(basename "$log")"; done
printf '1time,flat,pit,events\n22:10,40,250,on\n22:15,45,251,\n04:40,149,252,wrapped paper\n04:50,,250,lid\n' >"$build/seeds/log/events"
printf 'x cm,y cm\n0,0\n20,0\n20,5\n0,5\n0,0\n' >"$build/seeds/csv/outline.csv"
# Every key of the page of keys, with the upper end of its range or the first of its words.
sed -n 's/^| `\([a-z_.]*\)` |[^|]*| *\([^|]*\) |.*/\1=\2/p' "$root/docs/reference/scenario.md" |
    sed 's/=one of \([^,]*\),.*/=\1/; s/=.* to \(.*\)/=\1/' | split -l 1 -a 3 - "$build/seeds/set/key"
grep -o '`[a-zA-Z0-9_.][a-zA-Z0-9_. -]*`' "$root"/docs/reference/scenario.md | tr '`' '"' | sort -u >"$build/words"

# A target's output goes to a file; what it found is printed.
run() { # target, options...
    target=$1; shift
    cd "$build/found/$target"
    if ASAN_OPTIONS=detect_leaks=1:allocator_may_return_null=1 \
        LSAN_OPTIONS="suppressions=$root/tests/support/leaks_of_others.txt:print_suppressions=0" \
        "$build/fuzz/fuzz_$target" -max_total_time="$seconds" -timeout=10 -rss_limit_mb=3000 -print_final_stats=1 \
        -artifact_prefix="$build/found/$target-" "$@" . "$build/seeds/$target" >"$build/$target.log" 2>&1; then
        echo "fuzz: $target: $(sed -n 's/^stat::number_of_executed_units: *//p' "$build/$target.log") inputs, nothing found"
    else
        echo "fuzz: $target: FOUND"
        grep -v '^#\|^INFO' "$build/$target.log" | tail -50
        return 1
    fi
}
pair() { # what to run beside each other
    run "$1" $2 & first=$!
    run "$3" $4 & second=$!
    wait $first || failed=yes
    wait $second || failed=yes
}
failed=no
pair scenario "-dict=$build/words -max_len=20000" set "-dict=$build/words -max_len=400"
pair csv "-max_len=4000" results "-max_len=140"
run log "-max_len=3000" || failed=yes
[ "$failed" = no ]
