# SPDX-License-Identifier: BSD-3-Clause
"""Writes options.md from the pages of the manual, which the program makes from its tables of options:
python3 docs/reference/options.py PROGRAM [FILE]."""
import os, re, subprocess, sys

HEAD = """<!-- written by docs/reference/options.py from the program's tables of options: change those -->

# Options

What `stallwright APP --help` and the pages of the manual say, on one page. The same option means the same in every app. Scenario
files and `--set` take the keys of [the scenario file](scenario.md); how a command ends is in [exit statuses](exit-statuses.md). Some
examples draw results files; these make them:

```sh
stallwright cook -o run.h5
stallwright cook apps/scenarios/packer_section.yaml -o section.h5
```
"""


def page(program, name):
    return subprocess.run([program, "--manual", name], stdout=subprocess.PIPE, check=True, text=True).stdout.split("\n")


def plain(text):
    return re.sub(r"\\f[BIR]", "", text).replace("\\-", "-").replace("\\&", "").replace("\\e", "\\")


def cell(text):
    return plain(text).replace("|", "\\|")


def section(lines, name):
    """The lines under a heading, without it."""
    begin = lines.index(f".SH {name}") + 1
    end = next((i for i in range(begin, len(lines)) if lines[i].startswith(".SH ")), len(lines))
    return lines[begin:end]


def app(lines):
    synopsis = plain(section(lines, "SYNOPSIS")[0])
    about = [plain(line) for line in section(lines, "DESCRIPTION") if line and line != ".PP"]
    text = f"\n## {' '.join(synopsis.split()[:2])}\n\n```text\n{synopsis}\n```\n\n" + "\n\n".join(about) + "\n\n| option | meaning |\n|---|---|\n"
    options = section(lines, "OPTIONS")
    for i, line in enumerate(options):
        if line == ".TP":
            text += f"| `{plain(options[i + 1])}` | {cell(options[i + 2]).rstrip('.')} |\n"
    examples = [plain(line) for line in section(lines, "EXAMPLES") if not line.startswith(".")]
    return text + "\n```sh\n" + "\n".join(examples).strip() + "\n```\n"


def main():
    program = sys.argv[1]
    path = sys.argv[2] if len(sys.argv) > 2 else os.path.join(os.path.dirname(os.path.abspath(__file__)), "options.md")
    names = [name for name in page(program, "stallwright.1") if name.startswith(".BR stallwright\\-") and "(1)" in name]
    pages = [plain(name).split()[1] + ".1" for name in names]
    with open(path, "w", encoding="utf-8") as file:
        file.write(HEAD + "".join(app(page(program, name)) for name in pages))


main()
