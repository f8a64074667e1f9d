// SPDX-License-Identifier: BSD-3-Clause
// @ts-check
/* The answer to what is set: figures, cautions, the curve with its band, the wraps side by side. */

/** @param {number} start [s after midnight] @param {number} seconds after that @returns {string} "08:18", "08:18, next day" */
function clockAt(start, seconds) {
  const all = 60 * Math.round((start + seconds) / 60), day = Math.floor(all / 86400);
  return show.clock(all - 86400 * day) + (day === 0 ? "" : day === 1 ? ", next day" : `, ${day} days later`);
}

/** @param {string} tag @param {string} text @param {string} [className] */
function made(tag, text, className) {
  const node = document.createElement(tag);
  node.textContent = text;
  if (className) node.className = className;
  return node;
}

/** @param {[string, any][]} pieces of a prose, as the library tells it @returns {string} */
const proseText = (pieces) => pieces.map(([kind, value]) => (kind === "text" ? value : quantity(kind, value))).join("");

/** A text that goes on for long: what it comes to, and the rest of it behind a tap. @param {string} tag @param {string} text @param {string} [className] */
function madeLong(tag, text, className) {
  const node = made(tag, text, className), cut = text.indexOf("). ") + 2;
  if (cut < 2 || text.length - cut < LONG) return node;
  const more = document.createElement("details");
  more.className = "more";
  more.append(made("summary", "What the rule says, and why"), made("p", text.slice(cut)));
  node.replaceChildren(text.slice(0, cut), more);
  return node;
}
/* What is worth a tap [characters]. */
const LONG = 120;

/** A sentence, framed if it warns. @param {string} text @param {boolean} isDoubt */
const said = (text, isDoubt) => madeLong("div", text, isDoubt || /^(WARNING|NOT MET)/.test(text) ? "said notice" : "said");

/* Rounded to the side that warns: cooks may be done from the earlier hour on, and not before the later. */
/** @param {any} band @param {number} start @returns {string} */
function showBand(band, start) {
  const early = clockAt(start, 60 * Math.floor((start + band.done_low_s) / 60) - start);
  return isAbsent(band.done_high_s) ? `${early} or later` : `${early} to ${clockAt(start, 60 * Math.ceil((start + band.done_high_s) / 60) - start)}`;
}

/** What a band, a plan or a cook under way stands on. @param {number} drawn @param {number} all that are drawn in the end @returns {string} */
const drawnWords = (drawn, all) => (drawn < all ? `A first answer, from ${drawn} cooks: it is made surer as the rest of ${all} is drawn.`
  : `${drawn} cooks were drawn.`);

/** @param {any} told @param {any} band may be null @param {number} start @returns {[string, string, string][]} name, figure, what it means */
function figuresOf(told, band, start) {
  const figures = told.choice, cook = told.cook;
  const done = told.never_ends ? ["never", "It does not come to the reading at which it comes off."]
    : [clockAt(start, figures.done_s), `after ${quantity("duration", figures.done_s)}`];
  const range = told.never_ends ? "-" : band ? showBand(band, start) : "…";
  const ready = isAbsent(figures.slice_s) ? "-" : clockAt(start, figures.slice_s);
  const failed = band && band.never_done > 0 ? ` ${band.never_done} of ${band.draws} such cooks never come to it.` : "";
  return [
    ["Off the pit", done[0], done[1]],
    ["8 of 10 such cooks", range, `come off between these hours: plan by the later one.${failed} ${band ? drawnWords(band.draws, allDraws()) : ""}`],
    ["Stall", isAbsent(cook.stall_length_s) ? "none" : quantity("duration", cook.stall_length_s),
      isAbsent(cook.stall_start_s) ? "" : `from ${clockAt(start, cook.stall_start_s)}, probe at ${quantity("temperature", cook.stall_probe_k)}`],
    ["Ready to slice", ready, isAbsent(figures.slice_probe_k) ? "" : `probe then at ${quantity("temperature", figures.slice_probe_k)}`],
    ["Weight left", quantity("share", figures.yield_fraction), isAbsent(figures.servings) ? "" : `about ${Math.floor(figures.servings)} servings`],
    ["Bark index", quantity("number", figures.bark), `0 none, 1 dark and dry; the top ${figures.top_state ?? "-"} when it comes off`],
    ["Tender?", figures.tenderness ?? "-", "from the collagen turned to gelatin"],
  ];
}

/** @param {any} told @param {any} band @param {number} start */
function showFigures(told, band, start) {
  element("figures").replaceChildren(...figuresOf(told, band, start).map(([name, figure, meaning]) => {
    const group = document.createElement("div");
    group.append(made("dt", name), made("dd", figure, "figure"), made("dd", meaning, "meaning"));
    return group;
  }));
}

/* What is not met and what did not come, before anything else. */
/** @param {any} told */
function showCautions(told) {
  const list = document.createElement("ul"), side = units === "us" ? 1 : 0;
  if (told.never_ends) list.append(made("li", told.never_ends));
  for (const missing of told.missing ?? []) list.append(made("li", proseText(missing)));
  for (const warning of told.warnings ?? []) list.append(madeLong("li", warning[side]));
  const box = document.createElement("div");
  if (list.children.length > 0) {
    box.className = "notice";
    box.append(made("strong", "Mind:"), list);
  }
  element("cautions").replaceChildren(box);
  const warnings = (told.warnings ?? []).map((/** @type {string[]} */ w) => made("li", w[side]));
  element("safety-list").replaceChildren(...(warnings.length > 0 ? warnings
    : [made("li", "Of the rules that were judged, none is broken by what was computed.")]));
}

/** @param {any} told @param {any} band @param {number} start */
function showAnswer(told, band, start) {
  showFigures(told, band, start);
  showCautions(told);
  temperatureChart("course", told.cook, undefined, band && band.curve.time_s.length > 0 ? band.curve : undefined);
  element("band-words").textContent = band ? drawnWords(band.draws, allDraws()) : "";
}

/** @param {any[]} wraps read by name, or with the sentence why not @param {string} chosen @param {number} start */
function showWraps(wraps, chosen, start) {
  const rows = wraps.map((wrap) => {
    const row = document.createElement("tr"), head = made("th", wrap.name === chosen ? `${wrap.name} (set)` : wrap.name);
    head.setAttribute("scope", "row");
    const cells = wrap.error ? [wrap.error] : [clockAt(start, wrap.done_time), quantity("duration", wrap.done_time),
      isAbsent(wrap.stall_length) ? "none" : quantity("duration", wrap.stall_length), quantity("share", wrap.yield_fraction),
      quantity("number", wrap.bark), wrap.tenderness];
    row.append(head, ...cells.map((text) => made("td", text)));
    if (wrap.error) /** @type {any} */ (row.cells[1]).colSpan = 6;
    return row;
  });
  element("wraps-table").tBodies[0].replaceChildren(...rows);
  changesChart("wraps-chart", wraps.filter((wrap) => !wrap.error).map(curveOf));
}

/** As charts take it: every few rows, which a screen does not tell apart, and the last. @param {any} wrap */
function curveOf(wrap) {
  const stride = Math.ceil(wrap.time.length / MOMENTS), last = wrap.time.length - 1;
  const some = (/** @type {number[]} */ list) => list.filter((_, i) => i % stride === 0 || i === last);
  return { words: wrap.name, time_s: some(wrap.time), probe_k: some(wrap.probe_temperature), stall_start_s: wrap.stall_start,
    stall_length_s: wrap.stall_length };
}
