"""What is stated beside the readings of a run: fields of text, read at the border, each fault at its field.

Command line and form give the same texts. A field that may stay empty says so; none is filled in silence.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from math import isfinite
from typing import Any, Literal

from onedatum.foundation.errors import Fault, OnedatumError, QuantityError
from onedatum.foundation.units import read_quantity
from onedatum.foundation.units.grammar import quoted
from onedatum.proving import RULES, Ambient, CurrentMeter, Reading, ReferenceInstrument, Rule, Run, TankReference
from onedatum.study.result import Study

Kind = Literal["as found", "as left"]
KINDS: Mapping[str, Kind] = {"found": "as found", "left": "as left"}
LONGEST_TEXT = 200
LONGEST_REMARK = 2000


@dataclass(frozen=True)
class Field:
    """A field: its key, what it is called, an example, what it holds, where a judgement complains of it."""

    key: str
    label: str
    example: str = ""
    kind: str = "text"
    path: str = ""
    needed: bool = False


REFERENCE = (
    Field("reference", "reference", "dip tape 7", needed=True, path="run.reference"),
    Field("reference_certificate", "certificate of the reference", "K-2031", needed=True),
    Field("reference_u", "expanded uncertainty of the reference", "1.0 mm", "length", "run.reference.expanded_m", True),
    Field("reference_k", "coverage factor of the reference", "2", "number", "run.reference.k", True),
    Field("reference_digit", "digit of the reference", "1 mm", "length", "run.reference.digit_m", True),
)
METER = (
    Field("meter", "meter of the loop current", "loop meter 3", path="run.meter"),
    Field("meter_certificate", "certificate of the meter", "K-2044"),
    Field("meter_u", "expanded uncertainty of the meter", "4 uA", "current", "run.meter.expanded_A"),
    Field("meter_k", "coverage factor of the meter", "2", "number", "run.meter.k"),
    Field("meter_digit", "digit of the meter", "1 uA", "current", "run.meter.digit_A"),
)
RUN = (
    Field("who", "who read", "A. Reader", path="run.who", needed=True),
    Field("when", "begin of the run", "2026-11-20T08:00+00:00", "time", "run.when"),
    Field("shown_digit", "digit of the level shown", "0.1 mm", "length", "run.shown_digit_m"),
    Field("temperature", "temperature of the surroundings", "14 degC", "temperature", "run.ambient.temperature_K"),
    Field("surroundings", "surroundings", "dry, no wind"),
    Field("tank_stated", "reference height of the tank table", "3105 mm", "length", "run.tank_reference"),
    Field("tank_found", "reference height found", "3105 mm", "length"),
    Field("remark", "remark", "", "remark"),
)
BESIDE = (
    Field("checked_by", "who checked", "B. Checker"),
    Field("trims", "trims and adjustments made", "none", "remark"),
    Field("rule", "decision rule", RULES[0], "rule", "rule.name"),
    Field("factor", "guard band in expanded uncertainties", "1", "number", "rule.factor"),
)
FIELDS = {field.key: field for field in (*RUN, *REFERENCE, *METER, *BESIDE)}
USUAL = {"reference_k": "2", "meter_k": "2", "rule": RULES[0], "factor": "1"}
"""What stands in a field at first, to be seen and changed."""


@dataclass(frozen=True)
class Wrong:
    """A fault and where it belongs: the key of a field, `row.column` of a reading, "" for the run as a whole."""

    at: str
    fault: Fault


class EntryError(OnedatumError):
    """What was entered cannot be judged; `wrongs` says why, each at its field."""

    def __init__(self, wrongs: Sequence[Wrong]) -> None:
        super().__init__("\n".join(wrong.fault.sentence() for wrong in wrongs))
        self.wrongs = tuple(wrongs)


@dataclass(frozen=True)
class Entered:
    """The run as it was read from the fields, and what stands beside it."""

    run: Run
    rule: Rule
    checked_by: str
    trims: str


def entered(study: Study, kind: Kind, texts: Mapping[str, str], readings: Sequence[Reading]) -> Entered:
    """Read the fields of a run; raises EntryError with every fault."""
    return _Desk({key: text.strip() for key, text in texts.items()}, []).entered(study, kind, tuple(readings))


def field_faults(study: Study, kind: Kind, texts: Mapping[str, str]) -> tuple[Wrong, ...]:
    """What is wrong with the fields alone, where the readings cannot be read."""
    try:
        entered(study, kind, texts, ())
    except EntryError as error:
        return tuple(wrong for wrong in error.wrongs if wrong.at != "when" or texts.get("when", "").strip())
    return ()


@dataclass
class _Desk:
    """Texts that are being read, and what is wrong with them."""

    texts: Mapping[str, str]
    wrongs: list[Wrong]

    def entered(self, study: Study, kind: Kind, readings: tuple[Reading, ...]) -> Entered:
        for key in self.texts:
            if key not in FIELDS:
                self._tell(key[:40], f"one of {', '.join(FIELDS)}", quoted(key))
        for field in FIELDS.values():
            if field.needed and not self._text(field.key):
                example = f", as {field.example}" if field.example else ""
                self._tell(field.key, f"stated{example}", "nothing")
        values = {key: self._value(field) for key, field in FIELDS.items()}
        meter = self._meter(values, any(reading.shown_A is not None for reading in readings))
        tank = self._tank(values)
        self._shown_digit(values, readings)
        when = values["when"] or self._first(readings)
        if self.wrongs or when is None:
            raise EntryError(self.wrongs)
        return Entered(
            self._run(study, kind, values, when, readings, meter, tank),
            Rule(values["rule"] or RULES[0], 1.0 if values["factor"] is None else values["factor"]),
            self._text("checked_by"),
            self._text("trims"),
        )

    def _run(
        self,
        study: Study,
        kind: Kind,
        values: Mapping[str, Any],
        when: datetime,
        readings: tuple[Reading, ...],
        meter: CurrentMeter | None,
        tank: TankReference | None,
    ) -> Run:
        statement = study.statement
        certificate, k = self._text("reference_certificate"), values["reference_k"]
        return Run(
            tag=statement.case.tag.text,
            kind=kind,
            case_hash=statement.content_hash,
            who=self._text("who"),
            when=when,
            reference=ReferenceInstrument(
                self._text("reference"), certificate, values["reference_u"], k, values["reference_digit"]
            ),
            readings=readings,
            meter=meter,
            shown_digit_m=values["shown_digit"] or 0.0,
            ambient=Ambient(values["temperature"], self._text("surroundings")),
            tank_reference=tank,
            remark=self._text("remark"),
        )

    # ------------------------------------------------------------ single fields

    def _text(self, key: str) -> str:
        return self.texts.get(key, "")

    def _value(self, field: Field) -> Any:
        """What a field says; None for one that says nothing."""
        text = self._text(field.key)
        if not text:
            return None
        if field.kind in ("text", "remark"):
            return self._plain(field, text)
        if field.kind == "time":
            return self._time(field, text)
        if field.kind == "number":
            return self._number(field, text)
        if field.kind == "rule":
            if text not in RULES:
                self._tell(field.key, f"one of {', '.join(RULES)}", quoted(text))
            return text
        try:
            return read_quantity(text, field.kind)
        except QuantityError as error:
            self._tell(field.key, error.allowed, error.got, error.why, error.remedy)
            return None

    def _plain(self, field: Field, text: str) -> str:
        most = LONGEST_TEXT if field.kind == "text" else LONGEST_REMARK
        allowed = f"at most {most} printable characters"
        if len(text) > most:
            self._tell(field.key, allowed, f"{len(text)}")
        elif not all(char.isprintable() or (field.kind == "remark" and char in "\r\n") for char in text):
            self._tell(field.key, allowed, quoted(text))
        return text

    def _time(self, field: Field, text: str) -> datetime | None:
        try:
            found = datetime.fromisoformat(text)
        except ValueError:
            found = None
        if found is None or found.tzinfo is None:
            self._tell(field.key, f"a time with its offset from UTC, as {field.example}", quoted(text))
            return None
        return found

    def _number(self, field: Field, text: str) -> float | None:
        if re.fullmatch(r"[0-9]{1,6}(\.[0-9]{1,12})?", text) and isfinite(float(text)):
            return float(text)
        self._tell(field.key, f"a plain number, as {field.example}", quoted(text))
        return None

    # ------------------------------------------------------------ fields that go together

    def _meter(self, values: Mapping[str, Any], read: bool) -> CurrentMeter | None:
        """The meter, which must be told whole where currents were read; none where nothing is said of it."""
        said = {field.key: values[field.key] for field in METER}
        named = {key for key, value in said.items() if value is not None and key != "meter_k"}
        if not read and not named:
            return None
        for field in METER:
            if not self._text(field.key):
                why = "a current is known no better than its meter" if read else "the meter is stated in part"
                self._tell(field.key, f"stated, as {field.example}", "nothing", why)
        if any(value is None for value in said.values()):
            return None
        return CurrentMeter(*said.values())

    def _tank(self, values: Mapping[str, Any]) -> TankReference | None:
        stated, found = values["tank_stated"], values["tank_found"]
        if (stated is None) != (found is None) and bool(self._text("tank_stated")) != bool(self._text("tank_found")):
            key = "tank_stated" if stated is None else "tank_found"
            self._tell(key, "stated where the other of the two heights is", "nothing")
        return None if stated is None or found is None else TankReference(stated, found)

    def _shown_digit(self, values: Mapping[str, Any], readings: Sequence[Reading]) -> None:
        by_level = any(reading.shown_m is not None and reading.shown_A is None for reading in readings)
        if by_level and values["shown_digit"] is None and not self._text("shown_digit"):
            why = "levels that the instrument shows are judged, and a display tells no more than its digit"
            self._tell("shown_digit", "stated, as 0.1 mm", "nothing", why)

    def _first(self, readings: Sequence[Reading]) -> datetime | None:
        """The time of the first reading that has one."""
        times = [reading.at for reading in readings if reading.at is not None]
        if not times and not self._text("when"):
            why = "no reading has a time either"
            self._tell("when", f"a time with its offset from UTC, as {FIELDS['when'].example}", "nothing", why)
        return times[0] if times else None

    def _tell(self, key: str, allowed: str, got: str, why: str = "", remedy: str = "") -> None:
        label = FIELDS[key].label if key in FIELDS else key
        self.wrongs.append(Wrong(key, Fault(label, allowed, got, why, remedy=remedy)))


# ---------------------------------------------------------------- faults of a judgement at their fields

_READING = re.compile(r"run\.readings\[(\d+)\](?:\.(\w+))?")
_WAY = re.compile(r"run\.readings\[cycle (\d+), (\w+)\]")
_NAMES = {
    "run.case_hash": "the version of the case",
    "run.tag": "the tag",
    "run.kind": "the kind of the run",
    "run.readings": "the readings",
}
_COLUMNS = {"reference_m": "reference level", "reference_A": "reference current", "shown_A": "shown current"}
_COLUMNS |= {"shown_m": "shown level", "at": "time", "cycle": "cycle", "direction": "direction"}


def placed_faults(faults: Sequence[Fault], readings: Sequence[Reading]) -> tuple[Wrong, ...]:
    """The faults of a plan or a judgement, each at the field it complains of and by the name of that field."""
    return tuple(_placed(fault, readings) for fault in faults)


def _placed(fault: Fault, readings: Sequence[Reading]) -> Wrong:
    by_path = {field.path: field for field in FIELDS.values() if field.path}
    field = by_path.get(fault.path)
    if field is not None:
        return Wrong(field.key, _called(fault, field.label))
    found = _READING.fullmatch(fault.path)
    if found is None or int(found[1]) >= len(readings):
        way = _WAY.fullmatch(fault.path)
        said = f"the readings of cycle {way[1]}, {way[2]}" if way else fault.path.removeprefix("run.")
        return Wrong("", _called(fault, _NAMES.get(fault.path, said)))
    number, column = int(found[1]), found[2] or "reference_m"
    reading = readings[number]
    name = f"reading {number + 1} (cycle {reading.cycle}, {reading.direction}), {_COLUMNS.get(column, column)}"
    return Wrong(f"{number}.{column}", _called(fault, name))


def _called(fault: Fault, name: str) -> Fault:
    return Fault(name, fault.allowed, fault.got, fault.why, fault.place, fault.remedy, fault.kind)
