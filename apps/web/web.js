// SPDX-License-Identifier: BSD-3-Clause
// @ts-check
/* The page: what is set is computed, and shown again when it or the units change. */

/* Moments of a curve and layers of a cross-section: more than a screen tells apart. */
const MOMENTS = 240, SECTION_MOMENTS = 60, SECTION_LAYERS = 48;
/* What is spent: draws of the band, few at first and then as many as the program makes, and draws of a part of it; draws of a plan and of
 * a cook under way, with those of each other choice; how long another change is waited for before anything is computed [ms]. */
const effort = { draws: [30, 100], part: 10, plan: [[60, 0], [300, 100]], track: [[60, 0], [200, 50]], pause: 40 };
const allDraws = () => effort.draws[effort.draws.length - 1];
/** @param {number[][]} steps of a plan or a cook under way */
const lastDraws = (steps) => steps[steps.length - 1][0];
/* What the table of the wraps reads of each, by the names of the library. */
const WRAP_FIGURES = ["done_time", "stall_start", "stall_length", "yield_fraction", "bark"];

/** @type {any} */
let tablesOfLibrary = null;
/** @type {Crew} */
let bench;
/** What is shown; fields: what the controls said then. @type {{view: string, fields: Settings | null, told: any, band: any, wraps: any[]}} */
const now = { view: "before", fields: null, told: null, band: null, wraps: [] };
let generation = 0;
/** @type {any} */
let pause = null;

/** @param {string} words @param {boolean} busy */
function say(words, busy) {
  element("state").textContent = words;
  element("stop").disabled = !busy;
  document.body.dataset.busy = busy ? "yes" : "no";
}

function clearTrouble() {
  element("trouble").hidden = true;
  element("trouble").textContent = "";
  for (const wrong of document.querySelectorAll("[aria-invalid]")) {
    wrong.removeAttribute("aria-invalid");
    wrong.removeAttribute("aria-describedby");
  }
}

/** @param {any} error */
function showTrouble(error) {
  const id = error instanceof FieldError ? error.id : error instanceof LibraryError && error.key ? fieldOfKey[error.key] : null;
  if (id) {
    element(id).setAttribute("aria-invalid", "true");
    element(id).setAttribute("aria-describedby", "trouble");
  }
  element("trouble").textContent = `${error.message}${/[.?!]$/.test(error.message) ? "" : "."} What is shown below is the last cook that could be computed.`;
  element("trouble").hidden = false;
  say("Not computed.", false);
}

const startClock = () => Number(now.fields ? now.fields.start : 0);

/** What is computed for a view, unless something changes meanwhile. @param {Settings} settings */
async function compute(settings) {
  const mine = ++generation, changed = () => mine !== generation;
  say("Computing.", true);
  try {
    if (now.view === "before") await computeAnswer(settings, changed);
    else await computeView(settings, changed);
  } catch (error) {
    if (!changed() || error instanceof Cancelled) throw error;
  }
}

/** @param {Settings} settings @param {() => boolean} changed */
async function computeView(settings, changed) {
  await computeCook(settings, bench.first, changed);
  if (changed()) return;
  const wanted = await (now.view === "when" ? computePlan(changed) : now.view === "during" ? computeUnderWay(changed) : computeWhy(settings, changed));
  if (!wanted) return;
  say(now.view === "when" ? planInShort() : now.view === "why" ? inShort(now.told, now.band) : underWayInShort(), false);
}

/** @param {Settings} settings @param {Bench} worker @param {() => boolean} changed */
async function computeCook(settings, worker, changed) {
  const fields = fieldSettings();
  const told = await worker.call("cook", settings, [], MOMENTS, 0);
  if (changed()) return;
  if (told.choice.error) throw new LibraryError(told.choice.error, null);
  Object.assign(now, { fields, told, band: null, wraps: [] });
  why.explanation = null;
  showAnswer(told, null, startClock());
}

/** The cook, the first draws of its band, the wraps and the other draws, side by side: each is shown as soon as it is there.
 * @param {Settings} settings @param {() => boolean} changed */
async function computeAnswer(settings, changed) {
  const drawing = new Drawing(settings, effort.draws, effort.part);
  let isCooked = false;
  const showBandSoFar = async () => {
    const draws = isCooked && !changed() && !now.told.never_ends ? drawing.fresh() : 0;
    if (draws === 0) return;
    const band = await bench.call("band", settings, drawing.parts(draws), draws, drawing.all);
    if (changed()) return;
    now.band = band;
    showAnswer(now.told, band, startClock());
  };
  const cook = async (/** @type {Bench} */ worker) => {
    await computeCook(settings, worker, changed);
    isCooked = !changed();
    await showBandSoFar();
  };
  const parts = drawing.tasks.map((tasks) => tasks.map((draw) => async (/** @type {Bench} */ worker) => {
    if (isCooked && now.told.never_ends) return;
    await draw(worker);
    await showBandSoFar();
  }));
  await bench.share([cook, ...parts[0], ...wrapTasks(settings, changed), ...parts.slice(1).flat()], changed);
  if (!changed()) say(inShort(now.told, now.band), false);
}

