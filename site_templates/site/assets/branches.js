// Which ways of the work are open: an answer opens its arm, and a stop ends all that follows.
"use strict";
window.witness = window.witness || {};
(function (witness) {
  const all = (selector, root) => Array.from((root || document).querySelectorAll(selector));

  function saidIn(round) {
    const result = round.settled ? round.result : "";
    return [round.answer, result, ["above", "below"].includes(result) ? "out" : ""].filter(Boolean);
  }

  function setArm(arm, whole, asking) {
    arm.classList.toggle("closed", whole && !asking.length);
    arm.classList.toggle("asked", asking.length > 0);
    let which = arm.querySelector(":scope > .heading > .which");
    if (!which) {
      which = document.createElement("span");
      which.className = "which";
      arm.querySelector(":scope > .heading").append(which);
    }
    which.textContent = asking.map((round) => round.name).filter(Boolean).join(", ");
  }

  // An arm is open when any round asks for it, and while one is not known yet.
  witness.openArms = function (name, seen) {
    const known = seen.filter((round) => saidIn(round).length);
    for (const fork of all(".fork")) {
      const arms = all(":scope > .arm", fork).filter((arm) => arm.dataset.when === name);
      if (!arms.length) continue;
      const whole = known.length === seen.length;
      const left = new Set(known);
      for (const arm of arms) {
        const wanted = JSON.parse(arm.dataset.answers);
        const asking = known.filter((round) => saidIn(round).some((one) => wanted.includes(one)));
        for (const round of asking) left.delete(round);
        setArm(arm, whole, asking);
      }
      const otherwise = fork.querySelector(":scope > .arm.otherwise");
      if (otherwise) setArm(otherwise, whole, Array.from(left));
    }
  };

  // Where an answer leads to a stop, nothing after it is done, however the page goes on below.
  witness.showEnd = function () {
    const stop = all(".arm.asked .step.stop").find((step) => !step.closest(".arm.closed"));
    for (const one of all(".step, .again > .rounds")) {
      const after = stop && stop !== one
        && Boolean(stop.compareDocumentPosition(one) & Node.DOCUMENT_POSITION_FOLLOWING);
      one.classList.toggle("beyond", Boolean(after));
    }
    document.body.classList.toggle("ended", Boolean(stop));
    return stop || null;
  };
})(window.witness);
