"""What standards and regulations say about overfill, row by row as the data hold it: to be shown, never a default."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from onedatum import data


@dataclass(frozen=True)
class Fact:
    """A statement of a document, with where it stands."""

    subject: str
    text: str
    source: str
    """Key and place in the register of sources."""
    tag: str
    """How far the text was seen."""


@cache
def overfill_facts() -> tuple[Fact, ...]:
    """Levels of concern in words, categories, gaps, times, and regulations, each with its source.

    Formula
    -------
    read from overfill_facts.json

    Parameters
    ----------
    none

    Returns
    -------
    tuple of Fact
        subject, text, source and tag; numbers stand in the text alone, so that none is taken for a value of the case

    Validity
    --------
    for reading; which text is in force where the vessel stands is for the case to say

    Source
    ------
    API 2350 and national regulations [each row has its tag]

    Example
    -------
    >>> overfill_facts()[0].text
    'Critical high is the level at which liquid overflows or damage begins.'
    """
    return tuple(Fact(**row) for row in data.table("overfill_facts.json")["facts"])
