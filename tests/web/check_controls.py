# SPDX-License-Identifier: BSD-3-Clause
"""Every control does what it says, wrong values are told, nothing breaks: check_controls.py PAGE"""
import json
import math
import random
import sys

from page import Page

SEED = 20


def check_lists(page):
    """Each choice of each list is computed."""
    for field in ("cut", "pit", "wrap", "wrap-by", "pull-by", "hold-by"):
        values = page.run(f"[...document.getElementById('{field}').options].map((o) => o.value)")
        assert len(values) >= 2, field
        if field == "wrap-by":
            page.type("wrap", "paper")
        told = set()
        for value in values + values[:1]:
            page.type(field, value)
            status = page.settled()
            assert not page.trouble(), f"{field} {value}: {page.trouble()}"
            assert status.startswith("Off the pit"), status
            told.add(page.text("#figures"))
        assert len(told) >= 2 or field == "pull-by", f"{field} changes nothing"
    page.type("wrap", "none")


def check_buttons(page):
    """Each step button changes its field and the answer."""
    buttons = page.run("[...document.querySelectorAll('#cook-form button[data-step]')].map((b) => [b.dataset.for, b.dataset.step])")
    assert len(buttons) >= 24, buttons
    assert page.run("document.getElementById('field-spritz-every').hidden"), "what no spritzing needs is shown"
    page.type("spritz", "20")
    page.type("wrap", "paper")
    page.type("hold-by", "duration")
    page.type("pull-by", "temperature")
    page.settled()
    for field, step in buttons:
        page.type("wrap-by", "duration" if field == "wrap-hours" else "temperature")
        page.settled()
        value, figures = page.run(f"fieldValue('{field}')"), page.text("#figures")
        page.click(f"button[data-for='{field}'][data-step='{step}']")
        page.settled()
        moved = page.run(f"fieldValue('{field}')") - value
        assert moved * int(step) > 0, f"{field} {step}: moves by {moved}"
        assert not page.trouble(), f"{field} {step}: {page.trouble()}"
        assert page.text("#figures") != figures or field == "people", f"{field} {step} changes nothing"
    page.type("pull-by", "usual")
    page.type("wrap", "none")
    page.settled()
    wetted = page.run("now.told.choice.done_s")
    page.type("spritz", "0")
    page.settled()
    assert page.run("now.told.choice.done_s") < wetted and page.run("document.getElementById('field-spritz-every').hidden")
    page.type("start", "21:15")
    page.type("hold-by", "clock")
    page.type("hold-clock", "14:00")
    page.settled()
    assert "14:00, next day" in page.text("#figures"), page.text("#figures")
    page.type("start", "22:00")
    page.type("hold-by", "duration")
    page.settled()


def check_units(page):
    """US units convert what is shown, and change no cook."""
    before = page.run("JSON.stringify(settingsOf())")
    page.click("input[name=units][value=us]")
    page.settled()
    assert page.run("JSON.stringify(settingsOf())") == before
    assert " F" in page.text("#figures") and page.text("[data-unit-of=mass]") == "lb" and "135.0 F" in page.text("footer")
    page.click("input[name=units][value=si]")
    page.settled()
    assert page.run("JSON.stringify(settingsOf())") == before and "57.3 C" in page.text("footer")


def check_wrong_values(page):
    figures = page.text("#figures")
    for field, typed, words in (("mass", "99", "meat.mass is 99 kg; allowed"), ("mass", "", "is not a number"), ("mass", "-3", "meat.mass"),
                                ("mass", "<img src=x onerror=alert(1)>", "<img"), ("pit-temperature", "900", "pit.temperature"),
                                ("thickness", "80", "meat.thickness"), ("hold-temperature", "-40", "hold.temperature"),
                                ("start", "", "time of day"), ("people", "x", "not a number"), ("mass", "1e999", "")):
        good = page.run(f"document.getElementById('{field}').value")
        page.type(field, typed)
        page.settled()
        assert page.trouble() and words in page.trouble(), f"{field} {typed}: {page.trouble()}"
        assert page.run(f"document.getElementById('{field}').getAttribute('aria-invalid')") == "true", field
        assert page.text("#figures") == figures, "the last good cook is gone"
        page.type(field, good)
        page.settled()
        assert not page.trouble() and page.text("#figures") == figures, f"{field}: {page.trouble()}"
    page.type("pit-temperature", "70")
    page.settled()
    assert "never" in page.text("#figures") and "Mind" in page.text("#cautions")
    page.type("pit-temperature", "121")
    page.type("hold-temperature", "45")
    page.settled()
    assert "WARNING" in page.text("#cautions") or "NOT MET" in page.text("#cautions"), page.text("#cautions")
    page.type("hold-temperature", "66")
    page.settled()


