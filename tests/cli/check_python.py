# SPDX-License-Identifier: BSD-3-Clause
"""The Python binding says what the program says, to the bit: check_python.py PROGRAM, STALLWRIGHT_LIBRARY being set."""
import csv, io, json, subprocess, sys

import stallwright

program = sys.argv[1]


def run(*arguments):
    return subprocess.run([program, *arguments, "-q"], check=True, capture_output=True, text=True).stdout


# Keys of the JSON that do not follow from name and unit (docs/reference/json-output.md).
SPECIAL = {"wrap_time": "wrap_time_s", "pour_time": "pour_time_s", "done_probe": "probe_k", "top_surface_at_pull": "top_surface_k",
           "top_water_activity_at_pull": "top_water_activity", "top_film_share_at_pull": "top_film_share"}
ENDINGS = {"s": ("_s", "_time"), "K": ("_k", "_temperature"), "kg": ("_kg", None), "K s-1": ("_k_per_s", None), "1": ("", None), "J": ("_j", None),
           "m2": ("_m2", None), "kg kg-1": ("_kg_per_kg", None)}


def key_of(name):
    unit = stallwright._library.sw_cooked_figure_unit(name.encode()).decode()
    bare = name.split(".")[-1]
    if bare in SPECIAL and bare == name:
        return SPECIAL[name]
    suffix, word = ENDINGS[unit]
    if word and bare.endswith(word) and len(bare) > len(word):
        bare = bare[:-len(word)]
    return bare + suffix


def same_figures(cook, choice):
    checked = 0
    for name, value in cook.figures.items():
        group = name.split(".")[0] if "." in name else None
        if group in ("top", "bottom", "end"):
            continue
        told = choice if group is None else choice["budget_" + group]
        assert key_of(name) in told, f"{name}: {key_of(name)} is not in the JSON"
        assert told[key_of(name)] == value, f"{name}: {told[key_of(name)]} and {value}"
        checked += value is not None
    assert checked > 40, checked
    assert cook.words["tenderness"] == choice["tenderness"]


scenario = stallwright.Scenario()
scenario["solver.cells"] = 20
scenario["wrap.kind"] = "paper"
scenario.set("pit.temperature=250F")
scenario["pull"] = ("temperature", 366.15)
options = ["--set", "solver.cells=20", "--set", "wrap.kind=paper", "--set", "pit.temperature=250F", "--set", "pull=366.15K"]
cook = scenario.cook()
same_figures(cook, json.loads(run("cook", "--format", "json", *options))["choices"][0])
rows = list(csv.DictReader(io.StringIO(run("cook", "--format", "csv", *options))))
for curve, column in (("time", "time_s"), ("probe_temperature", "probe_k"), ("evaporated_mass", "evaporated_mass_kg")):
    assert [float(row[column]) for row in rows] == list(cook.curve(curve)), curve

wraps = ("none", "paper", "closed-foil")
compared = stallwright.compare(scenario, wraps, threads=2)
told = json.loads(run("compare", "--format", "json", "--wraps", ",".join(wraps), *options))["choices"]
for choice in told:
    same_figures(compared[choice["wrap"]], choice)

points = stallwright.sweep(scenario, {"pit.temperature": [390.0, 400.0], "meat.mass": [6.0, 7.0]}, threads=2)
assert [point for point, _ in points] == [{"pit.temperature": t, "meat.mass": m} for t in (390.0, 400.0) for m in (6.0, 7.0)]
for point, swept in points:
    alone = scenario.copy()
    for key, value in point.items():
        alone[key] = value
    assert alone.cook().figures == swept.figures

# What is set is read back; every key can be read.
for key in stallwright.keys():
    scenario[key]
scenario["pit.temperature"] = [(0, 380, True), (3600, 390, False)]
assert scenario["pit.temperature"] == [(0.0, 380.0, 1.0), (3600.0, 390.0, 0.0)]
scenario["pit.lid.openings"] = [7200, 9000]
assert scenario["pit.lid.openings"] == [7200.0, 9000.0]
scenario["meat.probes"] = [("flat", 0.17, 0.03), ("point", 0.3, 0.04)]
assert scenario["meat.probes"] == [("flat", 0.17, 0.03), ("point", 0.3, 0.04)]
scenario["meat.probes"] = []
assert scenario["meat.probes"] == []
scenario["rest.keep_wrap"] = False
assert scenario["rest.keep_wrap"] == "no" and scenario["pull"] == ("temperature", 366.15)
assert scenario["pit.convection"] == "usual"


def refused(words, function):
    try:
        function()
    except stallwright.Error as error:
        assert words in str(error), str(error)
        return
    raise AssertionError(f"not refused: {words}")


refused("allowed 40.0 C to 190.0 C", lambda: scenario.__setitem__("pit.temperature", 2000.0))
refused("allowed none, paper", lambda: scenario.__setitem__("wrap.kind", "wool"))
refused("no unit", lambda: scenario.set("pit.temperature=120"))
refused("No such file", lambda: stallwright.Scenario("missing.yaml"))
cold = stallwright.Scenario()
cold["pit.temperature"] = 340.0
refused("pull", cold.cook)
failed = stallwright.cook_all([cold, stallwright.Scenario()], threads=1)
assert isinstance(failed[0], stallwright.Error) and failed[1]["done_time"] > 3600.0
try:
    scenario["meat.colour"]
    raise AssertionError("a key that is none is read")
except KeyError:
    pass
print(f"python: {len(cook.figures)} figures, {len(cook.curves)} curves, as the program has them")
