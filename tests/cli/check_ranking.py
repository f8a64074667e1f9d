# SPDX-License-Identifier: BSD-3-Clause
"""Checks of compare --by, called by test_ranking.sh: check_ranking.py KIND FILE ..."""
import csv
import json
import math
import re
import sys

NUMBER = re.compile(r"\d+(?:\.\d+)?")
# Which way is better, and within what two cooks share a place: as analysis/ranking.c has it.
RULES = {"time": ("done_s", -1, 600), "yield": ("yield_fraction", 1, 0.005), "bark": ("bark", 1, 0.02),
         "tender": ("probe_collagen", 1, 0.02)}


def load(path):
    with open(path) as file:
        return json.load(file)


def written(key, value):
    """The value as a paragraph in SI units writes it, computed anew; within its last digit."""
    if key.endswith("_kg"):
        return value, "kg", 0.005
    if key.endswith("_s"):
        return value / 60, "min", 0.5
    if key == "bark":
        return value, "", 0.005
    return 100 * value, "%", 0.05


def read(text):
    parts = [float(part) for part in NUMBER.findall(text)]
    return 60 * parts[0] + parts[1] if " h " in text else parts[0]


def check_numbers(document):
    ranking = document["ranking"]
    choices = {choice["label"]: choice for choice in document["choices"]}
    paragraph = ranking["paragraph"]
    for number in ranking["numbers"]:
        holder = document if number["label"] is None else choices[number["label"]]
        assert holder[number["key"]] == number["value"], f"{number} is not what the key holds"
        value, unit, error = written(number["key"], number["value"])
        assert abs(read(number["text"]) - value) <= error * (1 + 1e-9), f"{number['text']} is not {value}"
        assert number["text"].endswith(unit)
        assert number["text"] in paragraph
    rest = paragraph
    for label in sorted(choices, key=len, reverse=True):
        rest = rest.replace(label, "")
    # Longest first, so that "69.2 %" is not found in "169.2 %".
    for text in sorted({number["text"] for number in ranking["numbers"]}, key=len, reverse=True):
        rest = rest.replace(text, "")
    assert not NUMBER.search(rest), f"a number of the paragraph stands nowhere: {rest}"


def check_order(document, by):
    ranking = document["ranking"]
    key, sign, tolerance = RULES[by]
    choices = {choice["label"]: choice for choice in document["choices"]}
    assert ranking["by"] == by and ranking["key"] == key
    assert sorted(entry["label"] for entry in ranking["order"]) == sorted(
        label for label, choice in choices.items() if choice["error"] is None)
    best = None
    for position, entry in enumerate(ranking["order"], 1):
        value = choices[entry["label"]][key]
        assert entry["value"] == value
        if best is None or sign * (best - value) > tolerance:
            best, place, done = max((sign * e["value"] for e in ranking["order"][position - 1:])) * sign, position, 0
        assert entry["place"] == place, f"{entry} has a place that is not {place}"
        assert choices[entry["label"]]["done_s"] >= done, "of cooks on a level the one done first comes first"
        done = choices[entry["label"]]["done_s"]
    assert ranking["recommended"] == (ranking["order"][0]["label"] if ranking["order"] else None)


def check_json(path, by):
    document = load(path)
    check_order(document, by)
    check_numbers(document)


def check_failing(path):
    document = load(path)
    paragraph = document["ranking"]["paragraph"]
    failed = [choice for choice in document["choices"] if choice["error"]]
    assert failed and len(document["ranking"]["order"]) == len(document["choices"]) - len(failed)
    for choice in failed:
        name = "no wrap" if choice["wrap"] == "none" else choice["label"]
        assert f"{name} (never finishes)" in paragraph, paragraph
    check_numbers(document)


def check_nothing(path):
    ranking = load(path)["ranking"]
    assert ranking["recommended"] is None and ranking["order"] == [] and ranking["numbers"] == []
    assert "no choice finishes" in ranking["paragraph"]


def check_csv(path, reference):
    order = {entry["label"]: entry["place"] for entry in load(reference)["ranking"]["order"]}
    with open(path, newline="") as file:
        for row in csv.DictReader(file):
            assert int(row["place"]) == order[row["label"]]
            assert math.isfinite(float(row["bark"]))


CHECKS = {"json": check_json, "failing": check_failing, "nothing": check_nothing, "csv": check_csv}
CHECKS[sys.argv[1]](*sys.argv[2:])
