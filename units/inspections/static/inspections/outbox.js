/* The outbox: answers that wait in this browser's database until the shop's answer names their id.

   Two tables. "entries" are what waits: { seq, id, owner, ownerName, inspection, step, machine, title,
   deviceAt, fields, photo: { name, type, bytes } | null, state: waiting | refused | aside, sentence }.
   "answers" are what this phone last answered to a step, to show it again over a page that is older:
   { key, owner, inspection, step, id, fields, photo: bool, had: the shop's milliseconds, or null }. */
import { openDB } from "./vendor/idb-8.0.4.js";

const ADDRESS = "/inspections/outbox/";
const PATIENCE = 60_000; /* milliseconds that one entry, photo and all, may take on its way */

export const supported = Boolean(window.isSecureContext && window.indexedDB && navigator.locks && crypto.randomUUID);

let opened;
const database = () =>
  (opened ??= openDB("underbelt", 1, {
    upgrade(db) {
      db.createObjectStore("entries", { keyPath: "seq", autoIncrement: true }).createIndex("id", "id", { unique: true });
      db.createObjectStore("answers", { keyPath: "key" });
    },
    terminated() {
      opened = undefined;
    },
  }));
/* Strict: what was said to be kept survives the death of the browser. */
const writing = async () => (await database()).transaction(["entries", "answers"], "readwrite", { durability: "strict" });
const changed = () => document.dispatchEvent(new CustomEvent("outbox"));
const keyOf = ({ owner, inspection, step }) => [owner, inspection, step].join("/");

/* Keep an answer. An earlier refused one to the same step is thereby mended, and leaves. */
export async function keep(entry) {
  const whole = { ...entry, id: crypto.randomUUID(), deviceAt: new Date().toISOString(), state: "waiting", sentence: "" };
  const tx = await writing();
  const entries = tx.objectStore("entries");
  for (const old of await entries.getAll())
    if (old.state === "refused" && keyOf(old) === keyOf(whole)) await entries.delete(old.seq);
  await entries.add(whole);
  if (whole.step) {
    const { owner, inspection, step, id, fields } = whole;
    await tx.objectStore("answers").put({ key: keyOf(whole), owner, inspection, step, id, fields, photo: Boolean(whole.photo), had: null });
  }
  await tx.done;
  changed();
  return whole;
}

export async function all() {
  return (await database()).getAll("entries");
}

/* What this person's phone answered in an inspection, by step. */
export async function answersOf(owner, inspection) {
  const rows = await (await database()).getAll("answers");
  return rows.filter((row) => row.owner === owner && row.inspection === inspection);
}

/* Set an entry aside, or let it wait again; it stays in the database either way. */
export async function mark(seq, state) {
  const tx = await writing();
  const entry = await tx.objectStore("entries").get(seq);
  if (entry) await tx.objectStore("entries").put({ ...entry, state, sentence: state === "waiting" ? "" : entry.sentence });
  await tx.done;
  changed();
}

/* Another person's answers are nothing to show; what waits of theirs stays. */
export async function forgetOthers(owner) {
  const tx = await writing();
  const answers = tx.objectStore("answers");
  for (const row of await answers.getAll()) if (row.owner !== owner) await answers.delete(row.key);
  await tx.done;
}

/* Why the last try to send stopped: "" | signal | signed-out | another | seat | shop. */
export let hindrance = "";

let running = null;
let wanted = false;
/* Send what waits of this person, one after the other, in one tab at a time. */
export function flush(owner) {
  wanted = true;
  running ??= navigator.locks
    .request("outbox", async () => {
      while (wanted) {
        wanted = false;
        await sendAll(owner);
      }
    })
    .finally(() => {
      running = null;
      changed();
      if (wanted) flush(owner);
    });
  return running;
}

async function sendAll(owner) {
  const stuck = new Set(); /* steps at whose answer the shop failed: what came later waits behind it */
  for (const { seq } of await all()) {
    const entries = await all();
    const entry = entries.find((one) => one.seq === seq);
    if (!entry || entry.state !== "waiting" || entry.owner !== owner || stuck.has(keyOf(entry)) || isBlocked(entry, entries)) continue;
    const answer = await send(entry);
    if (answer) await settle(entry, answer);
    else if (hindrance === "shop") stuck.add(keyOf(entry));
    else return;
  }
  if (stuck.size) hindrance = "shop";
}

/* Finishing goes last: after it nothing of that inspection is taken any more. */
function isBlocked(entry, entries) {
  return !entry.step && entries.some((one) => one.inspection === entry.inspection && one.step && one.owner === entry.owner && one.state !== "aside");
}

function bodyOf({ id, owner, inspection, step, deviceAt, fields, photo }) {
  const body = new FormData();
  const sentAt = new Date().toISOString(); /* by the same clock, which may be wrong */
  for (const [name, value] of Object.entries({ ...fields, id, owner, inspection, device_at: deviceAt, sent_at: sentAt, step: step || "" })) body.append(name, value);
  if (photo) body.append("photo", new File([photo.bytes], photo.name, { type: photo.type }));
  return body;
}

/* The shop's answer to this very entry, or null with the hindrance said. */
async function send(entry) {
  const token = document.cookie.match(/(?:^|; )csrftoken=([^;]+)/)?.[1];
  if (!token) {
    hindrance = "signed-out"; /* a browser that died may have lost its cookies */
    return null;
  }
  let response, answer;
  try {
    const headers = { Accept: "application/json", "X-CSRFToken": token };
    const signal = AbortSignal.timeout(PATIENCE);
    response = await fetch(ADDRESS, { method: "POST", body: bodyOf(entry), headers, signal, redirect: "error" });
    answer = await response.json().catch(() => null);
  } catch {
    hindrance = "signal";
    return null;
  }
  if (answer?.id === entry.id) {
    hindrance = answer.state === "not-yours" ? "another" : "";
    return answer;
  }
  hindrance = { 401: "signed-out", 403: "seat", 502: "signal", 503: "signal", 504: "signal" }[response.status] ?? "shop";
  return null;
}

/* An entry leaves only here: the shop named its id and has it. */
async function settle(entry, answer) {
  const tx = await writing();
  const entries = tx.objectStore("entries");
  if (answer.state === "accepted" || answer.state === "had") {
    await entries.delete(entry.seq);
    const answers = tx.objectStore("answers");
    const kept = await answers.get(keyOf(entry));
    if (kept?.id === entry.id) await answers.put({ ...kept, had: answer.at });
  } else if (answer.state === "refused") {
    await entries.put({ ...entry, state: "refused", sentence: answer.sentence });
  }
  await tx.done;
  changed();
  if (!entry.step && (answer.state === "accepted" || answer.state === "had"))
    document.dispatchEvent(new CustomEvent("finished", { detail: entry.inspection }));
}
