// SPDX-License-Identifier: BSD-3-Clause
// @ts-check
/* Why it stalls: a guess, causes taken away, a look inside, and the cook told in sentences. */

/** @type {{explanation: any, planned: any, changed: any, hours: any, causes: number[], guess: number | null}} */
const why = { explanation: null, planned: null, changed: null, hours: null, causes: [], guess: null };

/* What an account tells of each hour, by the names of the library, and how the page calls it. */
const HOURS = { air: "from hot air", radiation: "by radiation", evaporation: "evaporating water", vapour: "with that vapour", drip: "with drip",
  fat: "melting fat", warming: "warming the meat" };
const forTeacher = () => element("reader-form").elements.reader[1].checked;

function showGuess() {
  const e = why.explanation;
  if (!e) return;
  const names = ["evaporation", ...e.common.map((/** @type {any} */ c) => c.name)];
  const joules = [e.document.heat.evaporation_heat_j, ...e.document.common_explanations.map((/** @type {any} */ c) => c.high_j)];
  /* In the order of the alphabet, so that the answer is not the first. */
  const order = names.map((_, i) => i).sort((a, b) => names[a].localeCompare(names[b]));
  element("guess-choices").replaceChildren(made("legend", "Your guess"), ...order.map((i) => {
    const label = document.createElement("label"), input = document.createElement("input");
    input.type = "radio";
    input.name = "guess";
    input.value = String(i);
    input.checked = why.guess === i;
    input.addEventListener("change", () => { why.guess = i; showGuess.answer(names, joules); });
    label.append(input, ` ${names[i]}`);
    return label;
  }));
  showGuess.answer(names, joules);
}

/** @param {string[]} names @param {number[]} joules */
showGuess.answer = (names, joules) => {
  element("guess-answer").textContent = why.guess === null ? "" :
    `In this cook ${names.map((name, i) => `${name} takes ${i === 0 ? "" : "at most "}${quantity("heat", joules[i])}`).join(", ")}. ` +
    (why.guess === 0 ? "You had it." : "Evaporation takes by far the most: take it away below and see.");
};

function showChanged() {
  const { planned, changed } = why;
  if (!planned || !changed) return;
  const words = why.causes.map((i) => tablesOfLibrary.causes[i].words).join(", ");
  const cooks = [{ ...planned.cook, words: "as planned" }];
  if (why.causes.length > 0) cooks.push({ ...changed.cook, words });
  changesChart("changes", cooks);
  const tell = (/** @type {any} */ told) => (told.choice.error ? told.choice.error : told.never_ends ? "it never gets done" :
    `done after ${quantity("duration", told.cook.done_s)}, ${isAbsent(told.cook.stall_length_s) ? "no stall" : `a stall of ${quantity("duration", told.cook.stall_length_s)}`}`);
  element("changed-words").textContent = why.causes.length === 0 ? `As planned: ${tell(planned)}.`
    : `As planned: ${tell(planned)}. With ${words}: ${tell(changed)}.`;
}

function showInside() {
  if (!why.changed) return;
  const moment = lab.moment;
  data.lab = { axes: [], cooks: [why.changed.cook], shape: why.changed.modelled ? why.changed.modelled.shape : "slab" };
  beginLab();
  if (moment > 0 && why.changed.cook.time_s) lab.moment = Math.min(moment, why.changed.cook.time_s.length - 1);
  showLab();
}

function showTold() {
  const e = why.explanation;
  if (!e || !why.planned) return;
  for (const place of /** @type {any} */ (document.querySelectorAll("[data-says]"))) place.textContent = proseText(e[place.dataset.says]);
  if (why.planned.cook.time_s) balanceChart("balance", why.planned.cook);
  commonChart("common", e.document);
  const item = (/** @type {string} */ name, /** @type {string} */ text, /** @type {string} */ source) => {
    const entry = document.createElement("li");
    entry.append(made("strong", name), `: ${text}`);
    if (source) entry.append(" ", made("small", `(${source})`));
    return entry;
  };
  element("common-list").replaceChildren(...e.common.map((/** @type {any} */ c) => item(c.name, proseText(c.says), c.source)));
  element("changes-list").replaceChildren(...e.changes.map((/** @type {any} */ c) => item(c.words, proseText(c.says), "")));
}

function showHours() {
  const hours = why.hours && why.hours.hours, table = element("hours-table");
  if (!hours) return;
  const head = (/** @type {string} */ text) => Object.assign(made("th", text), { scope: "col" });
  table.tHead.rows[0].replaceChildren(...["hour", "probe at its end", ...Object.values(HOURS)].map(head));
  table.tBodies[0].replaceChildren(...hours.start.map((/** @type {number} */ from, /** @type {number} */ i) => {
    const row = document.createElement("tr");
    row.append(made("td", `${quantity("duration", from)} to ${quantity("duration", hours.end[i])}`), made("td", quantity("temperature", hours.probe[i])),
      ...Object.keys(HOURS).map((name) => made("td", quantity("heat", hours[name][i]))));
    return row;
  }));
}

function showWhy() {
  showGuess();
  showChanged();
  showInside();
  showTold();
  showHours();
  element("teacher").hidden = !forTeacher();
}

/** @param {() => void} changed called when a cause is switched */
function beginWhy(changed) {
  listenToLab();
  element("causes").append(...tablesOfLibrary.causes.map((/** @type {any} */ cause, /** @type {number} */ i) => {
    const label = document.createElement("label"), input = document.createElement("input");
    input.type = "checkbox";
    input.name = "cause";
    input.value = cause.name;
    input.addEventListener("change", () => {
      why.causes = why.causes.filter((one) => one !== i);
      if (input.checked) why.causes.push(i);
      changed();
    });
    label.append(input, ` ${cause.words}`);
    return label;
  }));
  element("reader-form").addEventListener("change", () => {
    showWhy();
    if (forTeacher() && !why.hours) changed();
  });
}
