/* Entering what the tape says: digits and fractions under the thumb, echoed as a figure. */
import { figureParts, make, small } from "./table.draw.js";
import { capital, fill, here, part, texts } from "./table.held.js";

export function openFound() {
  const { stripe } = here.step;
  if (!stripe) return;
  part("entering-stripe").replaceChildren(capital(stripe.name), ". ", texts.planned, " ", small(stripe.planned));
  part("typed").value = "";
  part("stands").checked = false;
  part("no-length").textContent = "";
  echo();
  part("entering").showModal();
  part("typed").focus();
}

function echo() {
  const [, whole = "", top = "", bottom = ""] = part("typed").value.trim().match(/^(\d+)?(?:\s*(\d+)\/(\d+))?$/) || [];
  const unit = here.held.units === "metric" ? "mm" : "″";
  part("shown").replaceChildren(...(whole || top ? figureParts({ whole, top, bottom, unit }) : []));
}
part("typed").addEventListener("input", () => here.held && echo());

export function pads() {
  const typed = part("typed"), { grid } = here.held;
  const key = (words, change, label) => {
    const button = make("button", { type: "button", ...(label ? { "aria-label": label } : {}) }, words);
    button.addEventListener("click", () => { typed.value = change(typed.value); echo(); });
    return button;
  };
  const digits = [..."1234567890"].map((digit) => key(digit, (now) => {
    const [whole, ...rest] = now.split(" ");
    return [whole + digit, ...rest].join(" ").trim();
  }));
  part("pad").replaceChildren(...digits, key("⌫", (now) => (now.includes(" ") ? now.split(" ")[0] : now.slice(0, -1)), texts.rubOut));
  const parts = [];
  for (let top = 1; grid > 1 && top < grid; top += 1) {
    let [up, down] = [top, grid];
    while (up % 2 === 0) [up, down] = [up / 2, down / 2];
    const face = figureParts({ whole: "", top: String(up), bottom: String(down), unit: "" });
    parts.push(key(face[0], (now) => `${now.split(" ")[0].replace(/^\d+\/\d+$/, "")} ${up}/${down}`.trim(), `${up}/${down}`));
  }
  part("fractions").replaceChildren(...parts);
}

/* figures, and units where there are any; the machine reads them; what is no length stays on the pad */
const LENGTH = /^(?=.*[\d¼½¾⅛⅜⅝⅞])([\d\s.,/'"″′”’¼½¾⅛⅜⅝⅞-]|ins?\b|inch(es)?|[cm]?m\b|yds?|yards?|ft|feet|foot)+$/i;

export function whenFound(enter) {
  part("entry").addEventListener("submit", (event) => {
    let text = part("typed").value.trim();
    if (!text) return;
    const metric = here.held.units === "metric";
    if (!LENGTH.test(text)) {
      event.preventDefault();
      part("no-length").textContent = fill(texts.noLength, { text, like: metric ? "1016 mm" : "40 1/2" });
      part("typed").focus();
      return;
    }
    if (metric && /^\d+([.,]\d+)?$/.test(text)) text += " mm";
    enter({ mark: here.step.stripe.key, text, stands: part("stands").checked });
  });
}
