/* What table mode holds of one order: the marks, where one is, and what was entered and is not sent yet. */
export const order = document.body.dataset.order;
export const texts = document.getElementById("texts").dataset;
export const part = (id) => document.getElementById(id);
export const fill = (text, values) => text.replace(/\{(\w+)\}/g, (_, name) => values[name]);
export const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);

export const kept = {
  get(name, otherwise) {
    try {
      return JSON.parse(localStorage.getItem(`pleatwright-table-${name}`)) ?? otherwise;
    } catch {
      return otherwise;
    }
  },
  set(name, value) {
    try {
      localStorage.setItem(`pleatwright-table-${name}`, JSON.stringify(value));
    } catch {
      say(texts.noRoom, true);
    }
  },
};
export const mine = (name) => `${order}-${name}`;

export const here = {
  held: null, // what the machine last said of this order
  queue: kept.get(mine("queue"), []), // what was entered and not sent yet
  wrong: kept.get(mine("wrong"), {}), // what could not be followed, by the stripe or mark it is about
  at: 0, // the screen that is shown
  ahead: kept.get("ahead", 0), // milliseconds that the workshop's clock is ahead of this one
  get step() {
    return here.held.steps[here.at];
  },
};

export function say(words, alarm = false) {
  part("state").textContent = words;
  part("state").className = alarm ? "alarm" : "";
}

/* what was entered here counts at once, also before it is sent */
export function entered(step) {
  let chalked = step.chalked, found = step.stripe && step.stripe.found, waits = false;
  for (const one of here.queue) {
    if (one.mark === step.key && one.chalked !== undefined) {
      chalked = one.chalked ? { figure: step.figure, moved: false } : null;
      waits = true;
    }
    if (step.stripe && one.mark === step.stripe.key && one.text) {
      found = one.text;
      waits = true;
    }
  }
  return { chalked, found, waits };
}
export const done = (step) => Boolean(step.kind === "reading" ? entered(step).found : entered(step).chalked);
export const wrongOf = (step) => here.wrong[step.key] || (step.stripe && here.wrong[step.stripe.key]);

/* into the queue, with a name of its own and the moment by the workshop's clock: the later one counts, whichever
   is sent first */
export function hold(entry) {
  const bytes = crypto.getRandomValues(new Uint8Array(12));
  const key = Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
  delete here.wrong[entry.mark];
  here.queue.push({ key, at: Math.max(0, Date.now() + here.ahead), ...entry });
  kept.set(mine("queue"), here.queue);
}

/* one order is held; another one's marks only until they are sent */
export function forgetOthers() {
  for (const name of Object.keys(localStorage)) {
    const other = name.match(/^pleatwright-table-(\d+)-held$/);
    if (other && other[1] !== order && !kept.get(`${other[1]}-queue`, []).length) {
      for (const what of ["held", "queue", "wrong", "at"]) localStorage.removeItem(`pleatwright-table-${other[1]}-${what}`);
    }
  }
}
