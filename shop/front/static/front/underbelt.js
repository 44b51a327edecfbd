"use strict";
/* Small comforts. Every page works without this file. */

/* A form sends once: its buttons go quiet after the first press and wake when the page is shown again. */
document.addEventListener("submit", (event) => {
  const form = event.target;
  if (event.defaultPrevented || form.hasAttribute("hx-post") || form.method !== "post") return;
  if (form.dataset.sent) {
    event.preventDefault();
    return;
  }
  form.dataset.sent = "yes";
  for (const button of form.querySelectorAll("button:not([name])")) button.setAttribute("aria-disabled", "true");
});
window.addEventListener("pageshow", () => {
  for (const form of document.querySelectorAll("form[data-sent]")) {
    delete form.dataset.sent;
    for (const button of form.querySelectorAll("button")) button.removeAttribute("aria-disabled");
  }
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
