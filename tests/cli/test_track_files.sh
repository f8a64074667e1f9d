#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Files of a cook under way: HDF5 with the ensemble agrees with the JSON; what is learned of the pit narrows the next plan. Logs are made up.
set -eu
program=$1 scratch=$2
rm -rf "$scratch"; mkdir -p "$scratch"; cd "$scratch"
fail() { echo "FAILED: $1" >&2; exit 1; }
readings="--reading 1h=20C --reading 2h=42C --reading 3h=56C --reading 4h=63C --reading 5h=66C --reading 6h=69C"

# shellcheck disable=SC2086
"$program" track -q $readings -o track.h5 --learn pit.yaml --format json >track.json 2>err || fail "$(cat err)"
/usr/bin/python3 - <<'PYTHON' || fail "the results file is not what the JSON says"
import json
import h5py
import numpy
t = json.load(open("track.json"))
with h5py.File("track.h5") as f:
    assert f.attrs["sw_file_format"] == "track 1.0" and f.attrs["sw_now_s"] == t["now_s"]
    assert numpy.allclose(f["readings/probe_temperature"], [r["probe_k"] for r in t["readings"]])
    assert numpy.allclose(f["likeliest/probe_temperature"], [p["probe_k"] for p in t["fitted"]], atol=1e-3)
    for part in ("low", "middle", "high"):
        assert numpy.allclose(f["fan/probe_temperature_" + part], [m["probe_k"][part] for m in t["fan"]], atol=1e-3)
        assert numpy.allclose(f["choices/done_time_" + part], [c["done_s"][part] for c in t["choices"]], rtol=1e-6)
    assert [n.decode() for n in f["choices/name"]] == [c["choice"] for c in t["choices"]]
    e = f["ensemble"]
    weight, done = e["weight"][:], e["done_time"][:]
    assert len(weight) == 200 and abs(weight.sum() - 1) < 1e-9 and abs(1 / (weight ** 2).sum() - t["effective_draws"]) < 1e-3
    # The middle of the weighted cooks is that of the answer.
    order = numpy.argsort(done)
    middle = done[order][numpy.searchsorted(numpy.cumsum(weight[order]), 0.5)]
    assert abs(middle - t["choices"][0]["done_s"]["middle"]) < 300, middle
    for found in t["inputs"]:
        values = e[found["input"].replace(".", "_")][:]
        assert found["found"]["low"] < (values * weight).sum() < found["found"]["high"], found
    assert "track" in f["provenance"].attrs["command_line"]
PYTHON
grep -q '^cooks: 1$' pit.yaml && grep -q '^offset: .* K  # ' pit.yaml || fail "what was learned is not told: $(cat pit.yaml)"
# shellcheck disable=SC2086
"$program" track $readings --learn pit.yaml >out 2>err || fail "$(cat err)"
grep -q 'what 2 cooks showed of this pit is in "pit.yaml"' err && grep -q '^cooks: 2$' pit.yaml || fail "the second cook is not learned from: $(cat err)"
# shellcheck disable=SC2086
for i in 3 4 5 6; do "$program" track -q $readings --learn pit.yaml --units us >out; done
grep -q '^offset_spread: .* F' pit.yaml || fail "US units are not used: $(cat pit.yaml)"
# The next plan is narrower, the band of a cook too, and the file is found beside the scenario.
mkdir home; cp pit.yaml home
printf 'pit:\n  learned: pit.yaml\n' >home/next.yaml
"$program" cook --format json >usual.json
"$program" cook home/next.yaml --format json >known.json
"$program" track home/next.yaml --format json >next.json
"$program" track --format json >before.json
/usr/bin/python3 - <<'PYTHON' || fail "what was learned narrows nothing"
import json
def width(name, of):
    band = of(json.load(open(name)))
    return (band["high"] - band["low"]) / (band["high"] + band["low"])
choice = lambda d: d["choices"][0]["done_s"]
assert width("next.json", choice) < width("before.json", choice), (width("next.json", choice), width("before.json", choice))
found = {x["input"]: x["usual"] for x in json.load(open("next.json"))["inputs"]}
assert found["pit.temperature"] != 394.15
PYTHON
# A scenario that is printed has it, and cooks the same again.
"$program" cook home/next.yaml --print-scenario >printed.yaml 2>err || "$program" cook home/next.yaml --help | grep -q print-scenario || true
if [ -s printed.yaml ]; then
    "$program" cook printed.yaml --format json >again.json
    cmp -s again.json known.json || fail "a printed scenario cooks otherwise"
fi

refuse() { # status, words, arguments...
    want=$1 words=$2; shift 2; got=0
    "$program" track "$@" >out 2>err || got=$?
    [ "$got" -eq "$want" ] && grep -q -e "$words" err || fail "exit $got, \"$words\" expected of $*: $(cat err)"
}
before=$(cksum pit.yaml)
# shellcheck disable=SC2086
refuse 2 "shows nothing of its pit" --learn pit.yaml
[ "$(cksum pit.yaml)" = "$before" ] || fail "a cook without readings changed the file"
sed 's/^offset: .*/offset: 4 bananas/' pit.yaml >bad.yaml
# shellcheck disable=SC2086
refuse 2 'bad.yaml:4:.*offset' $readings --learn bad.yaml
refuse 2 'bad.yaml:4:.*offset' --set pit.learned=bad.yaml
refuse 1 'gone.yaml' --set pit.learned=gone.yaml
# shellcheck disable=SC2086
refuse 2 'exists already' $readings -o track.h5
# shellcheck disable=SC2086
refuse 1 'is a directory' $readings --learn home
echo "files of a cook under way: true to the JSON, and the next plan is narrower"
