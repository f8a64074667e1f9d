// SPDX-License-Identifier: BSD-3-Clause
/* A sweep: its figures over two factors of a grid, or as a scatter over each factor of a random design, and the curve of a
 * chosen cook. Only cooks that were computed can be chosen. A cook is told by its place among those the page has. */
const sweep = { figure: 0 };
const LINES_MOST = 7;

const isGrid = () => data.sweep.design === "grid";
const sweepFigure = () => data.sweep.figures[sweep.figure];

/* How the axis of a chart counts a kind of quantity. */
const axisKinds = {
  temperature: () => [axisTemperature, degree()],
  difference: () => (units === "us" ? [(v) => 1.8 * v, "°F"] : [(v) => v, "K"]),
  rate: () => (units === "us" ? [(v) => 6480 * v, "°F/h"] : [(v) => 3600 * v, "K/h"]),
  duration: () => [(v) => v / 3600, "hours"],
  clock: () => [(v) => v / 3600, "hours after midnight"],
  mass: () => (units === "us" ? [(v) => v / 0.45359237, "lb"] : [(v) => v, "kg"]),
  length: () => (units === "us" ? [(v) => v / 0.0254, "in"] : [(v) => 100 * v, "cm"]),
  altitude: () => (units === "us" ? [(v) => v / 0.3048, "ft"] : [(v) => v, "m"]),
  share: () => [(v) => 100 * v, "%"],
};
const axisKind = (f) => (axisKinds[f.kind] ? axisKinds[f.kind]() : [(v) => v, f.unit || ""]);
const axisTitle = (f) => (axisKind(f)[1] ? `${f.label}, ${axisKind(f)[1]}` : f.label);

function factorText(f, value) {
  if (f.kind !== "plain") return quantity(f.kind, value);
  return `${Number(value.toPrecision(4))}${f.unit ? ` ${f.unit}` : ""}`;
}

const noFigure = (figure) => (figure.label === data.sweep.figures[1].label ? "no stall" : "-");
function figureText(figure, cook) {
  if (data.sweep.failures[cook]) return "failed";
  if (figure.zero && figure.values[cook] === 0) return figure.zero;
  return isAbsent(figure.values[cook]) ? noFigure(figure) : quantity(figure.kind, figure.values[cook]);
}

/* ---- places in a grid ---- */

function placeOf(cook) {
  const at = [];
  for (let i = data.sweep.factors.length; i-- > 0; ) {
    const count = data.sweep.factors[i].values.length;
    at[i] = cook % count;
    cook = Math.floor(cook / count);
  }
  return at;
}

const cookAt = (at) => data.sweep.factors.reduce((number, f, i) => number * f.values.length + at[i], 0);

/* The chosen cook, with other values of the two factors shown. */
function cookInPlane(down, across) {
  const at = placeOf(sweep.chosen);
  at[sweep.down] = down;
  if (sweep.across !== null) at[sweep.across] = across;
  return cookAt(at);
}

function valuesOfCook(cook) {
  const at = isGrid() ? placeOf(cook) : null;
  return data.sweep.factors.map((f, i) => f.values[at ? at[i] : cook]);
}

const settingsText = (cook) => valuesOfCook(cook).map((v, i) => `${data.sweep.factors[i].label} ${factorText(data.sweep.factors[i], v)}`).join(", ");

/* ---- the chosen cook ---- */

function summaryOfSweep(cook) {
  const s = data.sweep, failure = s.failures[cook];
  const name = `Cook ${s.run[cook]}, ${settingsText(cook)}:`;
  if (failure) return `${name} ${failure === true ? "failed; --format csv has the sentence" : `failed: ${failure}`}.`;
  const figures = s.figures.map((f) => `${f.label} ${figureText(f, cook)}`).join("; ").replace("stall lasts no stall", "no stall").replace("late by in time", "in time");
  const unmet = s.unmet_rules[cook];
  const safety = isAbsent(unmet) ? "" : unmet > 0 ? ` It breaks ${unmet} ${unmet > 1 ? "rules" : "rule"} of food safety.`
    : " It breaks no rule of food safety that was judged.";
  return `${name} ${figures}.${safety}`;
}

