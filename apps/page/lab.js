// SPDX-License-Identifier: BSD-3-Clause
/* The laboratory: controls that move between computed cooks, and a time slider that plays the chosen one. */
const lab = { at: [], moment: 0, timer: null };

function labCook() {
  let number = 0;
  data.lab.axes.forEach((a, i) => { number = number * a.values.length + lab.at[i]; });
  return data.lab.cooks[number];
}

function buildControls() {
  document.getElementById("lab-controls").replaceChildren(...data.lab.axes.map((a, i) =>
    choiceSet(a.label, `axis-${i}`, a.values.map((value) => quantity(a.kind, value)), lab.at[i], (k) => { lab.at[i] = k; showCook(); })));
}

/* Scales of the cross-sections are those of all cooks, so that colours can be compared between them. */
function labScales() {
  const scales = { temperature: [0, 1], water: [0, 0.01] };
  for (const cook of data.lab.cooks)
    for (let i = 0; cook.time_s && i < cook.time_s.length; i++) {
      for (const v of cook.celsius_tenths[i]) scales.temperature[1] = Math.max(scales.temperature[1], v / 10);
      for (const v of cook.water_hundredths[i]) scales.water[1] = Math.max(scales.water[1], v / 100);
    }
  return scales;
}

const ramps = {
  temperature: (x) => oklab(0.25 + 0.69 * x, -0.02 + 0.5 * x * (1 - x), -0.1 + 0.22 * x),
  water: (x) => oklab(0.95 - 0.63 * x, 0.01 - 0.05 * x, 0.05 - 0.17 * x),
};
const colourOf = (name, value) => {
  const [low, high] = lab.scales[name];
  return ramps[name](Math.min(1, Math.max(0, (value - low) / (high - low))));
};

function valuesAt(cook, name, moment) {
  return name === "temperature" ? cook.celsius_tenths[moment].map((v) => v / 10) : cook.water_hundredths[moment].map((v) => v / 100);
}

/* Layers meet half way between the kept ones. */
function layerEdges(cook) {
  const y = cook.height, edges = [];
  for (let i = 1; i < y.length; i++) edges.push(0.5 * (y[i - 1] + y[i]));
  const radial = data.lab.shape !== "slab";
  return [radial ? 0 : y[0] - (edges[0] - y[0]), ...edges, y[y.length - 1] + (y[y.length - 1] - edges[edges.length - 1])];
}

function drawSlab(pen, cook, name, values, width, height) {
  const edges = layerEdges(cook), low = edges[0], span = edges[edges.length - 1] - low, margin = 12;
  values.forEach((v, i) => {
    const top = margin + (height - 2 * margin) * (1 - (edges[i + 1] - low) / span);
    const bottom = margin + (height - 2 * margin) * (1 - (edges[i] - low) / span);
    pen.fillStyle = `rgb(${colourOf(name, v).join(",")})`;
    pen.fillRect(margin, top, width - 2 * margin, bottom - top + 0.7);
  });
}

function drawRound(pen, cook, name, values, width, height) {
  const edges = layerEdges(cook), outer = edges[edges.length - 1], radius = 0.46 * height;
  for (let i = values.length - 1; i >= 0; i--) {
    pen.fillStyle = `rgb(${colourOf(name, values[i]).join(",")})`;
    pen.beginPath();
    pen.arc(width / 2, height / 2, radius * edges[i + 1] / outer, 0, 2 * Math.PI);
    pen.fill();
  }
}

/* A section: each cell is filled by triangles from its centre to its corners, over which colours run. A corner has the mean of the
 * cells that meet there. Where only a half was computed its mirror image follows. */
function cornerValues(cook, values) {
  const sums = new Float64Array(cook.corners.length), counts = new Float64Array(cook.corners.length);
  cook.cells.forEach((corners, i) => corners.forEach((c) => { sums[c] += values[i % values.length]; counts[c]++; }));
  return sums.map((sum, c) => sum / counts[c]);
}

function centreOf(cook, i) {
  const own = cook.along.length, cell = cook.cells[i];
  if (i < own) return [cook.along[i], cook.height[i]];
  const mean = (k) => cell.reduce((sum, c) => sum + cook.corners[c][k], 0) / cell.length;
  return [mean(0), cook.height[i - own]];
}

