// SPDX-License-Identifier: BSD-3-Clause
// @ts-check
/* The worker: the first message has the module, each other one a call. */

/** @type {Library | null} */
let library = null;
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
    library = new Library(module, {
      progress: (time, probe) => tell({ time, probe }),
      count: (done, total) => tell({ done, total }),
    });
    return;
  }
  if (library) self.postMessage({ number, result: library.call(name, values) });
});
