// @ts-check
/* The worker: the first message has the module, each other one a call. */

/** @type {Library | null} */
let library = null;
let told = 0;

self.addEventListener("message", (event) => {
  const { module, number, name, values } = event.data;
  if (module) {
    library = new Library(module, (time, probe) => {
      const now = Date.now();
      if (now - told < 100) return;
      told = now;
      self.postMessage({ progress: { time, probe } });
    });
    return;
  }
  if (library) self.postMessage({ number, result: library.call(name, values) });
});
