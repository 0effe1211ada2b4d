"""What a site brings to the choice: limits it sets otherwise, instruments it has figures of, what it prefers."""

from __future__ import annotations

from typing import Annotated

from onedatum import data
from onedatum.case.kinds import PRESSURE, Choice, FreeText, Listing, Quantity
from onedatum.case.leaf import Rows, Text, Value, Word
from onedatum.case.section import Section

TITLES = "rule_titles.json"
"""It is small; the rules themselves are read only where they are judged."""
PRINCIPLES: tuple[str, ...] = tuple(data.table(TITLES)["principles"])
CRITERIA = ("verdict", "orderable", "left", "conditions", "questions", "requirements")
"""The usual order: a better verdict first, then what leaves only requirements of the order, then what leaves least."""


class OwnLimit(Section):
    """One limit of one rule that the site sets otherwise."""

    rule: Annotated[Text, FreeText("rule whose limit is set otherwise", longest=80)]
    quantity: Annotated[Text, FreeText("quantity that it limits", longest=80)]
    was: Annotated[Text, FreeText("limit as the rule has it", longest=60)]
    now: Annotated[Text, FreeText("limit of the site", longest=60)]
    said_by: Annotated[Text, FreeText("who sets it", longest=80)]
    reason: Annotated[Text, FreeText("why", longest=400)]


class OwnInstrument(Section):
    """Figures of an instrument from the user's own data sheet."""

    name: Annotated[Text, FreeText("name of the instrument in the user's own papers", longest=80)]
    principle: Annotated[Word, Choice("principle of the instrument", "paper", words=PRINCIPLES)]
    temperature_min: Annotated[
        Value, Quantity("lowest temperature of the medium", "paper", dimension="temperature", allowed="[0, 1300]")
    ]
    temperature_max: Annotated[
        Value, Quantity("highest temperature of the medium", "paper", dimension="temperature", allowed="[73, 1300]")
    ]
    ambient_min: Annotated[
        Value,
        Quantity("lowest temperature of the air at the head", "paper", dimension="temperature", allowed="[0, 500]"),
    ]
    ambient_max: Annotated[
        Value,
        Quantity("highest temperature of the air at the head", "paper", dimension="temperature", allowed="[73, 500]"),
    ]
    pressure_max: Annotated[
        Value, Quantity("highest pressure", "paper", dimension=PRESSURE, allowed="[0, 1e9]", example="16 bar(g)")
    ]
    length_max: Annotated[Value, Quantity("greatest length", "paper", allowed="(0, 200]", example="4 m")]


class Criterion(Section):
    """One criterion of the order of preference."""

    criterion: Annotated[Word, Choice("criterion of the order of preference", "paper", words=CRITERIA)]


class OwnChoice(Section):
    """What the site brings to the choice; often kept in a file beside the case."""

    limits: Annotated[Rows, Listing("limits that the site sets otherwise", "paper", of=OwnLimit, whole=True)]
    instruments: Annotated[
        Rows, Listing("instruments with the user's own figures", "paper", of=OwnInstrument, whole=True)
    ]
    criteria: Annotated[Rows, Listing("order of preference, the weightiest first", "paper", of=Criterion, whole=True)]
