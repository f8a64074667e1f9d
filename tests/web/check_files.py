# SPDX-License-Identifier: BSD-3-Clause
"""Scenario files and logs on the page are the program's: check_files.py PAGE PROGRAM FOLDER"""
import os
import subprocess
import sys

from page import Page, program, same

# What no control shows, or not whole: damp air, cold air outside, a pit that is turned up, units of another system, 14 lb 6 oz.
SCENARIO = """title: village hall supper
start: 21:45
meat:
  cut: packer
  mass: 14 lb 6 oz
  thickness: 8.5 cm
pit:
  kind: kettle
  temperature: [{from: 0 h, temperature: 225 F}, {from: 6 h, temperature: 130 C}]
  humidity_ratio: 30 g/kg
  outside: {temperature: 41 F}
  lid: {openings: [2 h, 4 h 30 min]}

wrap: {kind: paper, when: 68 C}
rest: {until: 20 min}
hold: {until: 3 h, temperature: 150 F}
serving: {time: "13:30", people: 31}
"""

# Two probes, a pit that runs below its plan and is turned up, what was done, a reading that is missing, one before the meat is on.
LOG = """time,flat (F),pit (F),point (F),notes
21:30,70,225,70,
21:45,41,225,41,meat on
22:15,45,201,46,
22:45,61,205,64,
23:45,88,211,93,
00:45,109,,115,spritzed
01:45,126,208,133,lid
02:45,139,209,145,spritzed
03:45,149,219,154,wrapped paper
04:15,151,252,155,pit 130 C
04:45,154,253,157,danced
05:45,163,252,,
"""


def written(folder, name, text, mode="w"):
    path = os.path.join(folder, name)
    with open(path, mode, **({} if "b" in mode else {"encoding": "utf-8"})) as file:
        file.write(text)
    return path


def same_cook(page, native, path):
    """What is computed for what is set is what the program says of a file."""
    mine = page.ask("cook", page.run("settingsOf()"), [], 240, 0)
    its = program(native, "cook", "-q", "--no-band", "--format", "json", path)["choices"][0]
    assert "answer" in mine, mine
    for key in ("done_s", "yield_fraction", "stall_length_s", "slice_s", "bark"):
        assert same(mine["answer"]["choice"][key], its[key]), (key, mine["answer"]["choice"][key], its[key])
    return its


def check_taken(page, native, folder):
    """A file is taken whole: what controls show, and what none does."""
    path = written(folder, "supper.yaml", SCENARIO)
    page.click("button[data-view=during]")
    page.settled()
    page.choose("#load-scenario", path)
    assert not page.trouble(), page.trouble()
    shown = {field: page.run(f"document.getElementById('{field}').value") for field in
             ("start", "cut", "mass", "thickness", "pit", "pit-temperature", "wrap", "wrap-by", "wrap-probe", "rest", "hold-by", "hold-hours", "people",
              "serve-time")}
    assert shown == {"start": "21:45", "cut": "packer", "mass": "6.52", "thickness": "8.5", "pit": "kettle", "pit-temperature": "107.2", "wrap": "paper",
                     "wrap-by": "temperature", "wrap-probe": "68", "rest": "20", "hold-by": "duration", "hold-hours": "3", "people": "31",
                     "serve-time": "13:30"}, shown
    page.click("button[data-view=before]")
    page.settled()
    told = page.text("#loaded-words")
    for key in ("pit.humidity_ratio", "pit.outside.temperature", "pit.lid.openings", "pit.temperature"):
        assert key in told, (key, told)
    assert "meat.mass" not in told and "title" in told, told
    its = same_cook(page, native, path)
    # A control counts once it is changed, and the rest of the file goes on to count.
    page.type("people", "12")
    page.type("wrap", "none")
    page.settled()
    changed = written(folder, "changed.yaml", SCENARIO.replace("people: 31", "people: 12").replace("kind: paper", "kind: none"))
    other = same_cook(page, native, changed)
    assert other["done_s"] != its["done_s"]
    page.type("pit-temperature", "135")
    page.type("thickness", "")
    page.settled()
    lines = SCENARIO.replace("kind: paper", "kind: none").replace("  thickness: 8.5 cm\n", "").replace(
        "[{from: 0 h, temperature: 225 F}, {from: 6 h, temperature: 130 C}]", "135 C")
    same_cook(page, native, written(folder, "hotter.yaml", lines))
    for wrap in page.run("now.wraps"):
        assert "error" not in wrap, wrap


def check_saved(page, native, folder):
    """What the page saves is what it computes, and is read again."""
    for us in ("us", "si"):
        page.click(f"input[name=units][value={us}]")
        page.settled()
        path = written(folder, f"saved-{us}.yaml", page.run("scenarioFile()"))
        its = same_cook(page, native, path)
        with open(path, encoding="utf-8") as file:
            assert ("275" if us == "us" else "135 C") in file.read()
    page.choose("#load-scenario", path)
    assert not page.trouble(), page.trouble()
    assert same_cook(page, native, path)["done_s"] == its["done_s"]
    page.click("#unload")
    page.settled()
    assert page.run("document.getElementById('loaded').hidden && settingsOf()['@file'] === undefined")
    assert page.run("now.told.choice.done_s") != its["done_s"], "the file goes on to count"


