"""Keeping the tank: table, overfill, weighing."""

from __future__ import annotations

from typing import Annotated

from onedatum.case.kinds import Choice, FreeText, Quantity
from onedatum.case.leaf import Text, Value, Word
from onedatum.case.section import Section


class TankTable(Section):
    """Where the tank table comes from and how good it is."""

    basis: Annotated[Word, Choice("basis of the tank table", words=("drawing", "calibration", "table of another"))]
    read_from: Annotated[
        Text, FreeText("file beside the case that holds the table: level [mm], volume [L]", "process", longest=120)
    ]
    step: Annotated[Value, Quantity("distance of the rows of the table", "paper", allowed="(0, 10]", example="10 mm")]
    date: Annotated[Text, FreeText("date the table holds from", longest=40)]
    U: Annotated[
        Value,
        Quantity(
            "expanded uncertainty of the table volume",
            dimension="share of value",
            allowed="[0, 1]",
            example="0.3 %value",
        ),
    ]
    k: Annotated[
        Value, Quantity("coverage factor of the table's uncertainty", dimension="number", allowed="[1, 5]", example="2")
    ]


class Overfill(Section):
    """The critical high level and what comes in before the filling stops."""

    CH: Annotated[Value, Quantity("critical high level (CH)", allowed="[0, 200]", example="2900 mm")]
    fill_rate_max: Annotated[
        Value,
        Quantity(
            "highest filling rate",
            dimension="volume flow",
            allowed="(0, 100]",
            why="no filling, no overfill",
            example="1.2 m3/h",
        ),
    ]
    response: Annotated[
        Value,
        Quantity(
            "response time from alarm to the end of filling", dimension="time", allowed="(0, 1e6]", example="15 min"
        ),
    ]
    level_allowance: Annotated[
        Value, Quantity("allowance for the level at the alarm", allowed="[0, 10]", example="10 mm")
    ]
    foam: Annotated[Value, Quantity("height of foam allowed for", allowed="[0, 50]", example="50 mm")]
    least_gap: Annotated[Value, Quantity("least distance of an alarm below CH", allowed="[0, 10]", example="75 mm")]


class Weighing(Section):
    """How a weighing in air would be done."""

    air_density: Annotated[
        Value,
        Quantity("density of the air at the balance", dimension="density", allowed="[0, 20]", example="1.2 kg/m3"),
    ]
    weights_density: Annotated[
        Value, Quantity("density of the weights", dimension="density", allowed="[1000, 25000]", example="8000 kg/m3")
    ]
