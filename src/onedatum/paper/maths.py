"""Formulas on paper: maths where it can be set, plain text where it cannot. One broken string never breaks a paper."""

from onedatum.paper.text import printable
from onedatum.paper.typeset import can_be_set

LONGEST = 2000


def settable(maths: set[str]) -> set[str]:
    """The strings that can be set as maths. Code is refused unseen, a formula has none; so is what has no glyph."""
    return sound(sorted(m for m in maths if m.strip() and harmless(m)))


def harmless(maths: str) -> bool:
    """Whether a string is short, free of code and of characters that no font holds."""
    return len(maths) <= LONGEST and "#" not in maths and not printable(maths).missing


def sound(maths: list[str]) -> set[str]:
    """Try all at once; halve where that fails, until the broken ones stand alone."""
    if not maths:
        return set()
    if can_be_set(maths):
        return set(maths)
    if len(maths) == 1:
        return set()
    middle = len(maths) // 2
    return sound(maths[:middle]) | sound(maths[middle:])


def spoken(maths: str) -> str:
    """The plain text of a maths string: quotes dropped, all else as it stands."""
    return printable(maths.replace('"', "")).text
