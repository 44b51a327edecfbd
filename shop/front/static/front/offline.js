/* Starts the service worker, keeps this page and those of today's jobs, and says of a page that it is an old one. */
const { person } = document.body.dataset;
const PAGES = "pages";
const OWNER = "/kept-for/"; /* no address of the shop */
const REST = 10 * 60 * 1000; /* milliseconds until today's pages are fetched again */

const kept = document.documentElement.dataset.kept;
if (kept) {
  const sentence = document.querySelector("[data-kept-sentence]");
  sentence.querySelector("[data-kept-at]").textContent = new Date(kept).toLocaleString();
  sentence.hidden = false;
}

/* The worker wipes at the door; this also holds where a page came past the worker. Whose pages they are
   stands among them: what stands elsewhere may be lost alone when the browser dies. */
async function wipeOfOthers() {
  const owner = await caches.match(OWNER, { cacheName: PAGES });
  if ((await owner?.text()) === person) return false;
  await caches.delete(PAGES);
  const pages = await caches.open(PAGES);
  await pages.put(OWNER, new Response(person));
  return true;
}

const controlled = () =>
  navigator.serviceWorker.controller
    ? Promise.resolve()
    : new Promise((done) => navigator.serviceWorker.addEventListener("controllerchange", done, { once: true }));

async function today() {
  const sentence = document.querySelector("[data-today]");
  if (!sentence) return;
  if (Date.now() - Number(sessionStorage.getItem("today")) > REST) {
    const answer = await fetch(sentence.dataset.today, { headers: { Accept: "application/json" } });
    if (!answer.ok) return;
    const { pages, parts } = await answer.json();
    for (const address of pages) await fetch(address);
    for (const address of parts) await fetch(address, { headers: { "HX-Request": "true" } });
    sessionStorage.setItem("today", String(Date.now()));
  }
  sentence.hidden = false;
}

async function start() {
  const early = !navigator.serviceWorker.controller;
  await navigator.serviceWorker.register("/service-worker.js", { scope: "/" });
  await controlled();
  const wiped = await wipeOfOthers();
  if (wiped) sessionStorage.removeItem("today");
  if (kept) return;
  if (early || wiped) await fetch(location.href);
  await today();
}
if (person && window.isSecureContext && "serviceWorker" in navigator)
  /* No signal, or a browser that keeps nothing: the page itself stands. */
  start().catch(() => {});
