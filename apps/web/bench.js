// SPDX-License-Identifier: BSD-3-Clause
// @ts-check
/* The page's side: calls go to the worker one after the other, and can be cancelled. A worker that is stopped in the middle, or whose
 * module broke, is ended, and the next one has the module ready. */

class Cancelled extends Error {}

class Bench {
  /** @param {WebAssembly.Module} module @param {string} source of the worker @param {(progress: any) => void} progress */
  constructor(module, source, progress) {
    this.module = module;
    this.address = URL.createObjectURL(new Blob([source], { type: "text/javascript" }));
    this.progress = progress;
    this.number = 0;
    this.us = false;
    /* Whether a worker ever answered: one that cannot is not started again and again. */
    this.answers = false;
    /** @type {Map<number, {take: (result: any) => void, drop: (error: Error) => void}>} */
    this.waiting = new Map();
    this.worker = this.start();
  }

  start() {
    const worker = new Worker(this.address);
    worker.postMessage({ module: this.module });
    worker.addEventListener("message", (event) => {
      if (event.data.progress) {
        this.progress(event.data.progress);
        return;
      }
      const { number, result } = event.data, call = this.waiting.get(number);
      if (!call) return;
      if (!result.ok && result.isBroken) {
        this.restart(new LibraryError(`${result.sentence}. What computes was started again, and the cook is kept as it was. Change something, and it is tried anew.`, null));
        return;
      }
      this.answers = true;
      this.waiting.delete(number);
      call.take(result);
    });
    worker.addEventListener("error", (event) => this.drop(new Error(event.message || "the computation failed"), this.answers));
    return worker;
  }

  /** @param {Error} reason told to all who wait */
  restart(reason) {
    this.drop(reason, true);
  }

  /** @param {Error} reason told to all who wait @param {boolean} again whether another worker is started */
  drop(reason, again) {
    const waiting = [...this.waiting.values()];
    this.waiting.clear();
    this.worker.terminate();
    if (again) {
      this.worker = this.start();
      this.setUnits(this.us);
    }
    for (const call of waiting) call.drop(reason);
  }

  /** Stops what is computed, if anything is. */
  cancel() {
    if (this.waiting.size > 0) this.restart(new Cancelled("cancelled"));
  }

  /** @param {boolean} us */
  setUnits(us) {
    this.us = us;
    this.worker.postMessage({ number: 0, name: "setUnits", values: [us] });
  }

  /** @param {string} name @param {any[]} values @returns {Promise<any>} the answer; fails with a LibraryError, or with Cancelled */
  call(name, ...values) {
    return new Promise((resolve, reject) => {
      const number = ++this.number;
      this.waiting.set(number, {
        take: (result) => (result.ok ? resolve(result.answer) : reject(new LibraryError(result.sentence, result.key))), drop: reject,
      });
      this.worker.postMessage({ number, name, values });
    });
  }
}
