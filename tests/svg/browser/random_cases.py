#!/usr/bin/env python3
"""Writes drawings at random from a grammar of what moves, sizes and hides shapes, and holds them against a browser.

Usage: random_cases.py SVG_DUMP [COUNT [SEED]]   by hand; the same seed gives the same drawings. Exit codes as
browser_check.py. Drawings that differ stay in a folder whose name is printed.

Left to the fixed cases: what the browser's script interface does not measure exactly (turned content of `use`,
percentages within calc(), font units) and where browsers leave the standard (entities within entities). What still differs is looked at by hand.
"""

import os
import random
import sys
import tempfile

import browser_check

UNITS = ("", "", "", "", "px", "mm", "pt", "em")
ALIGN = ("xMinYMin", "xMidYMin", "xMaxYMin", "xMinYMid", "xMidYMid", "xMaxYMid", "xMinYMax", "xMidYMax", "xMaxYMax", "none")
BATCH = 40


class Writer:
    def __init__(self, seed):
        self.random = random.Random(seed)
        self.count = 0
        self.targets = [] # of use: plain shapes and groups without turns
        self.classes = []

    def number(self, low, high):
        value = self.random.uniform(low, high)
        text = self.random.choice(("%.1f", "%.2f", "%.3g", "%d", "%.3e", "+%.1f" if value >= 0 else "%.1f")) % value
        if self.random.random() < 0.1 and text.startswith("0."):
            text = text[1:]
        return text

    def factor(self, low, high):
        """Not zero: of what is pressed flat within a `use` the browser still tells the box."""
        text = self.number(low, high)
        return text if float(text) != 0.0 else "1"

    def length(self, low, high, percent=True):
        if percent and self.random.random() < 0.2:
            return "%d%%" % self.random.randint(int(low / 4), int(high / 4) + 1)
        unit = self.random.choice(UNITS)
        divisor = {"mm": 4, "pt": 1.3, "em": 16}.get(unit, 1)
        value = self.random.uniform(low, high) / divisor
        return "%.3g%s" % (value, unit)

    def separator(self):
        return self.random.choice((",", " ", " , ", ", ", "\n", "\t", ",  "))

    def transform_list(self, turns=True):
        kinds = ["translate", "scale"] + (["rotate", "rotate3", "skewX", "skewY", "matrix"] if turns else [])
        parts = []
        for _ in range(self.random.randint(1, 3)):
            kind = self.random.choice(kinds)
            gap = self.separator()
            n = lambda low, high: self.factor(low, high) if kind == "scale" and not turns else self.number(low, high)
            parts.append({
                "translate": lambda: "translate(%s%s%s)" % (n(-30, 30), gap, n(-30, 30)) if self.random.random() < .8 else "translate(%s)" % n(-30, 30),
                "scale": lambda: "scale(%s)" % n(.5, 1.5) if self.random.random() < .5 else "scale(%s%s%s)" % (n(.5, 1.5), gap, n(-1.5, 1.5)),
                "rotate": lambda: "rotate (%s)" % n(-200, 400),
                "rotate3": lambda: "rotate( %s%s%s%s%s )" % (n(-90, 90), gap, n(0, 99), gap, n(0, 99)),
                "skewX": lambda: "skewX(%s)" % n(-40, 40),
                "skewY": lambda: "skewY(%s)" % n(-40, 40),
                "matrix": lambda: "matrix(%s)" % gap.join((n(.5, 1), n(-.4, .4), n(-.4, .4), n(.5, 1), n(-9, 9), n(-9, 9))),
            }[kind]())
        return self.random.choice(("", " ", ", ", ",")).join(parts)

    def css_transform(self):
        parts = []
        for _ in range(self.random.randint(1, 2)):
            parts.append(self.random.choice((
                "translate(%dpx,%dpx)" % (self.random.randint(-20, 20), self.random.randint(-20, 20)),
                "translate(%d%%,%dmm)" % (self.random.randint(-5, 5), self.random.randint(-5, 5)),
                "rotate(%ddeg)" % self.random.randint(-90, 90), "rotate(.%dturn)" % self.random.randint(1, 9),
                "scale(%.2f)" % self.random.uniform(.5, 1.5), "skewX(%ddeg)" % self.random.randint(-30, 30),
                "matrix(1,.%d,-.2,1,%d,3)" % (self.random.randint(1, 4), self.random.randint(-9, 9)))))
        style = "transform:" + " ".join(parts)
        if self.random.random() < .5:
            style += ";transform-origin:" + self.random.choice(("center", "10px 20px", "25% 75%", "right", "top left", "5mm"))
        if self.random.random() < .4:
            style += ";transform-box:" + self.random.choice(("fill-box", "view-box"))
        return style

    def placing(self, turns=True):
        chance = self.random.random()
        if chance < .45:
            return ""
        if chance < .85 or not turns:
            origin = ' transform-origin="%s"' % self.random.choice(("10 20", "center", "20% 5")) if turns and self.random.random() < .15 else ""
            return ' transform="%s"%s' % (self.transform_list(turns), origin)
        return ' style="%s"' % self.css_transform()

    def arc(self, fits):
        """Where it `fits` the radii reach from end to end: scaled up ones the browser gets wrong, and within a `use` there
        is nothing but its box to hold against."""
        radii = (self.number(20, 40), self.number(20, 40)) if fits else (self.number(-5, 40), self.number(1, 40))
        ends = [self.number(-9, 9) if fits else self.number(-30, 30) for _ in range(2)]
        return "%s%s%s %s %s%s%s%s%s" % (radii[0], self.separator(), radii[1], self.number(-90, 400), self.random.choice("01"),
                                         self.random.choice(("", " ", ",")), self.random.choice("01"),
                                         self.random.choice((" ", ",", "")), self.separator().join(ends).lstrip("+"))

    def path_data(self, arcs_fit=False):
        """The browser's box of a shape takes in a last move of the pen that draws nothing: there is none here."""
        n = lambda: self.number(-30, 30)
        out = ["M%s%s%s" % (self.number(0, 200), self.separator(), self.number(0, 150))]
        for _ in range(self.random.randint(1, 8)):
            letter = self.random.choice("LlHhVvCcSsQqTtAaZzMmlhvcsqta")
            counts = {"l": 2, "h": 1, "v": 1, "c": 6, "s": 4, "q": 4, "t": 2, "m": 2, "z": 0}
            if letter.lower() == "a":
                letter = "a" if arcs_fit else letter
                values = [self.arc(arcs_fit)]
            else:
                values = [n() for _ in range(counts[letter.lower()] * self.random.choice((1, 1, 2)))]
            text = self.separator().join(values)
            if self.random.random() < .3 and letter.lower() != "a":
                text = "".join(v if i == 0 or v[0] in "+-" else " " + v for i, v in enumerate(values))
            out.append(letter + self.random.choice(("", " ")) + text)
        if self.random.random() < .08:
            out.insert(self.random.randrange(1, len(out) + 1), self.random.choice(("x", "L5", ",,", "h", "#", "a5 5 0 2 0 1 1")))
        while len(out) > 1 and out[-1][0] in "Mm":
            out.pop()
        return self.random.choice(("", " ", "\n")).join(out)

    def points(self):
        values = [self.number(0, 200) for _ in range(self.random.choice((2, 4, 6, 8, 10, 7)))]
        return self.separator().join(values)

    def shape(self, turns=True):
        self.count += 1
        kind = self.random.choice(("rect", "rect", "circle", "ellipse", "line", "polyline", "polygon", "path", "path", "path"))
        a = {}
        if kind == "rect":
            a = {"x": self.length(0, 200), "y": self.length(0, 150), "width": self.length(5, 90), "height": self.length(5, 60)}
            for radius in ("rx", "ry"):
                if self.random.random() < .35:
                    a[radius] = self.random.choice((self.length(0, 40), self.length(0, 40), "-3", "0", "junk"))
        elif kind == "circle":
            a = {"cx": self.length(0, 200), "cy": self.length(0, 150), "r": self.length(2, 50)}
        elif kind == "ellipse":
            a = {"cx": self.length(0, 200), "cy": self.length(0, 150), "rx": self.length(2, 50)}
            if self.random.random() < .8:
                a["ry"] = self.length(2, 50)
        elif kind == "line":
            a = {name: self.length(0, 200) for name in ("x1", "y1", "x2", "y2") if self.random.random() < .9}
        elif kind == "path":
            a = {"d": self.path_data(arcs_fit=not turns)}
        else:
            a = {"points": self.points()}
        if self.random.random() < .25:
            a["class"] = " ".join(self.random.choice("abcd") for _ in range(self.random.randint(1, 2)))
        if self.random.random() < .05:
            a["display"] = self.random.choice(("none", "inline", "junk", "block"))
        if self.random.random() < .05:
            a["visibility"] = "hidden"
        name = "s%d" % self.count
        text = "<%s id=\"%s\" %s%s/>" % (kind, name, " ".join('%s="%s"' % pair for pair in a.items()), self.placing(turns))
        return text, name

    def viewport(self, depth):
        attributes = ""
        for name, low, high in (("x", 0, 100), ("y", 0, 80), ("width", 30, 200), ("height", 30, 150)):
            if self.random.random() < .8:
                attributes += ' %s="%s"' % (name, self.length(low, high))
        if self.random.random() < .7:
            attributes += ' viewBox="%s"' % self.separator().join("%d" % v for v in (self.random.randint(-20, 20), self.random.randint(-20, 20), self.random.randint(20, 300), self.random.randint(20, 200)))
            if self.random.random() < .7:
                attributes += ' preserveAspectRatio="%s%s"' % (self.random.choice(ALIGN), self.random.choice(("", " meet", " slice")))
        return "<svg%s>%s</svg>" % (attributes, self.content(depth + 1))

    def content(self, depth):
        out = []
        for _ in range(self.random.randint(1, 4)):
            chance = self.random.random()
            if depth >= 4 or chance < .6:
                out.append(self.shape()[0])
            elif chance < .78:
                font = ' font-size="%s"' % self.random.choice(("10", "8px", "150%", "smaller", "2em")) if self.random.random() < .2 else ""
                hidden = ' display="none"' if self.random.random() < .05 else ""
                out.append("<g%s%s%s>%s</g>" % (self.placing(), font, hidden, self.content(depth + 1)))
            elif chance < .88:
                out.append(self.viewport(depth))
            elif chance < .93:
                out.append("<a>%s</a>" % self.content(depth + 1))
            else:
                languages = self.random.sample(("de", "en", "en-GB", "fr,en", ""), 2)
                out.append("<switch>%s%s%s</switch>" % (
                    "".join('<g systemLanguage="%s">%s</g>' % (language, self.shape()[0]) for language in languages),
                    "<!-- -->", self.shape()[0]))
        return "\n".join(out)

    def instances(self):
        """Of `use` a script sees the box alone: what it draws is not turned."""
        defs, uses = [], []
        for number in range(self.random.randint(0, 3)):
            shape = self.shape(turns=False)[0]
            if self.random.random() < .4:
                box = ' viewBox="0 0 %d %d" preserveAspectRatio="%s %s"' % (self.random.randint(20, 200), self.random.randint(20, 150), self.random.choice(ALIGN), self.random.choice(("meet", "slice")))
                defs.append('<symbol id="d%d"%s>%s</symbol>' % (number, box if self.random.random() < .8 else "", shape))
            else:
                defs.append('<g id="d%d"%s>%s</g>' % (number, self.placing(turns=False), shape))
            size = ' width="%s" height="%s"' % (self.length(20, 150), self.length(20, 100)) if self.random.random() < .5 else ""
            uses.append('<use id="u%d" %s="#d%d" x="%s" y="%s"%s%s/>' % (number, self.random.choice(("href", "xlink:href")), number, self.length(0, 150), self.length(0, 90), size, self.placing(turns=False)))
        return "<defs>%s</defs>%s" % ("".join(defs), "".join(uses)) if defs else ""

    def sheet(self, turns):
        rules = []
        for _ in range(self.random.choice((0, 0, 1, 2, 4))):
            selector = self.random.choice((".a", ".b", "rect.c", ".a.b", "g .a", "svg > .d", "#s3", "rect", "circle, .b", "path + .a", ":not(.a).b", "*[class~=c]", "g > rect:first-child", "ellipse:last-child", "polygon:nth-child(2)", ":is(.a,.d)", "line:first-of-type"))
            value = self.random.choice(("x:%dpx" % self.random.randint(0, 99), "y:10%", "width:%dpx" % self.random.randint(5, 80), "height:5mm", "rx:%d" % self.random.randint(0, 9), "cx:50px", "r:20px", "display:none", "display:inline", "transform:rotate(%ddeg)" % self.random.randint(-45, 45), "transform:none", "d:path('M10 10h50v%dz')" % self.random.randint(5, 60), "visibility:hidden", "width:20", "cy:calc(10px + 5mm)", "transform-box:fill-box;transform-origin:center"))
            if not turns and value.startswith("transform:rotate"):
                continue
            rule = "%s{%s%s}" % (selector, value, self.random.choice(("", "", "!important", ";")))
            if self.random.random() < .1:
                rule = "@media %s{%s}" % (self.random.choice(("screen", "print", "all", "not print", "print,screen")), rule)
            rules.append(rule)
        return "<style>%s</style>" % "\n".join(rules).replace(">", "&gt;") if rules else ""

    def drawing(self):
        size = self.random.choice(('width="80mm" height="60mm"', 'width="3in" height="2.5in"', 'width="300" height="200"', 'width="20pc" height="150pt"'))
        box = self.random.choice((' viewBox="0 0 320 240"', ' viewBox="0 0 320 240"', ' viewBox="-20 -10 200 200" preserveAspectRatio="%s slice"' % self.random.choice(ALIGN[:9]), ""))
        instances = self.instances()
        return ('<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" %s%s>\n%s\n%s\n%s\n</svg>\n'
                % (size, box, self.sheet(turns=not instances), self.content(0), instances))


