# SPDX-License-Identifier: BSD-3-Clause
"""Runs what the pages of the documentation show, each page in a folder of its own: python3 doc_commands.py ROOT PROGRAM LIBRARY SCRATCH [--write].

```sh        every command is run, or named in doc_commands.txt with its reason
```console   the same of lines that begin with "$ "; what follows is what the program answers, "..." for lines left out
```python    the blocks of a page are one program, run after its commands
```yaml      a scenario that the program reads; with a name after it (```yaml my.yaml) also a file for the commands below, as with csv

Commands in the midst of a sentence are not run: their options must be in the help, and the program must take what they set.
A plan in a sh block is made with few draws, to be quick. Answers are compared with their numbers masked. --write puts the answers of today, and their numbers, into the pages."""
import fnmatch, os, re, shutil, subprocess, sys

FENCE = re.compile(r"^```(\w*) ?(\S*)$")
IN_A_SENTENCE = re.compile(r"`(?:build/apps/)?stallwright ([a-z]+)( [^`]*)?`")
LOOKS_LIKE_A_COMMAND = re.compile(r"^ {4,}(\$ )?(sh|sudo|stallwright|build/\S+|cmake|mpirun|python3|doxygen|podman|cpack) ")


def pages_of(root):
    found = [name for name in os.listdir(root) if name.endswith(".md")]
    for top in ("docs", "validation"):
        for folder, _, names in os.walk(os.path.join(root, top)):
            found += [os.path.relpath(os.path.join(folder, name), root) for name in names if name.endswith(".md")]
    return sorted(found)


def blocks_of(lines):
    """Each fenced block: its word, the name of its file, and the numbers of its first line and of the line after its last."""
    begin = None
    for number, line in enumerate(lines):
        fence = FENCE.match(line)
        if begin is None and fence:
            begin, word, name = number + 1, fence[1], fence[2]
        elif begin is not None and line == "```":
            yield word, name, begin, number
            begin = None
    assert begin is None, f"the fence in line {begin} is not closed"


def commands_of(lines):
    """Lines of a shell script, continued ones together, without comments and empty ones."""
    command = ""
    for line in lines:
        command += line
        if line.endswith("\\"):
            command = command[:-1]
            continue
        bare = re.sub(r"(^|\s+)#.*$", "", command)
        if bare.strip():
            yield " ".join(bare.split())
        command = ""


def exchanges_of(lines):
    """Of a console: each command, and the numbers of the first line of its answer and of the line after it."""
    number = 0
    while number < len(lines):
        assert lines[number].startswith("$ "), f"a console begins with no command: {lines[number]}"
        command = lines[number][2:]
        while command.endswith("\\"):
            number += 1
            command = command[:-1] + lines[number]
        number += 1
        begin = number
        while number < len(lines) and not lines[number].startswith("$ "):
            number += 1
        yield " ".join(command.split()), begin, number


def masked(line):
    return re.sub(r"\s+", " ", re.sub(r"-{3,}", "---", re.sub(r"\d[\d.]*", "N", line))).strip()


def as_answered(shown, answer):
    """What is shown of an answer, in the words of today; None if it is no longer there."""
    parts, today, at = [[]], [], 0
    for line in shown:
        parts.append([]) if line == "..." else parts[-1].append(line)
    for number, part in enumerate(parts):
        first, last = number == 0, number == len(parts) - 1
        places = range(at, len(answer) - len(part) + 1)
        if first:
            places = [0]
        if last and part:
            places = [len(answer) - len(part)] if not first or len(part) == len(answer) else []
        place = next((p for p in places if p >= at and [masked(l) for l in answer[p:p + len(part)]] == [masked(l) for l in part]), None)
        if place is None:
            return None
        today += answer[place:place + len(part)] + ([] if last else ["..."])
        at = place + len(part)
    return today


