// @ts-check
/**
 * The level line over the ruler: dragged, stepped by keys, sent to marks; moving it only rewrites readouts.
 *
 * It tells of itself by the event "level" on the document (detail: level_m, text). Readouts and marks are links to the
 * workings of their numbers.
 * Nothing here is animated, so there is no motion to reduce.
 */
import { bindField, levelText } from "./level.js";
import { cell, decimal, read, readout, spoken } from "./scales.js";

/** @typedef {import("./level.js").See} See */
/** @typedef {import("./level.js").Geometry} Geometry */

const FINE = 1e-4;
const STEPS = { ArrowUp: 1e-3, ArrowDown: -1e-3, PageUp: 0.1, PageDown: -0.1 };
const TENFOLD = 10;
const DRAGGED_PX = 3;
const CLEAR_PX = 7;

/** @type {See} */
let see = { scales: [], units: {}, marks: [], geometry: null, span_m: null, reach_m: null, level_m: null };
let level_m = 0;
/** @type {{text: SVGTextElement, y: number}[]} */
let giveWay = [];
/** @type {number | null} */
let kept = null;
/** The level that the last drawing came with: a new one, as of an edit of the case, goes before what was chosen.
 * @type {number | null} */
let told_m = null;

/** @param {string} id */
const part = (id) => /** @type {HTMLElement | null} */ (document.getElementById(id));
const drawing = () => /** @type {SVGSVGElement | null} */ (document.querySelector("#ruler svg"));

/** Px on the screen of one px of the drawing. */
function zoom() {
  const svg = drawing();
  const g = see.geometry;
  return svg && g ? svg.getBoundingClientRect().width / g.width_px || 1 : 1;
}

/**
 * Where a height lies in the drawing.
 * @param {Geometry} g
 * @param {number} height_m
 */
const yOf = (g, height_m) => Math.min(g.top_px + (g.high_m - height_m) * g.px_per_m, g.bottom_px);

/** Take up drawing and tables; the level that the reader chose stays. */
export function mount() {
  const data = part("see-data");
  if (!data) return;
  see = JSON.parse(data.textContent || "null");
  const span = see.span_m;
  if (!span) return;
  if (see.level_m !== told_m) kept = null;
  told_m = see.level_m;
  level_m = kept ?? see.level_m ?? (span[0] + span[1]) / 2;
  for (const node of document.querySelectorAll("#ruler .readouts")) node.setAttribute("display", "none");
  giveWay = [...document.querySelectorAll("#ruler .gives-way text")].map((node) => ({
    text: /** @type {SVGTextElement} */ (node),
    y: Number(node.getAttribute("y")) - 4,
  }));
  for (const id of ["ruler-grip", "ruler-band"]) {
    const node = part(id);
    if (node) node.hidden = !see.geometry;
  }
  build();
  bindField(() => see, (to) => set(to));
  bindRuler();
  set(level_m, true);
}

/** The readouts on the band, and a place to press over the words of every mark. */
function build() {
  const band = part("ruler-band");
  const ruler = part("ruler");
  const g = see.geometry;
  if (!band || !ruler || !g) return;
  band.replaceChildren();
  for (const old of ruler.querySelectorAll(".ruler-mark")) old.remove();
  const k = zoom();
  for (const lane of g.lanes) {
    const scale = see.scales.find((each) => each.key === lane.key);
    if (!scale) continue;
    const door = document.createElement(scale.entry ? "a" : "span");
    door.className = "readout";
    door.dataset.scale = lane.key;
    lead(door, scale.entry);
    if (lane.side < 0) door.style.right = `${(g.right_px - lane.spine_px + 4) * k}px`;
    else door.style.left = `${(lane.spine_px - g.scales_px + 4) * k}px`;
    band.append(door);
  }
  for (const spine of new Set(g.lanes.map((lane) => lane.spine_px))) {
    const line = document.createElement("i");
    line.style.left = `${(spine - g.scales_px) * k}px`;
    band.append(line);
  }
  for (const label of g.labels) {
    const mark = see.marks.find((each) => each.label === label.label && each.height_m === label.height_m);
    if (!mark) continue;
    const words = document.createElement(mark.entry ? "a" : "span");
    words.className = "ruler-mark";
    words.tabIndex = -1;
    words.title = `Level line to ${mark.name}`;
    lead(words, mark.entry);
    Object.assign(words.style, {
      left: `${(label.left_px - 3) * k}px`,
      width: `${(label.right_px - label.left_px + 6) * k}px`,
      top: `${(label.words_px - 7.5) * k}px`,
      height: `${15 * k}px`,
    });
    words.addEventListener("click", () => set(mark.height_m));
    ruler.append(words);
  }
}

