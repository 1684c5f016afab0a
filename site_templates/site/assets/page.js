// A procedure at the machine: ticks, entries, the reader's model and units; all kept on this device.
"use strict";
(function () {
  const body = document.body;
  const words = JSON.parse(body.dataset.words);
  const key = "witnessmark:" + body.dataset.document + ":" + body.dataset.digest;
  const state = load();

  function load() {
    try {
      const kept = JSON.parse(localStorage.getItem(key) || "{}");
      const table = (value) => (value && typeof value === "object" ? value : {});
      const picks = Array.from(document.querySelectorAll('input[name="model"]'), (pick) => pick.value);
      const model = picks.includes(kept.model) ? kept.model : "";
      return { ticks: table(kept.ticks), values: table(kept.values), model: model, second: Boolean(kept.second) };
    } catch (error) {
      return { ticks: {}, values: {}, model: "", second: false };
    }
  }

  function keep() {
    try {
      localStorage.setItem(key, JSON.stringify(state));
    } catch (error) {
      // A page opened where nothing may be stored still works; it only forgets.
    }
  }

  const all = (selector, root) => Array.from((root || document).querySelectorAll(selector));
  const steps = all("[data-step]");
  const shown = (element) => element.offsetParent !== null;

  // --- Ticks ---------------------------------------------------------------------------------

  function tickKey(box) {
    return box.dataset.step ? "step:" + box.dataset.step : "tick:" + box.dataset.tick;
  }

  function paintTick(box) {
    const step = box.closest(".step");
    if (step && box.dataset.step) step.classList.toggle("is-done", box.checked);
  }

  for (const box of all("[data-step], [data-tick]")) {
    box.checked = Boolean(state.ticks[tickKey(box)]);
    paintTick(box);
    box.addEventListener("change", function () {
      if (box.checked) state.ticks[tickKey(box)] = true;
      else delete state.ticks[tickKey(box)];
      keep();
      paintTick(box);
      progress();
    });
  }

  function progress() {
    const count = document.getElementById("count");
    if (!count) return;
    const open = steps.filter(shown);
    const done = open.filter((box) => box.checked).length;
    count.textContent = words.progress.replace("{n}", String(done)).replace("{all}", String(open.length));
    document.querySelector(".progress .fill").style.width = open.length ? (100 * done) / open.length + "%" : "0";
  }

  const next = document.getElementById("next");
  if (next) next.addEventListener("click", function () {
    const box = steps.find((candidate) => shown(candidate) && !candidate.checked);
    const target = box ? box.closest(".step") : document.querySelector(".after") || document.getElementById("main");
    target.scrollIntoView({ block: "center" });
    if (box) box.focus({ preventScroll: true });
  });

  const again = document.getElementById("again");
  if (again) again.addEventListener("click", function () {
    if (!window.confirm(words.begin_again)) return;
    state.ticks = {};
    state.values = {};
    keep();
    window.location.reload();
  });

  // --- Models ----------------------------------------------------------------------------------

  function showModel() {
    for (const element of all("[data-models]")) {
      const models = element.dataset.models.split("|");
      element.hidden = state.model !== "" && !models.includes(state.model);
    }
    progress();
  }

  for (const pick of all('input[name="model"]')) {
    pick.checked = pick.value === state.model;
    pick.addEventListener("change", function () {
      state.model = pick.value;
      keep();
      showModel();
    });
  }

  // --- Units -------------------------------------------------------------------------------------

  const units = document.getElementById("units");

  function showUnits() {
    if (units) units.setAttribute("aria-pressed", String(state.second));
    for (const amount of all(".amount[data-second]")) {
      if (!amount.dataset.first) amount.dataset.first = amount.textContent;
      const twin = amount.nextElementSibling;
      amount.textContent = state.second ? amount.dataset.second : amount.dataset.first;
      if (twin && twin.classList.contains("twin")) {
        twin.textContent = " (" + (state.second ? amount.dataset.first : amount.dataset.second) + ")";
      }
    }
  }

  if (units) units.addEventListener("click", function () {
    state.second = !state.second;
    keep();
    showUnits();
  });

  // --- Entries -----------------------------------------------------------------------------------

  function number(text) {
    const clean = text.trim().replace(",", ".");
    return /^[-+]?(\d+\.?\d*|\.\d+)$/.test(clean) ? Number(clean) : NaN;
  }

  function judge(field, text) {
    if (text.trim() === "") return "";
    if (field.dataset.kind === "choice") {
      if (!field.dataset.pass) return "";
      return field.dataset.pass.split("|").includes(text) ? "in" : "out";
    }
    const value = number(text);
    if (Number.isNaN(value)) return "unread";
    const low = field.dataset.low, high = field.dataset.high;
    if (low && (value < Number(low) || ("lowOpen" in field.dataset && value === Number(low)))) return "below";
    if (high && (value > Number(high) || ("highOpen" in field.dataset && value === Number(high)))) return "above";
    return low || high ? "in" : "";
  }

  function verdict(field) {
    const measured = ["number", "torque"].includes(field.dataset.kind);
    const found = [], answers = [], numbers = [];
    const inputs = all("[data-value]", field);
    for (const input of inputs) {
      if (input.type === "radio") {
        if (!input.checked) continue;
        answers.push(input.value);
        found.push(judge(field, input.value));
        continue;
      }
      const one = measured ? judge(field, input.value) : "";
      input.classList.toggle("in", one === "in");
      input.classList.toggle("out", ["below", "above", "unread"].includes(one));
      found.push(one);
      if (measured && input.value.trim() !== "") numbers.push(number(input.value));
    }
    if (measured && numbers.length && numbers.length === inputs.length && !numbers.some(Number.isNaN)) {
      found.push(within(field.dataset.sumLow, field.dataset.sumHigh, numbers.reduce((a, b) => a + b, 0)));
      found.push(within(field.dataset.spreadLow, field.dataset.spreadHigh, Math.max(...numbers) - Math.min(...numbers)));
    }
    const worst = found.find((one) => one && one !== "in") || found.find(Boolean) || "";
    const output = field.querySelector(".verdict");
    if (output) {
      output.textContent = worst ? words["verdict_" + worst] : "";
      output.className = "verdict " + (worst === "in" ? "in" : worst ? "out" : "");
    }
    // Half the readings can only tell that something is out; what cannot be read tells nothing.
    const settled = worst !== "in" || !measured || numbers.length === inputs.length;
    openArms(field.dataset.field, answers[0] || "", settled && worst !== "unread" ? worst : "");
  }

  // Sums and differences of decimal readings carry a binary rounding error far below any reading.
  const HAIR = 1e-9;

  function within(low, high, value) {
    if (low && value < Number(low) - HAIR) return "below";
    if (high && value > Number(high) + HAIR) return "above";
    return low || high ? "in" : "";
  }

  function openArms(name, answer, result) {
    const said = [answer, result, ["above", "below"].includes(result) ? "out" : ""].filter(Boolean);
    for (const arm of all(".arm[data-when]")) {
      if (arm.dataset.when !== name) continue;
      const taken = arm.dataset.answers.split("|").some((wanted) => said.includes(wanted));
      arm.classList.toggle("closed", said.length > 0 && !taken);
      const otherwise = arm.parentElement.querySelector(":scope > .arm.otherwise");
      if (otherwise) {
        const any = all(":scope > .arm[data-when]:not(.closed)", arm.parentElement).length > 0;
        otherwise.classList.toggle("closed", said.length > 0 && any);
      }
    }
  }

  for (const input of all("[data-value]")) {
    const name = input.dataset.value;
    if (input.type === "radio") input.checked = state.values[name] === input.value;
    else input.value = state.values[name] || "";
    input.addEventListener("input", function () {
      if (input.value === "") delete state.values[name];
      else state.values[name] = input.value;
      keep();
      verdict(input.closest(".field"));
      progress();
    });
  }

  // --- Timers --------------------------------------------------------------------------------------

  for (const timer of all(".timer")) {
    const output = timer.querySelector("output");
    let clock = 0;
    timer.querySelector("button").addEventListener("click", function () {
      const end = Date.now() + Number(timer.dataset.seconds) * 1000;
      window.clearInterval(clock);
      const tick = function () {
        const left = Math.max(0, Math.ceil((end - Date.now()) / 1000));
        output.textContent = left
          ? Math.floor(left / 60) + ":" + String(left % 60).padStart(2, "0") : words.time_is_up;
        if (!left) window.clearInterval(clock);
      };
      clock = window.setInterval(tick, 250);
      tick();
    });
  }

  // --- Layout that depends on data -----------------------------------------------------------------

  for (const grid of all(".readings.grid")) {
    grid.style.display = "grid";
    grid.style.gridTemplateColumns = "repeat(" + grid.dataset.columns + ", max-content)";
  }

  showModel();
  showUnits();
  for (const field of all(".field")) verdict(field);
  progress();
})();
