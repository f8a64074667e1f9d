// SPDX-License-Identifier: BSD-3-Clause
// @ts-check
/* What a person sets, read from the controls in the units chosen and turned into keys and SI. Ranges are those of the library:
 * a value it does not take comes back as its sentence. */

/** Units of the fields, by quantity: how a typed number becomes SI, what stands behind it, and the step of its buttons.
 * @type {{[quantity: string]: {toSi: (typed: number) => number, fromSi: (si: number) => number, unit: string, step: number, digits: number}[]}} */
const fieldUnits = {
  mass: [{ toSi: (v) => v, fromSi: (v) => v, unit: "kg", step: 0.5, digits: 2 },
    { toSi: (v) => v * 0.45359237, fromSi: (v) => v / 0.45359237, unit: "lb", step: 1, digits: 1 }],
  length: [{ toSi: (v) => v / 100, fromSi: (v) => 100 * v, unit: "cm", step: 0.5, digits: 1 },
    { toSi: (v) => v * 0.0254, fromSi: (v) => v / 0.0254, unit: "in", step: 0.25, digits: 2 }],
  temperature: [{ toSi: (v) => v + 273.15, fromSi: (v) => v - 273.15, unit: "°C", step: 1, digits: 1 },
    { toSi: (v) => (v - 32) / 1.8 + 273.15, fromSi: (v) => 1.8 * (v - 273.15) + 32, unit: "°F", step: 5, digits: 1 }],
  hours: [{ toSi: (v) => 3600 * v, fromSi: (v) => v / 3600, unit: "h", step: 0.5, digits: 2 }],
  minutes: [{ toSi: (v) => 60 * v, fromSi: (v) => v / 60, unit: "min", step: 5, digits: 0 }],
  dose: [{ toSi: (v) => v / 1000, fromSi: (v) => 1000 * v, unit: "g", step: 10, digits: 0 },
    { toSi: (v) => v * 0.028349523125, fromSi: (v) => v / 0.028349523125, unit: "oz", step: 0.5, digits: 1 }],
  people: [{ toSi: (v) => v, fromSi: (v) => v, unit: "", step: 1, digits: 0 }],
};

/** @param {string} quantity */
const unitOf = (quantity) => fieldUnits[quantity][units === "us" ? fieldUnits[quantity].length - 1 : 0];

/** @param {string} id @returns {any} */
const element = (id) => document.getElementById(id);

/** What a field holds in SI: kept beside it, so that a change of units does not round it.
 * @param {string} id @returns {number} NaN if no number is typed */
function fieldValue(id) {
  const input = element(id);
  return input.dataset.si === undefined ? NaN : Number(input.dataset.si);
}

/** @param {any} input */
function typed(input) {
  const number = input.value.trim() === "" ? NaN : Number(input.value.replace(",", "."));
  if (Number.isNaN(number)) delete input.dataset.si;
  else input.dataset.si = String(unitOf(input.dataset.quantityKind).toSi(number));
}

/** @param {any} input */
function showField(input) {
  const unit = unitOf(input.dataset.quantityKind);
  if (input.dataset.si !== undefined) input.value = String(Number(unit.fromSi(Number(input.dataset.si)).toFixed(unit.digits)));
  const shown = document.querySelector(`[data-unit-of="${input.id}"]`);
  if (shown) shown.textContent = unit.unit;
}

const numberFields = () => /** @type {any[]} */ ([...document.querySelectorAll("input[data-quantity-kind]")]);

/** @param {string} id @param {number} direction of a step button */
function stepField(id, direction) {
  const input = element(id), unit = unitOf(input.dataset.quantityKind);
  const from = input.dataset.si === undefined ? 0 : unit.fromSi(Number(input.dataset.si));
  /* To the next whole step, so that 121 C in Fahrenheit goes to round numbers. */
  const stepped = direction > 0 ? Math.floor(from / unit.step + 1 + 1e-6) : Math.ceil(from / unit.step - 1 - 1e-6);
  input.dataset.si = String(unit.toSi(stepped * unit.step));
  showField(input);
  input.dispatchEvent(new Event("change", { bubbles: true }));
}

/** A sentence of the page's own, for a field that holds no number. */
class FieldError extends Error {
  /** @param {string} id @param {string} sentence */
  constructor(id, sentence) {
    super(sentence);
    this.id = id;
  }
}

/** @param {string} id @returns {number} */
function needed(id) {
  const value = fieldValue(id);
  if (Number.isNaN(value)) throw new FieldError(id, `${element(id).dataset.called}: "${element(id).value}" is not a number.`);
  return value;
}

/** @param {string} id @returns {number} seconds after midnight */
function clockOf(id) {
  const match = /^(\d\d):(\d\d)/.exec(element(id).value);
  if (!match) throw new FieldError(id, `${element(id).dataset.called}: a time of day is needed.`);
  return 3600 * Number(match[1]) + 60 * Number(match[2]);
}

/** @returns {Ending} */
function wrapEnding() {
  const kind = element("wrap-by").value;
  if (kind === "bark") return { kind };
  return { kind, value: needed(kind === "temperature" ? "wrap-probe" : "wrap-hours") };
}

/** @returns {Ending} */
function pullEnding() {
  const kind = element("pull-by").value;
  return kind === "usual" ? { kind } : { kind, value: needed("pull-probe") };
}

/** @returns {Ending} */
function holdEnding() {
  const kind = element("hold-by").value;
  if (kind === "none") return { kind };
  return kind === "clock" ? { kind, value: clockOf("hold-clock") } : { kind, value: needed("hold-hours") };
}

/** All that the controls say. @returns {Settings} */
function fieldSettings() {
  const wrap = element("wrap").value, hold = holdEnding();
  /** @type {Settings} */
  const settings = {
    start: clockOf("start"), "meat.cut": element("cut").value, "meat.mass": needed("mass"), "pit.kind": element("pit").value,
    "pit.temperature": needed("pit-temperature"), "wrap.kind": wrap, pull: pullEnding(), "serving.people": needed("people"),
    "rest.until": needed("rest") > 0 ? { kind: "duration", value: needed("rest") } : { kind: "none" }, "hold.until": hold,
  };
  if (element("thickness").value.trim() !== "") settings["meat.thickness"] = needed("thickness");
  if (wrap !== "none") settings["wrap.when"] = wrapEnding();
  if (hold.kind !== "none") settings["hold.temperature"] = needed("hold-temperature");
  settings["spritz.amount"] = needed("spritz");
  if (settings["spritz.amount"] > 0) Object.assign(settings, { "spritz.every": needed("spritz-every"), "spritz.from": needed("spritz-from") });
  return settings;
}

/** What is computed: what the controls say, over the scenario file that was loaded and what was learned of the pit, if any. @returns {Settings} */
const settingsOf = () => ({ ...overFile(fieldSettings()), ...learnedSettings(), "solver.field_interval": 300 /* moments of the curves: the figures do not depend on it */ });

/* The field that sets a key, to lead to what is wrong. */
/** @type {{[key: string]: string}} */
const fieldOfKey = {
  start: "start", "meat.mass": "mass", "meat.thickness": "thickness", "pit.temperature": "pit-temperature", "wrap.when": "wrap-probe",
  pull: "pull-probe", "rest.until": "rest", "hold.until": "hold-hours", "hold.temperature": "hold-temperature", "serving.people": "people",
  "spritz.amount": "spritz", "spritz.every": "spritz-every", "spritz.from": "spritz-from", "serving.time": "serve-time", "serving.hold_at_least": "hold-least", "serving.hold_at_most": "hold-most",
};
