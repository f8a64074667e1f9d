# SPDX-License-Identifier: BSD-3-Clause
"""A browser without a screen, driven through its DevTools: opens a file, runs JavaScript, takes pictures."""
import base64
import json
import os
import shutil
import subprocess
import tempfile
import time
import urllib.request

import websocket


class Browser:
    def __init__(self):
        self.profile = tempfile.mkdtemp(prefix="chromium-")
        program = shutil.which("chromium")
        assert program, "chromium is not installed"
        # Tests may run as root, in a container, without a screen, a bus or a network.
        self.process = subprocess.Popen(
            [program, "--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run",
             "--disable-background-networking", "--disable-component-update", "--disable-sync", "--hide-scrollbars",
             "--host-resolver-rules=MAP * ~NOTFOUND", "--remote-debugging-port=0", "--remote-allow-origins=*",
             f"--user-data-dir={self.profile}", "about:blank"],
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, start_new_session=True)
        self.number = 0
        self.complaints = []
        self.requests = []
        self.socket = websocket.create_connection(self.page_address(), timeout=60)
        for domain in ("Page", "Runtime", "Log", "Network"):
            self.call(f"{domain}.enable")

    def page_address(self):
        port_file = os.path.join(self.profile, "DevToolsActivePort")
        for _ in range(600):
            try:
                with open(port_file) as file:
                    port = file.readline().strip()
                with urllib.request.urlopen(f"http://127.0.0.1:{port}/json/list", timeout=5) as answer:
                    for target in json.load(answer):
                        if target["type"] == "page":
                            return target["webSocketDebuggerUrl"]
            except (OSError, ValueError):
                pass
            assert self.process.poll() is None, "chromium ended at once"
            time.sleep(0.1)
        raise AssertionError("chromium does not open its DevTools")

    def take(self, message):
        """Keeps what the page complains of and what it asks for."""
        method, params = message.get("method"), message.get("params", {})
        if method == "Runtime.exceptionThrown":
            self.complaints.append(json.dumps(params["exceptionDetails"]))
        elif method == "Runtime.consoleAPICalled" and params["type"] in ("error", "warning", "assert"):
            self.complaints.append(json.dumps(params["args"]))
        elif method == "Log.entryAdded" and params["entry"]["level"] in ("error", "warning"):
            self.complaints.append(params["entry"]["text"])
        elif method == "Network.requestWillBeSent":
            self.requests.append(params["request"]["url"])
        return message

    def call(self, method, **params):
        self.number += 1
        self.socket.send(json.dumps({"id": self.number, "method": method, "params": params}))
        while True:
            message = self.take(json.loads(self.socket.recv()))
            if message.get("id") == self.number:
                assert "error" not in message, f"{method}: {message['error']}"
                return message["result"]

    def wait_for(self, event):
        while self.take(json.loads(self.socket.recv())).get("method") != event:
            pass

    def size(self, width, height):
        self.call("Emulation.setDeviceMetricsOverride", width=width, height=height, deviceScaleFactor=1, mobile=width < 600)

    def open(self, path):
        self.call("Page.navigate", url="file://" + os.path.abspath(path))
        self.wait_for("Page.loadEventFired")

    def run(self, script):
        result = self.call("Runtime.evaluate", expression=script, returnByValue=True, awaitPromise=True)
        assert "exceptionDetails" not in result, f"{script}: {result['exceptionDetails']}"
        return result["result"].get("value")

    def key(self, name, code):
        for kind in ("rawKeyDown", "keyUp"):
            self.call("Input.dispatchKeyEvent", type=kind, key=name, code=name, windowsVirtualKeyCode=code)

    def picture(self, path):
        size = self.call("Page.getLayoutMetrics")["cssContentSize"]
        shot = self.call("Page.captureScreenshot", format="png", captureBeyondViewport=True,
                         clip={"x": 0, "y": 0, "width": size["width"], "height": size["height"], "scale": 1})
        with open(path, "wb") as file:
            file.write(base64.b64decode(shot["data"]))

    def print(self, path, **paper):
        with open(path, "wb") as file:
            file.write(base64.b64decode(self.call("Page.printToPDF", **paper)["data"]))

    def close(self):
        self.socket.close()
        self.process.terminate()
        try:
            self.process.wait(timeout=20)
        except subprocess.TimeoutExpired:
            self.process.kill()
            self.process.wait()
        shutil.rmtree(self.profile, ignore_errors=True)
