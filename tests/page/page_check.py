#!/usr/bin/env python3
"""Works through the one-file page in a real browser as a colleague would, and holds it against the chart it was made of.

Usage: page_check.py PADCHART REPOSITORY [--pictures FOLDER]   exit code 0: good, 1: not, 77: no browser here.

Expected places and lengths are own arithmetic on the chart file; hashes and Base64 are those of Python's library.
"""

import base64
import hashlib
import html.parser
import json
import math
import os
import re
import shutil
import struct
import subprocess
import sys
import tempfile
import time
import zlib

from browser import Browser, find_browser

DESKTOP = (1440, 900)
PHONE = (390, 844)
PLACE = (38.0, 5.0) # in the notch of the demo's board, away from everything
HOSTILE = {
    "name": "<script>window.hit=1</script>",
    "role": "\"><img src=x onerror=\"window.hit=2\"><svg onload=window.hit=3>",
    "value": "</title></style></script><script>window.hit=4</script>",
    "comment": "'); window.hit=5; // {{7*7}} \u202e\u2028 &lt;b&gt; --> ]]>",
}

faults = []


def check(truth, what):
    if not truth:
        faults.append(what)
        print("FAULT", what)


class Work:
    """A folder with what the checks need, and how to call the program."""

    def __init__(self, program, repository, folder):
        self.program = program
        self.repository = repository
        self.folder = folder
        self.downloads = os.path.join(folder, "downloads")
        os.mkdir(self.downloads)

    def path(self, name):
        return os.path.join(self.folder, name)

    def call(self, *words, codes=(0,)):
        run = subprocess.run([self.program, *words], capture_output=True, text=True, timeout=120, check=False)
        check(run.returncode in codes, f"padchart {' '.join(words)} ends with {run.returncode}: {run.stderr}")
        return run

    def page_of(self, chart_path, name):
        self.call("sheet", chart_path, "-o", self.path(name), codes=(0, 1))
        return "file://" + self.path(name)

    def downloaded(self, name):
        path = os.path.join(self.downloads, name)
        for _ in range(200):
            if os.path.exists(path) and not os.path.exists(path + ".crdownload"):
                time.sleep(0.1)
                with open(path, "rb") as file:
                    return file.read()
            time.sleep(0.05)
        check(False, f"{name} was not downloaded")
        return b""


def read(path):
    with open(path, "rb") as file:
        return file.read()


def on_board(part, at):
    """From the part's frame to the board's: turned counter-clockwise as seen from its side, mirrored for the bottom."""
    turn = math.radians(part.get("turn_deg", 0))
    x, y = at
    x, y = x * math.cos(turn) + y * math.sin(turn), -x * math.sin(turn) + y * math.cos(turn)
    if part.get("side") == "bottom":
        x = -x
    return part["at_mm"][0] + x, part["at_mm"][1] + y


def centre_points(chart, side):
    """[id, x, y] of every land's centre on that side, as the picture of the side shows it."""
    out = []
    for part in chart["parts"]:
        if part.get("side", "top") != side:
            continue
        for pad in part["pads"]:
            if pad.get("shape") != "polygon":
                x, y = on_board(part, pad["at_mm"])
                out.append([part["id"], -x if side == "bottom" else x, y])
    return out


LANDS = """((points, side) => { const svg = document.querySelector(`#map-${side} .picture`);
  return points.filter(([id, x, y]) => { const p = svg.createSVGPoint(); p.x = x; p.y = y;
    return ![...svg.querySelectorAll(`[data-id="${id}"] path`)].some(
      e => /fill-pad-/.test(e.className.baseVal) && e.isPointInFill(p)); }); })"""


