#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Writes the tables of doneness.md: sh docs/theory/doneness_table.sh build/apps/stallwright
set -eu
program=$1
cook() { # label, wrap, pull, rest, hold; both at 68 C
    "$program" cook --format json -q --set wrap.kind="$2" --set wrap.when=60C --set pull="$3" --set rest.until="$4" \
        --set hold.temperature=68C --set hold.humidity_ratio=0.2 --set hold.until="$5" |
        /usr/bin/python3 -c '
import json, sys
c = json.load(sys.stdin)["choices"][0]
share = lambda value: f"{100 * value:.0f} %"
print("|", sys.argv[1], "|", f"""{c["done_s"] / 3600:.1f} h""", "|", share(c["probe_collagen_at_pull"]), "|",
      share(c["probe_collagen"]), f"""({share(c["probe_collagen_low"])} to {share(c["probe_collagen_high"])})""", "|",
      share(c["reactions"]["actin"]["probe"]), "|", share(c["yield_fraction"]), "|", c["tenderness"], "|")' "$1"
}
echo '| cook | pulled after | collagen at the pull | when sliced (range) | actin | yield | |'
echo '|---|---|---|---|---|---|---|'
cook 'no wrap, to 95 C, sliced at once' none 95C none none
cook 'foil, to 95 C, sliced at once' closed-foil 95C none none
cook 'foil, to 95 C, 2 h rest' closed-foil 95C 2h none
cook 'foil, to 85 C, sliced at once' closed-foil 85C none none
cook 'foil, to 85 C, a night (14 h) at 68 C' closed-foil 85C none 14h
cook 'foil, to 68 C, sliced at once' closed-foil 68C none none
cook 'foil, to 68 C, a night (14 h) at 68 C' closed-foil 68C none 14h
cook 'foil, to 68 C, a day and a half (36 h) at 68 C' closed-foil 68C none 36h
echo
echo '| half-life at | 60 C | 68 C | 75 C | 80 C | 85 C | 90 C | 95 C |'
echo '|---|---|---|---|---|---|---|---|'
"$program" cook --format json | /usr/bin/python3 -c '
import json, math, sys
for name, law in json.load(sys.stdin)["reaction_laws"].items():
    cells = []
    for celsius in (60, 68, 75, 80, 85, 90, 95):
        t = celsius + 273.15
        rate = law["rate_per_s"] * math.exp(law["activation_energy_j_per_mol"] / 8.314462618 * (1 / law["reference_k"] - 1 / t))
        seconds = math.log(2) / rate
        amount, unit = (seconds / 3600, "h") if seconds >= 3600 else (seconds / 60, "min") if seconds >= 60 else (seconds, "s")
        text = "under 1 s" if seconds < 1 else f"{amount:.0f} {unit}" if amount >= 10 else f"{amount:.1f} {unit}"
        cells.append(text if law["fitted_from_k"] - 1e-6 <= t <= law["fitted_to_k"] + 1e-6 else f"({text})")
    print("|", name, "|", " | ".join(cells), "|")'
