# SPDX-License-Identifier: BSD-3-Clause
"""Prints the computed tables of the theory pages: python3 docs/theory/tables.py PROGRAM [PAGE ...], a page being parameters,
stall, windows (of stall.md), damp (of pit.md), wraps or numerics. Paste what changed."""
import csv
import json
import subprocess
import sys

PROGRAM = sys.argv[1]
BARE = ("rest.until=none", "hold.until=none")


def cook(*settings):
    arguments = [PROGRAM, "cook", "--quiet", "--format", "json"]
    for setting in BARE + settings:
        arguments += ["--set", setting]
    done = subprocess.run(arguments, stdout=subprocess.PIPE, stderr=subprocess.PIPE, check=False)
    if done.returncode != 0:
        return None
    return json.loads(done.stdout)


def choice(*settings):
    document = cook(*settings)
    return document and document["choices"][0]


def hours(seconds, digits=1):
    return "none" if seconds is None else f"{seconds / 3600:.{digits}f}"


def celsius(kelvin, digits=0):
    return "none" if kelvin is None else f"{kelvin - 273.15:.{digits}f}"


def share(value, digits=0):
    return "-" if value is None else f"{100 * value:.{digits}f}"


def row(*cells):
    print("| " + " | ".join(str(cell) for cell in cells) + " |")


def parameters():
    print("base:", *summary(choice()), share(choice()["yield_at_pull"], 1))
    cases = [
        ("pit", "pit.temperature", "C", "107, 149 C"),
        ("juice runoff time", "meat.juice_runoff_time", "h", "0.3, 3, 20 h"),
        ("bark openness", "meat.bark_openness", "", "0.03, 0.10, 0.20"),
        ("permeability", "meat.permeability", "m2", "1e-17, 1e-16, 1e-15 m2"),
        ("thickness, same mass", "meat.thickness", "cm", "5, 6.5, 9 cm"),
        ("convection", "pit.convection", "W/m2/K", "9, 15, 25 W/m2K"),
        ("water diffusivity", "meat.water_diffusivity", "m2/s", "3e-10, 1.2e-9, 5e-9 m2/s"),
        ("water-holding loss", "meat.water_holding_loss", "", "0.3, 0.6"),
        ("middle of water holding", "meat.water_holding_temperature", "C", "62, 70 C"),
        ("humidity ratio", "pit.humidity_ratio", "", "0.01, 0.05, 0.15"),
    ]
    for name, key, unit, values in cases:
        numbers = values.split(" " + values.split()[-1])[0] if unit else values
        changed = [choice(f"{key}={number.strip()}{' ' + unit if unit else ''}") for number in numbers.split(",")]
        row(name, values, *(", ".join(column) for column in zip(*map(summary, changed))))
    row("fat cap of 6 mm", "", *summary(choice("meat.fat_cap.thickness=6 mm")))


def summary(c):
    if c is None:
        return ("never", "-", "-", "-")
    return (hours(c["done_s"]), celsius(c["stall_probe_k"]), hours(c["stall_length_s"]), share(c["yield_at_pull"]))


def stall():
    pits = (107, 112, 116, 119, 121, 125, 130, 135, 140, 149)
    cooks = [choice(f"pit.temperature={pit} C") for pit in pits]
    row("pit, C", *pits)
    row("slowest rate, K/h", *("" if c["stall_slowest_rate_k_per_s"] is None else f"{3600 * c['stall_slowest_rate_k_per_s']:.1f}" for c in cooks))
    row("stall lasts, h", *(hours(c["stall_length_s"]) for c in cooks))
    row("done after, h", *(hours(c["done_s"]) for c in cooks))


def windows():
    lids = "pit.lid.openings=[" + ", ".join(f"{hour}h" for hour in range(3, 9)) + "]"
    sprays = [(f"60 g each {every} min", "spritz.amount=60 g", f"spritz.every={every} min") for every in (90, 60, 45, 30)]
    cases = [("left alone",), *sprays,
             ("lid open 5 min, hourly from 3 h to 8 h", lids, "pit.lid.duration=5 min"),
             ("pit swings by 20 K, each hour", "pit.cycle.swing=20 K", "pit.cycle.period=1 h"),
             ("by 20 K, each two hours", "pit.cycle.swing=20 K", "pit.cycle.period=2 h")]
    for name, *settings in cases:
        cooks = [choice(*settings, f"stall.window={window}", "solver.output_interval=1 min") for window in ("5 min", "1 h", "2 h")]
        row(name, hours(cooks[1]["done_s"]), *(hours(c["stall_length_s"]) for c in cooks))


def damp():
    for ratio in (0.01, 0.05, 0.1, 0.15, 0.3, 0.6):
        setting = f"pit.humidity_ratio={ratio}"
        c = choice(setting)
        table = subprocess.run([PROGRAM, "cook", "--quiet", "--no-band", "--format", "csv", "--set", setting],
                               stdout=subprocess.PIPE, check=True, text=True).stdout.splitlines()
        early = next(line for line in csv.DictReader(table) if float(line["time_s"]) == 1800)
        budget = c["budget_at_pull"]
        heat = budget["convection_heat_j"] + budget["radiation_heat_j"]
        row(f"{ratio:.2f}", celsius(float(early["top_surface_k"]), 1), celsius(c["stall_probe_k"], 1), hours(c["stall_length_s"]),
            f"{budget['evaporated_mass_kg']:.2f}", f"{heat / c['done_s']:.0f}", hours(c["done_s"], 2))