def check_drawn(page, chart):
    cards = page.run("document.querySelectorAll('.card[data-kind=part]').length")
    check(cards == len(chart["parts"]), f"{cards} cards for {len(chart['parts'])} parts")
    for side in ("top", "bottom"):
        if side == "bottom":
            page.click("#flip") # what is not shown has no geometry to ask for
        points = centre_points(chart, side)
        check(len(points) > 10, f"only {len(points)} lands on the {side}")
        missed = page.run(f"{LANDS}({json.dumps(points)}, '{side}')")
        check(not missed, f"no land is drawn at {missed[:3]} on the {side}")
        wrong = page.run(f"{LANDS}({json.dumps([[i, x + 30, y] for i, x, y in points])}, '{side}')")
        check(len(wrong) == len(points), "the check for lands cannot fail")
    page.click("#flip")
    outline = chart["board"]["outline_mm"][0]
    box = page.run("(() => { const b = document.querySelector('#map-top .line-board-edge').getBBox();"
                   "return [b.x, b.y, b.x + b.width, b.y + b.height]; })()")
    want = [min(p[0] for p in outline), min(p[1] for p in outline), max(p[0] for p in outline), max(p[1] for p in outline)]
    check(all(abs(a - b) < 0.002 for a, b in zip(box, want)), f"the board lies at {box}, not at {want}")


# Boxes, since the browser calls a path visible whose group is not displayed.
VISIBLE = ("[...document.querySelectorAll('#map-top .picture {}')].filter(e => {{ const b = e.getBoundingClientRect();"
           "return b.width + b.height > 0; }}).length")


def check_stages(page):
    names = page.run("[...document.querySelectorAll('[data-stage-button]')].map(b => b.textContent)")
    check(names[0] == "Survey" and "Orient" in names and names[-1] == "Hand over", f"stages are {names}")
    access = next((i for i, name in enumerate(names) if name.startswith("Access: ")), None)
    check(access is not None, "the page shows no access")
    heat = next(i for i, name in enumerate(names) if name.startswith("Heat"))
    seen = {}
    for i, name in enumerate(names):
        page.click(f'[data-stage-button="{i}"]')
        check(page.run(f"document.querySelector('[data-stage-button=\"{i}\"]').getAttribute('aria-pressed')") == "true",
              f"the button of {name} does not say that it is pressed")
        seen[i] = {what: page.run(VISIBLE.format(what)) for what in (".line-isotherm", ".fill-no-aim", ".fill-body",
                                                                      ".sign-badge-done", ".line-measure")}
    check(seen[heat][".line-isotherm"] > 0, "the heat stage shows no line of temperature")
    check(seen[names.index("Orient")][".fill-no-aim"] == 0, "the orient stage shows where not to aim")
    check(seen[names.index("Orient")][".sign-badge-done"] > 0, "the orient stage ticks no recorded part")
    check(seen[names.index("Survey")][".line-isotherm"] == 0, "the survey shows lines of temperature")
    check(seen[access][".line-isotherm"] == 0, "the access stage shows lines of temperature")
    check(seen[access][".line-measure"] > 0, "the access stage shows no way in")
    check(all(s[".fill-body"] > 10 for s in seen.values()), "a stage shows no parts")


def shown_card(page):
    return page.run("[...document.querySelectorAll('.card.is-shown')].filter(c => c.checkVisibility())"
                    ".map(c => c.dataset.name).join()")


def part_named(chart, name):
    return next(part for part in chart["parts"] if part["name"] == name)


def screen_place(page, side, at):
    return page.run(f"(() => {{ const p = new DOMPoint({at[0]}, {at[1]}).matrixTransform("
                    f"document.querySelector('#map-{side} .picture').getScreenCTM()); return [p.x, p.y]; }})()")


def check_tap(page, chart, touch):
    for name in ("J2", "C7", "U6"):
        part = part_named(chart, name)
        x, y = screen_place(page, "top", part["at_mm"])
        (page.tap_at if touch else page.click_at)(x, y)
        check(shown_card(page) == name, f"a tap on {name} shows the card of \"{shown_card(page)}\"")
    page.key("Escape")
    check(shown_card(page) == "", "Escape does not put the card away")


def search_for(page, text):
    page.run("document.querySelector('#find').value = ''")
    page.click("#find")
    page.type(text)
    return page.run("[...document.querySelectorAll('#hits bdi')].map(b => b.textContent)")


