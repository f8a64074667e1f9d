# SPDX-License-Identifier: BSD-3-Clause
"""What the page keeps, and that it says so only if it is true: check_kept.py PAGE PROGRAM FOLDER"""
import json
import os
import subprocess
import sys

from page import Page, program, same


def under_way(page, hours, readings):
    """As if the meat had gone on so long ago, with readings after so many hours."""
    page.run(f"Object.assign(under, {{ on: Date.now() - {hours} * 3600e3, told: null, entries: {json.dumps(readings)}.map(([h, c]) => "
             "({ kind: 'reading', time: 3600 * h, value: c + 273.15 })) }); update()")
    page.settled()


def names(page):
    return page.run("[...document.getElementById('cook-list').options].map((o) => o.text.replace(/ [(].*/, ''))")


def check_reload(page, path):
    page.type("mass", "5.25")
    page.settled()
    under_way(page, 6, [[2, 40], [4, 62]])
    assert page.text("#kept-words").endswith("is kept in this browser."), page.text("#kept-words")
    kept = page.run("JSON.stringify(keptCook())")
    page.open(path)
    page.settled()
    page.hurry()
    assert page.run("JSON.stringify(keptCook())") == kept and page.run("under.entries.length") == 2
    assert page.run("document.getElementById('mass').value") == "5.25"


def check_several(page, path):
    """Named, begun, switched to, deleted, brought back."""
    page.type("cook-name", "hall supper")
    page.settled()
    page.click("#new-cook")
    page.settled()
    assert page.run("under.entries.length === 0 && under.on === null") and page.run("document.getElementById('mass').value") == "5.25"
    page.type("mass", "3")
    page.type("cook-name", "<b>small & early</b>")
    page.settled()
    assert names(page) == ["<b>small & early</b>", "hall supper"], names(page)
    first = page.run("document.getElementById('cook-list').options[1].value")
    page.type("cook-list", first)
    page.settled()
    assert page.run("document.getElementById('mass').value") == "5.25" and page.run("under.entries.length") == 2
    page.open(path)
    page.settled()
    page.hurry()
    assert page.text("#cook-shown") == "hall supper" and len(names(page)) == 2
    page.click("#delete-cook")
    page.settled()
    assert page.text("#cook-shown") == "<b>small & early</b>" and names(page) == ["<b>small & early</b>"], names(page)
    assert page.run("document.getElementById('undo-delete').textContent").find("hall supper") > 0
    page.click("#undo-delete")
    page.settled()
    assert page.text("#cook-shown") == "hall supper" and len(names(page)) == 2 and page.run("under.entries.length") == 2
    assert page.run("document.getElementById('undo-delete').hidden")
    for _ in range(2):
        page.click("#delete-cook")
        page.settled()
    assert len(names(page)) == 1 and "Cook of " in page.text("#cook-shown"), names(page)
    page.click("#undo-delete")
    page.settled()


def check_tabs(page, path):
    """Two tabs: each shows what the other wrote, and one that comes too late writes nothing."""
    page.type("cook-name", "shared")
    page.type("mass", "4")
    page.settled()
    other = page.another_tab(path, shift=0)
    other.hurry()
    try:
        assert other.text("#cook-shown") == "shared"
        page.type("mass", "4.5")
        page.settled()
        other.settled()
        assert other.run("document.getElementById('mass').value") == "4.5" and "Another tab changed" in other.text("#tabs-words")
        other.run("window.deaf = true")
        page.type("mass", "7")
        page.settled()
        assert other.run("document.getElementById('mass').value") == "4.5"
        other.type("people", "50")
        other.settled()
        assert other.run("document.getElementById('mass').value") == "7" and other.run("document.getElementById('people').value") != "50"
        assert "not kept" in other.text("#tabs-words"), other.text("#tabs-words")
        page.open(path)
        page.settled()
        assert page.run("document.getElementById('mass').value") == "7" and page.run("document.getElementById('people').value") != "50"
        other.run("window.deaf = false")
        other.type("people", "40")
        other.settled()
        page.settled()
        assert page.run("document.getElementById('people').value") == "40" and other.run("document.getElementById('tabs-words').hidden")
        other.run("localStorage.removeItem(KEPT_UNDER + current.id)")
        page.settled()
        assert "deleted this cook" in page.text("#tabs-words") and page.run("document.getElementById('people').value") == "40"
        page.type("people", "41")
        page.settled()
        assert page.run("remembered(current.id).fields.people") == "41"
        other.assert_quiet()
    finally:
        other.call("Page.close")
        other.socket.close()


