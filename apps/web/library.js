// SPDX-License-Identifier: BSD-3-Clause
// @ts-check
/* The library in its WebAssembly module. What lasts of it (<stallwright/handles.h>) is here by name: a Setup is set by key and
 * cooked, a Cooked and an Account are read by name. Library adds what the program tells of a cook, as documents. Runs in the page's
 * worker, and in any program with WebAssembly. Numbers are SI. */

/** How a phase of a cook ends: kind "none", "temperature" [K], "duration" [s], "clock" [s after midnight], "bark" or "usual".
 * @typedef {{kind: string, value?: number}} Ending */
/** What differs from the default scenario, by key; lists row by row. FROM_FILE is the text of a scenario file that
 * is read before, LEARNED that of one with what was learned of the pit, read after it.
 * @typedef {{[key: string]: number | string | Ending | number[][]}} Settings */
/** What was read and done during a cook: times after the meat went on [s], temperatures [K]; a wrap by its name; probe 0 or 1. A row of
 * the log has time, first probe, second, pit; what was not read is null.
 * @typedef {{kind: string, time: number, value?: any, probe?: number}} Entry */
/** @typedef {{name: string, names: string[], has_pit: boolean, rows: (number | null)[][]}} Log */
/** @typedef {{entries: Entry[], log: Log | null}} UnderWay */
/** Told how far a cook has come [s], [K], and how many cooks of how many are done.
 * @typedef {{progress: (time: number, probe: number) => void, count: (done: number, total: number) => void}} Watch */
/** isBroken: the library must not be called again; a new one may.
 * @typedef {{ok: true, answer: any} | {ok: false, key: string | null, sentence: string, isBroken: boolean}} Answer */

/** An error that has a sentence of the library, and the key it came from, if it was in setting one. */
class LibraryError extends Error {
  /** @param {string} sentence @param {string | null} key */
  constructor(sentence, key) {
    super(sentence);
    this.key = key;
  }
}

/* No key is called so. */
const FROM_FILE = "@file", LEARNED = "@learned";

/* Statuses of <stallwright/status.h> that are told apart. */
const STATUS_OK = 0;

/** The module, and how texts and numbers go in and come out. */
class Machine {
  /** @param {WebAssembly.Module} module @param {Watch} watch */
  constructor(module, watch) {
    /* The module asks for a clock, a console and files, none of which it gets: 8 says that there is no such thing (WASI's errno). Of
     * its environment it is told that nothing is in it. */
    const none = () => 8, empty = (/** @type {number} */ count, /** @type {number} */ size) => {
      const memory = new DataView(this.calls.memory.buffer);
      memory.setUint32(count, 0, true);
      memory.setUint32(size, 0, true);
      return 0;
    };
    /** @type {any} */
    this.calls = new WebAssembly.Instance(module, {
      page: { ...watch, ahead: (/** @type {number} */ unix) => -60 * new Date(1000 * unix).getTimezoneOffset() },
      wasi_snapshot_preview1: Object.fromEntries(WebAssembly.Module.imports(module)
        .filter((one) => one.module === "wasi_snapshot_preview1")
        .map((one) => [one.name, one.name === "environ_sizes_get" ? empty : one.name === "environ_get" ? () => 0 : none])),
    }).exports;
    this.calls._initialize();
    /* Where results come out: as many as any call has, of 8 bytes each. */
    this.out = this.allocate(16);
    if (this.calls.sw_context_create(this.out) !== STATUS_OK) throw new LibraryError("there is not enough memory", null);
    this.context = this.pointer(0);
  }

  /** @param {number} size in bytes @returns {number} an address, to be given to web_release */
  allocate(size) {
    const address = this.calls.web_allocate(size);
    if (!address) throw new LibraryError("there is not enough memory", null);
    return address;
  }

  /** @returns {boolean} whether not even a little memory is to be had: what a page got it does not give back while it runs */
  isExhausted() {
    const spare = this.calls.web_allocate(1 << 20);
    this.calls.web_release(spare);
    return !spare;
  }