/* A curve: readings at even steps, and that of the pull. */
function curveOfCook(cook) {
  const s = data.sweep, place = s.curve_of.indexOf(cook);
  if (place < 0) return null;
  const celsius = s.probe_celsius_tenths[place], surface = s.surface_celsius_tenths[place], last = celsius.length - 1;
  const kelvin = (v) => v / 10 + 273.15;
  return {
    time_s: celsius.map((_, i) => (i < last ? i * s.curve_step_s : s.figures[0].values[cook])),
    probe_k: celsius.map(kelvin), surface_k: surface.map(kelvin),
  };
}

function showCurve() {
  const cook = curveOfCook(sweep.chosen), id = "sweep-curve";
  document.getElementById("sweep-summary").textContent = summaryOfSweep(sweep.chosen);
  document.getElementById("sweep-no-curve").hidden = Boolean(cook || data.sweep.failures[sweep.chosen]);
  document.getElementById("sweep-curve-figure").hidden = !cook;
  if (!cook) {
    if (charts[id]) charts[id].destroy();
    delete charts[id];
    delete tables[id];
    return;
  }
  const t = (list) => points(cook, list.map(axisTemperature));
  const lines = [line("probe", 0, t(cook.probe_k), { borderWidth: 3.4 }), line("top surface", 1, t(cook.surface_k))];
  if (sweep.spread)
    lines.push(line("probe, middle of all cooks", 5, sweep.spread.map((q) => ({ x: q.time_s / 3600, y: axisTemperature(q.shares[2]) }))));
  tables[id] = {
    heads: ["time", "probe", "top surface"],
    rows: cook.time_s.map((s, i) => [quantity("duration", s), quantity("temperature", cook.probe_k[i]), quantity("temperature", cook.surface_k[i])]),
  };
  makeChart(id, { type: "line", data: { datasets: lines }, options: chartOptions({ x: hourAxis(), y: axis(`temperature, ${degree()}`) }) },
    `Line chart: ${summaryOfSweep(sweep.chosen)}`);
}

function chooseCook(cook, isFromControl) {
  sweep.chosen = cook;
  showSweep(isFromControl);
}

/* ---- a grid ---- */

function tableCell(row, cook, figure, range) {
  const cell = row.insertCell(), value = figure.values[cook];
  cell.textContent = figureText(figure, cook);
  if (!isAbsent(value) && range[1] > range[0]) {
    const share = (value - range[0]) / (range[1] - range[0]);
    cell.style.background = `rgb(${oklab(0.985 - 0.2 * share, -0.02 * share, 0.005 - 0.08 * share).join(",")})`;
  }
  if (cook === sweep.chosen) {
    cell.setAttribute("aria-current", "true");
    const mark = document.createElement("span");
    mark.className = "unseen";
    mark.textContent = " (chosen)";
    cell.append(mark);
  }
  cell.addEventListener("click", () => chooseCook(cook));
}

function headCell(row, scope, text) {
  const cell = document.createElement("th");
  cell.scope = scope;
  cell.textContent = text;
  row.append(cell);
}

function rangeOf(values) {
  let low = Infinity, high = -Infinity;
  for (const v of values)
    if (!isAbsent(v)) {
      low = Math.min(low, v);
      high = Math.max(high, v);
    }
  return [low, high];
}

/* One factor: a column for each figure. Two: the chosen figure, a column for each value of the second. */
function showGridTable() {
  const s = data.sweep, table = document.createElement("table"), caption = table.createCaption();
  const down = s.factors[sweep.down], across = sweep.across === null ? null : s.factors[sweep.across];
  const fixed = s.factors.map((f, i) => (i === sweep.down || i === sweep.across ? null : `${f.label} ${factorText(f, valuesOfCook(sweep.chosen)[i])}`)).filter((t) => t);
  caption.textContent = (across ? `${sweepFigure().label}: ${down.label} down, ${across.label} across` : `Figures by ${down.label}`) +
    (fixed.length ? `; with ${fixed.join(", ")}` : "");
  const head = table.createTHead().insertRow(), body = table.createTBody();
  headCell(head, "col", down.label);
  for (const text of across ? across.values.map((v) => factorText(across, v)) : s.figures.map((f) => f.label)) headCell(head, "col", text);
  const all = rangeOf(sweepFigure().values), ranges = s.figures.map((f) => rangeOf(f.values));
  down.values.forEach((value, d) => {
    const row = body.insertRow();
    headCell(row, "row", factorText(down, value));
    if (across) across.values.forEach((_, a) => tableCell(row, cookInPlane(d, a), sweepFigure(), all));
    else s.figures.forEach((figure, i) => tableCell(row, cookInPlane(d, 0), figure, ranges[i]));
  });
  document.getElementById("sweep-table").replaceChildren(table);
}

