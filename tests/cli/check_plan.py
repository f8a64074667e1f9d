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
    assert not missing, f"docs/json-output.md does not name {sorted(missing)}"
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


def moments(path):
    """Moments with a date: the clock's seconds are those before serving."""
    p = load(path)["plan"]
    serving = p["serving"]["unix_s"]
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
    rows = load(path)["plan"]["timetable"]
    with open(events, encoding="utf-8") as file:
        read = [line.rstrip("\n").split("\t") for line in file]
    assert len(read) == len(rows), (len(read), len(rows))
    for row, (start, end, zone, alarms, summary) in zip(rows, read):
        assert int(start) == row["one_in_ten_by"]["unix_s"] and int(end) == row["nine_in_ten_by"]["unix_s"], (row, start, end)
        assert zone == "Europe/Berlin", zone
        assert int(alarms) == (row["event"] not in ("stall_start", "stall_end", "ready")), (row["event"], alarms)
        assert summary, row


if __name__ == "__main__":
    {"plan": plan, "moments": moments, "start": start, "replayed": replayed, "calendar": calendar}[sys.argv[1]](*sys.argv[2:])