def check_search(page):
    check(search_for(page, "c7")[:1] == ["C7"], "C7 is not the first that is found for c7")
    page.key("Enter")
    check(shown_card(page) == "C7", "Enter in the search does not show the first")
    check(search_for(page, "card SOCKET") == ["J2"], "a role is not found by its words in any order and case")
    check(search_for(page, "qqqq") == [], "something is found for nonsense")
    check(page.run("document.querySelector('#found').textContent") == "nothing found", "it does not say so")
    search_for(page, "BT1")
    page.key("Enter")
    check(page.run("document.body.dataset.side") == "bottom", "a part of the far side is not turned up")
    page.key("Escape")
    page.run("document.querySelector('#find').value = ''; document.querySelector('#find').dispatchEvent(new Event('input'))")
    page.click("#flip")


def check_measure(page, chart):
    outline = chart["board"]["outline_mm"][0]
    a = min(outline, key=lambda p: p[0] + p[1])
    b = max(outline, key=lambda p: p[0] + p[1])
    page.click("#measure")
    for point in (a, b):
        x, y = screen_place(page, "top", point)
        page.click_at(x + 2, y - 1) # beside it: the corner is taken
    said = page.run("document.querySelector('#measured').textContent")
    found = re.match(r"([\d.]+) mm$", said)
    want = math.hypot(b[0] - a[0], b[1] - a[1])
    check(found and abs(float(found.group(1)) - want) <= 0.1, f"measured \"{said}\" where {want:.2f} mm is right")
    check("right within 1 %" in page.run("document.querySelector('#answer').textContent"),
          "it does not say how exact the scale is")
    page.key("Escape")
    check(page.run("document.querySelector('#measure').getAttribute('aria-pressed')") == "false", "Escape does not end it")


def check_keys(page):
    """The map by keys alone: nearer, along, a card at the middle, back."""
    page.run("document.querySelector('#map-top .picture').focus()")
    before = page.run("document.querySelector('#map-top .picture').getAttribute('viewBox')")
    page.send("Input.dispatchKeyEvent", {"type": "keyDown", "key": "+", "text": "+"})
    page.key("ArrowLeft")
    check(page.run("document.querySelector('#map-top .picture').getAttribute('viewBox')") != before, "keys do not move the map")
    page.send("Input.dispatchKeyEvent", {"type": "keyDown", "key": "0", "text": "0"})
    check(page.run("document.querySelector('#map-top .picture').getAttribute('viewBox')").split() == before.split() or
          page.run("document.querySelector('#map-top .picture').viewBox.baseVal.width") == float(before.split()[2]),
          "0 does not show the whole board")
    nameless = page.run("[...document.querySelectorAll('button,input,textarea')].filter(e => !(e.textContent.trim() || "
                        "e.ariaLabel || (e.labels && e.labels.length))).length")
    check(nameless == 0, f"{nameless} controls have no name")
    check(page.run("document.documentElement.lang") == "en", "the page does not say its language")


def said_by(run):
    return run.stdout + run.stderr


def check_chart_inside(page, work, chart_path, html_path):
    original = read(chart_path)
    page.click("#chart-save")
    check(work.downloaded(os.path.basename(chart_path)) == original, "the chart saved from the page is not the original")
    text = read(html_path).decode()
    found = re.search(r'<script type="application/octet-stream" id="padchart-chart" data-name="([^"]*)" '
                      r'data-bytes="(\d+)" data-sha256="([0-9a-f]+)">([^<]*)</script>', text)
    check(found is not None, "the page holds no chart")
    check(base64.b64decode(found.group(4)) == original, "the chart in the page is not the original")
    check(found.group(3) == hashlib.sha256(original).hexdigest(), "its hash is wrong")
    back = work.path("back.chart.json")
    work.call("extract", html_path, "-o", back)
    check(read(back) == original, "padchart extract does not give the original")
    for command in ("check", "fit", "parts"):
        one = said_by(work.call(command, chart_path, codes=(0, 1)))
        two = said_by(work.call(command, html_path, codes=(0, 1)))
        check(one == two and len(one) > 100, f"padchart {command} says something else of the page than of the chart")


