// SPDX-License-Identifier: BSD-3-Clause
/* Charts: lines told apart by their dashes and stacked areas by their hatching, so that they need no colour. */
const colours = ["#14509f", "#b3500a", "#1e7d58", "#8a3a8a", "#1c1c1c", "#6b6b6b", "#7a6200"];
const dashes = [[], [9, 4], [2, 3], [10, 3, 2, 3], [5, 3], [12, 4, 2, 4, 2, 4], [1, 2]];
/* Colours of even steps of lightness, by way of Oklab (B. Ottosson, 2020): share 0 to 1. */
function oklab(L, a, b) {
  const l = (L + 0.3963377774 * a + 0.2158037573 * b) ** 3, m = (L - 0.1055613458 * a - 0.0638541728 * b) ** 3,
    s = (L - 0.0894841775 * a - 1.291485548 * b) ** 3;
  const linear = [4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s, -1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s,
    -0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s];
  return linear.map((v) => Math.round(255 * Math.min(1, Math.max(0, v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1 / 2.4) - 0.055))));
}

const charts = {};
/* What the tables show: by chart, the heads and the rows as text. */
const tables = {};

const heatStack = [
  { items: ["evaporation"], label: "evaporating water", colour: "#14509f", hatch: "full" },
  { items: ["warming", "vapour"], label: "warming the meat (its vapour too)", colour: "#d9822b", hatch: "rising" },
  { items: ["fat"], label: "melting and rendering fat", colour: "#8a3a8a", hatch: "upright" },
  { items: ["drip"], label: "leaving with drip", colour: "#1e7d58", hatch: "level" },
];

function hatched(colour, kind) {
  if (kind === "full") return colour;
  const tile = document.createElement("canvas");
  tile.width = tile.height = 8;
  const pen = tile.getContext("2d");
  pen.fillStyle = "#fffefb";
  pen.fillRect(0, 0, 8, 8);
  pen.strokeStyle = colour;
  pen.lineWidth = 2.4;
  pen.beginPath();
  if (kind === "rising") {
    for (const x of [-8, 0, 8]) {
      pen.moveTo(x, 8);
      pen.lineTo(x + 8, 0);
    }
  } else if (kind === "upright") {
    pen.moveTo(4, 0);
    pen.lineTo(4, 8);
  } else {
    pen.moveTo(0, 4);
    pen.lineTo(8, 4);
  }
  pen.stroke();
  return pen.createPattern(tile, "repeat");
}

/* The stall as a band, the chosen time as an upright line. */
const marks = {
  id: "marks",
  beforeDatasetsDraw(chart) {
    const band = chart.config.options.band;
    if (!band) return;
    const { ctx, chartArea, scales } = chart;
    const [from, to] = band.map((hours) => scales.x.getPixelForValue(hours));
    ctx.save();
    ctx.fillStyle = "rgba(205, 175, 100, 0.35)";
    ctx.fillRect(from, chartArea.top, to - from, chartArea.bottom - chartArea.top);
    ctx.restore();
  },
  afterDatasetsDraw(chart) {
    const at = chart.config.options.cursor;
    if (isAbsent(at)) return;
    const { ctx, chartArea, scales } = chart;
    const x = scales.x.getPixelForValue(at);
    ctx.save();
    ctx.strokeStyle = "#1c1c1c";
    ctx.lineWidth = 1.5;
    ctx.beginPath();
    ctx.moveTo(x, chartArea.top);
    ctx.lineTo(x, chartArea.bottom);
    ctx.stroke();
    ctx.restore();
  },
};

function makeChart(id, config, label) {
  const canvas = document.getElementById(id);
  if (!canvas) return;
  if (charts[id]) charts[id].destroy();
  charts[id] = new Chart(canvas, config);
  canvas.setAttribute("aria-label", label);
  fillTable(id);
}

function axis(title, more) {
  return { title: { display: true, text: title }, grid: { color: "#e4e0d6" }, ...more };
}

