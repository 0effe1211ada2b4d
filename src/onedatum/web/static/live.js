// @ts-check
/** The case, live: what is typed is tried at once, what is left is kept in the file; the parts of the page follow. */

import { bindLinks, lead } from "./fields.js";
import { has, place, swap } from "./parts.js";
import { announce, say, tell } from "./status.js";

/** The page stays as it is until nobody has typed for so long. */
const PAUSE_MS = 80;
/** The server is asked this long after a key already; what it says waits for the end of the pause, or for nothing where
 * another key comes first. */
const ASK_MS = 20;
const SLOW_MS = 500;
const SILENT = "The server does not answer. What you typed stands here; it is kept once it answers again.";
const name = document.body.dataset.case ?? "";
const api = `/api/cases/${encodeURIComponent(name)}`;
const here = crypto.randomUUID?.() ?? String(Math.random()).slice(2);

/** What is typed and not kept yet, by path. @type {Map<string, string>} */
const typed = new Map();
let timer = 0;
let turn = 0;
/** When a key was last pressed in a field of the case. */
let keyed = -Infinity;
/** One edit is kept after another. @type {Promise<void>} */
let keeping = Promise.resolve();

/** What is being worked or still waits; the page is marked as busy while there is any. */
let doing = 0;

/** @param {number} more @returns {void} */
function busy(more) {
  doing += more;
  document.body.toggleAttribute("data-busy", doing > 0);
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
    add: query.get("add") ?? "",
    tried: query.getAll("tried"),
    width_px: Math.max(200, Math.min(4000, Math.floor(see?.clientWidth ?? 680))),
    height_px: Math.max(520, Math.min(980, window.innerHeight - (window.innerWidth >= 1680 ? 172 : 158))),
  };
}

/** @param {string} url @param {string} method @param {unknown} body @param {AbortSignal} [signal] @returns {Promise<Response>} */
function send(url, method, body, signal) {
  return fetch(url, { method, headers: { "Content-Type": "application/json" }, body: JSON.stringify(body), signal });
}

/** Study the case with what is typed, and show what follows. @returns {Promise<void>} */
async function attempt() {
  const mine = ++turn;
  busy(1);
  const stop = new AbortController();
  const cancel = () => {
    stop.abort();
    tell("Not calculated. The page stands as it was before; what you typed stands in its field.");
  };
  const slow = setTimeout(() => say("Calculating", cancel), SLOW_MS);
  try {
    const body = { changes: Object.fromEntries(typed), room: room(), window: here, has };
    const answer = await send(`${api}/try`, "POST", body, stop.signal);
    if (mine !== turn) return;
    const told = await answer.json();
    await pauseEnds();
    if (mine !== turn) return;
    if (answer.ok && !told.replaced) {
      swap(told);
      announce();
      if (document.getElementById("status")?.textContent === "Calculating") say("");
    } else if (!told.replaced) {
      say(told.sentence);
    }
  } catch {
    if (mine === turn && !stop.signal.aborted) say(SILENT);
  } finally {
    clearTimeout(slow);
    busy(-1);
  }
}

/** The end of the pause in typing. @returns {Promise<void>} */
async function pauseEnds() {
  for (let left = 1; left > 0; ) {
    left = keyed + PAUSE_MS - performance.now();
    if (left > 0) await new Promise((done) => setTimeout(done, left));
  }
}

/** Try what is typed after a pause in typing. @returns {void} */
function attemptSoon() {
  calm();
  busy(1);
  keyed = performance.now();
  timer = window.setTimeout(() => {
    calm();
    void attempt();
  }, ASK_MS);
}

/** What waits for a pause in typing waits no longer. @returns {void} */
function calm() {
  if (!timer) return;
  clearTimeout(timer);
  timer = 0;
  busy(-1);
}

/** One thing after another is done to the file. @param {() => Promise<void>} what @returns {void} */
function next(what) {
  busy(1);
  keeping = keeping.then(what).finally(() => busy(-1));
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
    untry(Object.keys(changes).filter((path) => !(path in told.refused)));
    await attempt();
  } catch {
    say(SILENT);
  }
}

