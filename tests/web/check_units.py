# SPDX-License-Identifier: BSD-3-Clause
"""The page's reader of units finds what UDUNITS finds: check_units.py SOURCES_OF_THE_PAGE TABLE.c FOLDER

Both are loaded and asked for the same texts: every name and symbol of the table, with prefixes, and products of them."""
import ctypes
import ctypes.util
import math
import os
import random
import re
import subprocess
import sys

SEED = 7
ASCII = 0


class Units:
    def __init__(self, path):
        self.library = ctypes.CDLL(path)
        pointer = ctypes.c_void_p
        for name, result, arguments in (("ut_read_xml", pointer, [ctypes.c_char_p]), ("ut_parse", pointer, [pointer, ctypes.c_char_p, ctypes.c_int]),
                                        ("ut_get_converter", pointer, [pointer, pointer]), ("ut_free", None, [pointer]), ("cv_free", None, [pointer]),
                                        ("ut_are_convertible", ctypes.c_int, [pointer, pointer]), ("ut_divide", pointer, [pointer, pointer]),
                                        ("ut_is_dimensionless", ctypes.c_int, [pointer]),
                                        ("cv_convert_double", ctypes.c_double, [pointer, ctypes.c_double]),
                                        ("ut_set_error_message_handler", pointer, [pointer])):
            function = getattr(self.library, name)
            function.restype, function.argtypes = result, arguments
        self.library.ut_set_error_message_handler(ctypes.cast(self.library.ut_ignore, pointer))
        self.system = self.library.ut_read_xml(None)

    def find(self, text, si):
        """What 0 and 1 of it are in the SI unit; None if it is no unit, or another quantity."""
        unit, base = (self.library.ut_parse(self.system, one.encode(), ASCII) for one in (text, si))
        if not unit:
            return None
        ratio = self.library.ut_divide(unit, base)
        same = self.library.ut_is_dimensionless(ratio) and self.library.ut_are_convertible(unit, base)
        found = "other quantity"
        if same:
            converter = self.library.ut_get_converter(unit, base)
            found = [self.library.cv_convert_double(converter, value) for value in (0.0, 1.0)]
            self.library.cv_free(converter)
        for one in (unit, base, ratio):
            self.library.ut_free(one)
        return found


def si_of(row):
    powers = [int(power) for power in row[2].split(",")]
    return " ".join(f"{base}{power}" for base, power in zip(("m", "kg", "s", "A", "K", "mol", "cd"), powers) if power) or "1"


def agree(a, b):
    if not isinstance(a, list) or not isinstance(b, list):
        return a == b
    return all(math.isclose(x, y, rel_tol=1e-13, abs_tol=1e-13 * abs(y) if y else 1e-300) or abs(x - y) < 1e-13 * max(map(abs, b)) for x, y in zip(a, b))


def main():
    sources, table, folder = sys.argv[1:]
    os.makedirs(folder, exist_ok=True)
    built = os.path.join(folder, "alone.so")
    subprocess.run(["cc", "-shared", "-fPIC", "-O1", "-Wall", "-Werror", f"-I{sources}", "-o", built, os.path.join(sources, "unit_reader.c"), table, "-lm"], check=True)
    ours, theirs = Units(built), Units(ctypes.util.find_library("udunits2"))
    with open(table, encoding="utf-8") as file:
        rows = re.findall(r'^    \{"([^"]+)", ([01]), [^{\n]*\{([^}]*)\}', file.read(), re.M)
    words = [(row[0], si_of(row)) for row in rows]
    assert len(words) > 700, len(words)
    draw = random.Random(SEED)
    asked = words + [(prefix + text, si) for text, si in words for prefix in draw.sample(["k", "m", "kilo", "Milli", "da", "c", "n", "micro", "MEGA", "h"], 3)]
    asked += [(text.upper(), si) for text, si in words]
    simple = ["kg", "g", "lb", "oz", "m", "cm", "in", "ft", "s", "h", "min", "K", "degR", "W", "kW", "J", "BTU", "Pa", "mbar", "hPa", "%"]
    for _ in range(3000):
        text = draw.choice(simple)
        for _ in range(draw.randrange(4)):
            text += draw.choice([" ", "/", ".", "*", " / "]) + draw.choice(simple) + draw.choice(["", "", "2", "^2", "-1", "**3"])
        if draw.random() < 0.2:
            text = f"({text})" + draw.choice(["", "2", "/s"])
        asked.append((text, draw.choice(["W/m2/K", "kg/s/m2/Pa", "m", "kg", "K", "1", "m2/s", "J/K"])))
    # Not asked: nothing, and a bracket that closes none, which only UDUNITS takes.
    asked += [(text, "kg") for text in ("(0.0625 lb)", "kg/", "/kg", "kg(", "xyz", "kgg", "()", "k g", "kkg", "2 lb", ".5 kg")]
    differ = [(text, si, a, b) for text, si in asked for a, b in [(ours.find(text, si), theirs.find(text, si))] if not agree(a, b)]
    assert not differ, f"{len(differ)} of {len(asked)}: {differ[:12]}"
    known = sum(1 for text, si in asked if isinstance(ours.find(text, si), list))
    assert known > 1500, known
    print(f"units: {len(asked)} texts are read as UDUNITS reads them, {known} of them units of the quantity asked for")


main()
