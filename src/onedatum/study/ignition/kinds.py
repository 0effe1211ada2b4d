"""Gas and dust are kinds apart: neither is more than the other, so none is too low for the other."""

from __future__ import annotations

from onedatum.study.desk import NONE

GAS, DUST = "gas", "dust"
OTHER_KIND = "{0} is for {1}, the zone is one of {2}: neither serves the other"


def kind_of(word: str) -> str:
    """Whether a group or a protection level (EPL) is one of gas or of dust."""
    return DUST if word.startswith(("III", "D")) else GAS


def ranked(what: str, words: tuple[str, str], has: str, needed: str) -> tuple[tuple[str, str], str]:
    """The words of a comparison by rank, and its sense; of two kinds it is no rank that is missing."""
    if has in ("", NONE) or not needed or kind_of(has) == kind_of(needed):
        return words, "at least"
    return (words[0], OTHER_KIND.format(what, kind_of(has), kind_of(needed))), f"of {kind_of(needed)}, as"
