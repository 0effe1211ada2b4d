"""The quantity statement: what a volume is stated at, what is taken off it, batches, tolerances, limits of the law."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from onedatum import data
from onedatum.case.kinds import Choice, FreeText, Quantity
from onedatum.case.leaf import Text, Value, Word
from onedatum.case.section import Section

AT_15_DEGC, AT_20_DEGC, AT_60_DEGF = "15 degC", "20 degC", "60 degF"
EXACT, ROUNDED = "exact", "rounded as the standard"
SIMPLE, GUARDED, GUARDED_REJECTION = "simple acceptance", "guarded acceptance", "guarded rejection"


def _keys(file: str) -> tuple[str, ...]:
    """The keys of a table of limits."""
    return tuple(row["key"] for row in data.table(file)["limits"])


GAUGE_KEYS, TABLE_KEYS = _keys("gauge_limits.json"), _keys("table_limits.json")
"""What the limits of the law are called in a case."""


class QuantityBasis(Section):
    """What standard volumes are stated at, and what is in the tank beside the product."""

    reference_temperature: Annotated[
        Word, Choice("temperature that standard volumes are stated at", words=(AT_15_DEGC, AT_20_DEGC, AT_60_DEGF))
    ]
    arithmetic: Annotated[
        Word, Choice("petroleum factors, exact or with the rounding of the standard", words=(EXACT, ROUNDED))
    ]
    free_water_level: Annotated[
        Value, Quantity("level of free water and bottom sediment", allowed="[-50, 200]", example="42 mm")
    ]
    free_water: Annotated[
        Value,
        Quantity(
            "volume of free water and bottom sediment, in place of its level",
            dimension="volume",
            allowed="[0, 1e6]",
            example="12 m3",
        ),
    ]
    sediment_and_water: Annotated[
        Value,
        Quantity(
            "sediment and water in the product, by volume",
            dimension="volume fraction",
            allowed="[0, 1)",
            example="0.05 %vol",
        ),
    ]


class Batch(Section):
    """What was delivered or taken between two levels."""

    level_before: Annotated[
        Value,
        Quantity("level before, as read", "paper", allowed="[-10, 200]", example="{value: 6000 mm, u: 0.7 mm}"),
    ]
    level_after: Annotated[
        Value,
        Quantity("level after, as read", "paper", allowed="[-10, 200]", example="{value: 2000 mm, u: 0.7 mm}"),
    ]
    temperature_before: Annotated[
        Value,
        Quantity("temperature of the liquid before", "paper", dimension="temperature", allowed="[73, 1300]"),
    ]
    temperature_after: Annotated[
        Value,
        Quantity("temperature of the liquid after", "paper", dimension="temperature", allowed="[73, 1300]"),
    ]
    U: Annotated[
        Value,
        Quantity(
            "expanded uncertainty wanted of the batch",
            dimension="share of value",
            allowed="(0, 1]",
            example="0.5 %value",
        ),
    ]
    k: Annotated[
        Value, Quantity("coverage factor of the uncertainty wanted", dimension="number", allowed="[1, 5]", example="2")
    ]


class Tolerance(Section):
    """What the quantity must not leave, and the rule by which that is decided."""

    rule: Annotated[Word, Choice("rule of the decision (JCGM 106)", words=(SIMPLE, GUARDED, GUARDED_REJECTION))]
    guard_factor: Annotated[
        Value,
        Quantity(
            "width of the guard band as a multiple of the expanded uncertainty (k = 2)",
            dimension="number",
            allowed="(0, 5]",
            example="1",
        ),
    ]
    volume_at_least: Annotated[Value, Quantity("least volume allowed", dimension="volume", allowed="[0, 1e6]")]
    volume_at_most: Annotated[Value, Quantity("greatest volume allowed", dimension="volume", allowed="[0, 1e6]")]
    mass_at_least: Annotated[
        Value, Quantity("least mass allowed", dimension="mass", allowed="[0, 1e10]", example="5 t")
    ]
    mass_at_most: Annotated[
        Value, Quantity("greatest mass allowed", dimension="mass", allowed="[0, 1e10]", example="25 t")
    ]


class Legal(Section):
    """The limits of the law that the uncertainty is compared with."""

    gauge: Annotated[Word, Choice("limit for the level gauge", words=GAUGE_KEYS)]
    table: Annotated[Word, Choice("limit for the tank table", words=TABLE_KEYS)]


class Correlation(Section):
    """Two inputs whose errors go together."""

    between: Annotated[Text, FreeText("path of one input, for example medium.temperature", "process", longest=120)]
    and_: Annotated[Text, Field(alias="and"), FreeText("path of the other", "process", longest=120)]
    r: Annotated[
        Value,
        Quantity("their correlation coefficient", dimension="number", allowed="[-1, 1]", example="0.8"),
    ]