/**
 * Make a link lead to the working of its entry; what has none leads nowhere.
 * @param {HTMLElement} link
 * @param {string} entry
 */
function lead(link, entry) {
  if (!(link instanceof HTMLAnchorElement)) return;
  link.classList.add("number");
  link.href = `?work=${encodeURIComponent(entry)}`;
  link.dataset.entry = entry;
  link.draggable = false;
}

/**
 * Move the line; between marks it rests on tenths of a millimetre.
 * @param {number} to_m
 * @param {boolean} [quiet] whether nobody is told
 */
export function set(to_m, quiet = false) {
  const span = see.span_m;
  if (!span || !Number.isFinite(to_m)) return;
  level_m = Math.min(Math.max(to_m, span[0]), span[1]);
  if (!quiet) kept = level_m;
  if (see.geometry) move(see.geometry);
  tell();
  if (!quiet) document.dispatchEvent(new CustomEvent("level", { detail: { level_m, text: levelText(level_m) } }));
}

/**
 * Everything of the drawing that follows the level.
 * @param {Geometry} g
 */
function move(g) {
  const y = yOf(g, level_m);
  place("moves-liquid", 0, y);
  place("moves-line", 0, y);
  if (g.float_) place("moves-float", g.float_.x_px, yOf(g, Math.max(level_m - g.float_.immersion_m, g.float_.tip_m)));
  const above = y - g.band_px >= g.top_px - 2;
  const top = above ? y - g.band_px : y;
  const foot = top + g.band_px;
  for (const { text, y: at } of giveWay) {
    text.setAttribute("visibility", at > top - CLEAR_PX && at < foot + CLEAR_PX ? "hidden" : "visible");
  }
  const half = y > (g.top_px + g.bottom_px) / 2 ? 0.27 : 0.73;
  for (const node of document.querySelectorAll("#ruler .asks text")) {
    const x = /translate\(([\d.-]+)/.exec(node.getAttribute("transform") || "")?.[1];
    const middle = g.top_px + (g.bottom_px - g.top_px) * half;
    if (x) node.setAttribute("transform", `translate(${x} ${middle}) rotate(-90)`);
  }
  const k = zoom();
  const band = part("ruler-band");
  const grip = part("ruler-grip");
  if (!band || !grip) return;
  Object.assign(band.style, {
    left: `${g.scales_px * k}px`,
    width: `${(g.right_px - g.scales_px) * k}px`,
    top: `${top * k}px`,
    height: `${g.band_px * k}px`,
    fontSize: `${g.readout_px * k}px`,
  });
  Object.assign(grip.style, { left: `${g.right_px * k}px`, top: `${(top + g.band_px / 2) * k}px` });
  for (const node of band.querySelectorAll(".readout")) {
    const scale = see.scales.find((each) => each.key === /** @type {HTMLElement} */ (node).dataset.scale);
    const lane = g.lanes.find((each) => each.key === scale?.key);
    if (!scale || !lane) continue;
    const text = readout({ ...scale, decimals: lane.decimals }, level_m);
    node.textContent = text;
    if (scale.entry) node.setAttribute("aria-label", `${spoken(scale, level_m)}, show working`);
  }
}

/**
 * @param {string} name
 * @param {number} x
 * @param {number} y
 */
function place(name, x, y) {
  document.querySelector(`#ruler .${name}`)?.setAttribute("transform", `translate(${x} ${y})`);
}

/** Field, slider and table say the same as the drawing. */
function tell() {
  const grip = part("ruler-grip");
  const reach = see.reach_m;
  if (grip && see.span_m) {
    const mm = (/** @type {number} */ m) => String(Math.round(m * 1e4) / 10);
    grip.setAttribute("aria-valuemin", mm(see.span_m[0]));
    grip.setAttribute("aria-valuemax", mm(see.span_m[1]));
    grip.setAttribute("aria-valuenow", mm(level_m));
    const outside = reach && (level_m < reach[0] || level_m > reach[1]) ? ["not measurable here"] : [];
    grip.setAttribute("aria-valuetext", [...outside, ...see.scales.map((each) => spoken(each, level_m))].join(", "));
  }
  const field = /** @type {HTMLInputElement | null} */ (part("see-level"));
  if (field && document.activeElement !== field) {
    field.value = levelText(level_m);
    if (field.getAttribute("aria-invalid")) part("see-said")?.replaceChildren();
    field.removeAttribute("aria-invalid");
  }
  const row = document.querySelector("#see-table tr.is-level");
  if (!row) return;
  for (const node of row.querySelectorAll("td")) {
    const scale = see.scales.find((each) => each.key === node.dataset.scale);
    if (!scale) continue;
    const height = !scale.entry && read(scale, level_m) !== null;
    node.textContent = height ? decimal(read(scale, level_m) ?? 0, scale.decimals) : cell(scale, level_m);
  }
  const others = [...document.querySelectorAll("#see-table tbody tr:not(.is-level)")];
  const below = others[see.marks.findIndex((mark) => mark.height_m < level_m)] ?? null;
  if (row.nextElementSibling !== below) row.parentElement?.insertBefore(row, below);
}

/** Drag with mouse or pen from anywhere, by finger from the grip alone, so that the page still scrolls. */
function bindRuler() {
  const ruler = part("ruler");
  const grip = part("ruler-grip");
  if (!ruler || !grip || ruler.dataset.bound) return;
  ruler.dataset.bound = "yes";
  /** @type {{id: number, from: number, offset: number, moved: boolean} | null} */
  let drag = null;
  const heightAt = (/** @type {PointerEvent} */ event, /** @type {number} */ offset) => {
    const g = see.geometry;
    const svg = drawing();
    if (!g || !svg) return level_m;
    const y = (event.clientY - svg.getBoundingClientRect().top) / zoom() - offset;
    const to = g.high_m - (y - g.top_px) / g.px_per_m;
    const step = event.shiftKey ? FINE : TENFOLD * FINE;
    return Math.round(to / step) * step;
  };
  ruler.addEventListener("pointerdown", (event) => {
    const target = /** @type {Element} */ (event.target);
    const g = see.geometry;
    const svg = drawing();
    if (!g || !svg || event.button !== 0 || target.closest(".ruler-mark")) return;
    const held = target.closest("#ruler-grip, #ruler-band") !== null;
    if (event.pointerType === "touch" && !target.closest("#ruler-grip")) return;
    const y = (event.clientY - svg.getBoundingClientRect().top) / zoom();
    drag = { id: event.pointerId, from: event.clientY, offset: held ? y - yOf(g, level_m) : 0, moved: false };
    if (!held) set(heightAt(event, 0));
    if (!target.closest("a")) event.preventDefault();
    grip.focus({ preventScroll: true });
  });
  ruler.addEventListener("pointermove", (event) => {
    if (!drag || drag.id !== event.pointerId) return;
    if (!drag.moved && Math.abs(event.clientY - drag.from) < DRAGGED_PX) return;
    if (!drag.moved) ruler.setPointerCapture(event.pointerId);
    drag.moved = true;
    set(heightAt(event, drag.offset));
  });
  for (const name of ["pointerup", "pointercancel"]) {
    ruler.addEventListener(name, () => {
      drag = null;
    });
  }
  grip.addEventListener("keydown", onKey);
}

/** @param {KeyboardEvent} event */
function onKey(event) {
  if (event.ctrlKey || event.metaKey) return;
  const reach = see.reach_m ?? see.span_m;
  if (!reach) return;
  const step = STEPS[/** @type {keyof typeof STEPS} */ (event.key)];
  if (event.altKey && (event.key === "ArrowUp" || event.key === "ArrowDown")) toMark(event.key === "ArrowUp");
  else if (event.key === "Home") set(reach[0]);
  else if (event.key === "End") set(reach[1]);
  else if (step !== undefined && !event.altKey) {
    const times = event.shiftKey && Math.abs(step) < 0.01 ? TENFOLD : 1;
    set(Math.round((level_m + step * times) / FINE) * FINE);
  } else return;
  event.preventDefault();
}

/** @param {boolean} up */
function toMark(up) {
  const ways = see.marks.map((mark) => mark.height_m).filter((h) => (up ? h > level_m + FINE : h < level_m - FINE));
  if (ways.length) set(up ? Math.min(...ways) : Math.max(...ways));
}