def check_full(page, path):
    """A storage without room: what was not kept is not said to be, on any view."""
    page.run("""(() => { let size = 1 << 22, text = ''; while (size >= 1) { try { localStorage.setItem('filler', text + 'x'.repeat(size)); text += 'x'.repeat(size); }
      catch { /* not so much */ } size = Math.floor(size / 2); } })()""")
    page.type("mass", "6.123456789")
    page.run("under.entries = Array.from({ length: 40 }, (_, i) => ({ kind: 'lid', time: 60 * i })); update()")
    page.settled()
    for view in ("before", "when", "why", "safety"):
        page.click(f"button[data-view={view}]")
        page.settled()
        assert "NOT kept as it is now: the storage of this browser is full" in page.text("#kept-words"), page.text("#kept-words")
        assert page.run("[...document.querySelectorAll('.take-along')].every((b) => b.offsetParent)")
    page.run("localStorage.removeItem('filler'); under.entries = []; update()")
    page.click("button[data-view=before]")
    page.settled()
    assert page.text("#kept-words").endswith("is kept in this browser.")
    # A storage that takes what is written and has forgotten it.
    page.run("window.granted = Storage.prototype.setItem; Storage.prototype.setItem = () => {}")
    page.type("mass", "6")
    page.settled()
    assert "NOT kept" in page.text("#kept-words"), "says it was kept though it was not"
    page.run("Storage.prototype.setItem = window.granted; update()")
    page.settled()
    assert page.run("remembered(current.id).fields.mass") == "6"


def check_broken(page, path):
    """What cannot be read is passed over, and left where it is."""
    key = page.run("KEPT_UNDER + current.id")
    for broken in ("{", "[]", "null", '{"version":2,"name":"x","fields":{},"units":"si","on":0,"entries":[{"kind":"reading","time":1,"value":"<b>"}]}',
                   '{"version":1,"fields":{}}'):
        page.run(f"localStorage.clear(); localStorage.setItem({json.dumps(key)}, {json.dumps(broken)})")
        page.open(path)
        assert page.settled().startswith("Off the pit") and page.run("under.entries.length") == 0, broken
        assert page.run(f"localStorage.getItem({json.dumps(key)})") == broken
    page.run("localStorage.clear()")


def check_refused(path):
    """Without storage that is said at once, and the files are offered."""
    page = Page(path, refused=True)
    page.hurry()
    try:
        assert "grants the page no storage" in page.text("#kept-words") and page.run("document.getElementById('kept').className") == "notice"
        assert page.run("[...document.querySelectorAll('.take-along')].every((b) => b.offsetParent)")
        page.click("#new-cook")
        page.settled()
        page.click("#delete-cook")
        page.settled()
        page.type("mass", "5")
        assert page.settled().startswith("Off the pit") and "NOT kept" in page.text("#kept-words")
        page.assert_quiet()
    finally:
        page.close()


def moved(page, path, zone, local):
    """Opens the page in a zone, at a local time there."""
    page.call("Emulation.setTimezoneOverride", timezoneId=zone)
    page.run("localStorage.clear()")
    page.set_before(shift=page.run(f"new Date('{local}').getTime() - Date.now()") + page.run("window.shift"))
    page.open(path)
    page.settled()
    page.hurry()
    page.click("button[data-view=during]")
    page.settled()


def later(page, hours):
    page.run(f"window.shift += {hours} * 3600e3")


def reading(page, at, value):
    page.type("at-time", at)
    page.type("reading", value)
    page.click("#add-reading")
    page.settled()
    assert not page.trouble(), page.trouble()
    return page.run("under.entries[under.entries.length - 1].time") / 60


