// SPDX-License-Identifier: BSD-3-Clause
// @ts-check
/* The cook under way: what was read and done, how it goes on, and that it is remembered. */

/** kind "reading" and "pit" have a temperature [K], "wrapped" the name of a wrap, "lid" nothing; time after the meat went on [s].
 * @typedef {{kind: string, time: number, value?: any}} Entry */
/** @type {{on: number | null, entries: Entry[], told: any}} on: when the meat went on [ms since 1970] */
const under = { on: null, entries: [], told: null };

const KEPT_UNDER = "stallwright.cook";
/* The fields that are remembered: all of the page's forms but those that add something. */
const PASSING = ["on-time", "at-time", "reading", "pit-set", "wrapped"];

/** @param {number} at [ms since 1970] @returns {number} seconds after local midnight */
function secondsOfDay(at) {
  const day = new Date(at);
  return 3600 * day.getHours() + 60 * day.getMinutes() + day.getSeconds();
}

/** The last moment that a field names, now if it is empty. @param {string} id @returns {number} [ms since 1970] */
function lastMoment(id) {
  const nowMs = Date.now();
  if (!element(id).value) return nowMs;
  const seconds = clockOf(id), day = new Date(nowMs);
  day.setHours(Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, 0, 0);
  if (day.getTime() > nowMs + 60000) day.setDate(day.getDate() - 1);
  return day.getTime();
}

/** In the order of the clock. @param {string} kind @returns {Entry[]} */
const entriesOf = (kind) => under.entries.filter((entry) => entry.kind === kind).sort((a, b) => a.time - b.time);

/** The settings with what happened so far. @returns {Settings} */
function underWaySettings() {
  const settings = settingsOf(), wraps = entriesOf("wrapped"), pit = entriesOf("pit"), lids = entriesOf("lid");
  if (under.on !== null) settings.start = secondsOfDay(under.on);
  if (wraps.length > 0) Object.assign(settings, { "wrap.kind": wraps[0].value, "wrap.when": { kind: "duration", value: wraps[0].time } });
  if (wraps.length > 1)
    Object.assign(settings, { "rewrap.kind": wraps[1].value, "rewrap.when": { kind: "duration", value: wraps[1].time } });
  if (pit.length > 0) {
    const planned = saidByFile("pit.temperature", settings) ?? [[0, fieldSettings()["pit.temperature"], 0]], first = pit.find((e) => e.time > 0)?.time ?? Infinity;
    settings["pit.temperature"] = [...planned.filter((/** @type {number[]} */ row) => row[0] < first), ...pit.filter((e) => e.time > 0).map((e) => [e.time, e.value, 0])];
  }
  if (lids.length > 0) {
    const times = new Set([...(saidByFile("pit.lid.openings", settings) ?? []).flat(), ...lids.map((e) => e.time)]);
    settings["pit.lid.openings"] = [...times].sort((a, b) => a - b).map((time) => [time]);
  }
  return settings;
}

/** When the meat goes, or went, on. @returns {number} [s after midnight] */
const startOfCook = () => (under.on === null ? Number(fieldSettings().start) : secondsOfDay(under.on));

/** As of the last that is known of it. @returns {number} [s after the meat went on] */
const lastKnown = () => Math.max(0, ...under.entries.filter((e) => e.kind !== "pit").map((e) => e.time));

/** When it is served [s after the meat went on]. @param {number} start [s after midnight] */
function servingAfter(start) {
  const date = servingDate(), clock = clockOf("serve-time");
  if (date && under.on !== null) {
    const [year, month, day] = date.split("-").map(Number);
    return (new Date(year, month - 1, day, Math.floor(clock / 3600), Math.floor(clock / 60) % 60).getTime() - under.on) / 1000;
  }
  const serving = (clock - start + 86400) % 86400;
  return serving < lastKnown() ? serving + 86400 : serving;
}

/** @param {any} band of seconds @param {string} which @returns {string} */
function bandClock(band, which) {
  const start = under.on === null ? startClock() : secondsOfDay(under.on);
  return isAbsent(band[which]) || !Number.isFinite(band[which]) ? "never" : clockAt(start, band[which]);
}

function showBig() {
  const { track } = under.told, planned = track.choices[0], done = planned.done_s;
  const things = [["Probe now", isAbsent(track.probe_now_k) ? "no reading yet" : quantity("temperature", track.probe_now_k),
    `as of ${clockAt(Number(track.start_clock_s), track.now_s)}`],
  ["Off the pit", track.is_done ? "now" : bandClock(done, "middle"), track.is_done ? "" : `${bandClock(done, "low")} to ${bandClock(done, "high")}, four in five`],
  ["Odds to be in time", isAbsent(planned.in_time_share) ? "-" : percent(planned.in_time_share), `to be served at ${element("serve-time").value}`]];
  element("big-figures").replaceChildren(...things.map(([name, figure, meaning]) => {
    const group = document.createElement("div");
    group.append(made("dt", name), made("dd", figure, "figure"), made("dd", meaning, "meaning"));
    return group;
  }));
}

