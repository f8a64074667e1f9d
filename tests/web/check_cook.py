# SPDX-License-Identifier: BSD-3-Clause
"""A cook from planning to slicing: check_cook.py PAGE PROGRAM READ_CALENDAR FOLDER"""
import datetime
import os
import re
import subprocess
import sys

ZONE = "Europe/Lisbon"
os.environ["TZ"] = ZONE  # of the browser too

from page import Page, program, same  # noqa: E402


def next_change_of_clocks():
    """The next Sunday on which summer time begins or ends in Europe: the last of March or October."""
    day = datetime.date.today() + datetime.timedelta(days=2)
    while not (day.month in (3, 10) and day.weekday() == 6 and day.day > 24):
        day += datetime.timedelta(days=1)
    return day.isoformat()


def moments(plan):
    """All moments that a plan tells, with what they are."""
    found = [(row["event"], row[key]) for row in plan["timetable"] for key in ("one_in_ten_by", "half_by", "nine_in_ten_by")]
    return found + [(key, plan["starts"][key]) for key in ("latest", "earliest", "recommended")]


def check_plan(page, path):
    """The plan of the program, over midnight and through a change of the clocks."""
    date = next_change_of_clocks()
    page.type("serve-date", date)
    page.type("serve-time", "13:00")
    page.click("button[data-view=when]")
    status = page.settled()
    assert status.startswith("Meat on Sat"), status
    mine = page.run("when.told.plan")
    # The demo's own scenario is what the page begins with, but for the holds.
    its = program(path, "plan", "-q", "--format", "json", "--date", date, "--timezone", ZONE, "--draws", "30", "--set", "serving.time=13:00", "--set",
                  "serving.hold_at_least=1h", "--set", "serving.hold_at_most=8h")["plan"]
    assert len(moments(mine)) == len(moments(its)) > 15
    for (what, one), (other_what, other) in zip(moments(mine), moments(its)):
        assert what == other_what and one["words"] == other["words"] and one["unix_s"] == other["unix_s"], (what, one, other)
    assert same(mine["in_time"]["share"], its["in_time"]["share"]) and len(mine["compared"]) == len(its["compared"]) > 3
    for one, other in zip(mine["compared"], its["compared"]):
        assert one["wrap"] == other["wrap"] and same(one["starts"]["latest"]["before_serving_s"], other["starts"]["latest"]["before_serving_s"])
    shown = page.text("#timetable")
    for row in mine["timetable"]:
        assert row["half_by"]["words"] in shown, (row, shown)
    page.type("odds", "0.95")
    page.settled()
    assert page.run("when.told.plan.starts.latest.before_serving_s") >= mine["starts"]["latest"]["before_serving_s"]
    page.type("hold-most", "0.5")
    page.settled()
    assert "hold_at_" in page.trouble(), page.trouble()
    page.type("hold-most", "8")
    page.type("serve-date", "2020-01-01")
    page.settled()
    assert "is past" in page.text("#plan-cautions"), page.text("#plan-cautions")
    page.type("serve-date", date)
    page.type("odds", "0.9")
    page.settled()


def check_sheet(page, folder):
    """The plan prints on one sheet, of either size of paper, with what it is of."""
    for units, size in (("si", (8.27, 11.69)), ("us", (8.5, 11))):
        page.click(f"input[name=units][value={units}]")
        page.settled()
        path = os.path.join(folder, f"plan_{units}.pdf")
        page.print(path, paperWidth=size[0], paperHeight=size[1])
        with open(path, "rb") as file:
            pages = len(re.findall(rb"/Type\s*/Page\b(?!s)", file.read()))
        assert pages == 1, f"the plan has {pages} sheets"
    page.click("input[name=units][value=si]")
    page.settled()
    page.call("Emulation.setEmulatedMedia", media="print")
    shown = page.text("#view-when")
    page.call("Emulation.setEmulatedMedia", media="")
    for words in (page.text("#plan-start"), "whole trimmed brisket, 6.5 kg; offset pit at 121 °C; no wrap. To be served at 13:00", "light the fire", "slice and serve"):
        assert words in shown, (words, shown)


