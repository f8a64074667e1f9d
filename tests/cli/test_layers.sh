#!/bin/sh
# A source file includes only its own layer or a lower one, outside libraries stay behind the files meant for them, and each
# public header compiles alone. Runs on the source tree; takes no notice of the program. $2: scratch folder.
set -eu
root=$(cd "$(dirname "$0")/../.." && pwd)
scratch=${2:-$(mktemp -d)}
mkdir -p "$scratch"
failures=0

fail() {
    echo "test_layers: $1" >&2
    failures=$((failures + 1))
}

rank() {
    case $1 in
    base) echo 0 ;; properties) echo 1 ;; mesh | boundary) echo 2 ;; cook) echo 3 ;; outcome | study) echo 4 ;; io) echo 5 ;;
    *) echo "" ;;
    esac
}

# Layer of a public header, by what it describes.
public_layer() {
    case $1 in
    stallwright.h) echo io ;; # all of it
    version.h | export.h | status.h | context.h) echo base ;;
    moist_air.h | composition.h) echo properties ;;
    # A scenario is a plain value that every layer from the mesh up may read.
    scenario.h) echo mesh ;;
    cook.h) echo cook ;;
    outcome.h | study.h) echo outcome ;;
    *_file.h) echo io ;;
    *) echo "" ;;
    esac
}

includes() {
    sed -n 's/^[[:space:]]*#[[:space:]]*include[[:space:]]*[<"]\([^>"]*\)[>"].*/\1/p' "$1"
}

checked=0
for file in "$root"/lib/src/*/*.[ch]; do
    layer=$(basename "$(dirname "$file")")
    own=$(rank "$layer")
    name=$layer/$(basename "$file")
    [ -n "$own" ] || { fail "lib/src/$layer is no known layer"; continue; }
    for header in $(includes "$file"); do
        checked=$((checked + 1))
        case $header in
        stallwright/*)
            of=$(public_layer "${header#stallwright/}")
            [ -n "$of" ] || { fail "$name includes <$header>, whose layer this test does not know"; continue; }
            [ "$(rank "$of")" -le "$own" ] || fail "$name includes <$header>, which belongs to the layer $of"
            ;;
        hdf5.h | hdf5_hl.h | H5*.h | libfyaml.h | udunits2.h | udunits.h)
            [ "$layer" = io ] || fail "$name includes <$header>; only lib/src/io may"
            ;;
        cvode*/* | ida*/* | arkode/* | kinsol/* | nvector/* | sundials/* | sunmatrix/* | sunlinsol/* | sunnonlinsol/*)
            case $name in
            cook/integrator.[ch] | cook/block_tridiagonal.[ch] | cook/sparse_jacobian.[ch]) ;;
            *) fail "$name includes <$header>; only the integrator and its matrices may" ;;
            esac
            ;;
        *)
            found=$(find "$root/lib/src" -name "$(basename "$header")")
            [ -n "$found" ] || continue # the C library's
            of=$(basename "$(dirname "$found")")
            [ "$(rank "$of")" -le "$own" ] || fail "$name includes \"$header\", which belongs to the layer $of"
            ;;
        esac
    done
done
[ "$checked" -gt 100 ] || fail "only $checked include lines were found in lib/src"

# Apps see the public interface, each other, and no outside library of the library's.
for file in $(find "$root/apps" -name '*.[ch]' 2>/dev/null); do
    for header in $(includes "$file"); do
        case $header in
        hdf5*.h | H5*.h | libfyaml.h | udunits*.h | cvode*/* | nvector/* | sundials/* | sunmatrix/* | sunlinsol/*)
            fail "${file#"$root"/} includes <$header>; apps go through the library"
            ;;
        stallwright/*) ;;
        *)
            if [ -n "$(find "$root/lib/src" -name "$(basename "$header")")" ] &&
                [ -z "$(find "$root/apps" -name "$(basename "$header")")" ]; then
                fail "${file#"$root"/} includes \"$header\", a private header of the library"
            fi
            ;;
        esac
    done
done

# Each public header alone: C11, and C++ where there is a compiler for it.
for header in "$root"/lib/include/stallwright/*.h; do
    name=stallwright/$(basename "$header")
    printf '#include <%s>\nextern int alone;\n' "$name" >"$scratch/alone.c"
    ${CC:-cc} -std=c11 -pedantic -Wall -Wextra -Werror -fsyntax-only -I "$root/lib/include" "$scratch/alone.c" ||
        fail "<$name> does not compile alone as C11"
    if command -v "${CXX:-c++}" >/dev/null 2>&1; then
        cp "$scratch/alone.c" "$scratch/alone.cpp"
        ${CXX:-c++} -std=c++11 -Wall -Wextra -Werror -fsyntax-only -I "$root/lib/include" "$scratch/alone.cpp" ||
            fail "<$name> does not compile alone as C++"
    fi
done

[ "$failures" -eq 0 ] || { echo "test_layers: $failures failures" >&2; exit 1; }
echo "test_layers: $checked include lines keep to their layers"