def allow_for_rounding(seen):
    """A browser makes arcs of cubics in single precision: measure.js tells how far off they may be. And it rounds the
    page to 1/64 px, which is 3e-5 of the smallest page here."""
    for shape in seen if isinstance(seen, list) else ():
        shape["rounding"] = 3e-5 * max(map(abs, shape["bbox"]))
        shape["slack"] = shape["arcs"] + shape["rounding"]


def main():
    browser = browser_check.find_browser()
    if not browser:
        print("skipped: no chromium on this machine")
        return 77
    dump = sys.argv[1]
    count = int(sys.argv[2]) if len(sys.argv) > 2 else 200
    seed = int(sys.argv[3]) if len(sys.argv) > 3 else 1
    folder = tempfile.mkdtemp(prefix="random_cases_")
    shapes = failures = 0
    for first in range(0, count, BATCH):
        paths = []
        for number in range(first, min(first + BATCH, count)):
            paths.append(os.path.join(folder, "%d_%d.svg" % (seed, number)))
            with open(paths[-1], "w", encoding="utf-8") as file:
                file.write(Writer("%d %d" % (seed, number)).drawing())
        for path, seen in zip(paths, browser_check.browser_shapes(browser, paths)):
            allow_for_rounding(seen)
            complaints = browser_check.check_case(dump, path, seen)
            shapes += 0 if isinstance(seen, str) else len(seen)
            failures += bool(complaints)
            for complaint in complaints:
                print("%s: %s" % (os.path.basename(path), complaint))
            if not complaints:
                os.remove(path)
    print("%d drawings, %d shapes, %d drawings differ%s" % (count, shapes, failures, ": see " + folder if failures else ""))
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