  /** @param {number} place of a result @returns {number} an address */
  pointer(place) {
    return new DataView(this.calls.memory.buffer).getUint32(this.out + 8 * place, true);
  }

  /** @param {number} place of a result @returns {number} */
  number(place) {
    return new DataView(this.calls.memory.buffer).getFloat64(this.out + 8 * place, true);
  }

  /** @param {number} address @returns {string} */
  text(address) {
    const bytes = new Uint8Array(this.calls.memory.buffer);
    return new TextDecoder().decode(bytes.subarray(address, bytes.indexOf(0, address)));
  }

  /** @param {number} address @param {number} length @returns {Float64Array} a copy */
  numbers(address, length) {
    return new Float64Array(this.calls.memory.buffer.slice(address, address + 8 * length));
  }

  /** Calls with texts, which the module has only while it is called.
   * @param {string[]} texts @param {(...addresses: number[]) => number} call @returns {number} */
  withTexts(texts, call) {
    const addresses = texts.map((text) => {
      const bytes = new TextEncoder().encode(text), address = this.allocate(bytes.length + 1);
      const memory = new Uint8Array(this.calls.memory.buffer);
      memory.set(bytes, address);
      memory[address + bytes.length] = 0;
      return address;
    });
    const result = call(...addresses);
    for (const address of addresses) this.calls.web_release(address);
    return result;
  }

  /** The same with numbers.
   * @template T
   * @param {ArrayLike<number>} numbers @param {(address: number) => T} call @returns {T} */
  withNumbers(numbers, call) {
    const address = this.allocate(8 * numbers.length + 8);
    try {
      new Float64Array(this.calls.memory.buffer, address, numbers.length).set(numbers);
      return call(address);
    } finally {
      this.calls.web_release(address);
    }
  }

  /** @param {number} status @param {string} [key] */
  need(status, key) {
    if (status !== STATUS_OK) throw this.trouble(key);
  }

  /** @param {string} [key] @returns {LibraryError} with the sentence of what failed last */
  trouble(key) {
    return new LibraryError(this.text(this.calls.sw_context_message(this.context)), key ?? null);
  }

  /** @param {number} address of a document @returns {any} */
  document(address) {
    if (!address) throw this.trouble();
    return JSON.parse(this.text(address));
  }
}

/** A cook that was run: figures, words and curves by name. */
class Cooked {
  /** @param {Machine} machine @param {number} address */
  constructor(machine, address) {
    this.machine = machine;
    this.address = address;
  }

  /** @param {string} name @returns {number} NaN if it does not exist */
  figure(name) {
    const { machine } = this, { calls, context, out } = machine;
    machine.need(machine.withTexts([name], (text) => calls.sw_cooked_figure(context, this.address, text, out)));
    return machine.number(0);
  }

  /** @param {string} name @returns {string} */
  word(name) {
    const { machine } = this, { calls, context, out } = machine;
    machine.need(machine.withTexts([name], (text) => calls.sw_cooked_word(context, this.address, text, out)));
    return machine.text(machine.pointer(0));
  }

  /** @param {string} name @returns {Float64Array} */
  curve(name) {
    const { machine } = this, { calls, context, out } = machine;
    machine.need(machine.withTexts([name], (text) => calls.sw_cooked_curve(context, this.address, text, out, out + 8)));
    return machine.numbers(machine.pointer(0), machine.pointer(1));
  }

  /** To be called in the end. */
  free() {
    this.machine.calls.sw_cooked_destroy(this.address);
  }
}

/** Why a cook stalls, by name. */
class Account {
  /** @param {Machine} machine @param {number} address */
  constructor(machine, address) {
    this.machine = machine;
    this.address = address;
  }

  /** What ends the stall. @returns {string} */
  ending() {
    return this.machine.text(this.machine.calls.sw_account_ending(this.address));
  }

