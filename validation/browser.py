"""A headless Chromium driven over its own debugging pipe: nothing but the standard library.

Owns starting, commands, events and ending. Commands and events are those of the Chrome DevTools Protocol.
"""

import base64
import json
import os
import select
import shutil
import subprocess
import tempfile
import time


def find():
    """The browser's program, or None."""
    return next((path for name in ("chromium", "chromium-browser") if (path := shutil.which(name))), None)


class Browser:
    """One browser with one page."""

    def __init__(self, program):
        self.profile = tempfile.TemporaryDirectory(prefix="report-browser-")
        to_browser, self.out = os.pipe()
        self.inp, from_browser = os.pipe()

        def pipes():
            # The browser reads commands from 3 and writes answers to 4.
            high = [os.dup(to_browser), os.dup(from_browser)]
            os.dup2(high[0], 3)
            os.dup2(high[1], 4)

        self.process = subprocess.Popen(
            [
                program,
                "--headless",
                "--no-sandbox",
                "--disable-gpu",
                "--disable-dev-shm-usage",
                "--hide-scrollbars",
                "--remote-debugging-pipe",
                f"--user-data-dir={self.profile.name}",
                "about:blank",
            ],
            preexec_fn=pipes,
            close_fds=False,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        os.close(to_browser)
        os.close(from_browser)
        self.buffer, self.number, self.events, self.session = b"", 0, [], None
        target = self.call("Target.createTarget", url="about:blank")["targetId"]
        self.session = self.call("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]
        for room in ("Page", "Runtime", "Log", "Network", "DOM", "Accessibility"):
            self.call(f"{room}.enable")

    def _read(self, timeout):
        deadline = time.monotonic() + timeout
        while b"\0" not in self.buffer:
            left = deadline - time.monotonic()
            if left <= 0 or not select.select([self.inp], [], [], left)[0]:
                raise TimeoutError("the browser does not answer")
            chunk = os.read(self.inp, 1 << 20)
            if not chunk:
                raise ConnectionError("the browser ended")
            self.buffer += chunk
        message, self.buffer = self.buffer.split(b"\0", 1)
        return json.loads(message)

    def call(self, method, timeout=30, **parameters):
        """A command's answer; events that come meanwhile are kept."""
        self.number += 1
        message = {"id": self.number, "method": method, "params": parameters}
        if self.session:
            message["sessionId"] = self.session
        os.write(self.out, json.dumps(message).encode() + b"\0")
        while True:
            answer = self._read(timeout)
            if answer.get("id") == self.number:
                if "error" in answer:
                    raise RuntimeError(f"{method}: {answer['error']}")
                return answer["result"]
            self.events.append(answer)

    def wait(self, method, timeout=30):
        """Until an event of this name has come."""
        while not any(event.get("method") == method for event in self.events):
            self.events.append(self._read(timeout))

    def open(self, url):
        self.events.clear()
        self.call("Page.navigate", url=url)
        self.wait("Page.loadEventFired")

    def run(self, script):
        """The value of an expression in the page."""
        answer = self.call("Runtime.evaluate", expression=script, returnByValue=True, awaitPromise=True)
        if "exceptionDetails" in answer:
            raise RuntimeError(answer["exceptionDetails"].get("text"))
        return answer["result"].get("value")

    def picture(self, path):
        shot = self.call("Page.captureScreenshot", format="png")
        with open(path, "wb") as file:
            file.write(base64.b64decode(shot["data"]))

    def printed(self):
        """The page as the browser prints it, on the paper that the page asks for."""
        answer = self.call("Page.printToPDF", timeout=60, preferCSSPageSize=True, printBackground=True)
        return base64.b64decode(answer["data"])

    def close(self):
        self.process.terminate()
        self.process.wait(10)
        self.profile.cleanup()
