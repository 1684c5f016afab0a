// The record of a job: who did what when, with limits and verdicts; sealed, so that a change shows.
"use strict";
window.witness = window.witness || {};
(function (witness) {
  const all = (selector, root) => Array.from((root || document).querySelectorAll(selector));
  const clean = (text) => text.replace(/\s+/g, " ").trim();

  // What a step says, without what was entered into it.
  witness.textOf = function (step) {
    return all(":scope > .row .do, :scope > .row .lines > li", step).map((line) => clean(line.textContent)).join(" / ");
  };
  witness.numberOf = (step) => clean(step.querySelector(".box .number").textContent);

  // Done only if the reader finds that it has to be: such a step may stay open at the end.
  witness.isFree = function (element) {
    const fork = element.closest(".fork");
    return Boolean(fork && !fork.querySelector(":scope > .arm[data-when]"));
  };
  witness.isOptional = (step) => Boolean(step.querySelector(".condition")) || witness.isFree(step);

  const told = (tap) => (tap ? { at: tap.at, by: tap.by } : { at: "", by: "" });

  // Is it part of the job at all: not for another model, not in a way that was not taken?
  function wanted(element) {
    return !element.closest(".arm.closed, .beyond, [hidden]");
  }

  function steps(state) {
    return all("[data-step]").filter(wanted).map(function (box) {
      const step = box.closest(".step"), tap = state.tick.get("step:" + box.dataset.step);
      return { step: box.dataset.step, number: witness.numberOf(step), text: witness.textOf(step), optional: witness.isOptional(step), done: Boolean(tap), ...told(tap) };
    });
  }

  // Where the work ends within a repeat, nobody knows how many of its rounds were due.
  witness.isRoundWanted = (box) => wanted(box) && !box.closest(".again").querySelector(".arm.asked .step.stop");

  function rounds(state) {
    return all(".rounds [data-tick]").filter(witness.isRoundWanted).map(function (box) {
      const tap = state.tick.get("tick:" + box.dataset.tick);
      return { name: box.dataset.tick, text: clean(box.closest("label").textContent), optional: witness.isFree(box), done: Boolean(tap), ...told(tap) };
    });
  }

  function stepOf(field) {
    const step = field.closest(".step");
    return step ? step.querySelector("[data-step]").dataset.step : "";
  }

  function limits(field) {
    const data = field.dataset;
    return {
      unit: data.unit || "", low: data.low || "", high: data.high || "",
      low_open: "lowOpen" in data, high_open: "highOpen" in data, limit: data.limit || "",
    };
  }

  function entriesOf(field, state) {
    const names = Array.from(new Set(all("[data-value]", field).map((input) => input.dataset.value)));
    return names.map((name) => state.entry.get(name)).filter(Boolean).map(function (tap) {
      return {
        step: stepOf(field), field: field.dataset.field, name: tap.name, label: field.dataset.label,
        kind: field.dataset.kind, told: tap.told, entered: tap.value, value: witness.valueOf(field, tap.value), ...limits(field),
        verdict: witness.judge(field, tap.value), ...told(tap),
      };
    });
  }

  function remarks(state) {
    const names = Array.from(new Set([...state.remark.keys(), ...state.unclear.keys()])).sort();
    return names.map(function (name) {
      const text = state.remark.get(name), mark = state.unclear.get(name);
      return { step: name, number: (text || mark).told, text: text ? text.value : "", unclear: Boolean(mark), ...told(text || mark) };
    });
  }

  // Letters typed one after the other are one entry; what was entered before another one stays.
  function journal(taps) {
    const kept = taps.filter(function (tap, n) {
      const next = taps[n + 1];
      return !(next && tap.what === next.what && tap.name === next.name && tap.by === next.by
        && typeof tap.value === "string" && Date.parse(next.at) - Date.parse(tap.at) < 30000);
    });
    return kept.map((tap) => [tap.at, tap.by, tap.what, tap.name, tap.value, tap.told]);
  }

  function head(about, job, taps) {
    return {
      record: "witnessmark-record", version: 2, procedure: about.document, title: job.title,
      revision: job.revision, content: job.digest, machine: about.machine, machine_title: about.machine_title,
      serial: job.serial, job: job.id, begun: job.begun, ended: job.ended,
      people: Array.from(new Set(taps.map((tap) => tap.by).filter(Boolean))),
    };
  }

  // The record of the job that is open on this page.
  witness.record = function (about, jobs) {
    const state = jobs.state, model = state.model.get("model");
    const done = steps(state), round = rounds(state);
    return {
      ...head(about, jobs.active, jobs.taps),
      model: model ? model.value : "",
      complete: Boolean(jobs.active.ended) && [...done, ...round].every((one) => one.done || one.optional),
      steps: done,
      rounds: round,
      entries: all(".field").filter(wanted).flatMap((field) => entriesOf(field, state)),
      laid_out: all(".before [data-tick]").filter(wanted).map(function (box) {
        return { name: box.dataset.tick, ticked: state.tick.has("tick:" + box.dataset.tick) };
      }),
      remarks: remarks(state),
      journal: journal(jobs.taps),
    };
  };

  // Of a job that was begun on another revision: only what its taps tell, as its steps are not on this page.
  witness.olderRecord = function (about, job, taps) {
    const state = witness.addUp(taps);
    return { ...head(about, job, taps), model: "", complete: false, steps: [], rounds: [], entries: [], laid_out: [], remarks: remarks(state), journal: journal(taps) };
  };

  // As a file: the seal is the SHA-256 of all that stands before it, written without spaces.
  witness.sealed = function (record) {
    return JSON.stringify({ ...record, seal: witness.sha256(JSON.stringify(record)) }, null, 1) + "\n";
  };

  witness.fileName = function (record) {
    const safe = (text) => text.normalize("NFKD").replace(/[^A-Za-z0-9]+/g, "-").replace(/^-+|-+$/g, "").slice(0, 40);
    return [safe(record.procedure), safe(record.serial), record.job].filter(Boolean).join("_") + ".record.json";
  };

  witness.save = function (record) {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([witness.sealed(record)], { type: "application/json" }));
    link.download = witness.fileName(record);
    document.body.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(link.href), 60000);
  };
})(window.witness);
