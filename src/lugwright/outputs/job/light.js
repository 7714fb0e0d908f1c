"use strict";
// Touching or focusing a wire anywhere lights it everywhere: in the drawings, in the lists, on its
// cards. A bar says what it is and leads to its cards. Escape, or touching it again, puts it out.
(function () {
  const bar = document.querySelector(".lit-bar");
  const marked = Array.from(document.querySelectorAll("[data-wire]"));
  let lit = "";

  function facts(name) {
    const row = document.querySelector("[data-about][data-wire=" + CSS.escape(name) + "]");
    return row ? row.dataset.about : name;
  }

  function tell(cards) {
    bar.replaceChildren();
    bar.hidden = !lit;
    if (!lit) return;
    const words = document.createElement("span");
    words.textContent = facts(lit) + ". Cards: ";
    bar.append(words);
    for (const card of cards) {
      const link = document.createElement("a");
      link.href = "#" + card.id;
      link.textContent = card.id.replace("card-", "");
      bar.append(link, " ");
    }
    const whole = document.createElement("a");
    whole.href = "#whole";
    whole.textContent = "whole panel";
    const out = document.createElement("button");
    out.type = "button";
    out.textContent = "put out";
    out.addEventListener("click", () => light(""));
    bar.append(whole, " ", out);
  }

  function light(name) {
    lit = name;
    document.querySelectorAll(".lit").forEach((one) => one.classList.remove("lit"));
    const cards = new Set();
    for (const one of marked) {
      if (!name || one.dataset.wire !== name) continue;
      one.classList.add("lit");
      const card = one.closest(".card");
      const drawing = one.closest("svg");
      if (card) { card.classList.add("lit"); cards.add(card); }
      if (drawing) drawing.classList.add("lit");
    }
    tell(cards);
  }

  // a box or a link inside a lit row has work of its own
  function wireOf(event) {
    if (!(event.target instanceof Element) || event.target.closest("label, a")) return null;
    return event.target.closest("[data-wire]");
  }

  let focused = false;
  document.addEventListener("focusin", (event) => {
    const wire = wireOf(event);
    focused = Boolean(wire) && wire.dataset.wire !== lit;
    if (focused) light(wire.dataset.wire);
  });
  document.addEventListener("click", (event) => {
    const wire = wireOf(event);
    if (wire && !focused) light(wire.dataset.wire === lit ? "" : wire.dataset.wire);
    focused = false;
  });
  document.addEventListener("keydown", (event) => { if (event.key === "Escape") light(""); });
})();
