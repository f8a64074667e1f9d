# SPDX-License-Identifier: BSD-3-Clause
"""Pictures tell what they are: check_pictures.py TITLE FILE.svg FILE.png FILE.pdf"""
import re
import struct
import sys
import xml.etree.ElementTree as tree
import zlib

title, svg, png, pdf = sys.argv[1:]

# SVG 1.1: title and desc come first; text is text, which can be searched and read aloud.
root = tree.parse(svg).getroot()
space = "{http://www.w3.org/2000/svg}"
assert [root[i].tag for i in (0, 1)] == [space + "title", space + "desc"], [child.tag for child in root][:3]
assert root[0].text == title, root[0].text
assert re.search(r"\d kg, .*pulled after", root[1].text), root[1].text
texts = ["".join(text.itertext()) for text in root.iter(space + "text")]
for words in (title, "hours since the meat went on", root[1].text):
    assert words in texts, f"{words} is no text: {texts}"
assert "<use" not in open(svg, encoding="utf-8").read()
assert "hours since the meat went on" in open(svg, encoding="utf-8").read()

# PNG (specification, 5.3 and 11.3.5.3): every chunk's checksum, and the size of the dots before the picture.
bytes_ = open(png, "rb").read()
at, names = 8, []
while at < len(bytes_):
    length, name = struct.unpack(">I4s", bytes_[at:at + 8])
    body = bytes_[at + 8:at + 8 + length]
    assert struct.unpack(">I", bytes_[at + 8 + length:at + 12 + length])[0] == zlib.crc32(name + body), name
    names.append(name)
    if name == b"pHYs":
        # 72 dots an inch of 0.0254 m.
        assert struct.unpack(">IIB", body) == (2835, 2835, 1), body
    at += 12 + length
assert names[:2] == [b"IHDR", b"pHYs"] and names.count(b"pHYs") == 1 and names[-1] == b"IEND", names

# PDF (ISO 32000-1, 7.5): the last table leads to the information and to the one before it, and every entry to its object.
file = open(pdf, "rb").read()
start, tables, found = int(re.findall(rb"startxref\s+(\d+)\s+%%EOF", file)[-1]), 0, {}
information = None
while start is not None:
    assert file[start:start + 4] == b"xref", f"no table at {start}"
    trailer = re.compile(rb"trailer\s*<<(.*?)>>", re.S).search(file, start)
    first, entries = None, file[start + 4:trailer.start()].split(b"\n")
    for line in entries:
        if re.fullmatch(rb"\d+ \d+\s*", line.strip()) and len(line.split()) == 2:
            first = int(line.split()[0])
        elif line.strip().endswith(b"n"):
            offset = int(line.split()[0])
            assert file[offset:].startswith(b"%d 0 obj" % first), f"object {first} is not at {offset}"
            found.setdefault(first, offset)
            first += 1
        elif line.strip():
            first += 1
    information = information or int(re.search(rb"/Info (\d+) 0 R", trailer.group(1)).group(1))
    before = re.search(rb"/Prev (\d+)", trailer.group(1))
    start, tables = int(before.group(1)) if before else None, tables + 1
assert tables == 2, tables
body = file[found[information]:file.index(b"endobj", found[information])]
told = bytes.fromhex(re.search(rb"/Title <([0-9A-F]+)>", body).group(1).decode()).decode("utf-16")
assert told == title, told
# 1764158400 is 2025-11-26 12:00 UTC.
assert b"/CreationDate (D:20251126120000Z)" in body and file.count(b"/CreationDate") == 1, body
print("pictures: title, description, resolution and date")
