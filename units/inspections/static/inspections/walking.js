/* An inspection, one step a screen: an answer is kept on the phone first, the next step opens by itself,
   and the outbox brings it to the shop. Without this script each form goes to the shop directly. */
import { all, answersOf, flush, keep, supported } from "./outbox.js";

const walk = document.querySelector("[data-inspection]");
const inspection = Number(walk.dataset.inspection);
const owner = Number(document.body.dataset.person);
const screens = [...walk.querySelectorAll(".screen")];
const steps = screens.filter((screen) => screen.dataset.step !== "end");
const end = screens.at(-1);
const ofStep = (step) => screens.find((screen) => screen.dataset.step === String(step));
const say = (root, word, shown = true) => {
  for (const sentence of root.querySelectorAll(`[data-says="${word}"]`)) sentence.hidden = !shown;
};

/* Which screen */
const stepOf = (address) => {
  const { pathname, hash } = new URL(address, location);
  return hash === "#end" ? "end" : pathname.match(/\/steps\/(\d+)\/$/)?.[1];
};
const addressOf = (step) => (step === "end" ? `${addressOf(steps.at(-1).dataset.step)}#end` : `${walk.dataset.address}steps/${step}/`);
function show(step) {
  const screen = ofStep(step) ?? end;
  for (const other of screens) other.hidden = other !== screen;
  document.title = `${screen.dataset.title} · Underbelt`;
  window.scrollTo(0, 0);
  screen.querySelector("h1").focus({ preventScroll: true });
}
function go(step) {
  if (stepOf(location) !== String(step)) history.pushState({}, "", addressOf(step));
  show(step);
}

/* How far */
async function tally() {
  const done = steps.filter((screen) => "done" in screen.dataset).length;
  for (const bar of walk.querySelectorAll("progress")) bar.value = done;
  for (const number of walk.querySelectorAll("[data-recorded]")) number.textContent = done;
  const ended = walk.querySelector("[data-ends][aria-current]"); /* what was found ends the visit */
  const first = ended ? null : steps.find((screen) => !("done" in screen.dataset));
  end.querySelector("[data-go-on]").hidden = !first;
  if (first) end.querySelector("[data-go-on]").href = addressOf(first.dataset.step);
  for (const screen of steps) end.querySelector(`[data-of="${screen.dataset.step}"] .state`).hidden = "done" in screen.dataset;
  const waits = await finishWaits();
  end.querySelector("[data-finish]").hidden = Boolean(first) || waits;
  say(end, "finish-waits", waits);
}
const finishWaits = async () => supported && (await all()).some((entry) => entry.inspection === inspection && entry.owner === owner && !entry.step && entry.state === "waiting");

/* What this phone answered stands over what the page said when it was made. */
function lay({ step, fields, photo }) {
  const screen = ofStep(step);
  if (!screen) return;
  screen.dataset.done = "";
  for (const button of screen.querySelectorAll("button[name]")) {
    const chosen = fields[button.name] === button.value;
    button.toggleAttribute("aria-current", false);
    if (chosen) button.setAttribute("aria-current", "true");
  }
  for (const name of ["value", "note", "reason"]) {
    const field = screen.querySelector(`[name="${name}"]:not(button)`);
    if (field && name in fields) field.value = fields[name];
  }
  screen.querySelector("[data-impossible]").open ||= Boolean(fields.outcome || fields.because);
  say(screen, "photo-kept", photo);
}

