# SPDX-License-Identifier: BSD-3-Clause
"""The page that computes, in a browser: set, wait, read. What the checks of this folder share."""
import json
import math
import os
import subprocess
import sys
import time

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), "..", "cli"))
import websocket  # noqa: E402

from browser import Browser  # noqa: E402

# Long enough for a busy machine: no check is about time.
PATIENCE = 120


# Before any script of the page: its clock may be moved and its storage refused, and a tab may be deaf to what others write.
SETTING = """(() => { const setting = %s, Real = Date;
  window.shift = setting.shift ?? 0;
  window.Date = class extends Real { constructor(...all) { if (all.length) super(...all); else super(Real.now() + window.shift); }
    static now() { return Real.now() + window.shift; } };
  if (setting.refused) Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('denied', 'SecurityError'); } });
  window.addEventListener('storage', (event) => { if (window.deaf) event.stopImmediatePropagation(); }); })()"""


# The same code for two machines differs in the last digits of exp and its like; the integrator's choice of steps spreads that to
# what its tolerance leaves open. Figures are compared to a tenth of that tolerance's default effect: 1e-5.
FIGURES = 1e-5


def same(a, b, scale=1e-4):
    return a is b or (a is not None and b is not None and math.isclose(a, b, rel_tol=FIGURES, abs_tol=FIGURES * scale))


def program(path, *arguments):
    """What the program answers in JSON."""
    done = subprocess.run([path, *arguments], capture_output=True, text=True)
    assert done.returncode == 0, f"{arguments}: {done.stderr}"
    return json.loads(done.stdout)


class Page(Browser):
    def __init__(self, path, width=390, height=844, **setting):
        super().__init__()
        self.begin(path, width, height, setting)

    def begin(self, path, width, height, setting):
        self.setting = None
        if setting:
            self.set_before(**setting)
        self.size(width, height)
        self.open(path)
        self.settled()

    def set_before(self, **setting):
        """For the next time the page is opened."""
        if self.setting:
            self.call("Page.removeScriptToEvaluateOnNewDocument", identifier=self.setting)
        self.setting = self.call("Page.addScriptToEvaluateOnNewDocument", source=SETTING % json.dumps(setting))["identifier"]

    def another_tab(self, path, **setting):
        """Of the same browser, so with the same storage."""
        target = self.call("Target.createTarget", url="about:blank")["targetId"]
        tab = Page.__new__(Page)
        tab.number, tab.complaints, tab.requests = 0, [], []
        with open(os.path.join(self.profile, "DevToolsActivePort")) as file:
            port = file.readline().strip()
        tab.socket = websocket.create_connection(f"ws://127.0.0.1:{port}/devtools/page/{target}", timeout=60)
        for domain in ("Page", "Runtime", "Log", "Network"):
            tab.call(f"{domain}.enable")
        tab.begin(path, 390, 844, setting)
        return tab

    def settled(self):
        """Waits until the page has computed, or said what is wrong, and returns its status line. What was set before counts."""
        self.run("new Promise((go) => setTimeout(go, 2 * effort.pause + 20))")
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            if self.run("document.body.dataset.busy") == "no":
                return self.run("document.getElementById('state').textContent")
            time.sleep(0.02)
        raise AssertionError(f"the page does not settle: {self.run('document.body.innerText')[:500]}")

    def hurry(self):
        """Spends less on the band, and waits for no other change: for checks of what does not depend on either."""
        self.run("Object.assign(effort, { draws: [10], plan: [[30, 10]], track: [[20, 10]], pause: 0 })")

    def ask(self, name, *values):
        """A call of the library in the page's worker."""
        arguments = ", ".join(json.dumps(value) for value in (name, *values))
        return self.run(f"bench.call({arguments}).then((answer) => ({{ answer }}), (error) => ({{ error: error.message, key: error.key }}))")

    def type(self, field, text):
        self.run(f"(() => {{ const f = document.getElementById({json.dumps(field)}); f.value = {json.dumps(text)};"
                 "f.dispatchEvent(new Event('input', {bubbles: true})); f.dispatchEvent(new Event('change', {bubbles: true})); })()")

    def click(self, selector):
        self.run(f"document.querySelector({json.dumps(selector)}).click()")

    def choose(self, selector, path):
        """Chooses a file, as a person does."""
        root = self.call("DOM.getDocument")["root"]["nodeId"]
        node = self.call("DOM.querySelector", nodeId=root, selector=selector)["nodeId"]
        self.call("DOM.setFileInputFiles", nodeId=node, files=[os.path.abspath(path)])
        return self.settled()

    def text(self, selector):
        return self.run(f"document.querySelector({json.dumps(selector)}).innerText")

    def trouble(self):
        return self.run("document.getElementById('trouble').hidden ? '' : document.getElementById('trouble').textContent")

    def whole_picture(self, path, width):
        """As high as the page, so that nothing is laid out anew for the picture."""
        self.size(width, self.run("document.documentElement.scrollHeight"))
        self.run("new Promise((go) => setTimeout(go, 300))")
        self.picture(path)

    def assert_quiet(self):
        """No error or warning in the console, and nothing asked of any network."""
        assert not self.complaints, self.complaints
        outside = [url for url in self.requests if not url.startswith(("file://", "data:", "blob:"))]
        assert not outside, f"the page asks for {outside}"
