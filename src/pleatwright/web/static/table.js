/* Table mode: one mark a screen.  It goes on with what it holds while the workshop's machine cannot be reached,
   and sends what was entered as soon as it can. */
import { figureParts, make, picture, small, stacked, written } from "./table.draw.js";
import { openFound, pads, whenFound } from "./table.found.js";
import { aloud, awake, look, settings, style } from "./table.hand.js";
import { capital, done, entered, fill, forgetOthers, here, hold, kept, mine, part, texts, wrongOf } from "./table.held.js";
import { connect, send } from "./table.line.js";

function show(focus = true) {
  const { step } = here;
  const rip = step.kind === "rip";
  part("main").className = step.kind;
  const same = here.held.steps.filter((one) => one.part === step.part);
  const name = here.held.parts.find((one) => one.key === step.part).name;
  part("progress").textContent = rip ? here.held.title
    : fill(texts.progress, { part: name, number: same.indexOf(step) + 1, of: same.length, mark: step.number });
  part("what").replaceChildren(rip ? name : step.kind === "reading" ? texts.read : heading(step, name));
  const figure = part("figure");
  figure.replaceChildren(...(rip ? [make("span", { class: step.go ? "verdict go" : "verdict" }, step.verdict)] : figureParts(step.figure)));
  figure.setAttribute("aria-label", rip ? step.verdict : written(step.figure));
  part("from").replaceChildren(...(rip ? [] : fromRepeat(step)));
  part("words").replaceChildren(...clauses(step.words));
  part("beside").replaceChildren(...(rip ? step.more.map((text) => make("span", { class: "alarm" }, text)) : beside(step)));
  buttons(step);
  tabs(step.part);
  fit(step);
  part("said").textContent = rip ? `${step.verdict}. ${step.words}` : step.say;
  if (focus) part("what").focus({ preventScroll: true });
  part("main").scrollTo(0, 0);
  kept.set(mine("at"), step.key);
  if (look.aloud) aloud();
}

/* where it lies; in smaller letters what else there is to know of it */
function clauses(words) {
  const [first, ...notes] = words.split("; ");
  return [...stacked(first), ...(notes.length ? [make("span", { class: "notes" }, ...stacked(capital(notes.join("; "))))] : [])];
}

/* what is marked; of what it is, where the part's name does not say so */
function heading(step, name) {
  return capital(step.group) === name ? capital(step.what) : `${capital(step.group)}: ${step.what}`;
}

function paint(step) {
  const room = part("picture");
  room.replaceChildren();
  const drawn = step.kind === "rip" ? null
    : picture(step, fill(texts.picture, { words: step.words }), room.clientWidth, Math.max(room.clientHeight, 130));
  if (drawn) room.append(drawn);
}

/* a wide figure leaves room for the picture; long words make the figure smaller, down to three quarters, then they
   become smaller themselves, down to two thirds; then "next" turns to the rest of them first */
function fit(step) {
  const main = part("main"), root = document.documentElement.style;
  const smaller = (name, from, least, fits) => {
    let size = from;
    for (root.setProperty(name, size); size > least && !fits(); root.setProperty(name, size)) size -= 0.03;
    return size;
  };
  part("picture").replaceChildren();
  root.setProperty("--fit", 1);
  const width = smaller("--figure-fit", 1, 0.4, () => main.scrollWidth <= main.clientWidth);
  const high = () => main.scrollHeight <= main.clientHeight;
  smaller("--figure-fit", width, Math.min(width, 0.75), high);
  smaller("--fit", 1, 0.67, high);
  paint(step);
}
addEventListener("resize", () => here.held && fit(here.step));

function fromRepeat(step) {
  if (step.kind === "reading") return [texts.fromEnd];
  if (step.across === null) return [];
  if (step.across) return [texts.up];
  if (!step.repeat) return [texts.fromEnd];
  const made = [fill(texts.repeat, step)];
  if (step.from) made.push(small(step.from));
  return made;
}

function beside(step) {
  const made = [], now = entered(step);
  if (now.chalked) {
    made.push(make("span", now.chalked.moved ? { class: "alarm" } : {}, now.chalked.moved ? texts.moved : texts.chalkedAt, " ", small(now.chalked.figure)));
  }
  if (now.found) {
    made.push(make("span", {}, texts.foundAt, " ", typeof now.found === "string" ? now.found : small(now.found)));
  }
  if (step.stripe && step.stripe.doubt) made.push(make("span", { class: "alarm" }, ...stacked(step.stripe.doubt)));
  const problem = wrongOf(step);
  if (problem) made.push(make("span", { class: "alarm" }, ...stacked(problem)));
  if (now.waits) made.push(make("span", {}, texts.waits));
  return made;
}

