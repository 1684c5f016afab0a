// A drawn sequence, tapped bolt by bolt in its order and passes; what was turned is kept.
"use strict";
window.witness = window.witness || {};
(function (witness) {
  const fill = (text, values) => text.replace(/\{(\w+)\}/g, (whole, name) => (name in values ? values[name] : whole));

  // Every turn of the wrench in its order: { pass, bolt }. A last round goes round the circle.
  function turns(figure) {
    const order = JSON.parse(figure.dataset.order), passes = JSON.parse(figure.dataset.passes);
    const round = order.slice().sort((a, b) => a - b);
    const rounds = passes.length ? passes : [""];
    const one = rounds.flatMap(function (pass, at) {
      const last = "ring" in figure.dataset && at === rounds.length - 1;
      return (last ? round : order).map((bolt) => ({ pass: pass, at: at, bolt: bolt }));
    });
    return Array.from({ length: Number(figure.dataset.times) || 1 }, (_, group) => one.map((turn) => ({ ...turn, group: group }))).flat();
  }

  // `done` is how many turns were made; `keep` is told when that changes.
  witness.openBolts = function (figure, words, done, keep) {
    const all = turns(figure), groups = Number(figure.dataset.times) || 1;
    const bar = document.createElement("div"), output = document.createElement("output");
    const ahead = document.createElement("button"), back = document.createElement("button");
    bar.className = "turning";
    output.setAttribute("aria-live", "polite");
    ahead.type = back.type = "button";
    ahead.className = "strong";
    back.textContent = words.bolt_back;
    bar.append(output, ahead, back);
    figure.querySelector("svg").after(bar);

    function show(refused) {
      const next = all[done];
      const here = (turn, n) => n < done && next && turn.at === next.at && turn.group === next.group;
      const turned = new Set(all.filter(here).map((turn) => turn.bolt));
      for (const bolt of figure.querySelectorAll(".bolt")) {
        const number = Number(bolt.dataset.bolt);
        bolt.classList.toggle("turned", !next || turned.has(number));
        bolt.classList.toggle("next", Boolean(next) && next.bolt === number);
      }
      const group = next && groups > 1 ? fill(words.bolt_group, { n: next.group + 1, all: groups }) + " " : "";
      const pass = next && next.pass ? next.pass + ". " : "";
      output.textContent = next ? group + pass + fill(refused ? words.bolt_not_yet : words.bolt_next, { n: next.bolt }) : words.bolts_done;
      output.classList.toggle("out", Boolean(refused));
      ahead.textContent = next ? fill(words.bolt_done, { n: next.bolt }) : words.bolts_done;
      ahead.disabled = !next;
      back.disabled = !done;
    }

    function go(to) {
      if (!keep(to)) return;
      done = to;
      show(false);
    }

    ahead.addEventListener("click", () => go(done + 1));
    back.addEventListener("click", () => go(done - 1));
    figure.querySelector("svg").addEventListener("click", function (event) {
      const bolt = event.target.closest(".bolt");
      if (!bolt || done >= all.length) return;
      if (Number(bolt.dataset.bolt) === all[done].bolt) go(done + 1);
      else show(true);
    });
    done = Math.min(Math.max(Math.trunc(done), 0), all.length);
    show(false);
  };
})(window.witness);
