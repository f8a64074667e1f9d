# SPDX-License-Identifier: BSD-3-Clause
"""stallwright from Python: one file over ctypes and the interface that lasts (stallwright/handles.h), no build step.

    import stallwright
    scenario = stallwright.Scenario()
    scenario["pit.temperature"] = 394.15            # SI units throughout: kelvin, seconds, kilograms, metres
    scenario["wrap.kind"] = "paper"
    scenario["pull"] = ("temperature", 368.15)
    cook = scenario.cook()
    print(cook["done_time"] / 3600, cook.curve("probe_temperature")[-1])

Curves are arrays of numpy if it is there, else of the module array. A figure that does not exist is None. What goes wrong is a
stallwright.Error with the sentence of the library. The library is looked for beside this file's folder, then where the system
looks; STALLWRIGHT_LIBRARY names another.

It is a model, not a thermometer: keep hot food at 57.3 C (135 F) or more and check it with a thermometer; local food codes come first.
"""
import array
import ctypes
import itertools
import math
import os
import pathlib

try:
    import numpy
except ImportError:
    numpy = None

SONAME = "libstallwright.so.0.1"
_OK = 0


class Error(Exception):
    """What the library refused or could not do: status is its number, the text its sentence."""

    def __init__(self, status, sentence):
        super().__init__(sentence)
        self.status = status


def _find():
    named = os.environ.get("STALLWRIGHT_LIBRARY")
    beside = pathlib.Path(__file__).resolve().parent.parent / SONAME
    return named or (str(beside) if beside.exists() else SONAME)


def _load():
    library = ctypes.CDLL(_find())
    pointer, text, number, size = ctypes.c_void_p, ctypes.c_char_p, ctypes.c_double, ctypes.c_size_t
    out, numbers = ctypes.POINTER, ctypes.POINTER(ctypes.c_double)
    declare = {
        "sw_context_create": [out(pointer)], "sw_context_destroy": [pointer],
        "sw_setup_create": [pointer, out(pointer)], "sw_setup_clone": [pointer, pointer, out(pointer)],
        "sw_setup_destroy": [pointer],
        "sw_setup_set_number": [pointer, pointer, text, number], "sw_setup_number": [pointer, pointer, text, numbers],
        "sw_setup_set_word": [pointer, pointer, text, text], "sw_setup_word": [pointer, pointer, text, out(text)],
        "sw_setup_set_ending": [pointer, pointer, text, text, number],
        "sw_setup_ending": [pointer, pointer, text, out(text), numbers],
        "sw_setup_set_list": [pointer, pointer, text, size, numbers],
        "sw_setup_list": [pointer, pointer, text, size, numbers, out(size)],
        "sw_setup_check": [pointer, pointer],
        "sw_setup_cook": [pointer, pointer, pointer, pointer, out(pointer)], "sw_cooked_destroy": [pointer],
        "sw_cooked_figure": [pointer, pointer, text, numbers], "sw_cooked_word": [pointer, pointer, text, out(text)],
        "sw_cooked_curve": [pointer, pointer, text, out(numbers), out(size)],
        "sw_setups_cook": [pointer, size, pointer, size, _TAKE, pointer],
        "sw_setup_set_probes": [pointer, pointer, size, out(text), numbers],
        "sw_setup_probe": [pointer, pointer, size, out(text), numbers, numbers],
        "sw_setup_read": [pointer, pointer, text], "sw_setup_assign": [pointer, pointer, text],
    }
    for name, arguments in declare.items():
        getattr(library, name).argtypes = arguments
    for name in ("sw_context_message", "sw_version", "sw_setup_key_name", "sw_setup_key_meaning", "sw_setup_key_unit",
                 "sw_cooked_figure_name", "sw_cooked_figure_meaning", "sw_cooked_figure_unit", "sw_cooked_curve_name"):
        getattr(library, name).restype = text
    for name in ("sw_setup_key_count", "sw_cooked_figure_count", "sw_cooked_curve_count"):
        getattr(library, name).restype = size
    for name in ("sw_setup_key_name", "sw_cooked_figure_name", "sw_cooked_curve_name"):
        getattr(library, name).argtypes = [size]
    library.sw_context_message.argtypes = [pointer]
    library.sw_setup_probe_count.argtypes, library.sw_setup_probe_count.restype = [pointer], size
    return library


