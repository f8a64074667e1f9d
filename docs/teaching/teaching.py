# SPDX-License-Identifier: BSD-3-Clause
"""Writes the teacher's key and the student's sheet from their one source, with what the program computes now:
python3 docs/teaching/teaching.py PROGRAM [SOURCE.md [FOLDER]]. The key gets all of it; the sheet no answers, only empty tables for them.
In the source: "<!-- teacher -->" or "<!-- student -->" up to "<!-- end -->" belongs to one of the two only, and
"<!-- computed: NAME -->" stands for findings."""
import json
import math
import os
import re
import subprocess
import sys

KEY, SHEET = "key.md", "sheet.md"
NOTE = "<!-- written by docs/teaching/teaching.py from docs/teaching/source.md: change that -->\n\n"
DRIVERS = 6  # so many of the settings that move the stall most


def run(program, *arguments):
    # A cook that never finishes is explained too, with exit status 1.
    return subprocess.run([program, *arguments], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, check=False, text=True).stdout


def explain(program, *settings):
    arguments = ["explain", "--quiet", "--format", "json"]
    for setting in settings:
        arguments += ["--set", setting]
    return json.loads(run(program, *arguments))


# ---- quantities, in both systems of units ----

def hours(seconds):
    return "-" if seconds is None else f"{seconds / 3600:.1f} h"


def temperature(kelvin):
    return "-" if kelvin is None else f"{kelvin - 273.15:.1f} C ({1.8 * (kelvin - 273.15) + 32:.1f} F)"


def heat(low, high):
    decimals = 0 if high >= 1e5 else 1
    shown = [f"{low / one:.{decimals}f} to {high / one:.{decimals}f} {unit}" if high > low else f"{high / one:.{decimals}f} {unit}"
             for one, unit in ((1e3, "kJ"), (1055.05585262, "BTU"))]
    return f"{shown[0]} ({shown[1]})"


def length(centimetres):
    return f"{centimetres:.1f} cm ({centimetres / 2.54:.2f} in)"


def draught(watts):
    """W/m2/K; a BTU/h/ft2/F is 5.678263 of them."""
    return f"a draught of {watts} W/m2K ({watts / 5.678263:.2f} BTU/h ft2 F)"


def share(value):
    return "-" if value is None else f"{100 * value:.1f} %"


# ---- findings: tables, as lists of rows, and texts ----

def planned(document):
    return document["choices"][0]


def us_text(program):
    return run(program, "explain", "--quiet", "--units", "us")


def us_changes(program):
    """The sentences on one cause changed at a time, by cause as it is called there."""
    found = re.findall(r"^- ([a-z ]+): (.*?)(?=\n- |\n\n)", us_text(program), re.S | re.M)
    return [" ".join(sentence.split()) for _, sentence in found]


def us_plateau(program):
    text = us_text(program)
    return " ".join(text[text.index("During the stall"):text.index("\n\nThe same cook with")].split())


def explanations(program):
    document = explain(program)
    evaporation = document["heat"]["evaporation_heat_j"]
    first = [["explanation", "heat in this cook", "over evaporation's"], ["evaporation", heat(evaporation, evaporation), "1"]]
    for item in document["common_explanations"]:
        first.append([item["name"], heat(item["low_j"], item["high_j"]), f"at most {item['high_j'] / evaporation:.4f}"])
    outcome = planned(document)
    second = [["cook", "done after", "stall lasts", "yield at the pull"],
              ["as planned", hours(outcome["done_s"]), hours(outcome["stall_length_s"]), share(outcome["yield_at_pull"])]]
    for change in document["changes"]:
        choice = change["choice"] or {"done_s": None, "stall_length_s": None, "yield_at_pull": None}
        stall = "no stall" if choice["done_s"] is not None and choice["stall_length_s"] is None else hours(choice["stall_length_s"])
        second.append([change["cause"].replace("_", " "), hours(choice["done_s"]), stall, share(choice["yield_at_pull"])])
    words = []
    for change, us in zip(document["changes"], us_changes(program)):
        words.append(f"- {change['cause'].replace('_', ' ')}: {change['sentence']}")
        if us != change["sentence"]:
            words.append(f"  (In US units: {us})")
    return [first, second, "\n".join(words)]


def thickness(program):
    centimetres = [4.0, 5.5, 7.5, 10.0]
    done = {}
    for evaporation in ("yes", "no"):
        for size in centimetres:
            done[evaporation, size] = planned(explain(program, f"meat.thickness={size}cm", f"solver.evaporation={evaporation}"))["done_s"]

    def slope(evaporation, small, large):
        a, b = done[evaporation, small], done[evaporation, large]
        return "-" if a is None or b is None else f"{math.log(b / a) / math.log(large / small):.2f}"

    rows = [["thickness", "done after", "exponent since the row above", "without evaporation", "exponent"]]
    for i, size in enumerate(centimetres):
        before = centimetres[i - 1] if i > 0 else None
        rows.append([length(size)] + [text for evaporation in ("yes", "no") for text in
                                      (hours(done[evaporation, size]), slope(evaporation, before, size) if before else "")])
    return [rows, f"Over the whole range the exponent is {slope('yes', 4.0, 10.0)} with evaporation and {slope('no', 4.0, 10.0)} without."]


