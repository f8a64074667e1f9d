# SPDX-License-Identifier: BSD-3-Clause
"""A module that traps, or gets no memory, leaves the page alive and the cook as it was: check_broken.py PAGE FOLDER"""
import os
import sys

from page import Page
from wasm_break import broken_page, limited, trapping

STATE = "JSON.stringify([keptCook(), now.told && now.told.choice])"
AGAIN = "was started again, and the cook is kept as it was"


def workers(page):
    """Marks those that run, to see which of them do later."""
    page.run("for (const one of bench.benches) one.worker.marked = true")


def restarted(page):
    return page.run("bench.benches.filter((one) => !one.worker.marked).length")


def check_trap(path, folder):
    """The plan traps: that is said, its worker is another, and the cook is computed as before."""
    page = Page(broken_page(path, os.path.join(folder, "no_plan.html"), lambda module: trapping(module, "web_plan")))
    page.hurry()
    try:
        page.type("mass", "5.25")
        page.settled()
        page.run("Object.assign(under, { on: Date.now() - 6 * 3600e3, entries: [[2, 313], [4, 335]].map(([h, k]) => ({ kind: 'reading', time: 3600 * h, value: k })) })"
                 "; update()")
        page.settled()
        before, figures = page.run(STATE), page.text("#figures")
        workers(page)
        page.click("button[data-view=when]")
        assert page.settled() == "Not computed."
        assert "broke off (unreachable)" in page.trouble() and AGAIN in page.trouble(), page.trouble()
        assert restarted(page) == 1, "the worker that broke is in use"
        assert page.run(STATE) == before and page.run("JSON.stringify([remembered(current.id).fields, remembered(current.id).entries])"
                                                       " === JSON.stringify([keptCook().fields, keptCook().entries])")
        # Everything else goes on, in the units that are set.
        page.click("input[name=units][value=us]")
        page.click("button[data-view=before]")
        assert page.settled().startswith("Off the pit") and not page.trouble()
        page.click("input[name=units][value=si]")
        page.settled()
        assert page.text("#figures") == figures
        page.click("button[data-view=during]")
        assert page.settled().startswith("Off the pit") and page.run("under.told.track.readings.length") == 2
        page.type("mass", "99")
        page.settled()
        assert "meat.mass is 99 kg" in page.trouble(), page.trouble()
        page.assert_quiet()
    finally:
        page.close()


def check_trap_in_parts(path, folder):
    """A part of the band traps in several workers: said once, and the curve is there."""
    page = Page(broken_page(path, os.path.join(folder, "no_band.html"), lambda module: trapping(module, "web_band_part")))
    try:
        assert page.settled() == "Not computed." and page.trouble().count("broke off") == 1, page.trouble()
        assert page.run("now.told.choice.done_s") > 0 and "Off the pit" in page.text("#figures")
        page.click("button[data-view=why]")
        assert page.settled().startswith("Off the pit") and not page.trouble()
        page.assert_quiet()
    finally:
        page.close()


def worker_fails(path, copy):
    """A copy of the page whose worker ends at once."""
    with open(path, encoding="utf-8") as file:
        page = file.read()
    begin = '<script id="worker" type="text/plain">'
    assert page.count(begin) == 1
    with open(copy, "w", encoding="utf-8") as file:
        file.write(page.replace(begin, begin + "throw new Error('out of order');"))
    return copy


def check_start(copy, words):
    """What cannot even begin is said, and not begun for ever."""
    page = Page.__new__(Page)
    super(Page, page).__init__()
    page.setting = None
    try:
        page.call("Page.addScriptToEvaluateOnNewDocument", source="window.begun = 0; window.Worker = class extends Worker {"
                  " constructor(...all) { super(...all); window.begun++; } }")
        page.open(copy)
        page.run("new Promise((go) => { const look = () => (document.getElementById('trouble').hidden ? setTimeout(look, 20) : go()); look(); })")
        assert "cannot run the page" in page.trouble() and words in page.trouble(), page.trouble()
        page.run("new Promise((go) => setTimeout(go, 500))")
        made = page.run("window.begun")
        assert made <= page.run("bench.benches.length") + 1, f"it is begun again and again, {made} times"
    finally:
        page.close()


def check_memory(path, folder):
    """Memory for a cook as it is usual and not for a very fine one: that is said, and the usual one is computed after it."""
    page = Page(broken_page(path, os.path.join(folder, "little_memory.html"), lambda module: limited(module, 64)))
    page.hurry()
    try:
        page.type("mass", "5.25")
        assert page.settled().startswith("Off the pit"), page.trouble()
        before, figures = page.run(STATE), page.text("#figures")
        workers(page)
        said = page.ask("cook", {"solver.cells": 1000, "solver.field_interval": 1}, [], 240, 0)
        said = said.get("error") or said["answer"]["choice"].get("error") or ""
        assert "memory" in said or "broke off" in said, said
        assert page.run(STATE) == before
        page.run("now.told = null; update()")
        assert page.settled().startswith("Off the pit") and page.text("#figures") == figures, page.trouble()
        page.assert_quiet()
        return said, restarted(page)
    finally:
        page.close()


def main():
    path, folder = sys.argv[1:]
    os.makedirs(folder, exist_ok=True)
    check_trap(path, folder)
    check_trap_in_parts(path, folder)
    check_start(broken_page(path, os.path.join(folder, "no_start.html"), lambda module: trapping(module, "_initialize")), "unreachable")
    check_start(worker_fails(path, os.path.join(folder, "no_worker.html")), "out of order")
    said, again = check_memory(path, folder)
    print(f"broken: a trap and no memory are said and leave the cook as it was; without memory: \"{said}\", {again} workers begun again")


main()
