// SPDX-License-Identifier: BSD-3-Clause
// @ts-check
/* Alarms while the page is open: said on it and in its title, and sounded where the browser allows it. Never the only caution. */

/* How long before it is sliced that is told [s]. A choice. */
const BEFORE_SLICING = 900;
/* Done so soon that whoever cooks should come [s]; how often the clock is looked at [ms]. Choices. */
const SOON = 1800, LOOK_EVERY = 15000;

/** Those that have rung, by name. @type {Set<string>} */
const rung = new Set();
const quietTitle = document.title;

/** What is due at a moment of the cook. @param {number} at [s after the meat went on] @returns {[string, string][]} name and words */
function dueAlarms(at) {
  /** @type {[string, string][]} */
  const due = [];
  if (!under.told || under.on === null) return due;
  const { track } = under.told, done = track.choices[0].done_s, wrap = track.wrap_s, isOff = stage() !== "on";
  if (!isOff && !isAbsent(wrap.low) && at >= wrap.low && entriesOf("wrapped").length === 0)
    due.push(["wrap", `Time to wrap may have come: between ${bandClock(wrap, "low")} and ${bandClock(wrap, "high")}.`]);
  if (!isOff && !isAbsent(done.middle) && at >= done.middle - SOON) due.push(["done", `Half an hour or less to go: off the pit at about ${bandClock(done, "middle")}. Look at the probe.`]);
  const [step, when] = isOff ? nextStep() : ["", null];
  if (stage() === "resting" && step !== "Slice" && when !== null && at >= when)
    due.push(["rest", `The rest is over: into the hold, at about ${wallClock(when)}.`]);
  if (isOff && stage() !== "over" && step === "Slice" && when !== null && at >= when - BEFORE_SLICING)
    due.push(["slice", `To be sliced at about ${wallClock(when)}.`]);
  if (track.measured_safety.fall_back === "not met")
    due.push(["cold", `The probe fell below ${tablesOfLibrary.hot_holding[units === "us" ? 1 : 0]}, the least at which hot food is kept.`]);
  return due;
}

/* Two short tones; nothing where sound is not allowed, or not there. */
function sound() {
  try {
    const audio = new AudioContext();
    if (audio.state !== "running") {
      audio.close();
      return;
    }
    const tone = audio.createOscillator();
    tone.connect(audio.destination);
    tone.frequency.setValueAtTime(880, audio.currentTime);
    tone.frequency.setValueAtTime(660, audio.currentTime + 0.25);
    tone.onended = () => audio.close();
    tone.start();
    tone.stop(audio.currentTime + 0.5);
  } catch {
    /* What is on the page and in its title must do. */
  }
}

/** Rings what is due and has not rung. @param {number} at [s after the meat went on] */
function ring(at) {
  const fresh = dueAlarms(at).filter(([name]) => !rung.has(name));
  if (fresh.length === 0) return;
  for (const [name, words] of fresh) {
    rung.add(name);
    element("alarms").append(made("p", words, "notice"));
  }
  element("alarms-seen").hidden = false;
  document.title = `! ${fresh[0][1]}`;
  sound();
}

function silence() {
  element("alarms").replaceChildren();
  element("alarms-seen").hidden = true;
  document.title = quietTitle;
}

/* The clock has gone on. */
function tick() {
  if (under.on === null) return;
  ring((Date.now() - under.on) / 1000);
  if (now.view === "during") showAge();
}

function watchClock() {
  element("alarms-seen").addEventListener("click", silence);
  setInterval(tick, LOOK_EVERY);
}
