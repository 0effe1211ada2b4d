"""What is asked: the rows of readings, from a file or from texts with their units, and the priors of the user's own."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from onedatum.foundation.errors import CaseError, Fault, ProvingError, QuantityError
from onedatum.foundation.units import read_quantity
from onedatum.foundation.units.grammar import quoted
from onedatum.jobs.proving.plan import Wished, file_bytes, plan_of
from onedatum.proving.causes import (
    ALLOWED,
    MEASURED,
    WAYS,
    Priors,
    Row,
    allowed,
    read_priors,
    read_rows,
    stated_priors,
    write_rows_form,
)
from onedatum.simulate import Instrument, instrument_of
from onedatum.study.result import Study

OPTIONS: Mapping[str, str] = {
    "dip": "dip_m",
    "current": "current_A",
    "voltage": "voltage_V",
    "supply": "supply_V",
    "temperature": "temperature_K",
    "shown": "shown_m",
    "volume": "volume_m3",
}
"""What is stated of one row by name: the field that each fills."""
WAY = "direction"
SHARES = (0.15, 0.5, 0.85)
"""Of the range: the levels of the empty form."""
MOST_WORDS = 500


@dataclass(frozen=True)
class Asked:
    """The readings, words on a recent change, and the priors that they are weighed by."""

    rows: tuple[Row, ...]
    change: str = ""
    priors: Priors | None = None
    """None for the table that ships."""
    table: str = ""
    """The name of a table of the user's own."""

    @property
    def held(self) -> Priors:
        """The priors that hold."""
        return self.priors or stated_priors()


def instrument_in(study: Study) -> Instrument:
    """The simulated instrument of a study; raises CaseError where the case does not tell enough of it."""
    found = instrument_of(study)
    if found is None:
        wants = "the range from 4 to 20 mA, the sensor and what it feels are needed to tell what a sound one would read"
        remedy = "Answer the questions of the case first"
        raise CaseError(
            [Fault("the case", "one of a known instrument", "one that leaves it open", wants, None, remedy)]
        )
    return found


def row_of(texts: Mapping[str, str]) -> Row:
    """One row from texts with their units, by the names of `OPTIONS`; raises CaseError with the fault of each."""
    kinds = dict(MEASURED.values())
    values: dict[str, Any] = {}
    faults = []
    for name, text in texts.items():
        if not text.strip():
            continue
        try:
            if name == WAY:
                values["is_rising"] = _way(text)
            else:
                values[OPTIONS[name]] = _value(OPTIONS[name], text, kinds[OPTIONS[name]])
        except QuantityError as error:
            faults.append(Fault(name, error.allowed, error.got, error.why, remedy=error.remedy))
    if faults:
        raise CaseError(faults)
    return Row(**values)


def _way(text: str) -> bool:
    if text.strip().lower() not in WAYS:
        raise QuantityError("up or down", quoted(text), "it says how the level came there")
    return WAYS[text.strip().lower()]


def _value(field: str, text: str, kind: str) -> float:
    value = read_quantity(text, kind)
    low, high, _ = ALLOWED[field]
    if not low <= value <= high:
        raise QuantityError(allowed(field), quoted(text), "leave out what was not read")
    return value


def read_rows_file(path: Path) -> tuple[Row, ...]:
    """The rows of a file; raises ProvingError with line and column of every fault."""
    return read_rows(file_bytes(path, "prove causes --form writes an empty form"), path.name)


def priors_of(content: bytes | str, name: str) -> Priors:
    """The priors of a table in JSON; raises ProvingError where it is none, CaseError with all that is wrong in it."""
    try:
        stated = json.loads(content)
    except (ValueError, RecursionError) as error:
        remedy = "Copy the table that ships and edit it"
        raise ProvingError(
            [Fault(name, "a table of priors in JSON", "another", f"{error}"[:120], None, remedy)]
        ) from None
    return read_priors(stated)


def read_priors_file(path: Path) -> Priors:
    """The priors of a file."""
    return priors_of(file_bytes(path, "docs/causes.md tells where the table that ships stands"), path.name)


def fields_of(instrument: Instrument) -> tuple[str, ...]:
    """What can be read of an instrument: without a test resistor nothing on it, without a tank table no volume."""
    left_out = {
        "voltage_V": not instrument.loop.test_ohm,
        "supply_V": not instrument.loop.whole,
        "volume_m3": instrument.body is None,
    }
    return tuple(field for field, _ in MEASURED.values() if not left_out.get(field, False))


def form_of(study: Study) -> bytes:
    """The empty form of a case: low, middle and high level, none above where its filling must stop."""
    instrument = instrument_in(study)
    low_m, high_m = sorted((instrument.lower_m, instrument.upper_m))
    levels_m = [low_m + share * (high_m - low_m) for share in SHARES]
    return write_rows_form(
        [min(level, _highest_m(study, high_m)) for level in levels_m], fields_of(instrument)
    ).encode()


def _highest_m(study: Study, high_m: float) -> float:
    """The highest level that a calibration of this case may be planned at."""
    try:
        return max(point.level_m for point in plan_of(study, Wished(3, 1)).points)
    except ProvingError:
        return high_m
