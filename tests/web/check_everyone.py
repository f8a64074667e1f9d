# SPDX-License-Identifier: BSD-3-Clause
"""The page can be used by everyone: check_everyone.py PAGE AXE PICTURES"""
import json
import os
import sys

from page import Page

# Targets for gloves: at least this many CSS pixels high and wide; WCAG 2.2 asks for 24 (2.5.8) or, at level AAA, 44 (2.5.5).
TARGET = 44

SMALL = f"""[...document.querySelectorAll('button, select, input, summary')].filter((e) => e.offsetParent && !e.disabled)
  .map((e) => {{ const box = (e.type === 'radio' || e.type === 'checkbox' ? e.closest('label') : e).getBoundingClientRect();
    return [e.id || e.textContent.trim().slice(0, 30) || e.value, Math.round(box.width), Math.round(box.height)]; }})
  .filter(([, width, height]) => width < {TARGET} || height < {TARGET})"""


def look(page, view):
    page.click(f"button[data-view={view}]")
    page.settled()


def check_axe(page, axe, where):
    page.run(axe + "; 0")
    found = page.run("axe.run(document).then((r) => ({ passes: r.passes.length, wrong: r.violations.map((v) => "
                     "[v.id, v.help, v.nodes.slice(0, 3).map((n) => n.html.slice(0, 150) + ' ' + n.failureSummary)]) }))")
    assert not found["wrong"], f"{where}: {json.dumps(found['wrong'], indent=1)}"
    assert found["passes"] > 20, found


def check_keyboard(page):
    """The tabulator comes to every control in sight, and each of them has its focus seen."""
    look(page, "before")
    count = page.run("[...document.querySelectorAll('button, select, input')].filter((e) => e.offsetParent && !e.disabled).length")
    page.run("document.body.focus(); document.activeElement.blur(); window.reached = new Set(); window.faint = []; 0")
    for _ in range(3 * count):
        page.key("Tab", 9)
        page.run("(() => { const e = document.activeElement; if (e.matches('button, select, input')) { window.reached.add(e);"
                 "if (getComputedStyle(e).outlineStyle === 'none') window.faint.push(e.id); } })()")
    reached = page.run("window.reached.size")
    radios = page.run("document.querySelectorAll('input[type=radio]').length")
    assert reached >= count - radios, f"{reached} of {count} controls are reached"
    assert not page.run("window.faint"), page.run("window.faint")


def main():
    path, axe_file, pictures = sys.argv[1:]
    with open(axe_file, encoding="utf-8") as file:
        axe = file.read()
    os.makedirs(pictures, exist_ok=True)
    page = Page(path)
    page.hurry()
    try:
        page.run("Object.assign(under, { on: Date.now() - 6 * 3600e3, entries: [[2, 313], [4, 335], [5.5, 338.5]].map(([h, k]) => "
                 "({ kind: 'reading', time: 3600 * h, value: k })) })")
        for width, height in ((390, 844), (768, 1024), (1280, 900)):
            page.size(width, height)
            for view in ("before", "when", "during", "why", "safety"):
                look(page, view)
                if view == "why":
                    page.click("input[value=teacher]")
                    page.settled()
                where = f"{view} at {width}"
                check_axe(page, axe, where)
                # A telephone makes its window as wide as what is in it, so not that is asked.
                wide = page.run("document.documentElement.scrollWidth") - width
                assert wide <= 0, f"{where}: {wide} px wider than the screen"
                small = page.run(SMALL)
                assert not small, f"{where}: too small for gloves: {small}"
                page.whole_picture(os.path.join(pictures, f"{view}_{width}.png"), width)
                page.size(width, height)
        page.size(390, 844)
        page.type("mass", "99")
        page.settled()
        check_axe(page, axe, "with an error")
        page.type("mass", "6.5")
        page.settled()
        check_keyboard(page)
        page.call("Emulation.setEmulatedMedia", features=[{"name": "prefers-reduced-motion", "value": "reduce"}])
        assert page.run("matchMedia('(prefers-reduced-motion: reduce)').matches && Object.values(charts).every((c) => c.options.animation === false)")
        page.print(os.path.join(pictures, "before.pdf"))
        page.assert_quiet()
        print("everyone: no violation in five views at three widths, targets of 44 px, all by keyboard")
    finally:
        page.close()


main()
