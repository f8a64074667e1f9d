# SPDX-License-Identifier: BSD-3-Clause
"""Ends sweeps by TERM, KILL, INT and HUP at random moments, goes on with them by --resume, and compares what comes out with
an uninterrupted sweep: kill_sweeps.py PROGRAM FOLDER ROUNDS [SEED]

Each round begins a sweep in a folder of its own, ends it one to three times, and then lets the same command run to its end.
Standard output, exit status, every number, text and attribute of the results file must be as without a signal, and no other
file may be left. The folder of a round that differs is kept with what it held after each signal, under FOLDER/round-N."""
import collections
import os
import random
import shutil
import signal
import subprocess
import sys
import time

import h5py

SIGNALS = [signal.SIGTERM, signal.SIGKILL, signal.SIGINT, signal.SIGHUP]
# Coarse cooks of a few milliseconds, some of which fail: what is said of them is compared too.
SWEEP = ["sweep", "--set", "solver.cells=12", "--set", "solver.relative_tolerance=1e-3", "--set", "solver.surface_cell=2mm",
         "--vary", "pit.temperature=uniform(90C,140C)", "--vary", "wrap.kind=none,paper,open-tray", "--runs", "40",
         "--format", "csv", "-q", "--resume", "-o", "sweep.h5"]
# They say when, and how the program was called.
OTHERWISE = {"date_created", "command_line", "history"}


def plain_signals():
    """A loop in the background may have been started with interrupts ignored."""
    for number in (signal.SIGTERM, signal.SIGINT, signal.SIGHUP):
        signal.signal(number, signal.SIG_DFL)


def contents(path):
    """Name of each object -> its bytes; of each attribute too."""
    found = {}

    def take(name, item):
        for key, value in item.attrs.items():
            if key not in OTHERWISE and not isinstance(value, h5py.Reference) and "REFERENCE" not in key and key != "DIMENSION_LIST":
                found[f"{name}@{key}"] = repr(value)
        if isinstance(item, h5py.Dataset):
            value = item[()]
            found[name] = value.tobytes() if hasattr(value, "dtype") and value.dtype.kind != "O" else repr(
                value.tolist() if hasattr(value, "tolist") else value)

    with h5py.File(path) as file:
        take("/", file)
        file.visititems(take)
    return found


class Round:
    def __init__(self, program, folder, generator):
        self.program, self.folder, self.generator = program, folder, generator
        self.notes, self.evidence = [], folder + "-after"
        shutil.rmtree(folder, ignore_errors=True)
        shutil.rmtree(self.evidence, ignore_errors=True)
        os.makedirs(folder)

    def begin(self, threads):
        # As in a job that is submitted again: the table is written anew each time.
        with open(os.path.join(self.folder, "sweep.csv"), "wb") as table, \
             open(os.path.join(self.folder, "errors"), "ab") as errors:
            return subprocess.Popen([self.program, *SWEEP, "--threads", str(threads)], cwd=self.folder, stdout=table,
                                    stderr=errors, preexec_fn=plain_signals)

    def end_once(self, longest, kind):
        """Sends a signal at a random moment; whether the program had not ended by then."""
        process = self.begin(self.generator.choice([1, 2, 3]))
        late = self.generator.random() < 0.5
        moment = longest * (self.generator.uniform(0.7, 1.3) if late else self.generator.uniform(0.0, 1.0))
        time.sleep(moment)
        hit = process.poll() is None
        if hit:
            process.send_signal(kind)
        status = process.wait()
        self.notes.append(f"{kind.name} after {moment:.4f} s, exit status {status}, left {sorted(os.listdir(self.folder))}")
        shutil.copytree(self.folder, os.path.join(self.evidence, str(len(self.notes))))
        return hit

    def go_on(self):
        return self.begin(self.generator.choice([1, 2, 3])).wait()

    def differences(self, status, reference):
        """What is not as without a signal."""
        wanted_status, wanted_table, wanted_contents = reference
        found = contents(os.path.join(self.folder, "sweep.h5"))
        names = sorted(k for k in found.keys() | wanted_contents.keys() if found.get(k) != wanted_contents.get(k))
        left = sorted(set(os.listdir(self.folder)) - {"sweep.csv", "sweep.h5", "errors"})
        with open(os.path.join(self.folder, "sweep.csv"), "rb") as file:
            table = file.read()
        return ([f"exit status {status} instead of {wanted_status}"] * (status != wanted_status) +
                [f"standard output has {len(table)} bytes instead of {len(wanted_table)}, or others"] * (table != wanted_table) +
                [f"the results file differs in {names}"] * bool(names) + [f"{left} are left behind"] * bool(left))

    def forget(self):
        shutil.rmtree(self.folder)
        shutil.rmtree(self.evidence, ignore_errors=True)


def uninterrupted(program, folder):
    """What it gives, and how long it takes at most."""
    begun = time.monotonic()
    one = Round(program, folder, random.Random(0))
    status = one.begin(1).wait()
    taken = time.monotonic() - begun
    with open(os.path.join(folder, "sweep.csv"), "rb") as file:
        table = file.read()
    assert status in (0, 1) and len(table.splitlines()) == 41, f"the sweep itself fails with {status}"
    reference = (status, table, contents(os.path.join(folder, "sweep.h5")))
    one.forget()
    return reference, taken


def main(program, folder, rounds, seed="1"):
    program, folder, rounds = os.path.abspath(program), os.path.abspath(folder), int(rounds)
    generator = random.Random(int(seed))
    os.makedirs(folder, exist_ok=True)
    reference, longest = uninterrupted(program, os.path.join(folder, "uninterrupted"))
    clean, differing, tries, hits = 0, 0, 0, collections.Counter()
    while clean + differing < rounds and tries < 20 * rounds:
        tries += 1
        one = Round(program, os.path.join(folder, f"round-{tries}"), generator)
        ended = []
        for kind in [generator.choice(SIGNALS) for _ in range(generator.choice([1, 1, 2, 3]))]:
            hit = one.end_once(longest, kind)
            # How long a sweep takes changes with what else the machine does.
            longest *= 1.1 if hit else 0.8
            ended += [kind] if hit else []
        hits.update(kind.name for kind in ended)
        found = one.differences(one.go_on(), reference)
        if found:
            differing += 1
            print(f"round {tries} differs: {'; '.join(found)}\n  " + "\n  ".join(one.notes), flush=True)
            continue
        one.forget()
        clean += bool(ended)
    print(f"{clean} sweeps that signals ended and --resume went on with are as the uninterrupted one, {differing} differ; "
          f"{sum(hits.values())} signals:", ", ".join(f"{hits[kind.name]} {kind.name}" for kind in SIGNALS))
    return 1 if differing or clean < rounds else 0


sys.exit(main(*sys.argv[1:]))
