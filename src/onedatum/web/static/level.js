// @ts-check
/**
 * The level from whatever is known: a reading on any scale, or the name of a mark. The server does the same with the
 * same tables where there is no JavaScript (jobs/page/level.py); the sentences are the same too.
 */
import { decimal, solve } from "./scales.js";

/** @typedef {import("./scales.js").Scale} Scale */
/** @typedef {{name: string, label: string, height_m: number, entry: string, blocks: boolean, assumed: boolean}} Mark */
/**
 * @typedef {{key: string, decimals: number, spine_px: number, side: number, left_px: number, width_px: number}} Lane
 * @typedef {{label: string, height_m: number, left_px: number, right_px: number, words_px: number}} Label
 * @typedef {{width_px: number, height_px: number, top_px: number, bottom_px: number, high_m: number, px_per_m: number,
 *   scales_px: number, right_px: number, band_px: number, readout_px: number, lanes: Lane[], labels: Label[],
 *   float_: {x_px: number, immersion_m: number, tip_m: number} | null}} Geometry
 * @typedef {{scales: Scale[], units: Record<string, [string, number]>, marks: Mark[], geometry: Geometry | null,
 *   span_m: [number, number] | null, reach_m: [number, number] | null, level_m: number | null}} See
 */

const ALLOWED = 'a reading on a scale or the name of a mark, for example "1850 mm", "14.37 mA" or "HH"';
const LONGEST = 60;
const READING = /^([+-]?(?:\d+\.?\d*|\.\d+))\s*(\D.*)$/;

/**
 * @template T
 * @param {T[]} found
 * @returns {T | null}
 */
function only(found) {
  return found.length === 1 ? found[0] : null;
}

/**
 * The level that a text stands for, or the sentence that says why it stands for none.
 * @param {string} text
 * @param {See} see
 * @returns {{level_m: number, said: string} | {fault: string}}
 */
export function levelOf(text, see) {
  const typed = text.replaceAll("−", "-").trim().split(/\s+/).join(" ").slice(0, LONGEST);
  const mark = markOf(typed, see.marks);
  if (mark) return { level_m: mark.height_m, said: mark.name };
  const reading = READING.exec(typed);
  if (!reading)
    return fault(typed, "it is neither a number, with a point as decimal sign and a unit, nor a mark of this case");
  const unit = reading[2].trim();
  const lower = unit.toLowerCase();
  const alike = Object.keys(see.units).filter((name) => name.toLowerCase() === lower);
  const known = Object.hasOwn(see.units, unit) ? see.units[unit] : only(alike.map((name) => see.units[name]));
  if (!known) return fault(typed, `no scale here is read in ${unit}`);
  const scale = see.scales.find((each) => each.key === known[0]);
  if (!scale) return fault(typed, `no scale here is read in ${unit}`);
  return solved(scale, Number(reading[1]) * known[1], typed);
}

/**
 * The mark so named, by its whole name or by its first word where that is its own.
 * @param {string} typed
 * @param {Mark[]} marks
 */
function markOf(typed, marks) {
  const wanted = typed.toLowerCase();
  const whole = marks.filter((mark) => mark.name.toLowerCase() === wanted);
  const first = marks.filter((mark) => mark.name.split(" ")[0].toLowerCase() === wanted);
  return only(whole.length ? whole : first);
}

/**
 * @param {Scale} scale
 * @param {number} value
 * @param {string} typed
 */
function solved(scale, value, typed) {
  const level_m = solve(scale, value);
  if (level_m !== null) return { level_m, said: `${typed}: ${scale.title}` };
  const first = scale.values[0];
  const rises = scale.values[scale.values.length - 1] > first;
  const stop = rises === value < first ? scale.below : scale.above;
  const why = stop ? `; ${stop.words}` : "";
  const ends = [scale.values[0], scale.values[scale.values.length - 1]].sort((a, b) => a - b);
  const [low, high] = ends.map((end) => decimal(end, scale.decimals));
  return fault(typed, `the scale goes from ${low} to ${high} ${scale.name}${why}`);
}

/**
 * @param {string} typed
 * @param {string} why
 */
function fault(typed, why) {
  const told = `${why[0].toUpperCase()}${why.slice(1)}.`;
  return { fault: `level must be ${ALLOWED}; got "${typed}". ${told}` };
}

/**
 * A level as the field shows it: whole millimetres, or tenths where it has been set so finely.
 * @param {number} level_m
 */
export function levelText(level_m) {
  const tenths = Math.round(level_m * 1e4);
  return `${decimal(level_m * 1e3, tenths % 10 === 0 ? 0 : 1)} mm`;
}

/**
 * Bind the field: Enter or leaving it moves the line; a text that stands for no level stays, with its sentence beneath.
 * @param {() => See} see
 * @param {(level_m: number) => void} go
 */
export function bindField(see, go) {
  const form = /** @type {HTMLFormElement | null} */ (document.getElementById("see-form"));
  const field = /** @type {HTMLInputElement | null} */ (document.getElementById("see-level"));
  const said = document.getElementById("see-said");
  if (!form || !field || !said || form.dataset.bound) return;
  form.dataset.bound = "yes";
  const button = document.getElementById("see-go");
  if (button) button.hidden = true;
  const take = () => {
    const found = levelOf(field.value, see());
    const wrong = "fault" in found;
    field.toggleAttribute("aria-invalid", wrong);
    if (wrong) field.setAttribute("aria-invalid", "true");
    said.textContent = wrong ? found.fault : found.said.includes("mm:") ? "" : found.said;
    if (!wrong) go(found.level_m);
  };
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    take();
  });
  field.addEventListener("change", take);
}