def check_calendar(page, reader, folder):
    """libical reads as many events as the timetable has, at its moments."""
    path = os.path.join(folder, "cook.ics")
    with open(path, "w", encoding="utf-8", newline="") as file:
        file.write(page.run("calendarOf(when.told, 1790000000)"))
    with open(path, "rb") as file:
        assert all(len(line) <= 76 and line.endswith(b"\r") for line in file.read().split(b"\n")[:-1])
    read = subprocess.run([reader, path], capture_output=True, text=True)
    assert read.returncode == 0, read.stderr
    rows = page.run("when.told.plan.timetable")
    events = [line.split("\t") for line in read.stdout.strip().splitlines()]
    assert len(events) == len(rows), read.stdout
    for row, what, (start, end, zone, _, summary) in zip(rows, page.run("when.told.rows.map((row) => row.what)"), events):
        last = row["nine_in_ten_by"]["unix_s"]
        assert (int(start), int(end), zone, summary.lower()) == (row["one_in_ten_by"]["unix_s"], last, "UTC", what), (row, start, end, zone, summary)
    page.type("serve-date", "")
    page.settled()
    assert page.run("document.getElementById('save-calendar').disabled") and "day is needed" in page.text("#calendar-words")


def ago(page, field, hours):
    page.run(f"(() => {{ const d = new Date(Date.now() - {hours} * 3600e3), two = (n) => String(n).padStart(2, '0');"
             f"document.getElementById('{field}').value = `${{two(d.getHours())}}:${{two(d.getMinutes())}}`; }})()")


def add(page, hours, button, field=None, value=None):
    ago(page, "at-time", hours)
    if field:
        page.type(field, value)
    page.click(button)
    page.settled()


def check_events(page):
    """What is not possible is said; what was done is undone."""
    page.click("button[data-view=during]")
    page.settled()
    page.click("#add-lid")
    assert "when the meat went on" in page.trouble()
    ago(page, "on-time", 6.5)
    page.click("#on-button")
    page.settled()
    assert not page.trouble(), page.trouble()
    add(page, 8, "#add-reading", "reading", "50")
    assert "before the meat went on" in page.trouble()
    add(page, 1, "#add-reading", "reading", "warm")
    assert "not a number" in page.trouble()
    assert page.run("['held', 'sliced'].every((step) => document.getElementById(`add-${step}`).hidden)"), "a step is offered before the one before it"
    add(page, 1, "#add-off")
    assert page.run("document.getElementById('add-off').hidden") and page.run("stage()") == "resting"
    add(page, 2, "#add-held")
    assert "before the step" in page.trouble() and page.run("stage()") == "resting"
    page.click("#undo")
    page.settled()
    assert page.run("stage()") == "on"
    for value in ("paper", "open-tray", "closed-foil"):
        add(page, 1, "#add-wrapped", "wrapped", value)
    assert "no third" in page.trouble() and page.run("under.entries.length") == 2
    page.click("#undo")
    page.settled()
    page.click("#undo")
    page.settled()
    assert page.run("under.entries.length") == 0 and not page.trouble()


