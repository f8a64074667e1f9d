# SPDX-License-Identifier: BSD-3-Clause
"""Checks of plans, called by test_plan.sh: check_plan.py KIND FILE ..."""
import re
import sys

from json_reference import keys_of, load


def plan(path, docs):
    """Every key of the plan is documented; counts, windows and odds hang together."""
    document = load(path)
    p = document["plan"]
    with open(docs, encoding="utf-8") as file:
        named = set(re.findall(r"`([a-z0-9_]+)`", file.read()))
    missing = {key for key in keys_of({k: v for k, v in p.items() if k != "choices"}) if key not in named}
    assert not missing, f"docs/reference/json-output.md does not name {sorted(missing)}"
    starts = {name: moment["before_serving_s"] for name, moment in p["starts"].items()}
    assert starts["recommended"] >= starts["latest"], starts
    assert p["in_time"]["share"] >= p["odds_asked"] and 0 < p["in_time"]["error"] < 0.1, p["in_time"]
    order = [row["half_by"]["before_serving_s"] for row in p["timetable"]]
    assert order == sorted(order, reverse=True), order
    for row in p["timetable"]:
        first, half, last = (row[k]["before_serving_s"] for k in ("one_in_ten_by", "half_by", "nine_in_ten_by"))
        assert first >= half >= last, row
    events = [row["event"] for row in p["timetable"]]
    assert events[:2] == ["fire", "meat_on"] and events[-1] == "serve", events
    on = p["timetable"][1]["half_by"]["before_serving_s"]
    assert on == starts["recommended"], (on, starts)
    shares = [row["in_time"]["share"] for row in p["by_start"]]
    assert shares == sorted(shares, reverse=True) and len(shares) > 4, shares
    for choice in p["compared"]:
        shares = [row["in_time"]["share"] for row in choice["by_start"]]
        assert shares == sorted(shares, reverse=True), choice
    assert sum(choice["is_asked"] for choice in p["compared"]) == 1
    labels = [choice["label"] for choice in p["choices"]]
    assert labels[:3] == ["median", "longest", "early"], labels


def pieces(path, docs, *labels):
    """Every key is documented; the odds of all follow from those of each; one fire, one serving, each piece on at its own time."""
    p = load(path)["plan_of_pieces"]
    with open(docs, encoding="utf-8") as file:
        named = set(re.findall(r"`([a-z0-9_]+)`", file.read()))
    missing = {key for key in keys_of({k: v for k, v in p.items() if k != "pieces"}) if key not in named}
    assert not missing, f"docs/reference/json-output.md does not name {sorted(missing)}"
    assert [piece["label"] for piece in p["pieces"]] == list(labels), labels
    each = [piece["plan"]["in_time"]["share"] for piece in p["pieces"]]
    assert p["odds_asked"] <= p["in_time"]["share"] <= min(each) + 1e-12 and p["in_time"]["share"] >= 1 - sum(1 - share for share in each) - 1e-9
    assert p["odds_of_each"] >= p["odds_asked"] and all(piece["plan"]["odds_asked"] == p["odds_of_each"] for piece in p["pieces"])
    too_long = [piece["plan"]["held_too_long"]["share"] for piece in p["pieces"]]
    assert max(too_long) - 1e-12 <= p["held_too_long"]["share"] <= sum(too_long) + 1e-12
    loads = [piece["pit_pieces"] * piece["heading"]["meat"]["mass_kg"] ** (2 / 3) for piece in p["pieces"]]
    assert max(loads) - min(loads) < 1e-9 * max(loads), loads
    assert len({piece["heading"]["pit"]["humidity_ratio"] for piece in p["pieces"]}) == 1 or max(
        piece["heading"]["pit"]["humidity_ratio"] for piece in p["pieces"]) - min(
        piece["heading"]["pit"]["humidity_ratio"] for piece in p["pieces"]) < 1e-12
    rows = p["timetable"]
    order = [row["half_by"]["before_serving_s"] for row in rows]
    assert order == sorted(order, reverse=True) and rows[0]["event"] == "fire" and rows[-1]["event"] == "serve", order
    assert [row["piece"] for row in rows if row["event"] in ("fire", "serve")] == [None, None]
    on = {row["piece"]: row["half_by"]["before_serving_s"] for row in rows if row["event"] == "meat_on"}
    assert on == {piece["label"]: piece["plan"]["starts"]["recommended"]["before_serving_s"] for piece in p["pieces"]}, on
    heat_up = [piece["plan"]["timetable"][0]["half_by"]["before_serving_s"] - on[piece["label"]] for piece in p["pieces"]]
    assert abs(order[0] - max(on.values()) - heat_up[0]) < 1, (order[0], on, heat_up)
    for label in labels:
        assert [row["event"] for row in rows if row["piece"] == label].count("pull") == 1, label


