// SPDX-License-Identifier: BSD-3-Clause
// @ts-check
/* The cook under way: what was read and done, and how it goes on. */

/** on: when the meat went on [ms since 1970]. entries: what was typed and tapped, and the events of the log.
 * @type {{on: number | null, entries: Entry[], log: Log | null, told: any}} */
const under = { on: null, entries: [], log: null, told: null };
/* What was so far of the cook, in words. @type {{[kind: string]: (entry: Entry) => string}} */
/** @type {{[kind: string]: (entry: Entry) => string}} */
const entryKinds = {
  reading: (e) => `${e.probe === 1 ? "second probe" : "probe"} ${quantity("temperature", e.value)}`,
  wrapped: (e) => (e.value === "none" ? "unwrapped" : `wrapped: ${e.value}`), pit: (e) => `pit set to ${quantity("temperature", e.value)}`,
  lid: () => "lid opened", spritzed: () => "spritzed", off: () => "off the pit", held: () => "into the hold", sliced: () => "sliced",
};

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

/** What the library is told of it. @returns {UnderWay} */
const happened = () => ({ entries: under.entries, log: under.log });

/** Whether the meat's temperature is known from anything. @returns {boolean} */
const hasReadings = () => entriesOf("reading").length > 0 || under.log !== null;

/** When something was done first [s after the meat went on]. @param {string} kind @returns {number | null} */
const whenDone = (kind) => entriesOf(kind)[0]?.time ?? null;

/** The settings as planned, from when the meat went on. @returns {Settings} */
function underWaySettings() {
  const settings = settingsOf();
  if (under.on !== null) settings.start = secondsOfDay(under.on);
  return settings;
}

/** When the meat goes, or went, on. @returns {number} [s after midnight] */
const startOfCook = () => (under.on === null ? Number(fieldSettings().start) : secondsOfDay(under.on));

/** As of the last that is known of it. @returns {number} [s after the meat went on] */
const lastKnown = () => Math.max(0, lastOfLog(), ...under.entries.filter((e) => e.kind !== "pit").map((e) => e.time));

const lastOfLog = () => Number(under.log?.rows[under.log.rows.length - 1]?.[0] ?? 0);

/** When it is served [s after the meat went on]. @param {number} start [s after midnight] */
function servingAfter(start) {
  const date = servingDate(), clock = clockOf("serve-time"), hour = Math.floor(clock / 3600), minute = Math.floor(clock / 60) % 60;
  if (under.on === null) return (clock - start + 86400) % 86400;
  if (date) {
    const [year, month, day] = date.split("-").map(Number);
    return (new Date(year, month - 1, day, hour, minute).getTime() - under.on) / 1000;
  }
  /* The next time that the clock shows it; a day may have 23 hours. */
  const on = new Date(under.on), last = lastKnown();
  for (let day = 0; ; day++) {
    const serving = (new Date(on.getFullYear(), on.getMonth(), on.getDate() + day, hour, minute).getTime() - under.on) / 1000;
    if (serving >= 0 && serving >= last) return serving;
  }
}

/** What the clock on the wall shows so long after the meat went on. @param {number} seconds @returns {string} */
function wallClock(seconds) {
  if (under.on === null) return clockAt(startClock(), seconds);
  const on = new Date(under.on), at = new Date(60000 * Math.round((under.on + 1000 * seconds) / 60000));
  const days = Math.round((Date.UTC(at.getFullYear(), at.getMonth(), at.getDate()) - Date.UTC(on.getFullYear(), on.getMonth(), on.getDate())) / 86400e3);
  return clockAt(secondsOfDay(at.getTime()), 86400 * days);
}

/** @param {any} band of seconds @param {string} which @returns {string} */
function bandClock(band, which) {
  return isAbsent(band[which]) || !Number.isFinite(band[which]) ? "never" : wallClock(band[which]);
}

