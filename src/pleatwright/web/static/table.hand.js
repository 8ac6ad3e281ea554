/* How the table is held: in which hand, how large, read aloud or not, the screen kept on. */
import { fill, here, kept, part, say, texts } from "./table.held.js";

export let look = kept.get("look", {});

export function style() {
  const { held } = here;
  document.body.classList.toggle("left", look.hand ? look.hand === "left" : held.hand === "left");
  document.body.classList.toggle("metric", held.units === "metric");
  if (look.scale) document.documentElement.style.setProperty("--scale", look.scale);
  part("rule-words").textContent = fill(texts.rule, { length: held.units === "metric" ? "50 mm" : "2″" });
  part("hand").setAttribute("aria-pressed", document.body.classList.contains("left"));
  part("always").setAttribute("aria-pressed", Boolean(look.aloud));
}

function change(what) {
  look = { ...look, ...what };
  kept.set("look", look);
  style();
}

function scaled(by) {
  const now = parseFloat(getComputedStyle(document.documentElement).getPropertyValue("--scale"));
  change({ scale: Math.min(2.4, Math.max(0.6, Math.round((now + by) * 40) / 40)) });
}

export const settings = {
  hand: () => change({ hand: document.body.classList.contains("left") ? "right" : "left" }),
  always: () => change({ aloud: !look.aloud }),
  smaller: () => scaled(-0.025), larger: () => scaled(0.025),
};

export function aloud() {
  if (!("speechSynthesis" in window)) return say(texts.noVoice, true);
  const { step } = here;
  speechSynthesis.cancel();
  const words = new SpeechSynthesisUtterance(step.kind === "rip" ? `${step.verdict}. ${step.words}` : step.say);
  words.lang = document.documentElement.lang;
  words.rate = 0.9;
  speechSynthesis.speak(words);
  return undefined;
}

/* the screen stays on where the browser allows it */
let lock = null;
export async function awake() {
  if (!("wakeLock" in navigator)) {
    part("awake").textContent = window.isSecureContext ? texts.asleep : texts.asleepLan;
    return;
  }
  try {
    lock = lock && !lock.released ? lock : await navigator.wakeLock.request("screen");
    part("awake").textContent = texts.awake;
  } catch {
    part("awake").textContent = texts.asleep;
  }
}
