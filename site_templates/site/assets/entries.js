// What is entered, held against its limits: `in`, `out`, `below`, `above`, `unread`, or "" for nothing to say.
"use strict";
window.witness = window.witness || {};
(function (witness) {
  const MEASURED = ["number", "torque"];
  const numbers = witness.numbers;

  const all = (selector, root) => Array.from(root.querySelectorAll(selector));
  const isMeasured = (field) => MEASURED.includes(field.dataset.kind);

  // What was typed as a number in the unit of the limits; null when it is none.
  function reading(field, text) {
    const found = numbers.typed(text), data = field.dataset;
    if (!found) return null;
    if (!found.unit || found.unit === data.unit) return found.value;
    if (found.unit !== data.secondUnit) return null;
    return numbers.sum(numbers.product(found.value, numbers.rate(data.scale)), numbers.rate(data.shift));
  }

  const limit = (text) => numbers.typed(text).value;

  function judge(field, text) {
    if (text.trim() === "") return "";
    if (!isMeasured(field)) {
      if (!field.dataset.pass) return "";
      return JSON.parse(field.dataset.pass).includes(text) ? "in" : "out";
    }
    const value = reading(field, text), low = field.dataset.low, high = field.dataset.high;
    if (!value) return "unread";
    return within(low, high, value, "lowOpen" in field.dataset, "highOpen" in field.dataset);
  }

  function within(low, high, value, lowOpen, highOpen) {
    if (low && numbers.compare(value, limit(low)) < (lowOpen ? 1 : 0)) return "below";
    if (high && numbers.compare(value, limit(high)) > (highOpen ? -1 : 0)) return "above";
    return low || high ? "in" : "";
  }

  // --- In which unit ------------------------------------------------------------------------------

  const shows = (input) => input.dataset.unit || "";
  const isEmpty = (input) => input.value.trim() === "";

  // As it is kept: a number in the second unit stands with it, one in the first stands bare.
  function entered(field, input) {
    if (!isMeasured(field) || !field.dataset.secondUnit || isEmpty(input) || shows(input) === field.dataset.unit) return input.value;
    const own = numbers.parted(input.value, [field.dataset.secondUnit, field.dataset.unit]);
    return own.unit ? input.value : input.value.trim() + " " + shows(input);
  }

  function setUnit(input, unit) {
    const beside = input.parentElement.querySelector(".unit");
    input.dataset.unit = unit;
    if (beside) beside.textContent = unit;
  }

  // Shows what is kept. A reading keeps the unit it was typed in, whichever the page shows.
  function paint(field, input, text) {
    if (!isMeasured(field) || !field.dataset.secondUnit) {
      input.value = text;
      return;
    }
    const own = numbers.parted(text, [field.dataset.secondUnit, field.dataset.unit]);
    input.value = own.number;
    if (own.number.trim() !== "") setUnit(input, own.unit || field.dataset.unit);
  }

  // What is empty asks in the unit that the page shows, or goes on in that of its neighbours.
  function askIn(field, second, words) {
    if (!field.dataset.secondUnit) return;
    const inputs = all("[data-value]", field), filled = inputs.filter((input) => !isEmpty(input));
    const wanted = second ? field.dataset.secondUnit : field.dataset.unit;
    const units = new Set(filled.map(shows));
    for (const input of inputs) if (isEmpty(input)) setUnit(input, filled.length ? shows(filled[0]) : wanted);
    const others = Array.from(units).filter((unit) => unit !== wanted);
    field.classList.toggle("mixed", units.size > 1);
    field.querySelector(".stays").textContent = others.length ? words.stays_in.replace("{unit}", others[0]) : "";
  }

  // What was typed in the second unit, said in that of the limits: `0.0483 mm`.
  function inFirst(field) {
    if (!isMeasured(field)) return "";
    const found = all("[data-value]", field).map((input) => entered(field, input))
      .filter((text) => text.trim() !== "" && (numbers.typed(text) || { unit: "" }).unit === field.dataset.secondUnit);
    const values = found.map((text) => reading(field, text)).filter(Boolean).map(numbers.shown);
    return field.dataset.secondUnit && values.length ? "= " + values.join("; ") + " " + field.dataset.unit : "";
  }

  // --- All of a field -----------------------------------------------------------------------------

  // A field in a repeat that is shown once is entered for each of its rounds.
  function rounds(field) {
    const groups = all(".readings, fieldset.choices", field);
    return (groups.length ? groups : [field]).map((group) => {
      const name = group.querySelector(".round, legend");
      return { name: name && groups.length > 1 ? name.textContent : "", inputs: all("[data-value]", group) };
    });
  }

  function answered(field, round) {
    const answer = (round.inputs.find((input) => input.checked) || { value: "" }).value;
    return { name: round.name, answer: answer, result: judge(field, answer), settled: true };
  }

  // Sum and spread count once every reading is there.
  function together(field, values) {
    const data = field.dataset, sorted = values.slice().sort(numbers.compare);
    const sum = values.reduce(numbers.sum), spread = numbers.less(sorted[sorted.length - 1], sorted[0]);
    return [
      within(data.sumLow, data.sumHigh, sum, "sumLowOpen" in data, "sumHighOpen" in data),
      within(data.spreadLow, data.spreadHigh, spread, "spreadLowOpen" in data, "spreadHighOpen" in data),
    ];
  }

  function measured(field, round) {
    const found = [], values = [];
    for (const input of round.inputs) {
      const text = entered(field, input), one = judge(field, text);
      input.classList.toggle("in", one === "in");
      input.classList.toggle("out", ["below", "above", "unread"].includes(one));
      found.push(one);
      if (!isEmpty(input)) values.push(reading(field, text));
    }
    const whole = values.length === round.inputs.length;
    if (values.length && whole && values.every(Boolean)) found.push(...together(field, values));
    const result = found.find((one) => one && one !== "in") || found.find(Boolean) || "";
    // Half the readings can only tell that something is out; what cannot be read tells nothing.
    return { name: round.name, answer: "", result: result, settled: result !== "unread" && (result !== "in" || whole) };
  }

  function ofRound(field, round) {
    if (round.inputs.some((input) => input.type === "radio")) return answered(field, round);
    if (isMeasured(field)) return measured(field, round);
    return { name: round.name, answer: "", result: "", settled: true };
  }

  // A hold point is no check when the one who did the work signs it.
  function ownHand(field, who) {
    const name = field.querySelector('[data-value$="-name"]');
    // The parts of the name, whatever their order, dots, accents and capitals.
    const plain = (text) => (text.normalize("NFKD").toLowerCase().replace(/\p{M}/gu, "").match(/[\p{L}\p{N}_]+/gu) || []).sort().join(" ");
    return Boolean(field.closest(".step.hold") && name && plain(who) && plain(name.value) === plain(who));
  }

  // { seen: what each round says, worst: the result that counts for all of them }
  witness.readField = function (field, who) {
    const seen = rounds(field).map((round) => ofRound(field, round));
    const results = seen.map((round) => round.result).filter(Boolean);
    const worst = results.find((one) => one !== "in") || results[0] || "";
    return { seen: seen, worst: ownHand(field, who) ? "own_hand" : worst };
  };

  // What was measured, as a decimal text in the unit of the limits; "" for none.
  witness.valueOf = function (field, text) {
    const value = isMeasured(field) && text.trim() !== "" ? reading(field, text) : null;
    return value ? numbers.decimal(value) : "";
  };
  // Those who hear the page are told the unit with the entry.
  witness.nameUnits = function (field) {
    for (const input of all("[data-value]", field)) {
      const beside = input.parentElement.querySelector(":scope > .unit");
      if (!beside) continue;
      beside.id = "unit-" + input.dataset.value + (field.closest("[data-models]") ? "-" + all(".unit", document).indexOf(beside) : "");
      input.setAttribute("aria-describedby", beside.id);
    }
  };
  witness.judge = judge;
  witness.entered = entered;
  witness.paintEntry = paint;
  witness.askIn = askIn;
  witness.inFirst = inFirst;
})(window.witness);
