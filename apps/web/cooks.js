// SPDX-License-Identifier: BSD-3-Clause
// @ts-check
/* Cooks that are kept in the browser's own storage, each under a key of its own, and what was learned of pits. A revision says whether
 * another tab has written since: then this one writes nothing and shows what is there. */

const KEPT_UNDER = "stallwright.cook.", OPEN_UNDER = "stallwright.open", PIT_UNDER = "stallwright.pit.";
/* The fields that are not a cook's: those that add something, and those of the list of cooks. */
const PASSING = ["on-time", "at-time", "reading", "reading-probe", "pit-set", "wrapped", "load-scenario", "load-log", "cook-list", "cook-name"];

/** The cook that is open; revision: as this tab read or wrote it last, null if it never did.
 * @type {{id: string, name: string, revision: string | null, learned: boolean}} */
const current = { id: "", name: "", revision: null, learned: false };
/** @type {{id: string, text: string, name: string} | null} */
let deleted = null;

/** What the storage has, if it may be asked. @param {string} key @returns {string | null} */
function stored(key) {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}

/** Writes, and reads again. @param {string} key @param {string} text @returns {"kept" | "full" | "refused"} */
function store(key, text) {
  try {
    localStorage.setItem(key, text);
    return localStorage.getItem(key) === text ? "kept" : "refused";
  } catch (error) {
    return error instanceof DOMException && error.name === "QuotaExceededError" && keysKept().length > 0 ? "full" : "refused";
  }
}

/** @returns {string[]} of all that this page has in the storage */
function keysKept() {
  try {
    return Array.from({ length: localStorage.length }, (_, i) => localStorage.key(i) ?? "").filter((key) => key.startsWith("stallwright."));
  } catch {
    return [];
  }
}

const unlike = () => `${Date.now().toString(36)}-${Math.random().toString(36).slice(2, 10)}`;

/** @param {any} field @returns {any} */
const heldBy = (field) => (field.type === "checkbox" ? field.checked : field.dataset.quantityKind ? field.dataset.si ?? null : field.value);

/** What is kept of a cook, but for its revision. @returns {any} */
function keptCook() {
  /** @type {{[id: string]: any}} */
  const fields = {};
  for (const field of /** @type {any} */ (document.querySelectorAll("form input[id], form select[id]")))
    if (!PASSING.includes(field.id)) fields[field.id] = heldBy(field);
  return { version: 2, name: current.name, learned: current.learned, fields, units, on: under.on, entries: under.entries, log: under.log, file: loaded.file };
}

/** Whether all of it is what this page keeps. @param {any} kept @returns {boolean} */
function isKeptCook(kept) {
  const good = (/** @type {any} */ e) => entryKinds[e.kind] !== undefined && Number.isFinite(e.time) && e.time >= 0 &&
    (e.kind === "wrapped" ? typeof e.value === "string" : Number.isFinite(e.value) || !["reading", "pit"].includes(e.kind));
  const goodLog = (/** @type {any} */ log) => Array.isArray(log.names) && log.names.every((/** @type {any} */ name) => typeof name === "string") && Array.isArray(log.rows) &&
    log.rows.every((/** @type {any} */ row) => Array.isArray(row) && row.length === 4 && row.every((cell, i) => Number.isFinite(cell) || (i > 0 && cell === null)));
  return kept && kept.version === 2 && typeof kept.name === "string" && typeof kept.fields === "object" && Array.isArray(kept.entries) && kept.entries.every(good) && (!kept.log || goodLog(kept.log)) &&
    (!kept.file || (typeof kept.file.text === "string" && typeof kept.file.filled === "object" && Array.isArray(kept.file.held))) &&
    (kept.on === null || Number.isFinite(kept.on)) && (kept.units === "si" || kept.units === "us");
}

/** A cook that was kept. @param {string} id @returns {any} null if there is none, or none that can be read */
function remembered(id) {
  try {
    const kept = JSON.parse(stored(KEPT_UNDER + id) ?? "null");
    return isKeptCook(kept) ? kept : null;
  } catch {
    return null;
  }
}

/** Those that can be read, the last kept first. @returns {{id: string, name: string, saved: number}[]} */
const cooksKept = () => keysKept().filter((key) => key.startsWith(KEPT_UNDER)).map((key) => key.slice(KEPT_UNDER.length))
  .flatMap((id) => { const kept = remembered(id); return kept ? [{ id, name: kept.name, saved: kept.saved ?? 0 }] : []; })
  .sort((a, b) => b.saved - a.saved);

