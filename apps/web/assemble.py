#!/usr/bin/env python3
# SPDX-License-Identifier: BSD-3-Clause
"""Makes one HTML file that needs nothing else: assemble.py SKELETON PAGE [NAME=]FILE ...

{{name}} in the skeleton stands for a file: one of .wasm packed by gzip as base64, a licence as text, any other as it is. {{policy}} is the content
security policy: only the scripts and the style that are in the file now, by their checksums, run; nothing is ever asked for."""
import base64
import gzip
import hashlib
import html
import os
import re
import sys


def part(name, path):
    with open(path, "rb") as file:
        content = file.read()
    if name.endswith(".wasm"):
        return base64.b64encode(gzip.compress(content, mtime=0)).decode()
    text = content.decode("utf-8")
    if name.endswith("-licence"):
        return html.escape(text)
    if name.endswith(".js") and re.search(r"</script|<!--", text, re.I):
        sys.exit(f"assemble: {path} would end its own script")
    return text


def checksums(page, tag):
    """Of the inline elements that a browser would run."""
    found = re.findall(rf"<{tag}>(.*?)</{tag}>", page, re.S)
    return " ".join(f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'" for text in found)


def main():
    skeleton, output, *files = sys.argv[1:]
    parts = {}
    for file in files:
        name, _, path = file.rpartition("=")
        parts[name or os.path.basename(path)] = path
    with open(skeleton, encoding="utf-8") as file:
        page = file.read()
    page = re.sub(r"\{\{([\w.-]+)\}\}", lambda m: m[0] if m[1] == "policy" else part(m[1], parts[m[1]]), page)
    policy = ("default-src 'none'; script-src 'wasm-unsafe-eval' " + checksums(page, "script") + "; style-src " + checksums(page, "style") +
              "; img-src data:; worker-src blob:; connect-src 'none'; base-uri 'none'; form-action 'none'")
    page = page.replace("{{policy}}", policy)
    with open(output + ".part", "w", encoding="utf-8") as file:
        file.write(page)
    os.replace(output + ".part", output)


main()
