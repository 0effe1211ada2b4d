// @ts-check
/**
 * New parts of the page in place of the old: focus, caret and what stands open stay as they are.
 *
 * A part is made of pieces, which stand where it says `<!--piece NAME-->`. The server leaves out what the page has
 * already, by its marks; a piece alone is put in place of the element of its name.
 */

/**
 * @typedef {{html: Record<string, string>, pieces: Record<string, string>, marks: Record<string, string>,
 *   version: string}} Told
 */

const PIECE = /<!--piece ([^ ]+)-->/g;

/** The marks of what stands on the page; nothing is known of what came with the page itself. @type {Record<string, string>} */
export let has = {};

/** The pieces that stand on the page, by name. @type {Map<string, string>} */
const pieces = new Map();

/** @param {Told} told @returns {void} */
export function swap(told) {
  const scroll = window.scrollY; // asked for once before and once after: either makes the browser lay out the page
  const fresh = new Map(Object.entries(told.pieces));
  for (const [name, html] of fresh) pieces.set(name, html);
  for (const [name, html] of Object.entries(told.html)) {
    const part = document.getElementById(`part-${name}`);
    if (!part) continue;
    put(part, html.replaceAll(PIECE, (_, piece) => {
      fresh.delete(piece);
      return pieces.get(piece) ?? "";
    }), false);
  }
  for (const [name, html] of fresh) {
    const element = document.getElementById(name);
    if (element) put(element, html, true);
  }
  has = told.marks;
  document.dispatchEvent(new CustomEvent("parts", { detail: told }));
  if (window.scrollY !== scroll) window.scrollTo(window.scrollX, scroll);
}

/** Whether parts are being put in place: what a browser then says of fields that go is no word of the reader. */
export const place = { swapping: false };

/** @param {HTMLElement} old @param {string} html @returns {HTMLElement} the element put in its place */
function instead(old, html) {
  const made = document.createElement("template");
  made.innerHTML = html;
  const element = made.content.firstElementChild;
  if (!(element instanceof HTMLElement)) return old;
  old.replaceWith(element);
  return element;
}

/** @param {HTMLElement} root @returns {Element[]} what may stand open in it, itself too */
function opens(root) {
  return [...(root.matches("details[id]") ? [root] : []), ...root.querySelectorAll("details[id]")];
}

/**
 * @param {HTMLElement} part @param {string} html
 * @param {boolean} whole whether the text is the element itself, not what stands in it
 * @returns {void}
 */
function put(part, html, whole) {
  const at = document.activeElement instanceof HTMLElement && part.contains(document.activeElement) ? document.activeElement : null;
  const nth = at ? [...part.querySelectorAll(at.tagName)].indexOf(at) : -1;
  const caret = at instanceof HTMLInputElement ? [at.selectionStart, at.selectionEnd] : null;
  const writing = at instanceof HTMLInputElement ? at.value : null;
  const open = new Map(opens(part).map((each) => [each.id, each.hasAttribute("open")]));
  place.swapping = true;
  const now = whole ? instead(part, html) : part;
  if (!whole) part.innerHTML = html;
  place.swapping = false;
  for (const each of opens(now)) {
    const was = open.get(each.id);
    if (was !== undefined) each.toggleAttribute("open", was);
  }
  if (at) restore(now, at, nth, writing, caret);
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