/* Dot by dot: thousands of small paths would be slow to draw. Dots within a hair of the edge count, so that no gaps show. */
function fillTriangle(dots, width, [a, b, c], [va, vb, vc], shade) {
  const area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
  if (area === 0) return;
  const from = Math.ceil(Math.min(a[0], b[0], c[0]) - 0.51), to = Math.floor(Math.max(a[0], b[0], c[0]) - 0.49);
  const first = Math.ceil(Math.min(a[1], b[1], c[1]) - 0.51), last = Math.floor(Math.max(a[1], b[1], c[1]) - 0.49);
  for (let y = first; y <= last; y++)
    for (let x = from; x <= to; x++) {
      const px = x + 0.5, py = y + 0.5;
      const ofB = ((px - a[0]) * (c[1] - a[1]) - (py - a[1]) * (c[0] - a[0])) / area;
      const ofC = ((b[0] - a[0]) * (py - a[1]) - (b[1] - a[1]) * (px - a[0])) / area;
      if (ofB >= -1e-6 && ofC >= -1e-6 && ofB + ofC <= 1 + 1e-6)
        dots[y * width + x] = shade(va + ofB * (vb - va) + ofC * (vc - va));
    }
}

/* The colour of a value as a dot of an image, by steps that the eye does not see. */
function dotColours(name) {
  const [low, high] = lab.scales[name], steps = 255, bytes = new Uint8ClampedArray(4 * (steps + 1));
  for (let i = 0; i <= steps; i++) bytes.set([...colourOf(name, low + (high - low) * i / steps), 255], 4 * i);
  const colours = new Uint32Array(bytes.buffer);
  return (value) => colours[Math.min(steps, Math.max(0, Math.round(steps * (value - low) / (high - low))))];
}

function drawSection(pen, cook, name, values, width, height) {
  const xs = cook.outline.map((c) => c[0]), ys = cook.outline.map((c) => c[1]);
  const left = Math.min(...xs), right = Math.max(...xs), low = Math.min(...ys), high = Math.max(...ys);
  const scale = Math.min((width - 24) / (right - left), (height - 24) / (high - low));
  const place = ([x, y]) => [width / 2 + scale * (x - 0.5 * (left + right)), height / 2 - scale * (y - 0.5 * (low + high))];
  const corners = cook.corners.map(place), atCorners = cornerValues(cook, values);
  const image = pen.createImageData(width, height), dots = new Uint32Array(image.data.buffer), shade = dotColours(name);
  cook.cells.forEach((cell, i) => {
    const centre = place(centreOf(cook, i)), value = values[i % values.length];
    cell.forEach((a, k) => {
      const b = cell[(k + 1) % cell.length];
      fillTriangle(dots, width, [centre, corners[a], corners[b]], [value, atCorners[a], atCorners[b]], shade);
    });
  });
  pen.putImageData(image, 0, 0);
  const outline = new Path2D();
  cook.outline.forEach((c) => outline.lineTo(...place(c)));
  outline.closePath();
  pen.lineWidth = 2;
  pen.stroke(outline);
}

function drawCut(name, unit) {
  const canvas = document.getElementById(`lab-${name}`), cook = labCook(), pen = canvas.getContext("2d");
  pen.clearRect(0, 0, canvas.width, canvas.height);
  if (!cook.time_s) return;
  const values = valuesAt(cook, name, lab.moment);
  if (cook.outline) drawSection(pen, cook, name, values, canvas.width, canvas.height);
  else if (data.lab.shape === "slab") drawSlab(pen, cook, name, values, canvas.width, canvas.height);
  else drawRound(pen, cook, name, values, canvas.width, canvas.height);
  canvas.setAttribute("aria-label", `Cross-section after ${quantity("duration", cook.time_s[lab.moment])}: ${name} from ` +
    `${unit(Math.min(...values))} to ${unit(Math.max(...values))}.`);
}

const celsiusText = (v) => quantity("temperature", v + 273.15);
const waterText = (v) => v.toFixed(2);

function drawScale(name, unit) {
  const element = document.getElementById(`scale-${name}`), ramp = document.createElement("span");
  const [low, high] = lab.scales[name], stops = [];
  for (let i = 0; i <= 20; i++) stops.push(`rgb(${ramps[name](i / 20).join(",")})`);
  ramp.className = "ramp";
  ramp.style.background = `linear-gradient(to right, ${stops.join(", ")})`;
  const from = document.createElement("span"), to = document.createElement("span");
  from.textContent = unit(low);
  to.textContent = unit(high);
  element.replaceChildren(from, ramp, to);
}

function summaryOf(cook) {
  if (!cook.time_s) return `This cook could not be computed: ${cook.error}.`;
  const end = cook.never_ends ? `never finishes; followed for ${quantity("duration", cook.followed_s)}`
    : `done after ${quantity("duration", cook.done_s)}`;
  const stall = isAbsent(cook.stall_length_s) ? "no stall"
    : `stall of ${quantity("duration", cook.stall_length_s)} from ${quantity("temperature", cook.stall_probe_k)}`;
  return `This cook: ${end}; ${stall}; ${quantity("share", cook.yield_at_pull)} of the raw weight left; ` +
    `${quantity("mass", cook.evaporated_kg)} of water evaporated.`;
}

