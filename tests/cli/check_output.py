# SPDX-License-Identifier: BSD-3-Clause
"""Checks of JSON and CSV output, called by test_output.sh: check_output.py KIND FILE ..."""
import csv
import math
import re
import sys

from json_reference import check_keys, load

# The keys other programs rely on; a missing one is a broken promise.
PROMISED = """wrap wrap_at_k wrap_time_s stall_start_s stall_end_s stall_length_s stall_probe_k stall_depth_k done_s saved_s
yield_fraction evaporated_kg dripped_kg rendered_kg probe_k top_surface_k top_water_activity top_state error""".split()


def check_choice(choice):
    missing = [key for key in PROMISED if key not in choice]
    assert not missing, f"keys are missing: {missing}"
    assert choice["error"] is None
    stalled = choice["stall_start_s"] is not None
    if stalled:
        assert 0 < choice["stall_start_s"] < choice["stall_end_s"] <= choice["done_s"]
        assert math.isclose(choice["stall_end_s"] - choice["stall_start_s"], choice["stall_length_s"], rel_tol=1e-9)
    assert (choice["wrap_time_s"] is None) == (choice["wrap"] == "none")
    assert choice["top_state"] in ("dry", "firm", "tacky", "wet")
    # What is not left as meat evaporated, dripped or rendered.
    budget = choice["budget_at_end"]
    lost = choice["evaporated_kg"] + choice["dripped_kg"] + choice["rendered_kg"]
    assert math.isclose(choice["yield_fraction"], 1 - lost / budget["initial_mass_kg"], abs_tol=1e-3)
    # Heat in is heat found, within the residual the balance states of itself.
    budget = choice["budget_at_pull"]
    received = budget["convection_heat_j"] + budget["radiation_heat_j"]
    found = sum(budget[key + "_j"] for key in
                ("evaporation_heat", "vapour_warming_heat", "drip_heat", "rendered_fat_heat", "warming_heat"))
    assert math.isclose(received, found, rel_tol=abs(budget["heat_residual"]) + 1e-6)
    assert abs(budget["heat_residual"]) < 1e-3 and abs(budget["water_residual"]) < 1e-3


def check_json(path, reference, *wraps):
    document = load(path)
    assert [choice["wrap"] for choice in document["choices"]] == list(wraps)
    for choice in document["choices"]:
        check_choice(choice)
    check_keys(document, reference)


def check_same_choice(cook, compare):
    """The cook without a wrap is the same in both apps, except for what it saves against itself."""
    one = load(cook)["choices"][0]
    other = next(choice for choice in load(compare)["choices"] if choice["wrap"] == "none")
    assert one.pop("saved_s") is None and other.pop("saved_s") == 0
    assert one == other


def check_choice_is(compare, number, cook):
    """A choice of compare is that cook, but for its name and what it saves."""
    choice, one = load(compare)["choices"][int(number)], load(cook)["choices"][0]
    for each in (choice, one):
        each.pop("saved_s"), each.pop("label")
    assert choice == one


def duration(seconds):
    hours, minutes = divmod(round(seconds / 60), 60)
    return f"{hours} h {minutes:02d} min" if hours else f"{minutes} min"


def check_probes(cook, timeline, comparison, page):
    """Every probe has its milestones, stall and done time, the same in each place; one of them ends the time on the pit."""
    choice = load(cook)["choices"][0]
    names = [probe["name"] for probe in choice["probes"]]
    assert sorted(names) == ["flat", "point"], names
    timeline, comparison, page = (open(path, encoding="utf-8").read() for path in (timeline, comparison, page))
    done = {probe["name"]: probe["done_s"] for probe in choice["probes"]}
    assert math.isclose(done[choice["done_by"]], choice["done_s"], abs_tol=1.0) and max(done.values()) == done[choice["done_by"]]
    assert f"The {choice['done_by']} probe ended the time on the pit" in timeline
    assert re.search(rf"PULLED, {choice['done_by']} at 95\.0 C$", timeline, re.M)
    assert re.search(rf"none, {choice['done_by']}</th>.*<td>yes</td></tr>", page)
    assert re.search(rf"^done by +{choice['done_by']}", comparison, re.M)
    stalls = {probe["name"]: probe["stall_start_s"] for probe in choice["probes"]}
    assert stalls["flat"] != stalls["point"], "flat and point have one stall"
    for probe in choice["probes"]:
        name = probe["name"]
        rises = [milestone["time_s"] for milestone in probe["milestones"]]
        assert rises == sorted(rises) and len(rises) >= 9
        for milestone in probe["milestones"]:
            if milestone["time_s"] < choice["done_s"]:
                line = rf"{duration(milestone['time_s'])} +{name} passes {milestone['probe_k'] - 273.15:.1f} C"
                assert re.search(line, timeline), line
        rows = comparison[re.search(rf"^{name}\b", comparison, re.M).start():]
        for title, value in (("stall after", probe["stall_start_s"]), ("stall lasts", probe["stall_length_s"]),
                             ("done after", probe["done_s"])):
            words = duration(value) if value is not None else "(no stall|-)"
            assert re.search(rf"^  {title} +{words}", rows, re.M), (name, title, words)
        if probe["stall_start_s"] is not None:
            assert re.search(rf"{name}: stall ends after {duration(probe['stall_length_s'])}", timeline)
        assert f"none, {name}" in page


