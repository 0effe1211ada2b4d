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
  const caret = at instanceof HTMLInputElement ? [at.selectionStart, at.selectionEnd] : null;
  const writing = at instanceof HTMLInputElement ? at.value : null;
  const open = new Map([...part.querySelectorAll("details[id]")].map((each) => [each.id, each.hasAttribute("open")]));
  const scroll = window.scrollY;
  part.innerHTML = html;
  for (const each of part.querySelectorAll("details[id]")) {
    const was = open.get(each.id);
    if (was !== undefined) each.toggleAttribute("open", was);
  }
  if (at) restore(part, at, writing, caret);
  if (window.scrollY !== scroll) window.scrollTo(window.scrollX, scroll);
}

/** @param {HTMLElement} part @param {HTMLElement} was @param {string | null} writing @param {(number | null)[] | null} caret @returns {void} */
function restore(part, was, writing, caret) {
  const now = was.id ? document.getElementById(was.id) : part.querySelector(`[href="${CSS.escape(was.getAttribute("href") ?? "")}"]`);
  if (!(now instanceof HTMLElement)) return;
  if (now instanceof HTMLInputElement && writing !== null) now.value = writing;
  now.focus({ preventScroll: true });
  if (now instanceof HTMLInputElement && caret && now.type !== "hidden") now.setSelectionRange(caret[0], caret[1]);
}
