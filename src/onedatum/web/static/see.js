// @ts-check
/**
 * "See it" as a whole: starts the ruler, switches between drawing and table, asks for a drawing of the right size.
 *
 * The page tells by the event "see" on the document that its parts were swapped for new ones; the ruler then takes up
 * the new drawing and the new tables. By "ruler-size" (detail: width, height) this asks for a drawing of another size.
 */
import { mount } from "./ruler.js";

const LEAST_PX = 520;
const MOST_PX = 980;
const PHONE_PX = 600;
const WAIT_MS = 150;
const ENOUGH_PX = 2;

let shows = "drawing";

/** The size that the drawing should have: the width there is, and the height that a window leaves under its head. */
export function wanted() {
  const ruler = document.getElementById("ruler");
  const width = Math.floor(ruler?.parentElement?.clientWidth ?? 0);
  const beside = window.innerWidth >= 1680 ? 172 : 158;
  const tall = Math.min(Math.max(window.innerHeight - beside, LEAST_PX), MOST_PX);
  return { width, height: window.innerWidth <= 760 ? PHONE_PX : tall };
}

function askForSize() {
  const svg = document.querySelector("#ruler svg");
  const { width, height } = wanted();
  const [, , wide, high] = (svg?.getAttribute("viewBox") ?? "0 0 0 0").split(" ").map(Number);
  if (!width || (Math.abs(width - wide) < ENOUGH_PX && Math.abs(height - high) < ENOUGH_PX)) return;
  document.dispatchEvent(new CustomEvent("ruler-size", { detail: { width, height } }));
}

/** Drawing or table; a page without JavaScript has both. */
function show() {
  for (const [id, name] of [["ruler", "drawing"], ["see-help", "drawing"], ["see-table", "table"]]) {
    const node = document.getElementById(id);
    if (node) node.hidden = name !== shows;
  }
  for (const button of document.querySelectorAll("#see-switch button")) {
    button.setAttribute("aria-pressed", String(/** @type {HTMLElement} */ (button).dataset.shows === shows));
  }
}

function start() {
  const buttons = document.getElementById("see-switch");
  if (!buttons) return;
  if (!buttons.dataset.bound) {
    buttons.dataset.bound = "yes";
    buttons.addEventListener("click", (event) => {
      const pressed = /** @type {HTMLElement} */ (event.target).closest("button");
      if (!pressed) return;
      shows = pressed.dataset.shows ?? "drawing";
      show();
    });
  }
  mount();
  show();
  if (shows === "drawing") askForSize();
}

let waiting = 0;
window.addEventListener("resize", () => {
  window.clearTimeout(waiting);
  waiting = window.setTimeout(start, WAIT_MS);
});
document.addEventListener("see", start);
// Modules run before this event, so whoever listens for the size does so by then.
if (document.readyState === "complete") start();
else document.addEventListener("DOMContentLoaded", start);
