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
    const read = (name) => Array.from(JSON.parse(localStorage.getItem(prefix + name)) || []).filter(isRow);
    const store = (name, rows) => localStorage.setItem(prefix + name, JSON.stringify(rows));
    const others = (id) => read("jobs").filter((job) => job.id !== id);
    store("trial", []);
    return {
      kind: "lazy",
      jobs: async () => read("jobs"),
      taps: async (job) => read("taps:" + job),
      keep: async (job) => store("jobs", [...others(job.id), job]),
      add: async (taps) => taps.forEach((tap) => store("taps:" + tap.job, [...read("taps:" + tap.job), tap])),
      forget: async function (job) {
        store("jobs", others(job));
        localStorage.removeItem(prefix + "taps:" + job);
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

  // A page that is left or loaded anew takes along what the disk has not told yet.
  const LATE = "witnessmark:late";

  function takeAlong(taps) {
    try {
      if (taps.length) localStorage.setItem(LATE, JSON.stringify(taps));
      else localStorage.removeItem(LATE);
    } catch (error) {
      // Then at most what was tapped in the last few milliseconds is missing.
    }
  }

  async function bringBack(store) {
    try {
      const late = JSON.parse(localStorage.getItem(LATE) || "[]").filter((tap) => tap && tap.job && tap.id);
      for (const tap of late) {
        if (!(await store.taps(tap.job)).some((known) => known.id === tap.id)) await store.add([tap]);
      }
      takeAlong([]);
    } catch (error) {
      // What is odd in there is none of ours.
    }
  }

  // What comes while the disk is busy waits, and goes to it together and in order.
  function queue(store) {
    const waiting = [];
    let batch = [], busy = null;
    window.addEventListener("pagehide", () => takeAlong([...batch, ...waiting].map((one) => one.tap)));

    async function flush() {
      while (waiting.length) {
        batch = waiting.splice(0);
        try {
          await store.add(batch.map((one) => one.tap));
          batch.forEach((one) => one.resolve());
        } catch (error) {
          batch.forEach((one) => one.reject(error));
        }
        batch = [];
      }
      busy = null;
    }

    return (tap) => new Promise(function (resolve, reject) {
      waiting.push({ tap: tap, resolve: resolve, reject: reject });
      busy = busy || flush();
    });
  }

  // { kind: "disk" | "lazy" | "none", jobs(), taps(job), keep(job), add(tap), forget(job) }
  witness.openJournal = async function () {
    const store = await first(database, storage);
    await bringBack(store);
    return { ...store, add: queue(store) };
  };
})(window.witness);