def check_under_way(page, path, folder):
    """Readings bend the curve as in the program, which reads the scenario and the log that the page saves."""
    before = page.run("under.told.track.choices[0].done_s.middle")
    for hours, celsius in ((4.5, "38"), (2.5, "61"), (0.5, "64.5")):
        add(page, hours, "#add-reading", "reading", celsius)
    add(page, 0.8, "#add-wrapped", "wrapped", "paper")
    add(page, 0.2, "#add-pit", "pit-set", "135")
    add(page, 0.1, "#add-lid")
    for hours in (1.5, 1.0):
        add(page, hours, "#add-spritzed")
    assert "Spritzing is every 30 min" in page.text("#track-says"), page.text("#track-says")
    assert not page.trouble(), page.trouble()
    assert page.run("under.told.track.choices[0].done_s.middle") != before
    page.run("Object.assign(effort, { track: [[200, 50]] }); update()")
    page.settled()
    scenario, log = os.path.join(folder, "scenario.yaml"), os.path.join(folder, "log.csv")
    for name, text in ((scenario, "scenarioFile()"), (log, "logText()")):
        with open(name, "w", encoding="utf-8") as file:
            file.write(page.run(text))
    last = page.run("lastKnown()")
    its = program(path, "track", "-q", scenario, "--log", log, "--serve", "13:00", "--format", "json")
    mine = page.run("under.told.track")
    assert mine["start_clock_s"] == its["start_clock_s"] and len(mine["readings"]) == len(its["readings"]) == 3
    page.run(f"bench.call('track', underWaySettings(), happened(), {its['now_s']}, servingAfter(secondsOfDay(under.on)), 200, 50)"
             ".then((told) => { window.told = told.track; })")
    mine = page.run("window.told")
    assert its["now_s"] >= last and len(mine["choices"]) == len(its["choices"]) >= 2, (its["now_s"], last, mine["choices"], its["choices"])
    for one, other in zip(mine["choices"], its["choices"]):
        assert one["choice"] == other["choice"]
        for key in ("low", "middle", "high"):
            assert same(one["done_s"][key], other["done_s"][key]), (one, other)
        assert same(one["in_time_share"], other["in_time_share"])
    page.run("Object.assign(effort, { track: [[20, 10]] })")
    assert "Off the pit" in page.text("#big-figures") and page.text("#big-figures").count(":") >= 3
    page.click("#big-button")
    tall = page.run("document.querySelector('#big-figures .figure').getBoundingClientRect().height")
    assert tall >= 48 and page.run("getComputedStyle(document.querySelector('header')).display") == "none"
    page.picture(os.path.join(folder, "large.png"))
    page.click("#big-button")
    page.whole_picture(os.path.join(folder, "during.png"), 390)


def check_alarms(page):
    """What is due is told once, in the title too; what is not due is not."""
    done = page.run("under.told.track.choices[0].done_s.middle")
    page.run(f"ring({done - 3600})")
    assert page.text("#alarms") == "" and page.run("document.title") == "stallwright: plan a long cook"
    page.run(f"ring({done - 1700}); ring({done - 1600})")
    assert page.text("#alarms").count("Half an hour or less") == 1 and page.run("document.title").startswith("! Half an hour")
    page.click("#alarms-seen")
    assert page.text("#alarms") == "" and not page.run("document.title").startswith("!")
    # As if it had a wrap planned and a probe that had fallen.
    page.run("window.had = { told: under.told, entries: under.entries }; under.told = JSON.parse(JSON.stringify(under.told)); under.entries = [];"
             "Object.assign(under.told.track.wrap_s, { low: 100, high: 900 }); under.told.track.measured_safety.fall_back = 'not met'; ring(200)")
    assert "Time to wrap" in page.text("#alarms") and "57.3 C" in page.text("#alarms"), page.text("#alarms")
    page.run("Object.assign(under, window.had); silence()")


def sizes(page):
    """What a page that is left open must not gather: nodes, listeners, what its scripts hold [MB] and the memory of a worker."""
    page.call("HeapProfiler.collectGarbage")
    found = {one["name"]: one["value"] for one in page.call("Performance.getMetrics")["metrics"]}
    return {"nodes": found["Nodes"], "listeners": found["JSEventListeners"], "heap": found["JSHeapUsedSize"] / 1e6}