def check_policy(html_path):
    text = read(html_path).decode()
    policy = re.search(r'http-equiv="Content-Security-Policy" content="([^"]*)"', text).group(1)
    check(("img-src data:" in policy) == ("data:image/jpeg" in text) and "img-src *" not in policy, f"the policy is \"{policy}\"")
    check("default-src 'none'" in policy and "unsafe" not in policy, f"the policy is \"{policy}\"")
    for kind in ("script", "style"):
        found = re.search(rf"<{kind}>(.*?)</{kind}>", text, flags=re.S)
        if not found:
            check(f"{kind}-src 'none'" in policy, f"the policy allows a {kind} that is not there")
            continue
        inner = found.group(1)
        digest = base64.b64encode(hashlib.sha256(inner.encode()).digest()).decode()
        check(f"{kind}-src 'sha256-{digest}'" in policy, f"the hash of the {kind} is not in the policy")
    outside = re.findall(r'(?:src|action)="(?!#|data:image/jpeg;base64,)[^"]*"|href="(?!data:image/jpeg;base64,)[a-z]+:|url\((?!#)[^)]*\)|@import|<link|<iframe|<object', text)
    check(not outside, f"the page asks for {outside[:3]}")
    attributes = Attributes()
    attributes.feed(text)
    check(len(attributes.names) > 50, "the check for handlers sees nothing")
    check(not [n for n in attributes.names if n.startswith("on") or n == "style"], "the page has inline handlers or styles")


class Attributes(html.parser.HTMLParser):
    """The names of all attributes of a page."""

    def __init__(self):
        super().__init__()
        self.names = []

    def handle_starttag(self, tag, attrs):
        self.names += [name for name, _ in attrs]


def write_note(page, target, text, author):
    search_for(page, target)
    page.key("Enter")
    page.click("#note-text")
    page.type(text)
    page.run("document.querySelector('#note-author').value = ''")
    page.click("#note-author")
    page.type(author)
    page.click("#note-add")


def notes_in(path):
    return json.loads(read(path))["notes"]


def check_notes(page, work, chart_path):
    text = "Left pad 1 looks lifted; Ω, <b>\"quoted\"</b>\nsecond line"
    page.run("localStorage.clear()")
    page.click("#note-add")
    check(page.run("document.querySelectorAll('#note-list li').length") == 0, "an empty note was taken")
    write_note(page, "U4", text, "R. Avel")
    page.run("document.querySelector('#find').value=''; document.querySelector('#find').dispatchEvent(new Event('input'))")
    page.key("Escape")
    x, y = screen_place(page, "top", PLACE)
    page.click_at(x, y)
    page.click("#note-text")
    page.type("scratch here")
    page.click("#note-add")
    check(page.run("document.querySelectorAll('#note-list li').length") == 2, "two notes are not listed")
    page.click("#note-file")
    name = os.path.basename(chart_path).replace(".chart.json", ".notes.json")
    file = work.path(name)
    with open(file, "wb") as out:
        out.write(work.downloaded(name))
    letters = page.run("document.querySelector('#note-letters').value")
    check("R. Avel" in letters and "U4: Left pad 1" in letters, "the text for a mail cannot be read")
    check_notes_merge(work, chart_path, file, letters, text)
    page.run("window.before = true")
    page.send("Page.reload")
    page.wait_for("!window.before && document.readyState === 'complete' && document.querySelectorAll('#note-list li').length === 2", 20)


