// @ts-check
/** The case, live: what is typed is tried at once, what is left is kept in the file; the parts of the page follow. */

import { place, swap } from "./parts.js";

const PAUSE_MS = 80;
const ANSWER_PAUSE_MS = 700;
const name = document.body.dataset.case ?? "";
const api = `/api/cases/${encodeURIComponent(name)}`;
const here = crypto.randomUUID?.() ?? String(Math.random()).slice(2);

/** What is typed and not kept yet, by path. @type {Map<string, string>} */
const typed = new Map();
let timer = 0;
let turn = 0;
/** One edit is kept after another. @type {Promise<void>} */
let keeping = Promise.resolve();

/** What is being worked or still waits; the page is marked as busy while there is any. */
let doing = 0;

/** @param {number} more @returns {void} */
function busy(more) {
  doing += more;
  document.body.toggleAttribute("data-busy", doing > 0);
}

/** @param {string} text @returns {void} */
function say(text) {
  const status = document.getElementById("status");
  if (status) status.textContent = text;
}

/** The room there is for the ruler, the level looked at, the working that is open. @returns {Record<string, unknown>} */
function room() {
  const see = document.getElementById("part-see");
  const query = new URLSearchParams(location.search);
  return {
    level: query.get("level") ?? "",
    work: query.get("work") ?? "",
    every: query.get("every") ?? "",
    beside: query.get("beside") ?? "",
    width_px: Math.max(200, Math.min(4000, Math.floor(see?.clientWidth ?? 680))),
    height_px: Math.max(520, Math.min(980, window.innerHeight - (window.innerWidth >= 1680 ? 172 : 158))),
  };
}

/** @param {string} url @param {string} method @param {unknown} body @returns {Promise<Response>} */
function send(url, method, body) {
  return fetch(url, { method, headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) });
}

/** Study the case with what is typed, and show what follows. @returns {Promise<void>} */
async function attempt() {
  const mine = ++turn;
  busy(1);
  const slow = setTimeout(() => say("Calculating"), 500);
  try {
    const answer = await send(`${api}/try`, "POST", { changes: Object.fromEntries(typed), room: room(), window: here });
    if (mine !== turn) return;
    const told = await answer.json();
    if (answer.ok && !told.replaced) {
      swap(told);
      say("");
    } else if (!told.replaced) {
      say(told.sentence);
    }
  } catch {
    if (mine === turn) say("The server does not answer. What you typed stands here; it is kept once it answers again.");
  } finally {
    clearTimeout(slow);
    busy(-1);
  }
}

/** Try what is typed after a pause in typing. @returns {void} */
function attemptSoon() {
  calm();
  busy(1);
  timer = window.setTimeout(() => {
    calm();
    void attempt();
  }, PAUSE_MS);
}

/** What waits for a pause in typing waits no longer. @returns {void} */
function calm() {
  if (!timer) return;
  clearTimeout(timer);
  timer = 0;
  busy(-1);
}

/** Keep what was typed in the file, one edit after another. @returns {void} */
function keepNext() {
  busy(1);
  keeping = keeping.then(keep).finally(() => busy(-1));
}

/** Keep what was typed in the file. @returns {Promise<void>} */
async function keep() {
  if (!typed.size) return;
  const changes = Object.fromEntries(typed);
  try {
    const answer = await send(`${api}/fields`, "PUT", { changes, version: document.body.dataset.version });
    const told = await answer.json();
    if (told.conflict) {
      askAboutConflict(changes);
      return;
    }
    if (!answer.ok) {
      say(told.sentence);
      return;
    }
    document.body.dataset.version = told.version;
    for (const [path, text] of Object.entries(changes)) {
      if (!(path in told.refused) && typed.get(path) === text) typed.delete(path);
    }
    await attempt();
  } catch {
    say("The server does not answer. What you typed stands here; it is kept once it answers again.");
  }
}

/** Another window kept something first: the page that shows both is the one that works without a script.
 * @param {Record<string, string>} changes @returns {void} */
function askAboutConflict(changes) {
  const form = document.createElement("form");
  form.method = "post";
  form.action = `/cases/${encodeURIComponent(name)}/edit`;
  for (const [key, value] of Object.entries({ ...changes, _version: document.body.dataset.version ?? "" })) {
    const field = document.createElement("input");
    field.type = "hidden";
    field.name = key;
    field.value = value;
    form.append(field);
  }
  document.body.append(form);
  form.submit();
}

/** @param {Event} event @returns {HTMLInputElement | HTMLSelectElement | null} the field of the case it happened in */
function fieldOf(event) {
  const at = event.target;
  const isField = at instanceof HTMLInputElement || at instanceof HTMLSelectElement;
  return isField && at.name && at.name !== "_version" && at.closest("#case-form") ? at : null;
}

document.addEventListener("input", (event) => {
  const field = fieldOf(event);
  if (!field) return;
  typed.set(field.name, field.value);
  attemptSoon();
});

document.addEventListener("change", (event) => {
  const field = fieldOf(event);
  if (!field || place.swapping) return;
  typed.set(field.name, field.value);
  calm();
  keepNext();
});

/* A field that was put in place anew while one typed has no change of its own to tell of when it is left. */
document.addEventListener("focusout", (event) => {
  const field = fieldOf(event);
  if (!field || place.swapping || !typed.has(field.name)) return;
  calm();
  keepNext();
});

document.addEventListener("submit", (event) => {
  if (!(event.target instanceof HTMLFormElement) || event.target.id !== "case-form") return;
  event.preventDefault();
  keepNext();
});

/** A closed way to a field is opened. @param {string} path @returns {void} */
function goToField(path) {
  const field = document.getElementById(`f-${path}`);
  for (let at = field?.parentElement; at; at = at.parentElement) if (at instanceof HTMLDetailsElement) at.open = true;
  field?.focus();
  field?.scrollIntoView({ block: "center" });
}

document.addEventListener("click", (event) => {
  const link = event.target instanceof Element ? event.target.closest("[data-field]") : null;
  if (!(link instanceof HTMLElement)) return;
  event.preventDefault();
  goToField(link.dataset.field ?? "");
});

document.addEventListener("click", (event) => {
  const link = event.target instanceof Element ? event.target.closest("#case-form [data-ask]") : null;
  if (!(link instanceof HTMLAnchorElement)) return;
  event.preventDefault();
  const url = new URL(location.href);
  const { ask = "", value = "" } = link.dataset;
  if (value) url.searchParams.set(ask, value);
  else url.searchParams.delete(ask);
  history.replaceState(history.state, "", url);
  void attempt();
});

let resized = 0;
window.addEventListener("resize", () => {
  clearTimeout(resized);
  resized = window.setTimeout(attempt, 150);
});

document.body.classList.add("live");
export { ANSWER_PAUSE_MS, attempt };
void attempt();
