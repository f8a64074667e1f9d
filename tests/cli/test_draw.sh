#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# A results file gives the picture that was drawn when it was written, byte for byte; a file that is none is refused.
set -eu
program=$1 scratch=$2
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }
refuse() { # words, file, options...
    words=$1; shift
    got=0; "$program" draw "$@" --plot none.png >out 2>err || got=$?
    [ "$got" -eq 2 ] || fail "exit $got, expected 2: draw $*: $(cat err)"
    grep -q "^stallwright: error: .*$words" err || fail "\"$words\" is not said by: draw $*: $(cat err)"
    [ "$(wc -l <err)" -eq 1 ] || fail "more than a sentence is said by: draw $*: $(cat err)"
    [ ! -e none.png ] || fail "a picture was drawn of $*"
}
same() { # name, options of the picture...: the picture of name.h5 is name.png
    name=$1; shift
    "$program" draw "$name.h5" --plot again.png --force "$@" >out 2>err
    [ ! -s out ] || fail "draw writes to standard output"
    [ "$(cat err)" = 'stallwright: note: picture drawn to "again.png"' ] || fail "draw prints: $(cat err)"
    cmp "$name.png" again.png || fail "the picture of $name.h5 is another"
}

"$program" cook -q -o cook.h5 --plot cook.png >/dev/null
same cook
"$program" compare -q --wrap-at 150F,165F -o compare.h5 --plot compare.png --units us >/dev/null
same compare --units us
"$program" cook -q --set meat.shape=packer --set meat.thickness=0cm --set solver.rows=10 --set solver.columns=16 \
    --set solver.relative_tolerance=1e-3 --set wrap.kind=paper --hours 2,5 -o packer.h5 --plot packer.png >/dev/null
same packer --hours 2,5
# Without a rest and a hold, and a length beyond what a scenario file may hold: the model took it from the mass.
"$program" cook -q --set meat.shape=cylinder --set meat.thickness=5cm --set rest.until=none --set hold.until=none \
    -o cylinder.h5 --plot cylinder.png >/dev/null
same cylinder
for kind in svg pdf; do
    "$program" draw -q cook.h5 --plot cook.$kind 2>err
    [ -s cook.$kind ] && [ ! -s err ] || fail "no cook.$kind is drawn: $(cat err)"
done
# The options work: other moments, other units, another picture.
"$program" draw -q packer.h5 --hours 1 --plot moment.png
if cmp -s moment.png packer.png; then fail "--hours changes nothing"; fi
"$program" draw -q cook.h5 --units us --plot us.png
if cmp -s us.png cook.png; then fail "--units changes nothing"; fi

before=$(cksum cook.png)
got=0; "$program" draw cook.h5 --plot cook.png 2>err || got=$?
[ "$got" -eq 2 ] && grep -q 'exists already' err || fail "an existing picture gives exit $got: $(cat err)"
[ "$(cksum cook.png)" = "$before" ] || fail "the existing picture was touched"

mkdir folder
mkfifo pipe
: >empty.h5
echo "no results" >text.h5
head -c 60000 cook.h5 >short.h5
head -c 600 cook.h5 >shorter.h5
/usr/bin/python3 - <<'END'
import random, shutil, zlib
import h5py
def seal(name):
    """Puts the checksum back, which HDF5 cuts off a file that it changes."""
    with open(name, "rb") as file:
        content = file.read()
    with open(name, "ab") as file:
        file.write(b"\nsw_checksum: crc32 %08x\n" % zlib.crc32(content))
h5py.File("unsealed.h5", "w")["time"] = [1.0, 2.0]
shutil.copy("unsealed.h5", "foreign.h5")
seal("foreign.h5")
def change(name, what):
    shutil.copy("cook.h5", name)
    with h5py.File(name, "r+") as file:
        what(file)
    seal(name)
change("old.h5", lambda file: file.attrs.modify("sw_file_format", "1.0"))
change("hole.h5", lambda file: file.__delitem__("phase/drip_heat_at_end"))
change("unwritten.h5", lambda file: (file.__delitem__("scenario_text"), file.__setitem__("scenario_text", "meat: 3\n")))
change("backwards.h5", lambda file: file["time"].write_direct(-file["time"][()]))
change("shape.h5", lambda file: (file.__delitem__("temperature"), file.__setitem__("temperature", [280.0])))
with h5py.File(shutil.copy("cook.h5", "changed.h5"), "r+") as file:
    file.attrs["title"] = "another"
seeded = random.Random(1)
with open("cook.h5", "rb") as file:
    whole = file.read()
for number in range(100):
    content = bytearray(whole)
    place = seeded.randrange(400, 1200) if number % 2 else seeded.randrange(len(whole))
    content[place] ^= seeded.randrange(1, 256)
    with open(f"flipped{number}.h5", "wb") as file:
        file.write(content)
END
refuse "No such file" missing.h5
refuse "it is a directory" folder
refuse "no regular file" pipe
refuse "no HDF5 file" empty.h5
refuse "no HDF5 file" text.h5
refuse "it was cut short" short.h5
refuse "it was cut short" shorter.h5
refuse "another program or version" unsealed.h5
refuse "another program or version" changed.h5
for number in $(seq 0 99); do
    refuse "cannot be read: it" "flipped$number.h5"
done
refuse "no results file of stallwright" foreign.h5
refuse "it has the format 1.0" old.h5
"$program" sweep -q --vary meat.mass=5kg --set solver.cells=20 -o sweep.h5 >out || fail "no sweep to refuse"
refuse "it holds a sweep" sweep.h5
refuse 'it has no "/phase/drip_heat_at_end"' hole.h5
refuse "unwritten.h5:scenario_text:1:" unwritten.h5
refuse "its times do not rise" backwards.h5
refuse 'its "/temperature" is damaged' shape.h5
refuse "hours chooses the maps of one cook" compare.h5 --hours 2
if ls | grep '\.part$'; then fail "a temporary file was left"; fi
echo "draw: the same pictures"
