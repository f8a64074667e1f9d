#!/bin/sh
# SPDX-License-Identifier: BSD-3-Clause
# Every file and folder of the sources that a page of the documentation names is there: a path from the top as it stands, a name
# of a source file between backticks as the end of some path, a link from its page, the heading behind a link's #. Links to elsewhere
# are to papers, by DOI. Looks at the source tree only.
set -eu
root=$(cd "$(dirname "$0")/../.." && pwd)
exec python3 - "$root" <<'EOF'
import fnmatch, os, re, sys

root = sys.argv[1]
tops = ("lib", "apps", "tests", "docs", "validation")
paths = {"CMakeLists.txt", "README.md", "DEVELOPERS.md", "LICENSE"}
for top in tops:
    for folder, folders, files in os.walk(os.path.join(root, top)):
        inside = os.path.relpath(folder, root)
        paths.add(inside)
        paths.update(os.path.join(inside, name) for name in files)
ends = set()
for path in paths:
    parts = path.split("/")
    ends.update("/".join(parts[i:]) for i in range(len(parts)))
pages = sorted(path for path in paths if path.endswith(".md"))

# From the top: not behind another folder, such as build/. NAME stands for any.
from_top = re.compile(r"(?<![\w./-])(?:%s)/[\w.*/-]*[\w*]" % "|".join(tops))
source_name = re.compile(r"`([\w./-]+\.(?:c|h|sh|py|yaml|html|js|css|txt|cmake|md|csv))`")
link = re.compile(r"\]\(([^)\s]+)\)")
elsewhere = re.compile(r"https://doi\.org/10\.\d{4,9}/[\w./%-]+")

def text_of(page):
    """Its lines, those within fences emptied, and without what stands between backticks."""
    with open(os.path.join(root, page), encoding="utf-8") as file:
        text = re.sub(r"^```.*?^```", lambda block: "\n" * block[0].count("\n"), file.read(), flags=re.S | re.M)
    return text.split("\n")

headings = {}
for page in pages:
    titles = [line.lstrip("#").strip() for line in text_of(page) if re.match(r"#+ ", line)]
    headings[page] = [re.sub(r"[^\w -]", "", title.lower()).replace(" ", "-") for title in titles]

def leads_somewhere(page, to):
    if to.startswith("http"):
        return bool(elsewhere.fullmatch(to))
    path, _, heading = to.partition("#")
    path = os.path.normpath(os.path.join(os.path.dirname(page), path)) if path else page
    return path in paths and (not heading or heading in headings.get(path, []))

def exists(path):
    return path in paths or ("*" in path and bool(fnmatch.filter(paths, path)))

missing, checked = [], 0
for page in pages:
    for number, line in enumerate(text_of(page), 1):
        for to in link.findall(re.sub(r"`[^`]*`", "", line)):
            checked += 1
            if not leads_somewhere(page, to):
                missing.append(f"{page}:{number}: links to {to}, which leads nowhere")
    with open(os.path.join(root, page), encoding="utf-8") as file:
        for number, line in enumerate(file, 1):
            named = [(path, exists(path)) for path in from_top.findall(line)]
            named += [(name, name in ends) for name in source_name.findall(line)]
            for name, there in named:
                if "NAME" in name:
                    continue
                checked += 1
                if not there:
                    missing.append(f"{page}:{number}: names {name}, which is not there")
print("\n".join(missing + [f"test_named_files: {checked} names in {len(pages)} pages"]))
sys.exit(bool(missing) or checked < 200)
EOF
