/**
 * The browser's reading of the tables, against closed forms. Run: node --test system/ruler.test.mjs
 */
import assert from "node:assert/strict";
import { test } from "node:test";

import { levelOf, levelText } from "../src/onedatum/web/static/level.js";
import { cell, decimal, read, readout, solve, spoken } from "../src/onedatum/web/static/scales.js";

const BARE = {
  group: "", unit: "", entry: "", error: 0, below: null, above: null, unknown: "", unknown_path: "", assumed: false,
};

/** y = x^2 from 0 to 3: a cubic with the right slopes is the parabola itself. */
const SQUARE = {
  ...BARE, key: "volume", name: "m³", title: "volume", unit: "m3", decimals: 3,
  levels_m: [0, 1, 3], values: [0, 1, 9], slopes: [0, 2, 6],
};

/** A current that falls with the level, and stops: 20 mA at 0.5 m, 4 mA at 2.5 m. */
const FALLING = {
  ...BARE, key: "mA", name: "mA", title: "current", decimals: 2, entry: "signal.current",
  levels_m: [0.5, 2.5], values: [20, 4], slopes: [-8, -8],
  below: { level_m: 0.5, words: "signal ends at 20.00" }, above: { level_m: 2.5, words: "signal ends at 4.00" },
};

/** A corner stands twice: slope 1 below 1 m, slope 3 above. */
const CORNER = {
  ...BARE, key: "kg", name: "kg", title: "mass", decimals: 1,
  levels_m: [0, 1, 1, 2], values: [0, 1, 1, 4], slopes: [1, 1, 3, 3],
};

const HEIGHT = {
  ...BARE, key: "mm", name: "mm", title: "level", unit: "mm", decimals: 0,
  levels_m: [0, 3], values: [0, 3000], slopes: [1000, 1000],
};

const SEE = {
  scales: [HEIGHT, FALLING, SQUARE],
  units: { mm: ["mm", 1], m: ["mm", 1000], mA: ["mA", 1], "m³": ["volume", 1], m3: ["volume", 1], L: ["volume", 0.001] },
  marks: [
    { name: "HH alarm", label: "HH alarm", height_m: 2.7, entry: "", blocks: false, assumed: false },
    { name: "dead zone, upper", label: "dead zone", height_m: 2.9, entry: "", blocks: false, assumed: false },
    { name: "dead zone, lower", label: "dead zone", height_m: 0.1, entry: "", blocks: false, assumed: false },
  ],
  geometry: null, span_m: [0, 3], reach_m: null, level_m: 1,
};

test("a parabola is read exactly", () => {
  for (let x = 0; x <= 3; x += 0.01) assert.ok(Math.abs(read(SQUARE, x) - x * x) < 1e-12);
});

test("reading and solving undo each other", () => {
  for (let x = 0.01; x < 3; x += 0.01) assert.ok(Math.abs(solve(SQUARE, read(SQUARE, x)) - x) < 1e-9);
  for (let x = 0.5; x <= 2.5; x += 0.01) assert.ok(Math.abs(solve(FALLING, 24 - 8 * x) - x) < 1e-12);
});

test("a corner has the slope of either side", () => {
  assert.ok(Math.abs(read(CORNER, 0.5) - 0.5) < 1e-12);
  assert.ok(Math.abs(read(CORNER, 1.5) - 2.5) < 1e-12);
  assert.equal(read(CORNER, 1), 1);
  assert.ok(Math.abs(solve(CORNER, 2.5) - 1.5) < 1e-12);
});

test("beyond its ends a scale has no value and says why", () => {
  assert.equal(read(FALLING, 0.4), null);
  assert.equal(readout(FALLING, 2.6), "–");
  assert.equal(cell(FALLING, 2.6), "no signal");
  assert.equal(spoken(FALLING, 2.6), "current: signal ends at 4.00 mA");
  assert.equal(spoken(FALLING, 0.1), "current: signal ends at 20.00 mA");
  assert.equal(solve(FALLING, 20.1), null);
  assert.equal(solve(FALLING, 20.004), 0.5);
  assert.equal(solve(FALLING, NaN), null);
});

test("an unknown scale says what to ask for", () => {
  const unknown = { ...SQUARE, levels_m: [], values: [], slopes: [], unknown: "temperature" };
  assert.equal(readout(unknown, 1), "?");
  assert.equal(spoken(unknown, 1), "volume unknown, ask: temperature");
  assert.equal(solve(unknown, 1), null);
});

test("numbers have a true minus, and zero has none", () => {
  assert.equal(decimal(-1.25, 1), "−1.3");
  assert.equal(decimal(-0.001, 2), "0.00");
  assert.equal(levelText(1.85), "1850 mm");
  assert.equal(levelText(1.8503), "1850.3 mm");
});

test("the level takes any scale and any mark", () => {
  const level = (text) => levelOf(text, SEE).level_m;
  assert.ok(Math.abs(level("1850 mm") - 1.85) < 1e-12);
  assert.ok(Math.abs(level(" 1.85  m") - 1.85) < 1e-12);
  assert.ok(Math.abs(level("12 ma") - 1.5) < 1e-12);
  assert.ok(Math.abs(level("4 m3") - 2) < 1e-9);
  assert.ok(Math.abs(level("4000 L") - 2) < 1e-9);
  assert.equal(level("hh"), 2.7);
  assert.equal(level("dead zone, lower"), 0.1);
});

test("what stands for no level is told in one sentence", () => {
  for (const text of ["", "12", "1,5 m", "5 furlong", "dead", "<b>", "__proto__", "1 constructor", "9e99 mm"]) {
    const found = levelOf(text, SEE);
    assert.ok("fault" in found, text);
    assert.match(found.fault, /^level must be .*; got ".*"\. .*\.$/);
  }
  assert.match(levelOf("21 mA", SEE).fault, /The scale goes from 4\.00 to 20\.00 mA; signal ends at 20\.00\.$/);
});
