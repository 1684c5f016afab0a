// A picture larger than the page, with its marks, to be moved about; Escape or a tap on the key closes it.
"use strict";
window.witness = window.witness || {};
(function (witness) {
  const STEPS = [100, 200, 400];

  witness.openZoom = function (figure, words) {
    const frame = figure.querySelector(".frame");
    if (!frame) return;
    const larger = document.createElement("button");
    larger.type = "button";
    larger.className = "larger";
    larger.textContent = words.larger;
    frame.after(larger);

    larger.addEventListener("click", function () {
      const dialog = document.createElement("dialog"), bar = document.createElement("div"), view = document.createElement("div");
      const more = document.createElement("button"), close = document.createElement("button");
      const copy = frame.cloneNode(true);
      let step = 1;
      dialog.className = "zoom";
      dialog.setAttribute("aria-label", words.larger);
      view.className = "view";
      view.tabIndex = 0;
      more.type = close.type = "button";
      close.textContent = words.close;
      bar.append(more, close);
      view.append(copy);
      dialog.append(bar, view);
      document.body.append(dialog);

      function show() {
        copy.style.width = STEPS[step] + "%";
        more.textContent = STEPS[step] === 100 ? words.larger : STEPS[step] + " %";
      }

      more.addEventListener("click", function () {
        step = (step + 1) % STEPS.length;
        show();
      });
      close.addEventListener("click", () => dialog.close());
      dialog.addEventListener("close", function () {
        dialog.remove();
        larger.focus();
      });
      show();
      dialog.showModal();
    });
  };
})(window.witness);
