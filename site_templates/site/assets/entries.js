// What is entered, held against its limits: `in`, `out`, `below`, `above`, `unread`, or "" for nothing to say.
"use strict";
window.witness = window.witness || {};
(function (witness) {
  const MEASURED = ["number", "torque"];
  // Sums and differences of decimal readings carry a binary rounding error far below any reading.
  const HAIR = 1e-9;

  const all = (selector, root) => Array.from(root.querySelectorAll(selector));

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

  function within(low, high, value) {
    if (low && value < Number(low) - HAIR) return "below";
    if (high && value > Number(high) + HAIR) return "above";
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

  function answered(field, round) {
    const answer = (round.inputs.find((input) => input.checked) || { value: "" }).value;
    return { name: round.name, answer: answer, result: judge(field, answer), settled: true };
  }

  function measured(field, round) {
    const found = [], numbers = [];
    for (const input of round.inputs) {
      const one = judge(field, input.value);
      input.classList.toggle("in", one === "in");
      input.classList.toggle("out", ["below", "above", "unread"].includes(one));
      found.push(one);
      if (input.value.trim() !== "") numbers.push(number(input.value));
    }
    const whole = numbers.length === round.inputs.length;
    if (numbers.length && whole && !numbers.some(Number.isNaN)) {
      found.push(within(field.dataset.sumLow, field.dataset.sumHigh, numbers.reduce((a, b) => a + b, 0)));
      found.push(within(field.dataset.spreadLow, field.dataset.spreadHigh, Math.max(...numbers) - Math.min(...numbers)));
    }
    const result = found.find((one) => one && one !== "in") || found.find(Boolean) || "";
    // Half the readings can only tell that something is out; what cannot be read tells nothing.
    return { name: round.name, answer: "", result: result, settled: result !== "unread" && (result !== "in" || whole) };
  }

  function ofRound(field, round) {
    if (round.inputs.some((input) => input.type === "radio")) return answered(field, round);
    if (MEASURED.includes(field.dataset.kind)) return measured(field, round);
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
  witness.judge = judge;
})(window.witness);
