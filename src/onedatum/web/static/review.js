// @ts-check
/**
 * The picture of a log, zoomed in place: every zoom is the address that the links hold, so going back and reloading
 * show the same; only the picture is asked for anew. Without this file the links and the form do the same.
 */
import { bindGestures } from "./zoom.js";

const WAITS_MS = 400;
const STILL_MS = 200;
const FITS_WITHIN = 0.06;
const WHOLE_SECONDS_FROM_MS = 60_000;

/** @typedef {"push" | "replace" | "none"} Step how an address comes into the history */

const part = document.getElementById("part-chart");
const wrong = document.querySelector("[data-wrong]");
const said = document.querySelector("[data-said]");
/** @type {AbortController | null} */
let asking = null;
let shownPx = 0;

/** @returns {HTMLElement | null} */
function figure() {
  const found = part?.querySelector("[data-chart]");
  return found instanceof HTMLElement ? found : null;
}

/** @returns {number} the room for the picture, in px */
function room() {
  const sheet = document.getElementById("chart-sheet");
  return Math.min(2400, Math.max(280, Math.floor(sheet?.clientWidth ?? 0)));
}

/** @returns {boolean} whether the picture was drawn for about the room there is */
function fits() {
  return Math.abs(room() - shownPx) <= FITS_WITHIN * shownPx;
}

/** @param {string} text @returns {void} */
function tell(text) {
  if (wrong) wrong.textContent = text;
}

/**
 * Ask for the picture of an address, and put it in place.
 * @param {URL} url @param {Step} step @returns {Promise<void>}
 */
async function show(url, step) {
  if (!part) return;
  asking?.abort();
  const mine = (asking = new AbortController());
  const wide = room();
  const query = new URLSearchParams(url.search);
  query.set("width", String(wide));
  const late = setTimeout(() => figure()?.setAttribute("data-waits", ""), WAITS_MS);
  try {
    const answer = await fetch(`${part.dataset.url}?${query}`, { signal: mine.signal });
    const html = await answer.text();
    if (mine.signal.aborted) return;
    if (!html.includes("data-chart")) location.assign(url);
    else if (answer.ok) {
      put(html, wide);
      address(url, step);
    } else complain(html);
    tell("");
  } catch (error) {
    if (!(error instanceof DOMException && error.name === "AbortError")) tell("The server does not answer. The picture is as it was.");
  } finally {
    clearTimeout(late);
    if (asking === mine) figure()?.removeAttribute("data-waits");
  }
}

/** @param {URL} url @param {Step} step @returns {void} */
function address(url, step) {
  if (step === "none") return;
  url.hash = "";
  if (step === "push" && url.href !== location.href) history.pushState(null, "", url);
  else history.replaceState(null, "", url);
}

/** What was typed cannot be: the form says why, the picture stays as it is. @param {string} html @returns {void} */
function complain(html) {
  const made = document.createElement("template");
  made.innerHTML = html;
  const old = document.getElementById("chart-choice");
  const fresh = made.content.getElementById("chart-choice");
  if (!old || !fresh) return;
  old.replaceWith(fresh);
  const first = fresh.querySelector("[aria-invalid]");
  if (first instanceof HTMLElement) first.focus();
}

/** The picture in place of the old one; the focus stays on what has the same name. @param {string} html @param {number} wide */
function put(html, wide) {
  if (!part) return;
  const had = document.activeElement;
  const inside = had instanceof Element && part.contains(had);
  const href = inside ? had.getAttribute("href") : null;
  part.innerHTML = html;
  shownPx = wide;
  document.getElementById("chart-sheet")?.classList.add("fits");
  if (inside) focusAgain(had.id, href);
  const here = figure()?.dataset.here ?? "0";
  for (const each of document.querySelectorAll(".finding")) {
    if (each.id === `finding-${here}`) each.setAttribute("aria-current", "true");
    else each.removeAttribute("aria-current");
  }
  const when = document.getElementById("chart-when")?.textContent?.replace(/\s+/g, " ").trim() ?? "";
  if (said) said.textContent = `Shown: ${when}`;
}

/** @param {string} id @param {string | null} href @returns {void} */
function focusAgain(id, href) {
  const named = id ? document.getElementById(id) : null;
  const led = href && part ? part.querySelector(`a[href="${CSS.escape(href)}"]`) : null;
  const now = named ?? led ?? document.getElementById("chart-sheet");
  if (now instanceof HTMLElement || now instanceof SVGElement) now.focus({ preventScroll: true });
}

/** From when to when, as an address. @param {number} fromMs @param {number} toMs @param {Step} step @returns {void} */
function span(fromMs, toMs, step) {
  const url = new URL(location.href);
  const unit = toMs - fromMs > WHOLE_SECONDS_FROM_MS ? 1000 : 1;
  url.searchParams.set("from", moment(Math.round(fromMs / unit) * unit));
  url.searchParams.set("to", moment(Math.round(toMs / unit) * unit));
  void show(url, step);
}

/** @param {number} ms @returns {string} */
function moment(ms) {
  return new Date(Math.round(ms)).toISOString().replace("T", " ").replace(/(:00)?\.000Z$|Z$/, "");
}

/** @param {MouseEvent} event @returns {boolean} whether the browser itself is to follow it, as in a new tab */
function isForBrowser(event) {
  return event.defaultPrevented || event.button !== 0 || event.metaKey || event.ctrlKey || event.shiftKey || event.altKey;
}

document.addEventListener("click", (event) => {
  const link = event.target instanceof Element ? event.target.closest("a[data-zoom]") : null;
  const href = link?.getAttribute("href");
  if (!link || !href || isForBrowser(event)) return;
  event.preventDefault();
  void show(new URL(href, location.href), "push").then(() => {
    if (link instanceof HTMLElement && link.dataset.finding) part?.scrollIntoView({ block: "nearest" });
  });
});

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!(form instanceof HTMLFormElement) || !form.matches("[data-zoom-form]")) return;
  event.preventDefault();
  const url = new URL(location.href);
  url.search = "";
  for (const [key, value] of new FormData(form)) if (typeof value === "string") url.searchParams.append(key, value);
  void show(url, "push");
});

document.addEventListener("change", (event) => {
  const field = event.target;
  if (field instanceof HTMLSelectElement && field.id === "zoom-show") field.form?.requestSubmit();
});

window.addEventListener("popstate", () => void show(new URL(location.href), "none"));

let later = 0;
window.addEventListener("resize", () => {
  clearTimeout(later);
  later = window.setTimeout(() => {
    if (!fits()) void show(new URL(location.href), "none");
  }, STILL_MS);
});

document.querySelector("[data-help]")?.removeAttribute("hidden");
if (part) {
  bindGestures(part, span, (name) => {
    const door = document.getElementById(`door-${name}`);
    const href = door?.getAttribute("href");
    if (href) void show(new URL(href, location.href), "push");
  });
  shownPx = Number(figure()?.dataset.wide);
  if (fits()) document.getElementById("chart-sheet")?.classList.add("fits");
  else void show(new URL(location.href), "none");
}
