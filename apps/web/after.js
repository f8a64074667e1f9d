// SPDX-License-Identifier: BSD-3-Clause
// @ts-check
/* The meat is off the pit: rest, hold, slicing. What is computed of them is the likeliest cook's; what a thermometer says goes before. */

/** Phases of the cook as computed, by name. @param {string} name @returns {any} undefined if there is none */
const phaseOf = (name) => under.told?.after?.phases?.find((/** @type {any} */ one) => one.phase === name);

/** @returns {"on" | "resting" | "holding" | "over"} */
function stage() {
  if (whenDone("off") === null) return "on";
  return whenDone("sliced") !== null ? "over" : whenDone("held") !== null ? "holding" : "resting";
}

/** What comes next, and when [s after the meat went on]; null if that is not known. @returns {[string, number | null]} */
function nextStep() {
  const rest = phaseOf("rest"), hold = phaseOf("hold"), last = hold ?? rest;
  if (stage() === "resting" && rest && hold) return ["Into the hold", rest.end_s];
  return ["Slice", last ? last.end_s : null];
}

/** The last reading since it came off. @returns {Entry | null} */
const lastSince = () => entriesOf("reading").filter((e) => e.time >= Number(whenDone("off"))).pop() ?? null;

/** The likeliest cook's probe at a moment, by its nearest. @param {number} at [s after the meat went on] @returns {number | null} [K] */
function computedProbe(at) {
  const cook = under.told.after?.cook;
  if (!cook || !cook.time_s || at > cook.time_s[cook.time_s.length - 1]) return null;
  const next = cook.time_s.findIndex((/** @type {number} */ s) => s >= at);
  return cook.probe_k[next];
}

/** Three things once it is off the pit: name, figure, what it means. @returns {string[][]} */
function thingsAfter() {
  const reading = lastSince(), at = under.on === null ? lastKnown() : (Date.now() - under.on) / 1000, computed = computedProbe(at), [step, when] = nextStep();
  const { fall_back: kept, lowest_since_hot_k: lowest } = under.told.track.measured_safety, limit = tablesOfLibrary.hot_holding[units === "us" ? 1 : 0];
  const probe = reading ? [quantity("temperature", reading.value), `as of ${wallClock(reading.time)}`]
    : computed === null ? ["no reading", "since it came off"] : [`about ${quantity("temperature", computed)}`, "as computed: no reading since it came off"];
  const next = stage() === "over" ? ["Sliced", wallClock(Number(whenDone("sliced"))), ""]
    : [step, when === null ? "-" : when <= at ? "now" : wallClock(when), `to be served at ${element("serve-time").value}`];
  return [["Probe", probe[0], probe[1]], next, ["Kept hot", isAbsent(lowest) ? "not measured" : kept === "not met" ? "NO" : "yes",
    isAbsent(lowest) ? `hot food is kept at ${limit} or more` : `lowest reading since it was hot ${quantity("temperature", lowest)}; hot food is kept at ${limit} or more`]];
}

/** For the line that stays in sight. @returns {string} */
function afterInShort() {
  const [step, when] = nextStep();
  if (stage() === "over") return `Sliced at ${wallClock(Number(whenDone("sliced")))}. The cook is over.`;
  return when === null ? "Off the pit." : `${stage() === "holding" ? "In the hold" : "Off the pit, resting"}. ${step} at ${wallClock(when)}.`;
}

/** How it went, or goes, since it came off. @returns {string[]} */
function afterSentences() {
  const off = Number(whenDone("off")), held = whenDone("held"), sliced = whenDone("sliced"), { after } = under.told, side = units === "us" ? 1 : 0, [step, when] = nextStep();
  if (!after || after.choice.error) return [after?.choice.error ? `Rest and hold could not be computed: ${after.choice.error}.` : "Rest and hold are being computed."];
  const end = after.phases[after.phases.length - 1], said = [`Off the pit at ${wallClock(off)}, ${quantity("duration", off)} after the meat went on.`];
  if (held !== null) said.push(`Rested ${quantity("duration", held - off)}, in the hold at ${wallClock(held)}.`);
  if (sliced !== null)
    said.push(`Sliced at ${wallClock(sliced)}${held === null ? `, ${quantity("duration", sliced - off)} after it came off` : `, held ${quantity("duration", sliced - held)}`}. ` +
      `The probe of the likeliest cook was then at ${quantity("temperature", end.probe_k)}.`);
  else if (when !== null) said.push(`${step} at about ${wallClock(when)}. When it is sliced, the probe of the likeliest cook is at ${quantity("temperature", end.probe_k)}.`);
  return [...said, ...after.warnings.map((/** @type {string[]} */ w) => w[side])];
}

function showAfter() {
  const isOff = stage() !== "on";
  element("after-says").replaceChildren(...(isOff ? afterSentences().map((text) => said(text, false)) : []));
  element("choices").hidden = isOff;
  element("track-says").hidden = isOff;
}

/* Only the steps that can come now. */
function showNextSteps() {
  const can = { off: under.on !== null && stage() === "on", held: stage() === "resting", sliced: stage() === "resting" || stage() === "holding" };
  for (const [step, is] of Object.entries(can)) element(`add-${step}`).hidden = !is;
}

/** One after the other. @param {string} step */
function addStep(step) {
  addEntry(step);
  const { time } = under.entries[under.entries.length - 1], before = Math.max(...["off", "held"].filter((one) => one !== step).map((one) => whenDone(one) ?? 0));
  if (time >= before) return;
  under.entries.pop();
  throw new FieldError("at-time", "At: this is before the step that went before");
}
