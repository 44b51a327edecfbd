/* On every page: send what waits, and say what still waits, what was refused and what was set aside. */
import { all, flush, forgetOthers, hindrance, mark, supported } from "./outbox.js";

const AGAIN = 15_000; /* milliseconds between two tries; no phone is trusted to wake us */
const owner = Number(document.body.dataset.person);
const place = document.getElementById("outbox");

const say = (word, shown) => {
  for (const sentence of place.querySelectorAll(`[data-says="${word}"]`)) sentence.hidden = !shown;
};
const count = (word, number) => {
  place.querySelector(`[data-count="${word}"]`).textContent = number;
};

function list(word, entries, fill) {
  const rows = place.querySelector(`[data-list="${word}"]`);
  const row = rows.querySelector("template");
  rows.replaceChildren(row, ...entries.map((entry) => fill(entry, row.content.firstElementChild.cloneNode(true))));
}

function described(entry, row) {
  row.querySelector("[data-title]").textContent = [entry.title, entry.said].filter(Boolean).join(": ");
  row.querySelector("[data-machine]").textContent = entry.machine;
  row.querySelector("[data-when]").textContent = new Date(entry.deviceAt).toLocaleString();
  row.querySelector("[data-sentence]").textContent = entry.sentence;
  const mend = row.querySelector("[data-mend]");
  if (mend) {
    mend.hidden = !entry.step;
    mend.href = `/inspections/${entry.inspection}/steps/${entry.step || 1}/`;
  }
  for (const button of row.querySelectorAll("[data-mark]"))
    button.addEventListener("click", async () => {
      await mark(entry.seq, button.dataset.mark);
      flush(owner);
    });
  return row;
}

async function show() {
  const entries = await all();
  const mine = entries.filter((entry) => entry.owner === owner);
  const others = entries.filter((entry) => entry.owner !== owner && entry.state !== "aside");
  const [waiting, refused, aside] = ["waiting", "refused", "aside"].map((state) => mine.filter((entry) => entry.state === state));
  count("waiting", waiting.length);
  count("aside", aside.length);
  say("waiting", waiting.length > 0);
  for (const why of ["signal", "signed-out", "another", "seat", "shop"]) say(why, waiting.length > 0 && hindrance === why);
  say("refused", refused.length > 0);
  say("aside", aside.length > 0);
  say("others", others.length > 0);
  list("refused", refused, described);
  list("aside", aside, described);
  place.querySelector("[data-names]").textContent = [...new Set(others.map((entry) => entry.ownerName))].join(", ");
  count("others", others.length);
  place.querySelector("[data-here]").href = location.pathname;
  place.hidden = !(mine.length || others.length);
}

const send = async () => {
  if ((await all()).some((entry) => entry.owner === owner && entry.state === "waiting")) await flush(owner);
};

if (supported && owner && place) {
  document.addEventListener("outbox", show);
  window.addEventListener("online", send);
  document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && send());
  setInterval(send, AGAIN);
  forgetOthers(owner).then(show).then(send);
}
