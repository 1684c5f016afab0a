// SHA-256 (FIPS 180-4) of a text as UTF-8. The browser's own is not there on plain http.
"use strict";
window.witness = window.witness || {};
(function (witness) {
  const primes = Array.from({ length: 310 }, (_, n) => n + 2).filter((n) => {
    for (let d = 2; d * d <= n; d++) if (n % d === 0) return false;
    return true;
  }).slice(0, 64);
  // The first 32 bits behind the point of square and cube roots of primes.
  const behindPoint = (value) => ((value - Math.floor(value)) * 2 ** 32) | 0;
  const START = primes.slice(0, 8).map((p) => behindPoint(Math.sqrt(p)));
  const ROUND = primes.map((p) => behindPoint(Math.cbrt(p)));
  const turn = (word, by) => (word >>> by) | (word << (32 - by));

  function padded(bytes) {
    const whole = new Uint8Array((((bytes.length + 8) >> 6) + 1) << 6);
    whole.set(bytes);
    whole[bytes.length] = 0x80;
    const view = new DataView(whole.buffer);
    view.setUint32(whole.length - 8, Math.floor(bytes.length / 2 ** 29));
    view.setUint32(whole.length - 4, bytes.length << 3);
    return view;
  }

  function schedule(view, at) {
    const w = new Int32Array(64);
    for (let i = 0; i < 16; i++) w[i] = view.getInt32(at + 4 * i);
    for (let i = 16; i < 64; i++) {
      const low = turn(w[i - 15], 7) ^ turn(w[i - 15], 18) ^ (w[i - 15] >>> 3);
      const high = turn(w[i - 2], 17) ^ turn(w[i - 2], 19) ^ (w[i - 2] >>> 10);
      w[i] = (w[i - 16] + low + w[i - 7] + high) | 0;
    }
    return w;
  }

  function mixed(state, w) {
    let [a, b, c, d, e, f, g, h] = state;
    for (let i = 0; i < 64; i++) {
      const one = (h + (turn(e, 6) ^ turn(e, 11) ^ turn(e, 25)) + ((e & f) ^ (~e & g)) + ROUND[i] + w[i]) | 0;
      const two = ((turn(a, 2) ^ turn(a, 13) ^ turn(a, 22)) + ((a & b) ^ (a & c) ^ (b & c))) | 0;
      [a, b, c, d, e, f, g, h] = [(one + two) | 0, a, b, c, (d + one) | 0, e, f, g];
    }
    return [a, b, c, d, e, f, g, h].map((word, i) => (word + state[i]) | 0);
  }

  // The digest of a text, as 64 hexadecimal digits.
  witness.sha256 = function (text) {
    const view = padded(new TextEncoder().encode(text));
    let state = START;
    for (let at = 0; at < view.byteLength; at += 64) state = mixed(state, schedule(view, at));
    return state.map((word) => (word >>> 0).toString(16).padStart(8, "0")).join("");
  };
})(window.witness);