_TAKE = ctypes.CFUNCTYPE(ctypes.c_int, ctypes.c_size_t, ctypes.c_void_p, ctypes.c_char_p, ctypes.c_void_p)
_library = _load()


class _Context:
    """The state of one call: its sentence."""

    def __init__(self):
        self.pointer = ctypes.c_void_p()
        if _library.sw_context_create(ctypes.byref(self.pointer)) != _OK:
            raise MemoryError("a context of stallwright could not be allocated")

    def __enter__(self):
        return self

    def __exit__(self, *_):
        _library.sw_context_destroy(self.pointer)

    def call(self, name, *arguments):
        status = getattr(_library, name)(self.pointer, *arguments)
        if status != _OK:
            raise Error(status, _library.sw_context_message(self.pointer).decode())


def version():
    """Version of the library in use."""
    return _library.sw_version().decode()


def keys():
    """Names of all keys of a scenario."""
    return [_library.sw_setup_key_name(i).decode() for i in range(_library.sw_setup_key_count())]


def _array(values, length):
    if numpy is not None:
        return numpy.ctypeslib.as_array(values, (length,)).copy()
    return array.array("d", values[:length])


class Cook:
    """A cook that was run: figures by name in [], curves and words. Holds copies; the library has nothing left to give back."""

    def __init__(self, context, cooked):
        value, word = ctypes.c_double(), ctypes.c_char_p()
        self.figures, self.curves, self.words = {}, {}, {}
        for i in range(_library.sw_cooked_figure_count()):
            name = _library.sw_cooked_figure_name(i)
            context.call("sw_cooked_figure", cooked, name, ctypes.byref(value))
            self.figures[name.decode()] = None if math.isnan(value.value) else value.value
        values, length = ctypes.POINTER(ctypes.c_double)(), ctypes.c_size_t()
        for i in range(_library.sw_cooked_curve_count()):
            name = _library.sw_cooked_curve_name(i)
            context.call("sw_cooked_curve", cooked, name, ctypes.byref(values), ctypes.byref(length))
            self.curves[name.decode()] = _array(values, length.value)
        for name in ("tenderness", "top_state_at_pull"):
            context.call("sw_cooked_word", cooked, name.encode(), ctypes.byref(word))
            self.words[name] = word.value.decode()

    def __getitem__(self, figure):
        return self.figures[figure]

    def curve(self, name):
        """An array: "time" [s], "probe_temperature" [K] and so on."""
        return self.curves[name]


