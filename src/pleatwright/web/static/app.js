/* Small helps on top of forms that work without them. */
"use strict";
document.addEventListener("htmx:configRequest", (event) => {
  const token = document.querySelector("meta[name=csrf]");
  if (token) event.detail.headers["X-CSRF"] = token.content;
});
/* an answer that says what is wrong is shown as any other */
document.addEventListener("htmx:beforeSwap", (event) => {
  if (event.detail.xhr.status === 422) { event.detail.shouldSwap = true; event.detail.isError = false; }
});
/* what was wrong when the form was sent goes once the answer to what is written no longer has it */
document.addEventListener("htmx:afterSwap", (event) => {
  const told = event.target.querySelector("[data-wrong]");
  if (!told) return;
  const wrong = told.dataset.wrong.split(" ");
  for (const one of document.querySelectorAll("main form [data-field]")) {
    if (wrong.includes(one.dataset.field) || event.target.contains(one)) continue;
    const field = one.closest(".wrong"), list = one.parentElement;
    one.remove();
    if (!list.children.length) list.remove();
    if (!field || field.querySelector("[data-field]")) continue;
    field.classList.remove("wrong");
    for (const input of field.querySelectorAll("[aria-invalid]")) input.removeAttribute("aria-invalid");
  }
});
/* a change that cannot be taken back is asked about; a form is sent once, until its page is shown again */
const sent = new Set();
document.addEventListener("submit", (event) => {
  const form = event.target, asked = form.dataset.ask;
  if (sent.has(form) || (asked && !window.confirm(asked))) event.preventDefault();
  if (event.defaultPrevented) return;
  sent.add(form);
  setTimeout(() => hold(form, true)); /* what the button says is sent with the form first */
  setTimeout(() => hold(form, false), 10000); /* the answer may have been a file, and the page still there */
});
addEventListener("pageshow", () => { for (const form of [...sent]) hold(form, false); });
function hold(form, held) {
  for (const one of form.elements) {
    if (one.type === "submit") one.disabled = held;
  }
  if (!held) sent.delete(form);
}
/* a choice fills in fields: <option data-fill='{"name": "value"}'> */
document.addEventListener("change", (event) => {
  const one = event.target.selectedOptions && event.target.selectedOptions[0];
  if (!one || !one.dataset.fill) return;
  for (const [name, value] of Object.entries(JSON.parse(one.dataset.fill))) {
    for (const field of event.target.form.elements) {
      if (field.name !== name) continue;
      field.value = value;
      field.dispatchEvent(new Event("input", { bubbles: true }));
    }
  }
});
/* a row more */
document.addEventListener("click", (event) => {
  const button = event.target.closest("[data-row]");
  if (!button) return;
  const rows = document.getElementById(button.dataset.row);
  const last = rows.lastElementChild;
  const fresh = last.cloneNode(true);
  const number = Number(last.dataset.number) + 1;
  fresh.dataset.number = number;
  for (const part of fresh.querySelectorAll("[name], [id], [for]")) {
    for (const key of ["name", "id", "for"]) {
      if (part.hasAttribute(key)) {
        part.setAttribute(key, part.getAttribute(key).replace(/([.-])\d+([.-])/, `$1${number}$2`));
      }
    }
    if ("value" in part && part.type !== "checkbox" && part.type !== "hidden") part.value = "";
    if (part.type === "checkbox") part.checked = false;
  }
  for (const problem of fresh.querySelectorAll(".problem")) problem.remove();
  rows.append(fresh);
  fresh.querySelector("input, select").focus();
});
/* a change that the page has to follow at once: the field's form is sent */
document.addEventListener("change", (event) => {
  if (event.target.dataset.send !== undefined) event.target.form.requestSubmit();
});
/* a table that is wider than its place can be moved with the keyboard too */
function reachable() {
  for (const room of document.querySelectorAll(".scroll, nav.steps, nav.main")) {
    if (room.scrollWidth > room.clientWidth + 1) room.tabIndex = 0;
    else room.removeAttribute("tabindex");
  }
}
addEventListener("resize", reachable);
document.addEventListener("htmx:afterSwap", reachable);
document.addEventListener("toggle", reachable, true);
reachable();
/* on a narrow screen the step one is at is moved into sight */
for (const bar of document.querySelectorAll("nav.steps, nav.main")) {
  const at = bar.querySelector("[aria-current]");
  if (at) bar.scrollLeft = at.offsetLeft - bar.offsetLeft - (bar.clientWidth - at.offsetWidth) / 2;
}
/* a kilt worth comparing becomes a wish */
document.addEventListener("click", (event) => {
  const button = event.target.closest("[data-pleats]");
  if (!button) return;
  const pleats = document.querySelector("[name='wishes.pleats']");
  if (button.dataset.style) {
    for (const one of document.querySelectorAll("input[type=checkbox][name='wishes.styles[]']")) one.checked = one.value === button.dataset.style;
  }
  pleats.value = button.dataset.pleats;
  pleats.dispatchEvent(new Event("change", { bubbles: true }));
  document.getElementById("main").scrollIntoView();
  pleats.focus({ preventScroll: true });
});
