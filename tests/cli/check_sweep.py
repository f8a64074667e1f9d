# SPDX-License-Identifier: BSD-3-Clause
"""Checks of sweeps: check_sweep.py KIND ARGUMENT ..."""
import json
import os
import random
import re
import signal
import struct
import subprocess
import sys
import time
import zlib

import h5py
import numpy
import xarray

from json_reference import check_keys


def variables(path):
    with h5py.File(path) as file:
        return {name: item[()] for name, item in file.items() if isinstance(item, h5py.Dataset)}


def check_same(path, *others):
    """Every number and text of the files is the same, to the bit."""
    first = variables(path)
    for other in others:
        second = variables(other)
        assert first.keys() == second.keys(), first.keys() ^ second.keys()
        for name in first:
            a, b = first[name], second[name]
            same = a.tobytes() == b.tobytes() if a.dtype.kind == "f" else (a == b).all()
            assert same, f"{name} of {path} and {other} differ"


def check_layout(path, runs, design, *factors):
    """As docs/reference/sweep-file.md has it, and as xarray reads it."""
    with xarray.open_dataset(path, engine="h5netcdf") as data:
        assert data.sizes["run"] == int(runs) and data.attrs["sw_design"] == design
        assert data.attrs["sw_run_status"] == "complete" and data.attrs["sw_runs_made"] == int(runs)
        for factor in factors:
            assert factor in data.coords and data[factor].dims == ("run",), factor
        for name, variable in data.data_vars.items():
            assert variable.dims in (("run",), ("run", "time")), name
            assert variable.attrs["long_name"], name
        done = data["done_time"].values
        good = data["status"].values == "done"
        assert (numpy.isfinite(done) == good).all()
        assert ((data["failure"].values == "") == good).all()
        curve, times = data["probe_temperature"].values, data["time"].values
        for run in range(int(runs)):
            present = numpy.isfinite(curve[run])
            # Fill values stand after the end of each cook, and nowhere else.
            last = data["slice_time"].values[run] if good[run] else -1.0
            assert (present == (times <= last)).all(), f"run {run}"
            if good[run]:
                point = numpy.searchsorted(times, done[run])
                assert abs(numpy.interp(done[run], times[present], curve[run][present]) - data["done_probe"].values[run]) < 3.0
        if len(factors) > 1 and design == "grid":
            cube = data.set_index(run=list(factors)).unstack("run")
            assert cube["done_time"].size == int(runs)
    with h5py.File(path) as file:
        for name in ("done_time", "probe_temperature"):
            assert file[name].compression == "gzip" and file[name].chunks, name
        assert "stallwright sweep" in file["provenance"].attrs["command_line"]
        assert "pit:" in file["provenance/study_text"][()].decode()


def check_failures(path, words):
    with xarray.open_dataset(path, engine="h5netcdf") as data:
        failed = data["status"].values == "failed"
        assert failed.any() and not failed.all()
        for run in failed.nonzero()[0]:
            assert re.search(words, str(data["failure"].values[run])), data["failure"].values[run]
            assert numpy.isnan(data["done_time"].values[run]) and numpy.isnan(data["probe_temperature"].values[run]).all()


def runs_in_journal(path):
    """The runs of all whole records, read as docs/reference/sweep-file.md describes them; the checksum is zlib's CRC-32."""
    with open(path, "rb") as file:
        data = file.read()
    assert data[:8] in (b"swstudy1", b""), data[:8]
    at, runs = 8, []
    while at + 8 <= len(data):
        length, checksum = struct.unpack_from("=II", data, at)
        record = data[at + 8:at + 8 + length]
        if len(record) < length or zlib.crc32(record) != checksum:
            break
        if at > 8:
            runs.append(struct.unpack_from("=Q", record)[0])
        at += 8 + length
    return runs


def check_told(table_path, json_path):
    """Yield, bark index and lateness of cooks side by side are in the table as they are in JSON; so are they of a grid."""
    with open(json_path) as file:
        choices = json.load(file)["choices"]
    with open(table_path) as file:
        blocks = [block.splitlines() for block in file.read().split("\n\n")]
    def minutes(seconds):
        whole = round(seconds / 60)
        return f"{whole // 60} h {whole % 60:02d} min" if whole >= 60 else f"{whole} min"

    shown = {"yield": lambda c: f"{100 * c['yield_fraction']:.1f} %", "bark index": lambda c: f"{c['bark']:.2f}",
             "late by": lambda c: "in time" if c["late_s"] == 0 else minutes(c["late_s"])}
    found = set()
    for block in blocks:
        rows = [re.split(r"  +", line.strip()) for line in block]
        rows = rows[next((i for i, row in enumerate(rows) if row[0] in shown or row[0] == "pit.temperature"), len(rows)):]
        if len(rows) < 3 or not set(shown) & set(rows[0]):
            continue
        heads, cells = rows[0], rows[2:]
        if heads[0] in shown:  # one figure over two factors
            assert [cell for row in cells for cell in row[1:]] == [shown[heads[0]](c) for c in choices], (heads, cells)
            found.add(heads[0])
            continue
        for row, choice in zip(cells, choices, strict=True):
            for head, cell in zip(heads[1:], row[1:], strict=True):
                assert cell == shown[head](choice), (head, cell)
                found.add(head)
    assert found == (set(shown) if choices[0]["late_s"] is not None else {"yield", "bark index"}), found


