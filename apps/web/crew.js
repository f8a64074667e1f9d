// SPDX-License-Identifier: BSD-3-Clause
// @ts-check
/* Several workers, so that the parts of an answer are computed side by side where the machine can. The first is the one that
 * is asked for all that is whole. */

class Crew {
  /** @param {() => Bench} make @param {number} size */
  constructor(make, size) {
    this.benches = Array.from({ length: size }, make);
    this.first = this.benches[0];
  }

  /** As many as this machine has processors for: two at least, and no more than the parts keep busy.
   * @returns {number} */
  static size() {
    return Math.min(Math.max(navigator.hardwareConcurrency || 2, 2), 4);
  }

  /** A call of the first. @param {string} name @param {any[]} values @returns {Promise<any>} */
  call(name, ...values) {
    return this.first.call(name, ...values);
  }

  /** Each of the tasks is done by whoever is free next, in their order.
   * @param {((bench: Bench) => Promise<any>)[]} tasks @param {() => boolean} changed asked whether they are still wanted */
  async share(tasks, changed) {
    let next = 0;
    const work = async (/** @type {Bench} */ bench) => {
      while (next < tasks.length && !changed()) await tasks[next++](bench);
    };
    /* What the others have in hand is waited for, so that nothing comes after the error. */
    const ended = await Promise.allSettled(this.benches.map((bench) => work(bench).catch((error) => {
      next = tasks.length; /* nobody begins another */
      throw error;
    })));
    for (const one of ended) if (one.status === "rejected") throw one.reason;
  }

  /** @param {boolean} us */
  setUnits(us) {
    for (const bench of this.benches) bench.setUnits(us);
  }

  /** Stops what is computed, if anything is. */
  cancel() {
    for (const bench of this.benches) bench.cancel();
  }
}
