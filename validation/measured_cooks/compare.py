"""Cooks every measured brisket with what its cook stated (mass, pit, kind of pit, wrap) and all else as usual, and writes how far
the readings and the end lie from it: python3 validation/measured_cooks/compare.py build/apps/stallwright [REPORT.md]"""
import collections
import csv
import math
import pathlib
import re
import subprocess
import sys
import tempfile

HERE = pathlib.Path(__file__).parent
# The kind of pit as a cook says it, and as a scenario does; charcoal and wood of no stated kind count as draughty.
KINDS = {"electric": "electric", "pellet": "pellet", "bullet": "bullet", "drum": "drum", "kettle": "kettle",
         "ceramic": "ceramic", "fan": "pellet", "oven": "house-oven"}
WRAPS = {"foil": "closed-foil", "wrapped": "closed-foil", "paper": "paper"}


def word(words, text, otherwise):
    return next((found for name, found in words.items() if name in text.lower()), otherwise)


def pit_steps(log):
    """"107 set to 9 h, then 121" as [(0, 107), (9, 121)]; else the mean the log gives."""
    first = re.match(r"(\d+) set", log["pit_C"])
    if not first:
        return [(0.0, float(log["pit_mean_C_est"]))]
    raised = re.findall(r"to ([\d.]+) h, (?:then )?(\d+)", log["pit_C"])
    return [(0.0, float(first[1]))] + [(float(hour), float(pit)) for hour, pit in raised]


def cook(program, log, hours, folder):
    """The probe's curve as (hours, C)."""
    scenario = pathlib.Path(folder) / "cook.yaml"
    scenario.write_text("pit:\n  temperature:\n" + "".join(f"    - {{from: {hour} h, temperature: {pit} C}}\n"
                                                           for hour, pit in pit_steps(log)))
    settings = [f"pit.kind={word(KINDS, log['pit_kind'], 'offset')}", "rest.until=none", "hold.until=none", f"pull={hours} h"]
    if log["mass_kg_untrimmed"]:
        settings.append(f"meat.bought_mass={log['mass_kg_untrimmed']} kg")
    else:
        settings.append(f"meat.mass={log['mass_kg_trimmed']} kg")
    wrap = word(WRAPS, log["wrap"], "")
    if wrap and log["wrap_time_h"]:
        settings += [f"wrap.kind={wrap}", f"wrap.when={log['wrap_time_h']} h"]
    command = [program, "cook", "--quiet", "--format", "csv", str(scenario)]
    for setting in settings:
        command += ["--set", setting]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    rows = list(csv.DictReader(done.stdout.splitlines()))
    return [(float(row["time_s"]) / 3600.0, float(row["probe_k"]) - 273.15) for row in rows]


def at(curve, hour):
    for (t0, c0), (t1, c1) in zip(curve, curve[1:]):
        if t1 >= hour:
            return c0 + (hour - t0) / (t1 - t0) * (c1 - c0)
    return curve[-1][1]


def figures(errors):
    if not errors:
        return "- | - | -"
    mean = sum(errors) / len(errors)
    return f"{len(errors)} | {mean:+.1f} | {math.sqrt(sum(e * e for e in errors) / len(errors)):.1f}"


def main():
    program, report = sys.argv[1], sys.argv[2] if len(sys.argv) > 2 else HERE / "report.md"
    readings = collections.defaultdict(list)
    for row in csv.DictReader(open(HERE / "readings.csv", encoding="utf-8")):
        readings[row["log_id"]].append((float(row["hours_since_on"]), float(row["temperature_C"])))
    errors, ends, rows = [], [], []
    with tempfile.TemporaryDirectory() as folder:
        for log in csv.DictReader(open(HERE / "logs.csv", encoding="utf-8")):
            own = readings[log["log_id"]]
            last = max([hour for hour, _ in own] + [float(log["done_h"] or 0.0)], default=0.0)
            if last == 0.0:
                continue
            curve = cook(program, log, 2.2 * last + 2.0, folder)
            kind = word(KINDS, log["pit_kind"], "offset")
            found = [(hour, at(curve, hour) - celsius) for hour, celsius in own]
            errors += [(kind, hour, error) for hour, error in found]
            end = ""
            if log["done_h"] and log["pull_C"]:
                computed = next((hour for hour, celsius in curve if celsius >= float(log["pull_C"])), None)
                if computed:
                    ends.append(computed / float(log["done_h"]) - 1.0)
                    end = f"{float(log['done_h']):.1f} | {computed:.1f}"
            mass = log["mass_kg_untrimmed"] or log["mass_kg_trimmed"]
            rows.append(f"| {log['log_id']} | {mass} | {log['pit_mean_C_est']} | {kind} | {word(WRAPS, log['wrap'], 'none')} | "
                        f"{figures([error for _, error in found])} | {end or '- | -'} |")
    ends.sort()
    size = sorted(abs(end) for end in ends)
    lines = ["# Measured cooks", "", "Written by `compare.py`; see the README beside it. Computed less read, K.", "",
             "| readings | number | mean | rms |", "|---|---|---|---|", f"| all | {figures([e for _, _, e in errors])} |",
             f"| first four hours | {figures([e for _, hour, e in errors if hour <= 4.0])} |"]
    for low, high in ((0, 2), (2, 4), (4, 6), (6, 8), (8, 12), (12, 30)):
        lines.append(f"| {low} to {high} h | {figures([e for _, hour, e in errors if low < hour <= high])} |")
    for kind in sorted({kind for kind, _, _ in errors}):
        lines.append(f"| {kind} | {figures([e for found, _, e in errors if found == kind])} |")
    lines += ["", f"End times of {len(ends)} cooks: the median is {100 * ends[len(ends) // 2]:+.0f} % off, "
              f"the median size of the error {100 * size[len(size) // 2]:.0f} %.", "",
              "| cook | kg | pit, C | kind | wrap | readings | mean | rms | done after, h | computed, h |",
              "|---|---|---|---|---|---|---|---|---|---|"] + rows
    pathlib.Path(report).write_text("\n".join(lines) + "\n", encoding="utf-8")
    print(f"measured cooks: number, mean and rms of the readings: {figures([error for _, _, error in errors])}")


main()
