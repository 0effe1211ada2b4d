"""No two words of the ruler stand over each other at the design size."""

from __future__ import annotations

import pytest

from system.conftest import EXAMPLES, Server, Watched
from system.pages import calm

CASES = sorted(file.stem for file in EXAMPLES.glob("*.yaml"))
OVERLAPS = """() => {
  const seen = (node) => getComputedStyle(node).visibility === "visible" && node.getClientRects().length > 0;
  const words = [...document.querySelectorAll("#ruler svg text, #ruler .readout")].filter(
    (node) => seen(node) && node.textContent.trim());
  const boxes = words.map((node) => [node.textContent.trim(), node.getBoundingClientRect()]);
  const found = [];
  boxes.forEach(([a, p], i) => boxes.slice(i + 1).forEach(([b, q]) => {
    const wide = Math.min(p.right, q.right) - Math.max(p.left, q.left);
    const high = Math.min(p.bottom, q.bottom) - Math.max(p.top, q.top);
    const line = Math.min(p.height, q.height);
    if (wide > 1 && high > 0.25 * line) found.push(`${a} / ${b}: ${wide.toFixed(1)} x ${high.toFixed(1)} px`);
  }));
  return {count: boxes.length, found};
}"""


@pytest.mark.parametrize("case", CASES)
def test_no_words_stand_over_each_other(server: Server, desk: Watched, case: str) -> None:
    """A box of text is a line high, with room over and under the letters: a quarter of it may be shared."""
    desk.page.goto(f"{server.link}/cases/{case}")
    calm(desk.page)
    told = desk.page.evaluate(OVERLAPS)
    assert told["count"] > 10
    assert told["found"] == []
