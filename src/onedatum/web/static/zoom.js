// @ts-check
/** What hand and keys do on the picture of a log: drag over a part, wheel with Shift, arrows, plus and minus. */

const LEAST_PX = 6;
const WHEEL_STEP = 1.25;
const WHEEL_STILL_MS = 120;
const PER_MS = 1000;

/** @typedef {{left: number, right: number, fromMs: number, toMs: number, firstMs: number, lastMs: number, closestMs: number}} Plot */
/** @typedef {(fromMs: number, toMs: number, step: "push" | "replace" | "none") => void} Span */

/** Keys of the picture, by the door that each is. @type {Record<string, string>} */
const KEYS = { ArrowLeft: "earlier", ArrowRight: "later", "+": "closer", "=": "closer", "-": "wider", Home: "whole" };

/** @param {HTMLElement} part @returns {{sheet: HTMLElement, plot: Plot} | null} the picture, and where on the screen its times lie */
function place(part) {
  const figure = part.querySelector("[data-chart]");
  const sheet = part.querySelector("#chart-sheet");
  const svg = sheet?.querySelector("svg");
  if (!(figure instanceof HTMLElement) || !(sheet instanceof HTMLElement) || !svg) return null;
  const box = svg.getBoundingClientRect();
  /** @param {string} name @returns {number} */
  const number = (name) => Number(figure.dataset[name]);
  const scale = box.width / number("wide");
  const plot = {
    left: box.left + number("left") * scale,
    right: box.left + number("right") * scale,
    fromMs: number("from") / PER_MS,
    toMs: number("to") / PER_MS,
    firstMs: number("first") / PER_MS,
    lastMs: number("last") / PER_MS,
    closestMs: number("closest") / PER_MS,
  };
  return { sheet, plot };
}

/** @param {Plot} plot @param {number} x @returns {number} the time at a place of the screen, within the picture */
export function timeAt(plot, x) {
  const share = (Math.min(Math.max(x, plot.left), plot.right) - plot.left) / (plot.right - plot.left);
  return plot.fromMs + share * (plot.toMs - plot.fromMs);
}

/**
 * The span that is `times` as long, with the time under the hand where it is.
 * @param {Plot} plot @param {number} x @param {number} times @returns {[number, number]}
 */
export function scaled(plot, x, times) {
  const held = timeAt(plot, x);
  const whole = plot.lastMs - plot.firstMs;
  const long = Math.min(Math.max((plot.toMs - plot.fromMs) * times, Math.min(plot.closestMs, whole)), whole);
  const share = (held - plot.fromMs) / (plot.toMs - plot.fromMs);
  const from = Math.min(Math.max(held - share * long, plot.firstMs), plot.lastMs - long);
  return [from, from + long];
}

/**
 * Bind hand and keys to the picture in `part`, which may be put in place anew at any time.
 * @param {HTMLElement} part @param {Span} span what shows a span @param {(name: string) => void} door what opens a door
 * @returns {void}
 */
export function bindGestures(part, span, door) {
  bindDrag(part, span);
  bindWheel(part, span);
  part.addEventListener("keydown", (event) => {
    const name = KEYS[event.key];
    if (!name || event.ctrlKey || event.metaKey || event.altKey) return;
    if (!(event.target instanceof HTMLElement) || event.target.id !== "chart-sheet") return;
    event.preventDefault();
    door(name);
  });
}

/** @param {HTMLElement} part @param {Span} span @returns {void} */
function bindDrag(part, span) {
  /** @type {{plot: Plot, sheet: HTMLElement, start: number, now: number, mark: HTMLElement | null, pointer: number} | null} */
  let drag = null;
  const end = () => {
    drag?.mark?.remove();
    drag = null;
  };
  part.addEventListener("pointerdown", (event) => {
    const target = event.target instanceof Element ? event.target : null;
    const found = place(part);
    if (!found || event.button !== 0 || !target?.closest("#chart-sheet") || target.closest("a")) return;
    drag = { ...found, start: event.clientX, now: event.clientX, mark: null, pointer: event.pointerId };
  });
  document.addEventListener("pointermove", (event) => {
    if (!drag || event.pointerId !== drag.pointer) return;
    drag.now = event.clientX;
    if (Math.abs(drag.now - drag.start) < LEAST_PX && !drag.mark) return;
    draw(drag);
    event.preventDefault();
  });
  document.addEventListener("pointerup", (event) => {
    if (!drag || event.pointerId !== drag.pointer) return;
    const { plot, start, now, mark } = drag;
    end();
    if (mark) span(timeAt(plot, Math.min(start, now)), timeAt(plot, Math.max(start, now)), "push");
  });
  document.addEventListener("pointercancel", end);
  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape") end();
  });
}

/** @param {{plot: Plot, sheet: HTMLElement, start: number, now: number, mark: HTMLElement | null}} drag @returns {void} */
function draw(drag) {
  if (!drag.mark) {
    drag.mark = document.createElement("div");
    drag.mark.className = "chart-drag";
    drag.sheet.append(drag.mark);
  }
  const box = drag.sheet.getBoundingClientRect();
  const [low, high] = [Math.min(drag.start, drag.now), Math.max(drag.start, drag.now)];
  const left = Math.max(low, drag.plot.left);
  drag.mark.style.left = `${left - box.left + drag.sheet.scrollLeft}px`;
  drag.mark.style.width = `${Math.max(Math.min(high, drag.plot.right) - left, 0)}px`;
}

/** @param {HTMLElement} part @param {Span} span @returns {void} */
function bindWheel(part, span) {
  let times = 1;
  let later = 0;
  part.addEventListener(
    "wheel",
    (event) => {
      const target = event.target instanceof Element ? event.target : null;
      const turn = event.deltaY || event.deltaX; // with Shift some browsers tell it as a turn to the side
      if (!event.shiftKey || !turn || !target?.closest("#chart-sheet")) return;
      event.preventDefault();
      times *= turn > 0 ? WHEEL_STEP : 1 / WHEEL_STEP;
      clearTimeout(later);
      later = window.setTimeout(() => {
        const found = place(part);
        const by = times;
        times = 1;
        if (found) span(...scaled(found.plot, event.clientX, by), "push");
      }, WHEEL_STILL_MS);
    },
    { passive: false },
  );
}