def check_broken(page, native, folder):
    """A file that cannot be read changes nothing, and is told with its place as the program tells it."""
    state = "JSON.stringify([keptCook(), now.told.choice])"
    before = page.run(state)
    for name, text, option in (("typo.yaml", "meat:\n  mass: 6 kg\n  mas: 5 kg\n", None), ("unit.yaml", "pit: {temperature: 250 furlongs}\n", None),
                               ("open.yaml", "meat: {mass: [\n", None), ("range.yaml", "start: 20:00\nmeat: {mass: 99 kg}\n", None),
                               ("twice.yaml", "start: 20:00\nstart: 21:00\n", None), ("list.yaml", "- a\n", None),
                               ("apart.yaml", "pit: {temperature: 100 C}\nhold: {temperature: 700 C}\n", None),
                               ("other.yaml", "pit: {temperature: no_such_log.csv}\n", None),
                               ("row.csv", "time (min),probe (C)\n0,4\n5,5,6\n", "log"), ("head.csv", "what,ever\n1,2\n", "log"),
                               ("none.csv", "", "log"), ("back.csv", "time (min),probe (C)\n9,4\nx,5\n", "log")):
        path = written(folder, name, text)
        page.choose(f"#load-{option or 'scenario'}", path)
        arguments = ["cook", "-q", path] if option is None else ["track", "-q", written(folder, "any.yaml", "start: 20:00\n"), "--log", path]
        done = subprocess.run([native, *arguments], capture_output=True, text=True)
        assert done.returncode != 0, name
        sentence = done.stderr.strip().splitlines()[0].replace(folder + "/", "").removeprefix("stallwright: ").removeprefix("error: ").rstrip(".")
        assert sentence in page.trouble(), f"{name}: page: {page.trouble()}; program: {sentence}"
        assert page.run(state) == before, f"{name} has changed the cook"
    page.choose("#load-scenario", written(folder, "image.yaml", b"\x89PNG\r\n\xff", "wb"))
    assert "no text in UTF-8" in page.trouble() and page.run(state) == before, page.trouble()
    page.choose("#load-log", written(folder, "long.csv", "x" * ((1 << 20) + 1)))
    assert "at most 1048576" in page.trouble() and page.run(state) == before, page.trouble()


def same_track(page, native, scenario, log, readings):
    """The page's answer is the program's, from the same scenario and log."""
    its = program(native, "track", "-q", scenario, "--log", log, "--serve", "13:30", "--format", "json")
    page.run(f"(async () => {{ window.mine = await bench.call('track', underWaySettings(), happened(), {its['now_s']}, {15.75 * 3600}, 200, 50); }})()")
    mine = page.run("window.mine.track")
    assert mine["start_clock_s"] == its["start_clock_s"] and len(mine["readings"]) == len(its["readings"]) == readings, len(its["readings"])
    assert mine["readings"] == its["readings"] or all(same(a["probe_k"], b["probe_k"]) and a["probe"] == b["probe"] for a, b in zip(mine["readings"], its["readings"]))
    for key, names in (("done_s", ("low", "middle", "high")), ("bark", ("middle",)), ("yield_at_pull", ("middle",))):
        for one, other in zip(mine["choices"], its["choices"], strict=True):
            assert one["choice"] == other["choice"]
            for name in names:
                assert same(one[key][name], other[key][name]), (one["choice"], key, one[key], other[key])
    for one, other in zip(mine["inputs"], its["inputs"], strict=True):
        assert one["input"] == other["input"] and same(one["found"]["middle"], other["found"]["middle"]), (one, other)


