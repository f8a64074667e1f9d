"""Writes the computed findings of the teaching note anew: python3 docs/teaching.py PROGRAM [NOTE.md].
Each stands between "<!-- computed: NAME -->" and "<!-- end -->"."""
import json
import math
import os
import re
import subprocess
import sys


def explain(program, *settings):
    arguments = [program, "explain", "--quiet", "--format", "json"]
    for setting in settings:
        arguments += ["--set", setting]
    # A cook that never finishes is explained too, with exit status 1.
    return json.loads(subprocess.run(arguments, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, check=False).stdout)


def hours(seconds):
    return "-" if seconds is None else f"{seconds / 3600:.1f} h"


def celsius(kelvin):
    return "-" if kelvin is None else f"{kelvin - 273.15:.1f} C"


def share(value):
    return "-" if value is None else f"{100 * value:.1f} %"


def table(heads, rows):
    lines = [heads, ["---"] * len(heads)] + rows
    return "\n".join("| " + " | ".join(row) + " |" for row in lines)


def planned(document):
    return document["choices"][0]


def explanations(program):
    document = explain(program)
    evaporation = document["heat"]["evaporation_heat_j"]
    rows = [["evaporation", f"{evaporation / 1e3:.0f} kJ", "1"]]
    for item in document["common_explanations"]:
        low, high = item["low_j"] / 1e3, item["high_j"] / 1e3
        heat = f"{low:.1f} to {high:.1f} kJ" if high > low else f"{high:.1f} kJ"
        rows.append([item["name"], heat, f"at most {item['high_j'] / evaporation:.4f}"])
    text = [table(["explanation", "heat in this cook", "over evaporation's"], rows), ""]
    outcome = planned(document)
    rows = [["as planned", hours(outcome["done_s"]), hours(outcome["stall_length_s"]), share(outcome["yield_at_pull"])]]
    for change in document["changes"]:
        choice = change["choice"] or {"done_s": None, "stall_length_s": None, "yield_at_pull": None}
        rows.append([change["cause"].replace("_", " "), hours(choice["done_s"]), hours(choice["stall_length_s"]),
                     share(choice["yield_at_pull"])])
    text.append(table(["cook", "done after", "stall lasts", "yield at the pull"], rows))
    text.append("")
    for change in document["changes"]:
        text.append(f"- {change['cause'].replace('_', ' ')}: {change['sentence']}")
    return "\n".join(text)


def thickness(program):
    centimetres = [4.0, 5.5, 7.5, 10.0]
    rows, done = [], {}
    for evaporation in ("yes", "no"):
        for size in centimetres:
            done[evaporation, size] = planned(explain(program, f"meat.thickness={size}cm", f"solver.evaporation={evaporation}"))["done_s"]

    def slope(evaporation, small, large):
        a, b = done[evaporation, small], done[evaporation, large]
        return "-" if a is None or b is None else f"{math.log(b / a) / math.log(large / small):.2f}"

    for i, size in enumerate(centimetres):
        before = centimetres[i - 1] if i > 0 else None
        rows.append([f"{size} cm"] + [text for evaporation in ("yes", "no") for text in
                                      (hours(done[evaporation, size]), slope(evaporation, before, size) if before else "")])
    return table(["thickness", "done after", "exponent since the row above", "without evaporation", "exponent"], rows) + \
        f"\n\nOver the whole range the exponent is {slope('yes', 4.0, 10.0)} with evaporation and {slope('no', 4.0, 10.0)} without."


def plateau(program):
    rows = []
    # What explain says of the plateau of the cook as planned; the course, the heat and its share come before.
    said = explain(program)["sentences"][3:]
    for name, setting in (("as planned", None), ("humidity ratio 0.05", "pit.humidity_ratio=0.05"),
                          ("humidity ratio 0.1", "pit.humidity_ratio=0.1"), ("humidity ratio 0.15", "pit.humidity_ratio=0.15"),
                          ("a draught of 5 W/m2K", "pit.convection=5 W/m2/K"), ("a draught of 20 W/m2K", "pit.convection=20 W/m2/K")):
        document = explain(program, *([setting] if setting else []))
        values = document["plateau"]
        stall = planned(document)["stall_length_s"]
        rows.append([name, celsius(values["wet_bulb_k"]), celsius(values["surface_k"]), celsius(values["probe_at_start_k"]),
                     "no stall" if stall is None else hours(stall), share(values["evaporation_share"])])
    return table(["pit", "wet-bulb", "surface in the stall", "probe when it begins", "stall lasts", "evaporation takes"], rows) + \
        "\n\nOf the cook as planned `explain` says:\n\n" + "\n".join(f"> {sentence}" for sentence in said)


FINDINGS = {"explanations": explanations, "thickness": thickness, "plateau": plateau}


def main():
    program = os.path.abspath(sys.argv[1])
    note = sys.argv[2] if len(sys.argv) > 2 else os.path.join(os.path.dirname(os.path.abspath(__file__)), "teaching.md")
    with open(note) as file:
        text = file.read()
    for name, find in FINDINGS.items():
        place = re.compile(rf"(<!-- computed: {name} -->\n).*?(<!-- end -->)", re.S)
        assert place.search(text), f"{note} has no place for {name}"
        findings = find(program)
        text = place.sub(lambda found: f"{found.group(1)}\n{findings}\n\n{found.group(2)}", text)
    with open(note, "w") as file:
        file.write(text)


if __name__ == "__main__":
    main()
