# SPDX-License-Identifier: BSD-3-Clause
"""Whether results files keep to the CF conventions 1.8, as far as they concern them: check_cf.py FILE.h5 ...

Sections are those of that document (from memory). netCDF's view of an HDF5 file is what CF speaks of: variables, dimensions and
attributes in groups; a dimension scale is a coordinate variable."""
import datetime
import re
import sys

import h5py
import numpy

NAME = re.compile(r"[A-Za-z][A-Za-z0-9_]*\Z")  # 2.3
STRUCTURE = {"CLASS", "NAME", "DIMENSION_LIST", "REFERENCE_LIST", "_Netcdf4Dimid", "_FillValue"}
TIME_SINCE = re.compile(r" since \d")


def names_in(text):
    return text.split()


def check_references(name, item, group):
    """5, 7.1, 7.2: what an attribute names is a variable there, over axes of its own."""
    dims = [item.dims[i][0].name for i in range(item.ndim)] if not h5py.h5ds.is_scale(item.id) else [item.name]
    referred = names_in(item.attrs.get("coordinates", "")) + [part for part in names_in(item.attrs.get("cell_measures", "")) if not part.endswith(":")]
    for other in referred:
        assert other in group, f"{name} refers to {other}, which is not there"
        over = [group[other].dims[i][0].name for i in range(group[other].ndim)]
        assert set(over) <= set(dims), f"{name}: {other} lies over {over}, not over {dims}"
    for part in re.findall(r"(\w+):", item.attrs.get("cell_methods", "")):
        assert any(dim.split("/")[-1] == part for dim in dims), f"{name}: cell_methods name {part}"


def check_bounds(name, item, group):
    """7.1: the same leading axes and two corners, no fill value, nothing that differs from the coordinate."""
    if "bounds" not in item.attrs:
        return 0
    bounds = group[item.attrs["bounds"]]
    assert bounds.shape == item.shape + (2,), f"{name}: bounds of another shape"
    for key in set(bounds.attrs) - STRUCTURE:
        assert bounds.attrs[key] == item.attrs.get(key), f"{bounds.name}: {key} differs from that of {name}"
    assert "_FillValue" not in bounds.attrs, f"{bounds.name} has a fill value"
    values = bounds[()]
    assert numpy.all((values[:, 0] <= item[()]) & (item[()] <= values[:, 1])), f"{name} lies outside its bounds"
    assert numpy.all(values[1:, 0] == values[:-1, 1]), f"{bounds.name} leaves gaps"
    return 1


def check_coordinate(name, item):
    """2.5.1, 5: no fill value, all different, in one order."""
    assert "_FillValue" not in item.attrs and "missing_value" not in item.attrs, f"{name} is an axis with a fill value"
    values = item[()]
    steps = numpy.diff(values)
    assert numpy.all(numpy.isfinite(values)) and (numpy.all(steps > 0) or numpy.all(steps < 0)), f"{name} is in no order"


def check_time(name, item):
    """4.4: a variable that says it is a time counts from a moment; a duration says no such thing."""
    is_time = item.attrs.get("standard_name") == "time" or item.attrs.get("axis") == "T" or "calendar" in item.attrs
    assert not is_time or TIME_SINCE.search(item.attrs["units"]), f"{name} is a time without a moment it counts from"


def check_variable(name, item, group, bounds):
    assert NAME.match(name.split("/")[-1]), f"{name} is no name"
    if item.attrs.get("NAME", b"").startswith(b"This is a netCDF dimension but"):
        return 0
    for key in set(item.attrs) - STRUCTURE:
        assert NAME.match(key), f"{name}: attribute {key} is no name"
    if item.name not in bounds:
        assert item.attrs["long_name"], f"{name}: no long_name (3.2)"
        assert item.dtype.kind == "O" or item.attrs["units"], f"{name}: no units (3.1)"
    if "_FillValue" in item.attrs:
        assert item.attrs["_FillValue"].dtype == item.dtype, f"{name}: the fill value is of another type (2.5.1)"
    if h5py.h5ds.is_scale(item.id):
        check_coordinate(name, item)
    check_time(name, item)
    check_references(name, item, group)
    return 1 + check_bounds(name, item, group)


def check_heading(path, file):
    """2.6"""
    assert file.attrs["Conventions"] == "CF-1.8"
    for key in ("title", "source", "history"):
        assert isinstance(file.attrs[key], str) and file.attrs[key].strip(), f"{path}: no {key}"
    stamp = file.attrs["history"].split(": ")[0]
    datetime.datetime.strptime(stamp, "%Y-%m-%dT%H:%M:%SZ")
    assert "stallwright" in file.attrs["history"], f"{path}: the history has no command"


for path in sys.argv[1:]:
    with h5py.File(path) as file:
        check_heading(path, file)
        items = []
        file.visititems(lambda name, item: items.append((name, item)) if isinstance(item, h5py.Dataset) else None)
        bounds = {item.parent[item.attrs["bounds"]].name for _, item in items if "bounds" in item.attrs}
        checked = sum(check_variable(name, item, item.parent, bounds) for name, item in items)
        assert checked > 60, checked
        if "temperature" in file and "cell_along" in file:
            for name in ("temperature", "cell_volume", "collagen_at_end"):
                assert names_in(file[name].attrs["coordinates"]) == ["cell_along", "cell_height"], f"{name} tells of no places"
    print(f"{path}: {checked} variables keep to CF 1.8")
