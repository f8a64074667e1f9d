# SPDX-License-Identifier: BSD-3-Clause
"""How long the page takes to answer a change, and how large it is; prints, judges nothing: timings.py PAGE

On this machine as it is, and four times slower: the process of the page is stopped three quarters of the time, the page with its
workers, of which the DevTools' own throttling slows down only the page. That one is printed too."""
import gzip
import os
import signal
import sys
import threading
import time

from page import Page

# When the answer's parts are on the page after a change [ms].
MEASURE = """(async (mass) => {
  const field = document.getElementById('mass'), begun = performance.now(), at = {};
  const cooked = showAnswer, wraps = showWraps;
  showAnswer = (told, band, start) => { cooked(told, band, start); at[band ? `band of ${band.draws} draws` : 'curve and figures'] = performance.now() - begun; };
  showWraps = (...all) => { wraps(...all); at['wraps side by side'] = performance.now() - begun; };
  field.value = mass; typed(field); field.dispatchEvent(new Event('change', { bubbles: true }));
  await new Promise((go) => { const look = () => (document.body.dataset.busy === 'no' && at['wraps side by side'] ? go() : setTimeout(look, 5));
    setTimeout(look, effort.pause + 20); });
  showAnswer = cooked; showWraps = wraps;
  return at; })"""


def least(page, masses):
    """The least of some, since the machine has other things to do."""
    found = {}
    for mass in masses:
        for name, took in page.run(f"{MEASURE}('{mass}')").items():
            found[name] = min(found.get(name, took), took)
    return found


class Slowed:
    """The page's process runs a quarter of the time, while this lasts."""
    RUN, STOP = 0.004, 0.012  # short beside what is measured [s]

    def __init__(self, page):
        self.pids = [int(pid) for pid in os.listdir("/proc") if pid.isdigit() and self.is_of(int(pid), page.process.pid)]
        assert self.pids, "the page's process is not found"
        self.ended = threading.Event()
        self.thread = threading.Thread(target=self.toggle)

    @staticmethod
    def is_of(pid, browser):
        try:
            with open(f"/proc/{pid}/cmdline", "rb") as file:
                return b"--type=renderer" in file.read() and os.getpgid(pid) == os.getpgid(browser)
        except OSError:
            return False

    def send(self, number):
        for pid in self.pids:
            os.kill(pid, number)

    def toggle(self):
        while not self.ended.is_set():
            self.send(signal.SIGSTOP)
            time.sleep(self.STOP)
            self.send(signal.SIGCONT)
            time.sleep(self.RUN)

    def __enter__(self):
        self.thread.start()

    def __exit__(self, *_):
        self.ended.set()
        self.thread.join()
        self.send(signal.SIGCONT)


def main():
    path = sys.argv[1]
    with open(path, "rb") as file:
        content = file.read()
    print(f"size: {os.path.getsize(path) / 1e6:.2f} MB, compressed {len(gzip.compress(content)) / 1e6:.2f} MB")
    page = Page(path)
    try:
        masses = ("5.0", "5.5", "6.0", "6.5", "7.0")
        plain = least(page, masses)
        page.call("Emulation.setCPUThrottlingRate", rate=4)
        throttled = least(page, masses)
        page.call("Emulation.setCPUThrottlingRate", rate=1)
        with Slowed(page):
            slow = least(page, masses[:3])
        print(f"{page.run('bench.benches.length')} workers, load of the machine {os.getloadavg()[0]:.1f}; after a change, the wait of {page.run('effort.pause')} ms"
              " for another included, the page shows")
        for name in plain:
            print(f"  {name}: after {plain[name]:.0f} ms; with the DevTools' throttling {throttled[name]:.0f} ms; page and workers at a quarter"
                  f" of the speed {slow[name]:.0f} ms")
    finally:
        page.close()


main()
