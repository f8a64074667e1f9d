// SPDX-License-Identifier: BSD-3-Clause
/* The legend would draw a point as wide as its line samples. */
function pointSample(fill) {
  const sample = document.createElement("canvas"), pen = sample.getContext("2d");
  sample.width = 40;
  sample.height = 12;
  pen.fillStyle = fill;
  pen.strokeStyle = "#1c1c1c";
  for (const x of [8, 20, 32]) {
    pen.beginPath();
    pen.arc(x, 6, 3, 0, 2 * Math.PI);
    pen.fill();
    pen.stroke();
  }
  return sample;
}

/* A cook under way: readings as points, the likeliest cook up to now, the band of those that go on. */
function showTrack() {
  const { now_s: now, pull_k: pull, readings, fitted, fan } = data.track, hours = (s) => s / 3600;
  const point = (s, kelvin) => ({ x: hours(s), y: axisTemperature(kelvin) });
  const past = fitted.filter((p) => p.time_s <= now + 1).map((p) => point(p.time_s, p.probe_k));
  const known = fan.filter((m) => !isAbsent(m.probe_k.middle)), edge = (name) => known.map((m) => point(m.time_s, m.probe_k[name]));
  const bare = { type: "line", pointRadius: 0, pointHoverRadius: 0, borderWidth: 0 };
  const datasets = [
    { ...bare, label: "", data: edge("low"), pointHitRadius: 0 },
    { ...bare, label: "the middle 80 %", data: edge("high"), fill: "-1", backgroundColor: "rgba(20, 80, 159, 0.2)", pointStyle: "rect", pointHitRadius: 0 },
    line("going on as planned", 0, edge("middle"), { borderDash: [5, 4] }),
    line("likeliest cook", 0, past, { borderWidth: 2.8, borderDash: [] }),
    line("pull", 5, [point(0, pull), point(fan[fan.length - 1].time_s, pull)], { borderDash: [2, 3], borderWidth: 1.4 }),
  ];
  for (const probe of [1, 2]) {
    const own = readings.filter((r) => r.probe === probe);
    if (own.length === 0) continue;
    const fill = probe === 1 ? "#6b6b6b" : "#fffefb";
    datasets.push({ type: "line", label: probe === 1 ? "read" : "read, second probe", data: own.map((r) => point(r.time_s, r.probe_k)), showLine: false,
      pointRadius: 2, pointHoverRadius: 4, borderColor: "#6b6b6b", backgroundColor: fill, order: 1 });
  }
  const config = {
    type: "line", plugins: [marks], data: { datasets },
    options: chartOptions({ x: hourAxis(), y: axis(`probe, ${degree()}`) }, { cursor: hours(now) }),
  };
  config.options.plugins.legend.labels.generateLabels = (chart) => Chart.defaults.plugins.legend.labels.generateLabels(chart).map((item) =>
    item.text.startsWith("read") ? { ...item, pointStyle: pointSample(item.text === "read" ? "#6b6b6b" : "#fffefb") } : item);
  config.options.plugins.legend.labels.filter = (item) => item.text !== "";
  config.options.plugins.tooltip.filter = (item) => item.dataset.label !== "";
  tables["track-curve"] = {
    heads: ["time", "what", "probe", "from", "to"],
    rows: [...readings.map((r) => [quantity("duration", r.time_s), "read", quantity("temperature", r.probe_k), "", ""]),
      ...known.map((m) => [quantity("duration", m.time_s), "to come", ...["middle", "low", "high"].map((name) => quantity("temperature", m.probe_k[name]))])],
  };
  const last = readings[readings.length - 1];
  makeChart("track-curve", config, `Line chart: ${last ? `last reading ${quantity("temperature", last.probe_k)} after ${quantity("duration", last.time_s)}` : "no readings"}, ` +
    `then a band of the middle 80 % of cooks until ${quantity("temperature", pull)}.`);
}