def check_clocks(page, path):
    """Midnight, another time zone, and the night on which clocks change."""
    page.set_before(shift=0)
    page.open(path)
    page.settled()
    moved(page, path, "Europe/Lisbon", "2027-01-15T22:30")
    page.type("on-time", "22:30")
    page.click("#on-button")
    later(page, 2)
    assert [round(reading(page, at, c)) for at, c in (("23:50", "15"), ("00:10", "17"))] == [80, 100]
    assert "00:10, next day" in page.text("#entries") and "20 min ago" in page.text("#age-words"), page.text("#age-words")
    page.type("at-time", "22:00")
    page.type("reading", "9")
    page.click("#add-reading")
    assert "before the meat went on" in page.trouble()
    # Carried to another zone: the cook is as old as it is, and clocks are those there.
    page.call("Emulation.setTimezoneOverride", timezoneId="America/New_York")
    page.set_before(shift=page.run("window.shift"))
    page.open(path)
    page.settled()
    page.hurry()
    page.click("button[data-view=during]")
    page.settled()
    assert "19:10" in page.text("#entries") and round(reading(page, "19:20", "18")) == 110, page.text("#entries")
    # Clocks go on at one: three and three quarters after half past midnight are two and a quarter hours.
    moved(page, path, "Europe/Lisbon", "2027-03-28T00:30")
    page.type("on-time", "00:30")
    page.click("#on-button")
    later(page, 3.5)
    assert round(reading(page, "03:45", "20")) == 135 and "03:45" in page.text("#entries"), page.text("#entries")
    page.type("serve-time", "13:00")
    assert page.run("servingAfter(startOfCook())") == 11.5 * 3600
    assert page.run("wallClock(11.5 * 3600)") == "13:00" and page.run("wallClock(25 * 3600)") == "02:30, next day"
    # And back in October: half past one comes twice, and is the first.
    moved(page, path, "Europe/Lisbon", "2027-10-31T00:15")
    page.type("on-time", "00:15")
    page.click("#on-button")
    later(page, 6)
    assert round(reading(page, "04:15", "30")) == 300 and page.run("servingAfter(startOfCook())") == 13.75 * 3600
    page.call("Emulation.setTimezoneOverride", timezoneId="")
    page.set_before(shift=0)
    page.open(path)
    page.settled()
    page.hurry()


def check_learned_is_used(page, native, folder):
    """Plan and tracking of the next cook go by it as in the program, which reads what the page keeps."""
    scenario, learned, log = (os.path.join(folder, name) for name in ("next.yaml", "kept_pit.yaml", "next.csv"))
    assert page.run("settingsOf()['@learned']") is None
    under_way(page, 4, [[1, 10], [2, 22], [3, 35]])
    for name, text in ((scenario, "scenarioFile()"), (log, "logText()"), (learned, "learnedOf(document.getElementById('pit').value)")):
        with open(name, "w", encoding="utf-8") as file:
            file.write(page.run(text))
    with open(scenario, encoding="utf-8") as file:
        assert "cooks:" not in file.read()
    found = []
    for takes, given in ((False, []), (True, ["--set", f"pit.learned={learned}"])):
        if takes:
            page.click("#use-learned")
        page.click("button[data-view=when]")
        page.settled()
        starts = page.run("when.told.plan.starts")
        its = program(native, "plan", "-q", "--format", "json", "--draws", "30", scenario, *given)["plan"]["starts"]
        for key in ("latest", "recommended"):
            assert same(starts[key]["before_serving_s"], its[key]["before_serving_s"]), (takes, key, starts, its)
        page.run("Object.assign(effort, { track: [[200, 50]] })")
        page.click("button[data-view=during]")
        page.settled()
        page.run("Object.assign(effort, { track: [[20, 0]] })")
        its = program(native, "track", "-q", scenario, "--log", log, "--on", "0 min", "--serve", page.run("document.getElementById('serve-time').value"),
                      "--format", "json", *given)
        one, other = page.run("under.told.track.choices[0]"), its["choices"][0]
        assert all(same(one["done_s"][key], other["done_s"][key]) for key in ("low", "middle", "high")), (takes, one, other)
        found.append((starts["latest"]["before_serving_s"], its["choices"][0]["done_s"]["middle"]))
    assert found[0][0] != found[1][0] and found[0][1] != found[1][1], f"what was learned changes nothing: {found}"
    page.run("Object.assign(under, { on: null, entries: [], told: null })")
    page.click("#use-learned")
    page.click("button[data-view=before]")
    page.settled()