def check_sliced(page, native, folder, done):
    """Off the pit, rested, held and sliced: told as it was; the program reads the whole log and takes for the cook what was before."""
    big, told = page.text("#big-figures"), page.text("#after-says")
    assert "Sliced" in big and "yes" in big and page.text("#state").startswith("Sliced at"), (big, page.text("#state"))
    off, held, sliced = (page.run(f"whenDone('{step}')") for step in ("off", "held", "sliced"))
    for words in (f"Off the pit at {page.run(f'wallClock({off})')}", "Rested 30 min", f"Sliced at {page.run(f'wallClock({sliced})')}", "held 3 h"):
        assert words in told, (words, told)
    phases = page.run("under.told.after.phases")
    for name, begin, end in (("rest", off, held), ("hold", held, sliced)):
        phase = next(one for one in phases if one["phase"] == name)
        assert abs(phase["start_s"] - begin) < 1 and abs(phase["end_s"] - end) < 1, (phase, begin, end)
    assert page.run("document.getElementById('choices').hidden && ['off', 'held', 'sliced'].every((s) => document.getElementById(`add-${s}`).hidden)")
    scenario, log = os.path.join(folder, "whole.yaml"), os.path.join(folder, "whole.csv")
    for name, text in ((scenario, "scenarioFile()"), (log, "logText()")):
        with open(name, "w", encoding="utf-8") as file:
            file.write(page.run(text))
    its = program(native, "track", "-q", scenario, "--log", log, "--format", "json")
    mine = page.run("under.told.track")
    assert its["now_s"] == mine["now_s"] == off and len(its["readings"]) == len(mine["readings"]) == page.run(f"entriesOf('reading').filter((e) => e.time <= {off}).length")
    assert its["measured_safety"]["fall_back"] == "met" and same(its["measured_safety"]["lowest_since_hot_k"], mine["measured_safety"]["lowest_since_hot_k"])
    assert not its["doubts"]["falling"] and not [line for line in its["doubts"]["log"] if "left out" in line["sentence"]], its["doubts"]
    # Undone, it is in the hold again, and one that fell there is told by both.
    page.click("#undo")
    page.settled()
    assert page.run("stage()") == "holding" and "Slice" in page.text("#big-figures"), page.text("#big-figures")
    page.type("reading", "50")
    page.click("#add-reading")
    page.settled()
    assert "NO" in page.text("#big-figures"), page.text("#big-figures")
    page.run("tick()")
    assert "fell below" in page.text("#alarms"), page.text("#alarms")
    with open(log, "w", encoding="utf-8") as file:
        file.write(page.run("logText()"))
    assert program(native, "track", "-q", scenario, "--log", log, "--format", "json")["measured_safety"]["fall_back"] == "not met"
    page.click("#undo")
    page.click("#add-sliced")
    page.settled()


