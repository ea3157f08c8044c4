#!/usr/bin/env python3
"""Checks pattern files against assets/pattern.schema.json with a validator from outside (JSON Schema 2020-12).

Usage: check_patterns.py REPOSITORY TEST_PROGRAM    The test program writes patterns of random content to be checked.
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

GOOD = {"format": "padchart-pattern", "version": 1,
        "pattern": {"pads": [{"at_mm": [0, 0], "width_mm": 1, "height_mm": 2}], "kept": 1}}
# (key below "pattern", value): each must be refused.
WRONG = [("id", "p-1"), ("at_mm", [0, 0]), ("turn_deg", 0), ("side", "top"), ("role", "clamp"), ("locked", True),
         ("pads", []), ("pads", [{"at_mm": [0, 0], "width_mm": 0, "height_mm": 1}]), ("class", "chip"),
         ("orientation", {"state": "recorded"}), ("orientation", {"mark": "splash"}), ("stated_pad_count", -1)]

found = []
root = Path(sys.argv[1])
schema = json.loads((root / "assets/pattern.schema.json").read_text(encoding="utf-8"))
chart = json.loads((root / "assets/chart.schema.json").read_text(encoding="utf-8"))
Draft202012Validator.check_schema(schema)
# One schema from both, so that no version of the validator has to look for the other one.
own_name = chart["$id"].rsplit("/", 1)[1]
schema = json.loads(json.dumps(schema).replace(f"{own_name}#", "#"))
schema["$defs"] = chart["$defs"]
validator = Draft202012Validator(schema)

if not validator.is_valid(GOOD):
    found.append("the schema refuses a plain pattern")
for key, value in WRONG:
    broken = copy.deepcopy(GOOD)
    broken["pattern"][key] = value
    if validator.is_valid(broken):
        found.append(f"the schema lets {key}: {value!r} pass")
with tempfile.TemporaryDirectory() as folder:
    subprocess.run([sys.argv[2], "--test-case=random patterns are saved as files"], check=True,
                   env={**os.environ, "PADCHART_RANDOM_PATTERNS": folder}, stdout=subprocess.DEVNULL,
                   stderr=subprocess.DEVNULL)
    patterns = list(Path(folder).glob("*.pattern.json"))
    if len(patterns) < 20:
        found.append(f"the test program wrote {len(patterns)} patterns; right would be at least 20")
    for path in patterns:
        for error in validator.iter_errors(json.loads(path.read_text(encoding="utf-8"))):
            found.append(f"{path.name}: /{'/'.join(map(str, error.absolute_path))}: {error.message}")
print("\n".join(found) or f"{len(patterns)} patterns are valid; {len(WRONG)} broken ones were refused")
sys.exit(1 if found else 0)
