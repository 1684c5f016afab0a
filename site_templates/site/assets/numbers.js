// Numbers that were typed, as exact fractions: what is just on a limit must not fall to either side.
"use strict";
window.witness = window.witness || {};
(function (witness) {
  const MOST_DIGITS = 40, PLACES = 9n;
  const READING = /^([-+]?)(\d*)\.?(\d*)(?:[ \u00a0]*([^\d\s.,+\-]\S*))?$/;

  // { n, d }: the number n / d, with d above zero.
  const sum = (a, b) => ({ n: a.n * b.d + b.n * a.d, d: a.d * b.d });
  const product = (a, b) => ({ n: a.n * b.n, d: a.d * b.d });
  const less = (a, b) => ({ n: a.n * b.d - b.n * a.d, d: a.d * b.d });
  // Below zero, zero or above, as `a` is to `b`.
  const compare = (a, b) => { const by = less(a, b).n; return by < 0n ? -1 : by > 0n ? 1 : 0; };

  // `127/5`, as the page gives a rate.
  function rate(text) {
    const [n, d] = text.split("/");
    return { n: BigInt(n), d: BigInt(d || "1") };
  }

  // { value, unit }: what was typed with a point or a comma, and the unit behind it; null when it is no number.
  function typed(text) {
    const clean = text.trim().replace(",", ".");
    const found = clean.length <= MOST_DIGITS && READING.exec(clean);
    if (!found || !(found[2] || found[3])) return null;
    const value = { n: BigInt(found[1] + (found[2] || "0") + found[3]), d: 10n ** BigInt(found[3].length) };
    return { value: value, unit: found[4] || "" };
  }

  // As a decimal text with at most nine places; half way goes away from zero.
  function decimal(value) {
    const size = value.n < 0n ? -value.n : value.n;
    const whole = (size * 10n ** PLACES * 2n + value.d) / (2n * value.d);
    const digits = String(whole).padStart(Number(PLACES) + 1, "0"), point = digits.length - Number(PLACES);
    const text = (digits.slice(0, point) + "." + digits.slice(point)).replace(/\.?0+$/, "");
    return value.n < 0n && whole ? "-" + text : text;
  }

  // For the eye: five digits that count are finer than any gauge.
  const shown = (value) => String(Number(Number(decimal(value)).toPrecision(5)));

  // The one of `units` at the end of a text, behind a digit or a gap; "" for none.
  function unitOf(text, units) {
    const end = text.trimEnd();
    return units.find((unit) => unit && end.endsWith(unit) && /[\d.,\s]$/.test(end.slice(0, -unit.length))) || "";
  }

  // A text parted into its number and the unit behind it; what has two units behind it has none.
  function parted(text, units) {
    const unit = unitOf(text, units), number = unit && text.trimEnd().slice(0, -unit.length).trim();
    return unit && !unitOf(number, units) ? { number: number, unit: unit } : { number: text, unit: "" };
  }

  witness.numbers = { sum, product, less, compare, rate, typed, decimal, shown, parted };
})(window.witness);
