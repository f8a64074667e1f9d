#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Names of files: "-" is none, a pipe or device is not waited for, nothing in a name reaches a terminal as a command, and what
# a killed run has left does not stand in the way of the next.
set -eu
program=$1 scratch=$2
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }
# Nothing here waits for anybody; the limit ends a test that would wait for ever.
expect() { # status, words, arguments...
    want=$1 words=$2; shift 2
    got=0; timeout 300 "$program" "$@" >out 2>err || got=$?
    [ "$got" -eq "$want" ] || fail "exit $got, expected $want: $*: $(cat -v err)"
    grep -q -- "$words" err || fail "\"$words\" is not said by: $*: $(cat -v err)"
}
quick="--set solver.cells=12 --set solver.relative_tolerance=1e-4 --set solver.surface_cell=2mm"
one="$quick --vary pit.temperature=121C"
# shellcheck disable=SC2086
"$program" cook -q $quick -o run.h5 >/dev/null

# Where a file is written "-" is no name.
for app in cook compare sweep; do expect 2 '--output is "-"' $app -o -; done
for app in cook compare sweep explain plan track; do expect 2 '--plot is "-"' $app --plot -; done
for app in compare sweep explain plan track; do expect 2 '--page is "-"' $app --page -; done
expect 2 '--output is "-"' sweep -o - --resume
expect 2 '--plot is "-"' draw run.h5 --plot -
[ ! -e ./- ] || fail "a file named \"-\" was written"

# A sweep to go on with that is a pipe, a device or a directory; a journal that is none.
mkfifo pipe.h5
mkdir folder.h5
# shellcheck disable=SC2086
{
    expect 1 '"pipe.h5" cannot be read: it is no regular file' sweep $one -o pipe.h5 --resume
    expect 1 '"/dev/zero" cannot be read: it is no regular file' sweep $one -o /dev/zero --resume
    expect 1 '"folder.h5" cannot be read: it is a directory' sweep $one -o folder.h5 --resume
    mkfifo a.h5.journal
    expect 1 'the journal "a.h5.journal" cannot be written: it is no regular file' sweep $one -o a.h5 --resume
    expect 1 'the journal "a.h5.journal" cannot be written: it is no regular file' sweep $one -o a.h5 --force
    rm a.h5.journal
    echo text >text.h5
    expect 2 'is no results file of a sweep: it is no HDF5 file' sweep $one -o text.h5 --resume
}

# A name with an escape sequence, a carriage return, and a mark that turns the direction of text.
name=$(printf 'x\033[2J\ry\342\200\256')
escaped='x\\x1b\[2J\\x0dy\\xe2\\x80\\xae'
# Files that a scenario names are refused by the library itself, whatever shows its sentence.
for key in pit.learned pit.temperature meat.outline; do expect 1 'x.x1b.2J.csv.*control characters' cook --set "$key=$(printf 'x\033[2J.csv')"; done
clean() { if LC_ALL=C grep -q "$(printf '[\001-\010\013-\037\177\342]')" err; then fail "$1: $(cat -v err)"; fi; }
said() { # status, arguments...
    status=$1; shift
    expect "$status" "$escaped" "$@"
    clean "$*"
}
said 2 cook "--$name"
said 2 "$name"
said 2 cook "$name"
said 2 cook --plot "$name"
said 2 cook --format "$name"
said 2 sweep --threads "$name"
said 2 draw "$name" --plot a.png
said 1 cook -o "$name/a.h5"
# shellcheck disable=SC2086
{
    said 0 cook $quick -o "$name.h5"
    said 0 cook $quick --plot "$name.svg"
    got=0; (trap '' XFSZ; ulimit -f 850; "$program" sweep $one --vary meat.mass=5kg:7kg:0.01kg -o "$name.sweep") >out 2>err || got=$?
    [ $got -eq 1 ] && grep -q -- '--resume' err || fail "a full disk gives $got: $(cat -v err)"
    clean "how to go on"
}

# What a killed run has left is taken over: nobody holds its lock, and it begins as such a file does.
# shellcheck disable=SC2086
part_of() { # file, bytes, arguments...
    file=$1 bytes=$2; shift 2
    for begun in '' "$bytes"; do
        rm -f "$file"
        printf "$begun" >"$file.part"
        expect 0 "$file" "$@" $quick
        [ -s "$file" ] && [ ! -e "$file.part" ] || fail "what was left of $file is not taken over"
    done
    # Something else is not, unless forced; and a lock is respected even then.
    rm -f "$file"
    echo 'somebody keeps this' >"$file.part"
    expect 1 'is in the way, and it is not known to be left' "$@" $quick
    grep -q 'somebody keeps this' "$file.part" || fail "a file of somebody is lost"
    flock "$file.part" true
    got=0; flock "$file.part" "$program" "$@" $quick --force >out 2>err || got=$?
    [ $got -eq 1 ] && grep -q 'is in the way; another run is writing it' err || fail "a lock is not respected: $got $(cat err)"
    grep -q 'somebody keeps this' "$file.part" || fail "the part of another run is lost"
    expect 0 "$file" "$@" $quick --force
    [ -s "$file" ] && [ ! -e "$file.part" ] || fail "--force does not replace what was left of $file"
    rm -f "$file"
    ln -s elsewhere "$file.part"
    expect 1 'is in the way' "$@" $quick --force
    [ ! -e elsewhere ] || fail "a link was followed"
    rm "$file.part"
}
part_of a.h5 '\211HDF\r\n' cook -o a.h5
part_of a.png '\211PNG\r\n' cook --plot a.png
part_of a.svg '<?xml ver' cook --plot a.svg
part_of a.pdf '%%PDF-1.5' cook --plot a.pdf
part_of a.html '<!DOCTYPE html>\n<html' compare --page a.html
part_of s.h5 '\211HDF\r\n' sweep --vary pit.temperature=121C -o s.h5

# TERM and HUP end a cook as Ctrl-C does: with a word, the status of the signal, and nothing left behind. Without the word the
# signal itself has ended it.
for signal in TERM:143 HUP:129; do
    rm err
    "$program" cook --progress always --set solver.cells=400 --set solver.relative_tolerance=1e-9 -o k.h5 --plot k.svg >out 2>err &
    until [ -s err ] || ! kill -0 $! 2>/dev/null; do sleep 0.02; done
    kill -"${signal%:*}" $!
    got=0; wait $! || got=$?
    [ $got -eq "${signal#*:}" ] && grep -q 'note: interrupted' err || fail "${signal%:*} gives $got: $(cat -v err)"
    [ -z "$(find . -name 'k.*')" ] || fail "${signal%:*} leaves $(find . -name 'k.*')"
done
echo "file names: nothing waits, nothing is lost, terminals are safe"
