#!/usr/bin/env python3
"""Checks charts against assets/chart.schema.json with a validator from outside (JSON Schema 2020-12).

Usage: check_charts.py REPOSITORY [TEST_PROGRAM]    The test program writes charts of random content to be checked too.
Exit code 0: all valid; 1: findings; 77: the validator is not installed.
"""
import copy
import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path

try:
    from jsonschema import Draft202012Validator
except ImportError as missing:
    print(f"skipped: {missing}; install python3-jsonschema 4 or newer")
    sys.exit(77)

# Keys of the golden chart that no version knows, one in each kind of object.
UNKNOWN = {"agreed_on", "asked", "asked_by", "asked_on", "bench", "callipers", "colour", "drawer", "fan", "finish", "holder", "hood",
           "kept_by", "lamp", "layer", "lens", "loupe", "paste", "print", "repeat", "roll", "seen_twice", "sheet", "shelf",
           "sure"}

# (where, what is put there) in the golden chart: each must be refused. None takes the key away.
WRONG = [
    ("format", "recipe"), ("version", 2), ("version", None), ("scale/source", "guess"), ("scale/mm_per_unit", 0), ("scale/overruled/0/mm_per_unit", 0),
    ("board/outline_mm/0", [[0, 0], [1, 1]]), ("board/stack/layers", 1.5), ("board/stack/layers", 65),
    ("rules/body_gap_mm", -1), ("parts/0/id", "U 4"), ("parts/0/id", None), ("parts/0/side", "tpo"),
    ("parts/0/class", "chip"), ("parts/0/at_mm", [1]), ("parts/0/at_mm", [1, 2, 3]), ("parts/0/at_mm", None),
    ("parts/0/pads/0/width_mm", 0), ("parts/0/pads/0/width_mm", None), ("parts/0/pads/0/diameter_mm", 1),
    ("parts/0/pads/1/points_mm", [[0, 0], [1, 0], [0, 1]]), ("parts/0/pads/2/diameter_mm", None),
    ("parts/0/pads/2/width_mm", 1), ("parts/0/pads/3/points_mm", None), ("parts/0/pads/3/height_mm", 1),
    ("parts/0/body/above_board_mm", 0), ("parts/0/stated_pad_count", 10001), ("parts/0/orientation/mark", 1),
    ("parts/0/orientation/evidence/kind", "hearsay"), ("parts/0/heat/limit_c", 2000), ("parts/0/locked", "yes"),
    ("parts/0/condition/joint", "fine"), ("keep_outs/0/outline_mm", []), ("shields/0/kind", "paper"),
    ("notes/0/target", ""), ("readings/0/value", "fault"), ("readings/0/value", None), ("readings/0/quantity", None),
    ("heat_plans/0/dwell_s", 0), ("heat_plans/0/low_melt_fraction", 1.1), ("photos/0/path", ""),
    ("photos/0/board_from_pixel", [1, 0, 0]), ("photos/0/opacity", 2), ("conflicts/0/thing", ""),
    ("conflicts/0/field", 3),
]

found = []


def read(path):
    return json.loads(path.read_text(encoding="utf-8"))


def step(value, name):
    return value[int(name)] if isinstance(value, list) else value[name]


def changed(chart, where, what):
    chart = copy.deepcopy(chart)
    *way, last = where.split("/")
    owner = chart
    for name in way:
        owner = step(owner, name)
    if isinstance(owner, list):
        owner[int(last)] = what
    elif what is None:
        del owner[last]
    else:
        owner[last] = what
    return chart


def closed(schema):
    """The schema with every object closed to keys it does not list."""
    if isinstance(schema, list):
        return [closed(item) for item in schema]
    if not isinstance(schema, dict):
        return schema
    out = {key: closed(value) for key, value in schema.items()}
    if out.get("type") == "object":
        out["additionalProperties"] = False
    return out


def listed_keys(schema):
    objects = [schema, *schema["$defs"].values()]
    return {(name, key) for name, thing in zip(["chart", *schema["$defs"]], objects)
            for key in thing.get("properties", {})}


def keys_in(value):
    if isinstance(value, dict):
        return set(value).union(*map(keys_in, value.values()))
    return set().union(*map(keys_in, value)) if isinstance(value, list) else set()


def check_schema(root, schema):
    golden = read(root / "tests/json/data/power_corner.chart.json")
    validator = Draft202012Validator(schema)
    for where, what in WRONG:
        if validator.is_valid(changed(golden, where, what)):
            found.append(f"the schema lets {what!r} pass at {where}")
    unlisted = set()
    for error in Draft202012Validator(closed(schema)).iter_errors(golden):
        if error.validator == "additionalProperties":
            unlisted |= set(error.instance) - set(error.schema["properties"])
    if unlisted != UNKNOWN:
        found.append(f"keys that the schema does not explain: {sorted(unlisted ^ UNKNOWN)}")
    unused = {key for _, key in listed_keys(schema)} - keys_in(golden)
    if unused:
        found.append(f"keys of the schema that the golden chart does not show: {sorted(unused)}")


def check_chart(path, validator):
    for error in validator.iter_errors(read(path)):
        found.append(f"{path}: /{'/'.join(map(str, error.absolute_path))}: {error.message}")


def check_random_charts(test_program, validator):
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run([test_program, "--test-case=random charts are saved as files"], check=True,
                       env={**os.environ, "PADCHART_RANDOM_CHARTS": folder}, stdout=subprocess.DEVNULL,
                       stderr=subprocess.DEVNULL)
        charts = list(Path(folder).glob("*.chart.json"))
        if len(charts) < 20:
            found.append(f"the test program wrote {len(charts)} charts; right would be at least 20")
        for path in charts:
            check_chart(path, validator)
        return len(charts)


def main():
    root = Path(sys.argv[1])
    schema = read(root / "assets/chart.schema.json")
    Draft202012Validator.check_schema(schema)
    validator = Draft202012Validator(schema)
    check_schema(root, schema)
    charts = [root / "tests/json/data/power_corner.chart.json"]
    for folder in ("layouts", "demo"):
        charts += sorted((root / folder).rglob("*.chart.json"))
    for path in charts:
        check_chart(path, validator)
    count = len(charts) + sum(check_random_charts(program, validator) for program in sys.argv[2:])
    print("\n".join(found) or f"{count} charts are valid; {len(WRONG)} broken ones were refused")
    sys.exit(1 if found else 0)


main()