/** How old the last entry is, in words. @returns {string} */
function agoWords() {
  const since = 60 * Math.floor(Math.max(0, (Date.now() - Number(under.on)) / 1000 - lastKnown()) / 60);
  return since < 60 ? "just now" : `${quantity("duration", since)} ago`;
}

/* The clock goes on, the estimate does not: that is said. */
function showAge() {
  const old = under.on !== null && under.told;
  element("age-words").hidden = !old;
  if (!old) return;
  showBig();
  element("age-words").textContent = `It is ${clockAt(secondsOfDay(Date.now()), 0)}. The last that was added was ${agoWords()}: ` +
    "all below is as of then, and goes on as the likeliest cooks do. A reading now makes it surer.";
}

/** The three things that matter now: name, figure, what it means. @returns {string[][]} */
function bigThings() {
  const { track } = under.told, planned = track.choices[0], done = planned.done_s;
  if (whenDone("off") !== null) return thingsAfter();
  return [["Probe now", isAbsent(track.probe_now_k) ? "no reading yet" : quantity("temperature", track.probe_now_k),
    `as of ${wallClock(track.now_s)}${under.on === null ? "" : `, ${agoWords()}`}`],
  ["Off the pit", track.is_done ? "now" : bandClock(done, "middle"), track.is_done ? "" : `${bandClock(done, "low")} to ${bandClock(done, "high")}, four in five`],
  ["Odds to be in time", odds(planned.in_time_share), `to be served at ${element("serve-time").value}`]];
}

function showBig() {
  element("big-figures").replaceChildren(...bigThings().map(([name, figure, meaning]) => {
    const group = document.createElement("div");
    group.append(made("dt", name), made("dd", figure, "figure"), made("dd", meaning, "meaning"));
    return group;
  }));
}

/** For the line that stays in sight. @returns {string} */
function underWayInShort() {
  if (whenDone("off") !== null) return afterInShort();
  return under.told.track.is_done ? "Done: take it off the pit." : `Off the pit ${bandClock(under.told.track.choices[0].done_s, "middle")}.`;
}

function showUnderWay() {
  showEntries();
  if (!under.told) return;
  const { track, says } = under.told;
  showBig();
  showAge();
  element("track-says").replaceChildren(...says.map((/** @type {[string, any]} */ [about, prose]) => said(proseText(prose), about === "doubt")),
  ...under.told.notes.map((/** @type {any} */ note) => made("p", proseText(note))), made("p", drawnWords(track.choices[0].draws, lastDraws(effort.track))));
  showAfter();
  fillRows("choices-table", track.choices.map((/** @type {any} */ c) => [c.choice, bandClock(c.done_s, "middle"), bandClock(c.done_s, "low"), bandClock(c.done_s, "high"),
    odds(c.in_time_share), percent(c.yield_at_pull.middle), quantity("number", c.bark.middle)]));
  trackChart("under-way", under.told);
}

/** Points of what a probe read. @param {any} track @param {number} probe from 1 on @param {string} words @param {string} pointStyle */
const readPoints = (track, probe, words, pointStyle) => ({ type: "line", label: words, showLine: false, pointRadius: 5, pointStyle, borderColor: "#1c1c1c", borderWidth: 2,
  data: track.readings.filter((/** @type {any} */ p) => p.probe === probe).map((/** @type {any} */ p) => ({ x: p.time_s / 3600, y: axisTemperature(p.probe_k) })) });

