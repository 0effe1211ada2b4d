// @ts-check
/**
 * "See it" as a whole: starts the level line, switches between drawing and table.
 *
 * The event "parts" on the document says that parts of the page were swapped for new ones: the line then takes up the
 * new drawing and the new tables. When the window changes its size, the drawing may be scaled until a new one comes.
 */
import { mount } from "./line.js";

const WAIT_MS = 60;

let shows = "drawing";

/** Drawing or table; a page without JavaScript has both. */
function show() {
  for (const [id, name] of [["ruler", "drawing"], ["see-help", "drawing"], ["see-table", "table"]]) {
    const node = document.getElementById(id);
    if (node) node.hidden = name !== shows;
  }
  for (const button of document.querySelectorAll("#see-switch button")) {
    if (button instanceof HTMLElement) button.setAttribute("aria-pressed", String(button.dataset.shows === shows));
  }
}

/** @param {Event} event */
function choose(event) {
  const pressed = event.target instanceof Element ? event.target.closest("button") : null;
  if (!pressed) return;
  shows = pressed.dataset.shows ?? "drawing";
  show();
  mount();
}

function start() {
  const buttons = document.getElementById("see-switch");
  if (!buttons) return;
  if (!buttons.dataset.bound) {
    buttons.dataset.bound = "yes";
    buttons.addEventListener("click", choose);
  }
  buttons.hidden = false;
  show();
  mount();
}

let waiting = 0;
window.addEventListener("resize", () => {
  window.clearTimeout(waiting);
  waiting = window.setTimeout(start, WAIT_MS);
});
document.addEventListener("parts", start);
start();