function showUnderWay() {
  showEntries();
  if (!under.told) return;
  const { track, says } = under.told;
  showBig();
  element("track-says").replaceChildren(...says.map((/** @type {[string, any]} */ [about, prose]) =>
    made("p", proseText(prose), about === "doubt" || proseText(prose).startsWith("WARNING") ? "notice" : "")));
  fillRows("choices-table", track.choices.map((/** @type {any} */ c) => [c.choice, bandClock(c.done_s, "middle"), bandClock(c.done_s, "low"), bandClock(c.done_s, "high"),
    percent(c.in_time_share), percent(c.yield_at_pull.middle), quantity("number", c.bark.middle)]));
  trackChart("under-way", track);
}

/** @param {string} id @param {any} track */
function trackChart(id, track) {
  const at = (/** @type {number} */ s, /** @type {number} */ kelvin) => ({ x: s / 3600, y: axisTemperature(kelvin) });
  const fan = track.fan.filter((/** @type {any} */ m) => !isAbsent(m.probe_k.low));
  const band = { time_s: fan.map((/** @type {any} */ m) => m.time_s), low_k: fan.map((/** @type {any} */ m) => m.probe_k.low),
    high_k: fan.map((/** @type {any} */ m) => m.probe_k.high) };
  const config = {
    type: "line", plugins: [marks],
    data: { datasets: [line("likeliest cook", 0, track.fitted.map((/** @type {any} */ p) => at(p.time_s, p.probe_k))),
      { type: "line", label: "read", data: track.readings.map((/** @type {any} */ p) => at(p.time_s, p.probe_k)), showLine: false, pointRadius: 5,
        pointStyle: "crossRot", borderColor: "#1c1c1c", borderWidth: 3 }, ...bandLines(band)] },
    options: chartOptions({ x: hourAxis(), y: axis(`probe, ${degree()}`) }, { cursor: track.now_s / 3600 }),
  };
  config.options.plugins.legend.labels.filter = (/** @type {any} */ item) => item.text !== "";
  tables[id] = { heads: ["time", "one in ten below", "half below", "nine in ten below"], rows: fan.map((/** @type {any} */ m) => [quantity("duration", m.time_s),
    quantity("temperature", m.probe_k.low), quantity("temperature", m.probe_k.middle), quantity("temperature", m.probe_k.high)]) };
  makeChart(id, config, `Line chart: ${track.readings.length} readings, and the likeliest cook, off the pit ${bandClock(track.choices[0].done_s, "middle")}.`);
}

/** @param {Entry} entry @returns {string} */
function entryWords(entry) {
  const at = under.on === null ? quantity("duration", entry.time) : clockAt(secondsOfDay(under.on), entry.time);
  const what = /** @type {any} */ ({ reading: () => `probe ${quantity("temperature", entry.value)}`, wrapped: () => `wrapped: ${entry.value}`,
    pit: () => `pit set to ${quantity("temperature", entry.value)}`, lid: () => "lid opened" })[entry.kind];
  return `${at}: ${what()}`;
}

function showEntries() {
  element("entries").replaceChildren(...under.entries.map((entry) => made("li", entryWords(entry))));
  element("undo").disabled = under.entries.length === 0;
  const on = under.on === null ? null : new Date(under.on);
  element("on-words").textContent = on ? `On since ${on.toLocaleString("en-GB", { weekday: "short", day: "numeric", month: "short", hour: "2-digit", minute: "2-digit" })}.`
    : "Not on yet.";
}

/** @param {string} kind @param {any} [value] */
function addEntry(kind, value) {
  if (under.on === null) throw new FieldError("on-time", "Say first when the meat went on");
  const time = (lastMoment("at-time") - under.on) / 1000;
  if (time < 0) throw new FieldError("at-time", "At: this is before the meat went on");
  under.entries.push({ kind, time: Math.round(time), ...(value === undefined ? {} : { value }) });
}

/* ---- it remembers ---- */

/** What is kept. @returns {any} */
function keptCook() {
  /** @type {{[id: string]: any}} */
  const fields = {};
  for (const field of /** @type {any} */ (document.querySelectorAll("form input[id], form select[id]")))
    if (!PASSING.includes(field.id)) fields[field.id] = field.dataset.quantityKind ? field.dataset.si ?? null : field.value;
  return { version: 1, fields, units, on: under.on, entries: under.entries, file: loaded.file };
}

