// The record as a page to print and sign: every step, entry and remark, with times and names.
"use strict";
window.witness = window.witness || {};
(function (witness) {
  function make(tag, text, ...children) {
    const element = document.createElement(tag);
    if (text) element.textContent = text;
    element.append(...children);
    return element;
  }

  const hour = (at) => at.slice(0, 16).replace("T", " ");

  function table(heads, rows) {
    const top = make("tr", "", ...heads.map((head) => make("th", head)));
    return make("table", "", make("thead", "", top), make("tbody", "", ...rows.map((cells) => make("tr", "", ...cells.map((cell) => make("td", cell))))));
  }

  function facts(record, words) {
    const rows = [
      [words.record_revision, record.revision], [words.record_machine, record.machine_title], [words.record_serial, record.serial],
      [words.record_model, record.model], [words.record_people, record.people.join(", ")], [words.record_begun, hour(record.begun)],
      [words.record_ended, record.ended ? hour(record.ended) : words.record_not_ended], [words.record_content, record.content.slice(0, 12)],
    ];
    return table(["", ""], rows.filter((row) => row[1]));
  }

  // What was typed in another unit than that of the limits, with what it is in theirs.
  function typed(entry) {
    const own = entry.value && !witness.numbers.typed(entry.entered).unit;
    return entry.value && !own ? entry.entered + " (" + entry.value + " " + entry.unit + ")" : [entry.entered, entry.unit].filter(Boolean).join(" ");
  }

  // Returns an article; all text in it stays text.
  witness.printout = function (record, words) {
    const steps = record.steps.map((step) => [step.number, step.text, step.done ? "✓" : "–", hour(step.at), step.by]);
    const entries = record.entries.map((entry) => [
      entry.label, typed(entry), entry.limit, words["verdict_" + entry.verdict] || "", hour(entry.at), entry.by,
    ]);
    const remarks = record.remarks.map((remark) => [remark.number, (remark.unclear ? words.record_unclear + " " : "") + remark.text, hour(remark.at), remark.by]);
    const article = make("article", "", make("h1", record.title), facts(record, words));
    if (entries.length) article.append(make("h2", words.record_entries), table(words.record_entry_heads.split("|"), entries));
    if (remarks.length) article.append(make("h2", words.record_remarks), table(words.record_remark_heads.split("|"), remarks));
    const rounds = record.rounds.map((one) => [one.text, one.done ? "✓" : "–", hour(one.at), one.by]);
    if (rounds.length) article.append(make("h2", words.record_rounds), table(words.record_round_heads.split("|"), rounds));
    article.append(make("h2", words.record_steps), table(words.record_step_heads.split("|"), steps));
    article.append(make("p", words.record_seal + " " + witness.sha256(JSON.stringify(record))));
    return article;
  };
})(window.witness);
