// @ts-check
/* The library in its WebAssembly module: settings in, documents out. Runs in the page's worker, and in any program with
 * WebAssembly. Numbers are SI, as the keys of a scenario have them. */

/** How a phase of a cook ends: kind "none", "temperature" [K], "duration" [s], "clock" [s after midnight], "bark" or "usual".
 * @typedef {{kind: string, value?: number}} Ending */
/** What differs from the default scenario, by key.
 * @typedef {{[key: string]: number | string | Ending}} Settings */
/** @typedef {{ok: true, answer: any} | {ok: false, key: string | null, sentence: string}} Answer */

/** An error that has a sentence of the library, and the key it came from, if it was in setting one. */
class LibraryError extends Error {
  /** @param {string} sentence @param {string | null} key */
  constructor(sentence, key) {
    super(sentence);
    this.key = key;
  }
}

class Library {
  /** @param {WebAssembly.Module} module @param {(time: number, probe: number) => void} progress told how far a cook has come [s], [K] */
  constructor(module, progress) {
    /* The module asks for a clock and a console, which it needs only to say that memory is corrupt. */
    const none = () => 0;
    /** @type {any} */
    this.exports = new WebAssembly.Instance(module, {
      page: { progress },
      wasi_snapshot_preview1: Object.fromEntries(WebAssembly.Module.imports(module)
        .filter((one) => one.module === "wasi_snapshot_preview1").map((one) => [one.name, none])),
    }).exports;
    this.exports._initialize();
    if (this.exports.web_begin() !== 0) throw new LibraryError("there is not enough memory", null);
  }

  /** @param {number} address @returns {string} */
  text(address) {
    const bytes = new Uint8Array(this.exports.memory.buffer);
    return new TextDecoder().decode(bytes.subarray(address, bytes.indexOf(0, address)));
  }

  /** Calls with texts, which the module has only while it is called.
   * @param {string[]} texts @param {(...addresses: number[]) => number} call @returns {number} */
  withTexts(texts, call) {
    const addresses = texts.map((text) => {
      const bytes = new TextEncoder().encode(text), address = this.exports.web_allocate(bytes.length + 1);
      new Uint8Array(this.exports.memory.buffer).set([...bytes, 0], address);
      return address;
    });
    const result = call(...addresses);
    for (const address of addresses) this.exports.web_release(address);
    return result;
  }

  /** @param {number} address of an answer @returns {any} */
  answer(address) {
    if (!address) throw new LibraryError(this.text(this.exports.web_message()), null);
    return JSON.parse(this.text(address));
  }

  /** @param {boolean} us whether sentences tell values in US units */
  setUnits(us) {
    this.exports.web_set_units(us ? 1 : 0);
  }

  /** Keys, cuts, wraps and causes. @returns {any} */
  tables() {
    return this.answer(this.exports.web_tables());
  }

  /** @param {number} scenario @param {string} key @param {number | string | Ending} value @returns {number} status */
  setOne(scenario, key, value) {
    const { web_set_number, web_set_word, web_set_ending } = this.exports;
    if (typeof value === "number") return this.withTexts([key], (name) => web_set_number(scenario, name, value));
    if (typeof value === "string") return this.withTexts([key, value], (name, word) => web_set_word(scenario, name, word));
    return this.withTexts([key, value.kind], (name, kind) => web_set_ending(scenario, name, kind, value.value ?? 0));
  }

  /** Does something with the scenario of some settings and some causes changed.
   * @param {Settings} settings @param {number[]} causes numbers of the table @param {(scenario: number) => any} use @returns {any} */
  withScenario(settings, causes, use) {
    const scenario = this.exports.web_scenario_create();
    if (!scenario) throw new LibraryError("there is not enough memory", null);
    try {
      for (const [key, value] of Object.entries(settings))
        if (this.setOne(scenario, key, value) !== 0) throw new LibraryError(this.text(this.exports.web_message()), key);
      for (const cause of causes) this.exports.web_change_cause(scenario, cause);
      if (this.exports.web_check(scenario) !== 0) throw new LibraryError(this.text(this.exports.web_message()), null);
      return use(scenario);
    } finally {
      this.exports.web_release(scenario);
    }
  }

  /** A cook: its figures, curves, warnings. layers: of its cross-sections, until the pull; 0: curves only, to the end.
   * @param {Settings} settings @param {number[]} causes @param {number} moments @param {number} layers @returns {any} */
  cook(settings, causes, moments, layers) {
    return this.withScenario(settings, causes, (scenario) => this.answer(this.exports.web_cook(scenario, moments, layers)));
  }

  /** How cooks like it differ. @param {Settings} settings @param {number} draws for the figures @param {number} curves for the curve @returns {any} */
  band(settings, draws, curves) {
    return this.withScenario(settings, [], (scenario) => this.answer(this.exports.web_band(scenario, draws, curves)));
  }

  /** Why it stalls. @param {Settings} settings @returns {any} */
  explain(settings) {
    return this.withScenario(settings, [], (scenario) => this.answer(this.exports.web_explain(scenario)));
  }

  /** Answers a call by name, as the worker gets it.
   * @param {string} name @param {any[]} values @returns {Answer} */
  call(name, values) {
    try {
      switch (name) {
        case "tables": return { ok: true, answer: this.tables() };
        case "setUnits": return { ok: true, answer: this.setUnits(values[0]) };
        case "cook": return { ok: true, answer: this.cook(values[0], values[1], values[2], values[3]) };
        case "band": return { ok: true, answer: this.band(values[0], values[1], values[2]) };
        case "explain": return { ok: true, answer: this.explain(values[0]) };
        default: throw new Error(`the library has no ${name}`);
      }
    } catch (error) {
      return { ok: false, key: error instanceof LibraryError ? error.key : null, sentence: error instanceof Error ? error.message : String(error) };
    }
  }
}