def loads(path, *own):
    """Of each piece as many are in the pit as its file says; others count by their surface, the power 2/3 of the mass."""
    pieces_ = load(path)["plan_of_pieces"]["pieces"]
    masses = [piece["heading"]["meat"]["mass_kg"] for piece in pieces_]
    for piece, mass in zip(pieces_, masses):
        expected = sum(int(count) * (other / mass) ** (2 / 3) for count, other in zip(own, masses))
        assert abs(piece["pit_pieces"] - expected) < 1e-9, (piece["label"], piece["pit_pieces"], expected)
        # Other wraps and pits share a third of the draws.
        assert all(choice["draws"] == piece["plan"]["draws"] // 3 // len(pieces_) for choice in piece["plan"]["compared"])


def rest_of_piece(path, number, seconds):
    """The rest is that of the piece's own file, in every draw; the timetable rounds to five minutes."""
    rows = {row["event"]: row for row in load(path)["plan_of_pieces"]["pieces"][int(number)]["plan"]["timetable"]}
    for key in ("one_in_ten_by", "half_by", "nine_in_ten_by"):
        rest = rows["pull"][key]["before_serving_s"] - rows["ready"][key]["before_serving_s"]
        assert abs(rest - int(seconds)) <= 300, (key, rest)


def start_of_piece(path, number):
    """What makes the cook of a piece that of the plan."""
    piece = load(path)["plan_of_pieces"]["pieces"][int(number)]
    print(f"--set pit.pieces={piece['pit_pieces']!r}")


def replayed_piece(path, number, cook):
    median = load(path)["plan_of_pieces"]["pieces"][int(number)]["plan"]["choices"][0]
    choice = load(cook)["choices"][0]
    assert abs(choice["done_s"] - median["done_s"]) < 1, (choice["done_s"], median["done_s"])


def moments(path):
    """Moments with a date: the clock's seconds are those before serving."""
    p = load(path)["plan"]
    serving = p["serving"]["unix_s"]
    fire, on = p["timetable"][0], p["timetable"][1]
    assert fire["event"] == "fire" and fire["half_by"]["unix_s"] == on["half_by"]["unix_s"] - 75 * 60, "the fire is not lit pit.heat_up before"
    for row in p["timetable"]:
        for key in ("one_in_ten_by", "half_by", "nine_in_ten_by"):
            assert abs(serving - row[key]["unix_s"] - row[key]["before_serving_s"]) < 1, row


def start(path):
    """The clock time and hold of the recommended start, for replaying it by hand."""
    p = load(path)["plan"]
    lead = p["starts"]["recommended"]["before_serving_s"]
    minutes = round((13 * 3600 - lead) / 60)
    days = -(minutes // 1440)
    print(f"--set start={minutes % 1440 // 60:02d}:{minutes % 60:02d} --set hold.until=13:00+{days}day")


def replayed(path, cook):
    """The cook of that start is the median one: not late, and the same."""
    median = load(path)["plan"]["choices"][0]
    choice = load(cook)["choices"][0]
    assert choice["late_s"] == 0, choice["late_s"]
    assert abs(choice["done_s"] - median["done_s"]) < 1, (choice["done_s"], median["done_s"])
    assert abs(choice["yield_fraction"] - median["yield_fraction"]) < 1e-3


def calendar(path, events):
    """What libical reads back: each row of the timetable at its second, in the zone that was asked for, with its alarms."""
    document = load(path)
    rows = (document.get("plan") or document["plan_of_pieces"])["timetable"]
    with open(events, encoding="utf-8") as file:
        read = [line.rstrip("\n").split("\t") for line in file]
    assert len(read) == len(rows), (len(read), len(rows))
    for row, (start, end, zone, alarms, summary) in zip(rows, read):
        assert int(start) == row["one_in_ten_by"]["unix_s"] and int(end) == row["nine_in_ten_by"]["unix_s"], (row, start, end)
        assert zone == "Europe/Berlin", zone
        assert int(alarms) == (row["event"] not in ("stall_start", "stall_end", "ready")), (row["event"], alarms)
        assert summary, row


if __name__ == "__main__":
    {"plan": plan, "moments": moments, "start": start, "replayed": replayed, "calendar": calendar, "pieces": pieces, "start-of-piece": start_of_piece,
     "replayed-piece": replayed_piece, "loads": loads, "rest-of-piece": rest_of_piece}[sys.argv[1]](*sys.argv[2:])
