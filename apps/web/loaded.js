// SPDX-License-Identifier: BSD-3-Clause
// @ts-check
/* A scenario file that was loaded. It is read by the library before anything that the controls say, and stays as it is: a control
 * counts once it is changed, so what no control shows is kept, and what one shows is kept to the digit. */

/** text: of the file; filled: what the controls said right after it was loaded; keys: what it says, by key; held: of those what is in
 * it and in no control.
 * @typedef {{name: string, text: string, filled: Settings, keys: {[key: string]: any}, held: string[]}} LoadedFile */
/* The thickness that stands for that of a cut of the weight. */
const FROM_WEIGHT = 0;

/** @type {{file: LoadedFile | null}} */
const loaded = { file: null };

/** @param {any} a @param {any} b */
const sameValue = (a, b) => JSON.stringify(a) === JSON.stringify(b);

/** What controls that were changed say, behind the file. @param {Settings} all that controls say @returns {Settings} */
function overFile(all) {
  const { file } = loaded;
  if (!file) return all;
  /** @type {Settings} */
  const changed = { [FROM_FILE]: file.text };
  for (const [key, value] of Object.entries(all)) if (!sameValue(value, file.filled[key])) changed[key] = value;
  if (file.filled["meat.thickness"] !== undefined && all["meat.thickness"] === undefined) changed["meat.thickness"] = FROM_WEIGHT;
  if (changed["meat.mass"] !== undefined && file.keys["meat.bought_mass"]) changed["meat.bought_mass"] = 0; /* one of the two */
  return changed;
}

/** Whether the file says it, and no control has changed it since. @param {string} key @param {Settings} settings */
const saidByFile = (key, settings) => (settings[FROM_FILE] !== undefined && settings[key] === undefined ? loaded.file?.keys[key] : undefined);

/* How keys and controls go together. Each says whether the control shows the value. */
/** @param {string} id @param {any} value @returns {boolean} */
function showNumber(id, value) {
  if (typeof value !== "number") return false;
  element(id).dataset.si = String(value);
  return true;
}

/** @param {string} id @param {any} word @returns {boolean} */
function showWord(id, word) {
  if (![...element(id).options].some((/** @type {any} */ option) => option.value === word)) return false;
  element(id).value = word;
  return true;
}

/** @param {string} id @param {any} seconds after midnight @returns {boolean} to the minute, which is all that it shows */
function showClock(id, seconds) {
  if (typeof seconds !== "number") return false;
  element(id).value = show.clock(60 * Math.floor(seconds / 60));
  return seconds % 60 === 0;
}

/** @param {string} by list of kinds @param {{[kind: string]: (value: number) => boolean}} kinds @param {any} ending @returns {boolean} */
function showEnding(by, kinds, ending) {
  if (!ending || !kinds[ending.kind]) return false;
  if (by) element(by).value = ending.kind;
  return kinds[ending.kind](ending.value);
}

/** @type {{[key: string]: (value: any, told: any) => boolean}} */
const shownByKey = {
  start: (v) => showClock("start", v),
  "meat.cut": (v) => showWord("cut", v),
  "meat.mass": (v, told) => showNumber("mass", told.mass) && v > 0,
  "meat.bought_mass": (v) => v === 0 || v > 0, /* the control shows what is left of it */
  "meat.thickness": (v) => {
    if (v !== FROM_WEIGHT) return showNumber("thickness", v);
    delete element("thickness").dataset.si;
    element("thickness").value = "";
    return true;
  },
  "serving.people": (v) => showNumber("people", v),
  "pit.kind": (v) => showWord("pit", v),
  "pit.temperature": (v) => Array.isArray(v) && v.length > 0 && showNumber("pit-temperature", v[0][1]) && v.length === 1,
  pull: (v) => showEnding("pull-by", { usual: () => true, temperature: (k) => showNumber("pull-probe", k) }, v),
  "wrap.kind": (v) => showWord("wrap", v),
  "wrap.when": (v) => showEnding("wrap-by", { temperature: (k) => showNumber("wrap-probe", k), duration: (s) => showNumber("wrap-hours", s), bark: () => true }, v),
  "rest.until": (v) => showEnding("", { none: () => showNumber("rest", 0), duration: (s) => showNumber("rest", s) }, v),
  "hold.until": (v) => showEnding("hold-by", { none: () => true, duration: (s) => showNumber("hold-hours", s), clock: (s) => showClock("hold-clock", s) }, v),
  "hold.temperature": (v) => showNumber("hold-temperature", v),
  "spritz.amount": (v) => showNumber("spritz", v),
  "spritz.every": (v) => showNumber("spritz-every", v),
  "spritz.from": (v) => showNumber("spritz-from", v),
  "serving.time": (v) => showClock("serve-time", v),
  "serving.hold_at_least": (v) => showNumber("hold-least", v),
  "serving.hold_at_most": (v) => showNumber("hold-most", v),
};

/** Takes a scenario file over; nothing changes if it cannot be read. @param {string} name @param {string} text */
async function loadScenario(name, text) {
  const told = await bench.call("readScenario", name, text);
  /* That it goes together with what the page asks besides is seen before anything changes. */
  await bench.call("writeScenario", { [FROM_FILE]: text }, false);
  const held = told.set.filter((/** @type {string} */ key) => !shownByKey[key]);
  for (const [key, showKey] of Object.entries(shownByKey)) if (!showKey(told.keys[key], told) && told.set.includes(key)) held.push(key);
  for (const input of numberFields()) showField(input);
  loaded.file = { name, text, filled: {}, keys: told.keys, held };
  showFieldsThatCount();
  loaded.file.filled = fieldSettings();
}

function showLoaded() {
  const { file } = loaded, words = element("loaded-words");
  element("loaded").hidden = !file;
  if (!file) return;
  words.textContent = file.held.length === 0 ? `Set as ${file.name} has it.`
    : `Set as ${file.name} has it. These stand in it and count, though no control shows them whole: ${file.held.join(", ")}.`;
}

/** A value of a file on this machine. @param {string} id of the input @param {(name: string, text: string) => Promise<void>} take
 * @param {(error: any) => void} wrong */
function listenToFile(id, take, wrong) {
  element(id).addEventListener("change", async () => {
    const [file] = element(id).files;
    if (!file) return;
    clearTrouble();
    say("Reading the file.", true);
    try {
      if (file.size > LARGEST_FILE) throw new FieldError(id, `${file.name} has ${file.size} bytes; a scenario or log has at most ${LARGEST_FILE}`);
      const text = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true });
      /** @type {string} */
      let read;
      try {
        read = text.decode(await file.arrayBuffer());
      } catch {
        throw new FieldError(id, `${file.name} is no text in UTF-8; nothing of it was taken`);
      }
      await take(file.name, read);
    } catch (error) {
      wrong(error);
    }
    element(id).value = ""; /* so that the same file may be chosen again */
  });
}

/* As the library has it (SW_TEXT_FILE_MAX). */
const LARGEST_FILE = 1 << 20;
