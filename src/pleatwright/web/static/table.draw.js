/* What one screen of table mode shows: figures with stacked fractions, the stripes with the mark on them. */
const SVG = "http://www.w3.org/2000/svg";

/** An element with attributes and children; text is never markup. */
export function make(name, attributes = {}, ...children) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...children);
  return made;
}

function draw(name, attributes, text) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  if (text !== undefined) made.textContent = text;
  return made;
}

function stack(top, bottom) {
  return make("span", { class: "stack" }, make("span", { class: "over" }, top), make("span", { class: "under" }, bottom));
}

/** A figure's parts: whole number, stacked fraction, sign of the unit. */
export function figureParts(figure) {
  const parts = [];
  if (figure.sign) parts.push(make("span", { class: "sign" }, figure.sign));
  if (figure.whole) parts.push(make("span", { class: "whole" }, figure.whole));
  if (figure.top) parts.push(stack(figure.top, figure.bottom));
  parts.push(make("span", { class: figure.unit === "mm" ? "unit mm" : "unit" }, figure.unit));
  return parts;
}

/** A figure as it is written on a line: 19 11/16″. */
export function written(figure) {
  const fraction = figure.top ? `${figure.top}/${figure.bottom}` : "";
  const number = [figure.whole, fraction].filter(Boolean).join(" ");
  return `${figure.sign || ""}${number}${figure.unit === "mm" ? " mm" : figure.unit}`;
}

/** A small figure within a line of words. */
export function small(figure) {
  return make("span", { class: "small", role: "img", "aria-label": written(figure) }, ...figureParts(figure));
}

/** Words in which every fraction is stacked. */
export function stacked(words) {
  const made = [];
  let at = 0;
  for (const found of words.matchAll(/(?:(\d+) )?(\d+)\/(\d+)"|(\d+)"/g)) {
    made.push(words.slice(at, found.index));
    const [text, whole, top, bottom, inches] = found;
    made.push(small({ whole: whole || inches || "", top: top || "", bottom: bottom || "", unit: "″" }));
    at = found.index + text.length;
  }
  made.push(words.slice(at));
  return made;
}

const MARGIN = 4; // pixels
const ROW = 1.2, ROWS = 4; // of names: height in sizes, and how many at most

/** The stripe a mark is measured from with its neighbours, and the mark on it, as large as there is room for
    (pixels); null on plain cloth. */
export function picture(step, label, wide, high) {
  if (!step.stripes || !step.stripes.length) return null;
  const start = Math.min(0, ...step.stripes.map((one) => one.start));
  const end = Math.max(0, ...step.stripes.map((one) => one.end));
  const size = Math.max(14, Math.min(high / Math.max(9, step.stripes.length * ROW), wide / 18));
  const made = draw("svg", { viewBox: `0 0 ${wide} ${high}`, width: wide, height: high, role: "img", "aria-label": label });
  made.append(...(step.across ? upward : along)(step, start, end, wide, high, size));
  for (const text of made.querySelectorAll("text")) text.setAttribute("font-size", size);
  return made;
}

/** Where the stripes' names stand: below their stripes, each in the first row that has room for it. */
function below(stripes, place, size, wide) {
  const ends = [];
  return stripes.flatMap(({ start, end, word }) => {
    const middle = (place(start) + place(end)) / 2, half = word.length * size * 0.34;
    const x = Math.max(half, Math.min(wide - half, middle));
    const free = ends.findIndex((one) => one < x - half), row = free < 0 ? ends.length : free;
    if (row === ROWS) return [];
    ends[row] = x + half + size * 0.3;
    return [{ word, x, middle, row }];
  });
}

/** Heights for names that want to stand at these, downward, none nearer to the next than the gap. */
function apart(wanted, gap, low, high) {
  const made = [];
  for (const at of wanted) made.push(Math.max(at, made.length ? made.at(-1) + gap : low));
  for (let one = made.length - 1, most = high; one >= 0; one -= 1) {
    made[one] = Math.min(made[one], most);
    most = made[one] - gap;
  }
  return made;
}

function along(step, start, end, wide, high, size) {
  const scale = (wide - 2 * MARGIN) / (end - start);
  const place = (inches) => MARGIN + (inches - start) * scale;
  const names = below(step.stripes, place, size, wide), rows = 1 + Math.max(...names.map((one) => one.row));
  const top = size * 2.3, tall = high - top - size * (0.5 + ROW * rows), bottom = top + tall, parts = [];
  for (const stripe of step.stripes) {
    const x = place(stripe.start), width = place(stripe.end) - x;
    parts.push(draw("rect", { x, y: top, width, height: tall, fill: stripe.colour }));
  }
  for (const { middle, row } of names) {
    if (row) parts.push(draw("line", { class: "lead", x1: middle, x2: middle, y1: bottom, y2: bottom + size * (ROW * row + 0.4) }));
  }
  for (const { word, x, row } of names) {
    const y = bottom + size * ROW * (row + 1);
    parts.push(draw("text", { x, y, "text-anchor": "middle" }, word));
  }
  const first = place(step.stripes[0].start), last = place(step.stripes.at(-1).end), x = place(0);
  parts.push(draw("rect", { class: "edge", x: first, y: top, width: last - first, height: tall }));
  for (const name of ["line-back", "line"]) parts.push(draw("line", { class: name, x1: x, x2: x, y1: top - 6, y2: bottom }));
  parts.push(draw("path", { class: "arrow", d: `M${x} ${top - 4} l${-size} ${-size * 2} h${size * 2} z` }));
  return parts;
}

function upward(step, start, end, wide, high, size) {
  const scale = (high - 2 * MARGIN) / (end - start);
  const place = (inches) => high - MARGIN - (inches - start) * scale;
  const left = size * 2.3, room = Math.max(40, Math.min(wide * 0.6, wide - left - size * 9.5)), parts = [];
  const downward = [...step.stripes].reverse();
  const middles = downward.map((stripe) => (place(stripe.start) + place(stripe.end)) / 2);
  const names = apart(middles, size * ROW, size * 0.6, high - size * 0.6);
  downward.forEach((stripe, one) => {
    const y = place(stripe.end), beside = left + room;
    parts.push(draw("rect", { x: left, y, width: room, height: place(stripe.start) - y, fill: stripe.colour }));
    parts.push(draw("line", { class: "lead", x1: beside, x2: beside + size * 0.9, y1: middles[one], y2: names[one] }));
    parts.push(draw("text", { x: beside + size * 1.1, y: names[one] + size * 0.35 }, stripe.word));
  });
  const top = place(step.stripes.at(-1).end), bottom = place(step.stripes[0].start), y = place(0);
  parts.push(draw("rect", { class: "edge", x: left, y: top, width: room, height: bottom - top }));
  for (const name of ["line-back", "line"]) parts.push(draw("line", { class: name, y1: y, y2: y, x1: left - 6, x2: left + room }));
  parts.push(draw("path", { class: "arrow", d: `M${left - 4} ${y} l${-size * 2} ${-size} v${size * 2} z` }));
  return parts;
}