def check_wraps(page):
    rows = page.run("[...document.querySelectorAll('#wraps-table tbody tr')].map((r) => r.innerText)")
    assert len(rows) == page.run("tablesOfLibrary.wraps.length") and len(set(rows)) == len(rows), rows
    # The wrap that is set has in its row what the answer says.
    row = next(row for row in rows if "(set)" in row).split("\t")[1:]
    figures = page.run("[...document.querySelectorAll('#figures .figure')].map((f) => f.innerText)")
    assert [row[0], row[2], row[3], row[4], row[5]] == [figures[0], figures[2], figures[4], figures[5], figures[6]], (row, figures)
    # The band by the clock, rounded to the side that warns.
    for end, clock in zip(("low", "high"), figures[1].split(" to ")):
        minutes = (page.run(f"now.band.done_{end}_s") + page.run("startClock()")) / 60
        told = (math.floor if end == "low" else math.ceil)(minutes) % 1440
        assert clock.startswith(f"{told // 60:02d}:{told % 60:02d}"), (figures, minutes)


def check_first_answer(page):
    """An answer from few draws says that it is one; the last says how many there were."""
    page.run("Object.assign(effort, { draws: [10, 20], plan: [[20, 0], [30, 0]], track: [[20, 0], [30, 0]] }); window.seen = []; window.shown = showAnswer;"
             "showAnswer = (...all) => { window.shown(...all); window.seen.push(document.getElementById('figures').innerText); }")
    page.type("mass", "5.75")
    page.settled()
    first = [text for text in page.run("window.seen") if "A first answer, from 10 cooks" in text]
    assert first and "rest of 20" in first[0] and "A first answer" not in page.text("#figures"), page.run("window.seen")
    assert "20 cooks were drawn." in page.text("#figures") and "20 cooks were drawn." in page.text("#band-words")
    page.run("showAnswer = window.shown; window.seen = []; window.plans = showPlan; showPlan = () => { window.plans(); window.seen.push(document.getElementById('plan-doubts').innerText); }")
    page.click("button[data-view=when]")
    page.settled()
    seen = page.run("window.seen")
    assert "A first answer, from 20 cooks" in seen[-2] and "30 cooks were drawn." in seen[-1], seen
    page.run("showPlan = window.plans; Object.assign(effort, { track: [[20, 0]] })")
    page.click("button[data-view=during]")
    page.settled()
    assert "20 cooks were drawn." in page.text("#track-says") and "first answer" not in page.text("#track-says")
    page.click("button[data-view=before]")
    page.type("mass", "6.5")
    page.hurry()
    page.settled()


def check_why(page):
    page.click("button[data-view=why]")
    page.settled()
    assert page.text("#guess-choices").count("\n") >= 3
    for i in range(page.run("document.querySelectorAll('input[name=guess]').length")):
        page.click(f"#guess-choices label:nth-of-type({i + 1}) input")
        assert "evaporation takes" in page.text("#guess-answer")
    planned = page.text("#changed-words")
    for i in range(page.run("tablesOfLibrary.causes.length")):
        page.click(f"#causes label:nth-of-type({i + 1}) input")
        page.settled()
        assert page.text("#changed-words") != planned and not page.trouble(), page.trouble()
        page.click(f"#causes label:nth-of-type({i + 1}) input")
        page.settled()
        assert page.text("#changed-words") == planned
    page.click("input[value=no_evaporation]")
    page.settled()
    assert "no stall" in page.text("#changed-words"), page.text("#changed-words")
    page.click("input[value=no_evaporation]")
    page.settled()
    page.run("(() => { const s = document.getElementById('lab-slider'); s.value = '2'; s.dispatchEvent(new Event('input')); })()")
    assert page.run("lab.moment") == 2 and page.text("#lab-now")
    page.click("#lab-play")
    assert page.text("#lab-play") == "Stop"
    page.click("#lab-play")
    page.click("input[value=teacher]")
    assert page.run("!document.getElementById('teacher').hidden && document.querySelectorAll('#common-list li').length") == 3
    page.settled()
    hours = page.run("[...document.querySelectorAll('#hours-table tbody tr')].map((r) => [...r.cells].map((c) => c.innerText))")
    assert len(hours) >= 5 and len({len(row) for row in hours}) == 1 and hours[0][0].startswith("0 min"), hours
    page.click("input[value=student]")
    page.run("for (const d of document.querySelectorAll('details[data-chart]')) d.open = true")
    page.run("new Promise((go) => setTimeout(go, 100))")
    assert page.run("[...document.querySelectorAll('#view-why details[data-chart] .scroll')].every((s) => s.querySelector('td'))")
    page.click("button[data-view=safety]")
    assert "carbon monoxide" in page.text("#view-safety")
    page.click("button[data-view=before]")