/* The values of the second factor that lines are drawn of: all, or evenly chosen ones and the chosen cook's. */
function linesAcross() {
  if (sweep.across === null) return [0];
  const count = data.sweep.factors[sweep.across].values.length, numbers = new Set();
  for (let i = 0; i < Math.min(count, LINES_MOST); i++)
    numbers.add(count <= LINES_MOST ? i : Math.round((i * (count - 1)) / (LINES_MOST - 1)));
  const own = placeOf(sweep.chosen)[sweep.across];
  if (!numbers.has(own)) numbers.delete([...numbers].reduce((best, n) => (Math.abs(n - own) < Math.abs(best - own) ? n : best)));
  numbers.add(own);
  return [...numbers].sort((p, q) => p - q);
}

function gridDataset(acrossValue, number) {
  const down = data.sweep.factors[sweep.down], figure = sweepFigure(), [scale] = axisKind(down), [figureScale] = axisKind(figure);
  const across = sweep.across === null ? null : data.sweep.factors[sweep.across];
  const cooks = down.values.map((_, d) => cookInPlane(d, acrossValue));
  const isWords = down.kind === "text";
  const set = line(across ? factorText(across, across.values[acrossValue]) : figure.label, number, cooks.map((cook, d) => ({
    x: isWords ? d : scale(down.values[d]), y: isAbsent(figure.values[cook]) ? null : figureScale(figure.values[cook]) })),
  { pointHoverRadius: 8, pointHitRadius: 10, showLine: !isWords, spanGaps: false });
  const shapes = ["circle", "rect", "triangle", "rectRot", "star", "crossRot", "cross"];
  return { ...set, legendSample: isWords ? null : set.pointStyle, pointStyle: shapes[number % shapes.length], backgroundColor: set.borderColor,
    pointBorderColor: cooks.map((cook) => (cook === sweep.chosen ? "#000000" : set.borderColor)),
    pointRadius: cooks.map((cook) => (cook === sweep.chosen ? 8 : 4)), cooks };
}

/* An axis of numbers, or of words at 0, 1, 2, ... */
function factorAxis(f, words) {
  if (f.kind !== "text") return axis(axisTitle(f), { type: "linear" });
  return axis(f.label, { type: "linear", min: -0.5, max: words.length - 0.5, afterBuildTicks: (a) => { a.ticks = words.map((_, i) => ({ value: i })); },
    ticks: { autoSkip: false, callback: (v) => words[v] ?? "" } });
}

function chooseByClick(chart, event) {
  const hit = chart.getElementsAtEventForMode(event, "nearest", { intersect: true }, false)[0];
  if (hit && chart.data.datasets[hit.datasetIndex].cooks) chooseCook(chart.data.datasets[hit.datasetIndex].cooks[hit.index]);
}

function pointOptions(scales, more) {
  const options = chartOptions(scales, { interaction: { mode: "nearest", intersect: true }, onClick: (event, _, chart) => chooseByClick(chart, event), ...more });
  options.plugins.tooltip.callbacks = {
    title: () => "",
    label: (item) => {
      const cooks = item.dataset.cooks;
      return cooks ? [`cook ${data.sweep.run[cooks[item.dataIndex]]}: ${figureText(sweepFigure(), cooks[item.dataIndex])}`, settingsText(cooks[item.dataIndex])] : "";
    },
  };
  return options;
}