function hourAxis() {
  return axis("hours since the meat went on", { type: "linear", min: 0, ticks: { maxTicksLimit: 12 } });
}

function chartOptions(scales, more) {
  return {
    animation: false,
    responsive: true,
    maintainAspectRatio: false,
    interaction: { mode: "nearest", axis: "x", intersect: false },
    scales,
    plugins: {
      legend: { position: "bottom", labels: { usePointStyle: true, pointStyleWidth: 38, boxHeight: 9, font: { size: 12 } } },
      tooltip: {
        callbacks: {
          title: (items) => (items.length && typeof items[0].parsed.x === "number" ? showDuration(3600 * items[0].parsed.x) : ""),
        },
      },
    },
    ...more,
  };
}

function points(cook, values) {
  return cook.time_s.map((t, i) => ({ x: t / 3600, y: values[i] }));
}

/* The legend of the library draws lines without their dashes: a drawn sample has them. */
function lineSample(colour, dash, width) {
  const sample = document.createElement("canvas"), pen = sample.getContext("2d");
  sample.width = 40;
  sample.height = 12;
  pen.strokeStyle = colour;
  pen.lineWidth = width;
  pen.setLineDash(dash);
  pen.beginPath();
  pen.moveTo(0, 6);
  pen.lineTo(40, 6);
  pen.stroke();
  return sample;
}

function line(label, number, pointList, more) {
  const look = {
    type: "line", label, data: pointList, borderColor: colours[number % colours.length], backgroundColor: "transparent",
    borderDash: dashes[number % dashes.length], borderWidth: 2.2, pointRadius: 0, pointHoverRadius: 0, pointHitRadius: 6, ...more,
  };
  return { ...look, pointStyle: lineSample(look.borderColor, look.borderDash, look.borderWidth) };
}

const stallBand = (cook) => (isAbsent(cook.stall_start_s) ? null : [cook.stall_start_s / 3600, cook.stall_end_s / 3600]);

function describeCook(cook) {
  if (!cook.time_s) return cook.error;
  const last = cook.time_s.length - 1;
  const stall = isAbsent(cook.stall_start_s) ? "no stall"
    : `a stall of ${quantity("duration", cook.stall_length_s)} from ${quantity("duration", cook.stall_start_s)}`;
  return `probe from ${quantity("temperature", cook.probe_k[0])} to ${quantity("temperature", cook.probe_k[last])} after ` +
    `${quantity("duration", cook.time_s[last])}, ${stall}`;
}

/* The range within which most cooks like this one run, as an area between two edges. */
function bandLines(band) {
  const edge = (values, more) => ({ type: "line", data: band.time_s.map((s, i) => ({ x: s / 3600, y: axisTemperature(values[i]) })),
    borderWidth: 0, pointRadius: 0, pointHitRadius: 0, pointStyle: "rect", order: 1, ...more });
  return [edge(band.low_k, { label: "" }),
    edge(band.high_k, { label: "8 of 10 cooks like it", fill: "-1", backgroundColor: "rgba(20, 80, 159, 0.16)" })];
}

function temperatureChart(id, cook, cursor, band) {
  const t = (list) => points(cook, list.map(axisTemperature));
  const config = {
    type: "line", plugins: [marks],
    data: { datasets: [line("probe", 0, t(cook.probe_k), { borderWidth: 3.4 }), line("top surface", 1, t(cook.surface_k)),
      line("air", 2, t(cook.air_k)), ...(band ? bandLines(band) : [])] },
    options: chartOptions({ x: hourAxis(), y: axis(`temperature, ${degree()}`) }, { band: stallBand(cook), cursor }),
  };
  config.options.plugins.legend.labels.filter = (item) => item.text !== "";
  config.options.plugins.tooltip.filter = (item) => item.dataset.pointHitRadius > 0;
  tables[id] = {
    heads: ["time", "probe", "top surface", "air"],
    rows: cook.time_s.map((s, i) => [quantity("duration", s), quantity("temperature", cook.probe_k[i]),
      quantity("temperature", cook.surface_k[i]), quantity("temperature", cook.air_k[i])]),
  };
  makeChart(id, config, `Line chart: ${describeCook(cook)}.`);
}

