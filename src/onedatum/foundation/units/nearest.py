"""The nearest known word to one that is not known: for "did you mean" beside a fault."""

from __future__ import annotations

from collections.abc import Iterable

LONGEST = 60
"""Longer words are not compared: comparing takes the product of both lengths."""


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word that is most like `word`, or None where nothing is alike. Case does not matter."""
    from difflib import get_close_matches

    if not word or len(word) > LONGEST:
        return None
    by_lower: dict[str, str] = {}
    for candidate in known:
        by_lower.setdefault(candidate.lower(), candidate)
    found = get_close_matches(word.lower(), by_lower, n=1, cutoff=0.6)
    return by_lower[found[0]] if found else None


def hint(word: str, known: Iterable[str], otherwise: str = "") -> str:
    """The remedy for a word that is not known: the nearest that is, else `otherwise`."""
    near = nearest(word, known)
    return f"Nearest: {near}" if near else otherwise
