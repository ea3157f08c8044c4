"""A headless browser driven through its debugging pipe: no driver program and no library is needed.

    with Browser(path) as browser:
        page = browser.open("file:///...", 1280, 720)
        page.run("document.title")
"""

import base64
import json
import os
import select
import shutil
import subprocess
import tempfile
import time

BROWSERS = ("chromium", "chromium-browser")
FLAGS = ("--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--hide-scrollbars",
         "--disable-background-networking", "--disable-component-update", "--disable-sync", "--remote-debugging-pipe")


def find_browser():
    for name in BROWSERS:
        path = shutil.which(name)
        if path:
            return path
    return None


class Browser:
    def __init__(self, path):
        self.path = path

    def __enter__(self):
        self.profile = tempfile.TemporaryDirectory()
        to_browser, self.out = os.pipe()
        self.into, from_browser = os.pipe()
        # The browser reads commands from its descriptor 3 and answers on 4.
        def ends():
            os.dup2(to_browser, 60)
            os.dup2(from_browser, 61)
            os.dup2(60, 3)
            os.dup2(61, 4)
        self.process = subprocess.Popen([self.path, *FLAGS, "--user-data-dir=" + self.profile.name], preexec_fn=ends,
                                        close_fds=False, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        os.close(to_browser)
        os.close(from_browser)
        self.buffer = b""
        self.number = 0
        self.events = []
        return self

    def __exit__(self, *_):
        try:
            self.send("Browser.close")
            self.process.wait(timeout=20)
        except Exception:
            self.process.kill()
            self.process.wait()
        os.close(self.out)
        os.close(self.into)
        try:
            self.profile.cleanup()
        except OSError:
            pass # the browser may still write its last file

    def _message(self, timeout):
        while b"\0" not in self.buffer:
            ready, _, _ = select.select([self.into], [], [], timeout)
            if not ready:
                raise TimeoutError("the browser does not answer")
            piece = os.read(self.into, 1 << 20)
            if not piece:
                raise RuntimeError("the browser has ended")
            self.buffer += piece
        text, self.buffer = self.buffer.split(b"\0", 1)
        return json.loads(text)

    def send(self, method, parameters=None, session=None, timeout=120):
        self.number += 1
        message = {"id": self.number, "method": method, "params": parameters or {}}
        if session:
            message["sessionId"] = session
        os.write(self.out, json.dumps(message).encode() + b"\0")
        while True:
            answer = self._message(timeout)
            if answer.get("id") == self.number:
                if "error" in answer:
                    raise RuntimeError(f"{method}: {answer['error']}")
                return answer["result"]
            self.events.append(answer)

    def open(self, url, width, height, phone=False, dark=False, downloads=None):
        target = self.send("Target.createTarget", {"url": "about:blank"})["targetId"]
        session = self.send("Target.attachToTarget", {"targetId": target, "flatten": True})["sessionId"]
        page = Page(self, session)
        for domain in ("Page", "Runtime", "Log"):
            page.send(domain + ".enable")
        page.send("Emulation.setDeviceMetricsOverride", {"width": width, "height": height, "mobile": phone,
                                                         "deviceScaleFactor": 2 if phone else 1})
        if phone:
            page.send("Emulation.setTouchEmulationEnabled", {"enabled": True, "maxTouchPoints": 2})
        page.send("Emulation.setEmulatedMedia", {"features": [{"name": "prefers-color-scheme",
                                                               "value": "dark" if dark else "light"}]})
        if downloads:
            self.send("Browser.setDownloadBehavior", {"behavior": "allow", "downloadPath": downloads})
        page.send("Page.navigate", {"url": url})
        page.wait_for("document.readyState === 'complete'")
        return page


class Page:
    def __init__(self, browser, session):
        self.browser = browser
        self.session = session

    def send(self, method, parameters=None):
        return self.browser.send(method, parameters, self.session)

    def run(self, script):
        answer = self.send("Runtime.evaluate", {"expression": script, "returnByValue": True, "awaitPromise": True})
        if "exceptionDetails" in answer:
            raise RuntimeError(f"{script}: {answer['exceptionDetails']}")
        return answer["result"].get("value")

    def wait_for(self, script, seconds=60):
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            try:
                if self.run(script):
                    return
            except RuntimeError:
                pass # on the way from one page to the next there is nobody to ask
            time.sleep(0.05)
        raise TimeoutError(script)

    def complaints(self):
        """What the browser said of this page: errors of scripts and of the content policy."""
        out = []
        for event in self.browser.events:
            if event.get("sessionId") != self.session:
                continue
            if event["method"] == "Log.entryAdded" and event["params"]["entry"]["level"] in ("error", "warning"):
                out.append(event["params"]["entry"]["text"])
            if event["method"] == "Runtime.exceptionThrown":
                out.append(json.dumps(event["params"]["exceptionDetails"]))
        return out

    def centre_of(self, selector):
        """Of the element's first box, in px of the window, scrolled to where it can be seen."""
        return self.run(f"""(() => {{ const e = document.querySelector({json.dumps(selector)});
            e.scrollIntoView({{block: "nearest"}}); const b = e.getBoundingClientRect();
            return [b.left + b.width / 2, b.top + b.height / 2]; }})()""")

    def click_at(self, x, y):
        for kind in ("mousePressed", "mouseReleased"):
            self.send("Input.dispatchMouseEvent", {"type": kind, "x": x, "y": y, "button": "left", "clickCount": 1})

    def tap_at(self, x, y):
        self.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [{"x": x, "y": y}]})
        self.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})

    def click(self, selector):
        self.click_at(*self.centre_of(selector))

    def tap(self, selector):
        self.tap_at(*self.centre_of(selector))

    def type(self, text):
        self.send("Input.insertText", {"text": text})

    def key(self, name):
        code = {"Enter": 13, "Escape": 27, "Tab": 9, "ArrowLeft": 37}.get(name, 0)
        for kind in ("keyDown", "keyUp"):
            event = {"type": kind, "key": name, "code": name, "windowsVirtualKeyCode": code}
            if name == "Enter" and kind == "keyDown":
                event["text"] = "\r"
            self.send("Input.dispatchKeyEvent", event)

    def picture(self, path):
        data = self.send("Page.captureScreenshot", {"format": "png"})["data"]
        with open(path, "wb") as file:
            file.write(base64.b64decode(data))

    def pdf(self, path):
        data = self.send("Page.printToPDF", {"printBackground": False, "preferCSSPageSize": False,
                                             "paperWidth": 8.27, "paperHeight": 11.69})["data"]
        with open(path, "wb") as file:
            file.write(base64.b64decode(data))
