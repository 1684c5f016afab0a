// A visit: which jobs are done and what is laid out; kept as on the pages of the jobs.
"use strict";
(async function (witness) {
  const words = JSON.parse(document.body.dataset.words), about = JSON.parse(document.body.dataset.about);
  const main = document.getElementById("main"), kept = document.getElementById("kept");
  main.inert = true;
  const jobs = await witness.openJobs(about);
  // One device goes to one visit of a kind at a time: its ticks begin it.
  if (!jobs.active && jobs.others.length) await jobs.resume(jobs.others[jobs.others.length - 1]);

  const again = document.getElementById("again");
  const ticked = [...(jobs.active ? [jobs.active] : []), ...jobs.older];
  again.hidden = !ticked.length;
  if (!jobs.active && jobs.older.length) kept.textContent = words.ticks_older;
  again.addEventListener("click", async function () {
    if (!window.confirm(words.start_over_asks)) return;
    try {
      for (const job of new Set([...ticked, ...(jobs.active ? [jobs.active] : [])])) await jobs.forget(job.id);
      window.location.reload();
    } catch (error) {
      kept.textContent = words.not_kept;
    }
  });

  for (const box of document.querySelectorAll("[data-tick]")) {
    const name = "tick:" + box.dataset.tick;
    box.checked = jobs.state.tick.has(name);
    box.addEventListener("change", async function () {
      if (!jobs.active) jobs.begin("", "");
      again.hidden = false;
      kept.textContent = words.keeping;
      try {
        await jobs.tap("tick", name, box.checked, "");
        kept.textContent = words["kept_" + jobs.kept];
      } catch (error) {
        kept.textContent = words.not_kept;
      }
    });
  }
  witness.openUnits();
  main.inert = false;
  document.body.dataset.ready = "yes";
})(window.witness);
