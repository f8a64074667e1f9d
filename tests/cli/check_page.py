# SPDX-License-Identifier: BSD-3-Clause
"""Checks of interactive pages, called by test_page.sh: check_page.py KIND FILE ..."""
import base64
import html.parser
import json
import math
import re
import sys

NUMBER = re.compile(r"\d+(?:\.\d+)?")


class Page(html.parser.HTMLParser):
    """The text of a page outside of scripts, quantities apart, and its data."""

    def __init__(self, path):
        super().__init__()
        self.stack, self.plain, self.quantities, self.data_text, self.headings = [], [], [], "", []
        self.outside, self.drawn, self.lines = [], [], []
        with open(path, encoding="utf-8") as file:
            self.source = file.read()
        self.feed(self.source)
        self.data = json.loads(self.data_text)

    def handle_starttag(self, tag, attributes):
        names = dict(attributes)
        for name in ("src", "href"):
            if name in names and not names[name].startswith("#"):
                self.outside.append(names[name])
        if tag == "polyline":
            self.lines.append([tuple(map(float, point.split(","))) for point in names["points"].split()])
        if tag not in ("meta", "input", "link", "br"):
            self.stack.append((tag, names))
        if "data-quantity" in names:
            self.quantities.append([int(names["data-quantity"]), ""])

    def handle_endtag(self, tag):
        while self.stack and self.stack.pop()[0] != tag:
            pass

    def handle_data(self, text):
        if not self.stack:
            return
        tag, names = self.stack[-1]
        if tag == "script":
            self.data_text += text if names.get("id") == "data" else ""
        elif "data-quantity" in names:
            self.quantities[-1][1] += text
        elif tag in ("h1", "h2", "title"):
            self.headings.append(text)
        elif any(above == "svg" for above, _ in self.stack):
            self.drawn.append(text)
        elif tag != "style" and names.get("class") != "licence":
            self.plain.append(text)


def minutes_text(seconds):
    minutes, sign = math.floor(abs(seconds) / 60 + 0.5), "-" if seconds < -30 else ""
    return f"{sign}{minutes} min" if minutes < 60 else f"{sign}{minutes // 60} h {minutes % 60:02d} min"


def heat_text(joules):
    if abs(joules) >= 1e6:
        return f"{1e-6 * joules:.2f} MJ"
    return f"{1e-3 * joules:.0f} kJ" if abs(joules) >= 1e4 else f"{1e-3 * joules:.1f} kJ"


SI = {
    "temperature": lambda v: f"{v - 273.15:.1f} C", "difference": lambda v: f"{v:.1f} K", "rate": lambda v: f"{3600 * v:.1f} K/h",
    "duration": minutes_text, "mass": lambda v: f"{v:.2f} kg", "share": lambda v: f"{100 * v:.1f} %",
    "length": lambda v: f"{1000 * v:.1f} mm" if v < 0.01 else f"{100 * v:.1f} cm", "points": lambda v: f"{100 * v:.1f} points",
    "chance": lambda v: "under 1 %" if 0 < v < 0.01 else "over 99 %" if 0.99 < v < 1 else f"{100 * v:.0f} %",
    "heat": heat_text, "number": lambda v: f"{v:.2f}", "times": lambda v: f"{v:.3g}",
    "whole": lambda v: f"{v:.0f}",
}
US = {
    "temperature": lambda v: f"{1.8 * (v - 273.15) + 32:.1f} F", "difference": lambda v: f"{1.8 * v:.1f} F",
    "rate": lambda v: f"{6480 * v:.1f} F/h", "duration": minutes_text, "mass": lambda v: f"{v / 0.45359237:.2f} lb",
    "share": SI["share"], "length": lambda v: f"{v / 0.0254:.2f} in", "points": SI["points"], "chance": SI["chance"],
    "heat": lambda v: f"{v / 1055.05585262:.0f} BTU", "number": SI["number"], "times": SI["times"],
    "whole": SI["whole"],
}


