// @ts-check
/** The card of the expected signal, answered in place; without this its form loads a page. */

const PAUSE_MS = 250;
let timer = 0;
let turn = 0;

/** @param {HTMLFormElement} form @param {Record<string, string>} more @returns {Promise<void>} */
async function show(form, more = {}) {
  const mine = ++turn;
  const query = new URLSearchParams({ card: "1", ...more });
  for (const [key, value] of new FormData(form)) if (typeof value === "string") query.set(key, value);
  try {
    const answer = await fetch(`${form.getAttribute("action")}?${query}`);
    if (mine !== turn || !answer.ok) return;
    const html = await answer.text();
    if (mine === turn) put(html);
  } catch {
    // without an answer the card stays as it is; its buttons still load the page
  }
}

/** The new card in place of the old; what is being typed and the caret stay. @param {string} html @returns {void} */
function put(html) {
  const card = document.querySelector(".signal-card");
  if (!card) return;
  const at = document.activeElement;
  const label = at?.getAttribute("aria-label");
  const writing = at instanceof HTMLInputElement && card.contains(at) ? at : null;
  const holder = document.createElement("div");
  holder.innerHTML = html;
  const fresh = holder.firstElementChild;
  if (!fresh) return;
  card.replaceWith(fresh);
  const same = at?.id ? document.getElementById(at.id) : label ? fresh.querySelector(`[aria-label="${CSS.escape(label)}"]`) : null;
  if (!(same instanceof HTMLElement)) return;
  if (writing && same instanceof HTMLInputElement) same.value = writing.value;
  same.focus({ preventScroll: true });
  if (writing && same instanceof HTMLInputElement) same.setSelectionRange(writing.selectionStart, writing.selectionEnd);
}

/** @param {EventTarget | null} at @returns {HTMLFormElement | null} */
function formOf(at) {
  const form = at instanceof Element ? at.closest(".signal-card form") : null;
  return form instanceof HTMLFormElement ? form : null;
}

document.addEventListener("input", (event) => {
  const form = formOf(event.target);
  if (!form) return;
  clearTimeout(timer);
  timer = window.setTimeout(() => void show(form), PAUSE_MS);
});

document.addEventListener("submit", (event) => {
  const form = formOf(event.target);
  if (!form) return;
  event.preventDefault();
  clearTimeout(timer);
  const button = event.submitter;
  void show(form, button instanceof HTMLButtonElement && button.name ? { [button.name]: button.value } : {});
});

export {};