/* Mean power of each spell between two moments, drawn as a step. */
function powerOf(cook, items) {
  const list = [];
  for (let i = 1; i < cook.time_s.length; i++) {
    const seconds = cook.time_s[i] - cook.time_s[i - 1];
    let heat = 0;
    for (const item of items) heat += cook.heat_j[item][i] - cook.heat_j[item][i - 1];
    list.push(heat / seconds);
  }
  return list;
}

/* Steps: each spell has a point at its beginning and one just before its end. own: what the item itself takes, if the points
 * are edges of a stack. */
function steps(cook, power, own = power) {
  return power.flatMap((watts, i) => [{ x: cook.time_s[i] / 3600, y: axisPower(watts), own: axisPower(own[i]) },
    { x: cook.time_s[i + 1] / 3600 - 1e-6, y: axisPower(watts), own: axisPower(own[i]) }]);
}

/* What takes heat is stacked upwards from zero, what gives it (vapour that condenses, meat that cools) downwards: of each item
 * the edges near to zero and far from it. */
function stackFromZero(powers) {
  const up = powers[0].map(() => 0), down = powers[0].map(() => 0);
  return powers.map((power) => {
    const edges = { near: [], far: [] };
    power.forEach((watts, i) => {
      const side = watts >= 0 ? up : down;
      edges.near.push(side[i]);
      side[i] += watts;
      edges.far.push(side[i]);
    });
    return edges;
  });
}

const wholePower = (watts) => String(Math.round(axisPower(watts)));
const zeroLine = { color: (at) => (at.tick.value === 0 ? "#1c1c1c" : "#e4e0d6") };

function heatChart(id, cook, cursor) {
  const stacks = heatStack.map((s) => ({ ...s, power: powerOf(cook, s.items) }));
  const edges = stackFromZero(stacks.map((s) => s.power));
  const bare = { type: "line", pointRadius: 0, pointHoverRadius: 0, pointStyle: "rect", yAxisID: "y" };
  const datasets = stacks.flatMap((s, i) => [
    { ...bare, label: "", data: steps(cook, edges[i].near), borderWidth: 0, pointHitRadius: 0 },
    { ...bare, label: s.label, data: steps(cook, edges[i].far, s.power), fill: "-1", borderWidth: 1, borderColor: s.colour,
      backgroundColor: hatched(s.colour, s.hatch), pointHitRadius: 6 }]);
  datasets.push(line("probe (right scale)", 4, points(cook, cook.probe_k.map(axisTemperature)),
    { yAxisID: "probe", borderWidth: 3, order: -1, borderDash: [] }));
  const config = {
    type: "line", plugins: [marks], data: { datasets },
    options: chartOptions({
      x: hourAxis(), y: axis(`heat, ${powerUnit()}`, { beginAtZero: true, grid: zeroLine }),
      probe: axis(`probe, ${degree()}`, { position: "right", grid: { drawOnChartArea: false } }),
    }, { cursor }),
  };
  config.options.plugins.legend.labels.filter = (item) => item.text !== "";
  config.options.plugins.tooltip.filter = (item) => item.dataset.label !== "";
  config.options.plugins.tooltip.callbacks.label = (item) =>
    `${item.dataset.label}: ${Math.round(item.raw.own === undefined ? item.parsed.y : item.raw.own)}`;
  tables[id] = {
    heads: ["until", ...stacks.map((s) => `${s.label}, ${powerUnit()}`)],
    rows: cook.time_s.slice(1).map((s, i) => [quantity("duration", s), ...stacks.map((k) => wholePower(k.power[i]))]),
  };
  const last = cook.time_s.length - 1;
  const sum = stacks.map((s) => `${s.label} ${quantity("heat", s.items.reduce((a, item) => a + cook.heat_j[item][last], 0))}`);
  makeChart(id, config, `Stacked chart of heat: ${sum.join(", ")} in all.`);
}

