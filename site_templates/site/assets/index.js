// Search on the first page: every word typed must occur, in any order; machine, model, tool and day narrow it.
"use strict";
(function (witness) {
  const words = JSON.parse(document.body.dataset.words);
  const known = witness.finder.words.split(" ");
  const id = (name) => document.getElementById(name);
  const FIRST = 60;

  function plain(text) {
    return text.normalize("NFKD").replace(/[\u0300-\u036f]/g, "").toLowerCase().replace(/ß/g, "ss");
  }

  // A row names its words by places, each as the step from the one before.
  const rows = witness.finder.rows.map(function (row) {
    let at = 0;
    return {
      id: row[0], title: row[1], machine: row[2], machineTitle: row[3], models: row[4], day: row[5], meta: row[6],
      places: row[7].map((step) => (at += step)), tools: row[8],
    };
  });
  rows.sort((one, other) => one.title.localeCompare(other.title));

  const holds = (text) => new Set(known.flatMap((word, place) => (word.includes(text) ? [place] : [])));

  // The tools of the crib in the order of the choice.
  const toolPlace = () => Number(id("tool").value);

  function fits(typed) {
    const machine = id("machine").value, model = id("model").value, since = id("since").value;
    const tool = toolPlace(), wanted = typed.map(holds);
    return (row) => (machine === "*" || row.machine === machine)
      && (!model || row.models.includes(model))
      && (tool < 0 || row.tools.includes(tool))
      && (!since || row.day >= since)
      && wanted.every((places) => row.places.some((place) => places.has(place)));
  }

  function card(row) {
    const made = id("card").content.firstElementChild.cloneNode(true);
    made.querySelector("a").href = "procedures/" + row.id + ".html";
    made.querySelector("b").textContent = row.title;
    made.querySelector(".where").textContent = [row.machineTitle, row.models.join(", ")].filter(Boolean).join(" · ");
    made.querySelector(".meta").textContent = row.meta;
    return made;
  }

  let found = [];

  function more(count) {
    const results = id("results"), shown = results.children.length;
    results.append(...found.slice(shown, shown + count).map(card));
    id("more").hidden = results.children.length >= found.length;
  }

  function show() {
    const typed = plain(id("search").value).split(/\s+/).filter(Boolean);
    const asked = typed.length || id("machine").value !== "*" || id("model").value || toolPlace() >= 0 || id("since").value;
    id("all").hidden = Boolean(asked);
    found = asked ? rows.filter(fits(typed)) : [];
    id("results").replaceChildren();
    more(FIRST);
    id("found").textContent = asked ? words.found.replace("{n}", String(found.length)).replace("{all}", String(rows.length)) : "";
  }

  for (const name of ["search", "since"]) id(name).addEventListener("input", show);
  for (const name of ["machine", "model", "tool"]) id(name).addEventListener("change", show);
  id("more").addEventListener("click", () => more(4 * FIRST));
  id("narrow").hidden = false;
  show();
})(window.witness);
