# SPDX-License-Identifier: BSD-3-Clause
"""JSON that the program prints: read strictly, and held against the reference that names its keys."""
import json
import re


def load(path):
    def refuse(text):
        raise AssertionError(f"{path} holds {text}, which is no JSON")
    with open(path) as file:
        return json.load(file, parse_constant=refuse)


def keys_of(value):
    if isinstance(value, dict):
        for key, inner in value.items():
            yield key
            yield from keys_of(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from keys_of(inner)


def check_keys(document, reference):
    """Every key is named in the reference."""
    with open(reference) as file:
        documented = set(re.findall(r"`([a-z0-9_]+)`", file.read()))
    unknown = set(keys_of(document)) - documented
    assert not unknown, f"keys that the reference does not name: {sorted(unknown)}"
