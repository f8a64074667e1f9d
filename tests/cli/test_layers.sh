#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# A source file includes only its own layer or room or a lower one, outside libraries stay behind the files meant for them, no
# file or room has grown too long, and each header of the library compiles alone, the public ones without the others. Looks at the source tree only. $2: scratch folder.
set -eu
root=$(cd "$(dirname "$0")/../.." && pwd)
scratch=${2:-$(mktemp -d)}
mkdir -p "$scratch"
failed=no

# All include lines as "file:header"; the private headers of the library.
cd "$root"
grep -H '^[[:space:]]*#[[:space:]]*include' lib/src/*/*.[ch] $(find apps -name '*.[ch]') |
    sed 's/:[[:space:]]*#[[:space:]]*include[[:space:]]*[<"]\([^>"]*\)[>"].*/:\1/' >"$scratch/includes"
ls lib/src/*/*.h >"$scratch/headers"
find apps -name '*.h' >"$scratch/app_headers"

awk -F: -v headers="$scratch/headers" -v app_headers="$scratch/app_headers" '
function complain(text) { print "test_layers: " text; bad = 1 }
# The folder below apps; of a file at the top its name, so that an app and its own folder are called alike.
function room_of(path,   part, n) {
    n = split(path, part, "/")
    sub(/\.[ch]$/, "", part[n])
    return part[2]  (n == 2 ? "" : "/")
}
function rank_of_room(room) {
    return room !~ /\/$/ ? TOP : (substr(room, 1, length(room) - 1) in room_rank) ? room_rank[substr(room, 1, length(room) - 1)] : OWN
}
function check_rooms(file, header, from, to) {
    app_checked++
    if (from == to || from == "web/") return # the page that computes stands above all apps
    if (rank_of_room(to) >= rank_of_room(from) && to != "apps") # apps.h is for the files at the top
        complain(file " includes \"" header "\" of " to ", which is not below " from)
    else if (rank_of_room(to) == OWN && to != from "/")
        complain(file " includes \"" header "\", which serves another app")
    else if (to == "apps" && rank_of_room(from) != TOP)
        complain(file " includes \"" header "\", which is for the files at the top of apps")
}
function public_layer(header) {
    if (header == "stallwright.h" || header == "everything.h" || header == "study_file.h") return "study_files" # the first two: all
    if (header == "results_file.h" || header == "track_file.h") return "results"
    if (header == "scenario_file.h" || header == "files.h") return "io"
    return header in of_public ? of_public[header] : ""
}
BEGIN {
    rank["base"] = 0; rank["properties"] = 1; rank["mesh"] = 2
    rank["scenario"] = 3; rank["surroundings"] = 4; rank["transport"] = 4.5; rank["meat"] = 5; rank["solver"] = 6; rank["cook"] = 7
    rank["outcome"] = 8; rank["study"] = 9; rank["analysis"] = 10; rank["planning"] = 10.3; rank["handles"] = 10.5; rank["tracking"] = 11; rank["text"] = 12; rank["io"] = 13; rank["log"] = 14; rank["hdf5"] = 15; rank["results"] = 16; rank["study_files"] = 17
    of_public["version.h"] = of_public["export.h"] = of_public["status.h"] = of_public["context.h"] = of_public["memory.h"] = of_public["quantity.h"] = "base"
    of_public["moist_air.h"] = of_public["composition.h"] = of_public["kinetics.h"] = "properties"
    # A scenario is a plain value that every layer from the mesh up may read.
    of_public["scenario.h"] = "mesh"; of_public["wrap_traits.h"] = of_public["cut_traits.h"] = of_public["scenario_keys.h"] = "scenario"; of_public["text.h"] = of_public["part_file.h"] = "text"
    of_public["cook.h"] = "cook"; of_public["outcome.h"] = of_public["safety.h"] = "outcome"; of_public["study.h"] = "study"
    of_public["run.h"] = of_public["heat_budget.h"] = of_public["plateau.h"] = of_public["explanation.h"] = "analysis"
    of_public["cook_grid.h"] = of_public["uncertain_input.h"] = of_public["sensitivity.h"] = of_public["ranking.h"] = of_public["population.h"] = of_public["band.h"] = of_public["side_by_side.h"] = "analysis"
    of_public["plan.h"] = of_public["plan_pieces.h"] = "planning"
    of_public["track.h"] = "tracking"; of_public["cook_log.h"] = "log"
    of_public["handles.h"] = of_public["setup_scenario.h"] = "handles"
    # Rooms of the apps, from the lowest; any other folder serves the one app of its name, whose file stands above it.
    room_rank["words"] = 0; room_rank["command"] = 1; room_rank["table"] = 2; room_rank["data"] = 3
    room_rank["plot"] = 4; room_rank["page"] = 5; room_rank["schema"] = 6
    OWN = 7; TOP = 8
    while ((getline path < headers) > 0) { n = split(path, part, "/"); private[part[n]] = part[n - 1] }
    while ((getline path < app_headers) > 0) { n = split(path, part, "/"); of_app[part[n]] = room_of(path) }
    io_library = "^(hdf5|hdf5_hl|H5[A-Za-z]*|libfyaml|udunits2?)\\.h$"
    sundials = "^(cvodes?|idas?|arkode|kinsol|nvector|sundials|sunmatrix|sunlinsol|sunnonlinsol)/"
    integration = "^lib/src/solver/"
}
{
    file = $1; header = $2; name = header; sub(/.*\//, "", name)
    split(file, part, "/")
    in_library = part[1] == "lib"; layer = part[3]
}
in_library && !(layer in rank) { complain(file ": no known layer"); next }
in_library { checked++ }
header ~ /^stallwright\// {
    of = public_layer(name)
    if (of == "") complain(file " includes <" header ">, whose layer this test does not know")
    else if (in_library && rank[of] > rank[layer]) complain(file " includes <" header "> of the higher layer " of)
    next
}
header ~ io_library {
    only = header == "libfyaml.h" ? "lib/src/io/yaml_document" : header ~ /^udunits/ ? "lib/src/text/units" : "lib/src/hdf5/"
    if (index(file, only) != 1) complain(file " includes <" header ">; only " only " may")
    next
}
header ~ sundials {
    if (file !~ integration) complain(file " includes <" header ">; only lib/src/solver may")
    next
}
header == "zlib.h" {
    if (file != "lib/src/text/checksum.c") complain(file " includes <" header ">; only lib/src/text/checksum.c may")
    next
}
header ~ /^plplot/ {
    if (file != "apps/plot/plot_canvas.c") complain(file " includes <" header ">; only apps/plot/plot_canvas.c may")
    next
}
header ~ /^libical/ {
    if (file != "apps/plan/calendar_file.c") complain(file " includes <" header ">; only apps/plan/calendar_file.c may")
    next
}
header == "cminpack.h" {
    if (file != "lib/src/tracking/least_squares.c") complain(file " includes <" header ">; only lib/src/tracking/least_squares.c may")
    next
}
header ~ /^libqhull/ {
    if (file != "lib/src/mesh/delaunay.c") complain(file " includes <" header ">; only lib/src/mesh/delaunay.c may")
    next
}
header == "mpi.h" {
    if (file != "apps/command/ranks.c") complain(file " includes <" header ">; only apps/command/ranks.c may")
    next
}
header == "pthread.h" { next } # of the system; apps/web/alone has one for a machine without threads
!in_library && name in of_app { check_rooms(file, header, room_of(file), of_app[name]); next }
name in private {
    if (in_library && rank[private[name]] > rank[layer])
        complain(file " includes \"" header "\" of the higher layer " private[name])
    if (in_library && layer == "solver" && private[name] ~ /^(properties|scenario|surroundings|transport|meat)$/)
        complain(file " includes \"" header "\": the solver knows blocks, not meat")
    if (!in_library) complain(file " includes \"" header "\", a private header of the library")
}
END {
    if (checked < 100) complain("only " checked " include lines were found in lib/src")
    if (app_checked < 150) complain("only " app_checked + 0 " include lines between the apps were found")
    if (!bad) print "test_layers: " checked " include lines keep to their layers, " app_checked " to their rooms"
    exit bad
}' "$scratch/includes" || failed=yes

# Lines of each file and of each room of the library or the apps, against what one reads at a sitting and knows by heart.
wc -l lib/include/stallwright/*.h lib/internal/stallwright/*.h lib/src/*/*.[ch] $(find apps -name '*.[ch]') | awk '
function complain(text) { print "test_layers: " text; bad = 1 }
BEGIN {
    FILE_MAX = 600; ROOM_MAX = 2500
    # A longer file or room: reason["lib/src/ROOM"] = "why it is one".
}
$2 == "total" { next }
{
    room = $2
    sub(/\/[^\/]*$/, "", room)
    lines[room] += $1
    files++
    if ($1 > FILE_MAX && !($2 in reason)) complain($2 " has " $1 " lines; " FILE_MAX " are allowed without a reason in this test")
}
END {
    for (room in lines)
        if (lines[room] > ROOM_MAX && room !~ /^(apps|lib\/(include|internal)\/stallwright)$/ && !(room in reason))
            complain(room " has " lines[room] " lines; " ROOM_MAX " are allowed without a reason in this test")
    for (name in reason)
        if (lines[name] <= ROOM_MAX && name in lines) complain("the reason for the length of " name " is no longer needed")
    if (files < 200) complain("only " files + 0 " files were counted")
    exit bad
}' || failed=yes

