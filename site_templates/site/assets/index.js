// Search and filter on the first page: every word typed must occur, in any order.
"use strict";
(function () {
  const words = JSON.parse(document.body.dataset.words);
  const search = document.getElementById("search");
  const machine = document.getElementById("machine");
  const found = document.getElementById("found");
  const cards = Array.from(document.querySelectorAll("[data-search]"), (card) => ({
    card: card, machine: card.dataset.machine, text: plain(card.dataset.search),
  }));

  const groups = Array.from(document.querySelectorAll(".group"));

  function plain(text) {
    return text.normalize("NFKD").replace(/[\u0300-\u036f]/g, "").toLowerCase();
  }

  function show() {
    const wanted = plain(search.value).split(/\s+/).filter(Boolean);
    let count = 0;
    for (const entry of cards) {
      const here = (machine.value === "*" || entry.machine === machine.value)
        && wanted.every((word) => entry.text.includes(word));
      entry.card.hidden = !here;
      count += here ? 1 : 0;
    }
    for (const group of groups) group.hidden = !group.querySelector("[data-search]:not([hidden])");
    found.textContent = wanted.length || machine.value !== "*"
      ? words.found.replace("{n}", String(count)).replace("{all}", String(cards.length)) : "";
  }

  search.addEventListener("input", show);
  machine.addEventListener("change", show);
  show();
})();