/* The answer */
const NUMBER = /^\s*\d{1,6}([.,]\d{1,4})?\s*$/;
function isWhole(fields, screen) {
  if (fields.because || fields.condition || fields.code) return true;
  if (fields.outcome) return Boolean(fields.reason.trim());
  return Boolean(screen.querySelector("[name=value]")) && NUMBER.test(fields.value);
}
async function entryOf(form, submitter, screen) {
  const data = new FormData(form, submitter);
  const picture = data.get("photo");
  if (picture?.size > Number(form.querySelector("[type=file]").dataset.most)) throw new RangeError("photo");
  for (const name of ["photo", "csrfmiddlewaretoken"]) data.delete(name);
  const fields = Object.fromEntries(data);
  if (fields.value) fields.value = fields.value.trim().replace(",", ".");
  const photo = picture?.size ? { name: picture.name, type: picture.type, bytes: await picture.arrayBuffer() } : null;
  return { ...envelope(screen), step: Number(screen.dataset.step), said: submitter?.name ? submitter.textContent : fields.value, fields, photo };
}
const envelope = (screen) => ({
  owner,
  ownerName: document.body.dataset.personName,
  inspection,
  machine: walk.dataset.machine,
  title: screen.dataset.title,
  step: null,
  fields: {},
  photo: null,
});
async function answer(form, submitter) {
  const screen = form.closest(".screen");
  if (await finishWaits()) return go("end");
  const entry = await entryOf(form, submitter, screen).catch(() => null);
  say(screen, "bad-photo", !entry);
  if (!entry) return form.querySelector("[type=file]").focus();
  const whole = isWhole(entry.fields, screen);
  say(screen, "bad", !whole);
  if (!whole) return screen.querySelector("[name=value], .finds button")?.focus();
  if (!(await kept(entry))) return;
  form.querySelector("[type=file]").value = "";
  form.querySelector(".previews")?.replaceChildren();
  lay({ ...entry, photo: Boolean(entry.photo) });
  await tally();
  const ends = submitter?.hasAttribute("data-ends");
  go(ends ? "end" : screens[screens.indexOf(screen) + 1].dataset.step);
  flush(owner);
}
async function kept(entry) {
  try {
    await keep(entry);
    say(walk, "full", false);
    return true;
  } catch {
    say(walk, "full");
    return false;
  }
}
async function finish() {
  if (await finishWaits()) return;
  if (!(await kept(envelope(end)))) return;
  await tally();
  flush(owner);
}

function listen() {
  let busy = false; /* one press at a time */
  walk.addEventListener("submit", async (event) => {
    event.preventDefault();
    if (busy) return;
    busy = true;
    try {
      await (event.target.matches("[data-finish]") ? finish() : answer(event.target, event.submitter));
    } finally {
      busy = false;
    }
  });
  walk.addEventListener("click", (event) => {
    const link = event.target.closest("a[href]");
    const step = link && (link.matches("[data-all]") ? "end" : stepOf(link.href));
    if (!step) return;
    event.preventDefault();
    go(step);
  });
  window.addEventListener("popstate", () => show(stepOf(location)));
  document.addEventListener("outbox", tally);
  document.addEventListener("finished", async ({ detail }) => {
    if (detail !== inspection) return;
    await caches.open("pages").then((pages) => pages.delete(`${walk.dataset.address}steps/1/`, { ignoreVary: true }));
    location.assign(walk.dataset.address);
  });
}

/* Notes by taps: a chip adds its words or takes them out again. */
walk.addEventListener("click", (event) => {
  const words = event.target.dataset?.note;
  if (!words) return;
  const note = event.target.closest("form").querySelector("[name=note]");
  const said = note.value.split("; ").filter(Boolean);
  note.value = (said.includes(words) ? said.filter((one) => one !== words) : [...said, words]).join("; ");
});
for (const chips of walk.querySelectorAll("[data-chips]")) chips.hidden = false;

async function start() {
  if (!supported) return say(walk, window.isSecureContext ? "not-kept" : "plain");
  const made = Number(walk.dataset.made) * 1000;
  for (const row of await answersOf(owner, inspection)) if (row.had === null || row.had >= made) lay(row);
  listen();
  show(stepOf(location) ?? "end");
  await tally();
  navigator.storage?.persist?.();
  sayWhenKept(20);
}
/* Only what is found in the browser's cache is called kept. */
async function sayWhenKept(tries) {
  if (await caches.match(`${walk.dataset.address}steps/1/`, { ignoreVary: true })) return say(walk, "kept");
  if (tries) setTimeout(sayWhenKept, 500, tries - 1);
  else say(walk, "not-kept");
}
start();
