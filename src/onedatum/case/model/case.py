"""The case: one measuring point."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

from pydantic import BeforeValidator, ValidationInfo

from onedatum.case.kinds import Choice, FreeText, Listing, Quantity
from onedatum.case.leaf import Rows, Text, Value, Word
from onedatum.case.model.chamber import Chamber
from onedatum.case.model.choosing import OwnChoice
from onedatum.case.model.circuit import Loop
from onedatum.case.model.conditions import conditions_section
from onedatum.case.model.hazard import Charge, Circuit, Zone
from onedatum.case.model.instrument import Instrument, Range
from onedatum.case.model.keeping import Filling, Overfill, TankTable, Weighing
from onedatum.case.model.legs import Legs
from onedatum.case.model.liquid import Interface, Medium, OperatingState, Pressure, Wanted
from onedatum.case.model.place import Nozzle, Site
from onedatum.case.model.probe import Probe
from onedatum.case.model.safety import Safety
from onedatum.case.model.statement import Batch, Correlation, Legal, QuantityBasis, Tolerance
from onedatum.case.model.vessel import Vessel
from onedatum.case.reader import Absent, Notes
from onedatum.case.section import Section
from onedatum.case.tree import Node, Row
from onedatum.foundation.units import SYSTEMS

US_CUSTOMARY = "US customary"
MOST_STATES = 50
"""No case has more operating conditions."""


def _states(node: Any, info: ValidationInfo) -> list[Node | Absent]:
    """The list of states; anything else is noted and leaves the list empty."""
    notes: Notes = info.context  # type: ignore[assignment]
    if isinstance(node, Row):
        if len(node.items) > MOST_STATES:
            got = f"{len(node.items)} states"
            notes.fault(node.items[MOST_STATES], f"one of at most {MOST_STATES} states", got, "no case has so many")
        return list(node.items[:MOST_STATES])
    if not isinstance(node, Absent):
        notes.fault(node, "a list of states, each starting with a dash", "no list")
    return []


if TYPE_CHECKING:
    Conditions = Section
else:
    Conditions = conditions_section()  # made from its table


class Case(Section):
    """One measuring point."""

    onedatum: Annotated[Word, Choice("version of the form of the case", side="paper", words=("1",))]
    invented: Annotated[Word, Choice("whether the case is invented", side="paper", words=("yes", "no"))]
    tag: Annotated[Text, FreeText("tag of the measuring point", longest=80)]
    service: Annotated[Text, FreeText("service", longest=200)]
    author: Annotated[Text, FreeText("author of the case", longest=80)]
    checker: Annotated[Text, FreeText("checker of the case", longest=80)]
    revision: Annotated[Text, FreeText("revision of the case", longest=40)]
    date: Annotated[Text, FreeText("date of the case", longest=40)]
    print_units: Annotated[Word, Choice("units that results are printed in", side="paper", words=tuple(SYSTEMS))]
    site: Site
    vessel: Vessel
    nozzle: Nozzle
    medium: Medium
    interface: Interface
    pressure: Pressure
    wanted: Wanted
    conditions: Conditions
    choosing: OwnChoice
    states: Annotated[tuple[OperatingState, ...], BeforeValidator(_states)]
    zone: Zone
    instrument: Instrument
    chamber: Chamber
    legs: Legs
    probe: Probe
    range: Range
    level_now: Annotated[
        Value, Quantity("level now, as read", "paper", allowed="[-10, 200]", example="{value: 1850 mm, within: 0.5 mm}")
    ]
    datum_error: Annotated[
        Value,
        Quantity(
            "error of the datum against the zero of the table", allowed="[-1, 1]", example="{value: 0 mm, within: 2 mm}"
        ),
    ]
    gauge_scale_error: Annotated[
        Value,
        Quantity(
            "error of the gauge in share of its reading",
            dimension="share of value",
            allowed="[-0.1, 0.1]",
            example="{value: 0 %value, u: 0.02 %value}",
        ),
    ]
    thermometer_error: Annotated[
        Value,
        Quantity(
            "error of the thermometer common to all its readings",
            dimension="temperature difference",
            allowed="[-20, 20]",
            example="{value: 0 K, within: 0.2 K}",
        ),
    ]
    table: TankTable
    quantity: QuantityBasis
    batch: Batch
    tolerance: Tolerance
    legal: Legal
    correlations: Annotated[Rows, Listing("inputs whose errors go together", of=Correlation)]
    overfill: Overfill
    filling: Filling
    loop: Loop
    circuit: Circuit
    charge: Charge
    safety: Safety
    weighing: Weighing
