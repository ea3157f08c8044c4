#!/usr/bin/env python3
"""Holds what the drawing reader makes of the files in cases/ against a real browser's geometry.

Usage: browser_check.py SVG_DUMP [CASE...]   exit code 0: all agree, 1: some do not, 77: no browser here.

Every shape is measured in the browser on a copy scaled up a thousandfold, since path lengths and points along a path are
only good to half a unit there; its own matrix puts the samples on the page. What a `use` draws is out of a script's
reach: there the box of the whole instance is compared. Since a browser reckons arcs in single precision, paths are also
held against the standard's own formulas (true_path.py), without any allowance but where the map hangs on a box.
"""

import html
import json
import math
import os
import re
import shutil
import subprocess
import sys
import tempfile

import true_path

HERE = os.path.dirname(os.path.abspath(__file__))
TOLERANCE_MM = 0.01
SAMPLES = 960 * 4 # as in measure.js
BROWSERS = ("chromium", "chromium-browser", "google-chrome", "chrome")
FLAGS = ("--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
         "--disable-background-networking", "--disable-component-update", "--disable-sync")


def find_browser():
    for name in BROWSERS:
        path = shutil.which(name)
        if path:
            return path
    return None


def text_of(path):
    """The file as a browser's XML parser would decode it, without its declaration."""
    with open(path, "rb") as file:
        raw = file.read()
    if raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
        text = raw.decode("utf-16")
    elif b"ISO-8859-1" in raw[:100]:
        text = raw.decode("latin-1")
    else:
        text = raw.decode("utf-8-sig")
    return re.sub(r"^<\?xml.*?\?>\s*", "", text, flags=re.S)


def browser_shapes(browser, cases):
    """For each case a list of what the browser draws, measured by measure.js."""
    with open(os.path.join(HERE, "measure.js"), encoding="utf-8") as file:
        script = file.read()
    data = json.dumps([text_of(path) for path in cases]).replace("<", "\\u003c")
    page = ("<!doctype html><meta charset=utf-8><style>body{margin:0}#stage{position:absolute;left:0;top:0}</style>"
            "<body><div id=stage></div><pre id=out></pre><script>const cases=" + data + ";\n" + script + "</script>")
    with tempfile.TemporaryDirectory() as folder:
        page_path = os.path.join(folder, "page.html")
        with open(page_path, "w", encoding="utf-8") as file:
            file.write(page)
        profile = os.path.join(folder, "profile")
        os.mkdir(profile)
        run = subprocess.run([browser, *FLAGS, "--user-data-dir=" + profile, "--dump-dom", "file://" + page_path],
                             capture_output=True, text=True, timeout=240, check=False)
    found = re.search(r'<pre id="out">(.*?)</pre>', run.stdout, flags=re.S)
    if not found or not found.group(1):
        raise RuntimeError("the browser gave no result:\n" + run.stderr[-2000:])
    return json.loads(html.unescape(found.group(1)))


def own_shapes(dump, path):
    run = subprocess.run([dump, path, "0.002"], capture_output=True, text=True, timeout=60, check=False)
    if run.returncode != 0:
        raise RuntimeError(run.stderr)
    return json.loads(run.stdout)


def entries_of(own):
    """Shapes, with those of one instance of `use` put together."""
    entries = []
    for shape in own["shapes"]:
        if shape["length"] == 0.0:
            continue # the browser has no points along such a line
        if shape["instance"] and entries and entries[-1]["instance"] == shape["instance"]:
            box, more = entries[-1]["bbox"], shape["bbox"]
            entries[-1]["bbox"] = [min(box[0], more[0]), min(box[1], more[1]), max(box[2], more[2]), max(box[3], more[3])]
        else:
            entries.append(dict(shape))
    return entries


def segment_distance(p, a, b):
    dx, dy = b[0] - a[0], b[1] - a[1]
    square = dx * dx + dy * dy
    t = 0.0 if square == 0.0 else max(0.0, min(1.0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / square))
    return math.hypot(p[0] - a[0] - t * dx, p[1] - a[1] - t * dy)


def distance_to(lines, p):
    best = math.inf
    for line in lines:
        if len(line) == 1:
            best = min(best, math.hypot(p[0] - line[0][0], p[1] - line[0][1]))
        for a, b in zip(line, line[1:]):
            best = min(best, segment_distance(p, a, b))
    return best


