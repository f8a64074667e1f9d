"""Opens a results file with the tools people use and fails if one of them stumbles.

Usage: check_results.py FILE.h5 [GROUP ...]   (groups: the cooks of a comparison)
"""
import subprocess
import sys

import h5py
import numpy
import xarray


def check_dataset(name, item):
    assert isinstance(item.attrs.get("units", ""), str), f"{name}: units is no text"
    if item.dtype.kind != "f":
        return
    if "This is a netCDF dimension" in str(item.attrs.get("NAME", "")):
        return
    assert item.attrs.get("units"), f"{name} has no units"
    assert item.attrs.get("long_name"), f"{name} has no long_name"
    for axis in range(item.ndim):
        assert len(item.dims[axis]) == 1 or item.attrs.get("CLASS") == b"DIMENSION_SCALE", f"{name}: axis {axis} has no dimension scale"
    values = item[()]
    if "outcome" not in name:
        assert numpy.all(numpy.isfinite(values)), f"{name} holds a value that is not finite"


def check_with_h5py(path):
    with h5py.File(path) as file:
        assert file.attrs["Conventions"] == "CF-1.8"
        assert file.attrs["sw_run_status"] == "complete"
        assert "meat:" in file["provenance/scenario_text"][()].decode()
        assert "version" in " ".join(file["provenance"].attrs)
        names = []
        file.visititems(lambda name, item: names.append(name) or
                        (check_dataset(name, item) if isinstance(item, h5py.Dataset) else None))
        assert not [name for name in names if "phony" in name]


def check_with_xarray(path, groups):
    for group in groups or [None]:
        with xarray.open_dataset(path, group=group, engine="h5netcdf") as data:
            assert data.probe_temperature.dims == ("time",)
            assert data.probe_temperature.units == "K"
            assert data.time.dtype == numpy.float64, "time was turned into dates"
            assert data.temperature.dims[0] == "field_time"
            assert 273 < float(data.probe_temperature.max()) < 380
            assert not [dim for dim in data.dims if "phony" in dim]


def check_with_commands(path):
    for command in (["ncdump", "-h", path], ["h5dump", "-H", path]):
        done = subprocess.run(command, capture_output=True, text=True)
        assert done.returncode == 0, f"{command[0]} failed: {done.stderr}"
        assert "probe_temperature" in done.stdout
        assert not done.stderr, f"{command[0]} says: {done.stderr}"


check_with_h5py(sys.argv[1])
check_with_xarray(sys.argv[1], sys.argv[2:])
check_with_commands(sys.argv[1])
