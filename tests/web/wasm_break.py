# SPDX-License-Identifier: BSD-3-Clause
"""Copies of the page whose module breaks: a function of it traps, or its memory may not grow. Only the module in the page is another;
what is changed is the binary format of the WebAssembly Core Specification, section 5."""
import base64
import gzip
import re

MEMORY, EXPORT, CODE, IMPORT = 5, 7, 10, 2
FUNCTION = 0
UNREACHABLE, NOP, END = 0x00, 0x01, 0x0B


def number(data, at):
    """An unsigned LEB128, and where it ends."""
    value = shift = 0
    while True:
        byte = data[at]
        value |= (byte & 0x7F) << shift
        at, shift = at + 1, shift + 7
        if not byte & 0x80:
            return value, at


def written(value):
    text = b""
    while True:
        value, low = value >> 7, value & 0x7F
        text += bytes([low | (0x80 if value else 0)])
        if not value:
            return text


def sections(module):
    """Of each its number, where it begins, where its content does, and where it ends."""
    at = 8
    while at < len(module):
        size, begin = number(module, at + 1)
        yield module[at], at, begin, begin + size
        at = begin + size


def place(module, kind):
    return next((start, begin, end) for one, start, begin, end in sections(module) if one == kind)


def imported_functions(module):
    """How many functions come from outside; those of this module follow them."""
    _, at, _ = place(module, IMPORT)
    count, at = number(module, at)
    functions = 0
    for _ in range(count):
        for _ in range(2):
            length, at = number(module, at)
            at += length
        assert module[at] == FUNCTION, "only functions are imported"
        functions += 1
        _, at = number(module, at + 1)
    return functions


def exported(module, name):
    _, at, _ = place(module, EXPORT)
    count, at = number(module, at)
    for _ in range(count):
        length, at = number(module, at)
        called, kind, at = module[at:at + length].decode(), module[at + length], at + length + 1
        index, at = number(module, at)
        if (called, kind) == (name, FUNCTION):
            return index
    raise AssertionError(f"the module exports no {name}")


def trapping(module, name):
    """Its body is of the same length, and traps at once."""
    wanted = exported(module, name) - imported_functions(module)
    _, at, _ = place(module, CODE)
    count, at = number(module, at)
    for i in range(count):
        size, at = number(module, at)
        if i == wanted:
            body = bytes([0, UNREACHABLE]) + bytes([NOP]) * (size - 3) + bytes([END])
            return module[:at] + body + module[at + size:]
        at += size
    raise AssertionError(f"{name} has no body")


def limited(module, pages):
    """With so many pages of 64 KiB of memory more than it begins with, and none besides."""
    start, at, end = place(module, MEMORY)
    count, at = number(module, at)
    flags, at = number(module, at)
    least, _ = number(module, at)
    assert count == 1 and flags == 0, "the module states no limit of its own"
    content = bytes([1, 1]) + written(least) + written(least + pages)
    return module[:start] + bytes([MEMORY]) + written(len(content)) + content + module[end:]


def broken_page(path, copy, change):
    """Writes a copy of the page with its module changed."""
    with open(path, encoding="utf-8") as file:
        page = file.read()
    found = re.search(r'<script id="module" type="application/octet-stream">(.*?)</script>', page, re.S)
    module = change(gzip.decompress(base64.b64decode(found[1])))
    with open(copy, "w", encoding="utf-8") as file:
        file.write(page[:found.start(1)] + base64.b64encode(gzip.compress(module, mtime=0)).decode() + page[found.end(1):])
    return copy
