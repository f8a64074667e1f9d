/* What is on the page is drawn here; again when the units change. */
function showPage() {
  showAllQuantities();
  showAllWorded();
  if (data.planned) {
    temperatureChart("course", data.planned);
    heatChart("heat", data.planned);
    balanceChart("balance", data.planned);
    commonChart("common", data.explanation);
  }
  if (data.changes) changesChart("changes", data.planned ? [{ ...data.planned, words: "as planned" }, ...data.changes] : data.changes);
  if (data.lab) showLab();
  if (data.sweep) showSweep();
  if (data.track) showTrack();
}

if (data.lab) beginLab();
if (data.sweep) beginSweep();
for (const input of document.querySelectorAll("input[name=units]")) {
  input.checked = input.value === units;
  input.addEventListener("change", () => { units = input.value; showPage(); });
}
for (const details of document.querySelectorAll("details[data-chart]"))
  details.addEventListener("toggle", () => fillTable(details.dataset.chart));
/* On paper a chart cannot ask how wide it is: it gets a size, and the style sheet fits it in. */
window.addEventListener("beforeprint", () => {
  for (const chart of Object.values(charts)) chart.resize(...(chart.canvas.closest(".pair") ? [380, 260] : [720, 330]));
});
window.addEventListener("afterprint", () => { for (const chart of Object.values(charts)) chart.resize(); });
showPage();