/** @param {string} id @param {any} told */
function trackChart(id, { track, after }) {
  const at = (/** @type {number} */ s, /** @type {number} */ kelvin) => ({ x: s / 3600, y: axisTemperature(kelvin) });
  const fan = after ? [] : track.fan.filter((/** @type {any} */ m) => !isAbsent(m.probe_k.low)), names = under.log?.names ?? [];
  const band = { time_s: fan.map((/** @type {any} */ m) => m.time_s), low_k: fan.map((/** @type {any} */ m) => m.probe_k.low),
    high_k: fan.map((/** @type {any} */ m) => m.probe_k.high) };
  const likeliest = after && after.cook.time_s ? after.cook.time_s.map((/** @type {number} */ s, /** @type {number} */ i) => at(s, after.cook.probe_k[i]))
    : track.fitted.map((/** @type {any} */ p) => at(p.time_s, p.probe_k));
  const later = entriesOf("reading").filter((e) => whenDone("off") !== null && e.time > Number(whenDone("off"))).map((e) => at(e.time, e.value));
  const second = readPoints(track, 2, `read, ${names[1] ?? "second probe"}`, "triangle");
  const config = {
    type: "line", plugins: [marks],
    data: { datasets: [line("likeliest cook", 0, likeliest), readPoints(track, 1, names[1] ? `read, ${names[0]}` : "read", "crossRot"),
      ...(second.data.length > 0 ? [second] : []),
      ...(later.length > 0 ? [{ ...second, label: "read since it came off", pointStyle: "rectRot", data: later }] : []), ...(fan.length > 0 ? bandLines(band) : [])] },
    options: chartOptions({ x: hourAxis(), y: axis(`probe, ${degree()}`) }, { cursor: (after ? lastKnown() : track.now_s) / 3600 }),
  };
  config.options.plugins.legend.labels.filter = (/** @type {any} */ item) => item.text !== "";
  tables[id] = { heads: ["time", "one in ten below", "half below", "nine in ten below"], rows: fan.map((/** @type {any} */ m) => [quantity("duration", m.time_s),
    quantity("temperature", m.probe_k.low), quantity("temperature", m.probe_k.middle), quantity("temperature", m.probe_k.high)]) };
  if (after && after.cook.time_s)
    tables[id] = { heads: ["time", "probe, likeliest cook"], rows: after.cook.time_s.map((/** @type {number} */ s, /** @type {number} */ i) => [quantity("duration", s),
      quantity("temperature", after.cook.probe_k[i])]) };
  makeChart(id, config, `Line chart: ${track.readings.length} readings, and the likeliest cook, ${after ? "through rest and hold"
    : `off the pit ${bandClock(track.choices[0].done_s, "middle")}`}.`);
}

/** @param {Entry} entry @returns {string} */
function entryWords(entry) {
  const at = under.on === null ? quantity("duration", entry.time) : wallClock(entry.time);
  return `${at}: ${entryKinds[entry.kind](entry)}`;
}

/* More would only be scrolled past. */
const ENTRIES_SHOWN = 12;

function showEntries() {
  const last = under.entries.slice(-ENTRIES_SHOWN), hidden = under.entries.length - last.length;
  const ofLog = under.log ? [made("li", logWords(under.log))] : [];
  element("entries").replaceChildren(...ofLog, ...(hidden > 0 ? [made("li", `${hidden} before these`)] : []), ...last.map((entry) => made("li", entryWords(entry))));
  element("undo").disabled = under.entries.length === 0 && under.log === null;
  element("no-entries").hidden = under.entries.length > 0 || under.log !== null;
  const on = under.on === null ? null : new Date(under.on);
  element("on-words").textContent = on ? `On since ${on.toLocaleString("en-GB", { weekday: "short", day: "numeric", month: "short", hour: "2-digit", minute: "2-digit" })}.`
    : "Not on yet.";
  element("on-details").open = !on; /* so that a tap beside does not begin the cook anew */
  const planned = element("wrap").value;
  if (element("wrapped").value === "none" && entriesOf("wrapped").length === 0) element("wrapped").value = planned === "none" ? "paper" : planned;
  element("field-reading-probe").hidden = (under.log?.names.length ?? 0) < 2;
  showNextSteps();
}

