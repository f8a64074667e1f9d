// SPDX-License-Identifier: BSD-3-Clause
/* Controls: one of several choices, as radio buttons or, if they are many, as a list. */
const RADIOS_MOST = 8;

function choiceSet(title, name, labels, chosen, choose) {
  const set = document.createElement("fieldset"), legend = document.createElement("legend");
  legend.textContent = title;
  set.append(legend);
  if (labels.length > RADIOS_MOST) {
    const list = document.createElement("select");
    list.name = name;
    list.setAttribute("aria-label", title);
    labels.forEach((text, k) => list.add(new Option(text, String(k), false, k === chosen)));
    list.addEventListener("change", () => choose(Number(list.value)));
    set.append(list);
    return set;
  }
  labels.forEach((text, k) => {
    const label = document.createElement("label"), input = document.createElement("input");
    input.type = "radio";
    input.name = name;
    input.value = String(k);
    input.checked = chosen === k;
    input.addEventListener("change", () => choose(k));
    label.append(input, ` ${text}`);
    set.append(label);
  });
  return set;
}
