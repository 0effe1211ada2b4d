"""Functional safety of the overfill protection: what is asked of it, and its subsystems by their failure data."""

from __future__ import annotations

from typing import Annotated

from onedatum.case.kinds import Choice, FreeText, Listing, Quantity
from onedatum.case.leaf import Rows, Text, Value, Word
from onedatum.case.section import Section

LOW_DEMAND = "at most once a year"
ARCHITECTURES = ("1oo1", "1oo2", "2oo2", "2oo3")
SENSOR = "sensor"
PLACES = (SENSOR, "logic", "final element")
_SHARE = "share of value"


class Subsystem(Section):
    """One subsystem of the safety function; failure data come with the source they were taken from."""

    name: Annotated[Text, FreeText("name of the subsystem", longest=60)]
    place: Annotated[Word, Choice("what the subsystem is in the function", words=PLACES)]
    architecture: Annotated[Word, Choice("architecture of the subsystem", words=ARCHITECTURES)]
    dangerous_failure_rate: Annotated[
        Value,
        Quantity(
            "rate of dangerous failures of one channel",
            dimension="rate",
            allowed="(0, 3e-7]",
            why="a channel that fails dangerously oftener than once in forty days is none",
            example='{value: 2.5e-7 1/h, source: "failure data of the maker, report and edition"}',
        ),
    ]
    diagnostic_coverage: Annotated[
        Value,
        Quantity("diagnostic coverage of dangerous failures", dimension=_SHARE, allowed="[0, 1)", example="60 %value"),
    ]
    beta: Annotated[
        Value,
        Quantity(
            "share of undetected failures of common cause", dimension=_SHARE, allowed="[0, 1]", example="5 %value"
        ),
    ]
    beta_detected: Annotated[
        Value,
        Quantity(
            "share of detected failures of common cause", dimension=_SHARE, allowed="[0, 1]", example="2.5 %value"
        ),
    ]
    proof_test_interval: Annotated[
        Value, Quantity("time between two proof tests", dimension="time", allowed="(0, 1e9]", example="8760 h")
    ]
    proof_test_coverage: Annotated[
        Value,
        Quantity(
            "share of the undetected failures that the proof test finds",
            dimension=_SHARE,
            allowed="[0, 1]",
            example="80 %value",
        ),
    ]
    renewal_interval: Annotated[
        Value,
        Quantity(
            "time after which the subsystem is renewed or wholly tested",
            dimension="time",
            allowed="(0, 4e9]",
            example="87600 h",
        ),
    ]
    repair_time: Annotated[
        Value,
        Quantity("mean repair time after a proof test (MRT)", dimension="time", allowed="[0, 1e8]", example="8 h"),
    ]
    restoration_time: Annotated[
        Value,
        Quantity(
            "mean time to restoration of a detected failure (MTTR)", dimension="time", allowed="(0, 1e8]", example="8 h"
        ),
    ]
    systematic_capability: Annotated[
        Word, Choice("systematic capability by the certificate", words=("1", "2", "3", "4"))
    ]


class Safety(Section):
    """What is asked of the overfill protection as a safety function."""

    SIL: Annotated[Word, Choice("safety integrity level asked of the function", words=("1", "2", "3", "4", "none"))]
    demand: Annotated[
        Word, Choice("how often the function is called upon", words=(LOW_DEMAND, "more often or continuously"))
    ]
    subsystems: Annotated[Rows, Listing("subsystems of the safety function", of=Subsystem, longest=20)]