def plateau(program):
    rows = [["pit", "wet-bulb", "surface in the stall", "probe when it begins", "stall lasts", "evaporation takes"]]
    # What explain says of the plateau of the cook as planned; the course, the heat and its share come before.
    said = " ".join(explain(program)["sentences"][3:])
    for name, setting in (("as planned", None), ("humidity ratio 0.065", "pit.humidity_ratio=0.065"),
                          ("humidity ratio 0.07", "pit.humidity_ratio=0.07"),
                          ("humidity ratio 0.08", "pit.humidity_ratio=0.08"),
                          (draught(5), "pit.convection=5 W/m2/K"), (draught(8), "pit.convection=8 W/m2/K")):
        document = explain(program, *([setting] if setting else []))
        values = document["plateau"]
        rows.append([name, temperature(values["wet_bulb_k"]), temperature(values["surface_k"]), temperature(values["probe_at_start_k"]),
                     hours(planned(document)["stall_length_s"]), share(values["evaporation_share"])])
    return [rows, "Of the cook as planned `explain` says:\n\n" + f"> {said}\n>\n> In US units: {us_plateau(program)}"]


def drivers(program):
    """The inputs that move the stall most, with the ranges that the program itself holds."""
    inputs = json.loads(run(program, "cook", "--quiet", "--sensitivity", "--format", "json"))["sensitivity"]["inputs"]
    shown = run(program, "cook", "--quiet", "--sensitivity"), run(program, "cook", "--quiet", "--sensitivity", "--units", "us")
    inputs = sorted((one for one in inputs if one["stall_length_slope_s"] is not None), key=lambda one: -abs(one["stall_length_slope_s"]))
    rows = [["setting", "how well it is known: one standard range", "stall with it lower", "stall with it higher"]]
    for one in inputs[:DRIVERS]:
        ranges = [re.search(rf"^ *{re.escape(one['key'])}  +(.+?)  ", text, re.M).group(1) for text in shown]
        moved = [f"{one[f'stall_length_{side}_s'] / 3600:+.1f} h" for side in ("low", "high")]
        rows.append([f"`{one['key']}`", ranges[0] if ranges[0] == ranges[1] else f"{ranges[0]} ({ranges[1]})", *moved])
    return [rows]


FINDINGS = {"explanations": explanations, "thickness": thickness, "plateau": plateau, "drivers": drivers}


# ---- the two documents ----

def table(rows):
    lines = [rows[0], ["---"] * len(rows[0])] + rows[1:]
    return "\n".join("| " + " | ".join(row) + " |" for row in lines)


def filled(findings):
    return "\n\n".join(table(part) if isinstance(part, list) else part for part in findings)


def emptied(findings):
    """The tables, with room for what is found; of settings found also for which they are."""
    return "\n\n".join(table([part[0]] + [[" " if row[0].startswith("`") else row[0]] + [" " * 8] * (len(row) - 1) for row in part[1:]])
                       for part in findings if isinstance(part, list))


def document(source, name, findings, write):
    other = {"teacher": "student", "student": "teacher"}[name]
    text = re.sub(rf"<!-- {other} -->\n.*?<!-- end -->\n", "", source, flags=re.S)
    text = re.sub(rf"<!-- {name} -->\n(.*?)<!-- end -->\n", r"\1", text, flags=re.S)
    text = re.sub(r"\n{3,}", "\n\n", text)
    for key, found in findings.items():
        mark = f"<!-- computed: {key} -->\n"
        assert text.count(mark) == 1, f"the source has no place for {key}"
        text = text.replace(mark, f"<!-- computed: {key} -->\n\n{write(found)}\n\n<!-- end -->\n")
    return NOTE + text


def main():
    program = os.path.abspath(sys.argv[1])
    here = os.path.dirname(os.path.abspath(__file__))
    source = sys.argv[2] if len(sys.argv) > 2 else os.path.join(here, "source.md")
    folder = sys.argv[3] if len(sys.argv) > 3 else os.path.dirname(source)
    with open(source) as file:
        text = file.read()
    findings = {name: find(program) for name, find in FINDINGS.items()}
    for path, name, write in ((KEY, "teacher", filled), (SHEET, "student", emptied)):
        with open(os.path.join(folder, path), "w") as file:
            file.write(document(text, name, findings, write))


if __name__ == "__main__":
    main()
