# SPDX-License-Identifier: BSD-3-Clause
"""The page computes what the program does: check_same_numbers.py PAGE PROGRAM"""
import csv
import io
import json
import subprocess
import sys

from page import Page, same

C = 273.15
# One scenario a row: what the program is told, and the same as keys and SI values. Own inventions.
PITS = [("offset", 107), ("kettle", 121), ("pellet", 135), ("ceramic", 121), ("electric", 110), ("gas", 130)]
CUTS = ["packer", "flat", "point", "pork-butt", "chuck-roll", "plate-ribs"]
WRAPS = [("none", None), ("paper", ("temperature", 71)), ("closed-foil", ("duration", 5)), ("open-tray", ("temperature", 68)),
         ("covered-pan", ("duration", 4))]


def scenarios():
    for number in range(30):
        pit, celsius = PITS[number % 6]
        cut, (wrap, when) = CUTS[(number // 5) % 6], WRAPS[number % 5]
        mass, thickness = 2.5 + 0.19 * number, None if number % 3 else 5.0 + 0.1 * number
        told = [f"meat.cut={cut}", f"meat.mass={mass:.2f}kg", f"pit.kind={pit}", f"pit.temperature={celsius}C", f"wrap.kind={wrap}"]
        settings = {"meat.cut": cut, "meat.mass": float(f"{mass:.2f}"), "pit.kind": pit, "pit.temperature": celsius + C, "wrap.kind": wrap}
        if thickness:
            told.append(f"meat.thickness={thickness:.1f}cm")
            settings["meat.thickness"] = float(f"{thickness:.1f}") / 100
        if when:
            kind, value = when
            told.append(f"wrap.when={value}{'C' if kind == 'temperature' else 'h'}")
            settings["wrap.when"] = {"kind": kind, "value": value + C if kind == "temperature" else 3600 * value}
        if number % 4 == 1:
            told += ["hold.until=none", "rest.until=20min"]
            settings |= {"hold.until": {"kind": "none"}, "rest.until": {"kind": "duration", "value": 1200}}
        yield told, settings


def native(program, told, form):
    command = [program, "cook", "-q", "--no-band", "--format", form] + [part for one in told for part in ("--set", one)]
    done = subprocess.run(command, capture_output=True, text=True)
    assert done.returncode == 0, f"{command}: {done.stderr}"
    return done.stdout


def check(page, program, told, settings):
    # The page keeps more moments for its curves, which changes no figure.
    reply = page.ask("cook", settings | {"solver.field_interval": 300}, [], 240, 0)
    assert "answer" in reply, f"{told}: {reply}"
    answer, document = reply["answer"], json.loads(native(program, told, "json"))
    choice = document["choices"][0]
    worst = 0.0
    numbers = [key for key, value in choice.items() if isinstance(value, (int, float)) or value is None]
    assert {"done_s", "stall_length_s", "stall_start_s", "yield_fraction", "bark", "slice_s"} <= choice.keys() and len(numbers) > 30
    for key in numbers:
        one, other = answer["choice"].get(key), choice[key]
        # What is left over of the balances is noise by nature.
        if key.endswith("residual"):
            continue
        # A film that nearly dries up is a small difference of what comes and what evaporates: its share counts beside the whole surface, 1.
        assert same(one, other, 1.0 if key == "top_film_share" else 1e-4), f"{told}: {key} is {one} in the page, {other} from the program"
        if other:
            worst = max(worst, abs(one - other) / abs(other))
    rows = list(csv.DictReader(io.StringIO(native(program, told, "csv"))))
    at = {round(float(row["time_s"]), 3): row for row in rows}
    cook, compared = answer["cook"], 0
    for i, second in enumerate(cook["time_s"]):
        row = at.get(round(second, 3))
        if row is None:  # a moment at which a phase ends may differ in a far digit
            near = min(at, key=lambda t: abs(t - second))
            assert abs(near - second) < 1.0, f"{told}: the program has no row at {second}"
            row = at[near]
        for mine, its in (("probe_k", "probe_k"), ("surface_k", "top_surface_k"), ("air_k", "air_k")):
            # Charts hold hundredths of a kelvin.
            assert abs(cook[mine][i] - float(row[its])) < 0.011, f"{told}: {mine} at {second} s: {cook[mine][i]}, {row[its]}"
            compared += 1
    assert compared > 150, compared
    return worst


def check_band(page, program):
    """The bands come from the same draws."""
    command = [program, "cook", "-q", "--format", "json", "--set", "meat.mass=5kg"]
    found = json.loads(subprocess.run(command, capture_output=True, text=True, check=True).stdout)["choices"][0]["band"]
    # In parts of seven, made by two workers in no order.
    band = page.run(f"""(async () => {{
      const drawing = new Drawing({{ 'meat.mass': 5 }}, [30, {found["draws"]}], 7), tasks = drawing.tasks.flat().reverse();
      if (drawing.fresh() !== 0) throw new Error('told before it is drawn');
      await tasks.shift()(bench.first);
      if (drawing.fresh() !== 0) throw new Error('told after one part');
      await bench.share(tasks, () => false);
      if (drawing.fresh() !== {found["draws"]} || drawing.fresh() !== 0) throw new Error('told once, when all are drawn');
      const few = await bench.call('band', drawing.settings, drawing.parts(30), 30, drawing.all);
      window.few = few;
      return bench.call('band', drawing.settings, drawing.parts(drawing.all), drawing.all, drawing.all); }})()""")
    few = page.run("window.few")
    assert page.run("bench.benches.length") >= 2
    # The first draws are the same whatever their number: so many of them tell nearly the same.
    assert few["draws"] == 30 and 0.9 < few["done_high_s"] / found["done_high_s"] < 1.1 and few["done_high_s"] != found["done_high_s"], (few, found)
    missing = page.run("bench.call('bandPart', {}, 100, 0, 9).then((part) => bench.call('band', {}, [part], 10, 100)).then(() => '', (e) => e.message)")
    assert "do not make it whole" in missing, missing
    assert len(found) >= 10 and found["done_low_s"] < found["done_high_s"]
    assert all(same(band[key], value) for key, value in found.items()), (band, found)
    check_shade(band)


def check_shade(band):
    """The shade about the curve: its late edge comes to the pull when the band says that nine in ten have, as near as its moments
    tell (half of one, at the rate at which the edge rises there)."""
    curve = band["curve"]
    assert len(curve["time_s"]) > 50 and all(low <= high for low, high in zip(curve["low_k"], curve["high_k"]))
    pull = curve["high_k"][-1]
    late = next(t for t, low in zip(curve["time_s"], curve["low_k"]) if low > pull - 0.2)
    moment = curve["time_s"][1]
    assert abs(late - band["done_high_s"]) < 2 * moment, (late, band["done_high_s"], moment)


def check_by_name(page, program):
    """Handles give the figures, words, curves and hours of the program."""
    settings, told = {"meat.mass": 5, "wrap.kind": "paper"}, ["meat.mass=5kg", "wrap.kind=paper"]
    choice = json.loads(native(program, told, "json"))["choices"][0]
    pairs = {"done_time": "done_s", "stall_length": "stall_length_s", "yield_fraction": "yield_fraction", "bark": "bark", "slice_time": "slice_s",
             "wrap_time": "wrap_time_s", "at_pull.evaporated_mass": None}
    read = page.ask("read", settings, list(pairs), ["tenderness"], ["time", "probe_temperature"])["answer"]
    for name, key in pairs.items():
        other = choice[key] if key else choice["budget_at_pull"]["evaporated_mass_kg"]
        assert other and same(read[name], other), (name, read[name], other)
    assert read["tenderness"] == choice["tenderness"]
    rows = list(csv.DictReader(io.StringIO(native(program, told, "csv"))))
    assert len(rows) == len(read["time"]) > 100
    for row, probe in zip(rows, read["probe_temperature"]):
        assert abs(float(row["probe_k"]) - probe) < 0.011, (row, probe)
    command = [program, "explain", "-q", "--format", "json"] + [part for one in told for part in ("--set", one)]
    document = json.loads(subprocess.run(command, capture_output=True, text=True, check=True).stdout)
    found = page.ask("hours", settings, ["start", "end", "probe", "evaporation", "warming"])["answer"]
    assert found["ending"] == document["stall_ending"], (found["ending"], document.keys())
    hours = document["hours"]
    assert len(hours) == len(found["hours"]["start"]) >= 5
    for i, hour in enumerate(hours):
        for name, key in (("start", "from_s"), ("end", "to_s"), ("probe", "probe_k"), ("evaporation", "evaporation_heat_j"),
                          ("warming", "warming_heat_j")):
            assert same(found["hours"][name][i], hour[key]), (i, name, found["hours"][name][i], hour)
    wrong = page.ask("read", settings, ["no_such_figure"], [], [])
    assert "no_such_figure" in wrong["error"], wrong
    wrong = page.ask("read", {"meat.mas": 5}, [], [], [])
    assert wrong["key"] == "meat.mas" and "meat.mas" in wrong["error"], wrong


def main():
    path, program = sys.argv[1:]
    page = Page(path)
    try:
        worst, count = 0.0, 0
        for told, settings in scenarios():
            one = check(page, program, told, settings)
            worst, count = max(worst, one), count + 1
        assert count == 30
        check_band(page, program)
        check_by_name(page, program)
        page.assert_quiet()
        print(f"same numbers: {count} scenarios, largest relative difference of a figure {worst:.1e}")
    finally:
        page.close()


main()
