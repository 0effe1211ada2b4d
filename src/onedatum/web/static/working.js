// @ts-check
/**
 * Every number is a door: a click on it shows its working beside the case, without leaving the page.
 *
 * The open number stands in the address as `work`, so that Back closes, a reload keeps it open, and the link works
 * without this module. Wherever the number stands on the page it carries the class `on`.
 */

const DOORS = "a.number[data-entry]";
/** Wide enough for a column of its own: there the working is always open. */
const WIDE = matchMedia("screen and (min-width: 1680px)");
const caseName = document.body.dataset.case ?? "";

/** What had the focus before the working was opened. @type {HTMLElement | null} */
let before = null;
/** The entry whose door was opened last, to find its successor where a part of the page was made anew. */
let beforeEntry = "";
let turn = 0;

/** @returns {HTMLElement | null} */
function panel() {
  return document.getElementById("working");
}

/** The number that is open by the address, "" for none. @returns {string} */
function opened() {
  return new URLSearchParams(location.search).get("work") ?? "";
}

/** The address with another number open, or none. @param {string} entry @returns {string} */
function address(entry) {
  const url = new URL(location.href);
  if (entry) url.searchParams.set("work", entry);
  else url.searchParams.delete("work");
  return `${url.pathname}${url.search}${url.hash}`;
}

/** The number whose working stands in a wide window while none is chosen: the last of the chain that blocks. @returns {string} */
function standing() {
  const doors = document.querySelectorAll(".finding.blocks .chain [data-entry]");
  const door = doors[doors.length - 1] ?? document.querySelector(".finding [data-entry], .see-table [data-entry]");
  return door instanceof HTMLElement ? (door.dataset.entry ?? "") : "";
}

/** Mark the open number wherever it stands. @returns {void} */
function mark() {
  const entry = panel()?.hidden === false ? opened() : "";
  for (const door of document.querySelectorAll("[data-entry]")) {
    const on = entry !== "" && /** @type {HTMLElement | SVGElement} */ (door).dataset.entry === entry;
    if (door.classList.contains("on") !== on) door.classList.toggle("on", on);
  }
}

/** Say something in place of a working. @param {HTMLElement} aside @param {string} sentence @returns {void} */
function say(aside, sentence) {
  const head = document.createElement("p");
  head.className = "work-head";
  const close = document.createElement("a");
  close.className = "close";
  close.href = address("");
  close.dataset.close = "";
  close.textContent = "Close";
  head.append("Working ", close);
  const text = document.createElement("p");
  text.textContent = sentence;
  const work = document.createElement("div");
  work.className = "work";
  work.append(head, text);
  aside.replaceChildren(work);
}

/**
 * Show the working of the number in the address, or hide the panel where there is none.
 * @param {boolean} toClose whether the focus goes to Close, for who opens by keyboard
 * @returns {Promise<void>}
 */
async function show(toClose = false) {
  const aside = panel();
  if (!aside) return;
  const entry = opened();
  const mine = ++turn;
  if (!entry) {
    hide(aside);
    if (!WIDE.matches) return;
  }
  try {
    const wanted = entry || standing();
    if (!wanted) return;
    const answer = await fetch(`/api/cases/${encodeURIComponent(caseName)}/working/${encodeURIComponent(wanted)}`);
    /** @type {{html?: string, sentence?: string}} */
    const told = await answer.json();
    if (mine !== turn) return;
    if (answer.ok && typeof told.html === "string") aside.innerHTML = told.html;
    else say(aside, told.sentence ?? "The working cannot be shown.");
  } catch {
    if (mine !== turn) return;
    say(aside, "The server does not answer. The working is shown once it answers again.");
  }
  aside.hidden = false;
  aside.scrollTop = 0;
  wide(aside);
  mark();
  if (toClose) /** @type {HTMLElement | null} */ (aside.querySelector("[data-close]"))?.focus();
}

/** Hide the panel and give the focus back, if it was in the panel. @param {HTMLElement} aside @returns {void} */
function hide(aside) {
  const inside = aside.contains(document.activeElement) || document.activeElement === document.body;
  const wasOpen = !aside.hidden;
  aside.hidden = true;
  aside.replaceChildren();
  mark();
  if (!wasOpen || !inside) return;
  const again = before?.isConnected ? before : successor(beforeEntry);
  again?.focus({ preventScroll: true });
  before = null;
}

