// SPDX-License-Identifier: BSD-3-Clause
/* Tables that are made when they are opened, and charts on paper. */
for (const details of document.querySelectorAll("details[data-chart]"))
  details.addEventListener("toggle", () => fillTable(details.dataset.chart));
/* On paper a chart cannot ask how wide it is: it gets a size, and the style sheet fits it in. */
window.addEventListener("beforeprint", () => {
  for (const chart of Object.values(charts)) chart.resize(...(chart.canvas.closest(".pair") ? [380, 260] : [720, 330]));
});
window.addEventListener("afterprint", () => { for (const chart of Object.values(charts)) chart.resize(); });