function showGridChart() {
  const down = data.sweep.factors[sweep.down], drawn = linesAcross(), id = "sweep-lines";
  const sets = drawn.map((a, i) => gridDataset(a, i)), figure = sweepFigure();
  const options = pointOptions({ x: factorAxis(down, down.values), y: axis(axisTitle(figure)) });
  options.plugins.legend.labels.generateLabels = (chart) => Chart.defaults.plugins.legend.labels.generateLabels(chart).map((item) =>
    ({ ...item, pointStyle: chart.data.datasets[item.datasetIndex].legendSample || item.pointStyle, lineWidth: 1 }));
  options.plugins.legend.display = sweep.across !== null;
  const across = sweep.across === null ? null : data.sweep.factors[sweep.across];
  const columns = across ? drawn.map((a) => factorText(across, across.values[a])) : [figure.label];
  tables[id] = {
    heads: [down.label, ...columns.map((c) => (across ? `${figure.label}, ${c}` : c))],
    rows: down.values.map((v, d) => [factorText(down, v), ...drawn.map((a) => figureText(figure, cookInPlane(d, a)))]),
  };
  const missing = sets.some((set) => set.data.some((point) => point.y === null)) ? " A point is missing where a cook failed or has no such figure." : "";
  const some = across && drawn.length < across.values.length ? ` ${drawn.length} of ${across.values.length} values of ${across.label} are drawn, with that of the chosen cook.` : "";
  document.getElementById("sweep-lines-words").textContent =
    `Each point is a cook that was computed; ${down.kind === "text" ? "the large one is the chosen cook" : "the lines only lead the eye from one to the next, and the large point is the chosen cook"}.${missing}${some}`;
  makeChart(id, { type: "line", data: { datasets: sets }, options },
    `Chart of ${figure.label} by ${down.label}${across ? `, a line for each ${across.label}` : ""}: ` +
    sets.map((set) => { const [low, high] = rangeOf(set.cooks.map((c) => figure.values[c])); return low > high ? `${set.label}, nothing` : `${set.label}, ${quantity(figure.kind, low)} to ${quantity(figure.kind, high)}`; }).join("; ") + ".");
}

/* If both are to be the same factor, they change places. */
function choosePlane(which, factor) {
  const other = which === "down" ? "across" : "down";
  if (sweep[other] === factor) sweep[other] = sweep[which];
  sweep[which] = factor;
  showSweep();
}

function buildGridControls() {
  const s = data.sweep, form = document.getElementById("sweep-controls"), values = document.getElementById("sweep-values");
  const names = s.factors.map((f) => f.label), at = placeOf(sweep.chosen);
  form.replaceChildren(figureChoice());
  if (sweep.across !== null)
    form.append(choiceSet("Down the table", "sweep-down", names, sweep.down, (k) => choosePlane("down", k)),
      choiceSet("Across the table", "sweep-across", names, sweep.across, (k) => choosePlane("across", k)));
  values.replaceChildren(...s.factors.map((f, i) => choiceSet(f.label, `sweep-value-${i}`, f.values.map((v) => factorText(f, v)), at[i], (k) => {
    const place = placeOf(sweep.chosen);
    place[i] = k;
    chooseCook(cookAt(place), true);
  })));
}

/* ---- a random design ---- */

/* The value below which a share of all lies, linearly between neighbours; of sorted values. */
function quantile(sorted, share) {
  if (sorted.length === 0) return null;
  const place = share * (sorted.length - 1), low = Math.floor(place), high = Math.min(low + 1, sorted.length - 1);
  return sorted[low] + (place - low) * (sorted[high] - sorted[low]);
}
const sortedNumbers = (values) => values.filter((v) => !isAbsent(v)).sort((p, q) => p - q);

/* Shares of the probe's readings at each kept moment, over the cooks whose curve is kept; who is done keeps the last one. */
function spreadOfCurves() {
  const curves = data.sweep.probe_celsius_tenths;
  const length = curves.reduce((most, c) => Math.max(most, c.length), 0), spread = [];
  for (let i = 0; i < length; i++) {
    const readings = curves.map((c) => c[Math.min(i, c.length - 1)] / 10 + 273.15).sort((p, q) => p - q);
    spread.push({ time_s: i * data.sweep.curve_step_s, shares: [0.05, 0.25, 0.5, 0.75, 0.95].map((share) => quantile(readings, share)) });
  }
  return spread;
}

