# SPDX-License-Identifier: BSD-3-Clause
"""How long the page takes to answer a change, and how large it is; prints, judges nothing: timings.py PAGE

A desktop, and a phone four times slower. DevTools slow down the page but not its worker: of the phone the time in the worker is
taken four times, as measured without slowing."""
import gzip
import os
import sys

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
        slow = least(page, masses)
        page.call("Emulation.setCPUThrottlingRate", rate=1)
        worker = {name: page.run(f"(async () => {{ const t = performance.now(); await bench.call({call}); return performance.now() - t; }})()")
                  for name, call in (("curve and figures", "'cook', settingsOf(), [], MOMENTS, 0"), ("band of 30 draws", "'band', settingsOf(), 30"))}
        before = 0.0
        print(f"after a change, the wait of {page.run('effort.pause')} ms for another included, the page shows")
        for name in plain:
            before += worker.get(name, 0.0)
            phone = f", at a quarter of the speed {slow[name] + 3 * before:.0f} ms" if name in worker else ""
            print(f"  {name}: after {plain[name]:.0f} ms{phone}")
    finally:
        page.close()


main()