function buttons(step) {
  part("back").disabled = here.at === 0;
  part("next").disabled = here.at === here.held.steps.length - 1;
  part("found").disabled = !step.stripe;
  part("chalk").disabled = step.kind !== "mark";
  const chalked = step.kind === "mark" && Boolean(entered(step).chalked);
  part("chalk").setAttribute("aria-pressed", chalked);
}

function tabs(shown) {
  part("parts").replaceChildren(...here.held.parts.map((one) => {
    const steps = here.held.steps.filter((step) => step.part === one.key);
    const finished = one.key !== "rip" && steps.every(done);
    const button = make("button", { type: "button", ...(finished ? { class: "done" } : {}) }, one.name);
    if (one.key === shown) button.setAttribute("aria-current", "step");
    button.addEventListener("click", () => go(here.held.steps.indexOf(steps.find((step) => !done(step)) || steps[0])));
    return make("li", {}, button);
  }));
  const current = part("parts").querySelector("[aria-current]");
  if (current) current.scrollIntoView({ block: "nearest", inline: "center" });
}

/* whether there is more of this screen below, which is shown now */
function more() {
  const main = part("main"), rest = main.scrollHeight - main.clientHeight - main.scrollTop;
  if (rest > 4) main.scrollBy(0, main.clientHeight * 0.7);
  return rest > 4;
}

function go(to) {
  if (!here.held || to < 0 || to >= here.held.steps.length) return;
  here.at = to;
  show();
}

/* chalk and findings */
function enter(entry) {
  hold(entry);
  show(false);
  send();
}

function chalk() {
  const { step } = here;
  if (step.kind !== "mark") return;
  if (entered(step).chalked) {
    enter({ mark: step.key, chalked: "" });
  } else {
    enter({ mark: step.key, chalked: step.exact });
    go(here.at + 1);
  }
}

/* what the machine says takes the place of what was held */
function take(answer) {
  const first = here.held === null;
  const key = first ? kept.get(mine("at"), null) : here.step.key;
  here.held = answer;
  kept.set(mine("held"), answer);
  let place = answer.steps.findIndex((step) => step.key === key);
  if (place < 0) place = answer.steps.findIndex((step) => !done(step));
  here.at = Math.max(0, place);
  if (first) {
    forgetOthers();
    pads();
    style();
  }
  show(first);
}

const set = (change) => () => { change(); fit(here.step); };
const presses = {
  back: () => go(here.at - 1), next: () => more() || go(here.at + 1), chalk, found: openFound, aloud,
  cancel: () => part("entering").close(), close: () => part("settings").close(),
  more: () => { awake(); part("settings").showModal(); },
  ...Object.fromEntries(Object.entries(settings).map(([id, change]) => [id, set(change)])),
};
for (const [id, press] of Object.entries(presses)) part(id).addEventListener("click", () => here.held && press());

const keys = {
  ArrowRight: "next", ArrowDown: "next", PageDown: "next", ArrowLeft: "back", ArrowUp: "back", PageUp: "back",
  c: "chalk", f: "found", r: "aloud",
};
document.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.altKey || event.metaKey || document.querySelector("dialog[open]")) return;
  const press = keys[event.key.length === 1 ? event.key.toLowerCase() : event.key];
  if (!press || !here.held) return;
  event.preventDefault();
  if (!part(press).disabled) presses[press]();
});
document.addEventListener("visibilitychange", () => { if (document.visibilityState === "visible") awake(); });

/* the worker comes when everything was fetched already: it is told what to hold, so that the first visit is enough */
async function holdPage() {
  if (!window.isSecureContext || !("serviceWorker" in navigator)) return;
  await navigator.serviceWorker.register("/sw.js");
  const { active } = await navigator.serviceWorker.ready;
  const parts = performance.getEntriesByType("resource").map((one) => new URL(one.name).pathname);
  active.postMessage([location.pathname, ...parts]);
}
holdPage().catch(() => {});
awake();
whenFound(enter);
connect(take);
const before = kept.get(mine("held"), null);
if (before) take(before);
send();
