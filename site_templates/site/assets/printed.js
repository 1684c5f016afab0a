// Tells whoever comes from the code on a sheet whether that print is still good.
"use strict";
(function () {
  const body = document.body, main = document.getElementById("main");
  const words = JSON.parse(body.dataset.words), about = JSON.parse(body.dataset.about);
  const issues = JSON.parse(body.dataset.issues || "[]");
  const SAID = "#printed=", MARK = /^([^,]*),([0-9a-f]{12})$/;
  const fill = (text, values) => text.replace(/\{(\w+)\}/g, (whole, name) => values[name]);
  const issue = (revision, content) => (revision ? fill(words.printed_revision, { n: revision }) : "") + fill(words.printed_content, { n: content });

  function read(text) {
    try {
      const found = MARK.exec(text);
      return found && { revision: decodeURIComponent(found[1]), content: found[2] };
    } catch (error) {
      return null;
    }
  }

  function box() {
    const made = document.getElementById("printed") || document.createElement("section");
    made.id = "printed";
    made.setAttribute("role", "status");
    made.textContent = "";
    main.before(made);
    return made;
  }

  function line(into, text, kind) {
    const made = document.createElement(kind || "p");
    made.textContent = text;
    into.append(made);
    return made;
  }

  // Where a print stands among the issues: by its content, or else by its revision; -1 for nowhere.
  function placeOf(print) {
    const byContent = issues.findIndex((one) => one[0] === print.revision && one[2] === print.content);
    return byContent >= 0 ? byContent : issues.findIndex((one) => one[0] === print.revision);
  }

  function tellChanges(into, print) {
    const at = placeOf(print), later = at < 0 ? [] : issues.slice(at + 1);
    if (later.length) return later.forEach(tellChange, into);
    if (body.dataset.change) line(into, fill(words.printed_change, { n: about.revision, text: body.dataset.change }));
  }

  function tellChange([revision, day, , change]) {
    const values = { n: day ? revision + ", " + day : revision, text: change };
    line(this, fill(change ? words.printed_change : words.printed_unsaid, values));
  }

  function tellOld(into, print, content) {
    const same = print.revision === (about.revision || "");
    line(into, fill(same ? words.printed_alike : words.printed_other, { print: issue(print.revision, print.content) }));
    line(into, fill(words.printed_page, { page: issue(about.revision, content) + (body.dataset.day ? ", " + body.dataset.day : "") }));
    if (!same) tellChanges(into, print);
    const sheet = document.querySelector(".bar .sheet[href]");
    if (sheet) line(into, words.printed_new, "a").href = sheet.href;
    line(into, words.printed_behind);
  }

  function tell() {
    if (!location.hash.startsWith(SAID)) return;
    const text = location.hash.slice(SAID.length), print = read(text), content = about.digest.slice(0, 12);
    const into = box(), good = print && print.content === content && print.revision === (about.revision || "");
    into.className = good ? "good" : "bad";
    line(into, good ? words.printed_good : print ? words.printed_old : words.printed_garbled, "strong");
    if (good) line(into, issue(print.revision, content));
    else if (print) tellOld(into, print, content);
    else line(into, fill(words.printed_unread, { text: text.slice(0, 80) }));
    into.scrollIntoView({ block: "start" });
  }

  addEventListener("hashchange", tell);
  tell();
})();
