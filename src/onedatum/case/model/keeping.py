"""Keeping the tank: table, filling and overfill, weighing."""

from __future__ import annotations

from typing import Annotated

from onedatum.case.kinds import Choice, FreeText, Quantity
from onedatum.case.leaf import Text, Value, Word
from onedatum.case.section import Section

THIS_GAUGE, SEPARATE_GAUGE, BY_HAND = "this gauge", "a separate gauge", "a person at the tank"
IN_AT_BOTTOM, IN_BY_DIP_PIPE, IN_FALLING = "bottom", "top, by a dip pipe", "top, falling freely"


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


class ResponseParts(Section):
    """The response time by its parts, in place of the whole; a part that does not occur is none."""

    detection: Annotated[
        Value,
        Quantity("time to detect and to announce the alarm", dimension="time", allowed="[0, 1e6]", example="10 s"),
    ]
    operator: Annotated[
        Value, Quantity("time until the operator acts", dimension="time", allowed="[0, 1e6]", example="5 min")
    ]
    travel: Annotated[
        Value, Quantity("time to reach valve or pump", dimension="time", allowed="[0, 1e6]", example="4 min")
    ]
    pump_run_down: Annotated[
        Value, Quantity("time the pump runs down", dimension="time", allowed="[0, 1e6]", example="20 s")
    ]
    valve_closure: Annotated[
        Value, Quantity("time the valve closes", dimension="time", allowed="[0, 1e6]", example="60 s")
    ]
    drain_back: Annotated[
        Value,
        Quantity(
            "time at the full rate that what drains from the line is worth",
            dimension="time",
            allowed="[0, 1e6]",
            example="30 s",
        ),
    ]


class SetPoints(Section):
    """Alarm levels as they are set or asked for, none where none is set yet; the study says how high they may stand."""

    LL: Annotated[Value, Quantity("low-low alarm (LL) as set", "paper", allowed="[-10, 200]", example="150 mm")]
    L: Annotated[Value, Quantity("low alarm (L) as set", "paper", allowed="[-10, 200]", example="300 mm")]
    H: Annotated[Value, Quantity("high alarm (H) as set", "paper", allowed="[-10, 200]", example="2500 mm")]
    HH: Annotated[Value, Quantity("high-high alarm (HH) as set", "paper", allowed="[-10, 200]", example="2600 mm")]
    AOPS: Annotated[
        Value,
        Quantity("automatic overfill prevention (AOPS) as set", "paper", allowed="[-10, 200]", example="2700 mm"),
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
    response_parts: ResponseParts
    automatic_response: Annotated[
        Value,
        Quantity(
            "time from the automatic overfill prevention (AOPS) to the end of filling",
            dimension="time",
            allowed="(0, 1e6]",
            example="60 s",
        ),
    ]
    working_response: Annotated[
        Value,
        Quantity(
            "filling time kept between the maximum working level (MW) and the alarm above it",
            dimension="time",
            allowed="(0, 1e6]",
            example="5 min",
        ),
    ]
    filling_stopped_by: Annotated[
        Word, Choice("what ends the filling in the usual course", words=(THIS_GAUGE, SEPARATE_GAUGE, BY_HAND))
    ]
    set_points: SetPoints
    fill_rate_now: Annotated[
        Value,
        Quantity(
            "filling rate now, for the forecast",
            "paper",
            dimension="volume flow",
            allowed="(0, 100]",
            example="0.8 m3/h",
        ),
    ]
    clock: Annotated[Text, FreeText("time of day of the level now, hours and minutes as 14:30", longest=5)]
    level_allowance: Annotated[
        Value, Quantity("allowance for the level at the alarm", allowed="[0, 10]", example="10 mm")
    ]
    foam: Annotated[Value, Quantity("height of foam allowed for", allowed="[0, 50]", example="50 mm")]
    least_gap: Annotated[Value, Quantity("least distance of an alarm below CH", allowed="[0, 10]", example="75 mm")]


class Filling(Section):
    """How the vessel is filled, as far as static charge asks."""

    inlet: Annotated[Word, Choice("where the liquid enters", words=(IN_AT_BOTTOM, IN_BY_DIP_PIPE, IN_FALLING))]
    pipe_bore: Annotated[
        Value, Quantity("smallest bore of the filling line upstream", allowed="(0, 5]", example="50 mm")
    ]
    start_rate: Annotated[
        Value,
        Quantity(
            "filling rate until the inlet is covered; none where it is filled at one rate",
            dimension="volume flow",
            allowed="(0, 100]",
            example="0.8 m3/h",
        ),
    ]
    diagonal: Annotated[
        Value, Quantity("diagonal of the cross-section of the vessel", allowed="(0, 200]", example="2.4 m")
    ]
    central_conductor: Annotated[
        Word, Choice("whether an earthed conductor reaches from the roof to the bottom", words=("yes", "no"))
    ]
    second_phase: Annotated[
        Word, Choice("whether a second phase, such as water, comes in or lies in the vessel", words=("yes", "no"))
    ]


class Weighing(Section):
    """How a weighing in air would be done."""

    air_density: Annotated[
        Value,
        Quantity("density of the air at the balance", dimension="density", allowed="[0, 20]", example="1.2 kg/m3"),
    ]
    weights_density: Annotated[
        Value, Quantity("density of the weights", dimension="density", allowed="[1000, 25000]", example="8000 kg/m3")
    ]