/** Whether all of it is what this page keeps. @param {any} kept @returns {boolean} */
function isKeptCook(kept) {
  const good = (/** @type {any} */ e) => ["reading", "pit", "wrapped", "lid"].includes(e.kind) && Number.isFinite(e.time) && e.time >= 0 &&
    (e.kind === "lid" || (e.kind === "wrapped" ? typeof e.value === "string" : Number.isFinite(e.value)));
  return kept && kept.version === 1 && typeof kept.fields === "object" && Array.isArray(kept.entries) && kept.entries.every(good) &&
    (!kept.file || (typeof kept.file.text === "string" && typeof kept.file.filled === "object" && Array.isArray(kept.file.held))) &&
    (kept.on === null || Number.isFinite(kept.on)) && (kept.units === "si" || kept.units === "us");
}

/** @param {any} kept a cook that is one */
function takeKept(kept) {
  for (const [id, value] of Object.entries(kept.fields)) {
    const field = element(id);
    if (!field || PASSING.includes(id)) continue;
    if (!field.dataset.quantityKind) field.value = value;
    else if (value === null) delete field.dataset.si;
    else field.dataset.si = value;
  }
  Object.assign(under, { on: kept.on, entries: kept.entries, told: null });
  loaded.file = kept.file ?? null;
  units = kept.units;
  for (const input of /** @type {any} */ (document.querySelectorAll("input[name=units]"))) input.checked = input.value === units;
}

/** Keeps the cook, and says whether it is kept: what was written is read again. */
function keep() {
  const text = JSON.stringify(keptCook());
  let kept = false;
  try {
    localStorage.setItem(KEPT_UNDER, text);
    kept = localStorage.getItem(KEPT_UNDER) === text;
  } catch {
    kept = false;
  }
  element("kept").textContent = kept ? "This cook is kept in this browser." :
    "This cook is NOT kept: this browser grants the page no storage. Leave the page open, or save the scenario and the log.";
}

/** What was kept, if anything. @returns {any} null if there is nothing, or nothing that can be read */
function remembered() {
  try {
    const kept = JSON.parse(localStorage.getItem(KEPT_UNDER) ?? "null");
    return isKeptCook(kept) ? kept : null;
  } catch {
    return null;
  }
}

/* ---- taken along ---- */

/** The cook with what happened so far, as the program's own scenario file, written by the library. @returns {Promise<string>} */
const scenarioFile = async () => bench.call("writeScenario", { ...planSettings(), ...withoutCharts(underWaySettings()) }, units === "us");

/** Without what the page sets for its charts only. @param {Settings} settings @returns {Settings} */
function withoutCharts(settings) {
  const { "solver.field_interval": _, ...rest } = settings;
  return rest;
}

/** The readings as a log that the program reads. @returns {string} */
const logText = () => ["elapsed (s),probe (K)", ...entriesOf("reading").map((e) => `${e.time},${e.value}`)].join("\n") + "\n";

/** @param {() => void} changed called when something was added @param {(error: any) => void} wrong */
function listenToDuring(changed, wrong) {
  const adds = (/** @type {string} */ id, /** @type {() => void} */ add) => element(id).addEventListener("click", () => {
    clearTrouble();
    try {
      add();
      for (const passing of ["at-time", "reading", "pit-set"]) {
        element(passing).value = "";
        delete element(passing).dataset.si;
      }
      changed();
    } catch (error) {
      wrong(error);
    }
  });
  adds("on-button", () => {
    under.on = lastMoment("on-time");
    rung.clear();
  });
  adds("add-reading", () => addEntry("reading", needed("reading")));
  adds("add-wrapped", () => {
    if (entriesOf("wrapped").length === 2) throw new FieldError("wrapped", "Wrapped in: a wrap and another after it are followed, no third");
    addEntry("wrapped", element("wrapped").value);
  });
  adds("add-pit", () => addEntry("pit", needed("pit-set")));
  adds("add-lid", () => addEntry("lid"));
  adds("undo", () => { under.entries.pop(); });
  adds("forget", () => {
    Object.assign(under, { on: null, entries: [], told: null });
    rung.clear();
    silence();
  });
  const load = (/** @type {(name: string, text: string) => Promise<void>} */ take) => async (/** @type {string} */ name, /** @type {string} */ text) => {
    await take(name, text);
    rung.clear();
    changed();
  };
  listenToFile("load-scenario", load(loadScenario), wrong);
  listenToFile("load-log", load(loadLog), wrong);
  element("unload").addEventListener("click", () => {
    loaded.file = null;
    changed();
  });
  element("big-button").addEventListener("click", () => {
    const large = document.body.classList.toggle("large");
    element("big-button").setAttribute("aria-pressed", String(large));
  });
  element("save-scenario").addEventListener("click", () => scenarioFile().then((text) => saveFile("scenario.yaml", "text/yaml", text)).catch(wrong));
  element("save-log").addEventListener("click", () => saveFile("log.csv", "text/csv", logText()));
}
