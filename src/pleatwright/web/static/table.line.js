/* The line to the workshop's machine: what was entered is sent as soon as it can be reached. */
import { fill, here, kept, mine, order, say, texts } from "./table.held.js";

const AGAIN = 4000; // milliseconds from one try to the next
const MOST = 400; // entries sent at once
const csrf = document.querySelector("meta[name=csrf]").content;
let sending = false;
let reached = null; // whether the machine answered last time
let take = () => {}; // hears what it says
let least = -Infinity, most = Infinity; // milliseconds that the workshop's clock may be ahead of this one

async function ask(path, body) {
  const answer = await fetch(`/orders/${order}/table/${path}`, {
    method: body ? "POST" : "GET",
    headers: { accept: "application/json", ...(body ? { "content-type": "application/json", "x-csrf": csrf } : {}) },
    body: body && JSON.stringify(body),
    redirect: "error",
    signal: AbortSignal.timeout(15000),
  });
  if (!answer.ok) throw Object.assign(new Error("refused"), { status: answer.status, body: await answer.json().catch(() => null) });
  return answer.json();
}

const inWords = (problem) => `${problem.seen} ${problem.allowed}: ${problem.fix}`;

/* the machine told its clock some time between being asked and being heard: what every answer leaves possible */
function setClock(now, asked, heard) {
  least = Math.max(least, now - heard);
  most = Math.min(most, now - asked);
  if (least > most) [least, most] = [now - heard, now - asked]; // one of the clocks was set
  here.ahead = Math.round((least + most) / 2);
  kept.set("ahead", here.ahead);
}

/* what was sent is out of the queue, and what could not be followed of it is told */
function settled(sent, answer) {
  const problems = answer.problems || [];
  here.queue = here.queue.slice(sent.length);
  for (const one of sent) delete here.wrong[one.mark];
  for (const one of problems) here.wrong[one.mark] = inWords(one);
  kept.set(mine("queue"), here.queue);
  kept.set(mine("wrong"), here.wrong);
  take(answer);
  const { step } = here; // what is wrong there, its own screen says
  const other = problems.find((one) => one.mark !== step.key && !(step.stripe && one.mark === step.stripe.key));
  const good = sent.length ? texts.sent : texts.reached;
  say(other ? inWords(other) : problems.length ? "" : good, Boolean(other));
}

function failed(error) {
  if (error.status) {
    const first = error.body && error.body.problems && error.body.problems[0];
    say(first && error.status !== 403 ? inWords(first) : texts.refused, true);
  } else {
    say(here.queue.length ? fill(texts.queued, { count: here.queue.length }) : texts.unreached, true);
  }
}

export async function send() {
  if (sending) return;
  sending = true;
  const sent = here.queue.slice(0, MOST);
  const asked = Date.now();
  try {
    const answer = sent.length ? await ask("entries", { entries: sent }) : await ask("marks");
    setClock(answer.now, asked, Date.now());
    reached = true;
    settled(sent, answer);
  } catch (error) {
    reached = false;
    failed(error);
  }
  sending = false;
  if (reached && here.queue.length) send();
}

export function connect(listener) {
  take = listener;
  document.addEventListener("visibilitychange", () => { if (document.visibilityState === "visible") send(); });
  addEventListener("online", send);
  setInterval(() => { if (reached === false || here.queue.length) send(); }, AGAIN);
}