class Run:
    def __init__(self, root, program, library, scratch, write):
        self.root, self.program, self.scratch, self.write = root, program, scratch, write
        self.faults, self.used, self.options = [], set(), {}
        self.ran = self.excused = self.read = 0
        with open(os.path.join(root, "tests/cli/doc_commands.txt"), encoding="utf-8") as file:
            rows = [line.rstrip("\n").split("  #  ") for line in file if line.strip() and not line.startswith("#")]
        assert all(len(row) == 2 and row[1].strip() for row in rows), "doc_commands.txt has a command without a reason"
        self.reasons = {row[0].strip(): row[1] for row in rows}
        shutil.rmtree(scratch, ignore_errors=True)
        os.makedirs(os.path.join(scratch, "bin"))
        os.symlink(program, os.path.join(scratch, "bin/stallwright"))
        # As an installed copy lies: the binding a folder below the library.
        os.makedirs(os.path.join(scratch, "lib/stallwright"))
        shutil.copy(os.path.join(root, "lib/bindings/stallwright.py"), os.path.join(scratch, "lib/stallwright"))
        for name in os.listdir(os.path.dirname(library)):
            if name.startswith("libstallwright.so"):
                os.symlink(os.path.join(os.path.dirname(library), name), os.path.join(scratch, "lib", name))
        self.environment = dict(os.environ, PATH=os.path.join(scratch, "bin") + ":" + os.environ["PATH"], MPLBACKEND="Agg",
                                PYTHONPATH=os.path.join(scratch, "lib/stallwright"), PYTHONDONTWRITEBYTECODE="1", LC_ALL="C.UTF-8")

    def folder_of(self, page):
        folder = os.path.join(self.scratch, "pages", page.replace("/", "_"))
        os.makedirs(os.path.join(folder, "build/apps"))
        os.symlink(self.program, os.path.join(folder, "build/apps/stallwright"))
        for part in ("apps/scenarios", "docs", "lib/bindings"):
            shutil.copytree(os.path.join(self.root, part), os.path.join(folder, part))
        return folder

    def is_excused(self, command):
        reason = next((pattern for pattern in self.reasons if fnmatch.fnmatchcase(command, pattern)), None)
        self.used.add(reason)
        return reason is not None

    def execute(self, where, command, folder):
        """The answer, or None if the command is excused."""
        if self.is_excused(command):
            self.excused += 1
            return None
        done = subprocess.run(["/bin/sh", "-c", command], cwd=folder, env=self.environment, text=True, stdin=subprocess.DEVNULL,
                              stdout=subprocess.PIPE, stderr=subprocess.STDOUT)
        self.ran += 1
        if done.returncode != 0:
            self.faults.append(f"{where}: `{command}` ends with {done.returncode}: {done.stdout[-400:]}")
        return done.stdout.rstrip("\n").split("\n")

    def console(self, page, lines, begin, end, folder):
        """Runs the commands of a console and returns it as it is today."""
        today, copied = [], begin
        for command, first, last in exchanges_of(lines[begin:end]):
            answer = self.execute(f"{page}:{begin + first}", command, folder)
            shown = lines[begin + first:begin + last]
            told = shown if answer is None else as_answered(shown, answer)
            if told is None and self.write and "..." not in shown:
                told = answer
            if told is None:
                self.faults.append(f"{page}:{begin + first}: `{command}` answers otherwise than shown: write it anew (--write)\n" + "\n".join(answer))
                told = shown
            today += lines[copied:begin + first] + told
            copied = begin + last
        return today + lines[copied:end]

    def python(self, page, text, folder):
        with open(os.path.join(folder, "blocks.py"), "w", encoding="utf-8") as file:
            file.write(text)
        self.execute(page, "/usr/bin/python3 blocks.py", folder)

    def scenario(self, where, name, text, folder):
        path = os.path.join(folder, name or "block.yaml")
        with open(path, "w", encoding="utf-8") as file:
            file.write(text)
        if not text.startswith("#"):
            self.execute(where, f"stallwright cook --quiet --print-scenario {os.path.basename(path)} >read.yaml", folder)

    def sentence(self, where, app, arguments):
        if app not in self.options:
            helped = subprocess.run([self.program, app, "--help"], text=True, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL)
            self.options[app] = set(re.findall(r"(?<![\w-])--?[a-z][a-z-]*", helped.stdout))
        if not self.options[app]:
            self.faults.append(f"{where}: there is no app {app}")
        unknown = set(re.findall(r"(?<!\S)--?[a-z][a-z-]*", arguments)) - self.options[app]
        if unknown:
            self.faults.append(f"{where}: {app} has no option {sorted(unknown)}")
        for setting in re.findall(r"(?:--set|-s) (\S+=\S+)", arguments):
            done = subprocess.run([self.program, "cook", "--quiet", "--print-scenario", "--set", setting], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
            if done.returncode != 0:
                self.faults.append(f"{where}: the program does not take --set {setting}")
        self.read += 1

    def page(self, page):
        with open(os.path.join(self.root, page), encoding="utf-8") as file:
            lines = file.read().split("\n")
        blocks = list(blocks_of(lines))
        inside = {number for _, _, begin, end in blocks for number in range(begin, end)}
        for number, line in enumerate(lines):
            if number not in inside and LOOKS_LIKE_A_COMMAND.match(line):
                self.faults.append(f"{page}:{number + 1}: a command stands outside of a fenced block")
        for number, line in enumerate(lines):
            for app, arguments in IN_A_SENTENCE.findall(line) if number not in inside else []:
                self.sentence(f"{page}:{number + 1}", app, arguments)
        if not blocks:
            return
        folder, python, today, copied = self.folder_of(page), "", [], 0
        for word, name, begin, end in blocks:
            text = "\n".join(lines[begin:end]) + "\n"
            today += lines[copied:begin]
            copied = end
            block = lines[begin:end]
            if word == "sh":
                for command in commands_of(block):
                    few = " --draws 40" if " plan " in command and "--draws" not in command else ""
                    self.execute(f"{page}:{begin + 1}", command + few, folder)
            elif word == "console":
                block = self.console(page, lines, begin, end, folder)
            elif word == "python":
                python += text
            elif word == "yaml":
                self.scenario(f"{page}:{begin + 1}", name, text, folder)
            elif word == "csv" and name:
                with open(os.path.join(folder, name), "w", encoding="utf-8") as file:
                    file.write(text)
            elif word not in ("csv", "c", "cmake", "text"):
                self.faults.append(f"{page}:{begin}: a block of \"{word}\", which this test does not know")
            today += block
        today += lines[copied:]
        if python:
            self.python(page, python, folder)
        if self.write and today != lines:
            with open(os.path.join(self.root, page), "w", encoding="utf-8") as file:
                file.write("\n".join(today))
            print(f"{page} is written anew")


def main():
    root, program, library, scratch = (os.path.abspath(path) for path in sys.argv[1:5])
    run = Run(root, program, library, scratch, "--write" in sys.argv[5:])
    pages = pages_of(root)
    for page in pages:
        run.page(page)
    for pattern in run.reasons:
        if pattern not in run.used:
            run.faults.append(f"doc_commands.txt: no page has `{pattern}`")
    print("\n".join(run.faults + [f"doc_commands: {run.ran} run, {run.excused} excused, {run.read} in sentences, in {len(pages)} pages"]))
    sys.exit(bool(run.faults) or run.ran < 60)


main()