def check_notes_merge(work, chart_path, file, letters, text):
    chart = json.loads(read(chart_path))
    merged = work.path("merged.chart.json")
    said = work.call("merge", chart_path, "--notes", file, "-o", merged).stdout
    check("2 notes added" in said, f"merge says \"{said}\"")
    new = notes_in(merged)[len(chart.get("notes", [])):]
    check(len(new) == 2 and new[0]["text"] == text and new[0]["author"] == "R. Avel", f"merged notes are {new}")
    check(new[0]["target"] == part_named(chart, "U4")["id"], "the note has lost its part")
    check(re.match(r"\d{4}-\d\d-\d\d$", new[0]["date"]), "the note has no day")
    check(math.hypot(new[1]["at_mm"][0] - PLACE[0], new[1]["at_mm"][1] - PLACE[1]) < 0.1, f"the place is {new[1]['at_mm']}")
    work.call("merge", merged, "--notes", file, "-o", work.path("twice.chart.json"))
    check(read(work.path("twice.chart.json")) == read(merged), "the same notes twice are not the same as once")
    # As a mail program hands it on: quoted, lines ended the other way, words round it.
    mail = "Hello,\r\n" + "".join("> " + line + "\r\n" for line in letters.splitlines()) + "\r\nbest\r\n"
    with open(work.path("mail.txt"), "w", encoding="utf-8", newline="") as out:
        out.write(mail)
    work.call("merge", chart_path, "--notes", work.path("mail.txt"), "-o", work.path("mailed.chart.json"))
    check(read(work.path("mailed.chart.json")) == read(merged), "the text of the mail gives other notes than the file")
    # Meanwhile the sender has gone on: three-way, with the notes as the other side.
    ours = json.loads(read(chart_path))
    ours["notes"] = ours.get("notes", []) + [{"id": "note-own", "text": "own note", "at_mm": [1, 1]}]
    part_named(ours, "R1")["value"] = "9k9"
    with open(work.path("ours.chart.json"), "w", encoding="utf-8") as out:
        json.dump(ours, out)
    work.call("merge", chart_path, work.path("ours.chart.json"), file, "-o", work.path("three.chart.json"))
    three = json.loads(read(work.path("three.chart.json")))
    texts = [note["text"] for note in three["notes"]]
    check(text in texts and "own note" in texts and part_named(three, "R1")["value"] == "9k9", f"three-way gives {texts}")


def check_sent_back(page, work, chart_path):
    """A line ticked off and readings taken, on their way back into the chart."""
    page.run("localStorage.clear(); window.before = true")
    page.send("Page.reload")
    page.wait_for("!window.before && document.readyState === 'complete' && document.querySelector('.checklist input') !== null", 20)
    open_lines = page.run("[...document.querySelectorAll('.checklist input')].filter(b => !b.disabled).length")
    check(open_lines > 2, f"{open_lines} lines can be ticked off")
    page.click(".checklist input:not(:disabled)")
    check(page.run("document.querySelectorAll('.checklist input:checked:not(:disabled)').length") == 0,
          "a line was ticked off by nobody")
    page.click("#note-author")
    page.type("R. Avel")
    page.click(".checklist input:not(:disabled)")
    search_for(page, "U4")
    page.key("Enter")
    page.run("document.querySelector('#reading-form').open = true")
    page.click("#reading-value")
    page.type("high")
    page.click("#reading-add")
    check(page.run("document.querySelectorAll('#note-list li').length") == 1, "a reading was taken that is none")
    for value, pad in (("0,512", "1"), ("ol", "2")):
        page.run("document.querySelector('#reading-value').value = ''; document.querySelector('#reading-pad').value = ''")
        page.click("#reading-value")
        page.type(value)
        page.click("#reading-pad")
        page.type(pad)
        page.click("#reading-add")
    check(page.run("document.querySelectorAll('#note-list li').length") == 3, "a tick and two readings are not listed")
    page.run("window.before = true")
    page.send("Page.reload")
    page.wait_for("!window.before && document.readyState === 'complete' && document.querySelectorAll('#note-list li').length === 3", 20)
    check(page.run("document.querySelectorAll('.checklist input:checked:not(:disabled)').length") == 1, "the tick is gone after a while")
    name = os.path.basename(chart_path).replace(".chart.json", ".notes.json")
    if os.path.exists(os.path.join(work.downloads, name)):
        os.remove(os.path.join(work.downloads, name))
    page.click("#note-file")
    file = work.path("sent-back.notes.json")
    with open(file, "wb") as out:
        out.write(work.downloaded(name))
    check_sent_back_merges(page, work, chart_path, file)
    page.run("localStorage.clear(); window.before = true")
    page.send("Page.reload")
    page.wait_for("!window.before && document.readyState === 'complete'", 20)