def compare(entry, seen):
    """Complaints about one shape."""
    tolerance = TOLERANCE_MM + seen.get("slack", 0.0)
    box_tolerance = tolerance
    if seen["tag"] != "use" and not seen["upright"]:
        box_tolerance += seen["length"] / SAMPLES / 2 # the browser's box is that of its samples
    worst = max(abs(a - b) for a, b in zip(entry["bbox"], seen["bbox"]))
    complaints = []
    if worst > box_tolerance:
        complaints.append("box off by %.4f: %s, the browser has %s" % (worst, entry["bbox"], seen["bbox"]))
    if seen["tag"] == "use":
        return complaints
    if seen["id"] != entry["id"] or seen["tag"] != entry["kind"]:
        complaints.append("is %s %s, the browser has %s %s" % (entry["kind"], entry["id"], seen["tag"], seen["id"]))
    # A browser rounds the page to 1/64 px and makes arcs of cubics; a length by samples cuts corners.
    if abs(entry["length"] - seen["length"]) > tolerance + 8 * seen.get("slack", 0.0) + (2e-4 if seen["even"] else 2e-3) * seen["length"]:
        complaints.append("length %.4f, the browser has %.4f" % (entry["length"], seen["length"]))
    off = max((distance_to(entry["points"], p) for p in seen["points"][::4]), default=0.0)
    if off > tolerance:
        complaints.append("the browser's line lies up to %.4f away" % off)
    own_points = [p for line in entry["points"] if len(line) > 1 for p in line]
    step = max(1, len(own_points) // 60)
    back = max((distance_to([seen["points"]], p) for p in own_points[::step]), default=0.0)
    if back > tolerance + longest_step(seen["points"]):
        complaints.append("own points lie up to %.4f away from the browser's line" % back)
    return complaints


def compare_with_standard(entry, seen):
    """Of a path also what the formulas of the standard make of it, on the browser's map alone: no slack for arcs."""
    if not seen.get("data"):
        return []
    lines = true_path.mapped(true_path.lines_of(seen["data"]), *seen["map"])
    if not lines:
        return []
    tolerance = TOLERANCE_MM + seen.get("slack" if seen["leans"] else "rounding", 0.0)
    complaints = []
    worst = max(abs(a - b) for a, b in zip(entry["bbox"], true_path.box_of(lines)))
    if worst > tolerance:
        complaints.append("box off by %.4f: %s, by the standard's formulas %s" % (worst, entry["bbox"], true_path.box_of(lines)))
    for own, other, words in ((entry["points"], lines, "own points lie"), (lines, entry["points"], "the standard's line lies")):
        points = [p for line in own if len(line) > 1 for p in line]
        off = max((distance_to(other, p) for p in points[::max(1, len(points) // 80)]), default=0.0)
        if off > tolerance:
            complaints.append("%s up to %.4f away by the standard's formulas" % (words, off))
    return complaints


def longest_step(points):
    """Between samples a corner is cut, and the very ends are not sampled; jumps to the next subpath do not count."""
    steps = sorted(math.dist(a, b) for a, b in zip(points, points[1:]))
    return steps[int(len(steps) * 0.95)] if steps else 0.0


def check_case(dump, path, seen):
    if isinstance(seen, str):
        return ["the browser refuses the file: " + seen]
    entries = entries_of(own_shapes(dump, path))
    if len(entries) != len(seen):
        return ["%d shapes, the browser draws %d (%s)" % (len(entries), len(seen), [s["tag"] + " " + s["id"] for s in seen])]
    complaints = []
    for number, (entry, shape) in enumerate(zip(entries, seen), 1):
        complaints += ["shape %d (%s): %s" % (number, entry["id"], c) for c in compare(entry, shape) + compare_with_standard(entry, shape)]
    return complaints


def main():
    browser = find_browser()
    if not browser:
        print("skipped: no chromium on this machine")
        return 77
    dump = sys.argv[1]
    folder = os.path.join(HERE, "cases")
    cases = sys.argv[2:] or sorted(os.path.join(folder, name) for name in os.listdir(folder) if name.endswith(".svg"))
    seen = browser_shapes(browser, cases)
    shapes = failures = 0
    for path, found in zip(cases, seen):
        complaints = check_case(dump, path, found)
        shapes += 0 if isinstance(found, str) else len(found)
        failures += bool(complaints)
        for complaint in complaints:
            print("%s: %s" % (os.path.basename(path), complaint))
    print("%d cases, %d shapes, %d cases differ" % (len(cases), shapes, failures))
    return 1 if failures or not shapes else 0


if __name__ == "__main__":
    sys.exit(main())
