# SPDX-License-Identifier: BSD-3-Clause
"""Checks of what explain says, called by test_explain.sh: check_explain.py KIND FILE ..."""
import math
import re
import sys

from json_reference import check_keys, load

ITEMS = ("evaporation", "vapour", "drip", "fat", "warming", "rest")


def received(heat):
    return heat["air_heat_j"] + heat["radiation_heat_j"]


def check_balance(path, cook_path, reference):
    """The hours add up to the whole, the whole is the budget of cook, and all of it closes."""
    document, cook = load(path), load(cook_path)
    heat, budget = document["heat"], cook["choices"][0]["budget_at_pull"]
    assert document["choices"][0]["budget_at_pull"] == budget, "explain and cook have two budgets"
    scale = abs(received(heat))
    for hour in document["hours"] + [heat]:
        found = sum(hour[f"{item}_heat_j"] for item in ITEMS)
        assert math.isclose(received(hour), found, abs_tol=1e-9 * scale), f"an hour does not close: {hour}"
        assert abs(hour["rest_heat_j"]) < 1e-4 * scale, f"an hour leaves heat over: {hour}"
    for item in ("air", "radiation") + ITEMS:
        parts = sum(hour[f"{item}_heat_j"] for hour in document["hours"])
        assert math.isclose(parts, heat[f"{item}_heat_j"], abs_tol=1e-9 * scale), f"the hours do not add up: {item}"
    same = {"air": budget["convection_heat_j"], "radiation": budget["radiation_heat_j"],
            "evaporation": budget["evaporation_heat_j"], "vapour": budget["vapour_warming_heat_j"],
            "drip": budget["drip_heat_j"], "fat": budget["rendered_fat_heat_j"] + budget["melting_heat_j"],
            "warming": budget["warming_heat_j"] - budget["melting_heat_j"]}
    for item, joules in same.items():
        # The last row of the history and the budget of the phase differ by what the integrator's polynomial does.
        assert math.isclose(heat[f"{item}_heat_j"], joules, abs_tol=1e-6 * scale), f"{item} is not that of the balance"
    ends = [hour["to_s"] for hour in document["hours"]]
    assert ends == sorted(ends) and math.isclose(ends[-1], cook["choices"][0]["done_s"], rel_tol=1e-9)
    for hour in document["hours"]:
        assert math.isclose(hour["evaporation_share"] * received(hour), hour["evaporation_heat_j"], rel_tol=1e-9, abs_tol=1e-6)
    full = [hour["from_s"] for hour in document["hours"] if hour["evaporation_share"] >= document["nearly_all_share"]]
    assert document["nearly_all_from_s"] == (full[0] if full else None)
    check_common(document, heat)
    check_keys(document, reference)


def check_common(document, heat):
    fat, protein, collagen = document["common_explanations"]
    mass = document["meat"]["mass_kg"]
    assert math.isclose(fat["high_j"], heat["fat_heat_j"], rel_tol=1e-12)
    # Findlay and Stanley, J. Food Sci. 49 (1984) 1513: 3.0 to 3.9 J/g of wet muscle (abstract).
    assert math.isclose(protein["low_j"], 3000 * mass) and math.isclose(protein["high_j"], 3900 * mass)
    # 5 to 12 mg of collagen to a gram of muscle, 20 to 60 J to a gram of it (from memory, a range).
    assert math.isclose(collagen["low_j"], 0.1e3 * mass) and math.isclose(collagen["high_j"], 0.72e3 * mass)


def duration(seconds):
    minutes = math.floor(abs(seconds) / 60 + 0.5)
    return f"{minutes} min" if minutes < 60 else f"{minutes // 60} h {minutes % 60:02d} min"