def check_sent_back_merges(page, work, chart_path, file):
    chart = json.loads(read(chart_path))
    merged = work.path("sent-back.chart.json")
    said = work.call("merge", chart_path, "--notes", file, "-o", merged).stdout
    check("0 notes, 2 readings, 1 tick added" in said, f"merge says \"{said}\"")
    after = json.loads(read(merged))
    readings = after["readings"][len(chart.get("readings", [])):]
    u4 = part_named(chart, "U4")["id"]
    check([(r["value"], r["pad"], r["target"]) for r in readings] == [(0.512, "1", u4), ("OL", "2", u4)], f"readings are {readings}")
    check(all("R. Avel" in r["note"] for r in readings), "nobody knows who read")
    task = page.run("document.querySelector('.checklist input:not(:disabled)').dataset.task")
    done = [t for t in after.get("ticks", []) if t["task"] == task and t.get("done") and t.get("by") == "R. Avel"]
    check(len(done) == 1, f"the tick of {task} did not come back: {after.get('ticks')}")
    work.call("merge", merged, "--notes", file, "-o", work.path("sent-twice.chart.json"))
    check(read(work.path("sent-twice.chart.json")) == read(merged), "sent twice is not the same as once")


def check_print(page, work):
    path = work.path("print.pdf")
    page.pdf(path)
    if not shutil.which("pdftotext"):
        return
    text = subprocess.run(["pdftotext", "-layout", path, "-"], capture_output=True, text=True, check=True).stdout
    for what in ("Top side, seen from the top", "Bottom side, seen from the bottom", "U4", "BT1", "Cautions",
                 "What is not mapped", "10 mm", "local codes"):
        check(what in text, f"\"{what}\" is not printed")
    for what in ("Find a part", "To send back", "Flip side"):
        check(what not in text, f"\"{what}\" is printed")


def check_phone(page, chart):
    check(page.run("document.documentElement.scrollWidth <= innerWidth"), "the page is wider than the phone")
    check_tap(page, chart, touch=True)
    small = page.run("[...document.querySelectorAll('.tools button')].filter(b => b.getBoundingClientRect().height < 40)"
                     ".length")
    check(small == 0, f"{small} buttons are too small for a finger")
    before = page.run("document.querySelector('#map-top .picture').viewBox.baseVal.width")
    page.tap("#nearer")
    check(page.run("document.querySelector('#map-top .picture').viewBox.baseVal.width") < before, "nearer does nothing")
    page.tap("#flip")
    check(page.run("document.querySelector('#map-bottom').checkVisibility()"), "the bottom is not shown")
    check(not page.run("document.querySelector('#map-top').checkVisibility()"), "the top is still shown")
    page.tap("#whole")


def hostile_chart(chart):
    out = json.loads(json.dumps(chart))
    out["parts"][0].update(HOSTILE)
    out["parts"][0]["orientation"] = out["parts"][0].get("orientation", {})
    out["title"].update({"title": HOSTILE["name"], "board": HOSTILE["role"], "up_edge": HOSTILE["value"],
                         "not_mapped": HOSTILE["comment"]})
    out["notes"][0].update({"text": HOSTILE["value"], "author": HOSTILE["role"]})
    out["keep_outs"][0]["name"] = HOSTILE["name"]
    out["heat_plans"][0]["name"] = HOSTILE["role"]
    out["readings"][0]["note"] = HOSTILE["comment"]
    return out


def check_hostile(page):
    page.run("new Promise(done => setTimeout(done, 300))")
    check(page.run("window.hit") is None, f"words of the chart were run: {page.run('window.hit')}")
    check(page.run("document.querySelectorAll('img,iframe,object,embed').length") == 0, "words became elements")
    check(page.run("document.querySelectorAll('script').length") == 2, "words became scripts")
    name = page.run("document.querySelector('.card bdi').textContent")
    check(name == HOSTILE["name"], f"the name is shown as {name}")
    check(search_for(page, "<script>window")[:1] == [HOSTILE["name"]], "the name is not found")
    page.key("Enter")
    page.run("document.querySelector('#note-text').value = '<img src=x onerror=window.hit=9>'")
    page.run("document.querySelector('#note-author').value = '<script>window.hit=8</script>'")
    page.click("#note-add")
    check(page.run("window.hit") is None, "words of a note were run")
    check(page.run("document.querySelectorAll('img').length") == 0, "words of a note became elements")


