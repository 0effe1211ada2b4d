"""What a reading tells: a current, its voltage on a resistor, a per cent of the span, or the sensor's own signal.

The level of a current follows from the range; that of a capacitance, a time of flight or a difference on the legs is
read off the same scale that the page draws, so both say the same. Beyond the measurement information, and beyond the
end of the loop, no level is promised.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from onedatum.case.change import with_level
from onedatum.case.reading import Statement
from onedatum.foundation.constants import VERSION
from onedatum.foundation.errors import Fault, QuantityError
from onedatum.foundation.units import DIMENSIONS, in_unit, read_one_of, read_quantity, show
from onedatum.jobs.page.level import solved
from onedatum.jobs.page.scales import page_scales
from onedatum.jobs.signal import signal_json
from onedatum.physics.loop import current_A, current_of_voltage_A, level_at_current_m, signal_state, state_meanings
from onedatum.study.cautions import CAUTIONS
from onedatum.study.form import fault_json
from onedatum.study.result import Study
from onedatum.study.scales import sensed
from onedatum.study.study import study

AT_THE_END_A = 5e-6
"""A reading this near the end of the loop stands on it: half of the last figure a meter shows."""
MOST_A = 0.1
LONGEST = 60
OUTPUT = ("current", "voltage", "share of span")
SENSOR = {"capacitance": "probe.", "time": "waveguide.", "pressure difference": "legs."}
"""Kinds of what a sensor itself tells, and where its entry stands."""
ALLOWED = 'a reading with its unit, for example "14.37 mA", "143.7 mV", "64.8 %", or what the sensor itself tells'


@dataclass(frozen=True)
class Reading:
    """What a reading tells."""

    text: str
    state: str
    """What the current tells of itself; of a sensor's own signal that it is such a one."""
    level_m: float | None
    """The level over the datum; None where none is promised."""
    current_A: float | None = None
    """Of a reading of the output."""
    value: float | None = None
    """Of a reading of the sensor itself, in SI."""
    unit: str = ""
    """SI unit of that."""
    why: str = ""
    """Why no level is promised."""
    at_end_of_loop: bool = False
    """Whether it is the supply that ends the current."""

    @property
    def of_sensor(self) -> bool:
        """Whether it is the sensor's own signal."""
        return self.value is not None


def reading_of(found: Study, text: str, on: str = "", said_as: str = "--reading") -> Reading | Fault:
    """Read a reading against the range and the sensor of a case; `on` is the resistor that a voltage is read on."""
    typed = " ".join(text.replace("−", "-").replace("%", " %").split())[:LONGEST]
    try:
        value, kind = read_one_of(_with_unit(typed), (*OUTPUT, *SENSOR))
    except QuantityError as error:
        return Fault(said_as, ALLOWED, error.got, error.why, remedy=error.remedy)
    if on.strip() and kind != "voltage":
        return Fault(_on(said_as), "left away unless the reading is a voltage", f'"{on.strip()}" with "{typed}"')
    if kind in SENSOR:
        return _of_sensor(found, value, kind, typed, said_as)
    current = _current(found, (value, kind), typed, on.strip(), said_as)
    return current if isinstance(current, Fault) else of_current(found, current, typed)


def of_current(found: Study, current: float, typed: str) -> Reading:
    """What a current tells: its level, or why it tells none."""
    state = signal_state(current, found.safe.bands)
    meaning = state_meanings()[state].meaning
    lower, upper = found.value("range.4 mA"), found.value("range.20 mA")
    if lower is None or upper is None or lower == upper:
        return Reading(typed, meaning, None, current, why="the range is not known, so no level follows from it")
    if state != "measuring":
        return Reading(typed, meaning, None, current, why="no level: the current is no measurement information")
    level = float(level_at_current_m(current, lower, upper))
    if _loop_ends(found, current):
        last, side = show(found.value("loop.last_good_current"), "mA"), "higher" if upper > lower else "lower"
        why = f"no reliable signal above {last}, the loop is at its end: the level may be {side}"
        return Reading(typed, meaning, None, current, why=why, at_end_of_loop=True)
    why = _at_an_end(found, current, upper > lower)
    return Reading(typed, meaning, None if why else level, current, why=why)


@dataclass(frozen=True)
class Told:
    """A reading, and the study of the case with its level put in for the level now; as stated where it tells none."""

    reading: Reading
    found: Study


def told_of(statement: Statement, text: str, on: str = "") -> Told | Fault:
    """What a reading of a case tells."""
    found = for_sensors(statement, study(statement))
    reading = reading_of(found, text, on)
    if isinstance(reading, Fault):
        return reading
    if reading.level_m is None:
        return Told(reading, study(statement))
    return Told(reading, study(with_level(statement, f"{1e3 * reading.level_m:.2f} mm", "--reading")))


def for_sensors(statement: Statement, found: Study) -> Study:
    """The study, at the middle of the range where no level is stated: a scale is worked from some level, whichever."""
    lower, upper = found.value("range.4 mA"), found.value("range.20 mA")
    if found.sheet["level_now"].known or lower is None or upper is None or lower == upper:
        return found
    level = float(level_at_current_m(0.012, lower, upper))
    return study(with_level(statement, f"{1e3 * level:.2f} mm", "--reading"))


def dip_words(found: Study) -> str:
    """What a dip should then show; the errors of scale and datum that the case states are counted in."""
    sheet = found.sheet
    level = sheet.entries.get("level.surface", sheet["level_now"])
    if not level.known:
        level = sheet["level_now"]
    words = f"a dip should then show {show(level.value, level.shown or 'mm')}"
    datum = found.statement.case.vessel.datum.word
    if datum:
        words += f" over the datum ({datum})"
    allowed = found.statement.case.wanted.error_allowed_of_level
    return f"{words}, within the error allowed of {allowed.text}" if allowed.known else words