function showMoment() {
  const cook = labCook(), slider = document.getElementById("lab-slider"), now = document.getElementById("lab-now");
  drawCut("temperature", celsiusText);
  drawCut("water", waterText);
  if (!cook.time_s) {
    now.textContent = "";
    return;
  }
  const i = lab.moment, clock = quantity("duration", cook.time_s[i]);
  const t = valuesAt(cook, "temperature", i), w = valuesAt(cook, "water", i);
  slider.value = String(i);
  slider.setAttribute("aria-valuetext", clock);
  document.getElementById("lab-clock").textContent = clock;
  now.textContent = `After ${clock}: probe ${quantity("temperature", cook.probe_k[i])}, top surface ${quantity("temperature", cook.surface_k[i])}, ` +
    `${quantity("mass", 3600 * cook.evaporation_rate_kg_per_s[i])} of water evaporating an hour, heat taken by evaporation so far ` +
    `${quantity("heat", cook.heat_j.evaporation[i])}.`;
  tables["lab-section"] = {
    heads: cook.outline ? ["along", "up", "temperature", "water"] : [data.lab.shape === "slab" ? "up" : "from the axis", "temperature", "water"],
    rows: t.map((v, k) => [...(cook.outline ? [quantity("length", cook.along[k])] : []), quantity("length", cook.height[k]),
      celsiusText(v), waterText(w[k])]),
  };
  fillTable("lab-section");
  for (const id of ["lab-curves", "lab-heat"])
    if (charts[id]) {
      charts[id].config.options.cursor = cook.time_s[i] / 3600;
      charts[id].draw();
    }
}

function showCook() {
  const cook = labCook(), slider = document.getElementById("lab-slider");
  document.getElementById("lab-summary").textContent = summaryOf(cook);
  slider.disabled = document.getElementById("lab-play").disabled = !cook.time_s;
  if (cook.time_s) {
    slider.max = String(cook.time_s.length - 1);
    lab.moment = Math.min(lab.moment, cook.time_s.length - 1);
    temperatureChart("lab-curves", cook, cook.time_s[lab.moment] / 3600);
    heatChart("lab-heat", cook, cook.time_s[lab.moment] / 3600);
    const words = cook.outline ? `Drawn from ${cook.layers} cells that follow the outline; colours run from cell to cell.`
      : `${cook.height.length} of ${cook.layers} layers are shown.`;
    for (const element of document.querySelectorAll(".section-words")) element.textContent = words;
  } else {
    for (const id of ["lab-curves", "lab-heat"])
      if (charts[id]) {
        charts[id].destroy();
        delete charts[id];
      }
    document.getElementById("lab-clock").textContent = "-";
  }
  showMoment();
}

function showLab() {
  buildControls();
  drawScale("temperature", celsiusText);
  drawScale("water", waterText);
  showCook();
}

function stopPlaying() {
  clearInterval(lab.timer);
  lab.timer = null;
  const button = document.getElementById("lab-play");
  button.textContent = "Play";
  button.setAttribute("aria-pressed", "false");
}

function togglePlaying() {
  if (lab.timer) {
    stopPlaying();
    return;
  }
  const button = document.getElementById("lab-play");
  button.textContent = "Stop";
  button.setAttribute("aria-pressed", "true");
  if (lab.moment >= labCook().time_s.length - 1) lab.moment = 0;
  lab.timer = setInterval(() => {
    const cook = labCook();
    if (!cook.time_s || lab.moment >= cook.time_s.length - 1) {
      stopPlaying();
      return;
    }
    lab.moment++;
    showMoment();
  }, 350);
}

/* Begins in the middle of the stall, or of the cook. */
function beginLab() {
  lab.at = data.lab.axes.map((a) => a.planned);
  lab.scales = labScales();
  const cook = labCook();
  if (!cook.time_s) return;
  const end = cook.time_s[cook.time_s.length - 1];
  const middle = isAbsent(cook.stall_start_s) ? 0.5 * end : 0.5 * (cook.stall_start_s + cook.stall_end_s);
  lab.moment = Math.max(0, cook.time_s.findIndex((t) => t >= middle));
}

function listenToLab() {
  const slider = document.getElementById("lab-slider");
  slider.addEventListener("input", () => { lab.moment = Number(slider.value); showMoment(); });
  document.getElementById("lab-play").addEventListener("click", togglePlaying);
}
