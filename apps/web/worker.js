// SPDX-License-Identifier: BSD-3-Clause
// @ts-check
/* The worker: the first message has the module, each other one a call. */

/** @type {Library | null} */
let library = null;
/* Why there is none. */
let reason = "it was not sent";
let told = 0;

/** Now and then. @param {any} progress */
function tell(progress) {
  const now = Date.now();
  if (now - told < 100) return;
  told = now;
  self.postMessage({ progress });
}

self.addEventListener("message", (event) => {
  const { module, number, name, values } = event.data;
  if (module) {
    try {
      library = new Library(module, {
        progress: (time, probe) => tell({ time, probe }),
        count: (done, total) => tell({ done, total }),
      });
    } catch (error) {
      reason = error instanceof Error ? error.message : String(error);
    }
    return;
  }
  /** @type {Answer} */
  const none = { ok: false, key: null, sentence: `The library cannot be started (${reason})`, isBroken: true };
  self.postMessage({ number, result: library ? library.call(name, values) : none });
});
