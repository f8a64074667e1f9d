# SPDX-License-Identifier: BSD-3-Clause
"""Scenario files and JSON outputs against their schemas: check_schema.py FOLDER SCENARIO.yaml ... -- OUTPUT=FILE.json ...

FOLDER has the schemas as the program wrote them. Each file validates, and each, spoilt in several ways, does not."""
import copy, json, pathlib, re, sys

import jsonschema
import yaml

folder = pathlib.Path(sys.argv[1])
split = sys.argv.index("--")
scenarios, outputs = sys.argv[2:split], [argument.split("=", 1) for argument in sys.argv[split + 1:]]


class Loader(yaml.SafeLoader):
    """YAML 1.2 as editors read it: 18:00 and yes are texts."""


Loader.yaml_implicit_resolvers = {}
Loader.add_implicit_resolver("tag:yaml.org,2002:bool", re.compile(r"^(true|false)$"), list("tf"))
Loader.add_implicit_resolver("tag:yaml.org,2002:int", re.compile(r"^[-+]?[0-9]+$"), list("-+0123456789"))
Loader.add_implicit_resolver("tag:yaml.org,2002:float", re.compile(r"^[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?$"),
                             list("-+.0123456789"))
# PyYAML reads 1e-16 as a text otherwise.
Loader.add_constructor("tag:yaml.org,2002:float", lambda loader, node: float(node.value))


def validator(name):
    schema = json.loads((folder / f"{name}.json").read_text())
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema", name
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


def fails(check, document, words):
    assert not check.is_valid(document), f"not refused: {words}"


def good(check, document, path):
    error = jsonschema.exceptions.best_match(check.iter_errors(document))
    if error:
        while error.context:
            error = min(error.context, key=lambda inner: len(list(inner.schema_path)))
        raise SystemExit(f"{path} is refused at {'/'.join(map(str, error.absolute_path))}: {error.message[:300]}\n"
                         "New keys of an output belong into apps/schema/outputs.json.")


def leaves(schema):
    for name, inner in schema["properties"].items():
        yield from leaves(inner) if "properties" in inner else [(name, inner)]


check = validator("scenario")
keys = [(name, rule) for name, rule in leaves(check.schema) if "." not in name]
assert len(keys) > 100 and all("Allowed: " in rule["description"] for _, rule in keys), len(keys)
for path in scenarios:
    with open(path, encoding="utf-8") as file:
        document = yaml.load(file, Loader)
    good(check, document, path)
    meat = document.setdefault("meat", {})
    for spoilt, words in (({"colour": "red"}, "a key that is none"), ({"mass": 6.5}, "a mass without a unit"), ({"mass": "6.5"}, "a mass as text without a unit"), ({"mass": "heavy"}, "a mass in words"),
                          ({"shape": "cube"}, "a word that is none"), ({"composition": {"water": 1.5}}, "a share over 1"),
                          ({"fat_cap": 6}, "a value for a group"), ({"probes": [{"name": "flat"}]}, "a probe without a place")):
        fails(check, {**document, "meat": {**meat, **spoilt}}, f"{path}: {words}")
    good(check, {**document, "pit.temperature": "250 F"}, f"{path} with a dotted name")
    fails(check, {**document, "pit.temperature": 250}, f"{path}: a dotted name without a unit")
    fails(check, {**document, "pull": 95}, f"{path}: an ending without a unit")
    fails(check, {**document, "start": "soon"}, f"{path}: no time of day")
    fails(check, {**document, "serving": {"people": 2.5}}, f"{path}: half a person")


def objects(value, path=()):
    """Every kind of object once, by the names on the way to it."""
    if isinstance(value, dict):
        yield path, value
        for key, inner in value.items():
            yield from objects(inner, path + (key,))
    elif isinstance(value, list):
        for inner in value[:1]:
            yield from objects(inner, path + (0,))


def at(document, path):
    for step in path:
        document = document[step]
    return document


checked = 0
for name, path in outputs:
    check = validator(name)
    with open(path, encoding="utf-8") as file:
        document = json.load(file)
    good(check, document, path)
    assert document["format"] == 1
    for where, value in list(objects(document)):
        if where and where[0] == "reaction_laws" and len(where) > 1:
            continue
        place = f"{path}: {'/'.join(map(str, where))}"
        spoilt = copy.deepcopy(document)
        at(spoilt, where)["colour"] = "red"
        fails(check, spoilt, f"{place}: a key that is none")
        key = next(iter(value))
        del at(spoilt, where)["colour"], at(spoilt, where)[key]
        fails(check, spoilt, f"{place}: without {key}")
        at(spoilt, where)[key] = [[]]
        fails(check, spoilt, f"{place}: {key} is a list of lists")
        checked += 1
print(f"schema: {len(keys)} keys, {len(scenarios)} scenarios, {len(outputs)} outputs, {checked} objects spoilt")
