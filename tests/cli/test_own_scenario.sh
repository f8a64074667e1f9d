#!/bin/sh
# A scenario of one's own: what it is called, what it says of the cut, how the mass and the pull follow from what is given,
# and sentences in the units that were asked for.
set -eu
program=$1 scratch=$2
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }
says() { grep -q -- "$1" "$2" || fail "\"$1\" is not said: $(cat "$2")"; }
refuse() { # words, arguments...
    words=$1; shift
    got=0; "$program" "$@" >out 2>err || got=$?
    [ "$got" -eq 2 ] || fail "exit $got, expected 2: $*: $(cat err)"
    says "$words" err
}
quick="--set solver.cells=20 --set solver.relative_tolerance=1e-3 --set rest.until=none --set hold.until=none"

# Its title is its file's name, and it says what to buy only if it says for how many.
mkdir -p kitchen
printf 'meat:\n  mass: 5 kg\n' >kitchen/sunday.yaml
"$program" cook -q $quick kitchen/sunday.yaml >out
[ "$(head -1 out)" = sunday ] || fail "the title is not the file's name: $(head -1 out)"
! grep -q ' buy ' out || fail "it says what to buy for nobody"
printf 'title: A wedding\nserving: {people: 60}\n' >wedding.yaml
"$program" cook -q $quick wedding.yaml >out
[ "$(head -1 out)" = "A wedding" ] || fail "the title is not the one given"
says 'For 60: buy ' out
"$program" cook -q $quick >out
says 'For 24: buy ' out

# More meat is thicker and takes longer; the heading says where the thickness comes from.
"$program" cook -q $quick --set meat.mass=11lb --units us >light
"$program" cook -q $quick --set meat.mass=18lb --units us >heavy
says 'a slab 2.70 in thick (from its mass)' light
says 'a slab 3.19 in thick (from its mass)' heavy
hours() { sed -n 's/.* \([0-9]*\) h \([0-9]*\) min *PULLED.*/\1 \2/p' "$1" | awk '{ print 60 * $1 + $2 }'; }
[ "$(hours light)" -lt "$(hours heavy)" ] || fail "18 lb are done as soon as 11 lb"
"$program" cook -q $quick --set meat.mass=18lb --set meat.thickness=3in --units us >out
says 'a slab 3.00 in thick (as given)' out
"$program" compare -q $quick --wraps none >out
says '6.50 kg, 7.5 cm thick (from its mass)' out
"$program" explain -q $quick >out
says '6.50 kg, 7.5 cm thick (from its mass)' out

# The cut as bought: what trimming leaves is cooked.
"$program" cook -q $quick --set meat.bought_mass=8kg --set serving.trimming=25% >out
says '6.00 kg trimmed from 8.00 kg' out
refuse 'both give the mass' cook --set meat.bought_mass=8kg --set meat.mass=6kg
printf 'meat:\n  mass: 6 kg\n  bought_mass: 8 kg\n' >both.yaml
refuse 'both.yaml:3:16: .*both.yaml:2:9' cook both.yaml
"$program" sweep -q $quick --vary meat.bought_mass=5kg,8kg --format csv >out
awk -F, 'NR == 2 { first = $0 } NR == 3 { exit $0 == first } END { exit NR != 3 }' out || fail "a sweep over the cut as bought: $(cat out)"
! grep -q fail out || fail "a sweep over the cut as bought fails: $(cat out)"

# Where water boils low the usual pull follows; a pull that was typed is refused with one that works.
"$program" cook $quick --set pit.altitude=1600m --units us >out 2>err
says 'pull is 198.7 F, not the usual 203.0 F' err
says 'PULLED, probe at 198.8 F' out
refuse 'pull is 203.0 F.* 198.8 F works' cook --units us --set pit.altitude=1600m --set pull=203F
refuse 'pull is 95.0 C.* 92.6 C works' cook --set pit.altitude=1600m --set pull=95C
"$program" cook --print-scenario >all.yaml
says '^pull: usual$' all.yaml
"$program" cook $quick all.yaml --set pit.altitude=1600m >out 2>err
says 'not the usual 95.0 C' err
echo "own scenario: cut, mass, pull and units are told"
