// @ts-check
/** What takes longer than the page itself is asked for once it stands: what would change a verdict, the questions. */

/** @typedef {{principle: string, sentence: string}} Flip */
/** @typedef {{text: string, decides: string}} Question */

/** @param {string} url @returns {Promise<any>} */
async function data(url) {
  const answer = await fetch(url);
  const told = await answer.json();
  if (!answer.ok) throw new Error(told.sentence);
  return told;
}

/** @returns {Promise<void>} */
async function flips() {
  const part = document.querySelector("[data-flips]");
  const url = part instanceof HTMLElement ? part.dataset.flips : "";
  if (!url) return;
  const places = /** @type {HTMLElement[]} */ ([...document.querySelectorAll("[data-flip]")]);
  try {
    /** @type {{flips: Flip[]}} */
    const told = await data(url);
    const sentences = new Map(told.flips.map((each) => [each.principle, each.sentence]));
    for (const place of places) place.textContent = sentences.get(place.dataset.flip ?? "") ?? "";
  } catch (error) {
    for (const place of places) place.textContent = `not worked: ${error instanceof Error ? error.message : "no answer"}`;
  }
}

/** @param {Question} one @returns {HTMLLIElement} */
function line(one) {
  const item = document.createElement("li");
  const quiet = document.createElement("span");
  quiet.className = "quiet";
  quiet.textContent = `decides ${one.decides}`;
  item.append(`${one.text} `, quiet);
  return item;
}

/** @returns {Promise<void>} */
async function questions() {
  const place = document.querySelector("[data-questions]");
  if (!(place instanceof HTMLElement)) return;
  try {
    /** @type {{sheet: null | {answer: string, deciding: Question[]}, words: string}} */
    const told = await data(place.dataset.questions ?? "");
    place.textContent = told.sheet ? told.sheet.answer : told.words;
    const list = document.createElement("ol");
    list.append(...(told.sheet?.deciding ?? []).map(line));
    if (list.childElementCount) place.after(list);
  } catch (error) {
    place.textContent = `Not worked: ${error instanceof Error ? error.message : "no answer"}`;
  }
}

await Promise.all([flips(), questions()]);

export {};
