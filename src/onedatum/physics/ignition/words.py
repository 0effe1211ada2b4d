"""Words and single numbers of this room: what is not known is refused, a word with the list of those that are."""

from __future__ import annotations

from collections.abc import Iterable
from math import isfinite, nan

from onedatum.foundation.errors import QuantityError

_LONGEST = 60
"""Characters of what was given that a complaint repeats."""


def one_of(word: str, words: Iterable[str], why: str, remedy: str = "") -> str:
    """The word itself if it is among the words; else it is refused."""
    listed = list(words)
    if word not in listed:
        raise QuantityError(f"one of {', '.join(listed)}", said(word), why, remedy)
    return word


def said(word: object) -> str:
    """What was given, as it is named in a complaint: no longer than can be read."""
    text = word if isinstance(word, str) and word.strip() else repr(word)
    return text if len(text) <= _LONGEST else f"{text[:_LONGEST]}..."


def above_zero(value: object, allowed: str, why: str, or_zero: bool = False) -> float:
    """The value itself if it is one finite number above zero, or zero where that is allowed; else it is refused."""
    found = float(value) if isinstance(value, float | int) and not isinstance(value, bool) else nan
    if isfinite(found) and (found > 0 or (or_zero and found == 0)):
        return found
    raise QuantityError(allowed, said(value), why)


def tidied(name: object) -> str:
    """A name in small letters with single blanks, empty where it is no text."""
    return " ".join(name.split()).casefold() if isinstance(name, str) else ""
