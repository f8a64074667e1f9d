// SPDX-License-Identifier: BSD-3-Clause
// @ts-check
/* The draws of a band in parts, which several workers make, and which of its counts of draws are complete. */

class Drawing {
  /** @param {Settings} settings @param {number[]} counts of draws after which the band is told, rising @param {number} size of a part */
  constructor(settings, counts, size) {
    this.settings = settings;
    this.counts = counts;
    this.all = counts[counts.length - 1];
    this.told = 0;
    /** Parts by the number of their first draw; that of all draws is the median cook. @type {Map<number, {count: number, part: Float64Array | null}>} */
    this.made = new Map();
    /** What has to be done for each count, after those before. @type {((worker: Bench) => Promise<void>)[][]} */
    this.tasks = counts.map((count, i) => {
      const tasks = i === 0 ? [this.task(this.all, 1)] : [];
      for (let first = i === 0 ? 0 : counts[i - 1]; first < count; first += size) tasks.push(this.task(first, Math.min(size, count - first)));
      return tasks;
    });
  }

  /** @param {number} first @param {number} count @returns {(worker: Bench) => Promise<void>} */
  task(first, count) {
    this.made.set(first, { count, part: null });
    return async (worker) => {
      const part = await worker.call("bandPart", this.settings, this.all, first, count);
      this.made.set(first, { count, part });
    };
  }

  /** What a band of so many draws takes. @param {number} draws */
  needed(draws) {
    return [...this.made].filter(([first]) => first < draws || first === this.all).map(([, { part }]) => part);
  }

  /** The most draws that are complete and were not told before; from now on they were. @returns {number} 0 if there are none */
  fresh() {
    const complete = this.counts.filter((draws) => draws > this.told && this.needed(draws).every((part) => part !== null));
    this.told = Math.max(this.told, ...complete);
    return Math.max(0, ...complete);
  }

  /** @param {number} draws that are complete @returns {Float64Array[]} */
  parts(draws) {
    return /** @type {Float64Array[]} */ (this.needed(draws));
  }
}