def check_killed(program, path, reference, *arguments):
    """Killed ten times at random moments, each time gone on with: nothing that was kept is lost or made again, a file can
    be read after each kill, and in the end all is as without a kill."""
    command = [program, "sweep", "-q", "-o", path, *arguments]
    generator = random.Random(6)
    kills, kept = 0, []
    while kills < 10:
        process = subprocess.Popen(command + ["--resume"], stdout=subprocess.DEVNULL)
        try:
            process.wait(generator.uniform(0.02, 0.35))
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()
        if process.returncode == 0:
            break  # a fast machine was done before the tenth
        assert process.returncode == -signal.SIGKILL, process.returncode
        kills += 1
        if os.path.exists(path):
            with h5py.File(path) as file:
                assert file.attrs["sw_run_status"] == "running"
        runs = runs_in_journal(path + ".journal") if os.path.exists(path + ".journal") else []
        assert runs[:len(kept)] == kept, "runs that were kept are lost"
        assert len(set(runs)) == len(runs), "runs were made again"
        kept = runs
    assert kills >= 3, f"only {kills} kills hit"
    said = subprocess.run([c for c in command if c != "-q"] + ["--resume"], check=True, capture_output=True, text=True).stderr
    if kept and kills == 10:
        assert f"note: {len(kept)} of " in said, said
    assert not os.path.exists(path + ".journal") and not os.path.exists(path + ".part")
    check_same(reference, path)


def check_interrupted(program, path, reference, name, *arguments):
    """Ctrl-C, or one of its like: the cooks in hand are finished, the file is closed, exit status 128 and the signal's number,
    and a word on how to go on."""
    number = signal.Signals["SIG" + name]
    command = [program, "sweep", "-o", path, *arguments]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
                               preexec_fn=lambda: signal.signal(number, signal.SIG_DFL))
    # When some cooks are in the journal, many are still to come.
    while process.poll() is None and not (os.path.exists(path + ".journal") and os.path.getsize(path + ".journal") > 40000):
        time.sleep(0.005)
    process.send_signal(number)
    out, said = process.communicate()
    assert process.returncode == 128 + number, (process.returncode, said)
    assert out == "" and "interrupted" in said, said
    kept = re.search(r"(\d+) of (\d+) cooks are kept; to resume: (stallwright sweep .* --resume)", said)
    assert kept and 0 < int(kept[1]) < int(kept[2]), said
    with h5py.File(path) as file:
        assert file.attrs["sw_run_status"] == "interrupted" and file.attrs["sw_runs_made"] == int(kept[1])
        states = [text.decode() for text in file["status"][()]]
        assert states.count("done") == int(kept[1]) and states.count("not run") == int(kept[2]) - int(kept[1])
    subprocess.run(command + ["--resume", "-q"], check=True, stdout=subprocess.DEVNULL)
    check_same(reference, path)


def check_json(path, reference, count):
    with open(path) as file:
        document = json.load(file)
    assert len(document["choices"]) == int(count)
    for choice in document["choices"]:
        assert len(choice["values"]) == len(document["factors"])
    check_keys(document, reference)


def check_one(sweep, cook):
    """A sweep of one is the cook."""
    with open(sweep) as a, open(cook) as b:
        one, other = json.load(a)["choices"][0], json.load(b)["choices"][0]
    for key in ("safety", "missing", "tenderness", "reactions", "sides", "probes", "done_by", "band"):
        assert key in other and key not in one, key
        other.pop(key)
    for key in ("label", "values"):
        one.pop(key, None), other.pop(key, None)
    assert one == other


CHECKS = {"same": check_same, "layout": check_layout, "told": check_told, "failures": check_failures, "killed": check_killed,
          "interrupted": check_interrupted, "json": check_json, "one": check_one}
CHECKS[sys.argv[1]](*sys.argv[2:])
