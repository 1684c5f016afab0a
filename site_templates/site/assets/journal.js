// The journal of a device: every tap of every job, in order. A tap that shows as kept is on the disk.
"use strict";
window.witness = window.witness || {};
(function (witness) {
  const DATABASE = "witnessmark", VERSION = 1;
  const PATIENCE = 3000;

  // A request or transaction of the database as a promise of its result.
  function settled(request, good) {
    return new Promise(function (resolve, reject) {
      request[good] = () => resolve(request.result);
      request.onerror = request.onabort = request.onblocked = () => reject(request.error || new Error("refused"));
    });
  }

  // The database of the browser. A transaction with strict durability is told as complete only
  // when the disk has it: localStorage may lose the last seconds when the battery dies.
  async function database() {
    const request = indexedDB.open(DATABASE, VERSION);
    request.onupgradeneeded = function () {
      request.result.createObjectStore("jobs", { keyPath: "id" });
      request.result.createObjectStore("taps", { autoIncrement: true }).createIndex("job", "job");
    };
    const late = new Promise((resolve, reject) => setTimeout(() => reject(new Error("late")), PATIENCE));
    const opened = await Promise.race([settled(request, "onsuccess"), late]);
    // Another page with a newer layout may take over; this one then starts afresh.
    opened.onversionchange = () => opened.close();
    const write = async function (work) {
      const writing = opened.transaction(["jobs", "taps"], "readwrite", { durability: "strict" });
      const told = settled(writing, "oncomplete");
      work(writing);
      await told;
    };
    return {
      kind: "disk",
      jobs: () => settled(opened.transaction("jobs").objectStore("jobs").getAll(), "onsuccess"),
      taps: (job) => settled(opened.transaction("taps").objectStore("taps").index("job").getAll(job), "onsuccess"),
      keep: (job) => write((writing) => writing.objectStore("jobs").put(job)),
      add: (taps) => write(function (writing) {
        taps.forEach((tap) => writing.objectStore("taps").add(tap));
        // Nothing more comes, so a page that is left right now need not be asked again.
        if (writing.commit) writing.commit();
      }),
      forget: (job) => write(function (writing) {
        writing.objectStore("jobs").delete(job);
        const keys = writing.objectStore("taps").index("job").getAllKeys(job);
        keys.onsuccess = () => keys.result.forEach((key) => writing.objectStore("taps").delete(key));
      }),
    };
  }

  // Where there is no database: the same in localStorage, which reaches the disk when it pleases.
  function storage() {
    const prefix = "witnessmark:";
    const isRow = (row) => Boolean(row) && typeof row === "object";
    const get = (name) => JSON.parse(localStorage.getItem(prefix + name));
    const read = (name) => Array.from(get(name) || []).filter(isRow);
    const store = (name, rows) => localStorage.setItem(prefix + name, JSON.stringify(rows));
    // Each tap has a place of its own: a list of all would be written anew with each.
    const place = (job, n) => "tap:" + job + ":" + n;
    const free = new Map();
    function end(job) {
      let n = free.get(job) || 0;
      while (localStorage.getItem(prefix + place(job, n)) !== null) n += 1;
      free.set(job, n);
      return n;
    }
    const others = (id) => read("jobs").filter((job) => job.id !== id);
    store("trial", []);
    return {
      kind: "lazy",
      jobs: async () => read("jobs"),
      taps: async (job) => Array.from({ length: end(job) }, (_, n) => get(place(job, n))).filter(isRow),
      keep: async (job) => store("jobs", [...others(job.id), job]),
      add: async (taps) => taps.forEach((tap) => store(place(tap.job, end(tap.job)), tap)),
      forget: async function (job) {
        store("jobs", others(job));
        for (let n = end(job) - 1; n >= 0; n--) localStorage.removeItem(prefix + place(job, n));
        free.delete(job);
      },
    };
  }

  // Where nothing may be kept at all, the page still works, and says that it forgets.
  function nothing() {
    const jobs = new Map(), taps = [];
    return {
      kind: "none",
      jobs: async () => Array.from(jobs.values()),
      taps: async (job) => taps.filter((tap) => tap.job === job),
      keep: async (job) => { jobs.set(job.id, job); },
      add: async (added) => { taps.push(...added); },
      forget: async (job) => { jobs.delete(job); },
    };
  }

  witness.noJournal = nothing;

  async function first(...stores) {
    for (const store of stores) {
      try {
        const opened = await store();
        await opened.jobs();
        return opened;
      } catch (error) {
        // Not here: the next one down. The page tells the reader which it came to.
      }
    }
    return nothing();
  }

  // A page that is left or loaded anew takes along what the disk has not told yet: the taps, and
  // the job they belong to, without which they would be nobody's.
  const LATE = { jobs: "witnessmark:late:jobs", taps: "witnessmark:late" };
  const isLate = {
    jobs: (job) => job && typeof job.id === "string",
    taps: (tap) => tap && typeof tap.job === "string" && typeof tap.id === "string",
  };

  function takenAlong(what) {
    try {
      return Array.from(JSON.parse(localStorage.getItem(LATE[what])) || []).filter(isLate[what]);
    } catch (error) {
      // What is odd in there is none of ours.
      return [];
    }
  }

  function setAlong(what, rows) {
    try {
      if (rows.length) localStorage.setItem(LATE[what], JSON.stringify(rows));
      else localStorage.removeItem(LATE[what]);
    } catch (error) {
      // Then at most what was tapped in the last few milliseconds is missing.
    }
  }

  // Several pages may be left at once: what another one took along stays there.
  function takeAlong(what, rows) {
    const there = takenAlong(what), known = new Set(there.map((row) => row.id));
    const added = rows.filter((row) => what === "jobs" || !known.has(row.id));
    if (added.length) setAlong(what, [...there, ...added]);
  }

  // What is still on the way belongs to the job as well: the reader has done it, and sees it.
  const withLate = (store) => ({
    jobs: async function () {
      const late = new Map(takenAlong("jobs").map((job) => [job.id, job]));
      return [...(await store.jobs()).filter((job) => !late.has(job.id)), ...late.values()];
    },
    taps: async function (job) {
      const there = await store.taps(job), known = new Set(there.map((tap) => tap.id));
      return [...there, ...takenAlong("taps").filter((tap) => tap.job === job && !known.has(tap.id))];
    },
    forget: async function (job) {
      await store.forget(job);
      setAlong("jobs", takenAlong("jobs").filter((row) => row.id !== job));
      setAlong("taps", takenAlong("taps").filter((row) => row.job !== job));
    },
  });

  async function bringBack(what, back) {
    const done = new Set();
    for (const row of takenAlong(what)) {
      try {
        await back(row);
        done.add(row.id);
      } catch (error) {
        // It stays where it is until there is room, and so do the rest.
        break;
      }
    }
    if (done.size) setAlong(what, takenAlong(what).filter((row) => !done.has(row.id)));
  }

  async function bringAllBack(store) {
    await bringBack("jobs", store.keep);
    await bringBack("taps", async function (tap) {
      if (!(await store.taps(tap.job)).some((known) => known.id === tap.id)) await store.add([tap]);
    });
  }

  // The newest of each job on its way to the disk.
  function keeper(store) {
    const underway = new Map();
    window.addEventListener("pagehide", () => takeAlong("jobs", Array.from(underway.values())));
    return async function (job) {
      const row = { ...job };
      underway.set(row.id, row);
      await store.keep(row);
      if (underway.get(row.id) === row) underway.delete(row.id);
    };
  }

  // What comes while the disk is busy waits, and goes to it together and in order. What it
  // refused is told as such, and goes to it once more with the next tap.
  function queue(store) {
    const waiting = [];
    let batch = [], refused = [], busy = null;
    window.addEventListener("pagehide", function () {
      const left = [...refused, ...[...batch, ...waiting].map((one) => one.tap)];
      takeAlong("taps", left);
    });

    async function flush() {
      while (waiting.length) {
        batch = waiting.splice(0);
        const taps = [...refused, ...batch.map((one) => one.tap)];
        // What was taken along comes first, as it was done first.
        if (takenAlong("taps").length) await bringAllBack(store);
        try {
          await store.add(taps);
          refused = [];
          batch.forEach((one) => one.resolve());
        } catch (error) {
          refused = taps;
          batch.forEach((one) => one.reject(error));
        }
        batch = [];
      }
      busy = null;
    }

    const add = (tap) => new Promise(function (resolve, reject) {
      waiting.push({ tap: tap, resolve: resolve, reject: reject });
      busy = busy || flush();
    });
    return { add: add, refused: () => refused.length + takenAlong("taps").length };
  }

  // { kind: "disk" | "lazy" | "none", jobs(), taps(job), keep(job), add(tap), forget(job), refused() }
  witness.openJournal = async function () {
    const store = await first(database, storage);
    await bringAllBack(store);
    return { ...store, ...withLate(store), keep: keeper(store), ...queue(store) };
  };
})(window.witness);
