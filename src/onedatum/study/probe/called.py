"""What a probe measures, in a word: grain and powder are no liquid."""

from __future__ import annotations

from onedatum.study.desk import Desk

LIQUID, BULK, GRAIN = "liquid", "bulk", "moist grain"


def called(desk: Desk) -> str:
    """As its entries call it."""
    return BULK if any(leaf.known for leaf in desk.case.medium.bulk.leaves()) else LIQUID
