"""What path data draws by the formulas of the standard, in double precision: for what a browser, which reckons in single
precision and makes arcs of cubics, gets too far wrong to be held against.

Written apart from the reader under test: commands as in SVG 1.1, section 8.3; arcs by the centre parameterization of its
appendix F.6, radii that are too small scaled up as F.6.6 says.
"""

import math
import re

COUNTS = {"m": 2, "l": 2, "h": 1, "v": 1, "c": 6, "s": 4, "q": 4, "t": 2, "a": 7, "z": 0}
ARC_STEPS = 720
CURVE_STEPS = 200


def angle_between(u, v):
    return math.atan2(u[0] * v[1] - u[1] * v[0], u[0] * v[0] + u[1] * v[1])


def arc(start, rx, ry, turn, large, sweep, end):
    """Points of an elliptical arc after its start."""
    if start == end:
        return [end]
    rx, ry = abs(rx), abs(ry)
    if rx == 0 or ry == 0:
        return [end]
    phi = math.radians(turn)
    c, s = math.cos(phi), math.sin(phi)
    half = ((start[0] - end[0]) / 2, (start[1] - end[1]) / 2)
    x, y = c * half[0] + s * half[1], c * half[1] - s * half[0]  # F.6.5.1
    grow = (x / rx) ** 2 + (y / ry) ** 2                         # F.6.6.2
    if grow >= 1:
        rx, ry = rx * math.sqrt(grow), ry * math.sqrt(grow)
        centre = (0.0, 0.0)                                      # the chord is a diameter
    else:
        k = math.sqrt(1 / grow - 1) * (1 if large != sweep else -1)
        centre = (k * rx * y / ry, -k * ry * x / rx)             # F.6.5.2
    u = ((x - centre[0]) / rx, (y - centre[1]) / ry)
    v = ((-x - centre[0]) / rx, (-y - centre[1]) / ry)
    first, through = angle_between((1, 0), u), angle_between(u, v)  # F.6.5.5, F.6.5.6
    if grow >= 1:
        through = math.pi
    if sweep and through < 0:
        through += 2 * math.pi
    if not sweep and through > 0:
        through -= 2 * math.pi
    middle = (c * centre[0] - s * centre[1] + (start[0] + end[0]) / 2, s * centre[0] + c * centre[1] + (start[1] + end[1]) / 2)
    out = []
    for i in range(1, ARC_STEPS):
        t = first + through * i / ARC_STEPS
        a, b = rx * math.cos(t), ry * math.sin(t)
        out.append((middle[0] + c * a - s * b, middle[1] + s * a + c * b))
    return out + [end]


def bezier(points):
    out = []
    for i in range(1, CURVE_STEPS + 1):
        row, t = points, i / CURVE_STEPS
        while len(row) > 1:
            row = [(p[0] + (q[0] - p[0]) * t, p[1] + (q[1] - p[1]) * t) for p, q in zip(row, row[1:])]
        out.append(row[0])
    return out


def lines_of(data):
    """A list of points for each run of the pen. `data` as a browser gives it back: without faults, flags apart."""
    lines, at, start, last, handle = [], (0.0, 0.0), (0.0, 0.0), "", (0.0, 0.0)
    closed = False
    for letter, rest in re.findall(r"([A-Za-z])([^A-Za-z]*(?:e[-+]?\d+[^A-Za-z]*)*)", data):
        numbers = [float(v) for v in re.findall(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?", rest)]
        kind, count = letter.lower(), COUNTS[letter.lower()]
        for first in range(0, max(len(numbers), 1), count or len(numbers) + 1):
            v = numbers[first:first + count]
            ox, oy = at if letter == kind else (0.0, 0.0)
            points = [(ox + v[i], oy + v[i + 1]) for i in range(0, count - 1, 2)] if kind not in "ahvz" else []
            if kind == "m" and first == 0:
                at = start = points[0]
                lines.append([at])
                last, closed = "m", False
                continue
            if kind == "z":
                if not closed:
                    lines[-1].append(start)
                at, last, closed = start, "z", True
                continue
            if closed:
                lines.append([start])
                closed = False
            if kind in "ml":
                drawn = points
            elif kind == "h":
                drawn = [(ox + v[0], at[1])]
            elif kind == "v":
                drawn = [(at[0], oy + v[0])]
            elif kind == "a":
                drawn = arc(at, v[0], v[1], v[2], v[3] != 0, v[4] != 0, (ox + v[5], oy + v[6]))
            else:
                mirrored = (2 * at[0] - handle[0], 2 * at[1] - handle[1])
                if kind == "s":
                    points = [mirrored if last in "cs" else at] + points
                if kind == "t":
                    points = [mirrored if last in "qt" else at] + points
                handle = points[-2]
                drawn = bezier([at] + points)
            lines[-1] += drawn
            at, last = drawn[-1], kind
    return [line for line in lines if len(line) > 1]


def mapped(lines, origin, x, y):
    """Through the map that takes (0, 0), (1, 0) and (0, 1) there."""
    def put(p):
        return tuple(origin[k] + p[0] * (x[k] - origin[k]) + p[1] * (y[k] - origin[k]) for k in (0, 1))
    return [[put(p) for p in line] for line in lines]


def box_of(lines):
    xs, ys = [p[0] for line in lines for p in line], [p[1] for line in lines for p in line]
    return [min(xs), min(ys), max(xs), max(ys)]
