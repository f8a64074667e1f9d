# SPDX-License-Identifier: BSD-3-Clause
"""Checks of the pages of sweeps, called by test_page.sh: check_sweep_page.py KIND FILE ..."""
import json
import math
import re
import sys

from check_page import SI, US, Page, check_console, check_drawn, check_numbers, check_tables, check_units, same_figure

FIGURES = ("done_s", "stall_length_s", "yield_fraction", "bark", "late_s")
PAGE_BYTES = 2e6


def members(data):
    """The values of a cook's factors, by its place in the page."""
    factors, count = data["factors"], len(data["run"])
    if data["design"] == "halton":
        return [[f["values"][n] for f in factors] for n in range(count)]
    values = []
    for n in range(count):
        row = []
        for f in reversed(factors):
            n, at = divmod(n, len(f["values"]))
            row.insert(0, f["values"][at])
        values.append(row)
    return values


def check_true(path, json_path):
    """Every cook of the page has the settings, figures and sentence that the sweep tells of it, and ends its curve where the
    cook ends."""
    data = check_numbers(path).data["sweep"]
    with open(json_path) as file:
        document = json.load(file)
    assert data["cook_count"] == len(document["choices"])
    for n, (run, values) in enumerate(zip(data["run"], members(data))):
        choice = document["choices"][run]
        for mine, its in zip(values, choice["values"]):
            assert mine == its or math.isclose(mine, its, rel_tol=1e-5), f"cook {run}: {values}, {choice['values']}"
        assert len(data["figures"]) == len(FIGURES) - all(other["late_s"] is None for other in document["choices"])
        for figure, name in zip(data["figures"], FIGURES):
            value, its = figure["values"][n], choice[name]
            assert value is its is None or math.isclose(value, its, rel_tol=2e-5, abs_tol=0.06), f"cook {run}: {name} {value}, {its}"
        assert data["failures"][n] == (choice["error"] or False), f"cook {run}: {data['failures'][n]}"
        assert data["unmet_rules"][n] == choice["unmet_rules"], f"cook {run}"
    assert data["curve_of"] == [n for n, failure in enumerate(data["failures"]) if not failure], "a curve is missing"
    for n, curve, surface in zip(data["curve_of"], data["probe_celsius_tenths"], data["surface_celsius_tenths"]):
        choice = document["choices"][data["run"][n]]
        assert len(curve) == len(surface) == math.ceil(choice["done_s"] / data["curve_step_s"] - 1e-3) + 1
        assert abs(curve[-1] - 10 * (choice["probe_k"] - 273.15)) <= 0.51
        assert abs(surface[-1] - 10 * (choice["top_surface_k"] - 273.15)) <= 0.51


def check_small(path, cooks):
    """However many cooks there are, the page stays small, says what it left out, and what it kept is chosen evenly."""
    page = check_numbers(path)
    data, size, text = page.data["sweep"], len(page.source.encode()), " ".join(page.plain)
    assert size < PAGE_BYTES, f"the page has {size} bytes"
    shown, curves = len(data["run"]), len(data["curve_of"])
    assert data["cook_count"] == int(cooks)
    assert (shown < int(cooks)) == bool(re.search("chosen evenly( along each factor)?; the table above counts all", text)), text
    finished = sum(not failure for failure in data["failures"])
    assert (curves < finished) == ("chosen evenly; of the others there are the figures" in text)
    assert curves > 300 or finished <= curves
    told = {text for _, text in page.quantities}
    assert shown == int(cooks) or str(shown) in told, shown
    assert curves == finished or str(curves) in told, curves
    if data["design"] == "halton":
        steps = {b - a for a, b in zip(data["run"], data["run"][1:])}
        assert max(steps) - min(steps) <= 1 and data["run"][0] == 0 and data["run"][-1] == int(cooks) - 1, steps
        steps = {b - a for a, b in zip(data["curve_of"], data["curve_of"][1:])}
        assert max(steps) - min(steps) <= 1, steps
        return
    for f in data["factors"]:
        if f["kind"] == "text" or len(f["values"]) < 3:
            continue
        steps = [b - a for a, b in zip(f["values"], f["values"][1:])]
        assert min(steps) > 0 and max(steps) <= 2.001 * min(steps), f"{f['key']} is not kept evenly: {f['values']}"


def check_hostile(path):
    page = Page(path)
    data = page.data["sweep"]
    assert "<img src=x" not in page.source and "<script>alert" not in page.source
    values = [v for f in data["factors"] if f["key"] == "meat.name" for v in f["values"]]
    assert any(v.startswith("<img src=x onerror=alert(1)>") for v in values), values
    assert any("<img src=x" in text for text in page.plain), "the name is not shown as it is written"


