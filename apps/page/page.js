// SPDX-License-Identifier: BSD-3-Clause
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

if (data.lab) {
  beginLab();
  listenToLab();
}
if (data.sweep) beginSweep();
for (const input of document.querySelectorAll("input[name=units]")) {
  input.checked = input.value === units;
  input.addEventListener("change", () => { units = input.value; showPage(); });
}
showPage();