  /** @param {string} name "start", "end" [s], "probe" [K], "evaporation" and others [J] @returns {Float64Array} one of each hour */
  hours(name) {
    const { machine } = this, { calls, context, out } = machine;
    const ask = (/** @type {number} */ room, /** @type {number} */ values) =>
      machine.need(machine.withTexts([name], (text) => calls.sw_account_hours(context, this.address, text, room, values, out)));
    ask(0, 0);
    const count = machine.pointer(0), values = machine.allocate(8 * count);
    ask(count, values);
    const found = machine.numbers(values, count);
    calls.web_release(values);
    return found;
  }

  /** To be called in the end. */
  free() {
    this.machine.calls.sw_account_destroy(this.address);
  }
}

/** Everything a cook decides before the fire is lit: the default scenario, set by key. */
class Setup {
  /** @param {Machine} machine */
  constructor(machine) {
    this.machine = machine;
    machine.need(machine.calls.sw_setup_create(machine.context, machine.out));
    this.address = machine.pointer(0);
  }

  /** @param {string} key @param {number | string | Ending | number[][]} value */
  set(key, value) {
    const { machine, address } = this, { calls, context } = machine;
    if (typeof value === "number")
      machine.need(machine.withTexts([key], (name) => calls.sw_setup_set_number(context, address, name, value)), key);
    else if (typeof value === "string")
      machine.need(machine.withTexts([key, value], (name, word) => calls.sw_setup_set_word(context, address, name, word)), key);
    else if (Array.isArray(value))
      machine.withNumbers(value.flat(), (numbers) =>
        machine.need(machine.withTexts([key], (name) => calls.sw_setup_set_list(context, address, name, value.length, numbers)), key));
    else
      machine.need(machine.withTexts([key, value.kind], (name, kind) => calls.sw_setup_set_ending(context, address, name, kind, value.value ?? 0)), key);
  }

  /** @param {string} key of a number @returns {number} */
  number(key) {
    const { machine } = this, { calls, context, out } = machine;
    machine.need(machine.withTexts([key], (name) => calls.sw_setup_number(context, this.address, name, out)), key);
    return machine.number(0);
  }

  /** Reads a scenario file: keys that are not in it stay as they are. @param {string} name what sentences call it @param {string} text */
  read(name, text) {
    const { machine } = this;
    machine.need(machine.withTexts([name, text], (called, all) => machine.calls.web_setup_read(machine.context, this.address, called, all)));
  }

  /** Whether its values go together; if not, an error says which do not. */
  check() {
    this.machine.need(this.machine.calls.sw_setup_check(this.machine.context, this.address));
  }

  /** @returns {Cooked} */
  cook() {
    const { machine } = this, { calls, context, out } = machine;
    machine.need(calls.sw_setup_cook(context, this.address, calls.web_observer(), 0, out));
    return new Cooked(machine, machine.pointer(0));
  }

  /** @returns {Account} */
  explain() {
    const { machine } = this;
    machine.need(machine.calls.sw_setup_explain(machine.context, this.address, machine.out));
    return new Account(machine, machine.pointer(0));
  }

  /** To be called in the end. */
  free() {
    this.machine.calls.sw_setup_destroy(this.address);
  }
}

/** Settings in, documents out. */
class Library {
  /** @param {WebAssembly.Module} module @param {Watch} watch */
  constructor(module, watch) {
    this.machine = new Machine(module, watch);
  }

  /** @param {boolean} us whether sentences tell values in US units */
  setUnits(us) {
    this.machine.calls.sw_context_set_units(this.machine.context, us ? 1 : 0);
  }

  /** Keys, cuts, wraps and causes. @returns {any} */
  tables() {
    return this.machine.document(this.machine.calls.web_tables(this.machine.context));
  }

  /** Does something with the setup of some settings and some causes changed.
   * @template T
   * @param {Settings} settings @param {number[]} causes numbers of the table @param {(setup: Setup) => T} use @returns {T} */
  withSetup(settings, causes, use) {
    const setup = new Setup(this.machine);
    try {
      for (const [part, name] of [[FROM_FILE, "scenario"], [LEARNED, "what was learned of the pit"]])
        if (typeof settings[part] === "string") setup.read(name, /** @type {string} */ (settings[part]));
      for (const [key, value] of Object.entries(settings)) if (key !== FROM_FILE && key !== LEARNED) setup.set(key, value);
      for (const cause of causes) this.machine.calls.web_change_cause(setup.address, cause);
      setup.check();
      return use(setup);
    } finally {
      setup.free();
    }
  }