/** Shows a cook on the page. @param {string} id @param {any} kept one that is one */
function takeKept(id, kept) {
  for (const [field, value] of Object.entries(kept.fields)) {
    const input = element(field);
    if (!input || PASSING.includes(field)) continue;
    if (input.type === "checkbox") input.checked = value;
    else if (!input.dataset.quantityKind) input.value = value;
    else if (value === null) delete input.dataset.si, input.value = "";
    else input.dataset.si = value;
  }
  Object.assign(current, { id, name: kept.name, revision: kept.revision, learned: kept.learned });
  Object.assign(under, { on: kept.on, entries: kept.entries, log: kept.log ?? null, told: null });
  loaded.file = kept.file ?? null;
  units = kept.units;
  for (const input of /** @type {any} */ (document.querySelectorAll("input[name=units]"))) input.checked = input.value === units;
  bench.setUnits(units === "us");
}

/** @param {"kept" | "full" | "refused"} how */
function sayKept(how) {
  const take = "Leave the page open, or take the cook along:";
  element("kept").className = how === "kept" ? "quiet" : "notice";
  element("kept-words").textContent = how === "kept" ? `\u201c${current.name}\u201d is kept in this browser.`
    : how === "full" ? `\u201c${current.name}\u201d is NOT kept as it is now: the storage of this browser is full. Delete a cook that is done with. ${take}`
      : `\u201c${current.name}\u201d is NOT kept: this browser grants the page no storage. ${take}`;
  for (const button of /** @type {any} */ (document.querySelectorAll(".take-along"))) button.hidden = how === "kept";
}

/* This tab opens it again, and so does a new one. */
function rememberOpen() {
  if (stored(OPEN_UNDER) !== current.id) store(OPEN_UNDER, current.id);
  try {
    sessionStorage.setItem(OPEN_UNDER, current.id);
  } catch {
    /* Then it opens what was open last in any tab. */
  }
}

/** What this tab had open before it was loaded anew. @returns {string | null} */
function openBefore() {
  try {
    return sessionStorage.getItem(OPEN_UNDER);
  } catch {
    return null;
  }
}

/** Keeps the cook, and says whether it is kept. If another tab has changed it since, that is shown and nothing is written.
 * @returns {boolean} whether the page shows what another tab has */
function keep() {
  const other = remembered(current.id), before = keptCook(), revision = unlike();
  if (other && current.revision !== null && other.revision !== current.revision) {
    takeKept(current.id, other);
    sayOfTabs("Another tab changed this cook. What it has is shown here; the last change in this tab was not kept: make it again if it is still wanted.");
    return true;
  }
  const { saved, revision: last, ...same } = other ?? {};
  if (other && last === current.revision && JSON.stringify(same) === JSON.stringify(before)) {
    rememberOpen();
    sayKept("kept");
    return false;
  }
  const how = store(KEPT_UNDER + current.id, JSON.stringify({ ...before, saved: Date.now(), revision }));
  if (how === "kept") {
    current.revision = revision;
    rememberOpen();
  }
  sayKept(how);
  showCooks();
  return false;
}

/** @param {string} words about another tab, until something changes here */
function sayOfTabs(words) {
  element("tabs-words").textContent = words;
  element("tabs-words").hidden = words === "";
}

function showCooks() {
  const list = element("cook-list"), kept = cooksKept();
  if (!kept.some(({ id }) => id === current.id)) kept.unshift({ id: current.id, name: current.name, saved: Date.now() });
  list.replaceChildren(...kept.map(({ id, name, saved }) => new Option(`${name} (${momentOfDay(saved)})`, id, false, id === current.id)));
  if (document.activeElement !== element("cook-name")) element("cook-name").value = current.name;
  element("cook-shown").textContent = current.name;
  element("undo-delete").hidden = deleted === null;
  element("undo-delete").textContent = deleted ? `Bring back \u201c${deleted.name}\u201d` : "";
}

/** @param {number} at [ms since 1970] @returns {string} */
const momentOfDay = (at) => new Date(at).toLocaleString("en-GB", { weekday: "short", day: "numeric", month: "short", hour: "2-digit", minute: "2-digit" });

