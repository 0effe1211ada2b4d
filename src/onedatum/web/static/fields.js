// @ts-check
/** The way to a field: from a question, from a finding, to the next that is assumed or unknown, to more about it. */

/** A closed way to a field is opened. @param {string} path @returns {boolean} whether there is such a field */
function goToField(path) {
  const field = document.getElementById(`f-${path}`);
  if (!field) return false;
  for (let at = field.parentElement; at; at = at.parentElement) if (at instanceof HTMLDetailsElement) at.open = true;
  field.focus({ preventScroll: true });
  field.scrollIntoView({ block: "center" });
  return true;
}

/** The section of a field, for one that is not shown yet. @param {string} path @returns {string} */
function sectionOf(path) {
  return path.split(/[.[]/)[0];
}

/** The next field in a state of knowing, after the one that has or had the focus. @param {string} state @returns {void} */
function next(state) {
  const fields = [...document.querySelectorAll(`#case-form .field.${state}`)];
  const path = fields.length ? following(fields, last) : "";
  if (path) goToField(path);
}

/** The field last stood in. @type {Element | null} */
let last = null;

/** @param {Element[]} fields @param {Element | null} from @returns {string} the path of the one that follows, round the end */
function following(fields, from) {
  const here = from instanceof HTMLElement ? document.querySelector(`[data-path="${CSS.escape(from.dataset.path ?? "")}"]`) : null;
  const after = here ? fields.find((each) => here.compareDocumentPosition(each) & Node.DOCUMENT_POSITION_FOLLOWING) : null;
  const found = after ?? fields[0];
  return found instanceof HTMLElement ? (found.dataset.path ?? "") : "";
}

document.addEventListener("focusin", (event) => {
  const field = event.target instanceof Element ? event.target.closest("#case-form .field") : null;
  if (field) last = field;
});

/** The address with other values; one that is empty goes. @param {Record<string, string>} values @returns {string} */
function address(values) {
  const url = new URL(location.href);
  for (const [key, value] of Object.entries(values)) {
    if (value) url.searchParams.set(key, value);
    else url.searchParams.delete(key);
  }
  return `${url.pathname}${url.search}`;
}

/**
 * Links of the form that show more of it: the server makes that part anew.
 * @param {() => Promise<void>} refresh
 * @returns {void}
 */
export function bindLinks(refresh) {
  document.addEventListener("click", (event) => {
    if (event.ctrlKey || event.metaKey || event.shiftKey || event.button) return;
    const link = event.target instanceof Element ? event.target.closest("a") : null;
    if (!link) return;
    const { field, every, beside, add, next: state } = link.dataset;
    if (field === undefined && every === undefined && beside === undefined && add === undefined && !state) return;
    event.preventDefault();
    if (state) next(state);
    else if (field !== undefined) void lead(field, refresh);
    else void more({ every, beside, add }, refresh);
  });
}

/** To a field, of which the section may show only some. @param {string} path @param {() => Promise<void>} refresh @returns {Promise<void>} */
export async function lead(path, refresh) {
  if (goToField(path)) return;
  history.replaceState(history.state, "", address({ every: sectionOf(path) }));
  await refresh();
  const section = document.getElementById(`s-${sectionOf(path)}`);
  if (!goToField(path) && section instanceof HTMLDetailsElement) {
    section.open = true;
    section.scrollIntoView({ block: "center" });
  }
}

/** @param {{every?: string, beside?: string, add?: string}} asked @param {() => Promise<void>} refresh @returns {Promise<void>} */
async function more(asked, refresh) {
  const shown = new URLSearchParams(location.search).get("beside");
  const beside = asked.beside !== undefined && asked.beside === shown ? "" : asked.beside;
  /** @type {Record<string, string>} */
  const values = {};
  if (asked.every !== undefined) values.every = asked.every;
  if (beside !== undefined) values.beside = beside;
  if (asked.add !== undefined) values.add = asked.add;
  history.replaceState(history.state, "", address(values));
  await refresh();
  if (asked.beside) document.getElementById(`f-${asked.beside}`)?.focus();
  if (asked.add) /** @type {HTMLElement | null} */ (document.querySelector(".new input, .new select"))?.focus();
  const section = asked.every ? document.getElementById(`s-${asked.every}`) : null;
  if (section instanceof HTMLDetailsElement) section.open = true;
}