  /** A cook: its figures, curves, warnings. layers: of its cross-sections, until the pull; 0: curves only, to the end.
   * @param {Settings} settings @param {number[]} causes @param {number} moments @param {number} layers @returns {any} */
  cook(settings, causes, moments, layers) {
    const { machine } = this;
    return this.withSetup(settings, causes, (setup) => machine.document(machine.calls.web_cook(machine.context, setup.address, moments, layers)));
  }

  /** Some of the draws of a band; number `draws` is the median cook. @param {Settings} settings @param {number} draws
   * @param {number} first @param {number} count @returns {Float64Array} for band */
  bandPart(settings, draws, first, count) {
    const { machine } = this, { calls, context, out } = machine;
    return this.withSetup(settings, [], (setup) => {
      const length = calls.web_band_part(context, setup.address, draws, first, count, out);
      if (!machine.pointer(0)) throw machine.trouble();
      return machine.numbers(machine.pointer(0), length);
    });
  }

  /** How cooks like it differ. @param {Settings} settings @param {Float64Array[]} parts that make `draws` draws and the median cook
   * @param {number} draws @param {number} allDraws of which the parts were asked @returns {any} */
  band(settings, parts, draws, allDraws) {
    const { machine } = this, numbers = new Float64Array(parts.reduce((sum, part) => sum + part.length, 0));
    parts.reduce((at, part) => (numbers.set(part, at), at + part.length), 0);
    return this.withSetup(settings, [], (setup) => machine.withNumbers(numbers, (address) => machine.document(
      machine.calls.web_band(machine.context, setup.address, address, numbers.length, draws, allDraws))));
  }

  /** Why it stalls. @param {Settings} settings @returns {any} */
  explain(settings) {
    const { machine } = this;
    return this.withSetup(settings, [], (setup) => machine.document(machine.calls.web_explain(machine.context, setup.address)));
  }

  /** When the meat goes on. @param {Settings} settings @param {string | null} date as "2026-11-28" @param {number} now [s since 1970]
   * @param {number} odds @param {number} draws @param {number} compared draws of each other wrap and pit @returns {any} */
  plan(settings, date, now, odds, draws, compared) {
    const { machine } = this, { calls, context } = machine;
    return this.withSetup(settings, [], (setup) => machine.document(machine.withTexts(date ? [date] : [], (text) =>
      calls.web_plan(context, setup.address, text ?? 0, now, odds, draws, compared))));
  }

  /** A cook under way. @param {Settings} settings as planned @param {UnderWay} underWay @param {number} now [s after the meat went on]
   * @param {number} serving [s after the meat went on], NaN if it is not told @param {number} draws @param {number} choiceDraws @returns {any} */
  track(settings, underWay, now, serving, draws, choiceDraws) {
    const { machine } = this, { calls, context } = machine;
    return this.withSetup(settings, [], (setup) => machine.document(machine.withTexts([JSON.stringify(underWay)], (text) =>
      calls.web_track(context, setup.address, text, now, serving, draws, choiceDraws))));
  }

  /** What a scenario file says: "keys", as settings, "set", those that differ from the default, "mass" as it is cooked.
   * @param {string} name @param {string} text @returns {any} */
  readScenario(name, text) {
    const { machine } = this, setup = new Setup(machine);
    try {
      setup.read(name, text);
      return machine.document(machine.calls.web_scenario(machine.context, setup.address));
    } finally {
      setup.free();
    }
  }

  /** Settings as a scenario file. @param {Settings} settings @param {boolean} us @returns {string} */
  writeScenario(settings, us) {
    const { machine } = this;
    return this.withSetup(settings, [], (setup) => {
      const text = machine.calls.web_scenario_file(machine.context, setup.address, us ? 1 : 0);
      if (!text) throw machine.trouble();
      return machine.text(text);
    });
  }