/** @param {() => boolean} changed @returns {Promise<boolean>} whether it is still wanted */
async function computePlan(changed) {
  const settings = planSettings(), odds = Number(element("odds").value);
  for (const [draws, compared] of effort.plan) {
    const told = await bench.call("plan", settings, servingDate(), Date.now() / 1000, odds, draws, compared);
    if (changed()) return false;
    when.told = told;
    showPlan();
  }
  return true;
}

/** @param {() => boolean} changed @returns {Promise<boolean>} whether it is still wanted */
async function computeUnderWay(changed) {
  const settings = underWaySettings(), serving = servingAfter(startOfCook());
  showUnderWay();
  for (const [draws, ofChoices] of effort.track) {
    const told = await bench.call("track", settings, happened(), lastKnown(), serving, draws, ofChoices);
    if (changed()) return false;
    under.told = told;
    showUnderWay();
  }
  return true;
}

/** What has to be done for the wraps side by side. @param {Settings} settings @param {() => boolean} changed
 * @returns {((worker: Bench) => Promise<void>)[]} */
function wrapTasks(settings, changed) {
  const fields = fieldSettings(), names = tablesOfLibrary.wraps.map((/** @type {any} */ wrap) => wrap.name);
  const hasMoment = settings["wrap.when"] !== undefined || (saidByFile("wrap.kind", settings) ?? "none") !== "none";
  /** @type {Map<string, any>} */
  const found = new Map();
  return names.map((/** @type {string} */ name) => async (/** @type {Bench} */ worker) => {
    const wrapped = { ...settings, "wrap.kind": name, ...(name === "none" || hasMoment ? {} : { "wrap.when": fields["wrap.when"] ?? wrapEnding() }) };
    /* What one of them cannot do is told in its row. */
    const told = await worker.call("read", wrapped, WRAP_FIGURES, ["tenderness"], ["time", "probe_temperature"]).catch((error) => {
      if (error instanceof LibraryError) return { error: error.message };
      throw error;
    });
    found.set(name, told);
    if (changed() || found.size < names.length) return;
    now.wraps = names.map((/** @type {string} */ one) => ({ name: one, ...found.get(one) }));
    showWraps(now.wraps, String(fields["wrap.kind"]), Number(fields.start));
  });
}

/** What a cook most wants to know, for the line that stays in sight. @param {any} told @param {any} band */
function inShort(told, band) {
  if (told.never_ends) return "It never comes off the pit.";
  return `Off the pit ${clockAt(startClock(), told.choice.done_s)}${band ? `, most such cooks ${showBand(band, startClock())}` : ""}; ` +
    (isAbsent(told.cook.stall_length_s) ? "no stall." : `stall ${quantity("duration", told.cook.stall_length_s)}.`);
}

/** @param {Settings} settings @param {() => boolean} changed @returns {Promise<boolean>} whether it is still wanted */
async function computeWhy(settings, changed) {
  const planned = await bench.call("cook", settings, [], SECTION_MOMENTS, SECTION_LAYERS);
  const other = why.causes.length > 0 ? await bench.call("cook", settings, why.causes, SECTION_MOMENTS, SECTION_LAYERS) : planned;
  if (changed()) return false;
  Object.assign(why, { planned, changed: other });
  showChanged();
  showInside();
  const explanation = await bench.call("explain", settings);
  if (changed()) return false;
  why.explanation = explanation;
  why.hours = forTeacher() ? await bench.call("hours", settings, ["start", "end", "probe", ...Object.keys(HOURS)]) : null;
  if (changed()) return false;
  showWhy();
  return true;
}

/** @param {any} error */
function failed(error) {
  if (error instanceof Cancelled) say("Stopped. Change something, and it is computed.", false);
  else showTrouble(error);
}

function update() {
  clearTrouble();
  if (keep()) showUnits();
  showFieldsThatCount();
  showLoaded();
  showLearned();
  showCooks();
  try {
    compute(settingsOf()).catch(failed);
  } catch (error) {
    generation++;
    showTrouble(error);
  }
}

function changedSoon() {
  sayOfTabs("");
  clearTimeout(pause);
  pause = setTimeout(update, effort.pause);
}