function showSpread() {
  const id = "sweep-spread", of = (k) => sweep.spread.map((q) => ({ x: q.time_s / 3600, y: axisTemperature(q.shares[k]) }));
  if (sweep.spread.length === 0) return;
  const band = (label, k, fill, colour) => ({ type: "line", label, data: of(k), fill, backgroundColor: colour, borderColor: "#14509f", borderWidth: 0.7,
    pointRadius: 0, pointHoverRadius: 0, pointStyle: "rect" });
  /* The first lies on top. */
  const sets = [line("middle", 0, of(2), { borderWidth: 3 }), band("half of the cooks", 3, 2, "#8fb3d9"), band("", 1, false, "transparent"),
    band("nine in ten cooks", 4, 4, "#dbe6f3"), band("", 0, false, "transparent")];
  const options = chartOptions({ x: hourAxis(), y: axis(`probe, ${degree()}`) });
  options.plugins.legend.labels.filter = (item) => item.text !== "";
  options.plugins.tooltip.enabled = false;
  tables[id] = {
    heads: ["time", "1 in 20 below", "1 in 4 below", "middle", "1 in 4 above", "1 in 20 above"],
    rows: sweep.spread.map((q) => [quantity("duration", q.time_s), ...q.shares.map((v) => quantity("temperature", v))]),
  };
  makeChart(id, { type: "line", data: { datasets: sets }, options },
    `Chart of the spread of the probe curves of ${data.sweep.curve_of.length} cooks; its table has the figures.`);
}

const middleOf = (figure, cooks) => {
  const value = quantile(sortedNumbers(cooks.map((c) => figure.values[c])), 0.5);
  return isAbsent(value) ? noFigure(figure) : quantity(figure.kind, value);
};

/* What a factor does, in words: middles of its lower and upper half, or of each word. */
function scatterWords(f, figure) {
  const cooks = f.values.map((_, i) => i).filter((i) => !data.sweep.failures[i]);
  if (f.kind === "text") {
    const words = [...new Set(f.values)];
    return `Middle of "${figure.label}": ${words.map((w) => `${w} ${middleOf(figure, cooks.filter((c) => f.values[c] === w))}`).join("; ")}.`;
  }
  const middle = quantile(sortedNumbers(cooks.map((c) => f.values[c])), 0.5);
  if (isAbsent(middle)) return "No cook was finished.";
  return `Middle of "${figure.label}": lower half of ${f.label} (up to ${factorText(f, middle)}), ` +
    `${middleOf(figure, cooks.filter((c) => f.values[c] <= middle))}; upper half, ${middleOf(figure, cooks.filter((c) => f.values[c] > middle))}.`;
}

function showScatter(f, i) {
  const figure = sweepFigure(), id = `sweep-scatter-${i}`, words = f.kind === "text" ? [...new Set(f.values)] : [];
  const [scale] = axisKind(f), [figureScale] = axisKind(figure);
  /* Points of one word stand side by side, by their number, so that they can be told apart. */
  const beside = (cook) => 0.4 * (((cook * 0.618034) % 1) - 0.5);
  const place = (cook) => ({ x: words.length ? words.indexOf(f.values[cook]) + beside(cook) : scale(f.values[cook]), y: figureScale(figure.values[cook]) });
  const cooks = f.values.map((_, cook) => cook).filter((cook) => !isAbsent(figure.values[cook]));
  const sets = [{ label: "cooks", data: cooks.map(place), cooks, pointRadius: 3, pointHoverRadius: 6, borderColor: "#14509f", backgroundColor: "rgba(20, 80, 159, 0.35)" }];
  if (!isAbsent(figure.values[sweep.chosen]))
    sets.unshift({ label: "chosen", data: [place(sweep.chosen)], cooks: [sweep.chosen], pointRadius: 8, pointHoverRadius: 8, pointStyle: "rectRot", borderColor: "#1c1c1c",
      borderWidth: 2, backgroundColor: "#e8a33d" });
  const options = pointOptions({ x: factorAxis(f, words), y: axis(axisTitle(figure)) });
  options.plugins.legend.display = false;
  const said = cooks.length ? scatterWords(f, figure) : `No cook has a figure for "${figure.label}".`;
  document.getElementById(`${id}-words`).textContent = said;
  makeChart(id, { type: "scatter", data: { datasets: sets }, options }, `Scatter of ${figure.label} over ${f.label}, ${cooks.length} cooks. ${said}`);
}