# ---- in the browser ----

def shown_in(browser):
    return US if browser.run("units") == "us" else SI


def expect_summary(browser, data, n):
    text = browser.run('document.getElementById("sweep-summary").textContent')
    assert text.startswith(f"Cook {data['run'][n]},"), f"{text} is told of cook {data['run'][n]}"
    if data["failures"][n]:
        assert data["failures"][n] in text, text
        assert browser.run('document.getElementById("sweep-curve-figure").hidden && !charts["sweep-curve"]')
        return
    for figure in data["figures"]:
        value = figure["values"][n]
        expected = "no stall" if value is None else figure["zero"] if value == 0 and figure["zero"] else shown_in(browser)[figure["kind"]](value)
        told = re.findall(r"no stall|in time|\d+\.\d\d(?=[;.])|\d+ h \d\d min|\d+ min|\d+(?:\.\d+)? %", text)
        assert any(same_figure(one, expected) for one in told), f"{expected} is not in: {text}"
    unmet = data["unmet_rules"][n]
    assert (f"breaks {unmet:.0f} rule" if unmet else "breaks no rule") in text, text
    curve = browser.run('charts["sweep-curve"].data.datasets[0].data.map((p) => p.y)')
    scale = (lambda c: c) if shown_in(browser) is SI else (lambda c: 1.8 * c + 32)
    kept = data["probe_celsius_tenths"][data["curve_of"].index(n)]
    assert len(curve) == len(kept) and all(abs(a - scale(b / 10)) < 1e-6 for a, b in zip(curve, kept))


def expect_table(browser, data, figure_number):
    """The table and the chart have the chosen figure of the cooks with the two factors' values, the rest as chosen."""
    down, across, chosen = browser.run("[sweep.down, sweep.across, sweep.chosen]")
    cells = browser.run("""[...document.querySelectorAll("#sweep-table tbody tr")].map((r) => [...r.cells].slice(1).map((c) => c.textContent))""")
    figure, factors = data["figures"][figure_number], data["factors"]
    assert len(cells) == len(factors[down]["values"])
    at = lambda n: members_at(factors, n)
    for d, row in enumerate(cells):
        for a, text in enumerate(row):
            place = at(chosen)
            place[down] = d
            if across is not None:
                place[across] = a
            n = 0
            for f, k in zip(factors, place):
                n = n * len(f["values"]) + k
            shown = figure if across is not None else data["figures"][a]
            value = shown["values"][n]
            zero = shown["zero"] if value == 0 else None
            expected = "failed" if data["failures"][n] else ("no stall" if shown is data["figures"][1] else "-") if value is None \
                else zero or shown_in(browser)[shown["kind"]](value)
            assert same_figure(text.replace(" (chosen)", ""), expected), f"{text} is in the table for {expected}"
            assert ("(chosen)" in text) == (n == chosen), text
    drawn = browser.run('charts["sweep-lines"].data.datasets.flatMap((s) => s.cooks.map((c, i) => [c, s.data[i].y]))')
    for n, y in drawn:
        value = figure["values"][n]
        assert (y is None) == (value is None)
        assert value is None or math.isclose(y, value / {"duration": 3600, "share": 0.01, "number": 1}[figure["kind"]], rel_tol=1e-9)


def members_at(factors, n):
    place = []
    for f in reversed(factors):
        n, at = divmod(n, len(f["values"]))
        place.insert(0, at)
    return place


def choose(browser, name, value):
    browser.run(f"""(() => {{ const radio = document.querySelector('input[name="{name}"][value="{value}"]');
        if (radio) {{ radio.click(); return; }}
        const list = document.querySelector('select[name="{name}"]');
        list.value = "{value}"; list.dispatchEvent(new Event("change")); }})()""")


