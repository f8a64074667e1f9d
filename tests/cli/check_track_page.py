# SPDX-License-Identifier: BSD-3-Clause
"""Checks of the page and the picture of a cook under way, called by test_track_page.sh: check_track_page.py KIND FILE ..."""
import json
import sys

from check_page import SI, US, Page, check_console, check_drawn, check_tables, check_units, same_figure


def clock(json_data, seconds):
    minutes = round((json_data["start_clock_s"] + seconds) / 60)
    days = minutes // 1440
    return f"{minutes % 1440 // 60:02d}:{minutes % 60:02d}" + (f" +{days} day" if days else "")


def is_close(a, b):
    """The data of a page have fewer digits."""
    if isinstance(a, dict):
        return a.keys() == b.keys() and all(is_close(a[k], b[k]) for k in a)
    if isinstance(a, list):
        return len(a) == len(b) and all(map(is_close, a, b))
    return a == b or abs(a - b) <= 1e-4 * abs(b)


def check_figures(path, json_path=None):
    page = Page(path)
    shown = SI if page.data["units"] == "si" else US
    assert not page.outside and len(page.source.encode()) < 2e6
    assert len(page.quantities) == len(page.data["quantities"]) > 3
    for index, text in page.quantities:
        kind, value = page.data["quantities"][index]
        assert same_figure(text, shown[kind](value)), f"{text} is shown, the data has {kind} {value}"
    if not json_path:
        return
    with open(json_path, encoding="utf-8") as file:
        known = json.load(file)
    track = page.data["track"]
    for key in ("readings", "fitted", "fan", "now_s", "pull_k"):
        assert is_close(track[key], known[key]), key
    text = " ".join(page.plain)
    for choice in known["choices"]:
        for moment in choice["done_s"].values():
            assert clock(known, moment) in text, f"{choice['choice']}: {clock(known, moment)} is not in the page"
    assert "alert(1)" in text and "<script>alert" not in page.source, "a text of the log breaks out of the page"


def check_picture(path, json_path):
    with open(path, encoding="utf-8") as file:
        svg = file.read()
    assert svg.rstrip().endswith("</svg>") and svg.count("<path") + svg.count("<polyline") > 20
    with open(json_path, encoding="utf-8") as file:
        known = json.load(file)
    assert len(known["readings"]) == 26


def check_browser(*paths):
    from browser import Browser
    browser = Browser()
    try:
        for path in paths:
            for width in (1280, 390):
                browser.size(width, 900)
                browser.open(path)
                assert browser.run("document.documentElement.scrollWidth") <= width, f"{path} is wider than {width}"
                check_drawn(browser, any)
        browser.open(paths[0])
        check_units(browser, Page(paths[0]).data, any)
        check_tables(browser)
        check_console(browser)
    finally:
        browser.close()


if __name__ == "__main__":
    {"figures": check_figures, "picture": check_picture, "browser": check_browser}[sys.argv[1]](*sys.argv[2:])
