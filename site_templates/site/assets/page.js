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

  const linesOf = (step) => all(".lines input", step);

  // The tick of a step stands for its lines: it ticks them all, and is set when they all are.
  function tickAlong(box) {
    const step = box.closest(".step");
    const along = box.dataset.step ? linesOf(step).filter((line) => line.checked !== box.checked)
      : all("[data-step]", step).filter((own) => own.checked !== linesOf(step).every((line) => line.checked));
    for (const other of step ? along : []) {
      other.checked = !other.checked;
      setTick(other);
    }
  }

  function setTick(box) {
    if (box.checked) state.ticks[tickKey(box)] = true;
    else delete state.ticks[tickKey(box)];
    paintTick(box);
  }

  for (const box of all("[data-step], [data-tick]")) {
    box.checked = Boolean(state.ticks[tickKey(box)]);
    paintTick(box);
    box.addEventListener("change", function () {
      setTick(box);
      if (box.dataset.step || box.closest(".lines")) tickAlong(box);
      keep();
      progress();
    });
  }

  function progress() {
    const count = document.getElementById("count");
    if (!count) return;
    const open = steps.filter((box) => shown(box) && !box.closest(".beyond"));
    const done = open.filter((box) => box.checked).length;
    const stop = body.classList.contains("ended") && all(".arm.asked .step.stop .number")[0];
    count.textContent = stop ? words.ends_here.replace("{n}", stop.textContent) : words.progress.replace("{n}", String(done)).replace("{all}", String(open.length));
    document.querySelector(".progress .fill").style.width = open.length ? (100 * done) / open.length + "%" : "0";
  }

  const next = document.getElementById("next");
  if (next) next.addEventListener("click", function () {
    const box = steps.find((one) => shown(one) && !one.checked && !one.closest(".beyond"));
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
      const models = JSON.parse(element.dataset.models);
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

  const MEASURED = ["number", "torque"];

  function number(text) {
    const clean = text.trim().replace(",", ".");
    return /^[-+]?(\d+\.?\d*|\.\d+)$/.test(clean) ? Number(clean) : NaN;
  }

  function judge(field, text) {
    if (text.trim() === "") return "";
    if (!MEASURED.includes(field.dataset.kind)) {
      if (!field.dataset.pass) return "";
      return JSON.parse(field.dataset.pass).includes(text) ? "in" : "out";
    }
    const value = number(text);
    if (Number.isNaN(value)) return "unread";
    const low = field.dataset.low, high = field.dataset.high;
    if (low && (value < Number(low) || ("lowOpen" in field.dataset && value === Number(low)))) return "below";
    if (high && (value > Number(high) || ("highOpen" in field.dataset && value === Number(high)))) return "above";
    return low || high ? "in" : "";
  }

  // A field in a repeat that is shown once is entered for each of its rounds.
  function rounds(field) {
    const groups = all(".readings, fieldset.choices", field);
    return (groups.length ? groups : [field]).map((group) => {
      const name = group.querySelector(".round, legend");
      return { name: name && groups.length > 1 ? name.textContent : "", inputs: all("[data-value]", group) };
    });
  }

  function ofRound(field, round) {
    const picked = round.inputs.filter((input) => input.type === "radio");
    if (picked.length) {
      const answer = (picked.find((input) => input.checked) || { value: "" }).value;
      return { name: round.name, answer: answer, result: judge(field, answer), settled: true };
    }
    const measured = MEASURED.includes(field.dataset.kind);
    const found = [], numbers = [];
    for (const input of round.inputs) {
      const one = measured ? judge(field, input.value) : "";
      input.classList.toggle("in", one === "in");
      input.classList.toggle("out", ["below", "above", "unread"].includes(one));
      found.push(one);
      if (measured && input.value.trim() !== "") numbers.push(number(input.value));
    }
    const whole = numbers.length === round.inputs.length;
    if (measured && numbers.length && whole && !numbers.some(Number.isNaN)) {
      found.push(within(field.dataset.sumLow, field.dataset.sumHigh, numbers.reduce((a, b) => a + b, 0)));
      found.push(within(field.dataset.spreadLow, field.dataset.spreadHigh, Math.max(...numbers) - Math.min(...numbers)));
    }
    const result = found.find((one) => one && one !== "in") || found.find(Boolean) || "";
    // Half the readings can only tell that something is out; what cannot be read tells nothing.
    const settled = result !== "unread" && (result !== "in" || whole);
    return { name: round.name, answer: "", result: result, settled: settled };
  }

  function verdict(field) {
    const seen = rounds(field).map((round) => ofRound(field, round));
    const results = seen.map((round) => round.result).filter(Boolean);
    const worst = results.find((one) => one !== "in") || results[0] || "";
    const output = field.querySelector(".verdict");
    if (output) {
      const confirmed = field.dataset.kind === "yes-no";
      const text = confirmed ? { out: words.not_confirmed }[worst] : words["verdict_" + worst];
      output.textContent = text || "";
      output.className = "verdict " + (worst === "in" ? "in" : worst ? "out" : "");
    }
    openArms(field.dataset.field, seen);
    showEnd();
  }

  // Sums and differences of decimal readings carry a binary rounding error far below any reading.
  const HAIR = 1e-9;

  function within(low, high, value) {
    if (low && value < Number(low) - HAIR) return "below";
    if (high && value > Number(high) + HAIR) return "above";
    return low || high ? "in" : "";
  }

  function saidIn(round) {
    const result = round.settled ? round.result : "";
    return [round.answer, result, ["above", "below"].includes(result) ? "out" : ""].filter(Boolean);
  }

  // An arm is open when any round asks for it, and while one is not known yet.
  function openArms(name, seen) {
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
  }

  // Where an answer leads to a stop, nothing after it is done, however the page goes on below.
  function showEnd() {
    const stops = all(".arm.asked .step.stop");
    const stop = stops.find((step) => !step.closest(".arm.closed"));
    for (const step of steps.map((box) => box.closest(".step"))) {
      const after = stop && stop !== step
        && Boolean(stop.compareDocumentPosition(step) & Node.DOCUMENT_POSITION_FOLLOWING);
      step.classList.toggle("beyond", Boolean(after));
    }
    body.classList.toggle("ended", Boolean(stop));
    progress();
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
