// SPDX-License-Identifier: BSD-3-Clause
// @ts-check
/* The cook under way: what was read and done, and how it goes on. */

/** kind "reading" and "pit" have a temperature [K], "wrapped" the name of a wrap, "lid" nothing; time after the meat went on [s].
 * @typedef {{kind: string, time: number, value?: any}} Entry */
/** @type {{on: number | null, entries: Entry[], told: any}} on: when the meat went on [ms since 1970] */
const under = { on: null, entries: [], told: null };

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

function showBig() {
  const { track } = under.told, planned = track.choices[0], done = planned.done_s;
  const things = [["Probe now", isAbsent(track.probe_now_k) ? "no reading yet" : quantity("temperature", track.probe_now_k),
    `as of ${wallClock(track.now_s)}${under.on === null ? "" : `, ${agoWords()}`}`],
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
  showAge();
  element("track-says").replaceChildren(...says.map((/** @type {[string, any]} */ [about, prose]) =>
    made("p", proseText(prose), about === "doubt" || proseText(prose).startsWith("WARNING") ? "notice" : "")),
  made("p", drawnWords(track.choices[0].draws, lastDraws(effort.track))));
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
  const at = under.on === null ? quantity("duration", entry.time) : wallClock(entry.time);
  const what = /** @type {any} */ ({ reading: () => `probe ${quantity("temperature", entry.value)}`, wrapped: () => `wrapped: ${entry.value}`,
    pit: () => `pit set to ${quantity("temperature", entry.value)}`, lid: () => "lid opened" })[entry.kind];
  return `${at}: ${what()}`;
}

/* More would only be scrolled past. */
const ENTRIES_SHOWN = 12;

function showEntries() {
  const last = under.entries.slice(-ENTRIES_SHOWN), hidden = under.entries.length - last.length;
  element("entries").replaceChildren(...(hidden > 0 ? [made("li", `${hidden} before these`)] : []), ...last.map((entry) => made("li", entryWords(entry))));
  element("undo").disabled = under.entries.length === 0;
  element("no-entries").hidden = under.entries.length > 0;
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
  for (const button of document.querySelectorAll(".save-scenario"))
    button.addEventListener("click", () => scenarioFile().then((text) => saveFile("scenario.yaml", "text/yaml", text)).catch(wrong));
  for (const button of document.querySelectorAll(".save-log")) button.addEventListener("click", () => saveFile("log.csv", "text/csv", logText()));
}