def check_whole_cook(page, path, native, folder):
    """From planning to slicing, seventeen hours by the page's clock and left open all the time: each reading is answered, alarms ring in
    their turn, it comes off when the probe says so, is rested, held and sliced, and nothing grows."""
    page.set_before(shift=0)
    page.open(path)
    page.settled()
    page.hurry()
    page.run("localStorage.clear(); beginCook()")
    page.type("wrap", "paper")
    page.type("wrap-by", "temperature")
    page.type("wrap-probe", "68")
    page.type("pit-temperature", "118")
    page.type("hold-hours", "3")
    page.click("button[data-view=when]")
    assert page.settled().startswith("Meat on"), page.settled()
    page.click("button[data-view=during]")
    page.settled()
    page.click("#on-button")
    page.settled()
    # The meat that is cooked is a little heavier than was said: the page does not know.
    page.run("(async () => { const s = { ...settingsOf(), 'meat.mass': 6.9, 'wrap.kind': 'none' }; delete s['wrap.when'];"
             "window.truth = (await bench.call('cook', s, [], 400, 0)).cook; })()")
    truth = page.run("[window.truth.time_s, window.truth.probe_k, window.truth.done_s]")
    done, hours, seen, wrapped, stages = truth[2] / 3600, 0.0, [], None, []
    probe = lambda hour: next(k for s, k in zip(truth[0], truth[1]) if s >= min(3600 * hour, truth[0][-1]))  # noqa: E731
    page.call("Performance.enable")
    alarms, stages_at = [], {}
    while hours < 17:
        hours += 0.5
        for _ in range(6):  # five minutes each
            page.run("window.shift += 300e3; tick()")
        if "sliced" not in stages:
            page.type("reading", f"{probe(hours) - 273.15:.1f}")
            page.click("#add-reading")
            status = page.settled()
            assert not page.trouble() and page.run("bench.benches.every((b) => b.waiting.size === 0)"), (hours, status)
            assert status.startswith(("Off the pit", "Done: take it off", "In the hold")), (hours, status)
        step = "off" if hours >= done else None
        step = "held" if "off" in stages and hours - stages_at["off"] >= 0.5 else step
        step = "sliced" if "held" in stages and hours - stages_at["held"] >= 3 else step
        if step and step not in stages:
            page.click(f"#add-{step}")
            page.settled()
            assert not page.trouble() and page.run("stage()") == {"off": "resting", "held": "holding", "sliced": "over"}[step], page.trouble()
            stages.append(step)
            stages_at[step] = hours
            page.whole_picture(os.path.join(folder, f"{step}.png"), 390)
            page.size(390, 844)
        rung = page.text("#alarms")
        for words in ("Time to wrap", "Half an hour or less", "fell below", "rest is over", "To be sliced"):
            if words in rung and words not in alarms:
                alarms.append(words)
                page.click("#alarms-seen")
        if "Time to wrap" in alarms and not wrapped:
            wrapped = hours
            page.type("wrapped", "paper")
            page.click("#add-wrapped")
            page.settled()
            page.whole_picture(os.path.join(folder, "wrapped.png"), 390)
            page.size(390, 844)
        seen.append(sizes(page))
    assert stages == ["off", "held", "sliced"], stages
    assert wrapped and alarms == ["Time to wrap", "Half an hour or less", "rest is over", "To be sliced"], (wrapped, alarms)
    assert "ago" in page.text("#age-words") and page.run("lastKnown()") >= 3600 * (done - 0.5), page.text("#age-words")
    check_sliced(page, native, folder, done)
    page.whole_picture(os.path.join(folder, "done.png"), 390)
    assert page.run("under.entries.length > 25 && document.querySelectorAll('#entries li').length") <= 13, "all entries are on the page"
    # Once there are as many entries as are shown, nothing more is gathered; the list of readings itself has a few bytes each.
    early, late = seen[len(seen) // 2], seen[-1]
    assert late["nodes"] <= early["nodes"] * 1.1 and late["listeners"] <= early["listeners"] + 5, (early, late)
    assert late["heap"] < early["heap"] * 1.15 + 1, (early, late)
    grown = page.run("""(() => { const own = new Library(bench.first.module, { progress() {}, count() {} }), sizes = [];
      for (let i = 0; i < 5; i++) {
        own.track(underWaySettings(), happened(), lastKnown(), NaN, 20, 0);
        own.bandPart(settingsOf(), 10, 0, 11);
        own.writeScenario(underWaySettings(), false);
        sizes.push(own.machine.calls.memory.buffer.byteLength);
      }
      return sizes; })()""")
    assert grown[1] == grown[-1], grown
    print(f"{hours:.0f} h by the page's clock: done after {done:.1f} h, wrapped at {wrapped:.1f} h; nodes {early['nodes']:.0f} to {late['nodes']:.0f}, "
          f"heap {early['heap']:.1f} to {late['heap']:.1f} MB, a worker's memory {grown[-1] / 1e6:.1f} MB")


def main():
    path, native, reader, folder = sys.argv[1:]
    os.makedirs(folder, exist_ok=True)
    page = Page(path)
    page.hurry()
    try:
        check_plan(page, native)
        check_sheet(page, folder)
        check_calendar(page, reader, folder)
        check_events(page)
        check_under_way(page, native, folder)
        check_alarms(page)
        check_whole_cook(page, path, native, folder)
        page.assert_quiet()
        print("cook: plan, calendar, readings and events as the program has them")
    finally:
        page.close()


main()