function showScatters() {
  const holder = document.getElementById("sweep-scatters");
  if (!holder.children.length)
    data.sweep.factors.forEach((_, i) => {
      const figure = document.createElement("figure"), frame = document.createElement("div"), canvas = document.createElement("canvas"), caption = document.createElement("figcaption");
      frame.className = "chart low";
      canvas.id = `sweep-scatter-${i}`;
      canvas.setAttribute("role", "img");
      caption.id = `sweep-scatter-${i}-words`;
      frame.append(canvas);
      figure.append(frame, caption);
      holder.append(figure);
    });
  data.sweep.factors.forEach(showScatter);
  tables["sweep-cooks"] = {
    heads: ["cook", ...data.sweep.factors.map((f) => f.label), ...data.sweep.figures.map((f) => f.label)],
    rows: data.sweep.run.map((run, cook) => [String(run), ...valuesOfCook(cook).map((v, i) => factorText(data.sweep.factors[i], v)),
      ...data.sweep.figures.map((f) => figureText(f, cook))]),
  };
  fillTable("sweep-cooks");
}

/* Cooks in the order of the figure shown, those without it last. */
function sortCooks() {
  const values = sweepFigure().values, last = (v) => (isAbsent(v) ? Infinity : v);
  sweep.order = values.map((_, i) => i).sort((p, q) => (last(values[p]) === last(values[q]) ? p - q : last(values[p]) - last(values[q])));
}

function tellPlace() {
  const slider = document.getElementById("sweep-slider"), place = sweep.order.indexOf(sweep.chosen), count = sweep.order.length;
  slider.value = String(place);
  document.getElementById("sweep-place").textContent = `${place + 1} of ${count}`;
  slider.setAttribute("aria-valuetext", `${place + 1} of ${count}, ${figureText(sweepFigure(), sweep.chosen)}`);
}

function buildRandomControls() {
  const values = document.getElementById("sweep-values"), label = document.createElement("label"), slider = document.createElement("input");
  const place = document.createElement("output");
  document.getElementById("sweep-controls").replaceChildren(figureChoice());
  slider.type = "range";
  slider.id = "sweep-slider";
  slider.min = "0";
  slider.max = String(data.sweep.run.length - 1);
  place.id = "sweep-place";
  label.htmlFor = place.htmlFor = "sweep-slider";
  label.textContent = `Cooks from least to most: ${sweepFigure().label}`;
  slider.addEventListener("input", () => chooseCook(sweep.order[Number(slider.value)], true));
  values.replaceChildren(label, slider, place);
}

/* ---- both ---- */

function figureChoice() {
  return choiceSet("Shown", "sweep-figure", data.sweep.figures.map((f) => f.label), sweep.figure, (k) => {
    sweep.figure = k;
    showSweep(isGrid());
  });
}

function showSweep(isFromControl) {
  if (isGrid()) {
    if (!isFromControl) buildGridControls();
    showGridTable();
    showGridChart();
  } else {
    sortCooks();
    if (!isFromControl) buildRandomControls();
    tellPlace();
    showSpread();
    showScatters();
  }
  showCurve();
}

function beginSweep() {
  const begins = data.sweep_begins;
  Object.assign(sweep, { down: begins.down, across: begins.across, chosen: begins.chosen });
  if (isGrid()) return;
  sweep.spread = spreadOfCurves();
  sortCooks();
  /* Begins with the cook in the middle. */
  const done = sweep.order.filter((cook) => !isAbsent(sweepFigure().values[cook]) && data.sweep.curve_of.includes(cook));
  if (done.length) sweep.chosen = done[Math.floor(done.length / 2)];
}
