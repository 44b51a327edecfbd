"use strict";
/* Small comforts. Every page works without this file. */

/* A form sends once: its buttons go quiet after the first press and wake when the page is shown again. */
document.addEventListener("submit", (event) => {
  const form = event.target;
  /* getAttribute, since a field called "method" hides the form's own word. */
  if (event.defaultPrevented || form.hasAttribute("hx-post") || form.getAttribute("method") !== "post") return;
  if ("again" in form.dataset) return; /* a download leaves the page as it is */
  if (form.dataset.sent) {
    event.preventDefault();
    return;
  }
  form.dataset.sent = "yes";
  remember(form);
  for (const button of form.querySelectorAll("button:not([name])")) button.setAttribute("aria-disabled", "true");
});
window.addEventListener("pageshow", () => {
  for (const form of document.querySelectorAll("form[data-sent]")) {
    delete form.dataset.sent;
    for (const button of form.querySelectorAll("button")) button.removeAttribute("aria-disabled");
  }
});

/* What was sent stays with its place in this tab's history. Who goes back to it finds the form as it
   was sent, with its once-only key; who signs in on the way (#again) goes on where the form was cut off.
   Between pages it is kept only across those that say data-keeps-sent. */
const formsOf = () => [...document.querySelectorAll("main form[method=post]")];
const worded = (field) => field.name && field.name !== "csrfmiddlewaretoken" && !["file", "password", "submit"].includes(field.type);
function remember(form) {
  if (!formsOf().includes(form) || document.querySelector("[data-keeps-sent]")) return;
  const fields = [...form.elements].filter(worded).map((field) => [field.name, field.value, Boolean(field.checked)]);
  const sent = { form: formsOf().indexOf(form), fields };
  history.replaceState({ sent }, "");
  sessionStorage.setItem("sent", JSON.stringify({ path: location.pathname, ...sent }));
}
function restore({ form, fields }, withKey) {
  for (const field of [...(formsOf()[form]?.elements ?? [])].filter(worded)) {
    const asSent = fields.filter(([name]) => name === field.name && (withKey || name !== "key"));
    if (["checkbox", "radio"].includes(field.type)) {
      for (const [, value, checked] of asSent) if (value === field.value) field.checked = checked;
    } else if (asSent.length === 1) field.value = asSent[0][1];
  }
  for (const more of document.querySelectorAll("main details")) more.open ||= [...more.querySelectorAll("input")].some((input) => input.value);
}
document.addEventListener("DOMContentLoaded", () => {
  const came = performance.getEntriesByType("navigation")[0]?.type;
  if (history.state?.sent && came !== "navigate") restore(history.state.sent, came === "back_forward");
  if (document.querySelector("[data-keeps-sent]")) return;
  const sent = JSON.parse(sessionStorage.getItem("sent"));
  sessionStorage.removeItem("sent");
  if (location.hash === "#again" && sent?.path === location.pathname) restore(sent, true);
});

document.addEventListener("click", (event) => {
  if (event.target.closest("[data-print]")) window.print();
});

/* A chosen picture is shown at once below its field. */
document.addEventListener("change", (event) => {
  const input = event.target;
  if (!(input instanceof HTMLInputElement) || input.type !== "file" || !input.dataset.preview) return;
  const place = document.getElementById(input.dataset.preview);
  if (!place) return;
  place.replaceChildren();
  for (const file of input.files) {
    if (!file.type.startsWith("image/")) continue;
    const picture = document.createElement("img");
    picture.alt = file.name;
    picture.src = URL.createObjectURL(file);
    picture.onload = () => URL.revokeObjectURL(picture.src);
    place.append(picture);
  }
});

/* The first wrong field takes the focus, so that a keyboard or screen reader lands on it. */
const focusWrong = (root) => root.querySelector(".wrong input, .wrong select, .wrong textarea")?.focus();
document.addEventListener("DOMContentLoaded", () => focusWrong(document));
document.addEventListener("htmx:afterSwap", (event) => focusWrong(event.target));
