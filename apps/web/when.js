// SPDX-License-Identifier: BSD-3-Clause
// @ts-check
/* When the meat goes on: the library's plan, its timetable, and a calendar. */

/** @type {{told: any}} */
const when = { told: null };

/** @returns {Settings} */
function planSettings() {
  return { ...settingsOf(), "serving.time": clockOf("serve-time"), "serving.hold_at_least": needed("hold-least"), "serving.hold_at_most": needed("hold-most") };
}

const servingDate = () => element("serve-date").value || null;

/** @param {any} moment of a plan @returns {string} */
const momentWords = (moment) => moment.words ?? "-";

/** @param {string} id of a table @param {string[][]} rows the first cell is the row's name */
function fillRows(id, rows) {
  element(id).tBodies[0].replaceChildren(...rows.map(([head, ...cells]) => {
    const row = document.createElement("tr");
    row.append(Object.assign(made("th", head), { scope: "row" }), ...cells.map((text) => made("td", text)));
    return row;
  }));
}

/** @param {number} share @returns {string} */
const percent = (share) => (isAbsent(share) ? "-" : quantity("share", share));
/** In whole per cent, as certain as draws make it. @param {number} chance @returns {string} */
const odds = (chance) => (isAbsent(chance) ? "-" : quantity("chance", chance));

/* What is past or impossible, before anything else. */
function planCautions() {
  const { plan, says } = when.told, list = [];
  if (says.impossible) list.push(proseText(says.impossible));
  const fire = plan.timetable.find((/** @type {any} */ row) => row.event === "fire");
  if (fire && !isAbsent(fire.half_by.unix_s) && fire.half_by.unix_s < Date.now() / 1000)
    list.push(`${momentWords(fire.half_by)}, when the fire is to be lit, is past: serve later, or with fewer odds.`);
  return list;
}

/** In a frame, if there are any. @param {string} id @param {string[]} texts */
function showFramed(id, texts) {
  const box = document.createElement("div"), list = document.createElement("ul");
  list.append(...texts.map((text) => madeLong("li", text)));
  if (texts.length > 0) {
    box.className = "notice";
    box.append(made("strong", "Mind:"), list);
  }
  element(id).replaceChildren(box);
}

/** What the plan is of: on paper the controls are not there. @returns {string} */
function planOf() {
  const chosen = (/** @type {string} */ id) => element(id).selectedOptions[0].text, shown = (/** @type {string} */ id) => `${element(id).value} ${unitOf(element(id).dataset.quantityKind).unit}`;
  const wrap = element("wrap").value === "none" ? "no wrap" : `${chosen("wrap")}, ${chosen("wrap-by")}${element("wrap-by").value === "temperature" ? ` ${shown("wrap-probe")}` : ""}`;
  return `${current.name}: ${chosen("cut")}, ${shown("mass")}; ${chosen("pit")} pit at ${shown("pit-temperature")}; ${wrap}. To be served at ${element("serve-time").value}` +
    `${servingDate() ? ` on ${servingDate()}` : ""}.`;
}

function showPlan() {
  if (!when.told) return;
  const { plan, says, rows, warnings } = when.told, side = units === "us" ? 1 : 0;
  element("plan-of").textContent = planOf();
  showFramed("plan-cautions", planCautions());
  showFramed("plan-warnings", warnings.map((/** @type {string[]} */ w) => w[side]));
  element("plan-start").textContent = says.start ? proseText(says.start) : "";
  element("plan-odds").textContent = [says.odds, says.narrow, says.slicing].filter(Boolean).map(proseText).join(" ");
  fillRows("timetable", plan.timetable.map((/** @type {any} */ row, /** @type {number} */ i) => [rows[i].what, row.draws ? momentWords(row.one_in_ten_by) : "",
    momentWords(row.half_by), row.draws ? momentWords(row.nine_in_ten_by) : ""]));
  element("look-list").replaceChildren(...rows.filter((/** @type {any} */ row) => row.look.length > 0).map((/** @type {any} */ row) => {
    const item = document.createElement("li");
    item.append(made("strong", row.what), `: ${proseText(row.look)}`);
    return item;
  }));
  element("plan-late").replaceChildren(...[says.late, ...(says.rescues ?? []), says.early, says.longest].filter((p) => p && p.length > 0)
    .map((p) => made("p", proseText(p))));
  fillRows("starts-table", plan.by_start.map((/** @type {any} */ row) => [momentWords(row.start), odds(row.in_time.share), odds(row.held_too_long.share)]));
  fillRows("compared-table", plan.compared.map((/** @type {any} */ one) => [one.wrap, quantity("temperature", one.pit_k), momentWords(one.starts.latest),
    momentWords(one.starts.recommended)]));
  element("plan-doubts").replaceChildren(...[says.mass, says.honestly, says.outside].filter((p) => p && p.length > 0).map((p) => made("p", proseText(p))),
    made("p", drawnWords(plan.draws, lastDraws(effort.plan))));
  const hasDay = plan.timetable.length > 0 && !isAbsent(plan.timetable[0].half_by.unix_s);
  element("save-calendar").disabled = !hasDay;
  element("calendar-words").textContent = hasDay ? "" : "For a calendar the day is needed.";
}

/** Text of a calendar (RFC 5545): lines of at most 75 bytes, commas and semicolons marked. @param {string} line */
function folded(line) {
  const bytes = new TextEncoder();
  let lines = "", room = 75;
  for (const character of line) {
    const size = bytes.encode(character).length;
    if (size > room) {
      lines += "\r\n ";
      room = 74;
    }
    lines += character;
    room -= size;
  }
  return `${lines}\r\n`;
}

/** @param {string} text */
const calendarText = (text) => text.replace(/[\\;,]/g, "\\$&").replace(/\r?\n/g, "\\n");

/** @param {number} unix @returns {string} in universal time, which every calendar shows in its own */
const calendarTime = (unix) => `${new Date(1000 * unix).toISOString().replace(/[-:]/g, "").slice(0, 15)}Z`;

/** @param {any} told of a plan with a day @param {number} now [s since 1970] @returns {string} */
function calendarOf(told, now) {
  const lines = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//stallwright//page//EN"];
  told.plan.timetable.forEach((/** @type {any} */ row, /** @type {number} */ i) => {
    const what = told.rows[i].what, look = proseText(told.rows[i].look), first = row.one_in_ten_by.unix_s, last = row.nine_in_ten_by.unix_s;
    lines.push("BEGIN:VEVENT", `UID:${row.event}-${row.half_by.unix_s}@stallwright.invalid`, `DTSTAMP:${calendarTime(now)}`,
      `DTSTART:${calendarTime(first)}`, ...(last > first ? [`DTEND:${calendarTime(last)}`] : []),
      `SUMMARY:${calendarText(what[0].toUpperCase() + what.slice(1))}`, ...(look ? [`DESCRIPTION:${calendarText(look)}`] : []), "END:VEVENT");
  });
  return [...lines, "END:VCALENDAR"].map(folded).join("");
}

/** Offers a file. @param {string} name @param {string} type @param {string} text */
function saveFile(name, type, text) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([text], { type }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60000);
}

/** For the line that stays in sight. @returns {string} */
const planInShort = () => (when.told.says.start ? `Meat on ${momentWords(when.told.plan.starts.recommended)}.` : "No start promises these odds.");

function listenToWhen() {
  element("save-calendar").addEventListener("click", () => saveFile("cook.ics", "text/calendar", calendarOf(when.told, Math.floor(Date.now() / 1000))));
  element("print-plan").addEventListener("click", () => window.print());
}
