// A job is one doing of this procedure on one machine. Its state is what its taps add up to.
"use strict";
window.witness = window.witness || {};
(function (witness) {
  const LONE = /[\uD800-\uDBFF](?![\uDC00-\uDFFF])|(?<![\uD800-\uDBFF])[\uDC00-\uDFFF]/g;
  const two = (n) => String(n).padStart(2, "0");

  // The local time with its offset: `2026-11-26T08:12:05+01:00`.
  function stamp() {
    const now = new Date(), ahead = -now.getTimezoneOffset();
    const local = new Date(now.getTime() + ahead * 60000).toISOString().slice(0, 19);
    return local + (ahead < 0 ? "-" : "+") + two(Math.floor(Math.abs(ahead) / 60)) + ":" + two(Math.abs(ahead) % 60);
  }

  function newId() {
    const random = Array.from(crypto.getRandomValues(new Uint8Array(4)), (byte) => byte.toString(16).padStart(2, "0"));
    return stamp().slice(0, 19).replace(/\D/g, "") + "-" + random.join("");
  }

  const KINDS = ["tick", "entry", "remark", "unclear", "model", "clock", "bolt"];

  function addTo(state, tap) {
    if (!KINDS.includes(tap.what)) return;
    if (tap.value === "" || tap.value === false) state[tap.what].delete(tap.name);
    else state[tap.what].set(tap.name, tap);
  }

  // State: for each kind of tap, name -> the tap that counts.
  witness.addUp = function (taps) {
    const state = Object.fromEntries(KINDS.map((kind) => [kind, new Map()]));
    for (const tap of taps) addTo(state, tap);
    return state;
  };

  // Other pages share the memory of the browser: what is no job or tap of ours is passed over.
  const texts = (row, names) => Boolean(row) && typeof row === "object" && names.every((name) => typeof row[name] === "string");
  const isJob = (row) => texts(row, ["id", "document", "digest", "title", "revision", "serial", "who", "begun", "ended"]);
  const isTap = (row) => texts(row, ["id", "job", "at", "by", "what", "name", "told"]) && ["string", "boolean"].includes(typeof row.value);

  const said = (text) => String(text).replace(LONE, "\uFFFD");

  // `about` says which page this is: document, digest, title, revision.
  witness.openJobs = async function (about) {
    const journal = await witness.openJournal();
    const session = "witnessmark:here:" + about.document;
    const jobs = { kept: journal.kind, active: null, state: witness.addUp([]), taps: [], others: [], older: [] };
    let begun = Promise.resolve();
    const tapsOf = async (id) => (await journal.taps(id)).filter(isTap);

    // Which job this window is in outlives a reload; where that may not be kept, it is asked again.
    function remembered(id) {
      try {
        if (id === undefined) return sessionStorage.getItem(session);
        sessionStorage.setItem(session, id);
      } catch (error) {
        // Then the reader picks the job.
      }
      return null;
    }

    async function load() {
      const mine = (await journal.jobs()).filter((job) => isJob(job) && job.document === about.document);
      mine.sort((a, b) => (a.id < b.id ? -1 : 1));
      const same = mine.filter((job) => job.digest === about.digest);
      const open = same.filter((job) => !job.ended);
      const here = remembered();
      jobs.active = same.find((job) => job.id === here) || (open.length === 1 && here !== "none" ? open[0] : null);
      jobs.others = open.filter((job) => job !== jobs.active);
      jobs.older = mine.filter((job) => job.digest !== about.digest && !job.ended);
      jobs.taps = jobs.active ? await tapsOf(jobs.active.id) : [];
      jobs.state = witness.addUp(jobs.taps);
    }

    // Several are open and none is picked: a tap could belong to any of them.
    jobs.undecided = () => !jobs.active && jobs.others.length > 0 && remembered() !== "none";

    jobs.begin = function (who, serial) {
      const at = stamp();
      jobs.active = {
        id: newId(), document: about.document, digest: about.digest, title: about.title, revision: about.revision,
        serial: said(serial), who: said(who), begun: at, ended: "",
      };
      remembered(jobs.active.id);
      begun = journal.keep(jobs.active);
      return begun;
    };

    jobs.change = function (values) {
      for (const name of Object.keys(values)) jobs.active[name] = said(values[name]);
      // One that failed does not keep the next from trying.
      begun = begun.catch(() => null).then(() => journal.keep(jobs.active));
      return begun;
    };

    // Resolves when the disk has it. `told` is what the reader saw there, for a page that is gone later.
    jobs.tap = async function (what, name, value, told) {
      const tap = {
        id: newId(), job: jobs.active.id, at: stamp(), by: jobs.active.who, what: what, name: name,
        value: typeof value === "boolean" ? value : said(value), told: said(told || ""),
      };
      jobs.taps.push(tap);
      addTo(jobs.state, tap);
      // The tap does not wait for the job: both go to the disk, and this resolves when both are there.
      await Promise.all([begun, journal.add(tap)]);
    };

    jobs.finish = async function () {
      await jobs.tap("end", "", true, "");
      await jobs.change({ ended: stamp() });
    };
    jobs.reopen = async function () {
      await jobs.tap("reopen", "", true, "");
      await jobs.change({ ended: "" });
    };
    jobs.pick = (id) => remembered(id);
    jobs.resume = function (job) {
      jobs.pick(job.id);
      return load();
    };
    jobs.leave = () => remembered("none");
    jobs.forget = (id) => journal.forget(id);
    jobs.tapsOf = tapsOf;
    jobs.refused = () => journal.refused();
    // Another window may have gone on with this job meanwhile.
    jobs.stale = async function () {
      if (!jobs.active) return false;
      const here = new Set(jobs.taps.map((tap) => tap.id));
      return (await tapsOf(jobs.active.id)).some((tap) => !here.has(tap.id));
    };

    try {
      await load();
    } catch (error) {
      // It opened and can not be read: the page works on, and says that it forgets.
      Object.assign(journal, witness.noJournal(), { refused: () => 0 });
      jobs.kept = journal.kind;
      await load();
    }
    return jobs;
  };
})(window.witness);
