// The key that gives every value of a page in its other unit; all pages of the site share it.
"use strict";
window.witness = window.witness || {};
(function (witness) {
  const all = (selector) => Array.from(document.querySelectorAll(selector));

  // With `yes` it is kept, without it is read.
  function remembered(yes) {
    try {
      if (yes === undefined) return localStorage.getItem("witnessmark:units") === "second";
      localStorage.setItem("witnessmark:units", yes ? "second" : "first");
    } catch (error) {
      // The units go back to the first ones with the next page.
    }
    return Boolean(yes);
  }

  function swap(amount, second) {
    const twin = amount.nextElementSibling;
    if (!amount.dataset.first) amount.dataset.first = amount.textContent;
    const [here, beside] = second ? [amount.dataset.second, amount.dataset.first] : [amount.dataset.first, amount.dataset.second];
    amount.textContent = here;
    if (twin && twin.classList.contains("twin")) twin.textContent = " (" + beside + ")";
  }

  // `shown` is told whenever it changes whether the second unit goes first, and at once.
  witness.openUnits = function (shown) {
    const key = document.getElementById("units");

    function show(second) {
      if (key) key.setAttribute("aria-pressed", String(second));
      all(".amount[data-second]").forEach((amount) => swap(amount, second));
      if (shown) shown(second);
    }

    if (key) key.addEventListener("click", () => show(remembered(key.getAttribute("aria-pressed") !== "true")));
    show(Boolean(key) && remembered());
  };

  // A page that keeps nothing has no other script that would do it.
  if (!document.body.dataset.about) witness.openUnits();
})(window.witness);
