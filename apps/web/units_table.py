#!/usr/bin/env python3
# SPDX-License-Identifier: BSD-3-Clause
"""Writes what UDUNITS makes of every name and symbol in its database as a table in C: units_table.py DATABASE_FOLDER OUTPUT.c

Scales, origins and powers are UDUNITS's own, asked of the installed library: the page has the same units as the program, whose
library reads the database when it starts. Logarithms and moments are left out; the program takes neither."""
import ctypes
import ctypes.util
import os
import re
import sys
import xml.etree.ElementTree

ASCII = 0
BASES = ["m", "kg", "s", "A", "K", "mol", "cd"]
Unit = ctypes.c_void_p
Basic = ctypes.CFUNCTYPE(ctypes.c_int, Unit, ctypes.c_void_p)
Product = ctypes.CFUNCTYPE(ctypes.c_int, Unit, ctypes.c_int, ctypes.POINTER(Unit), ctypes.POINTER(ctypes.c_int), ctypes.c_void_p)
Galilean = ctypes.CFUNCTYPE(ctypes.c_int, Unit, ctypes.c_double, Unit, ctypes.c_double, ctypes.c_void_p)
Timestamp = ctypes.CFUNCTYPE(ctypes.c_int, Unit, Unit, ctypes.c_double, ctypes.c_void_p)
Logarithmic = ctypes.CFUNCTYPE(ctypes.c_int, Unit, ctypes.c_double, Unit, ctypes.c_void_p)


class Visitor(ctypes.Structure):
    _fields_ = [("basic", Basic), ("product", Product), ("galilean", Galilean), ("timestamp", Timestamp), ("logarithmic", Logarithmic)]


class Units:
    def __init__(self):
        self.library = ctypes.CDLL(ctypes.util.find_library("udunits2"))
        for name, result, arguments in (("ut_read_xml", Unit, [ctypes.c_char_p]), ("ut_parse", Unit, [Unit, ctypes.c_char_p, ctypes.c_int]),
                                        ("ut_get_symbol", ctypes.c_char_p, [Unit, ctypes.c_int]), ("ut_free", None, [Unit]),
                                        ("ut_accept_visitor", ctypes.c_int, [Unit, ctypes.POINTER(Visitor), ctypes.c_void_p]),
                                        ("ut_set_error_message_handler", ctypes.c_void_p, [ctypes.c_void_p])):
            getattr(self.library, name).restype = result
            getattr(self.library, name).argtypes = arguments
        self.library.ut_set_error_message_handler(ctypes.cast(self.library.ut_ignore, ctypes.c_void_p))
        self.system = self.library.ut_read_xml(None)
        self.visitor = Visitor(Basic(self.basic), Product(self.product), Galilean(self.galilean), Timestamp(lambda *_: 1), Logarithmic(lambda *_: 1))

    def basic(self, unit, _):
        return self.product(unit, 1, [unit], [1], None)

    def product(self, _, count, units, powers, __):
        for i in range(count):
            symbol = self.library.ut_get_symbol(units[i], ASCII).decode()
            if symbol != "rad":  # an angle is a number
                self.powers[BASES.index(symbol)] += powers[i]
        return 0

    def galilean(self, _, scale, underlying, origin, __):
        self.scale, self.origin = scale, origin * scale
        return self.library.ut_accept_visitor(underlying, self.visitor, None)

    def find(self, text):
        """Scale, origin [SI] and powers of the bases; None if it is no such unit."""
        self.scale, self.origin, self.powers = 1.0, 0.0, [0] * len(BASES)
        unit = self.library.ut_parse(self.system, text.encode(), ASCII)
        if not unit:
            return None
        failed = self.library.ut_accept_visitor(unit, self.visitor, None)
        self.library.ut_free(unit)
        return None if failed else (self.scale, self.origin, self.powers)


def plurals(name):
    """As people write them; what UDUNITS does not know is left out later."""
    return [name + "s", name + "es", name[:-1] + "ies"]


def ids(folder):
    """(text, whether it is a symbol, which is told by its capitals) of every name and symbol, and the prefixes."""
    found, prefixes = [], []
    for file in sorted(os.listdir(folder)):
        for node in xml.etree.ElementTree.parse(os.path.join(folder, file)).getroot():
            if node.tag == "prefix":
                value = float(node.findtext("value"))
                prefixes += [(part.text, part.tag == "symbol", value) for part in node if part.tag in ("name", "symbol")]
                continue
            for part in node.iter():
                if part.tag == "singular":
                    found += [(text, False) for text in (part.text, *plurals(part.text))]
                elif part.tag == "plural" or (part.tag == "name" and part.text and part.text.strip()):
                    found.append((part.text.strip(), False))
                elif part.tag == "symbol":
                    found.append((part.text, True))
    return found, prefixes


def main():
    folder, output = sys.argv[1:]
    units, (found, prefixes) = Units(), ids(folder)
    is_word = re.compile(r"[A-Za-z_%][A-Za-z_%0-9]*$").match
    lines, seen = ['#include "unit_table.h"', "", "const unit_row unit_rows[] = {"], set()
    for text, is_symbol in found:
        unit = units.find(text) if is_word(text) and (text, is_symbol) not in seen else None
        seen.add((text, is_symbol))
        if unit:
            scale, origin, powers = unit
            lines.append(f'    {{"{text}", {int(is_symbol)}, {scale.hex()}, {origin.hex()}, {{{", ".join(map(str, powers))}}}}},')
    lines += ["    {0},", "};", "", "const prefix_row prefix_rows[] = {"]
    lines += [f'    {{"{text}", {int(is_symbol)}, {value.hex()}}},' for text, is_symbol, value in prefixes if is_word(text)]
    lines += ["    {0},", "};", ""]
    with open(output + ".part", "w", encoding="utf-8") as file:
        file.write("\n".join(lines))
    os.replace(output + ".part", output)


main()