def check_saved(some, all_wraps):
    unwrapped = next(choice for choice in load(all_wraps)["choices"] if choice["wrap"] == "none")
    choices = load(some)["choices"]
    for choice in choices:
        assert choice["saved_s"] == unwrapped["done_s"] - choice["done_s"]
    # 165 F and 180 F by the definition of the Fahrenheit scale.
    assert [round(choice["wrap_at_k"], 2) for choice in choices] == [347.04, 355.37]
    assert choices[0]["wrap_time_s"] < choices[1]["wrap_time_s"]


def check_csv(path, *columns):
    with open(path, newline="") as file:
        rows = list(csv.reader(file))
    heading = rows[0]
    assert len(rows) > 4 and len(set(heading)) == len(heading)
    missing = [column for column in columns if column not in heading]
    assert not missing, f"columns are missing: {missing}"
    for row in rows[1:]:
        assert len(row) == len(heading), f"{len(row)} fields under {len(heading)} columns"
        for name, field in zip(heading, row):
            if field and name not in ("label", "wrap", "top_state", "tenderness", "missing"):
                assert math.isfinite(float(field)), f"{name} is {field}"
    if heading[0] == "time_s":
        times = [float(row[0]) for row in rows[1:]]
        assert times == sorted(times) and times[0] == 0


def check_failing(path):
    choices = load(path)["choices"]
    failed = [choice for choice in choices if choice["error"]]
    good = [choice for choice in choices if not choice["error"]]
    assert failed and good
    for choice in failed:
        assert "does not end" in choice["error"]
        assert choice["done_s"] is None and choice["yield_fraction"] is None and choice["budget_at_end"] is None
    for choice in good:
        assert choice["done_s"] > 0


def check_sorted_times(path):
    with open(path) as file:
        lines = re.findall(r"^\d\d:\d\d(?: \+\d+ days?)? +(?:(\d+) h )?(\d+) min ", file.read(), re.MULTILINE)
    minutes = [60 * int(hours or 0) + int(rest) for hours, rest in lines]
    assert len(minutes) > 8 and minutes == sorted(minutes), minutes


def check_no_band(path, alone):
    """The same document but for the bands, which one has in every choice and the other in none."""
    told, left_out = load(path), load(alone)
    for choice in told["choices"]:
        assert choice["band"]["draws"] > 0, choice["label"]
        assert choice["band"]["done_low_s"] < choice["done_s"] < choice["band"]["done_high_s"], choice["label"]
        choice["band"] = None
    assert told == left_out


def check_formulas(path, *labels):
    """The first factor of each cook, as a reader of CSV has it."""
    with open(path, newline="") as file:
        rows = list(csv.reader(file))
    assert [row[1] for row in rows[1:]] == list(labels), [row[1] for row in rows[1:]]
    assert all(len(row) == len(rows[0]) for row in rows)


CHECKS = {"no-band": check_no_band, "formulas": check_formulas, "json": check_json, "same-choice": check_same_choice, "choice-is": check_choice_is,
          "probes": check_probes, "saved": check_saved, "csv": check_csv,
          "failing": check_failing, "sorted-times": check_sorted_times}
CHECKS[sys.argv[1]](*sys.argv[2:])
