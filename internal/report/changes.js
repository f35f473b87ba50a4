"use strict";
(() => {
  const reading = document.currentScript.dataset.reading;
  const link = document.querySelector(".watch .link");
  let again = false;
  const kept = "reading " + location.pathname;
  const folds = () => [...document.querySelectorAll("details")].map(d => [d, d.querySelector(":scope > [id], :scope > .body > [id]")?.id]).filter(([, id]) => id);
  // What shows of a part: itself, or its heading where it is folded.
  const shown = e => e.checkVisibility() ? e : e.closest("details")?.querySelector("summary");
  const topOf = e => shown(e)?.getBoundingClientRect().top ?? Infinity;
  // The part nearest to the top of the screen, and where it stands: it may have moved when the page is another.
  const anchor = () => {
    let near = null;
    for (const e of document.querySelectorAll("main [id]")) {
      const top = topOf(e);
      if (!near || Math.abs(top - 120) < Math.abs(near.top - 120)) near = { id: e.id, top };
    }
    return near;
  };
  const keep = () => {
    try {
      sessionStorage.setItem(kept, JSON.stringify({ y: scrollY, at: anchor(), open: folds().map(([d, id]) => [id, d.open]) }));
    } catch { /* the browser keeps nothing: the page then begins at its top */ }
    location.reload();
  };
  const put = () => {
    let was = null;
    try {
      was = JSON.parse(sessionStorage.getItem(kept));
      sessionStorage.removeItem(kept);
    } catch { return; }
    if (!was) return;
    again = true;
    history.scrollRestoration = "manual";
    const open = new Map(was.open);
    for (const [d, id] of folds()) if (open.has(id)) d.open = open.get(id);
    const e = was.at && document.getElementById(was.at.id);
    scrollTo(0, e ? scrollY + topOf(e) - was.at.top : was.y);
  };
  put();
  // What is there when a page loads is not read out by a screen reader; what comes later is.
  const news = again && document.querySelector(".watch summary, .watch .trouble")?.textContent;
  if (news) setTimeout(() => { document.querySelector(".watch .news").textContent = news; }, 500);
  const told = new EventSource("changes");
  told.addEventListener("reading", e => {
    link.textContent = "";
    if (e.data !== reading) { told.close(); keep(); }
  });
  told.addEventListener("begun", () => { link.textContent = "The folder is being read again…"; });
  told.addEventListener("ended", () => {
    told.close();
    link.textContent = "The watching has ended. This page stays as it is.";
  });
  told.addEventListener("error", () => { link.textContent = "The watching does not answer. This page stays as it is until it does."; });
})();