function balanceChart(id, cook) {
  const received = powerOf(cook, ["air", "radiation"]), taken = powerOf(cook, ["evaporation"]);
  const config = {
    type: "line", plugins: [marks],
    data: { datasets: [line("heat that arrives", 1, steps(cook, received)),
      line("taken by evaporation", 0, steps(cook, taken), { borderWidth: 3 })] },
    options: chartOptions({ x: hourAxis(), y: axis(`heat, ${powerUnit()}`, { beginAtZero: true, grid: zeroLine }) }, { band: stallBand(cook) }),
  };
  tables[id] = {
    heads: ["until", `arrives, ${powerUnit()}`, `evaporation, ${powerUnit()}`],
    rows: received.map((watts, i) => [quantity("duration", cook.time_s[i + 1]), wholePower(watts),
      wholePower(taken[i])]),
  };
  const last = cook.time_s.length - 1, heat = cook.heat_j;
  makeChart(id, config, `Line chart: of ${quantity("heat", heat.air[last] + heat.radiation[last])} that arrives evaporation takes ` +
    `${quantity("heat", heat.evaporation[last])}.`);
}

function commonChart(id, explanation) {
  const names = ["evaporation", ...explanation.common_explanations.map((c) => c.name)];
  const joules = [explanation.heat.evaporation_heat_j, ...explanation.common_explanations.map((c) => c.high_j)];
  const scale = (v) => (units === "us" ? v / 1055.05585262 : 1e-3 * v);
  const config = {
    type: "bar",
    data: { labels: names, datasets: [{ label: "heat at most", data: joules.map(scale), backgroundColor: colours.slice(0, names.length) }] },
    options: chartOptions({ x: axis(`heat, ${units === "us" ? "BTU" : "kJ"}`, { min: 0 }), y: { ticks: { autoSkip: false } } },
      { indexAxis: "y", interaction: { mode: "nearest", intersect: true } }),
  };
  config.options.plugins.legend.display = false;
  tables[id] = { heads: ["explanation", "heat at most"], rows: names.map((name, i) => [name, quantity("heat", joules[i])]) };
  makeChart(id, config, `Bar chart: ${names.map((name, i) => `${name} ${quantity("heat", joules[i])}`).join(", ")}.`);
}

function changesChart(id, cooks) {
  const drawn = cooks.filter((cook) => cook.time_s);
  const config = {
    type: "line",
    data: { datasets: drawn.map((cook, i) => line(cook.words, i, points(cook, cook.probe_k.map(axisTemperature)),
      { borderWidth: i === 0 ? 3.4 : 2.2 })) },
    options: chartOptions({ x: hourAxis(), y: axis(`probe, ${degree()}`) }),
  };
  tables[id] = {
    heads: ["cook", "time", "probe"],
    rows: drawn.flatMap((cook) => cook.time_s.map((s, i) => [cook.words, quantity("duration", s), quantity("temperature", cook.probe_k[i])])),
  };
  makeChart(id, config, `Line chart: ${drawn.map((cook) => `${cook.words}, ${describeCook(cook)}`).join("; ")}.`);
}

/* A table is made when it is opened, and made anew when its chart changes. */
function fillTable(id) {
  const details = document.querySelector(`details[data-chart="${id}"]`);
  if (!details || !details.open || !tables[id]) return;
  const table = document.createElement("table"), head = table.createTHead().insertRow(), body = table.createTBody();
  for (const text of tables[id].heads) {
    const cell = document.createElement("th");
    cell.scope = "col";
    cell.textContent = text;
    head.append(cell);
  }
  for (const row of tables[id].rows) {
    const line = body.insertRow();
    for (const text of row) line.insertCell().textContent = text;
  }
  details.querySelector(".scroll").replaceChildren(table);
}
