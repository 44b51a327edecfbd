"use strict";
/* Reading plates. Every page works without this file: a photo then goes along with its form. */

const copyOf = (template) => template.content.cloneNode(true);
const keyOf = (text) => text.normalize("NFKD").toUpperCase().replace(/[^\p{L}\p{N}]/gu, "");

/* In a form about a machine the photo is sent as soon as it is chosen, and what the plate says is offered
   to the fields that are still empty. What a person typed stays. */
for (const reads of document.querySelectorAll("[data-reads]")) {
  const form = reads.closest("form");
  const photo = reads.querySelector("input[type=file]");
  const place = reads.querySelector(".reading");
  const reading = form.elements.reading;
  const unsent = () => place.replaceChildren(copyOf(reads.querySelector("[data-unsent]")));

  photo.addEventListener("change", () => {
    reading.value = "";
    place.replaceChildren();
    if (!photo.files.length) return;
    place.append(copyOf(reads.querySelector("[data-sending]")));
    const values = { photo: photo.files[0], as: "fill", csrfmiddlewaretoken: form.elements.csrfmiddlewaretoken.value };
    htmx.ajax("POST", reads.dataset.reads, { source: reads, target: place, swap: "innerHTML", values });
  });
  reads.addEventListener("htmx:sendError", unsent);
  reads.addEventListener("htmx:responseError", unsent);

  /* The photo is there already: it is not sent a second time. */
  form.addEventListener("formdata", (event) => {
    if (reading.value) event.formData.delete(photo.name);
  });

  reads.addEventListener("click", ({ target }) => {
    const button = target.closest("button");
    if (!button) return;
    if ("take" in button.dataset) takeAll(reads, form);
    if ("fills" in button.dataset) fill(form.elements[button.dataset.fills], button.value, true);
    if ("drop" in button.dataset) {
      reading.value = photo.value = "";
      photo.dispatchEvent(new Event("change", { bubbles: true }));
      photo.focus();
    }
  });
  form.addEventListener("input", () => tellDifferences(reads, form));

  /* A form that comes back as it was sent still has its photo. */
  window.addEventListener("pageshow", () => {
    if (reading.value) htmx.ajax("GET", `${reads.dataset.shown}${reading.value}/?as=fill`, { source: reads, target: place, swap: "innerHTML" });
  });

  htmx.onLoad((part) => {
    if (!("fill" in part.dataset) || !reads.contains(part)) return;
    reading.value = part.dataset.fill;
    if ("sure" in part.dataset && takeAll(reads, form)) part.querySelector("[data-filled]").hidden = false;
    tellDifferences(reads, form);
  });
}

/* Fill a field that is empty or holds what a photo said before; any field when a person picked this text. */
function fill(field, text, picked) {
  const free = picked || field.value.trim() === "" || field.dataset.read === field.value;
  if (!free || field.value === text) return false;
  field.value = field.dataset.read = text;
  for (const name of ["input", "change"]) field.dispatchEvent(new Event(name, { bubbles: true }));
  return true;
}
function takeAll(reads, form) {
  const said = [...reads.querySelectorAll("[data-says]")];
  return said.filter((one) => fill(form.elements[one.dataset.says], one.textContent, false)).length > 0;
}
function tellDifferences(reads, form) {
  for (const note of reads.querySelectorAll("[data-differs]")) {
    const typed = form.elements[note.dataset.differs].value.trim();
    const read = reads.querySelector(`[data-says=${note.dataset.differs}]`)?.textContent ?? "";
    note.hidden = typed === "" || keyOf(typed) === keyOf(read);
    note.querySelector("[data-typed]").textContent = typed;
  }
}

/* Who typed beside the candidates means what he typed. */
document.addEventListener("input", ({ target }) => {
  if (!target.name?.endsWith("_other") || !target.value) return;
  const other = document.querySelector(`input[type=radio][name=${target.name.replace("_other", "")}][value="-"]`);
  if (other) other.checked = true;
});

/* What is next takes the focus, unless somebody is at work elsewhere on the page. */
const idle = () => [document.body, null].includes(document.activeElement);
const focusNext = (root) => root.querySelector("[data-next]")?.focus();
document.addEventListener("DOMContentLoaded", () => idle() && !location.hash && focusNext(document.querySelector("[data-part]") ?? document.createElement("p")));
document.addEventListener("htmx:afterSettle", ({ target }) => {
  if (!idle()) return;
  if ("part" in target.dataset) focusNext(target);
  if (target.id.startsWith("row-")) {
    let row = target.querySelector("[data-next]") ? target : target.nextElementSibling;
    while (row && !row.querySelector("[data-next]")) row = row.nextElementSibling;
    (row?.querySelector("[data-next]") ?? target).focus();
  }
});

/* A walk: each photo is sent on its own, two at a time; one that fails stays as a row to be tried again. */
for (const form of document.querySelectorAll("[data-walk]")) {
  const rows = document.getElementById("rows");
  const part = (name) => form.querySelector(`[data-${name}]`);
  const bar = part("sent").querySelector("progress");
  const queue = [];
  let sending = 0;

  form.addEventListener("submit", (event) => {
    const files = [...form.elements.photo.files];
    if (!files.length) return; /* the server says what is missing */
    event.preventDefault();
    part("too-many").hidden = files.length <= Number(form.dataset.most);
    if (!part("too-many").hidden) return;
    form.elements.photo.value = "";
    if (!sending) bar.max = bar.value = 0;
    for (const file of files) add(file);
    goOn();
  });

  function add(file) {
    rows.append(copyOf(part("row")));
    const row = rows.lastElementChild;
    row.querySelector("[data-name]").textContent = file.name;
    row.querySelector("[data-retry]").addEventListener("click", () => {
      row.querySelector("[data-retry]").hidden = true;
      queue.push([file, row]);
      bar.max += 1;
      goOn();
    });
    queue.push([file, row]);
    bar.max += 1;
  }

  function goOn() {
    part("sent").hidden = false;
    part("count").textContent = `${bar.value} / ${bar.max}`;
    for (; sending < 2 && queue.length; sending += 1) {
      const [file, row] = queue.shift();
      send(file, row).finally(() => {
        sending -= 1;
        bar.value += 1;
        goOn();
      });
    }
    if (!sending) part("sent").hidden = true;
  }

  async function send(file, row) {
    const body = new FormData();
    for (const name of ["csrfmiddlewaretoken", "walk"]) body.append(name, form.elements[name].value);
    body.append("photo", file);
    try {
      const answer = await fetch(form.action, { method: "POST", body, headers: { "HX-Request": "true" } });
      const told = new DOMParser().parseFromString(`<ol>${await answer.text()}</ol>`, "text/html").querySelector("ol");
      arrived(row, told);
    } catch {
      fail(row, part("unsent").content.textContent);
    }
  }

  function arrived(row, told) {
    const made = told.querySelector("li[id^=row-]");
    if (!made) return fail(row, told.textContent.trim() || part("unsent").content.textContent);
    if (document.getElementById(made.id)) return say(row, part("here").content.textContent);
    row.replaceWith(made);
    htmx.process(made);
    htmx.trigger(document.body, "walk-changed");
  }
  function say(row, sentence) {
    row.querySelector("[data-why]").textContent = sentence;
  }
  function fail(row, sentence) {
    say(row, sentence);
    row.classList.add("late");
    row.querySelector("[data-retry]").hidden = false;
  }
}
