// @ts-check
/**
 * The scales of a case as tables over the level: reading them both ways, and writing what they read.
 *
 * Between two points stands the cubic with their values and slopes. Nothing is worked here that the tables do not say.
 */

/**
 * @typedef {{level_m: number, words: string}} Stop
 * @typedef {{key: string, name: string, group: string, title: string, unit: string, decimals: number, entry: string,
 *   levels_m: number[], values: number[], slopes: number[], error: number, below: Stop | null, above: Stop | null,
 *   unknown: string, unknown_path: string, assumed: boolean}} Scale
 */

/**
 * The last place at which the rising numbers are not above x; -1 where all are.
 * @param {number[]} rising
 * @param {number} x
 */
function lastNotAbove(rising, x) {
  let low = 0;
  let high = rising.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (rising[middle] <= x) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

/**
 * What a scale reads at a level; null where it has no value.
 * @param {Scale} scale
 * @param {number} level_m
 * @returns {number | null}
 */
export function read(scale, level_m) {
  const x = scale.levels_m;
  if (x.length < 2 || !(level_m >= x[0] && level_m <= x[x.length - 1])) return null;
  return between(scale, Math.min(Math.max(lastNotAbove(x, level_m), 0), x.length - 2), level_m);
}

/**
 * The cubic between point i and the next.
 * @param {Scale} scale
 * @param {number} i
 * @param {number} level_m
 */
function between(scale, i, level_m) {
  const { levels_m: x, values: y, slopes } = scale;
  const wide = x[i + 1] - x[i];
  const t = (level_m - x[i]) / wide;
  const rest = 1 - t;
  return (
    y[i] * (1 + 2 * t) * rest * rest +
    y[i + 1] * (3 - 2 * t) * t * t +
    wide * t * rest * (slopes[i] * rest - slopes[i + 1] * t)
  );
}

/**
 * The lowest level at which a scale reads a value; null where it never does. Half of the last digit shown is granted
 * beyond its ends, so that every number that can be read can be typed.
 * @param {Scale} scale
 * @param {number} value
 * @returns {number | null}
 */
export function solve(scale, value) {
  const { levels_m: x, values: y } = scale;
  const last = x.length - 1;
  if (last < 1 || !Number.isFinite(value)) return null;
  const way = y[last] > y[0] ? 1 : -1;
  const digit = 0.5 * 10 ** -scale.decimals;
  if (way * (value - y[0]) <= 0) return way * (y[0] - value) <= digit ? x[0] : null;
  if (way * (value - y[last]) > 0) return way * (value - y[last]) <= digit ? x[last] : null;
  let above = 1;
  while (way * (y[above] - value) < 0) above += 1;
  let low = x[above - 1];
  let high = x[above];
  for (let middle = (low + high) / 2; low < middle && middle < high; middle = (low + high) / 2) {
    if (way * (between(scale, above - 1, middle) - value) < 0) low = middle;
    else high = middle;
  }
  return high;
}

/**
 * A number with so many decimals and a true minus; zero has no sign.
 * @param {number} value
 * @param {number} decimals
 */
export function decimal(value, decimals) {
  const text = value.toFixed(decimals);
  return (Number(text) === 0 ? text.replace("-", "") : text).replace("-", "−");
}

/**
 * What stands on the band: "?" for an unknown scale, a dash where it has no value.
 * @param {Scale} scale
 * @param {number} level_m
 */
export function readout(scale, level_m) {
  if (scale.unknown) return "?";
  const value = read(scale, level_m);
  return value === null ? "–" : decimal(value, scale.decimals);
}

/**
 * The same for the table, where there is room to say why.
 * @param {Scale} scale
 * @param {number} level_m
 */
export function cell(scale, level_m) {
  const text = readout(scale, level_m);
  return text === "–" && scale.entry.startsWith("signal.") ? "no signal" : text;
}

/**
 * A readout as it is spoken.
 * @param {Scale} scale
 * @param {number} level_m
 */
export function spoken(scale, level_m) {
  const text = readout(scale, level_m);
  if (text === "?") return `${scale.title} unknown, ask: ${scale.unknown}`;
  if (text !== "–") return `${text} ${scale.name}`;
  const low = scale.levels_m.length > 0 && level_m < scale.levels_m[0];
  const stop = low ? scale.below : scale.above;
  return `${scale.title}: ${stop ? `${stop.words} ${scale.name}` : "no value"}`;
}
