// SPDX-License-Identifier: BSD-3-Clause
"use strict";
/* Quantities as the program itself writes them, in either system of units. */
const data = JSON.parse(document.getElementById("data").textContent);
let units = data.units;

const toCelsius = (kelvin) => kelvin - 273.15;
const axisTemperature = (kelvin) => (units === "us" ? 1.8 * toCelsius(kelvin) + 32 : toCelsius(kelvin));
const degree = () => (units === "us" ? "°F" : "°C");
const isAbsent = (value) => value === null || value === undefined || Number.isNaN(value);

function showDuration(seconds) {
  const minutes = Math.round(Math.abs(seconds) / 60);
  const sign = seconds < 0 && minutes > 0 ? "-" : "";
  if (minutes < 60) return `${sign}${minutes} min`;
  return `${sign}${Math.floor(minutes / 60)} h ${String(minutes % 60).padStart(2, "0")} min`;
}

function showHeat(joules) {
  if (units === "us") return `${(joules / 1055.05585262).toFixed(0)} BTU`;
  if (Math.abs(joules) >= 1e6) return `${(1e-6 * joules).toFixed(2)} MJ`;
  return Math.abs(joules) >= 1e4 ? `${(1e-3 * joules).toFixed(0)} kJ` : `${(1e-3 * joules).toFixed(1)} kJ`;
}

function showLength(metres) {
  if (units === "us") return `${(metres / 0.0254).toFixed(2)} in`;
  return metres < 0.01 ? `${(1e3 * metres).toFixed(1)} mm` : `${(100 * metres).toFixed(1)} cm`;
}

/* Nothing has no sign. */
const hundredths = (v) => (Math.abs(v) < 0.005 ? 0 : v).toFixed(2);

/* By the names that the program gives to kinds of quantity. */
const show = {
  temperature: (v) => `${axisTemperature(v).toFixed(1)} ${units === "us" ? "F" : "C"}`,
  difference: (v) => (units === "us" ? `${(1.8 * v).toFixed(1)} F` : `${v.toFixed(1)} K`),
  rate: (v) => (units === "us" ? `${(6480 * v).toFixed(1)} F/h` : `${(3600 * v).toFixed(1)} K/h`),
  duration: showDuration,
  mass: (v) => (units === "us" ? `${hundredths(v / 0.45359237)} lb` : `${hundredths(v)} kg`),
  length: showLength,
  altitude: (v) => (units === "us" ? `${(v / 0.3048).toFixed(0)} ft` : `${v.toFixed(0)} m`),
  share: (v) => `${(100 * v).toFixed(1)} %`,
  chance: (v) => (v > 0 && v < 0.01 ? "under 1 %" : v > 0.99 && v < 1 - 1e-9 ? "over 99 %" : `${(100 * v).toFixed(0)} %`),
  points: (v) => `${(100 * v).toFixed(1)} points`,
  heat: showHeat,
  number: (v) => v.toFixed(2),
  times: (v) => String(Number(v.toPrecision(3))),
  whole: (v) => v.toFixed(0),
  clock: (v) => `${String(Math.floor(Math.round(v / 60) / 60)).padStart(2, "0")}:${String(Math.round(v / 60) % 60).padStart(2, "0")}`,
  text: (v) => String(v),
};

function quantity(kind, value) {
  return isAbsent(value) ? "-" : show[kind](value);
}

function showAllQuantities() {
  for (const element of document.querySelectorAll("[data-quantity]")) {
    const [kind, value] = data.quantities[Number(element.dataset.quantity)];
    element.textContent = quantity(kind, value);
  }
}

/* Texts that have a version for each system of units. */
function showAllWorded() {
  for (const element of document.querySelectorAll("[data-worded]"))
    element.textContent = data.worded[Number(element.dataset.worded)][units === "us" ? 1 : 0];
}

/* Power: watts, or BTU an hour. */
const axisPower = (watts) => (units === "us" ? watts / 0.29307107 : watts);
const powerUnit = () => (units === "us" ? "BTU/h" : "W");