/** What is kept is no longer tried. @param {string[]} paths @returns {void} */
function untry(paths) {
  const url = new URL(location.href);
  const tried = url.searchParams.getAll("tried").filter((each) => !paths.includes(each.split("=")[0]));
  url.searchParams.delete("tried");
  for (const each of tried) url.searchParams.append("tried", each);
  history.replaceState(history.state, "", url);
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

/** One step back or ahead in what was kept. @param {"undo" | "redo"} way @returns {Promise<void>} */
async function step(way) {
  try {
    const answer = await send(`${api}/${way}`, "POST", { version: document.body.dataset.version });
    const told = await answer.json();
    if (!answer.ok) say(told.sentence);
    else if (told.conflict) location.reload();
    else if (!told.version) tell(way === "undo" ? "Nothing to undo" : "Nothing to redo");
    else {
      typed.clear();
      document.body.dataset.version = told.version;
      await attempt();
      tell(way === "undo" ? "Undone: the case is as it was before the last change" : "Redone");
    }
  } catch {
    say(SILENT);
  }
}

/** A way out, tried and not kept: it stands in the address. @param {HTMLFormElement} form @returns {Promise<void>} */
async function tryOut(form) {
  const path = form.dataset.try ?? "";
  const wanted = String(new FormData(form).get("tried") ?? "");
  untry([path]);
  const url = new URL(location.href);
  url.searchParams.append("tried", wanted);
  history.pushState({ tried: true }, "", url);
  await attempt();
  await lead(path, attempt);
}

/** @param {EventTarget | null} at @returns {HTMLInputElement | HTMLSelectElement | null} the field of the case it happened in */
function fieldOf(at) {
  const isField = at instanceof HTMLInputElement || at instanceof HTMLSelectElement;
  return isField && at.name && at.name !== "_version" && ["case-form", "principle-form"].includes(at.form?.id ?? "") ? at : null;
}

document.addEventListener("input", (event) => {
  const field = fieldOf(event.target);
  if (!field) return;
  typed.set(field.name, field.value);
  attemptSoon();
});

document.addEventListener("change", (event) => {
  const field = fieldOf(event.target);
  if (!field || place.swapping) return;
  typed.set(field.name, field.value);
  calm();
  next(keep);
});

/* A field that was put in place anew while one typed has no change of its own to tell of when it is left. */
document.addEventListener("focusout", (event) => {
  const field = fieldOf(event.target);
  if (!field || place.swapping || !typed.has(field.name)) return;
  calm();
  next(keep);
});

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!(form instanceof HTMLFormElement)) return;
  if (form.id === "case-form") {
    event.preventDefault();
    const by = event.submitter;
    if (by instanceof HTMLButtonElement && by.name) typed.set(by.name, by.value);
    calm();
    next(keep);
  } else if (form.dataset.try) {
    event.preventDefault();
    void tryOut(form);
  } else if (form.dataset.step === "undo" || form.dataset.step === "redo") {
    event.preventDefault();
    const way = form.dataset.step;
    next(() => step(way));
  }
});

document.addEventListener("click", (event) => {
  const back = event.target instanceof Element ? event.target.closest("[data-untry]") : null;
  if (!back) return;
  event.preventDefault();
  const url = new URL(location.href);
  url.searchParams.delete("tried");
  history.pushState(null, "", url);
  void attempt().then(() => tell("The case is as it was stated"));
});

document.addEventListener("keydown", (event) => {
  const writes = event.target instanceof Element && event.target.closest("input:not([type=radio]), select, textarea");
  if (!(event.ctrlKey || event.metaKey) || event.altKey || writes) return;
  const key = event.key.toLowerCase();
  const way = key === "z" ? (event.shiftKey ? "redo" : "undo") : key === "y" ? "redo" : "";
  if (!way) return;
  event.preventDefault();
  next(() => step(way));
});

let shown = new URLSearchParams(location.search).getAll("tried").join("\n");
addEventListener("popstate", () => {
  const now = new URLSearchParams(location.search).getAll("tried").join("\n");
  if (now !== shown) void attempt();
  shown = now;
});
document.addEventListener("parts", () => {
  shown = new URLSearchParams(location.search).getAll("tried").join("\n");
});

let resized = 0;
window.addEventListener("resize", () => {
  clearTimeout(resized);
  resized = window.setTimeout(attempt, 150);
});

bindLinks(attempt);
document.body.classList.add("live");
if (matchMedia("screen and (min-width: 1680px)").matches) {
  for (const each of document.querySelectorAll("#case-form > details.section:not(#s-nothing)")) each.toggleAttribute("open", true);
}
void attempt();
