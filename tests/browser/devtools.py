"""A headless Chromium, driven over its DevTools protocol through two pipes: nothing but Python's own library is needed."""
import base64
import json
import os
import select
import shutil
import subprocess
import tempfile
import time

FLAGS = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-sync",
         "--no-first-run", "--no-default-browser-check", "--disable-component-update", "--disable-default-apps",
         "--disable-extensions", "--hide-scrollbars", "--remote-debugging-pipe"]
NAMES = ("chromium", "chromium-browser")


def find():
    """The browser's path, or None."""
    for name in NAMES:
        path = shutil.which(name)
        if path:
            return path
    return None


class Trouble(Exception):
    """The browser refused, or gave no answer in time."""


class Browser:
    """One browser with a fresh profile. Use in a `with`."""

    def __init__(self, path):
        self.profile = tempfile.mkdtemp(prefix="browser-")
        to_read, self.to = os.pipe()
        self.back, from_write = os.pipe()

        def pipes():  # the protocol wants these on descriptors 3 and 4
            low, high = os.dup(to_read), os.dup(from_write)
            os.dup2(low, 3)
            os.dup2(high, 4)

        self.process = subprocess.Popen([path, *FLAGS, "--user-data-dir=" + self.profile, "about:blank"], preexec_fn=pipes,
                                        close_fds=False, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL,
                                        stderr=subprocess.DEVNULL)
        os.close(to_read)
        os.close(from_write)
        self.rest, self.number, self.events, self.session = b"", 0, [], None
        target = self.call("Target.createTarget", url="about:blank")["targetId"]
        self.session = self.call("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]
        for domain in ("Page", "Runtime", "Network", "Log"):
            self.call(domain + ".enable")

    def __enter__(self):
        return self

    def __exit__(self, *_):
        try:
            self.session = None
            self.call("Browser.close", timeout=5)
        except (Trouble, OSError):
            self.process.kill()
        self.process.wait()
        os.close(self.to)
        os.close(self.back)
        shutil.rmtree(self.profile, ignore_errors=True)

    def _message(self, until):
        while b"\0" not in self.rest:
            if not select.select([self.back], [], [], max(0.0, until - time.monotonic()))[0]:
                raise Trouble("no answer from the browser in time")
            more = os.read(self.back, 1 << 20)
            if not more:
                raise Trouble("the browser went away")
            self.rest += more
        one, self.rest = self.rest.split(b"\0", 1)
        return json.loads(one)

    def call(self, method, timeout=60, **parameters):
        """One command and its result. Events that come meanwhile are kept in `events`."""
        self.number += 1
        message = {"id": self.number, "method": method, "params": parameters}
        if self.session:
            message["sessionId"] = self.session
        data = json.dumps(message).encode() + b"\0"
        while data:
            data = data[os.write(self.to, data):]
        until = time.monotonic() + timeout
        while True:
            answer = self._message(until)
            if answer.get("id") != self.number:
                self.events.append(answer)
                continue
            if "error" in answer:
                raise Trouble(method + ": " + answer["error"]["message"])
            return answer["result"]

    def wait_for(self, method, timeout=60):
        """Waits for an event of that name that came after the last open()."""
        until = time.monotonic() + timeout
        while not any(e.get("method") == method for e in self.events):
            self.events.append(self._message(until))

    def open(self, url):
        self.events.clear()
        self.call("Page.navigate", url=url)
        self.wait_for("Page.loadEventFired")

    def ask(self, script):
        """The value of an expression in the page; promises are waited for."""
        result = self.call("Runtime.evaluate", expression=script, returnByValue=True, awaitPromise=True)
        if "exceptionDetails" in result:
            raise Trouble(str(result["exceptionDetails"].get("exception", {}).get("description", result)))
        return result["result"].get("value")

    def look(self, width, height=900, dark=False, media="", scale=1):
        """How the page is to be seen."""
        self.call("Emulation.setDeviceMetricsOverride", width=width, height=height, deviceScaleFactor=scale,
                  mobile=width < 600)
        self.call("Emulation.setEmulatedMedia", media=media,
                  features=[{"name": "prefers-color-scheme", "value": "dark" if dark else "light"}])
        # Two frames, so that whatever redraws itself has done so.
        self.ask("new Promise(r => requestAnimationFrame(() => requestAnimationFrame(() => r(1))))")

    def mouse(self, kind, x, y, **more):
        self.call("Input.dispatchMouseEvent", type=kind, x=x, y=y, **more)

    def click(self, x, y):
        self.mouse("mouseMoved", x, y)
        for kind in ("mousePressed", "mouseReleased"):
            self.mouse(kind, x, y, button="left", clickCount=1)

    def key(self, name, code=0):
        for kind in ("keyDown", "keyUp"):
            self.call("Input.dispatchKeyEvent", type=kind, key=name, windowsVirtualKeyCode=code)

    def picture(self, file, top=0, height=None):
        """The page from `top` on, `height` pixels of it or all that there is."""
        size = self.call("Page.getLayoutMetrics")["cssContentSize"]
        clip = {"x": 0, "y": top, "width": size["width"], "height": min(height or size["height"], size["height"] - top), "scale": 1}
        data = self.call("Page.captureScreenshot", format="png", captureBeyondViewport=True, clip=clip)["data"]
        with open(file, "wb") as out:
            out.write(base64.b64decode(data))
        return size["height"]