def check_without_script(browser, url):
    page = browser.open("about:blank", *PHONE, phone=True)
    page.send("Emulation.setScriptExecutionDisabled", {"value": True})
    page.send("Page.navigate", {"url": url})
    time.sleep(1.0)
    page.send("Emulation.setScriptExecutionDisabled", {"value": False})
    shown = page.run("[...document.querySelectorAll('.map,.card[data-kind=part]')].filter(e => e.checkVisibility()).length")
    check(shown > 20, f"without scripts only {shown} maps and cards are shown")
    check(page.run("document.querySelector('#find').checkVisibility()") is False, "without scripts a dead search is shown")


def look(page, pictures, name):
    if pictures:
        page.picture(os.path.join(pictures, name + ".png"))


def all_checks(browser, work, pictures):
    chart_path = os.path.join(work.repository, "demo", "river-logger.chart.json")
    chart = json.loads(read(chart_path))
    url = work.page_of(chart_path, "logger.html")
    check(read(work.path("logger.html")) == (work.page_of(chart_path, "again.html") and read(work.path("again.html"))),
          "the same chart gives another page the second time")
    check_policy(work.path("logger.html"))

    page = browser.open(url, *DESKTOP, downloads=work.downloads)
    look(page, pictures, "desktop")
    check_drawn(page, chart)
    check_stages(page)
    look(page, pictures, "desktop-stage")
    check_tap(page, chart, touch=False)
    check_search(page)
    check_measure(page, chart)
    check_keys(page)
    check_chart_inside(page, work, chart_path, work.path("logger.html"))
    check_notes(page, work, chart_path)
    check_sent_back(page, work, chart_path)
    check_print(page, work)
    check(not page.complaints(), f"the browser complains: {page.complaints()[:3]}")

    phone = browser.open(url, *PHONE, phone=True, dark=True)
    look(phone, pictures, "phone")
    check_phone(phone, chart)
    look(phone, pictures, "phone-bottom")
    ground = "getComputedStyle(document.documentElement).backgroundColor"
    check(phone.run(ground) != page.run(ground), "dark is not dark")
    check(not phone.complaints(), f"the browser complains: {phone.complaints()[:3]}")

    with open(work.path("hostile.chart.json"), "w", encoding="utf-8") as out:
        json.dump(hostile_chart(chart), out)
    hostile = browser.open(work.page_of(work.path("hostile.chart.json"), "hostile.html"), *DESKTOP)
    look(hostile, pictures, "hostile")
    check_policy(work.path("hostile.html"))
    check_hostile(hostile)
    check(not hostile.complaints(), f"the browser complains: {hostile.complaints()[:3]}")

    for name in sorted(os.listdir(os.path.join(work.repository, "layouts"))):
        other = browser.open(work.page_of(os.path.join(work.repository, "layouts", name), name + ".html"), *DESKTOP)
        look(other, pictures, name)
        check(other.run("document.querySelectorAll('.picture path').length") > 3, f"{name} is not drawn")
        check(not other.complaints(), f"the browser complains of {name}: {other.complaints()[:3]}")
    check_photos(browser, work, chart, pictures)
    check_without_script(browser, url)
    check_index(browser, work, pictures)


def png(width, height, colour_at):
    """A picture file by the book: W3C Portable Network Graphics, clauses 5 and 11."""
    rows = b"".join(b"\0" + bytes(v for x in range(width) for v in colour_at(x, y)) for y in range(height))
    chunk = lambda kind, data: struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
    return (b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)) +
            chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b""))


