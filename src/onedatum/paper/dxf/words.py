"""Text on the drawing: one line each, without the signs that the format reads as commands, and none over another."""

from collections.abc import Sequence

from onedatum.paper.text import printable

LONGEST = 160
COMMANDS = {"%%": "% %", "^": "ˆ", "\\": "/"}
"""Signs that the format would not print as they stand."""


def line_of(text: str) -> str:
    """A text as one line that is printed as it stands, cut where it is very long."""
    words = " ".join(printable(text).text.replace("\u200b", "").split())
    for sign, written in COMMANDS.items():
        words = words.replace(sign, written)
    return words if len(words) <= LONGEST else words[: LONGEST - 1] + "…"


def spaced(heights: Sequence[float], least: float) -> list[float]:
    """Rising heights moved apart, each at least so far above the last, as little as that takes."""
    placed: list[float] = []
    for height in heights:
        placed.append(height if not placed else max(height, placed[-1] + least))
    return placed
