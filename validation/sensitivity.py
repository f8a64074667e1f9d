# SPDX-License-Identifier: BSD-3-Clause
"""Writes docs/theory/sensitivity.md from `cook --sensitivity --format json`: python3 validation/sensitivity.py PROGRAM."""
import json
import subprocess
import sys

HEAD = """# How much each input matters

Made by `sh validation/sensitivity.sh`; do not edit. The same for any cook: `stallwright cook --sensitivity`.

Each input is moved by one standard range, down and up, and the cook is run again. The ranges stand once, in
`lib/src/scenario/scenario_keys.c`: for what a cook measures or sets, how well cooks know it (*practice*); for what nobody measures,
the standard deviation of an even spread over the range in [parameters.md](parameters.md).

**Why differences.** The answers are times of events (the pull, the ends of the stall) and the cook switches law at events (the
wrap); forward sensitivities would need their own rules at each, and give a slope where a range is asked for. Two-sided
differences give both. *slope* is half the difference of the outer two cooks; *half step* the same from two cooks half as far
out, doubled. Where both agree the answer is straight over the range and the slope is right whatever the step; where they do
not (*bent*: by more than a fifth, and 2 min or 0.1 % of the raw mass), the two changes count, not the slope.

| symbol | meaning | unit |
|---|---|---|
| done | time to the pull | h |
| stall | its length; a dash where a cook has none | h |
| yield | mass at the pull over raw mass | % |
"""

TAIL = """
## Assumptions and range

- One input at a time; *together* is the root of the sum of the squared slopes, as if they were independent and the answer
  straight. Stall lengths that do not exist are left out.
- Ranges of inputs, not the error of the model: that is [validation](../../validation/report.md)'s matter.
- More mass at the same thickness is a wider slab, whose ends take a smaller part: it changes little.

Source: `analysis/sensitivity.c`, `analysis/uncertain_input.c`. Tests: `test_sensitivity.c`, `tests/cli/test_sensitivity.sh`.
"""


def number(value, scale, digits):
    """What rounds to nothing is 0."""
    if value is None:
        return "-"
    return f"{value / scale:+.{digits}f}" if abs(value / scale) >= 0.5 * 10**-digits else "0"


def cells(one, name, unit, scale, digits):
    return [number(one[f"{name}_{part}{unit}"], scale, digits) for part in ("low", "high", "slope", "half_slope")]


def section(program, title, settings):
    command = [program, "cook", "--quiet", "--sensitivity", "--format", "json"]
    for setting in settings:
        command += ["--set", setting]
    cook = json.loads(subprocess.run(command, check=True, capture_output=True, text=True).stdout)
    choice, all_inputs = cook["choices"][0], cook["sensitivity"]
    stall = choice["stall_length_s"]
    lines = [f"\n## {title}\n",
             f"Done after {choice['done_s'] / 3600:.1f} h, stall of "
             f"{'-' if stall is None else format(stall / 3600, '.1f')} h, yield {100 * choice['yield_at_pull']:.1f} %.\n",
             "| input | value, SI | lower | higher | done: lower | higher | slope | half step | stall: lower | higher "
             "| yield: lower | higher | slope | half step |",
             "|---" * 14 + "|"]
    for one in all_inputs["inputs"]:
        row = [f"`{one['key']}`"] + [f"{one[key]:.4g}" for key in ("value_si", "low_si", "high_si")]
        row += cells(one, "done", "_s", 3600, 2)
        row += cells(one, "stall_length", "_s", 3600, 2)[:2]
        row += cells(one, "yield_at_pull", "", 0.01, 1)
        lines.append("| " + " | ".join(row) + " |")
    lines.append(f"\nTogether: done {all_inputs['done_together_s'] / 3600:.1f} h, "
                 f"yield {100 * all_inputs['yield_at_pull_together']:.1f} %.")
    return "\n".join(lines) + "\n"


def main():
    program = sys.argv[1]
    text = HEAD
    text += section(program, "The default cook, no wrap", [])
    text += section(program, "In paper", ["wrap.kind=paper"])
    text += section(program, "In closed foil", ["wrap.kind=closed-foil"])
    sys.stdout.write(text + TAIL)


main()
