// @ts-check
/** Light or dark: the system decides until the reader does; the choice stays in this browser. */

const KEY = "onedatum-theme";

/** @returns {string} the choice kept in this browser, or "" where it keeps none */
function kept() {
  try {
    return localStorage.getItem(KEY) ?? "";
  } catch {
    return "";
  }
}

/** @param {string} theme @returns {void} */
function show(theme) {
  document.documentElement.dataset.theme = theme;
  const dark = theme === "dark" || (theme === "" && matchMedia("(prefers-color-scheme: dark)").matches);
  for (const each of document.querySelectorAll("[data-theme-switch]")) {
    each.textContent = dark ? "Light" : "Dark";
    each.removeAttribute("hidden");
  }
  for (const each of document.querySelectorAll("[data-print]")) each.removeAttribute("hidden");
}

document.addEventListener("click", (event) => {
  const target = event.target instanceof Element ? event.target : null;
  if (target?.closest("[data-print]")) window.print();
  const button = target?.closest("[data-theme-switch]");
  if (!button) return;
  const theme = button.textContent === "Light" ? "light" : "dark";
  try {
    localStorage.setItem(KEY, theme);
  } catch {
    // a browser that keeps nothing shows the choice until the page is left
  }
  show(theme);
});
document.addEventListener("parts", () => show(kept()));
show(kept());