def check_log(page, native, folder):
    """A log makes the readings and events that the program makes of it."""
    scenario, log = written(folder, "plain.yaml", "start: 21:45\nmeat: {mass: 6.5 kg}\nserving: {people: 24}\n"), written(folder, "log.csv", LOG)
    page.run("Object.assign(effort, { track: [[200, 50]] })")
    page.choose("#load-scenario", scenario)
    page.click("button[data-view=during]")
    page.settled()
    page.choose("#load-log", log)
    assert not page.trouble(), page.trouble()
    entries = page.run("under.entries.map((e) => [e.kind, e.time, e.value ?? null])")
    assert ["wrapped", 21600, "paper"] in entries and ["lid", 14400, None] in entries and ["spritzed", 10800, None] in entries and len(entries) == 5, entries
    told = page.text("#log-words")
    assert "21 readings of flat and point; its pit column drives the pit; 5 events" in told and "danced" in told and "line 3 says so" in told, told
    assert "Spritzing is every 2 h 00 min" in page.text("#track-says") and "The pit follows the log" in page.text("#track-says"), page.text("#track-says")
    on = page.run("new Date(under.on).toTimeString().slice(0, 5)")
    assert on == "21:45" and 28800e3 - 60e3 < page.run("Date.now() - under.on") < 28800e3 + 86400e3, on
    same_track(page, native, scenario, log, 21)
    its = program(native, "track", "-q", scenario, "--log", log, "--serve", "13:30", "--format", "json")
    # Pit and second probe count: without one of them it is another cook.
    for name, left in (("no-pit.csv", 2), ("one-probe.csv", 3)):
        rows = (row.split(",") for row in LOG.strip().splitlines())
        less = written(folder, name, "\n".join(",".join(row[:left] + row[left + 1:]) for row in rows) + "\n")
        other = program(native, "track", "-q", scenario, "--log", less, "--serve", "13:30", "--format", "json")
        assert not same(other["choices"][0]["done_s"]["middle"], its["choices"][0]["done_s"]["middle"]), name
    # A reading of the second probe by hand is one of the log's; what the page saves says the same.
    page.type("reading-probe", "1")
    page.type("at-time", "05:40")
    page.type("reading", "70.5")
    page.click("#add-reading")
    page.settled()
    page.type("at-time", "05:44")
    page.type("pit-set", "125")
    page.click("#add-pit")
    page.settled()
    assert "second probe 70.5 C" in page.text("#entries") and not page.trouble(), page.text("#entries")
    saved = written(folder, "saved.csv", page.run("logText()"))
    same_track(page, native, scenario, saved, 22)
    page.run("(() => { window.before = under.told.track.choices; under.on = null; })()")
    page.choose("#load-log", saved)
    assert not page.trouble() and page.run("under.log.names.join()") == "flat,point" and page.run("under.entries.length") == 6, page.trouble()
    for one, other in zip(page.run("under.told.track.choices"), page.run("window.before"), strict=True):
        assert all(same(one["done_s"][key], other["done_s"][key]) for key in ("low", "middle", "high")), f"what was saved is another cook: {one}, {other}"
    for _ in range(7):
        page.click("#undo")
        page.settled()
    assert page.run("under.entries.length === 0 && under.log === null && document.getElementById('undo').disabled")
    # Elapsed times: the last row is now, or as the meat went on.
    page.run("under.on = null")
    page.choose("#load-log", written(folder, "elapsed.csv", "time (min),probe 1,probe 2\n0,5,5\n60,20,21\n120,35,30\n"))
    assert abs(page.run("Date.now() - under.on") - 7200e3) < 60e3 and "6 readings of probe 1 and probe 2;" in page.text("#log-words"), page.text("#log-words")
    assert page.run("under.log.rows[0][1]") == 5 + 273.15
    page.click("input[name=units][value=us]")
    page.settled()
    page.choose("#load-log", os.path.join(folder, "elapsed.csv"))
    assert abs(page.run("under.log.rows[2][1]") - ((35 - 32) / 1.8 + 273.15)) < 1e-9
    page.click("input[name=units][value=si]")
    page.settled()


def check_two_wraps(page, native, folder):
    """A wrap and another after it, as the program has them."""
    page.run("Object.assign(under, { on: Date.now() - 9 * 3600e3, told: null, log: null, entries: [[2, 313], [6, 338]].map(([h, k]) => ({ kind: 'reading', time: 3600 * h, value: k })) })")
    page.run("under.entries.push({ kind: 'wrapped', time: 18000, value: 'paper' }, { kind: 'wrapped', time: 25200, value: 'closed-foil' })")
    scenario, log = written(folder, "wraps.yaml", page.run("scenarioFile()")), written(folder, "wraps.csv", page.run("logText()"))
    same_track_words = page.ask("track", page.run("underWaySettings()"), page.run("happened()"), 25200, 60000, 30, 0)["answer"]["says"]
    its = program(native, "track", "-q", scenario, "--log", log, "--serve", "13:30", "--format", "json")
    told = [sentence["sentence"] for sentence in its["sentences"] if sentence["about"] == "wrap"]
    mine = ["".join(str(value) for _, value in prose) for about, prose in same_track_words if about == "wrap"]
    assert mine == told and "paper" in told[0], (mine, told)
    page.run(f"bench.call('track', underWaySettings(), happened(), {its['now_s']}, {15.75 * 3600}, 200, 50).then((told) => {{ window.mine = told.track; }})")
    # Two readings leave the draws far apart, so that quantiles move more than figures do; far less than by a wrap that is lost.
    one, other = page.run("window.mine.choices[0].done_s.middle"), its["choices"][0]["done_s"]["middle"]
    page.run("under.entries.pop()")
    page.run(f"bench.call('track', underWaySettings(), happened(), {its['now_s']}, {15.75 * 3600}, 200, 50).then((told) => {{ window.mine = told.track; }})")
    lost = page.run("window.mine.choices[0].done_s.middle")
    assert abs(one - other) < 0.01 * abs(lost - other) and abs(lost - other) > 1800, (one, other, lost)


def main():
    path, native, folder = sys.argv[1:]
    os.makedirs(folder, exist_ok=True)
    page = Page(path)
    page.hurry()
    try:
        check_taken(page, native, folder)
        check_saved(page, native, folder)
        check_broken(page, native, folder)
        check_log(page, native, folder)
        check_two_wraps(page, native, folder)
        page.assert_quiet()
        print("files: scenarios and logs as the program has them, broken ones change nothing")
    finally:
        page.close()


main()