def check_words(json_path, text_path):
    """What the text says is what the JSON holds."""
    document = load(json_path)
    with open(text_path) as file:
        text = file.read()
    flat = re.sub(r"\s+", " ", text)
    for sentence in document["sentences"]:
        assert re.sub(r"\s+", " ", sentence) in flat, f"not said: {sentence}"
    for change in document["changes"]:
        assert re.sub(r"\s+", " ", change["sentence"]) in flat, f"not said: {change['sentence']}"
    plateau = document["plateau"]
    if plateau["film_at_start"] is not None and plateau["film_at_start"] >= 0.05:
        assert not re.search(r"\b(dry|dries|dried)\b", flat.split("During the stall")[1].split("The water comes")[0]), "a wet surface is dry"
        assert f"wets {100 * plateau['film_at_start']:.1f} % of it" in flat, "what juice wets is not told"
    rows = re.findall(r"^(\d+ h \d\d min|\d+ min)\s+(-?[\d.]+) C\s+(-?\d+)\s+(-?\d+)\s+(-?\d+)\s+(-?\d+)\s+(-?\d+)\s+(-?\d+)\s+"
                      r"(-?[\d.]+) %$", text, re.M)
    assert len(rows) == len(document["hours"]), f"{len(rows)} hours are told, {len(document['hours'])} computed"
    for row, hour in zip(rows, document["hours"]):
        kilojoules = [1e-3 * hour[f"{item}_heat_j"] for item in ("air", "radiation", "evaporation", "warming", "fat", "drip")]
        kilojoules[3] += 1e-3 * hour["vapour_heat_j"]
        assert row[0] == duration(hour["to_s"]), row
        assert abs(float(row[1]) - (hour["probe_k"] - 273.15)) < 0.051, row
        for told, computed in zip(row[2:8], kilojoules):
            assert abs(float(told) - computed) <= 0.5 + 1e-6, f"{told} kJ is told, {computed} computed"
        assert abs(float(row[8]) - 100 * hour["evaporation_share"]) < 0.051, row
    outcome, heat = document["choices"][0], document["heat"]
    said = [f"{1e-6 * received(heat):.2f} MJ", f"{1e-6 * heat['evaporation_heat_j']:.2f} MJ", duration(outcome["done_s"]),
            duration(outcome["stall_length_s"]), f"{outcome['stall_probe_k'] - 273.15:.1f} C",
            f"{100 * document['plateau']['evaporation_share']:.1f} %"]
    for figure in said:
        assert figure in flat, f"{figure} is not said"


def check_changes(path, *others):
    """Each changed cook is the cook that cook computes with that change."""
    document = load(path)
    by_cause = {change["cause"]: change for change in document["changes"]}
    assert len(by_cause) == 6
    for other in others:
        cause, cook = other.split("=")
        choice, direct = by_cause[cause]["choice"], load(cook)["choices"][0]
        for key in ("done_s", "stall_length_s", "yield_at_pull", "evaporated_kg"):
            assert choice[key] == direct[key], f"{cause}: {key} is {choice[key]}, cook says {direct[key]}"
        planned = document["choices"][0]["done_s"]
        difference = abs(direct["done_s"] - planned)
        if difference >= 0.02 * planned:
            assert f"{duration(difference)} {'sooner' if direct['done_s'] < planned else 'longer'}" in by_cause[cause]["sentence"]


def check_never(path):
    document = load(path)
    assert document["never_ends"] is True and document["followed_s"] > 0
    choice = document["choices"][0]
    assert choice["error"] and choice["done_s"] is None and choice["yield_fraction"] is None and choice["stall_length_s"] is None
    assert "never finishes" in document["sentences"][0]
    for change in document["changes"]:
        if change["choice"]["error"]:
            assert "never finishes" in change["sentence"] and change["choice"]["done_s"] is None


def check_no_stall(path):
    document = load(path)
    assert document["choices"][0]["stall_start_s"] is None and document["stall_ending"] == "none"
    assert all(value is None for value in document["plateau"].values())
    assert "There is no stall" in document["sentences"][0]
    assert document["heat"]["evaporation_heat_j"] == 0 and document["nearly_all_from_s"] is None
    assert [c["cause"] for c in document["changes"] if c["is_no_change"]] == ["no_evaporation"]


CHECKS = {"balance": check_balance, "words": check_words, "changes": check_changes, "never": check_never,
          "no-stall": check_no_stall}

if __name__ == "__main__":
    CHECKS[sys.argv[1]](*sys.argv[2:])