/** @param {string} kind @param {any} [value] @param {number} [probe] */
function addEntry(kind, value, probe) {
  if (under.on === null) throw new FieldError("on-time", "Say first when the meat went on");
  const time = (lastMoment("at-time") - under.on) / 1000;
  if (time < 0) throw new FieldError("at-time", "At: this is before the meat went on");
  under.entries.push({ kind, time: Math.round(time), ...(value === undefined ? {} : { value }), ...(probe ? { probe } : {}) });
}

/* ---- taken along ---- */

/** The cook as planned and as it went on, as the program's own scenario file, written by the library. @returns {Promise<string>} */
const scenarioFile = async () => bench.call("writeScenario", { ...planSettings(), ...withoutCharts(underWaySettings()) }, units === "us");

/** Without what the page sets for its charts only. @param {Settings} settings @returns {Settings} */
function withoutCharts(settings) {
  const { "solver.field_interval": _, ...rest } = settings;
  return rest;
}

/** What was done, as the program reads it in a log. @param {Entry} entry @returns {string} */
function eventText({ kind, value }) {
  return kind === "wrapped" ? (value === "none" ? "unwrapped" : `wrapped ${value}`) : kind === "pit" ? `pit ${value} K`
    : kind === "off" ? "off the pit" : kind === "held" ? "in the hold" : kind;
}

/** What was read and done, as a log that the program reads: a row a moment. @returns {string} */
function logText() {
  const names = under.log?.names.length ? under.log.names : ["probe"], isSecond = names.length > 1 || under.entries.some((e) => e.probe === 1);
  const heads = [names[0], ...(isSecond ? [names[1] ?? "probe 2"] : []), ...(under.log?.has_pit ? ["pit"] : [])].map((name) => `${name.replace(/[",;\s]+/g, " ")} (K)`);
  const width = heads.length + 1, rows = (under.log?.rows ?? []).map(([time, first, second, pit]) =>
    ({ time: Number(time), cells: [first, ...(isSecond ? [second] : []), ...(under.log?.has_pit ? [pit] : [])].map((cell) => cell ?? ""), says: "" }));
  const row = (/** @type {number} */ time) => ({ time, cells: Array(width - 1).fill(""), says: "" });
  const events = [...(under.on === null ? [] : [{ kind: "meat on", time: 0 }]), ...under.entries].map((entry) => entry.kind === "reading"
    ? { ...row(entry.time), cells: row(0).cells.map((_, i) => (i === (entry.probe ?? 0) ? entry.value : "")) } : { ...row(entry.time), says: eventText(entry) });
  const all = [...rows, ...events].sort((a, b) => a.time - b.time), first = all.length > 0 ? all[0].time : 0;
  return [`elapsed (s),${heads.join(",")},event`, ...all.map(({ time, cells, says }) => [time - first, ...cells, says].join(","))].join("\n") + "\n";
}

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
  adds("add-reading", () => addEntry("reading", needed("reading"), element("field-reading-probe").hidden ? 0 : Number(element("reading-probe").value)));
  adds("add-wrapped", () => {
    if (entriesOf("wrapped").length === 2) throw new FieldError("wrapped", "Wrapped in: a wrap and another after it are followed, no third");
    addEntry("wrapped", element("wrapped").value);
  });
  adds("add-pit", () => addEntry("pit", needed("pit-set")));
  adds("add-lid", () => addEntry("lid"));
  adds("add-spritzed", () => addEntry("spritzed"));
  for (const step of ["off", "held", "sliced"]) adds(`add-${step}`, () => addStep(step));
  adds("undo", () => { if (!under.entries.pop()) under.log = null; });
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
    element("big-button").textContent = large ? "Back to all of it" : "Large, to be read from afar";
  });
  for (const button of document.querySelectorAll(".save-scenario"))
    button.addEventListener("click", () => scenarioFile().then((text) => saveFile("scenario.yaml", "text/yaml", text)).catch(wrong));
  for (const button of document.querySelectorAll(".save-log")) button.addEventListener("click", () => saveFile("log.csv", "text/csv", logText()));
}