# Each header alone: C11, and C++ where there is a compiler for it. Public ones, in lib/include, do without lib/internal.
for header in lib/include/stallwright/*.h lib/internal/stallwright/*.h; do
    name=stallwright/${header##*/}
    folders="-I lib/include"
    case $header in lib/internal/*) folders="$folders -I lib/internal" ;; esac
    printf '#include <%s>\nextern int alone;\n' "$name" >"$scratch/alone.c"
    cp "$scratch/alone.c" "$scratch/alone.cpp"
    if ! ${CC:-cc} -std=c11 -pedantic -Wall -Wextra -Werror -fsyntax-only $folders "$scratch/alone.c"; then
        echo "test_layers: <$name> does not compile alone as C11; one that needs sw_scenario belongs into lib/internal/stallwright"
        failed=yes
    fi
    command -v "${CXX:-c++}" >/dev/null 2>&1 || continue
    if ! ${CXX:-c++} -std=c++11 -Wall -Wextra -Werror -fsyntax-only $folders "$scratch/alone.cpp"; then
        echo "test_layers: <$name> does not compile alone as C++"
        failed=yes
    fi
done
# What others see has handles alone: no struct but the allocator they fill is laid out, so that their programs depend on no field.
if grep -n 'struct[^;]*{' lib/include/stallwright/*.h | grep -v 'struct sw_allocator {'; then
    echo "test_layers: a public header shows the fields of a struct"
    failed=yes
fi
[ $failed = no ]
