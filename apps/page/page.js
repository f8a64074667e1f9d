/* What is on the page is drawn here; again when the units change. */
function showPage() {
  showAllQuantities();
  if (data.planned) {
    temperatureChart("course", data.planned);
    heatChart("heat", data.planned);
    balanceChart("balance", data.planned);
    commonChart("common", data.explanation);
  }
  changesChart("changes", data.planned ? [{ ...data.planned, words: "as planned" }, ...data.changes] : data.changes);
  buildControls();
  drawScale("temperature", celsiusText);
  drawScale("water", waterText);
  showCook();
}

beginLab();
for (const input of document.querySelectorAll("input[name=units]")) {
  input.checked = input.value === units;
  input.addEventListener("change", () => { units = input.value; showPage(); });
}
for (const details of document.querySelectorAll("details[data-chart]"))
  details.addEventListener("toggle", () => fillTable(details.dataset.chart));
/* Print lays the page out anew; charts follow. */
for (const name of ["beforeprint", "afterprint"])
  window.addEventListener(name, () => { for (const chart of Object.values(charts)) chart.resize(); });
showPage();
