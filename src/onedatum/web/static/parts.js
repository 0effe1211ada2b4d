// @ts-check
/** New parts of the page in place of the old: focus, caret and what stands open stay as they are. */

/** @typedef {{html: Record<string, string>, version: string, scales?: unknown}} Told */

/** @param {Told} told @returns {void} */
export function swap(told) {
  for (const [name, html] of Object.entries(told.html)) {
    const part = document.getElementById(`part-${name}`);
    if (part && !same(part, html)) put(part, html);
  }
  document.dispatchEvent(new CustomEvent("parts", { detail: told }));
}

/** Whether parts are being put in place: what a browser then says of fields that go is no word of the reader. */
export const place = { swapping: false };

/** What each part was last made of. @type {WeakMap<Element, string>} */
const last = new WeakMap();

/** @param {Element} part @param {string} html @returns {boolean} whether nothing has changed in it */
function same(part, html) {
  return last.get(part) === html;
}

/** @param {HTMLElement} part @param {string} html @returns {void} */
function put(part, html) {
  last.set(part, html);
  const at = document.activeElement instanceof HTMLElement && part.contains(document.activeElement) ? document.activeElement : null;
  const nth = at ? [...part.querySelectorAll(at.tagName)].indexOf(at) : -1;
  const caret = at instanceof HTMLInputElement ? [at.selectionStart, at.selectionEnd] : null;
  const writing = at instanceof HTMLInputElement ? at.value : null;
  const open = new Map([...part.querySelectorAll("details[id]")].map((each) => [each.id, each.hasAttribute("open")]));
  const scroll = window.scrollY;
  place.swapping = true;
  part.innerHTML = html;
  place.swapping = false;
  for (const each of part.querySelectorAll("details[id]")) {
    const was = open.get(each.id);
    if (was !== undefined) each.toggleAttribute("open", was);
  }
  if (at) restore(part, at, nth, writing, caret);
  if (window.scrollY !== scroll) window.scrollTo(window.scrollX, scroll);
}

/**
 * The focus goes to what it was on: by its name, by where it leads, else by its place among its like.
 * @param {HTMLElement} part @param {HTMLElement} was @param {number} nth @param {string | null} writing
 * @param {(number | null)[] | null} caret @returns {void}
 */
function restore(part, was, nth, writing, caret) {
  const href = was.getAttribute("href");
  const named = was.id ? document.getElementById(was.id) : href ? part.querySelector(`[href="${CSS.escape(href)}"]`) : null;
  const now = named ?? part.querySelectorAll(was.tagName)[nth];
  if (!(now instanceof HTMLElement)) return;
  if (now instanceof HTMLInputElement && writing !== null) now.value = writing;
  if (now instanceof HTMLSelectElement && was instanceof HTMLSelectElement) now.value = was.value;
  now.focus({ preventScroll: true });
  if (now instanceof HTMLInputElement && caret && now.type !== "hidden") now.setSelectionRange(caret[0], caret[1]);
}
