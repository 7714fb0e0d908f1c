"use strict";
// Keeps ticks and typed values under the plan's digest, where the browser lets a page keep
// anything; says in the status line how many boxes are ticked.
(function () {
  const body = document.body;
  const place = "lugwright:" + body.dataset.sheet + ":" + body.dataset.plan;
  const fields = Array.from(document.querySelectorAll("[data-keep]"));
  const status = document.querySelector('[role="status"]');
  let kept = {};
  try { kept = Object.assign({}, JSON.parse(localStorage.getItem(place))); } catch (error) { kept = {}; }
  const ticks = (field) => field.type === "checkbox";

  function show(key) {
    for (const field of fields) {
      if (field.dataset.keep !== key) continue;
      if (ticks(field)) field.checked = kept[key] === true;
      else field.value = typeof kept[key] === "string" ? kept[key] : "";
    }
  }

  function tell() {
    if (!status) return;
    const boxes = new Set(fields.filter(ticks).map((field) => field.dataset.keep));
    const done = Array.from(boxes).filter((key) => kept[key] === true).length;
    if (boxes.size) status.textContent = done + " of " + boxes.size + " boxes ticked";
  }

  function changed(event) {
    const field = event.target;
    if (!(field instanceof HTMLElement) || !field.dataset.keep) return;
    const key = field.dataset.keep;
    kept[key] = ticks(field) ? field.checked : field.value;
    show(key);
    tell();
    try { localStorage.setItem(place, JSON.stringify(kept)); } catch (error) { /* paper it is */ }
  }

  new Set(fields.map((field) => field.dataset.keep)).forEach(show);
  document.addEventListener("change", changed);
  tell();
})();