def same_figure(told, expected):
    """The same text; a last digit may differ where a value lies half way between two."""
    if told == expected:
        return True
    a, b = NUMBER.findall(told), NUMBER.findall(expected)
    decimals = [[len(number.partition(".")[2]) for number in list] for list in (a, b)]
    if NUMBER.sub("", told) != NUMBER.sub("", expected) or decimals[0] != decimals[1]:
        return False
    total = [60 * float(x[0]) + float(x[1]) if len(x) == 2 else float(x[0]) for x in (a, b)]
    step = 10.0 ** -len(a[-1].partition(".")[2])
    return abs(total[0] - total[1]) <= 1.001 * step


def strings_of(value):
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for inner in value.values():
            yield from strings_of(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from strings_of(inner)


def check_numbers(path):
    """Every number of the text is a quantity of the data, or stands in a text of the data."""
    page = Page(path)
    assert not page.outside, f"the page asks for {page.outside}"
    assert len(page.source.encode()) < 2e6, f"the page has {len(page.source.encode())} bytes"
    data = page.data
    shown = SI if data["units"] == "si" else US
    assert len(page.quantities) == len(data["quantities"]) > 5
    for index, text in page.quantities:
        kind, value = data["quantities"][index]
        assert same_figure(text, shown[kind](value)), f"{text} is shown, the data has {kind} {value}"
    known = " ".join(strings_of(data)) + (f" {len(data['lab']['cooks'])}" if "lab" in data else "")
    known_numbers = set(NUMBER.findall(known))
    for text in page.plain:
        for number in NUMBER.findall(text):
            # The rule of reading the licence, and the name of the library, hold no figure of the cook.
            assert number in known_numbers, f"{number} is in the text and not in the data: {text.strip()}"
    return page


def check_story(path, json_path):
    """The page tells what explain tells, from the same numbers."""
    page = check_numbers(path)
    with open(json_path) as file:
        document = json.load(file)
    told = re.sub(r"\s+", " ", re.sub(r"<[^>]*>", "", page.source.split("<script")[0])).replace("&#39;", "'").replace("&quot;", '"')
    for sentence in document["sentences"] + [change["sentence"] for change in document["changes"]]:
        assert re.sub(r"\s+", " ", sentence) in told, f"the page does not say: {sentence}"
    embedded = page.data["explanation"]
    for key in ("heat", "hours", "plateau", "choices"):
        assert close(embedded[key], document[key]), f"{key} of the page's data is not that of explain"
    check_lab(page.data)


def close(a, b):
    if isinstance(a, dict):
        return a.keys() == b.keys() and all(close(a[k], b[k]) for k in a)
    if isinstance(a, list):
        return len(a) == len(b) and all(map(close, a, b))
    if isinstance(a, float) or isinstance(b, float):
        return a is not None and b is not None and math.isclose(a, b, rel_tol=1e-9, abs_tol=1e-9)
    return a == b


def check_lab(data):
    axes, cooks = data["lab"]["axes"], data["lab"]["cooks"]
    assert len(cooks) == math.prod(len(axis["values"]) for axis in axes)
    for cook in cooks:
        if cook["error"]:
            assert "time_s" not in cook
            continue
        n = len(cook["time_s"])
        assert n >= 8 and cook["time_s"] == sorted(set(cook["time_s"]))
        for key in ("probe_k", "surface_k", "air_k", "evaporation_rate_kg_per_s", "celsius_tenths", "water_hundredths"):
            assert len(cook[key]) == n, key
        heat = cook["heat_j"]
        for i in range(n):
            received = heat["air"][i] + heat["radiation"][i]
            found = sum(heat[item][i] for item in ("evaporation", "vapour", "drip", "fat", "warming", "rest"))
            assert abs(received - found) <= 60, "the heat of a cook does not close within its rounding to 10 J"
        end = cook["followed_s"] if cook["never_ends"] else cook["done_s"]
        assert abs(cook["time_s"][-1] - end) <= 1


def check_planned(path, cook_path):
    """The laboratory's cook at the planned settings is the cook of the scenario."""
    data = Page(path).data
    number = 0
    for axis in data["lab"]["axes"]:
        number = number * len(axis["values"]) + axis["planned"]
    with open(cook_path) as file:
        choice = json.load(file)["choices"][0]
    cook = data["lab"]["cooks"][number]
    for key in ("done_s", "stall_start_s", "stall_length_s", "yield_at_pull"):
        assert close(cook[key], choice[key]), f"{key}: {cook[key]} in the laboratory, {choice[key]} by cook"


def check_no_stall(path):
    text = " ".join(Page(path).plain)
    assert "There is no stall" in text and "No stall, so nothing ends it" in text and "no plateau to explain" in text


def check_never(path):
    page = Page(path)
    text = " ".join(page.plain)
    assert "This cook never finishes" in text and page.data["planned"]["never_ends"] is True
    assert "done_s" not in page.data["planned"]


def check_warnings(path, text_path):
    """The page warns of what the terminal warns of, in the same sentences, in both systems of units."""
    data = Page(path).data
    with open(text_path) as file:
        told = re.sub(r"\s+", " ", file.read())
    here = [both[data["units"] == "us"] for both in data["worded"] if both[0].startswith("WARNING")]
    assert here and len(here) == told.count("WARNING"), f"{len(here)} warnings in the page, {told.count('WARNING')} on the terminal"
    for sentence in here:
        assert sentence in told, f"the terminal does not say: {sentence}"
    assert "Read which" in " ".join(text for text in Page(path).plain) + Page(path).source


def check_hostile(path):
    page = Page(path)
    assert page.data["heading"]["meat"]["name"] == "<script>alert(1)</script>"
    assert page.data["heading"]["title"] == "</script><!-- & \"quotes\""
    assert "<script>alert" not in page.source and "<!-- &" not in page.source
    assert any("<script>alert(1)</script>" in text for text in page.plain)


def check_plan(path, json_path):
    """The page has the plan that plan tells: its data, its timetable to the minute, its sentences, and curves of odds."""
    page = check_numbers(path)
    with open(json_path) as file:
        document = json.load(file)
    plan = document.get("plan") or document["plan_of_pieces"]
    assert close(page.data["plan"], plan), "the page's data are not those of plan"
    told = re.sub(r"\s+", " ", re.sub(r"<[^>]*>", "", page.source.split("<script")[0])).replace("&#39;", "'").replace("&quot;", '"')
    for row in plan["timetable"]:
        clock = row["half_by"]["words"].split()[-1]
        assert clock in told and (row["look_for"] or "") in told, row
    for piece in [one["plan"] for one in plan.get("pieces", [])] or [plan]:
        sentences = [piece["sentence"], piece["longest_hold"], piece["late"]["sentence"]] + [step["sentence"] for step in piece["late"]["steps"]]
        for sentence in sentences + [plan["how_well"], plan["sentence"]]:
            assert re.sub(r"\s+", " ", sentence) in told, f"the page does not say: {sentence}"
        # The asked wrap, the others in its pit, and held too long: odds that never rise from early starts to late ones; up is less in y.
        own, page.lines = page.lines[:5], page.lines[5:]
        assert len(own) == 5 and all(len(line) > 50 for line in own)
        for line in own:
            assert all(x0 < x1 and y0 <= y1 for (x0, y0), (x1, y1) in zip(line, line[1:])), line
            assert len({y for _, y in line}) > 3, "a curve of odds is flat"
    assert not page.lines
    assert page.drawn.count("100 %") == page.drawn.count("0 %") == len(plan.get("pieces", [plan]))


# ---- in the browser ----

CANVASES = """[...document.querySelectorAll("canvas")].filter((c) => c.id).map((c) => {
  const pixels = c.getContext("2d").getImageData(0, 0, c.width, c.height).data, seen = new Set();
  for (let i = 0; i < pixels.length; i += 4 * 7) seen.add(pixels[i] * 65536 + pixels[i + 1] * 256 + pixels[i + 2]);
  return [c.id, seen.size, c.getAttribute("aria-label")];
})"""
# A fingerprint of what is drawn.
PRINT = """(id) => {
  const c = document.getElementById(id), p = c.getContext("2d").getImageData(0, 0, c.width, c.height).data;
  let sum = 7;
  for (let i = 0; i < p.length; i += 3) sum = (31 * sum + p[i]) % 2147483647;
  return sum;
}"""
SUMMARY = 'document.getElementById("lab-summary").textContent'


def expect_summary(browser, cook):
    text = browser.run(SUMMARY)
    us = browser.run("units") == "us"
    shown = US if us else SI
    if cook["error"]:
        assert cook["error"] in text, text
        return
    figures = [("duration", cook["followed_s"] if cook["never_ends"] else cook["done_s"]), ("share", cook["yield_at_pull"]),
               ("mass", cook["evaporated_kg"])]
    assert ("never finishes" in text) == cook["never_ends"], text
    if cook["stall_length_s"] is None:
        assert "no stall" in text, text
    else:
        figures += [("duration", cook["stall_length_s"]), ("temperature", cook["stall_probe_k"])]
    for kind, value in figures:
        words = re.escape(shown[kind](value))
        assert re.search(words, text) or any(same_figure(found, shown[kind](value)) for found in candidates(text)), \
            f"{shown[kind](value)} is not in: {text}"


def candidates(text):
    return re.findall(r"\d+ h \d\d min|\d+ min|-?\d+(?:\.\d+)? (?:%|kg|lb|C|F|MJ|kJ|BTU)", text)


def check_drawn(browser, whole=all):
    """whole: any, if a line may be empty since all its cooks failed."""
    for name, colours, label in browser.run(CANVASES):
        assert colours > 3, f"the canvas {name} is empty"
        assert label and len(label) > 20, f"the canvas {name} is not described"
    for name, points in browser.run("""Object.entries(charts).map(([id, c]) => [id, c.data.datasets.map(
            (d) => d.data.filter((p) => Number.isFinite(typeof p === "number" ? p : p.y)).length)])"""):
        assert points and whole(count > 0 for count in points), f"the chart {name} has no points: {points}"


def set_axis(browser, axis, value):
    browser.run(f'document.querySelector("input[name=axis-{axis}][value=\\"{value}\\"]").click()')


def check_controls(browser, data):
    """Each control moves to the cook that was computed for it, and everything follows."""
    axes = data["lab"]["axes"]
    drawn = ("lab-curves", "lab-heat", "lab-temperature", "lab-water")
    at = [axis["planned"] for axis in axes]
    seen = {}
    for k, axis in enumerate(axes):
        for value in range(len(axis["values"])):
            if value == at[k]:
                continue
            set_axis(browser, k, value)
            at[k] = value
            number = 0
            for i, other in enumerate(axes):
                number = number * len(other["values"]) + at[i]
            cook = data["lab"]["cooks"][number]
            expect_summary(browser, cook)
            if cook["error"] is None:
                # Each cook has a picture of its own, unless it is the same cook.
                picture = tuple(browser.run(f'({PRINT})("{name}")') for name in drawn[:2])
                curves = json.dumps({key: cook[key] for key in ("time_s", "probe_k", "surface_k", "air_k", "heat_j")})
                for other_picture, other_curves in seen.items():
                    assert (picture == other_picture) == (curves == other_curves), f"{cook['label']} is drawn as another"
                seen[picture] = curves
                assert all(colours > 3 for name, colours, _ in browser.run(CANVASES) if name in drawn), "a canvas is empty"
        set_axis(browser, k, axis["planned"])
        at[k] = axis["planned"]


def check_time(browser):
    """The slider by keyboard, and Play."""
    browser.run('document.getElementById("lab-slider").focus()')
    state = lambda: (browser.run('document.getElementById("lab-clock").textContent'), browser.run(f'({PRINT})("lab-water")'),
                     browser.run(f'({PRINT})("lab-temperature")'), browser.run(f'({PRINT})("lab-curves")'))
    browser.key("Home", 36)
    first = state()
    browser.key("ArrowRight", 39)
    second = state()
    assert all(a != b for a, b in zip(first, second)), "the arrow key does not move the time"
    assert browser.run('document.getElementById("lab-slider").getAttribute("aria-valuetext")') == second[0]
    moment = browser.run("lab.moment")
    browser.run('document.getElementById("lab-play").click()')
    assert browser.run('document.getElementById("lab-play").getAttribute("aria-pressed")') == "true"
    # Played by its own clock: waited for, not timed.
    browser.run(f"new Promise((done) => {{ const look = () => (lab.moment > {moment} ? done(1) : setTimeout(look, 50)); look(); }})")
    browser.run('document.getElementById("lab-play").click()')
    assert browser.run("lab.timer") is None
    # Radio buttons move by the arrow keys, as everywhere.
    axis = browser.run('document.querySelector("input[name=axis-0]:checked").focus(); lab.at[0]')
    browser.key("ArrowRight", 39)
    assert browser.run("lab.at[0]") != axis, "the arrow key does not move a control"
    set_axis(browser, 0, axis)


def check_units(browser, data, whole=all):
    for system, shown, foreign in (("us", US, r"\d (C|kg|cm|mm|MJ|kJ|K|K/h)\b"), ("si", SI, r"\d (F|lb|in|BTU|F/h)\b")):
        browser.run(f'document.querySelector("input[name=units][value={system}]").click()')
        for index, text in browser.run('[...document.querySelectorAll("[data-quantity]")].map((e) => [+e.dataset.quantity, e.textContent])'):
            kind, value = data["quantities"][index]
            assert same_figure(text, shown[kind](value)), f"{text} is shown, the data has {kind} {value}"
        text = browser.run("""[...document.querySelectorAll("main .quantity, main [data-worded]:not(.as-told *), #lab-summary, #lab-now, #lab-clock, #lab-controls, " +
            "#sweep-table, #sweep-summary, #sweep-values, #sweep-scatters figcaption, .scale")]
            .map((e) => e.textContent).join(" | ")""")
        assert not re.search(foreign, text), f"in {system}: {re.search(foreign, text).group(0)}"
        worded = browser.run('[...document.querySelectorAll("[data-worded]")].map((e) => [+e.dataset.worded, e.textContent])')
        assert worded and all(text == data["worded"][index][system == "us"] for index, text in worded), worded
        check_drawn(browser, whole)


def check_tables(browser, least=3):
    names = browser.run("""[...document.querySelectorAll("details[data-chart]")].map((d) => { d.open = true; return d.dataset.chart; })""")
    browser.run("new Promise((done) => setTimeout(done, 0))")
    for name in names:
        rows = browser.run(f"""(() => {{ fillTable("{name}");
            return document.querySelectorAll('details[data-chart="{name}"] tbody tr').length; }})()""")
        assert rows >= least, f"the table of {name} has {rows} rows"


def check_quality(path, json_path):
    """Of each choice its bark, tenderness, yield, what the wrap keeps, and what rules it does not meet."""
    page = check_numbers(path)
    with open(json_path) as file:
        choices = json.load(file)["choices"]
    rows = re.findall(r"<tr>.*?</tr>", re.search(r'<table class="quality">.*?</table>', page.source, re.S).group(0), re.S)[1:]
    assert len(rows) == len(choices)
    for row, choice in zip(rows, choices):
        quantities = [page.data["quantities"][int(n)] for n in re.findall(r'data-quantity="(\d+)"', row)]
        expected = [choice["bark"], choice["yield_fraction"]]
        if choice["kept_juice_mass_kg"] is None:
            assert '<span class="absent">-</span>' in row, row
        else:
            expected.append(choice["kept_juice_mass_kg"] + choice["kept_fat_mass_kg"])
        assert choice["label"] in row and [kind for kind, _ in quantities] == ["number", "share", "mass"][:len(expected)], row
        assert all(math.isclose(value, want, rel_tol=1e-9, abs_tol=1e-12) for (_, value), want in zip(quantities, expected)), row
        worded = page.data["worded"][int(re.search(r'data-worded="(\d+)"', row).group(1))]
        assert worded[0] == worded[1] and worded[0].endswith(f", {100 * choice['probe_collagen']:.0f} %"), worded
        broken = {finding["rule"] for finding in choice["safety"] if finding["verdict"] == "not met"}
        assert "holding_place" in broken and "place of the hold" in row, row
        assert ("hot_holding" in broken) == bool(re.search(r"hot holding[,<]", row)), (broken, row)


def check_drivers(path, json_path):
    """The settings that move the stall most, the largest first, with the ranges and changes that cook --sensitivity tells."""
    page = check_numbers(path)
    with open(json_path) as file:
        inputs = {one["key"]: one for one in json.load(file)["sensitivity"]["inputs"]}
    rows = re.findall(r"<tr>.*?</tr>", re.search(r'<table class="drivers quality">.*?</table>', page.source, re.S).group(0), re.S)[1:]
    slopes = []
    for row in rows:
        one = inputs[re.search(r"<code>(.*?)</code>", row).group(1)]
        changes = [page.data["quantities"][int(n)][1] for n in re.findall(r'data-quantity="(\d+)"', row)]
        assert all(math.isclose(a, one[f"stall_length_{side}_s"], rel_tol=1e-6) for a, side in zip(changes, ("low", "high"), strict=True)), row
        words = page.data["worded"][int(re.search(r'data-worded="(\d+)"', row).group(1))][0]
        factor = re.fullmatch(r"x or / ([\d.]+)", words)
        told = one["value_si"] * float(factor.group(1)) if factor else None
        assert told is None or abs(told - one["high_si"]) <= 2e-3 * one["high_si"], words
        slopes.append(abs(one["stall_length_slope_s"]))
    assert slopes == sorted(slopes, reverse=True) and len(slopes) == 8, slopes
    assert slopes[-1] >= sorted((abs(one["stall_length_slope_s"] or 0.0) for one in inputs.values()), reverse=True)[7] - 1e-6


def check_stack(browser):
    """The areas of the heat stand on the axis of zero: what takes heat above it, what gives heat below, each as high as its
    heat, and none over another. How many are below."""
    sets = browser.run("charts.heat.data.datasets.filter((d) => d.yAxisID === 'y').map((d) => [d.label, d.fill ?? false, d.data])")
    near, far = sets[0::2], sets[1::2]
    assert all(label == "" and fill is False for label, fill, _ in near) and all(label and fill == "-1" for label, fill, _ in far)
    low, high = browser.run("[charts.heat.scales.y.min, charts.heat.scales.y.max]")
    below = 0
    for spell in range(len(far[0][2])):
        stacked = {1: 0.0, -1: 0.0}
        for (_, _, starts), (_, _, ends) in zip(near, far):
            own = ends[spell]["own"]
            side = 1 if own >= 0 else -1
            assert math.isclose(starts[spell]["y"], stacked[side], abs_tol=1e-6), "an area does not begin where the last one ends"
            stacked[side] += own
            assert math.isclose(ends[spell]["y"], stacked[side], abs_tol=1e-6), "an area is not as high as its heat"
            below += own < -1
        assert low <= stacked[-1] and stacked[1] <= high, "the axis does not hold the areas"
    assert len(browser.run("charts.heat.legend.legendItems")) == len(far) + 1
    return below


def check_damp(path):
    """Vapour condenses on the meat at first."""
    from browser import Browser
    browser = Browser()
    try:
        browser.open(path)
        assert check_stack(browser) > 0, "nothing gives heat"
        check_console(browser)
    finally:
        browser.close()


def check_console(browser):
    # The browser remarks on this test's own reading of the canvases.
    complaints = [text for text in browser.complaints if "willReadFrequently" not in text]
    assert not complaints, f"the console complains: {complaints}"
    others = [url for url in browser.requests if not url.startswith(("file:", "data:", "blob:"))]
    assert not others, f"the page asks for {others}"


def check_opens(*paths):
    """Pages open and draw on a phone."""
    from browser import Browser
    browser = Browser()
    try:
        browser.size(390, 844)
        for path in paths:
            browser.open(path)
            check_drawn(browser)
            assert browser.run("document.documentElement.scrollWidth") <= 390, f"{path} is wider than the phone"
            cook = browser.run("labCook()")
            expect_summary(browser, cook)
            check_console(browser)
    finally:
        browser.close()


def check_sheet(*paths):
    """Plans fit a phone and a desk, change their units, and print their timetable on one sheet without what is for the screen alone: of one
    piece all on that sheet, of several what is done about late ones on the next."""
    from browser import Browser
    browser = Browser()
    try:
        for path in paths:
            for width, height in ((1280, 900), (390, 844)):
                browser.size(width, height)
                browser.open(path)
                assert browser.run("document.documentElement.scrollWidth") <= width, f"{path} is wider than {width}"
            before = browser.run('document.querySelector(".timetable").textContent')
            browser.run('document.querySelector("#units input:not(:checked)").click()')
            after = browser.run('document.querySelector(".timetable").textContent')
            assert " C" in before and " F" in after and not re.search(r"\d C\b", after), "the timetable keeps its units"
            check_console(browser)
            print_ = base64.b64decode(browser.call("Page.printToPDF", paperWidth=8.27, paperHeight=11.69)["data"])
            sheets = len(re.findall(rb"/Type\s*/Page\b", print_))
            assert sheets == (2 if "pieces" in Page(path).data["plan"] else 1), f"{path} prints on {sheets} sheets"
            browser.call("Emulation.setEmulatedMedia", media="print")
            # A sheet of A4, 210 by 297 mm (ISO 216), less the margins of 0.4 in that the browser leaves, at 96 dots an inch.
            browser.size(int(96 * (210 / 25.4 - 0.8)), 900)
            bottom = browser.run('document.querySelector(".timetable").getBoundingClientRect().bottom + scrollY')
            assert bottom < 96 * (297 / 25.4 - 0.8), f"the timetable of {path} ends at {bottom}"
            seen = browser.run('[...document.querySelectorAll(".screen-only")].filter((e) => e.offsetHeight > 0).length')
            assert seen == 0 and browser.run('document.querySelector(".timetable").offsetHeight') > 0
            browser.call("Emulation.setEmulatedMedia", media="")
    finally:
        browser.close()


def check_browser(path, pictures):
    from browser import Browser
    data = Page(path).data
    browser = Browser()
    try:
        for width, height in ((1280, 900), (390, 844)):
            browser.size(width, height)
            browser.open(path)
            assert browser.run("document.documentElement.scrollWidth") <= width, f"the page is wider than {width}"
            check_drawn(browser)
            browser.picture(f"{pictures}_{width}.png")
        check_stack(browser)
        check_controls(browser, data)
        check_time(browser)
        check_units(browser, data)
        check_tables(browser)
        browser.print(f"{pictures}.pdf")
        unnamed = browser.run("""[...document.querySelectorAll("input, button")].filter((e) =>
            !(e.labels && e.labels.length) && !e.textContent && !e.getAttribute("aria-label")).length""")
        assert unnamed == 0, f"{unnamed} controls have no name"
        check_console(browser)
    finally:
        browser.close()


CHECKS = {"plan": check_plan, "sheet": check_sheet, "numbers": check_numbers, "story": check_story, "planned": check_planned, "no-stall": check_no_stall,
          "never": check_never, "warnings": check_warnings, "hostile": check_hostile, "opens": check_opens, "damp": check_damp, "quality": check_quality, "drivers": check_drivers, "browser": check_browser}

if __name__ == "__main__":
    CHECKS[sys.argv[1]](*sys.argv[2:])
