# SPDX-License-Identifier: BSD-3-Clause
"""Opens a results file with the tools people use and fails if one of them stumbles.

Usage: check_results.py FILE.h5 [GROUP ...]   (groups: the cooks of a comparison)

The rules are those of the netCDF-4 file format specification and of the CF conventions 1.8 (from memory); units are
read by UDUNITS, as CF asks.
"""
import ctypes
import subprocess
import sys

import h5py
import numpy
import xarray

BARE_DIMENSION = b"This is a netCDF dimension but not a netCDF variable"
# Attributes of the HDF5 dimension scale specification, which sets their types.
SCALE_ATTRIBUTES = {"CLASS", "NAME", "DIMENSION_LIST", "REFERENCE_LIST"}


class Units:
    def __init__(self):
        self.library = ctypes.CDLL("libudunits2.so.0")
        self.library.ut_read_xml.restype = ctypes.c_void_p
        self.library.ut_parse.restype = ctypes.c_void_p
        self.library.ut_parse.argtypes = [ctypes.c_void_p, ctypes.c_char_p, ctypes.c_int]
        self.library.ut_set_error_message_handler(self.library.ut_ignore)
        self.system = self.library.ut_read_xml(None)

    def know(self, text):
        utf8 = 2
        return bool(self.library.ut_parse(self.system, text.encode(), utf8))


UNITS = Units()
assert UNITS.know("kg s-1") and not UNITS.know("lumps"), "UDUNITS does not do what this script expects of it"


def check_attributes(name, item):
    for key in set(item.attrs) - SCALE_ATTRIBUTES:
        kind = item.attrs.get_id(key).get_type()
        if isinstance(kind, h5py.h5t.TypeStringID):
            assert kind.is_variable_str() and kind.get_cset() == h5py.h5t.CSET_UTF8, f"{name}: {key} is a fixed text"
            item.attrs[key].encode()  # fails if the bytes are no UTF-8
        assert item.attrs.get_id(key).shape == (), f"{name}: {key} is no scalar"


def check_axes(name, item):
    if h5py.h5ds.is_scale(item.id):
        assert item.ndim == 1 and "_FillValue" not in item.attrs, f"{name} is no proper coordinate"
        return
    for axis in range(item.ndim):
        scales = item.dims[axis]
        assert len(scales) == 1, f"{name}: axis {axis} has {len(scales)} dimension scales"
        assert scales[0].shape == (item.shape[axis],), f"{name}: the scale of axis {axis} has another length"


def check_values(name, item):
    if item.dtype.kind == "O":
        assert h5py.check_string_dtype(item.dtype).encoding == "utf-8", f"{name} is no UTF-8 text"
        return
    assert item.dtype == numpy.float64, f"{name} is of type {item.dtype}"
    if name.endswith("_bnds"):  # CF 7.1: unit and meaning are those of the axis
        assert not set(item.attrs) - SCALE_ATTRIBUTES and numpy.all(numpy.isfinite(item[()])), f"{name} is no bare bounds"
        return
    assert UNITS.know(item.attrs["units"]), f"{name}: UDUNITS does not know {item.attrs['units']!r}"
    assert item.attrs["long_name"], f"{name} has no long_name"
    if numpy.all(numpy.isfinite(item[()])):
        return
    assert not numpy.any(numpy.isinf(item[()])), f"{name} is infinite"
    assert numpy.isnan(item.attrs["_FillValue"]) and numpy.isnan(item.fillvalue), f"{name} declares no fill value"
    comment = item.attrs.get("comment", item.parent.attrs.get("comment", ""))
    assert "fill value" in comment, f"{name} holds a value that is not finite, and no comment tells of it"


def check_object(name, item):
    check_attributes(name, item)
    order = h5py.h5p.CRT_ORDER_TRACKED | h5py.h5p.CRT_ORDER_INDEXED
    assert item.id.get_create_plist().get_attr_creation_order() == order, f"{name}: attributes are not in order"
    if isinstance(item, h5py.Group):
        assert item.id.get_create_plist().get_link_creation_order() == order, f"{name}: links are not in order"
        return
    check_axes(name, item)
    if not item.attrs.get("NAME", b"").startswith(BARE_DIMENSION):
        check_values(name, item)


def check_with_h5py(path, groups):
    with h5py.File(path) as file:
        assert file.attrs["Conventions"] == "CF-1.8"
        assert file.attrs["sw_file_format"] == "1.6"
        assert file.attrs["sw_run_status"] == "complete"
        assert file.attrs.get("sw_cooks", "").split() == groups
        for key in ("title", "source", "history"):
            assert file.attrs[key], f"there is no {key}"
        numpy.datetime64(file.attrs["date_created"].rstrip("Z"))
        assert "meat:" in file["provenance/scenario_text"][()].decode()
        for key in ("stallwright_version", "sundials_version", "hdf5_version", "command_line"):
            assert file["provenance"].attrs[key], f"provenance has no {key}"
        check_object("/", file["/"])
        file.visititems(check_object)
        for group in groups or ["/"]:
            assert file[group]["solver"].attrs["steps"] > 0
            assert file[group]["phase/name"].asstr()[0] == "pit"
            wrap = file[group].attrs["sw_wrap"]
            assert f"\n  kind: {wrap}\n" in file[group]["scenario_text"][()].decode(), "the scenario has another wrap"


def check_group_with_xarray(path, group, item):
    with xarray.open_dataset(path, group=group, engine="h5netcdf") as data:
        data.load()
        assert not [dim for dim in data.dims if "phony" in dim], f"{group}: an axis has no name"
        for name, variable in data.variables.items():
            stored = item[name].asstr()[()] if item[name].dtype.kind == "O" else item[name][()]
            assert variable.dtype.kind in "fOU", f"{group}/{name} was turned into {variable.dtype}"
            numpy.testing.assert_array_equal(variable.values, stored, f"{group}/{name}")


def check_with_xarray(path, groups):
    with h5py.File(path) as file:
        names = ["/"]
        file.visititems(lambda name, item: names.append("/" + name) if isinstance(item, h5py.Group) else None)
        for name in names:
            check_group_with_xarray(path, name, file[name])
    for group in groups or [None]:
        with xarray.open_dataset(path, group=group, engine="h5netcdf") as data:
            assert data.probe_temperature.dims == ("time",)
            assert data.temperature.dims in (("field_time", "x"), ("field_time", "cell"))
            assert "x" in data.coords or {"cell_along", "cell_height"} <= set(data.coords)
            celsius = data.probe_temperature - 273.15
            assert 0 < float(celsius.min()) and 60 < float(celsius.max()) < 110


def check_with_commands(path):
    for command in (["ncdump", path], ["ncdump", "-h", path], ["h5dump", "-H", path]):
        done = subprocess.run(command, capture_output=True, text=True)
        assert done.returncode == 0, f"{command} failed: {done.stderr}"
        assert "probe_temperature" in done.stdout
        assert "phony" not in done.stdout
        assert not done.stderr, f"{command} says: {done.stderr}"


check_with_h5py(sys.argv[1], sys.argv[2:])
check_with_xarray(sys.argv[1], sys.argv[2:])
check_with_commands(sys.argv[1])