def told_json(told: Told) -> dict[str, Any]:
    """What a reading tells in its JSON form; without a level no signal stands beside it."""
    reading = told.reading
    said = {
        "text": reading.text,
        "state": reading.state,
        "level_m": reading.level_m,
        "current_A": reading.current_A,
        "value": reading.value,
        "why_no_level": reading.why,
        "limits": list(limits_of(told.found)),
    }
    if reading.level_m is not None:
        return {**signal_json(told.found), "reading": said, "dip": dip_words(told.found)}
    tag, faults = told.found.statement.case.tag.text, [fault_json(fault) for fault in told.found.faults]
    head = {"tool_version": VERSION, "tag": tag, "numbers": [], "state": reading.state, "reading": said}
    return {**head, "faults": faults, "cautions": list(CAUTIONS)}


def limits_of(found: Study) -> tuple[str, ...]:
    """Between which levels a current tells a level: range, measurement information, end of the loop."""
    sheet, said = found.sheet, []
    for current, level, words in (
        ("4 mA", "range.4 mA", "{} is the level at 4 mA"),
        ("20 mA", "range.20 mA", "{} is the level at 20 mA"),
        ("range.saturation.low", "range.level_at_saturation_low", "{} is where the current stops at {}"),
        ("range.saturation.high", "range.level_at_saturation_high", "{} is where the current stops at {}"),
        (
            "loop.last_good_current",
            "loop.last_good_level",
            "{} is where the loop ends, at {}: no reliable signal above",
        ),
    ):
        if found.value(level) is not None:
            said.append(words.format(sheet[level].text, sheet[current].text if current in sheet else ""))
    return tuple(said)


# ---------------------------------------------------------------- a reading of the output


def _with_unit(typed: str) -> str:
    """A bare number is in milliamperes, a bare per cent is one of the span."""
    if typed.replace(".", "", 1).replace("-", "", 1).isdigit():
        return f"{typed} mA"
    return f"{typed}span" if typed.endswith("%") else typed


def _on(said_as: str) -> str:
    return "--on" if said_as.startswith("--") else "The resistor"


def _current(found: Study, read: tuple[float, str], typed: str, on: str, said_as: str) -> float | Fault:
    value, kind = read
    if kind == "share of span":
        value = float(current_A(value, 0.0, 1.0))
    elif kind == "voltage":
        resistor = _resistor(found, on, typed, said_as)
        if isinstance(resistor, Fault):
            return resistor
        value = float(current_of_voltage_A(value, resistor))
    if not 0.0 <= value <= MOST_A:
        meant = "" if kind == "current" else f"it stands for {show(value, 'mA')}"
        return Fault(said_as, "a current of a loop, from 0 to 100 mA, or what stands for one", f'"{typed}"', meant)
    return value


def _resistor(found: Study, on: str, typed: str, said_as: str) -> float | Fault:
    if not on:
        stated = found.statement.case.loop.test_resistor
        if stated.si is not None and stated.si > 0.0:
            return stated.si
        remedy = "Say on which resistor it is read, or state loop.test_resistor"
        return Fault(said_as, "a current, such as 14.37 mA", f'"{typed}"', "no test resistor is stated", remedy=remedy)
    try:
        ohm = read_quantity(on, "resistance")
    except QuantityError as error:
        return Fault(_on(said_as), error.allowed, error.got, error.why, remedy=error.remedy)
    if not 0.0 < ohm <= 1e5:
        return Fault(
            _on(said_as), "a resistance above 0, up to 100 kohm", f'"{on}"', "the loop current flows through it"
        )
    return ohm


def _loop_ends(found: Study, current: float) -> bool:
    """Whether a current stands where the supply of the loop lets it go no higher."""
    last, high = found.value("loop.last_good_current"), found.value("range.saturation.high")
    return last is not None and high is not None and last < high and current >= last - AT_THE_END_A


def _at_an_end(found: Study, current: float, direct: bool) -> str:
    """Why a current that is measurement information tells no level all the same: it stands at an end."""
    low, high = found.value("range.saturation.low"), found.value("range.saturation.high")
    more, less = ("higher", "lower") if direct else ("lower", "higher")
    if high is not None and current >= high - AT_THE_END_A:
        return f"the current stops at {show(high, 'mA')}: the level stands there or {more}"
    if low is not None and current <= low + AT_THE_END_A:
        return f"the current stops at {show(low, 'mA')}: the level stands there or {less}"
    return ""


# ---------------------------------------------------------------- a reading of the sensor itself


def _of_sensor(found: Study, value: float, kind: str, typed: str, said_as: str) -> Reading | Fault:
    name = sensed(found)
    if name is None or not name.startswith(SENSOR[kind]):
        return Fault(said_as, ALLOWED, f'"{typed}"', f"no scale of this case is read as {_with_article(kind)}")
    scale = next((each for each in page_scales(found) if each.kind.key == "sensor"), None)
    if scale is None or scale.unknown:
        why = "" if scale is None else f"its scale waits for: {scale.unknown}"
        return Fault(said_as, "read on a scale of which everything is known", f'"{typed}"', why)
    level = solved(scale, value * in_unit(1.0, scale.kind.unit), typed)
    if isinstance(level, Fault):
        return replace(level, path=said_as, allowed=f"within the {scale.kind.title} that the sensor can tell")
    return Reading(
        typed, f"{scale.kind.title}, read at the sensor itself", level, value=value, unit=DIMENSIONS[kind].si
    )


def _with_article(kind: str) -> str:
    return f"a {kind}"