/** The door to a number as it stands now. @param {string} entry @returns {HTMLElement | null} */
function successor(entry) {
  for (const door of document.querySelectorAll(DOORS)) {
    if (door instanceof HTMLElement && door.dataset.entry === entry) return door;
  }
  return null;
}

/** A line that is wider than the panel can be scrolled by keyboard too. @param {HTMLElement} aside @returns {void} */
function wide(aside) {
  for (const line of aside.querySelectorAll(".formula .line")) {
    if (line instanceof HTMLElement && line.scrollWidth > line.clientWidth) line.tabIndex = 0;
  }
}

/** Close: one step back where the opening made a step, else by the address alone. @returns {void} */
function close() {
  if (history.state?.working) {
    history.go(-history.state.working);
    return;
  }
  history.replaceState(null, "", address(""));
  void show();
}

/**
 * Open a number. From within the panel it takes another step, which Back takes back one by one.
 * @param {HTMLElement} door @param {boolean} byKeyboard @returns {void}
 */
function open(door, byKeyboard) {
  const entry = door.dataset.entry ?? "";
  const within = panel()?.contains(door) ?? false;
  if (!within) {
    before = door;
    beforeEntry = entry;
  }
  if (entry === opened() && panel()?.hidden === false) return;
  // A number that stood in the address from the start made no step: closing then goes by the address.
  const depth = opened() && !history.state?.working ? 0 : (history.state?.working ?? 0) + 1;
  history.pushState({ working: depth }, "", address(entry));
  void show(byKeyboard || within);
}

/** Lead to the field of a number: the panel lies over it, so it closes first. @param {string} path @returns {void} */
function toField(path) {
  const field = document.getElementById(`f-${path}`);
  const aside = panel();
  if (!field || !aside) return;
  before = null;
  history.pushState(null, "", address(""));
  aside.hidden = true;
  aside.replaceChildren();
  mark();
  for (let box = field.closest("details"); box; box = box.parentElement?.closest("details") ?? null) box.open = true;
  field.scrollIntoView({ block: "center" });
  field.focus();
}

document.addEventListener("click", (event) => {
  if (event.defaultPrevented || event.button || event.ctrlKey || event.metaKey || event.shiftKey || event.altKey) return;
  if (!(event.target instanceof Element) || !panel()) return;
  const door = event.target.closest(DOORS);
  if (door instanceof HTMLElement) {
    event.preventDefault();
    open(door, event.detail === 0);
    return;
  }
  if (!panel()?.contains(event.target)) return;
  const link = event.target.closest("a");
  if (link?.dataset.close !== undefined) {
    event.preventDefault();
    close();
  } else if (link?.dataset.field && document.getElementById(`f-${link.dataset.field}`)) {
    event.preventDefault();
    toField(link.dataset.field);
  }
});

document.addEventListener("keydown", (event) => {
  if (event.key !== "Escape" || event.defaultPrevented || panel()?.hidden !== false) return;
  event.preventDefault();
  close();
});

addEventListener("popstate", () => void show(panel()?.contains(document.activeElement) ?? false));

/* What is typed is tried: the working that is open follows, where the parts of the page bring it along. */
document.addEventListener("parts", (event) => {
  const told = /** @type {CustomEvent<{html?: Record<string, string>}>} */ (event).detail;
  const aside = panel();
  const html = told.html?.work;
  if (!html || !aside || aside.hidden || aside.querySelector(".work")?.outerHTML === html.trim()) return;
  const focus = aside.contains(document.activeElement);
  const open = [...aside.querySelectorAll("details")].map((each) => each.open);
  aside.innerHTML = html;
  if (aside.querySelectorAll("details").length === open.length) {
    aside.querySelectorAll("details").forEach((each, index) => each.toggleAttribute("open", open[index]));
  }
  if (focus) /** @type {HTMLElement | null} */ (aside.querySelector("[data-close]"))?.focus();
  wide(aside);
  mark();
});

/* Parts of the page are made anew while one types: what stands in them is marked again. */
let asked = false;
new MutationObserver(() => {
  if (asked) return;
  asked = true;
  requestAnimationFrame(() => {
    asked = false;
    mark();
  });
}).observe(document.body, { childList: true, subtree: true });

/* The height of the head, which the panel stands beneath: the answer in it may take two lines. */
const head = document.querySelector("header.top");
if (head) {
  new ResizeObserver(() => {
    document.documentElement.style.setProperty("--head", `${Math.round(head.getBoundingClientRect().height)}px`);
  }).observe(head);
}

mark();
if (WIDE.matches && !opened()) void show();
const first = panel();
if (first && !first.hidden) wide(first);
