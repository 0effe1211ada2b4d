// @ts-check
/** A formula that is wider than its place is scrolled, by keyboard too. */

for (const line of document.querySelectorAll(".line")) {
  if (line instanceof HTMLElement && line.scrollWidth > line.clientWidth) line.tabIndex = 0;
}

export {};
