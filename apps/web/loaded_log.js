// SPDX-License-Identifier: BSD-3-Clause
// @ts-check
/* A thermometer's log, read by the library, becomes the readings and events of the cook under way. */

/** When the meat of a log went on. @param {any} log as the library reads it @returns {number} [ms since 1970] */
function onOfLog(log) {
  const nowMs = Date.now(), sinceOn = 1000 * (log.last - log.start);
  if (!log.by_clock) return under.on ?? nowMs - sinceOn;
  /* The last day on which that hour makes the whole log past. */
  const on = new Date(nowMs), clock = ((log.first_clock + log.start) % 86400 + 86400) % 86400;
  on.setHours(Math.floor(clock / 3600), Math.floor(clock / 60) % 60, Math.floor(clock % 60), 0);
  while (on.getTime() + sinceOn > nowMs + 60000) on.setDate(on.getDate() - 1);
  return on.getTime();
}

/** What of a log is not taken, or is doubtful, in sentences. @param {any} log @param {string[]} left events that are not followed */
function logDoubts(log, left) {
  return [...left.map((says) => `The event \u201c${says}\u201d is not followed here.`),
    ...log.doubts.map((/** @type {any} */ doubt) => `Line ${doubt.line}: ${doubt.says.replace("by --units", "the units of this page")}.`),
    ...(log.doubt_count > log.doubts.length ? [`${log.doubt_count - log.doubts.length} more lines are doubtful.`] : [])];
}

/** Takes a log over in place of the readings and events there are; nothing changes if it cannot be read.
 * @param {string} name @param {string} text */
async function loadLog(name, text) {
  const log = await bench.call("readLog", settingsOf(), name, text, units === "us");
  /** @type {string[]} */
  const left = [];
  const since = (/** @type {number} */ time) => time - log.start;
  const rows = log.rows.map((/** @type {(number | null)[]} */ [time, ...cells]) => [since(Number(time)), ...cells]);
  /** @type {Entry[]} */
  const entries = [];
  for (const event of log.events) {
    const wraps = entries.filter((entry) => entry.kind === "wrapped").length, isSecond = whenIn(entries, event.kind) && ["off", "held", "sliced"].includes(event.kind);
    if (!event.kind || (event.kind === "wrapped" && wraps === 2) || isSecond) left.push(event.says);
    else entries.push({ kind: event.kind, time: Math.max(0, since(event.time)), ...(event.value === undefined ? {} : { value: event.value }) });
  }
  if (!rows.some((/** @type {(number | null)[]} */ [time, first, second]) => Number(time) >= 0 && (first ?? second) !== null))
    throw new FieldError("load-log", `${name} has no reading after the meat went on; nothing of it was taken`);
  entries.sort((a, b) => a.time - b.time);
  Object.assign(under, { on: onOfLog(log), entries, log: { name, names: log.names, has_pit: log.has_pit, rows }, told: null });
  element("log-words").replaceChildren(made("p", `${logWords(/** @type {Log} */ (under.log))}; ${entries.length} events. The meat went on ` +
    `${quantity("duration", log.start)} after its first row: ${log.start_says}.`), ...logDoubts(log, left).map((words) => made("p", words)));
}

/** @param {Entry[]} entries @param {string} kind */
const whenIn = (entries, kind) => entries.some((entry) => entry.kind === kind);

/** What is taken of a log. @param {Log} log @returns {string} */
function logWords(log) {
  const read = log.rows.reduce((sum, [time, first, second]) => sum + (Number(time) >= 0 ? Number(first !== null) + Number(second !== null) : 0), 0);
  return `${log.name}: ${read} readings of ${log.names.join(" and ")}${log.has_pit ? "; its pit column drives the pit" : ""}`;
}