def check_grid_controls(browser, data):
    for number in range(len(data["figures"])):
        choose(browser, "sweep-figure", number)
        expect_table(browser, data, number)
    for i, f in enumerate(data["factors"]):
        for value in {0, len(f["values"]) - 1}:
            choose(browser, f"sweep-value-{i}", value)
            chosen = browser.run("sweep.chosen")
            assert members_at(data["factors"], chosen)[i] == value
            expect_summary(browser, data, chosen)
            expect_table(browser, data, len(data["figures"]) - 1)
    # All other cooks of the plane, by a click on their cell.
    count = browser.run('document.querySelectorAll("#sweep-table td").length')
    seen = set()
    for k in range(count):
        browser.run(f'document.querySelectorAll("#sweep-table td")[{k}].click()')
        seen.add(browser.run("sweep.chosen"))
        expect_summary(browser, data, browser.run("sweep.chosen"))
    assert len(seen) == count or browser.run("sweep.across") is None
    if browser.run("sweep.across") is not None:
        before = browser.run("[sweep.down, sweep.across]")
        choose(browser, "sweep-down", before[1])
        assert browser.run("[sweep.down, sweep.across]") == before[::-1], "the two factors do not change places"
        expect_table(browser, data, len(data["figures"]) - 1)
        check_drawn(browser, any)
    # By the keyboard alone.
    name, before = browser.run('(() => { const r = document.querySelector("#sweep-values input:checked"); r.focus(); return [r.name, sweep.chosen]; })()')
    browser.key("ArrowRight", 39)
    assert browser.run("sweep.chosen") != before, "the arrow key does not choose another cook"
    assert browser.run("document.activeElement.name") == name, "the keyboard has lost its place"


def check_random_controls(browser, data):
    for number, figure in enumerate(data["figures"]):
        choose(browser, "sweep-figure", number)
        have = sum(value is not None for value in figure["values"])
        for i, _ in enumerate(data["factors"]):
            assert browser.run(f'charts["sweep-scatter-{i}"].data.datasets.find((s) => s.label === "cooks").data.length') == have
        browser.run('document.getElementById("sweep-slider").focus()')
        browser.key("Home", 36)
        least = browser.run("sweep.chosen")
        assert figure["values"][least] == min(v for v in figure["values"] if v is not None)
        expect_summary(browser, data, least)
        browser.key("ArrowRight", 39)
        assert browser.run("sweep.chosen") != least, "the arrow key does not choose another cook"
        expect_summary(browser, data, browser.run("sweep.chosen"))
    # The middle of the spread against a count of the curves.
    spread = browser.run("sweep.spread.map((q) => q.shares[2])")
    curves = data["probe_celsius_tenths"]
    for i, middle in enumerate(spread):
        readings = [c[min(i, len(c) - 1)] / 10 + 273.15 for c in curves]
        assert sum(r <= middle + 1e-9 for r in readings) >= len(readings) / 2 and sum(r >= middle - 1e-9 for r in readings) >= len(readings) / 2


def check_on_screen(browser, path):
    """All that a page does, on a phone and on a wide screen."""
    page = Page(path)
    data = page.data["sweep"]
    for width, height in ((1280, 900), (390, 844)):
        browser.size(width, height)
        browser.open(path)
        assert browser.run("document.documentElement.scrollWidth") <= width, f"{path} is wider than {width}"
        check_drawn(browser, any)
        browser.picture(f"{path.removesuffix('.html')}_{width}.png")
    (check_grid_controls if data["design"] == "grid" else check_random_controls)(browser, data)
    # The sentence of a cook that failed stays as it was told.
    browser.run(f"chooseCook({data['curve_of'][0]})")
    check_units(browser, page.data, any)
    check_tables(browser, 2)
    unnamed = browser.run("""[...document.querySelectorAll("input, button, select")].filter((e) =>
        !(e.labels && e.labels.length) && !e.textContent && !e.getAttribute("aria-label")).length""")
    assert unnamed == 0, f"{unnamed} controls have no name"


def check_phone(browser, path):
    """A page opens on a phone and tells of the chosen cook; where its curve was left out, that is said."""
    data = Page(path).data["sweep"]
    browser.open(path)
    assert browser.run("document.documentElement.scrollWidth") <= 390, f"{path} is wider than the phone"
    kept = set(data["curve_of"])
    without = [n for n, failure in enumerate(data["failures"]) if not failure and n not in kept]
    if without:
        browser.run(f"chooseCook({without[0]})")
        assert not browser.run('document.getElementById("sweep-no-curve").hidden')
        assert browser.run('document.getElementById("sweep-curve-figure").hidden')
    assert browser.run('document.getElementById("sweep-summary").textContent').startswith("Cook ")


def check_browser(whole_paths, phone_paths):
    from browser import Browser
    browser = Browser()
    try:
        for path in whole_paths.split():
            check_on_screen(browser, path)
            check_console(browser)
        for path in phone_paths.split():
            check_phone(browser, path)
            check_console(browser)
    finally:
        browser.close()


CHECKS = {"true": check_true, "small": check_small, "hostile": check_hostile, "browser": check_browser}

if __name__ == "__main__":
    CHECKS[sys.argv[1]](*sys.argv[2:])