def check_photos(browser, work, chart, pictures):
    """A photo below the map where it is asked for, and the piece of it that is a record's evidence on the card."""
    out = json.loads(json.dumps(chart))
    # 20 px a mm; the board's left half red, the rest green.
    with open(work.path("top.png"), "wb") as file:
        file.write(png(1000, 800, lambda x, y: (200, 30, 30) if x < 500 else (30, 160, 30)))
    out["photos"] = [{"id": "photo-1", "path": "top.png", "board_from_pixel": [0.05, 0, 0, 0, 0.05, 0, 0, 0, 1]}]
    part_named(out, "U1")["orientation"]["evidence"] = {"kind": "photo", "photo": "photo-1", "crop_px": [100, 100, 200, 120]}
    with open(work.path("photo.chart.json"), "w", encoding="utf-8") as file:
        json.dump(out, file)
    work.call("sheet", work.path("photo.chart.json"), "-o", work.path("photo.html"), "--with-photos", codes=(0, 1))
    check_policy(work.path("photo.html"))
    page = browser.open("file://" + work.path("photo.html"), *DESKTOP)
    check(page.run("document.querySelectorAll('img').length") == 1, "the evidence is not on a card")
    check(page.run("(async () => { const i = document.querySelector('img'); await i.decode(); return [i.naturalWidth, i.naturalHeight]; })()")
          == [200, 120], "the evidence is not shown")
    shown = "getComputedStyle(document.querySelector('#map-top .photo')).display !== 'none'"
    check(not page.run(shown), "the photo is shown before somebody asks")
    page.click("#photo")
    check(page.run(shown), "the photo is not shown")
    look(page, pictures, "photo")
    box = page.run("(() => { const b = document.querySelector('#map-top .photo').getBBox(); return [b.x, b.y, b.width, b.height]; })()")
    outline = chart["board"]["outline_mm"][0]
    check(box[0] < min(p[0] for p in outline) and box[0] + box[2] > max(p[0] for p in outline), f"the photo lies at {box}")
    page.click("#photo")
    check(not page.run(shown), "the photo does not go")
    check(not page.complaints(), f"the browser complains: {page.complaints()[:3]}")


def check_index(browser, work, pictures):
    shop = work.path("shop")
    os.makedirs(os.path.join(shop, "deeper # 1"))
    for name in sorted(os.listdir(os.path.join(work.repository, "layouts"))):
        shutil.copy(os.path.join(work.repository, "layouts", name), shop)
    shutil.copy(work.path("hostile.chart.json"), os.path.join(shop, "deeper # 1"))
    with open(os.path.join(shop, "broken.chart.json"), "w", encoding="utf-8") as out:
        out.write("{")
    work.call("sheet", "--all", shop, "-o", work.path("index.html"), codes=(1,))
    page = browser.open("file://" + work.path("index.html"), *DESKTOP)
    look(page, pictures, "index")
    check_policy(work.path("index.html"))
    rows = page.run("document.querySelectorAll('tbody tr').length")
    check(rows == len(os.listdir(shop)), f"{rows} rows in the index")
    check(page.run("document.querySelectorAll('tr.broken').length") == 1, "the broken chart is not listed as such")
    links = page.run("[...document.querySelectorAll('a')].map(a => decodeURIComponent(new URL(a.href).pathname))")
    check(len(links) == 2 * rows - 1, f"{len(links)} links in the index")
    for link in links:
        check(os.path.exists(link), f"the index links to {link}, which is not there")
    check(page.run("window.hit") is None and page.run("document.querySelectorAll('img').length") == 0,
          "words of a chart became elements of the index")
    check(not page.complaints(), f"the browser complains of the index: {page.complaints()[:3]}")


def main():
    program, repository = sys.argv[1:3]
    pictures = sys.argv[4] if len(sys.argv) > 4 else None
    path = find_browser()
    if not path:
        print("no chromium here: the page was not tried in a browser")
        return 77
    with tempfile.TemporaryDirectory() as folder, Browser(path) as browser:
        all_checks(browser, Work(program, repository, folder), pictures)
    print("the page does what it should" if not faults else f"{len(faults)} faults")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
