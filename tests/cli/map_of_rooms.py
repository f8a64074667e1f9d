#!/usr/bin/env python3
# SPDX-License-Identifier: BSD-3-Clause
"""Which room calls and includes which, from the code itself: python3 tests/cli/map_of_rooms.py BUILD [--files]

Calls are the linker's symbols of the object files, so that namesakes do not mislead; includes are read from the sources.
Fails on a circle between rooms, and on one between files that is not named here with its reason."""
import collections, pathlib, re, subprocess, sys

ROOT = pathlib.Path(__file__).resolve().parents[2]
# Files that call each other, and why that is right.
CIRCLES = {}


def objects(build):
    """Object files by the source they come from, below lib/src or apps; not those of sources that are gone."""
    build = pathlib.Path(build)
    found = [(path, "lib/src/" + "/".join(path.parts[-2:])[:-2])
             for path in sorted(build.glob("lib/CMakeFiles/stallwright*.dir/src/*/*.o"))]
    apps = build / "apps/CMakeFiles/stallwright_app.dir"
    found += [(path, "apps/" + str(path.relative_to(apps))[:-2]) for path in sorted(apps.glob("**/*.o"))]
    return [(path, source) for path, source in found if (ROOT / source).exists() or (build / source).exists()]


def room(source):
    parts = pathlib.PurePath(source).parts
    if parts[0] == "lib":
        return parts[2]
    return "apps/" + (parts[1] if len(parts) > 2 else "top")


def calls(build):
    defined, wanted = {}, collections.defaultdict(set)
    sources = {str(path): source for path, source in objects(build)}
    if not sources:
        sys.exit(f"map_of_rooms: no object files below {build}")
    for line in subprocess.check_output(["nm", "-A", *sources], text=True).splitlines():
        path, _, rest = line.partition(":")
        kind, name = rest.split()[-2:]
        if kind in "TDBRi":
            defined.setdefault(name, sources[path])
        elif kind == "U":
            wanted[sources[path]].add(name)
    return {source: {defined[n] for n in names if n in defined} - {source} for source, names in wanted.items()}


def includes():
    sources = [p.relative_to(ROOT) for top in ("lib/src", "apps") for p in sorted((ROOT / top).glob("**/*.[ch]"))]
    homes = {(p.parts[0], p.name): str(p) for p in sources if p.suffix == ".h"}
    found = collections.defaultdict(set)
    for path in sources:
        for name in re.findall(r'^\s*#\s*include\s+"([^"]+)"', (ROOT / path).read_text(), re.M):
            home = homes.get((path.parts[0], name))
            if home:
                found[str(path)].add(home)
    return found


def circles(graph):
    """Strongly connected sets of more than one node (Tarjan)."""
    index, low, stack, found = {}, {}, [], []

    def visit(node):
        index[node] = low[node] = len(index)
        stack.append(node)
        for other in sorted(graph.get(node, ())):
            if other not in index:
                visit(other)
                low[node] = min(low[node], low[other])
            elif other in stack:
                low[node] = min(low[node], index[other])
        if low[node] == index[node]:
            members = stack[stack.index(node):]
            del stack[stack.index(node):]
            if len(members) > 1:
                found.append(sorted(members))

    for node in sorted(graph):
        if node not in index:
            visit(node)
    return found


def main():
    build = sys.argv[1] if len(sys.argv) > 1 else "build"
    by_file, included = calls(build), includes()
    rooms = collections.defaultdict(collections.Counter)
    for graph in (by_file, included):
        for source, others in graph.items():
            for other in others:
                if room(other) != room(source):
                    rooms[room(source)][room(other)] += 1
    for name in sorted({room(s) for s in by_file} | set(rooms)):
        print(f"{name:18} {', '.join(f'{other} {count}' for other, count in sorted(rooms[name].items())) or '-'}")
    if "--files" in sys.argv:
        for source in sorted(by_file):
            print(f"{source}: {' '.join(sorted(by_file[source])) or '-'}")
    bad = [f"circle of rooms: {' '.join(c)}" for c in circles({r: set(o) for r, o in rooms.items()})]
    bad += [f"circle of files: {' '.join(c)}" for c in circles(by_file) if tuple(c) not in CIRCLES]
    for sentence in bad:
        print(f"map_of_rooms: {sentence}")
    sys.exit(1 if bad else 0)


main()
