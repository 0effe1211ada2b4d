"""Known levels as they are typed, "dip 1.350 m, 11.52 mA", and what they say of range, output, datum and slope."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from typing import Any

from onedatum.case.reading import Statement
from onedatum.foundation.constants import VERSION
from onedatum.foundation.errors import Fault, QuantityError
from onedatum.foundation.units import read_quantity
from onedatum.jobs.reading import Reading, for_sensors, reading_of
from onedatum.proving.commissioning import Adjusting, Known, Within, adjusting, faults_of
from onedatum.study.cautions import CAUTIONS, CHARGE, LOOP
from onedatum.study.form import entry_json, fault_json
from onedatum.study.result import Study
from onedatum.study.study import study

SAID = "--known"
DIP, DIGITAL = "dip", "digital"
ALLOWED = 'a dip and a reading, for example "dip 1.350 m, 11.52 mA", with "digital 1.352 m" behind it where it was read'
COMMA = "commas part the dip, the reading and the digital level; a decimal sign is a point"
TOGETHER = "levels and uncertainties that tell nothing together"
LONGEST = 120
_FEET = re.compile(r"^.*ft +")
"""Of feet with inches: what stands before the inches, which are what it was read to."""
CAUTIONS_OF = (
    LOOP,
    CHARGE,
    "Adjusting: what is set or trimmed changes alarms and shut-downs that stand on this signal. Agree it with whoever "
    "answers for them, put loops to manual by the procedure of the site, and test the alarms afterwards.",
)


@dataclass(frozen=True)
class Typed:
    """A known level as typed, in its parts."""

    dip: str
    reading: str
    digital: str = ""


def adjusted_of(
    statement: Statement, texts: Sequence[str], on: str = "", dip_within: str = "", meter_within: str = ""
) -> Adjusting | tuple[Fault, ...]:
    """What known levels say of a case, or what is wrong with them."""
    return adjusted_in(for_sensors(statement, study(statement)), texts, on, dip_within, meter_within)


def adjusted_in(
    found: Study, texts: Sequence[str], on: str = "", dip_within: str = "", meter_within: str = ""
) -> Adjusting | tuple[Fault, ...]:
    """The same of a study."""
    typed = [typed_of(text) for text in texts]
    faults = tuple(each for each in typed if isinstance(each, Fault))
    if faults:
        return faults
    sound = [each for each in typed if isinstance(each, Typed)]
    return adjusted_from(found, sound, on, dip_within, meter_within)


def adjusted_from(
    found: Study,
    typed: Sequence[Typed],
    on: str = "",
    dip_within: str = "",
    meter_within: str = "",
    said_as: str = SAID,
) -> Adjusting | tuple[Fault, ...]:
    """The same of known levels in their parts; `said_as` names them in faults."""
    if found.value("range.4 mA") is None or found.value("range.20 mA") is None:
        return (Fault(said_as, "given for a case whose range is known", "an unknown range", "state 4 mA and 20 mA"),)
    known = [known_of(found, each, on, said_as) for each in typed]
    widths = width_of(dip_within, "length", "--dip-within"), width_of(meter_within, "current", "--meter-within")
    faults = [each for each in (*known, *widths) if isinstance(each, Fault)]
    sound = [each for each in known if isinstance(each, Known)]
    faults += faults_of(found, sound, said_as) if not faults else ()
    if faults:
        return tuple(faults)
    dip, meter = (each if isinstance(each, float) else None for each in widths)
    told = adjusting(found, sound, Within(dip, meter))
    if told.sheet.faults:
        why = f"the working leaves what its formulas hold for: {told.sheet.faults[0].got}"
        return (Fault(said_as, "far enough from the other, and known well enough, to tell anything", TOGETHER, why),)
    return told


def width_of(text: str, kind: str, said_as: str) -> float | Fault | None:
    """A half-width; None where nothing is typed."""
    if not text.strip():
        return None
    try:
        value = read_quantity(text, kind)
    except QuantityError as error:
        return Fault(said_as, error.allowed, error.got, error.why, remedy=error.remedy)
    most = {"length": 10.0, "current": 0.01}[kind]
    if not 0.0 <= value <= most:
        return Fault(said_as, "a half-width, not below 0 and far below the span", f'"{text.strip()}"')
    return value


def typed_of(text: str) -> Typed | Fault:
    """The parts of a known level as typed in one text."""
    parts = [" ".join(part.split()) for part in text[:LONGEST].split(",")]
    dips = [part[len(DIP) :].strip() for part in parts if part.casefold().startswith(DIP)]
    digital = [part[len(DIGITAL) :].strip() for part in parts if part.casefold().startswith(DIGITAL)]
    readings = [part for part in parts if not part.casefold().startswith((DIP, DIGITAL))]
    if len(dips) != 1 or len(readings) != 1 or len(digital) > 1 or not readings[0]:
        return Fault(SAID, ALLOWED, f'"{text.strip()[:LONGEST]}"', COMMA)
    return Typed(dips[0], readings[0], *digital)


def known_of(found: Study, typed: Typed, on: str = "", said_as: str = SAID) -> Known | Fault:
    """One known level read."""
    dip = _length(typed.dip, f"{said_as}, the dip,")
    if isinstance(dip, Fault):
        return dip
    told = _length(typed.digital, f"{said_as}, the digital level,") if typed.digital else (None, 0.0)
    if isinstance(told, Fault):
        return told
    on = on if typed.reading.rstrip().endswith("V") else ""
    reading = reading_of(found, typed.reading, on, said_as)
    if isinstance(reading, Fault):
        return reading
    if reading.level_m is None:
        return Fault(said_as, "read where the signal tells a level", f'"{reading.text}"', reading.why)
    return _known(found, reading, dip, told, on)


def _known(
    found: Study, reading: Reading, dip: tuple[float, float], told: tuple[float | None, float], on: str
) -> Known:
    digit_A, digit_m = _digit(found, reading, on)
    return Known(
        text=reading.text,
        dip_m=dip[0],
        dip_digit_m=dip[1],
        shown_m=reading.level_m or 0.0,
        current_A=reading.current_A,
        digit_A=digit_A,
        capacitance_F=reading.value if reading.unit == "F" else None,
        digit_m=digit_m,
        digital_m=told[0],
        digital_digit_m=told[1],
    )


def _length(text: str, said_as: str) -> tuple[float, float] | Fault:
    """A length and the digit it was read to; of feet with inches, that of the inches."""
    text = " ".join(text.replace("\u2212", "-").split())
    try:
        value = read_quantity(text, "length")
        digit = _FEET.sub("", text) if text.endswith("in") else text
        return value, read_quantity(f"{_last(digit)} {_unit(digit)}", "length")
    except QuantityError as error:
        return Fault(said_as, error.allowed, error.got, error.why, remedy=error.remedy)


def _digit(found: Study, reading: Reading, on: str) -> tuple[float, float]:
    """The last digit of a reading, as a current or, of the sensor itself, as a level."""
    number, step = _number(reading.text), _last(reading.text)
    for moved in (number + step, number - step):
        beside = reading_of(found, f"{moved} {_unit(reading.text)}".strip(), on)
        if isinstance(beside, Fault):
            continue
        if reading.current_A is not None and beside.current_A is not None:
            return abs(beside.current_A - reading.current_A), 0.0
        if reading.level_m is not None and beside.level_m is not None:
            return 0.0, abs(beside.level_m - reading.level_m)
    return 0.0, 0.0


def _number(text: str) -> Decimal:
    try:
        return Decimal(text.split(" ", 1)[0].rstrip("%"))
    except InvalidOperation:
        return Decimal(0)


def _last(text: str) -> Decimal:
    """One in the last place of the number of a text."""
    exponent = _number(text).as_tuple().exponent
    return Decimal(1).scaleb(exponent if isinstance(exponent, int) else 0)


def _unit(text: str) -> str:
    return text.split(" ", 1)[1] if " " in text else ""


def adjusted_json(found: Adjusting) -> dict[str, Any]:
    """What known levels say in its JSON form, with every number of the working."""
    return {
        "tool_version": VERSION,
        "tag": found.tag,
        "difference": found.key,
        "title": found.title,
        "said": list(found.said),
        "open": list(found.open_),
        "numbers": [entry_json(entry) for entry in found.sheet.entries.values()],
        "faults": [fault_json(fault) for fault in found.faults],
        "cautions": [*CAUTIONS_OF, *CAUTIONS],
    }
