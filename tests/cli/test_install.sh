#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# An installed copy, staged with DESTDIR and then moved, works where it is: the program, also through a link; programs of others
# that find it with CMake and with pkg-config, in C and C++, with the shared and the static library, under the address
# sanitizer; and uninstalling takes away what was installed and nothing else.
set -eu
program=$1 scratch=$2
root=$(cd "$(dirname "$0")/../.." && pwd)
build=$(cd "$(dirname "$program")/.." && pwd)
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
scratch=$(pwd)
fail() { echo "FAILED: $1" >&2; exit 1; }
install_to() { # folder that stands for the root
    DESTDIR=$1 cmake --install "$build" --prefix /opt/first >log 2>&1 || fail "it cannot be installed: $(tail -5 log)"
}

install_to "$scratch/stage"
mkdir "$scratch/elsewhere"
mv "$scratch/stage/opt/first" "$scratch/elsewhere/second"
copy=$scratch/elsewhere/second
libraries=$(dirname "$(find "$copy" -name libstallwright.a)")
for file in bin/stallwright include/stallwright/stallwright.h share/stallwright/scenarios/village_hall_supper.yaml \
    share/stallwright/scenarios/hall_supper_log.csv share/doc/stallwright/LICENSE share/doc/stallwright/README.md \
    share/doc/stallwright/docs/reference/scenario.md share/doc/stallwright/docs/theory/README.md share/man/man1/stallwright.1 \
    share/man/man1/stallwright-cook.1 share/man/man5/stallwright-scenario.5 share/bash-completion/completions/stallwright \
    share/zsh/site-functions/_stallwright share/fish/vendor_completions.d/stallwright.fish share/stallwright/schema/scenario.json share/stallwright/schema/cook.json; do
    [ -s "$copy/$file" ] || fail "$file is not installed"
done
(cd "$root/lib/include/stallwright" && ls) >public
ls "$copy/include/stallwright" | cmp -s - public || fail "other headers are installed than the public ones: $(ls "$copy/include/stallwright")"
version=$("$copy/bin/stallwright" --version | sed -n 's/^stallwright //p')
minor=${version%.*}
[ "$(readelf -d "$libraries/libstallwright.so" | sed -n 's/.*(SONAME).*\[\(.*\)\]$/\1/p')" = "libstallwright.so.$minor" ] ||
    fail "the version $minor is not in the name of the shared library"
[ -e "$libraries/libstallwright.so.$version" ] || fail "the shared library has no file of version $version"
# Nothing installed says where it was built, but for what the sanitizers tell of.
nm -D "$libraries/libstallwright.so" | grep -q __asan || ! grep -rlF "$build" "$copy" >named || fail "the folder of the build is named in $(head -3 named)"

# The program, through a link, and the module that lies beside it.
ln -s "$copy/bin/stallwright" linked
short="--set solver.cells=10 --set pull=1h --set rest.until=none --set hold.until=none --set wrap.kind=none"
LD_DEBUG=files ./linked cook -q $short -o run.h5 >out 2>debug || fail "the moved program fails: $(grep error debug)"
grep -q "file=$copy/.*/stallwright/libstallwright_hdf5.so .*dynamically loaded by" debug || fail "another module for HDF5 was loaded"
./linked cook -q "$copy/share/stallwright/scenarios/village_hall_supper.yaml" $short >out || fail "an installed scenario fails"
for app in $("$program" --help | sed -n '/^Apps:/,/^$/s/^  \([a-z]*\) .*/\1/p'); do
    "$program" "$app" --help | sed -n '/^Examples:/,$p' | grep -o '[^ =>]*\.yaml' | sort -u >names || continue
    while read -r name; do
        [ "$name" = my.yaml ] || fail "the help of $app names $name, which is not installed where it says"
    done <names
done

(cd / && PYTHONDONTWRITEBYTECODE=1 PYTHONPATH=$libraries/stallwright python3 -c 'import stallwright; print(stallwright.version())') >out 2>err || true
nm -D "$libraries/libstallwright.so" | grep -q __asan || grep -qx "$version" out || fail "Python does not find the library: $(tail -1 err)"

# What a sanitized library asks of the programs that use it; others are run under the sanitizer too.
flags=-fsanitize=address
nm -D "$libraries/libstallwright.so" | grep -q __ubsan && flags=-fsanitize=address,undefined
sources="$root/tests/cli/installed/write_results.c $root/docs/example/cook_brisket.c $root/docs/example/study_briskets.c
    $root/docs/example/explain_brisket.c"
run_all() { # folder of programs
    for other in "$1"/cook_brisket* "$1"/study_briskets* "$1"/explain_brisket*; do
        case $other in *.c) continue ;; esac
        "$other" >out 2>err || fail "$other: $(head -20 err)"
        grep -q 'done after [1-9][0-9.]* h' out || fail "$other says nothing of a cook: $(cat out)"
    done
    for other in "$1"/write_results*; do
        case $other in *.c) continue ;; esac
        rm -f other.h5
        "$other" other.h5 >out 2>err || fail "$other: $(head -20 err)"
        grep -q '^rows \([0-9]*\), read back \1$' out || fail "$other reads other rows: $(cat out)"
        [ -s other.h5 ] || fail "$other writes no results"
    done
}
cmake -S "$root/tests/cli/installed" -B cmake -DCMAKE_PREFIX_PATH="$copy" -DSOURCES="$(echo $sources | tr ' ' ';')" -DFLAGS="$flags" >log 2>&1 &&
    cmake --build cmake -j2 >>log 2>&1 || fail "CMake: $(tail -20 log)"
[ "$(ls cmake/write_results_* cmake/*_brisket* | wc -l)" -eq 8 ] || fail "CMake makes other programs: $(ls cmake)"
run_all cmake

mkdir pkg-config
export PKG_CONFIG_PATH="$libraries/pkgconfig"
for source in $sources; do
    name=$(basename "$source" .c)
    cp "$source" "$name.cpp"
    cc -std=c11 $flags "$source" $(pkg-config --cflags --libs stallwright) -Wl,-rpath,"$libraries" -o "pkg-config/$name" ||
        fail "$name does not compile with pkg-config"
    c++ $flags "$name.cpp" $(pkg-config --cflags --libs stallwright-static) -o "pkg-config/${name}_static" ||
        fail "$name does not compile as C++ with pkg-config and the static library"
done
run_all pkg-config
for kind in stallwright stallwright-static; do
    [ "$(pkg-config --modversion $kind)" = "$version" ] || fail "pkg-config knows another version of $kind"
done
[ "$(pkg-config --libs stallwright | wc -w)" -eq 2 ] || fail "others link more than the library: $(pkg-config --libs stallwright)"
pkg-config --print-requires-private stallwright | grep -q libfyaml || fail "what the library itself needs is not told"

install_to "$scratch/gone"
touch gone/opt/first/share/stallwright/mine
DESTDIR=$scratch/gone cmake --build "$build" --target uninstall >log 2>&1 || fail "it cannot be uninstalled: $(tail -5 log)"
[ "$(find gone \( -type f -o -type l \) | wc -l)" -eq 1 ] || fail "left after uninstalling: $(find gone -type f | head)"
[ "$(find gone -name '*stallwright*')" = gone/opt/first/share/stallwright ] || fail "folders left: $(find gone -name '*stallwright*')"
echo "install: found and running where it was moved to"