  /** What a log says. @param {Settings} settings of the cook that it is of @param {string} name @param {string} text
   * @param {boolean} us whether temperatures without a unit are Fahrenheit @returns {any} */
  readLog(settings, name, text, us) {
    const { machine } = this;
    return this.withSetup(settings, [], (setup) => machine.document(machine.withTexts([name, text], (called, all) =>
      machine.calls.web_log(machine.context, setup.address, called, all, us ? 1 : 0))));
  }

  /** What a cook under way told of its pit, added to what was learned of it before, as the program writes it.
   * @param {Settings} settings as planned @param {UnderWay} underWay @param {number} now @param {number} draws @returns {string} */
  learn(settings, underWay, now, draws) {
    const { machine } = this, { calls, context } = machine;
    return this.withSetup(settings, [], (setup) => {
      let told = 0;
      machine.withTexts([JSON.stringify(underWay)], (text) => (told = calls.web_learn(context, setup.address, text, now, draws)));
      if (!told) throw machine.trouble();
      return machine.text(told);
    });
  }

  /** Figures, words and curves of a cook by name, as handles.h has them.
   * @param {Settings} settings @param {string[]} figures @param {string[]} words @param {string[]} curves @returns {{[name: string]: any}} */
  read(settings, figures, words, curves) {
    return this.withSetup(settings, [], (setup) => {
      const cooked = setup.cook();
      try {
        return Object.fromEntries([...figures.map((name) => [name, cooked.figure(name)]), ...words.map((name) => [name, cooked.word(name)]),
          ...curves.map((name) => [name, [...cooked.curve(name)]])]);
      } finally {
        cooked.free();
      }
    });
  }

  /** The heat of each hour until the pull, and what ends the stall.
   * @param {Settings} settings @param {string[]} names @returns {{ending: string, hours: {[name: string]: number[]}}} */
  hours(settings, names) {
    return this.withSetup(settings, [], (setup) => {
      const account = setup.explain();
      try {
        return { ending: account.ending(), hours: Object.fromEntries(names.map((name) => [name, [...account.hours(name)]])) };
      } finally {
        account.free();
      }
    });
  }

  /** Answers a call by name, as the worker gets it.
   * @param {string} name @param {any[]} values @returns {Answer} */
  call(name, values) {
    try {
      switch (name) {
        case "tables": return { ok: true, answer: this.tables() };
        case "setUnits": return { ok: true, answer: this.setUnits(values[0]) };
        case "cook": return { ok: true, answer: this.cook(values[0], values[1], values[2], values[3]) };
        case "bandPart": return { ok: true, answer: this.bandPart(values[0], values[1], values[2], values[3]) };
        case "band": return { ok: true, answer: this.band(values[0], values[1], values[2], values[3]) };
        case "explain": return { ok: true, answer: this.explain(values[0]) };
        case "plan": return { ok: true, answer: this.plan(values[0], values[1], values[2], values[3], values[4], values[5]) };
        case "track": return { ok: true, answer: this.track(values[0], values[1], values[2], values[3], values[4], values[5]) };
        case "learn": return { ok: true, answer: this.learn(values[0], values[1], values[2], values[3]) };
        case "readScenario": return { ok: true, answer: this.readScenario(values[0], values[1]) };
        case "writeScenario": return { ok: true, answer: this.writeScenario(values[0], values[1]) };
        case "readLog": return { ok: true, answer: this.readLog(values[0], values[1], values[2], values[3]) };
        case "read": return { ok: true, answer: this.read(values[0], values[1], values[2], values[3]) };
        case "hours": return { ok: true, answer: this.hours(values[0], values[1]) };
        default: throw new Error(`the library has no ${name}`);
      }
    } catch (error) {
      if (error instanceof LibraryError) return { ok: false, key: error.key, sentence: error.message, isBroken: this.machine.isExhausted() };
      /* A trap: what the module had in hand is in no order any more. */
      return { ok: false, key: null, isBroken: true, sentence: `The computation broke off (${error instanceof Error ? error.message : error})` };
    }
  }
}