/* Only what plays a part is on the page. */
function showFieldsThatCount() {
  const wrap = element("wrap").value, hold = element("hold-by").value, isSpritzed = fieldValue("spritz") > 0;
  const shown = {
    "field-wrap-by": wrap !== "none", "field-wrap-probe": wrap !== "none" && element("wrap-by").value === "temperature",
    "field-wrap-hours": wrap !== "none" && element("wrap-by").value === "duration", "field-pull-probe": element("pull-by").value === "temperature",
    "field-spritz-every": isSpritzed, "field-spritz-from": isSpritzed, "field-hold-hours": hold === "duration", "field-hold-clock": hold === "clock", "field-hold-temperature": hold !== "none",
  };
  for (const [id, is] of Object.entries(shown)) element(id).hidden = !is;
}

function showUnits() {
  for (const input of numberFields()) showField(input);
  for (const place of document.querySelectorAll(".hot-holding")) place.textContent = tablesOfLibrary.hot_holding[units === "us" ? 1 : 0];
  if (!now.told) return;
  showAnswer(now.told, now.band, startClock());
  if (now.fields) showWraps(now.wraps, String(now.fields["wrap.kind"]), startClock());
  showWhy();
  showPlan();
  showUnderWay();
}

/** @param {string} view */
function look(view) {
  now.view = view;
  document.body.dataset.view = view;
  for (const button of /** @type {any} */ (document.querySelectorAll("button.view"))) button.setAttribute("aria-pressed", String(button.dataset.view === view));
  for (const name of ["before", "when", "during", "why", "safety"]) element(`view-${name}`).hidden = name !== view;
  window.scrollTo(0, 0);
  if (view === "safety") return;
  showUnits(); /* charts that were out of sight are drawn anew */
  update();
}

/** @param {string} id @param {{name: string, words: string}[]} choices */
function fillList(id, choices) {
  for (const { name, words } of choices) element(id).add(new Option(words, name));
}

function listen() {
  for (const id of ["cook-form", "when-form", "during-form"]) {
    const form = element(id), waits = (/** @type {any} */ field) => field.name === "units" || PASSING.includes(field.id);
    form.addEventListener("submit", (/** @type {Event} */ event) => event.preventDefault());
    form.addEventListener("input", (/** @type {any} */ event) => {
      if (event.target.dataset.quantityKind) typed(event.target);
      if (!waits(event.target)) changedSoon();
    });
    form.addEventListener("change", (/** @type {any} */ event) => { if (!waits(event.target)) changedSoon(); });
  }
  for (const button of /** @type {any} */ (document.querySelectorAll("button[data-step]")))
    button.addEventListener("click", () => stepField(button.dataset.for, Number(button.dataset.step)));
  for (const input of /** @type {any} */ (document.querySelectorAll("input[name=units]")))
    input.addEventListener("change", () => {
      units = input.value;
      sayOfTabs("");
      keep();
      bench.setUnits(units === "us");
      showUnits();
      if (!element("trouble").hidden) update();
    });
  for (const button of /** @type {any} */ (document.querySelectorAll("button.view"))) button.addEventListener("click", () => look(button.dataset.view));
  element("stop").addEventListener("click", () => {
    generation++;
    bench.cancel();
  });
}

async function begin() {
  const bytes = Uint8Array.from(atob(element("module").textContent), (c) => c.charCodeAt(0));
  const unpacked = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
  const module = await WebAssembly.compile(await new Response(unpacked).arrayBuffer());
  const tellProgress = (/** @type {any} */ progress) => say(progress.total ? `Computing: ${progress.done} of ${progress.total} cooks done.`
    : `Computing: ${quantity("duration", progress.time)} of the cook done.`, true);
  bench = new Crew(() => new Bench(module, element("worker").textContent, tellProgress), Crew.size());
  tablesOfLibrary = await bench.call("tables");
  fillList("cut", tablesOfLibrary.cuts.map((/** @type {any} */ cut) => ({ name: cut.name, words: cut.description })));
  for (const [id, key] of [["pit", "pit.kind"], ["wrap", "wrap.kind"], ["wrapped", "wrap.kind"]])
    fillList(id, tablesOfLibrary.keys[key].words.map((/** @type {string} */ word) => ({ name: word, words: word })));
  element("version").textContent = tablesOfLibrary.version;
  for (const place of document.querySelectorAll(".deference")) place.textContent = tablesOfLibrary.deference;
  openAny();
  beginWhy(update);
  listenToWhen();
  listenToDuring(update, showTrouble);
  listenToCooks(update, showTrouble);
  listen();
  watchClock();
  showUnits();
  update();
}

begin().catch((error) => {
  element("trouble").textContent = `This browser cannot run the page: ${error.message}`;
  element("trouble").hidden = false;
});
