// One step at a time: the current step alone, with what its section and branch say before it.
"use strict";
window.witness = window.witness || {};
(function (witness) {
  const all = (selector, root) => Array.from((root || document).querySelectorAll(selector));
  const FRAMES = ".part, .again, .fork, .arm, .lanes, .lane, .steps";

  // `open` returns the steps that are to be done, in order; `moved` is called when the step changes.
  witness.openSingle = function (open, moved) {
    let current = null;

    const on = () => document.body.classList.contains("single");

    function show(step) {
      current = step;
      for (const one of all(".work .step, .work .frame-of-current, .work .current")) one.classList.remove("current", "frame-of-current");
      if (!step) return;
      step.classList.add("current");
      for (let frame = step.parentElement.closest(FRAMES); frame; frame = frame.parentElement.closest(FRAMES)) {
        frame.classList.add("frame-of-current");
      }
      moved(step);
    }

    function go(by) {
      const steps = open();
      const at = steps.indexOf(current);
      const next = steps[Math.min(Math.max(at + by, 0), steps.length - 1)];
      if (next) show(next);
      window.scrollTo(0, 0);
    }

    // The step to look at: the first that is not ticked, or the last.
    function first(done) {
      const steps = open();
      return steps.find((step) => !done(step)) || steps[steps.length - 1] || null;
    }

    return {
      on: on,
      current: () => (on() ? current : null),
      go: go,
      show: show,
      // A step that falls away, with its branch or model, is no longer the one to look at.
      settle: function (done) {
        if (on() && !open().includes(current)) show(first(done));
      },
      toggle: function (yes, done) {
        document.body.classList.toggle("single", yes);
        show(yes ? first(done) : null);
        if (yes) window.scrollTo(0, 0);
      },
    };
  };
})(window.witness);
