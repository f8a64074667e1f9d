#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# No program or module, built or installed, looks for libraries in the folder it happens to run in.
set -eu
program=$1 scratch=$2
build=$(cd "$(dirname "$program")/.." && pwd)
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }
absolute_paths() { # file: each entry of its run path begins at the root or at the file's own folder
    readelf -d "$1" 2>/dev/null | sed -n 's/.*(\(RPATH\|RUNPATH\)).*\[\(.*\)\]$/\2/p' | sed 's|\$ORIGIN/|/|g' >paths
    grep -Eq '^:|::|:$|^$|(^|:)[^/:]' paths && fail "$1 looks for libraries in \"$(cat paths)\"" || return 0
}
libraries_of() { # folder: its programs and modules
    find "$1" \( -path "$build/tests/scratch" -o -name CMakeFiles \) -prune -o \
        -type f \( -perm -u+x -o -name '*.so*' \) -print >found
    while read -r file; do
        if readelf -h "$file" >/dev/null 2>&1; then echo "$file"; fi
    done <found
}

cmake --install "$build" --prefix "$scratch/installed" >log 2>&1 || fail "it cannot be installed: $(cat log)"
for folder in "$build" "$scratch/installed"; do
    libraries_of "$folder" >files
    grep -q '/stallwright$' files && grep -q 'stallwright_hdf5' files || fail "program or module is missing in $folder"
    while read -r file; do absolute_paths "$file"; done <files
done

# A library of a wanted name that lies in the current folder is left alone.
mkdir decoy; cd decoy
echo '__attribute__((constructor)) static void run(void) { extern int puts(const char *); puts("DECOY"); }' >decoy.c
cc -shared -fPIC -o decoy.so decoy.c
for file in "$program" "$build"/lib*/stallwright/*.so; do
    readelf -d "$file" | sed -n 's/.*(NEEDED).*\[\(.*\)\]$/\1/p'
done | sort -u | grep -v '^libc\.so' >wanted
[ -s wanted ] || fail "the program wants no library"
while read -r name; do cp decoy.so "$name"; done <wanted
"$program" cook -q -o run.h5 --set solver.cells=10 --set pull=1h --set rest.until=none --set hold.until=none \
    --set wrap.kind=none >out 2>&1 || fail "it does not run beside decoys: $(cat out)"
if grep -q DECOY out; then fail "a library of the current folder was loaded"; fi
echo "libraries: from where they belong"