def wraps():
    cases = [("none", "wrap.kind=none"), ("closed-foil", "wrap.kind=closed-foil"), ("open-tray", "wrap.kind=open-tray"),
             ("paper, Pi 6e-10", "wrap.kind=paper", "wrap.paper.permeance=6e-10 kg/s/m2/Pa"),
             ("paper, Pi 1e-9", "wrap.kind=paper", "wrap.paper.permeance=1e-9 kg/s/m2/Pa"),
             ("paper, Pi 4.0e-9 (default)", "wrap.kind=paper"),
             ("paper, Pi 1e-8", "wrap.kind=paper", "wrap.paper.permeance=1e-8 kg/s/m2/Pa"),
             ("paper, then tray at 85 C", "wrap.kind=paper", "rewrap.kind=open-tray", "rewrap.when=85 C"),
             ("foil, e 0.04", "wrap.kind=closed-foil", "wrap.foil.emissivity=0.04"),
             ("foil, e 0.6", "wrap.kind=closed-foil", "wrap.foil.emissivity=0.6"),
             ("tray, juice poured off at 90 C", "wrap.kind=open-tray", "wrap.pour=off"),
             ("tray, 0.5 kg poured in", "wrap.kind=open-tray", "wrap.liquid=0.5 kg"),
             ("foil, 0.5 kg poured in", "wrap.kind=closed-foil", "wrap.liquid=0.5 kg"),
             ("tray, ring 0.5", "wrap.kind=open-tray", "wrap.tray.ring=0.5"),
             ("tray, air does not reach it", "wrap.kind=open-tray", "wrap.tray.convection=0"),
             ("none, 107 C", "pit.temperature=107 C"),
             ("paper Pi 1e-8, 107 C", "pit.temperature=107 C", "wrap.kind=paper", "wrap.paper.permeance=1e-8 kg/s/m2/Pa"),
             ("paper, 107 C", "pit.temperature=107 C", "wrap.kind=paper"),
             ("spritz 30 g", "spritz.amount=30 g")]
    for name, *settings in cases:
        document = cook(*settings)
        c = document["choices"][0]
        row(name, hours(c["done_s"]) + " h", share(c["yield_at_pull"]) + " %",
            celsius(c["top_surface_k"]) + " C, " + c["top_state"], f"{c['kept_juice_mass_kg']:.2f} kg" if c.get("kept_juice_mass_kg") is not None else "-")


def numerics():
    sizes = ((30, 0.6), (60, 0.3), (120, 0.15), (240, 0.075), (480, 0.0375))
    cooks = [cook(f"solver.cells={n}", f"solver.surface_cell={cell} mm") for n, cell in sizes]
    table(["cells; outermost cell, mm"] + [f"{n}; {cell}" for n, cell in sizes], cooks)
    for n, cell in ((120, 0.3), (240, 0.3), (60, 2), (60, 1), (60, 0.5), (60, 0.1)):
        c = choice(f"solver.cells={n}", f"solver.surface_cell={cell} mm")
        print(n, cell, hours(c["done_s"], 3), hours(c["stall_length_s"], 2), f"{c['yield_at_pull']:.4f}")
    tolerances = ("1e-4", "1e-5", "1e-6", "1e-8")
    table(["r", *tolerances], [cook(f"solver.relative_tolerance={r}") for r in tolerances], 4)
    for kind in ("paper", "open-tray", "closed-foil"):
        print(kind, residuals(cook(f"wrap.kind={kind}")), "from the first minute", residuals(cook(f"wrap.kind={kind}", "wrap.when=0 h")))
    for rows, columns in ((16, 28), (24, 40), (48, 80)):
        c = choice("meat.shape=packer", "meat.thickness=0 cm", f"solver.rows={rows}", f"solver.columns={columns}")
        print("packer", rows, columns, hours(c["done_s"]), hours(c["stall_length_s"]), share(c["yield_at_pull"], 1))


def residuals(document):
    budget = document["choices"][0]["budget_at_end"]
    return [f"{budget[name]:.1e}" for name in ("heat_residual", "water_residual", "liquid_residual")]


def table(heads, documents, digits=3):
    row(*heads)
    c = [d["choices"][0] for d in documents]
    row("done after, h", *(hours(x["done_s"], digits) for x in c))
    row("stall begins at, C", *(celsius(x["stall_probe_k"], 2) for x in c))
    row("stall lasts, h", *(hours(x["stall_length_s"], 2 if digits == 3 else 4) for x in c))
    row("yield at the pull", *(f"{x['yield_at_pull']:.4f}" for x in c))
    row("heat, water, liquid residual", *(", ".join(residuals(d)) for d in documents))
    row("steps", *(d["solver"]["steps"] for d in documents))


PAGES = {"parameters": parameters, "stall": stall, "windows": windows, "damp": damp, "wraps": wraps, "numerics": numerics}
for page in sys.argv[2:] or PAGES:
    print(f"--- {page}")
    PAGES[page]()
