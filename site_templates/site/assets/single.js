// One step at a time: the current step alone, with what its section and branch say before it.
"use strict";
window.witness = window.witness || {};
(function (witness) {
  const all = (selector, root) => Array.from((root || document).querySelectorAll(selector));
  const FRAMES = ".part, .again, .fork, .arm, .lanes, .lane, .steps";

  const KEPT = "witnessmark:one-at-a-time";

  // `open` returns the steps that are to be done, in order; `moved` is called when the step changes.
  witness.openSingle = function (open, moved) {
    // A step, or the page before the first one, or that behind the last.
    const START = {}, END = {};
    let current = null;
    const isStep = (place) => place instanceof Element;

    const on = () => document.body.classList.contains("single");

    // Does the place go on below the bar at the foot? The key there must not hide half a step.
    function look() {
      const last = isStep(current) ? current : document.querySelector(current === START ? ".before" : ".closing");
      const over = on() && last.getBoundingClientRect().bottom > document.querySelector(".progress").getBoundingClientRect().top + 4;
      document.body.classList.toggle("goes-on", over);
    }
    for (const what of ["scroll", "resize", "toggle", "load"]) window.addEventListener(what, look, { passive: true, capture: true });

    function remember(yes) {
      try {
        localStorage.setItem(KEPT, yes ? "yes" : "no");
      } catch (error) {
        // The next page begins with all steps.
      }
    }

    function remembered() {
      try {
        return localStorage.getItem(KEPT) === "yes";
      } catch (error) {
        return false;
      }
    }

    function show(step) {
      current = step;
      for (const one of all(".work .step, .work .frame-of-current, .work .current")) one.classList.remove("current", "frame-of-current");
      document.body.classList.toggle("at-start", step === START);
      document.body.classList.toggle("at-end", step === END);
      look();
      if (!step) return;
      if (isStep(step)) step.classList.add("current");
      for (let frame = isStep(step) && step.parentElement.closest(FRAMES); frame; frame = frame.parentElement.closest(FRAMES)) {
        frame.classList.add("frame-of-current");
      }
      moved(step);
      look();
    }

    function go(by) {
      const places = [START, ...open(), END];
      const at = Math.max(places.indexOf(current), 0);
      show(places[Math.min(Math.max(at + by, 0), places.length - 1)]);
      window.scrollTo(0, 0);
    }

    // The step to look at: the first that is not ticked; when all are, the job is to be closed.
    const first = (done) => open().find((step) => !done(step)) || END;

    return {
      on: on,
      remember: remember,
      remembered: remembered,
      current: () => (on() && isStep(current) ? current : null),
      place: () => (current === START ? "start" : current === END ? "end" : "step"),
      toStart: () => on() && show(START),
      go: go,
      show: show,
      // A step that falls away, with its branch or model, is no longer the one to look at.
      settle: function (done) {
        if (on() && isStep(current) && !open().includes(current)) show(first(done));
      },
      toggle: function (yes, done) {
        document.body.classList.toggle("single", yes);
        show(yes ? first(done) : null);
        if (yes) window.scrollTo(0, 0);
      },
    };
  };
})(window.witness);
