// A procedure at the machine. What shows as ticked, and as kept, is on this device's disk.
"use strict";
(async function (witness) {
  const body = document.body, main = document.getElementById("main");
  const words = JSON.parse(body.dataset.words), about = JSON.parse(body.dataset.about);
  const all = (selector, root) => Array.from((root || document).querySelectorAll(selector));
  const id = (name) => document.getElementById(name);
  const fill = (text, values) => text.replace(/\{(\w+)\}/g, (whole, name) => (name in values ? values[name] : whole));
  // Is it part of the job: not for another model, not in a way that was not taken?
  const inPlay = (element) => !element.closest("[hidden], .arm.closed, .beyond");

  // Nothing can be tapped before what was done earlier is here.
  main.inert = true;
  const jobs = await witness.openJobs(about);
  const boxes = all("[data-step], [data-tick]");
  const steps = all("[data-step]").map((box) => box.closest(".step"));
  const boxOf = (step) => step.querySelector("[data-step]");
  const tickName = (box) => (box.dataset.step ? "step:" + box.dataset.step : "tick:" + box.dataset.tick);

  // --- Keeping -----------------------------------------------------------------------------------

  let underway = 0;

  function showKept(worse) {
    const kept = id("kept"), trouble = worse || (jobs.refused() && !underway ? words.not_kept : "");
    kept.textContent = trouble || (underway ? words.keeping : jobs.active ? words["kept_" + jobs.kept] : "");
    kept.classList.toggle("trouble", Boolean(trouble) || (jobs.kept === "none" && Boolean(jobs.active)));
  }

  // Enters one tap into the journal; `seen` is called when the disk has it.
  async function keep(what, name, value, told, seen) {
    if (!jobs.active) begin();
    underway += 1;
    showKept();
    try {
      await jobs.tap(what, name, value, told);
      underway -= 1;
      showKept();
      if (seen) seen();
    } catch (error) {
      underway -= 1;
      showKept(words.not_kept);
    }
  }

  // What the disk refuses is told where the reader looks, whichever key was pressed.
  const orTell = (work) => work.catch(() => showKept(words.not_kept));

  function ask(told, where) {
    id(told).hidden = false;
    single.toStart();
    id(where).scrollIntoView({ block: "center" });
    return true;
  }

  // A step that is not the same on each model stands once for each, under one name.
  const names = steps.map((step) => boxOf(step).dataset.step);
  const twins = new Set(steps.filter((step, n) => names.indexOf(names[n]) !== names.lastIndexOf(names[n])));

  // While several jobs are open and none is picked, a tap asks first; one on a twin asks for the model.
  function refused(element) {
    if (jobs.undecided() && !jobs.active) return ask("undecided", "job");
    const twin = element && !jobs.state.model.has("model") && twins.has(element.closest(".step"));
    return Boolean(twin) && ask("model-first", "models");
  }

  // --- Ticks -------------------------------------------------------------------------------------

  const linesOf = (step) => all(".lines input", step);

  function paintTick(box) {
    const tap = jobs.state.tick.get(tickName(box));
    if (box.dataset.step) box.closest(".step").classList.toggle("is-done", Boolean(tap));
  }

  function tick(box, told) {
    return keep("tick", tickName(box), box.checked, told, () => paintTick(box));
  }

  // The tick of a step stands for its lines: it ticks them all, and is set when they all are.
  function along(box) {
    const step = box.closest(".step");
    if (!step) return [];
    if (box.dataset.step) return linesOf(step).filter((line) => line.checked !== box.checked);
    const whole = linesOf(step).every((line) => line.checked);
    return box.closest(".lines") ? [boxOf(step)].filter((own) => own.checked !== whole) : [];
  }

  function tell(box) {
    const step = box.closest(".step");
    if (step && box.dataset.step) return witness.numberOf(step) + " " + witness.textOf(step);
    const label = box.closest("label");
    return label ? label.textContent.replace(/\s+/g, " ").trim() : "";
  }

  function ticked(box) {
    for (const other of along(box)) {
      other.checked = !other.checked;
      tick(other, tell(other));
    }
    tick(box, tell(box));
    progress();
  }

  for (const box of boxes) {
    box.addEventListener("change", function () {
      if (refused(box)) box.checked = !box.checked;
      else ticked(box);
    });
  }

  // --- Progress ----------------------------------------------------------------------------------

  const open = () => steps.filter(inPlay);
  const isDone = (step) => boxOf(step).checked;

  function progress() {
    const at = open(), done = at.filter(isDone).length;
    const stop = body.classList.contains("ended") && all(".arm.asked .step.stop .number")[0];
    id("count").textContent = stop ? fill(words.ends_here, { n: stop.textContent }) : fill(words.progress, { n: done, all: at.length });
    document.querySelector(".progress .fill").style.width = at.length ? (100 * done) / at.length + "%" : "0";
    single.settle(isDone);
    showBefore();
    showRest();
  }

  id("next").addEventListener("click", function () {
    const step = open().find((one) => !isDone(one));
    if (single.on()) {
      if (step) single.show(step);
      return;
    }
    (step || document.querySelector(".after")).scrollIntoView({ block: "center" });
    if (step) boxOf(step).focus({ preventScroll: true });
  });

  // --- One step at a time ------------------------------------------------------------------------

  const single = witness.openSingle(open, function (step) {
    const at = open(), place = single.place();
    id("done").disabled = place !== "step";
    if (place === "step") {
      id("which-step").textContent = fill(words.which_step, { n: witness.numberOf(step), at: at.indexOf(step) + 1, all: at.length });
      id("done").textContent = isDone(step) ? words.undo : words.done;
    } else {
      id("which-step").textContent = id(place === "start" ? "before" : "closing").textContent;
    }
    id("back").disabled = place === "start";
    id("on").disabled = place === "end";
  });

  // The key says what it leads to.
  function oneAtATime(yes) {
    id("single").textContent = yes ? words.all_steps : words.one_at_a_time;
    single.toggle(yes, isDone);
  }

  id("single").addEventListener("click", function () {
    const yes = !single.on();
    oneAtATime(yes);
    single.remember(yes);
    if (!yes) id("next").click();
  });
  id("back").addEventListener("click", () => single.go(-1));
  id("on").addEventListener("click", () => single.go(1));
  id("done").addEventListener("click", function () {
    const step = single.current();
    if (!step || refused(step)) return;
    const box = boxOf(step), was = box.checked;
    box.checked = !was;
    ticked(box);
    if (was) single.show(step);
    else single.go(1);
  });

  // --- Models and units --------------------------------------------------------------------------

  function showModel() {
    const picked = jobs.state.model.get("model");
    for (const pick of all('input[name="model"]')) pick.checked = pick.value === (picked ? picked.value : "");
    for (const element of all("[data-models]")) {
      element.hidden = Boolean(picked) && !JSON.parse(element.dataset.models).includes(picked.value);
    }
    if (picked && id("model-first")) id("model-first").hidden = true;
    paintAll();
    progress();
  }

  for (const pick of all('input[name="model"]')) {
    pick.addEventListener("change", function () {
      if (refused()) return showModel();
      keep("model", "model", pick.value, "");
      return showModel();
    });
  }

  // Entries follow the unit that the page shows, as far as nothing is typed in them.
  let second = false;

  function showUnits(now) {
    second = now;
    all(".field").forEach((field) => witness.askIn(field, second, words));
  }

  // --- Entries -----------------------------------------------------------------------------------

  function showField(field) {
    const read = witness.readField(field, jobs.active ? jobs.active.who : id("who").value);
    const output = field.querySelector(".verdict");
    if (output) {
      const text = field.dataset.kind === "yes-no" ? { out: words.not_confirmed }[read.worst] : words["verdict_" + read.worst];
      output.textContent = [witness.inFirst(field), text].filter(Boolean).join(": ");
      output.className = "verdict " + (read.worst === "in" ? "in" : read.worst ? "out" : "");
    }
    witness.openArms(field.dataset.field, read.seen);
    witness.showEnd();
  }

  const enteredIn = (name) => (jobs.state.entry.get(name) || { value: "" }).value;

  for (const input of all("[data-value]")) {
    const field = input.closest(".field");
    input.addEventListener("input", function () {
      if (refused(input)) return paintInput(input);
      const told = [field.dataset.label, input.dataset.unit || field.dataset.unit, field.dataset.limit].filter(Boolean).join(", ");
      keep("entry", input.dataset.value, witness.entered(field, input), told);
      showField(field);
      return progress();
    });
  }

  function paintInput(input) {
    const value = enteredIn(input.dataset.value);
    if (input.type === "radio") input.checked = value === input.value;
    else witness.paintEntry(input.closest(".field"), input, value);
  }

  // Not while it is typed: a unit that changes under the thumb would be misread.
  for (const field of all(".field[data-second-unit]")) {
    field.addEventListener("focusout", function (event) {
      if (field.contains(event.relatedTarget)) return;
      all("[data-value]", field).forEach(paintInput);
      witness.askIn(field, second, words);
      showField(field);
    });
  }

  // --- Remarks -----------------------------------------------------------------------------------

  for (const step of steps) {
    const name = boxOf(step).dataset.step, remark = id("remark").content.firstElementChild.cloneNode(true);
    const text = remark.querySelector("textarea"), mark = remark.querySelector("input");
    const told = witness.numberOf(step) + " " + witness.textOf(step);
    text.addEventListener("input", () => (refused(step) ? paintRemark() : keep("remark", name, text.value, told)));
    mark.addEventListener("change", () => (refused(step) ? paintRemark() : keep("unclear", name, mark.checked, told)));
    step.querySelector(".below").append(remark);

    function paintRemark() {
      text.value = (jobs.state.remark.get(name) || { value: "" }).value;
      mark.checked = jobs.state.unclear.has(name);
      remark.open = Boolean(text.value || mark.checked);
    }
    paintRemark();
  }

  // --- Bolts -------------------------------------------------------------------------------------

  for (const step of steps) {
    all(".diagram[data-order]", step).forEach(function (figure, number) {
      const name = boxOf(step).dataset.step + ":" + (number + 1);
      const kept = jobs.state.bolt.get(name);
      witness.openBolts(figure, words, kept ? Number(kept.value) || 0 : 0, function (done) {
        if (refused(figure)) return false;
        keep("bolt", name, done ? String(done) : "", witness.numberOf(step));
        return true;
      });
    });
  }

  // --- Clocks ------------------------------------------------------------------------------------

  all(".timer").forEach(function (timer, number) {
    const output = timer.querySelector("output"), step = timer.closest(".step");
    const name = step ? boxOf(step).dataset.step : String(number);
    let clock = 0;

    function run(end) {
      window.clearInterval(clock);
      if (!Number.isFinite(end)) return;
      const turn = function () {
        // A clock of the device that was set back must not make anybody wait for days.
        const left = Math.min(Math.max(0, Math.ceil((end - Date.now()) / 1000)), Number(timer.dataset.seconds));
        output.textContent = left ? Math.floor(left / 60) + ":" + String(left % 60).padStart(2, "0") : words.time_is_up;
        if (!left) window.clearInterval(clock);
      };
      clock = window.setInterval(turn, 250);
      turn();
    }

    timer.querySelector("button").addEventListener("click", function () {
      if (refused(timer)) return;
      const end = Date.now() + Number(timer.dataset.seconds) * 1000;
      keep("clock", name, String(end), "");
      run(end);
    });
    // A clock that was started before the page was left has gone on running.
    const started = jobs.state.clock.get(name);
    if (started) run(Number(started.value));
  });

  // --- The job -----------------------------------------------------------------------------------

  const day = (at) => at.slice(0, 16).replace("T", " ");
  const nameOf = (job) => fill(job.serial ? words.job_of : words.job_without, { serial: job.serial, begun: day(job.begun), who: job.who || words.nobody });

  function begin() {
    jobs.begin(id("who").value, id("serial").value).then(() => showKept(), () => showKept(words.not_kept));
    showJob();
  }

  function press(label, action, kind) {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = label;
    if (kind) button.className = kind;
    button.addEventListener("click", action);
    return button;
  }

  const again = () => window.location.reload();

  function row(job, buttons) {
    const item = document.createElement("li"), name = document.createElement("span");
    name.textContent = nameOf(job);
    item.append(name, ...buttons);
    return item;
  }

  async function throwAway(job) {
    if (!window.confirm(fill(words.throw_away, { job: nameOf(job) }))) return;
    await orTell(jobs.forget(job.id).then(again));
  }

  function pick(job) {
    jobs.pick(job.id);
    again();
  }

  function showJob() {
    const job = jobs.active;
    id("job-name").textContent = job ? nameOf(job) : "";
    showWhich();
    body.classList.toggle("begun", Boolean(job));
    body.classList.toggle("finished", Boolean(job && job.ended));
    for (const part of all(".work, .after, .before > :not(.job)")) part.inert = Boolean(job && job.ended);
    id("begin").hidden = Boolean(job);
    id("another").hidden = id("again").hidden = !job;
    for (const name of ["finish", "save", "print"]) id(name).disabled = !job;
    id("finish").textContent = job && job.ended ? words.reopen : words.finish;
    if (job) {
      id("who").value = job.who;
      id("serial").value = job.serial;
      id("undecided").hidden = true;
    }
    showKept();
  }

  // At the top of a long page: which job this is, or that one has to be picked.
  function showWhich() {
    const here = jobs.active ? nameOf(jobs.active) : jobs.undecided() ? id("undecided").textContent : "";
    if (here) id("to-job").textContent = here;
    id("to-job").parentElement.hidden = !here;
  }

  function showOthers() {
    const older = jobs.older.map((job) => row(job, [
      press(words.save_record, () => orTell(jobs.tapsOf(job.id).then((taps) => witness.save(witness.olderRecord(about, job, taps))))),
      press(words.discard, () => throwAway(job), "quiet"),
    ]));
    id("others").replaceChildren(...jobs.others.map((job) => row(job, [press(words.go_on, () => pick(job))])));
    id("older").replaceChildren(...older);
    id("others-part").hidden = !jobs.others.length;
    id("older-part").hidden = !jobs.older.length;
  }

  // What is not laid out yet is told; whoever begins all the same is not held up.
  function showBefore() {
    const left = all(".before [data-tick]").filter((box) => inPlay(box) && !box.checked).length;
    const facts = [];
    if (id("models") && !jobs.state.model.has("model")) facts.push(words.no_model);
    if (!id("who").value.trim()) facts.push(words.no_name);
    if (!id("serial").value.trim()) facts.push(words.no_serial);
    if (left) facts.push(fill(left === 1 ? words.one_not_ticked : words.not_ticked, { n: left }));
    id("still-open").textContent = facts.length ? words.still_open + " " + facts.join(", ") + "." : words.all_there;
  }

  function showRest() {
    const left = open().filter((step) => !isDone(step) && !witness.isOptional(step)).length;
    const empty = all(".field:not([data-optional])").filter((field) => inPlay(field) && !witness.readField(field, "").seen.some((round) => round.result || round.answer)
      && !all("[data-value]", field).some((input) => input.type !== "radio" && input.value.trim())).length;
    const rounds = all(".rounds [data-tick]").filter((box) => witness.isRoundWanted(box) && !box.checked && !witness.isFree(box)).length;
    const facts = [];
    if (left) facts.push(fill(left === 1 ? words.one_step_open : words.steps_open, { n: left }));
    if (rounds) facts.push(fill(rounds === 1 ? words.one_round_open : words.rounds_open, { n: rounds }));
    if (empty) facts.push(fill(empty === 1 ? words.one_entry_empty : words.entries_empty, { n: empty }));
    id("rest").textContent = facts.length ? words.still_open + " " + facts.join(", ") + "." : words.all_done;
  }

  id("begin").addEventListener("click", function () {
    jobs.leave();
    begin();
    showOthers();
    document.querySelector(".work").scrollIntoView({ block: "start" });
  });
  id("another").addEventListener("click", function () {
    jobs.leave();
    again();
  });
  id("again").addEventListener("click", () => throwAway(jobs.active));
  for (const name of ["who", "serial"]) {
    id(name).addEventListener("input", function () {
      if (jobs.active) jobs.change({ who: id("who").value, serial: id("serial").value }).then(() => showKept(), () => showKept(words.not_kept));
      if (jobs.active) id("job-name").textContent = id("to-job").textContent = nameOf(jobs.active);
      all(".step.hold .field").forEach(showField);
      showBefore();
    });
  }
  // Another window may have gone on with the same job; what is here is then old.
  async function renewed() {
    if (underway || document.hidden || !(await jobs.stale())) return false;
    again();
    return true;
  }
  const look = () => orTell(renewed());
  document.addEventListener("visibilitychange", look);
  window.addEventListener("focus", look);

  // A glove taps twice: the second one must not undo what the first one did.
  const PAUSE = 1000;
  id("finish").addEventListener("click", async function () {
    const key = id("finish");
    if (key.dataset.pressed) return;
    key.dataset.pressed = "yes";
    window.setTimeout(() => delete key.dataset.pressed, PAUSE);
    await orTell(renewed().then(async function (gone) {
      if (gone) return;
      await (jobs.active.ended ? jobs.reopen() : jobs.finish());
      showJob();
    }));
  });
  id("save").addEventListener("click", () => orTell(renewed().then((gone) => gone || witness.save(witness.record(about, jobs)))));
  id("print").addEventListener("click", function () {
    id("printout").replaceChildren(witness.printout(witness.record(about, jobs), words));
    body.classList.add("printing");
    // Some browsers come back before they have printed.
    window.addEventListener("afterprint", () => body.classList.remove("printing"), { once: true });
    window.print();
  });

  // --- As it was left ----------------------------------------------------------------------------

  // Layout that depends on data.
  for (const grid of all(".readings.grid")) {
    grid.style.display = "grid";
    grid.style.gridTemplateColumns = "repeat(" + grid.dataset.columns + ", max-content)";
  }

  for (const figure of all("figure.picture")) witness.openZoom(figure, words);

  function paintAll() {
    for (const box of boxes) {
      box.checked = jobs.state.tick.has(tickName(box));
      paintTick(box);
    }
    all("[data-value]").forEach(paintInput);
    all(".field").forEach((field) => witness.askIn(field, second, words));
    all(".field").forEach(showField);
  }

  for (const field of all(".field")) witness.nameUnits(field);
  showJob();
  showOthers();
  witness.openUnits(showUnits);
  showModel();
  // Who was called away comes back to the step that is next, as it was seen.
  if (jobs.active && !jobs.active.ended && single.remembered()) oneAtATime(true);
  main.inert = false;
  body.dataset.ready = "yes";
})(window.witness);