class Scenario:
    """Everything a cook decides before the fire is lit; keys in [] as docs/reference/scenario.md has them.

    A key holds a number, a word, True or False, an ending such as ("temperature", 368.15), ("duration", 3600), ("clock", 43200) or
    ("none", 0), or a list: of pit.temperature (start, temperature, ramp) a step, of pit.lid.openings times, of meat.outline corners,
    of meat.probes (name, along, up).
    """

    def __init__(self, path=None, _pointer=None):
        self._pointer = _pointer or ctypes.c_void_p()
        if not _pointer:
            with _Context() as context:
                context.call("sw_setup_create", ctypes.byref(self._pointer))
        if path is not None:
            with _Context() as context:
                context.call("sw_setup_read", self._pointer, os.fsencode(path))

    def __del__(self):
        if _library and self._pointer:
            _library.sw_setup_destroy(self._pointer)

    def copy(self):
        made = ctypes.c_void_p()
        with _Context() as context:
            context.call("sw_setup_clone", self._pointer, ctypes.byref(made))
        return Scenario(_pointer=made)

    def set(self, assignment):
        """One value with its unit, as --set takes it: "pit.temperature=250F"."""
        with _Context() as context:
            context.call("sw_setup_assign", self._pointer, assignment.encode())

    def __setitem__(self, key, value):
        name = key.encode()
        with _Context() as context:
            if isinstance(value, bool):
                context.call("sw_setup_set_word", self._pointer, name, b"yes" if value else b"no")
            elif isinstance(value, str):
                context.call("sw_setup_set_word", self._pointer, name, value.encode())
            elif isinstance(value, tuple) and len(value) == 2 and isinstance(value[0], str):
                context.call("sw_setup_set_ending", self._pointer, name, value[0].encode(), float(value[1]))
            elif key == "meat.probes":
                names = [probe[0].encode() for probe in value]
                places = [float(number) for probe in value for number in probe[1:3]]
                context.call("sw_setup_set_probes", self._pointer, len(names), (ctypes.c_char_p * max(1, len(names)))(*names),
                             (ctypes.c_double * max(1, len(places)))(*places))
            elif hasattr(value, "__len__"):
                rows = [row if hasattr(row, "__len__") else (row,) for row in value]
                flat = [float(number) for row in rows for number in row]
                context.call("sw_setup_set_list", self._pointer, name, len(rows), (ctypes.c_double * max(1, len(flat)))(*flat))
            else:
                context.call("sw_setup_set_number", self._pointer, name, float(value))

    def __getitem__(self, key):
        name, number, word, rows = key.encode(), ctypes.c_double(), ctypes.c_char_p(), ctypes.c_size_t()
        unit = _library.sw_setup_key_unit(name)
        if unit is None:
            raise KeyError(key)
        if key == "meat.probes":
            return [self._probe(i) for i in range(_library.sw_setup_probe_count(self._pointer))]
        with _Context() as context:
            for read in (lambda: (context.call("sw_setup_number", self._pointer, name, ctypes.byref(number)), number.value)[1],
                         lambda: (context.call("sw_setup_word", self._pointer, name, ctypes.byref(word)), word.value.decode())[1],
                         lambda: (context.call("sw_setup_ending", self._pointer, name, ctypes.byref(word), ctypes.byref(number)),
                                  (word.value.decode(), number.value))[1]):
                try:
                    return read()
                except Error:
                    continue
            context.call("sw_setup_list", self._pointer, name, 0, None, ctypes.byref(rows))
            columns = {"pit.temperature": 3, "meat.outline": 2}.get(key, 1)
            values = (ctypes.c_double * max(1, columns * rows.value))()
            context.call("sw_setup_list", self._pointer, name, columns * rows.value, values, ctypes.byref(rows))
            return [tuple(values[columns * i:columns * (i + 1)]) if columns > 1 else values[i] for i in range(rows.value)]

    def _probe(self, number):
        name, along, up = ctypes.c_char_p(), ctypes.c_double(), ctypes.c_double()
        with _Context() as context:
            context.call("sw_setup_probe", self._pointer, number, ctypes.byref(name), ctypes.byref(along), ctypes.byref(up))
            return (name.value.decode(), along.value, up.value)

    def check(self):
        """Raises an Error if its values do not go together."""
        with _Context() as context:
            context.call("sw_setup_check", self._pointer)

    def cook(self):
        """Runs it; a Cook."""
        cooked = ctypes.c_void_p()
        with _Context() as context:
            context.call("sw_setup_cook", self._pointer, None, None, ctypes.byref(cooked))
            try:
                return Cook(context, cooked)
            finally:
                _library.sw_cooked_destroy(cooked)


def cook_all(scenarios, threads=None):
    """Cooks many side by side: a list with a Cook or, of one that failed, an Error in the place of each."""
    scenarios = list(scenarios)
    results, raised = [None] * len(scenarios), []
    pointers = (ctypes.c_void_p * max(1, len(scenarios)))(*[s._pointer for s in scenarios])

    def take(number, cooked, failure, _):
        try:
            with _Context() as own:
                results[number] = Cook(own, cooked) if cooked else Error(300, failure.decode())
        except BaseException as error:  # ctypes would print it and go on
            raised.append(error)
            return 1
        return 0

    with _Context() as context:
        try:
            context.call("sw_setups_cook", len(scenarios), pointers, threads or min(os.cpu_count() or 1, 256), _TAKE(take), None)
        except Error:
            if raised:
                raise raised[0]
            raise
    return results


def compare(scenario, wraps=("none", "paper", "open-tray", "closed-foil"), threads=None):
    """The same cook with each wrap: a dict from wrap to Cook or Error."""
    made = []
    for wrap in wraps:
        made.append(scenario.copy())
        made[-1]["wrap.kind"] = wrap
    return dict(zip(wraps, cook_all(made, threads)))


def sweep(scenario, values, threads=None):
    """A cook for every combination of values, {"pit.temperature": [380, 390], "wrap.kind": ["none", "paper"]}: a list of pairs of the
    values, as a dict, and a Cook or Error."""
    points = [dict(zip(values, combination)) for combination in itertools.product(*values.values())]
    made = []
    for point in points:
        made.append(scenario.copy())
        for key, value in point.items():
            made[-1][key] = value
    return list(zip(points, cook_all(made, threads)))