def check_cancel(page):
    slow = {"solver.cells": 1000, "solver.relative_tolerance": 1e-8}
    said = page.run(f"(() => {{ const p = bench.call('cook', {json.dumps(slow)}, [], 60, 0).then(() => 'done', (e) => e.constructor.name);"
                    "setTimeout(() => bench.cancel(), 300); return p; })()")
    assert said == "Cancelled", said
    assert page.ask("cook", {}, [], 60, 0)["answer"]["choice"]["done_s"] > 0
    page.run("update()")
    page.click("#stop")
    assert page.settled().startswith("Stopped")
    page.run("update()")
    assert page.settled().startswith("Off the pit")


def check_random(page, count):
    draw = random.Random(SEED)
    for number in range(count):
        values = {"cut": draw.choice(page.run("tablesOfLibrary.cuts.map((c) => c.name)")) if number % 20 == 0 else None,
                  "wrap": draw.choice(("none", "paper", "open-tray", "closed-foil", "covered-pan")), "mass": f"{draw.uniform(1, 9):.2f}", "spritz": draw.choice(("0", "40")),
                  "spritz-every": str(draw.randrange(5, 90)), "spritz-from": f"{draw.uniform(0, 6):.1f}",
                  "wrap-by": draw.choice(("temperature", "duration", "bark")), "wrap-probe": f"{draw.uniform(50, 90):.1f}",
                  "wrap-hours": f"{draw.uniform(0.5, 12):.1f}", "pit-temperature": f"{draw.uniform(90, 160):.0f}",
                  "thickness": draw.choice(("", f"{draw.uniform(3, 12):.1f}")), "people": str(draw.randrange(0, 60)),
                  "rest": str(draw.randrange(0, 90)), "hold-by": draw.choice(("none", "duration", "clock")),
                  "hold-hours": f"{draw.uniform(0.1, 12):.1f}", "hold-clock": f"{draw.randrange(24):02d}:30",
                  "hold-temperature": f"{draw.uniform(40, 90):.0f}", "start": f"{draw.randrange(24):02d}:15"}
        steps = "".join(f"{{ const f = document.getElementById({json.dumps(k)}); f.value = {json.dumps(v)};"
                        "if (f.dataset.quantityKind) typed(f); }" for k, v in values.items() if v is not None)
        # The answer is waited for, the band and the other wraps are left to the next ones.
        page.run(f"(() => {{ now.told = null; {steps} update(); }})()")
        told = page.run("new Promise((go) => { const look = () => (now.told || !document.getElementById('trouble').hidden ? go(now.told ? "
                        "document.getElementById('figures').innerText : '') : setTimeout(look, 5)); look(); })")
        words = told or page.trouble()
        assert words and "NaN" not in words and "undefined" not in words and "Infinity" not in words, f"{values}: {words}"
        page.assert_quiet()
    page.settled()


def check_policy(page):
    """Nothing can be fetched, and no other script runs: the last check, since the browser complains."""
    assert page.run("fetch('data:text/plain,x').then(() => 'fetched', () => 'refused')") == "refused"
    page.run("(() => { const s = document.createElement('script'); s.textContent = 'window.strange = 1'; document.body.append(s); })()")
    assert page.run("typeof window.strange") == "undefined"


def main():
    page = Page(sys.argv[1])
    page.hurry()
    try:
        for check in (check_lists, check_buttons, check_units, check_wrong_values, check_wraps, check_first_answer, check_why, check_cancel):
            check(page)
            page.assert_quiet()
        check_random(page, 200)
        check_policy(page)
        print("controls: every one driven, 200 random scenarios, no complaint, no request")
    finally:
        page.close()


main()
