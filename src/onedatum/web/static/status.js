// @ts-check
/** What the page says in words: the line at its foot, and the answer for who does not see it. */

const ANSWER_PAUSE_MS = 700;
const STAYS_MS = 6000;

let gone = 0;
let later = 0;
let announced = document.getElementById("answer")?.textContent?.trim() ?? "";

/** @param {string} text what is said, "" for nothing more @param {() => void} [cancel] what the button Cancel does @returns {void} */
export function say(text, cancel) {
  const line = document.getElementById("status-line");
  const status = document.getElementById("status");
  const button = document.getElementById("cancel");
  if (!line || !status || !button) return;
  clearTimeout(gone);
  status.textContent = text;
  line.hidden = text === "";
  button.hidden = !cancel;
  button.onclick = cancel ?? null;
}

/** Something that was done: it is said for a while. @param {string} text @returns {void} */
export function tell(text) {
  say(text);
  gone = window.setTimeout(() => say(""), STAYS_MS);
}

/** The answer is read out once the keys have been still for a while, and only where it is another. @returns {void} */
export function announce() {
  clearTimeout(later);
  later = window.setTimeout(() => {
    const answer = document.getElementById("answer")?.textContent?.replace(/\s+/g, " ").trim() ?? "";
    const wrong = document.querySelector(".counts.missing")?.textContent?.replace(/\s+/g, " ").trim() ?? "";
    const whole = [answer, wrong].filter(Boolean).join(" ");
    const place = document.getElementById("announced");
    if (!place || whole === announced) return;
    announced = whole;
    place.textContent = whole;
  }, ANSWER_PAUSE_MS);
}