/** A cook like the one that is shown, of which nothing has been done. */
function beginCook() {
  Object.assign(current, { id: unlike(), name: `Cook of ${new Date().toLocaleDateString("en-GB", { day: "numeric", month: "long" })}`, revision: null, learned: false });
  Object.assign(under, { on: null, entries: [], log: null, told: null });
  loaded.file = null;
}

/** Opens the cook that was open last, or another that is kept, or begins one. */
function openAny() {
  const kept = cooksKept(), ids = [openBefore(), stored(OPEN_UNDER), ...kept.map(({ id }) => id)].filter((id) => kept.some((one) => one.id === id));
  if (ids[0]) takeKept(ids[0], remembered(ids[0]));
  else beginCook();
}

/* ---- what was learned of pits ---- */

/** @param {string} kind of pit @returns {string} as the library wrote it, "" if there is nothing */
const learnedOf = (kind) => stored(PIT_UNDER + kind) ?? "";

/** What the scenario takes of it. @returns {Settings} */
function learnedSettings() {
  const text = element("use-learned").checked ? learnedOf(element("pit").value) : "";
  return text ? { [LEARNED]: `pit:\n  learned:\n${text.replace(/^/gm, "    ")}\n` } : {};
}

function showLearned() {
  const kind = element("pit").value, text = learnedOf(kind), cooks = /^cooks: (\d+)/m.exec(text);
  element("field-learned").hidden = !text;
  element("forget-pit").hidden = !text;
  element("learned-words").textContent = text ? `as ${cooks ? cooks[1] : ""} cook${cooks && cooks[1] === "1" ? "" : "s"} told of my ${kind} pit` : "";
  element("learn").disabled = current.learned || !hasReadings();
  element("learn-words").textContent = current.learned ? "What this cook told of its pit is learned: once is enough." : "When the cook is done: what its readings told of the pit counts for the next cooks in it.";
}

/** Learns from the readings of this cook, once. */
async function learn() {
  const kind = element("pit").value;
  const text = await bench.call("learn", underWaySettings(), happened(), lastKnown(), lastDraws(effort.track));
  const how = store(PIT_UNDER + kind, text);
  if (how !== "kept") throw new FieldError("learn", "What was learned of the pit could not be kept: this browser grants the page no storage, or it is full");
  current.learned = true;
}

/** @param {() => void} changed called when another cook is shown @param {(error: any) => void} wrong */
function listenToCooks(changed, wrong) {
  const other = (/** @type {() => void} */ take) => () => {
    clearTrouble();
    sayOfTabs("");
    take();
    rung.clear();
    silence();
    showUnits();
    changed();
  };
  element("cook-list").addEventListener("change", other(() => {
    const id = element("cook-list").value, kept = remembered(id);
    if (kept) takeKept(id, kept);
  }));
  element("cook-name").addEventListener("change", () => {
    current.name = element("cook-name").value.trim().slice(0, 60) || current.name;
    element("cook-name").value = current.name;
    changed();
  });
  element("new-cook").addEventListener("click", other(beginCook));
  element("delete-cook").addEventListener("click", other(() => {
    const text = stored(KEPT_UNDER + current.id);
    deleted = text ? { id: current.id, text, name: current.name } : deleted;
    if (text) localStorage.removeItem(KEPT_UNDER + current.id);
    openAny();
  }));
  element("undo-delete").addEventListener("click", other(() => {
    if (!deleted || store(KEPT_UNDER + deleted.id, deleted.text) !== "kept") return;
    takeKept(deleted.id, remembered(deleted.id));
    deleted = null;
  }));
  element("learn").addEventListener("click", () => { clearTrouble(); say("Learning from this cook.", true); learn().then(changed).catch(wrong); });
  element("forget-pit").addEventListener("click", () => { localStorage.removeItem(PIT_UNDER + element("pit").value); changed(); });
  window.addEventListener("storage", (event) => {
    if (event.key !== KEPT_UNDER + current.id) {
      showCooks();
      return;
    }
    const kept = remembered(current.id);
    if (!kept) {
      current.revision = null;
      sayOfTabs("Another tab deleted this cook. It is still shown here, and is kept again once something is changed.");
    } else if (kept.revision !== current.revision) {
      takeKept(current.id, kept);
      sayOfTabs("Another tab changed this cook: what it has is shown here.");
      showUnits();
      changed();
    }
  });
}
