// @ts-check
/** A page that waits for something that is being made: how long it takes so far, and the page anew once it is there. */

const PAUSE_MS = 500;

/** @typedef {{state: "running" | "done" | "failed" | "cancelled", elapsed_s: number, share: number | null}} Told */

const part = document.querySelector("[data-task]");
const place = part?.querySelector("[data-elapsed]");
const bar = part?.querySelector("[data-share]");

/** @returns {Promise<boolean>} whether it is still being made */
async function ask() {
  if (!(part instanceof HTMLElement)) return false;
  const answer = await fetch(`/api/tasks/${encodeURIComponent(part.dataset.task ?? "")}`);
  if (!answer.ok) return false;
  /** @type {Told} */
  const told = await answer.json();
  if (place) place.textContent = `${told.elapsed_s.toFixed(0)} s`;
  if (bar instanceof HTMLProgressElement && told.share !== null) bar.value = told.share;
  return told.state === "running";
}

/** @returns {Promise<void>} */
async function wait() {
  try {
    if (!(await ask())) {
      location.reload();
      return;
    }
  } catch {
    if (place) place.textContent = "the server does not answer";
  }
  setTimeout(wait, PAUSE_MS);
}

if (part) setTimeout(wait, PAUSE_MS);

export {};