def check_learned(page, native, folder, path):
    """What a cook told of its pit is that of the program, is kept, counts for the next cook in it, and only there."""
    page.run("localStorage.clear()")
    page.open(path)
    page.settled()
    page.hurry()
    page.run("Object.assign(effort, { track: [[200, 0]] })")
    page.click("button[data-view=during]")
    page.settled()
    assert page.run("document.getElementById('learn').disabled")
    under_way(page, 9, [[1, 12], [2, 26], [3, 40], [4, 51], [5, 58], [6, 62], [8, 67]])
    scenario, log, learned = (os.path.join(folder, name) for name in ("learn.yaml", "learn.csv", "pit.yaml"))
    for name, text in ((scenario, "scenarioFile()"), (log, "logText()")):
        with open(name, "w", encoding="utf-8") as file:
            file.write(page.run(text))
    if os.path.exists(learned):
        os.remove(learned)
    plain = page.run("bench.call('cook', settingsOf(), [], 240, 0).then((told) => told.choice.done_s)")
    page.click("#learn")
    page.settled()
    page.run("Object.assign(effort, { track: [[20, 0]] })")
    assert not page.trouble(), page.trouble()
    done = subprocess.run([native, "track", "-q", scenario, "--log", log, "--on", "0 min", "--learn", learned], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    with open(learned, encoding="utf-8") as file:
        its = [line for line in file.read().splitlines() if line and not line.startswith("#")]
    mine = [line for line in page.run("learnedOf(document.getElementById('pit').value)").splitlines() if line and not line.startswith("#")]
    assert [line.split(":")[0] for line in mine] == [line.split(":")[0] for line in its] and len(its) >= 10, (mine, its)
    for one, other in zip(mine, its):
        a, b = (float(text.split(":")[1].split()[0]) for text in (one, other))
        assert abs(a - b) <= 1e-4 * max(abs(a), abs(b), 1), (one, other)
    assert page.run("document.getElementById('learn').disabled"), "it could be learned twice"
    page.click("#new-cook")
    page.settled()
    page.click("button[data-view=before]")
    page.settled()
    assert "as 1 cook told" in page.text("#learned-words")
    now = "bench.call('cook', settingsOf(), [], 240, 0).then((told) => told.choice.done_s)"
    with_it = page.run(now)
    assert with_it != plain
    page.click("#use-learned")
    page.settled()
    assert page.run(now) == plain
    check_learned_is_used(page, native, folder)
    page.click("#use-learned")
    page.type("pit", "gas")
    page.settled()
    assert page.run("document.getElementById('field-learned').hidden") and page.run("settingsOf()['@learned']") is None
    page.type("pit", "offset")
    page.settled()
    page.open(path)
    page.settled()
    assert page.run("JSON.stringify(settingsOf())").count("cooks: 1") == 1
    page.click("button[data-view=during]")
    page.settled()
    page.click("#forget-pit")
    page.settled()
    assert page.run("settingsOf()['@learned']") is None


def main():
    path, native, folder = sys.argv[1:]
    os.makedirs(folder, exist_ok=True)
    page = Page(path, shift=0)
    page.hurry()
    try:
        check_reload(page, path)
        check_several(page, path)
        check_tabs(page, path)
        check_full(page, path)
        check_broken(page, path)
        check_clocks(page, path)
        check_learned(page, native, folder, path)
        page.assert_quiet()
    finally:
        page.close()
    check_refused(path)
    print("kept: several cooks, two tabs, no room, no storage, other clocks, the pit")


main()
