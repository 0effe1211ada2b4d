"""The working of one or two known levels: every number of it an entry with formula, inputs and source."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from onedatum.foundation.working import Entry
from onedatum.physics.calibration import (
    capacitance_of_line_F,
    current_error_A,
    error_at_m,
    error_at_u_m,
    error_u_m,
    least_apart_m,
    level_error_m,
    level_of_line_m,
    slope_error,
    slope_error_u,
)
from onedatum.physics.loop import current_A, span_share
from onedatum.physics.uncertainty import expanded_share, level_uncertainty_m
from onedatum.proving.commissioning.inputs import Inputs
from onedatum.proving.commissioning.known import Known

MARKS = ((0.004, "4 mA"), (0.020, "20 mA"))
SLOPE = "error of the slope, as a share of it"
Ends = tuple[Entry, Entry]
"""What belongs to 4 and what to 20 mA."""


@dataclass(frozen=True)
class Told:
    """A number with its expanded uncertainty, and whether it is told from none; None while that is not known."""

    value: Entry
    expanded: Entry
    differs: bool | None


@dataclass(frozen=True)
class Point:
    """One known level on the sheet."""

    dip: Entry
    shown: Entry
    error: Told
    error_u: Entry
    """That of the datum apart: it is common to both."""
    current: Entry | None
    capacitance: Entry | None
    digital: Entry | None
    wanted: Entry
    """The current that the case wants at this level."""
    share: Entry


@dataclass(frozen=True)
class Output:
    """A current against the level told digitally, and that level against the dip."""

    current: Entry
    as_level: Told
    level: Told


@dataclass(frozen=True)
class Line:
    """What two known levels say together."""

    slope: Told
    ends: tuple[Told, Told]
    """Errors at the levels of 4 and of 20 mA."""
    apart: Entry
    least_apart: Entry | None
    """None where no error allowed is stated."""
    too_near: bool | None
    against: bool
    """Whether the readings run against the range, beyond what dip and meter are known to."""
    range_: Ends | None
    """The levels at 4 and 20 mA that the readings lie on; None for readings of the sensor itself."""
    output_range: Ends | None
    """The same by the levels told digitally."""
    set_to: Ends | None
    """Capacitance at 4 and 20 mA, where it was read."""


class Working(Inputs):
    """The working of one and of two known levels."""

    def point(self, known: Known, number: int) -> Point:
        """One known level: what is shown at it, how far that is off, and what the case wants there."""
        at, told = f"[{number}]", f", known level {number}"
        dip = self.typed(f"known.dip{at}", known.dip_m, "m", f"level by dip{told}", "mm")
        read = self.reading(known, at, told)
        inputs = {"shown_m": read.shown, "reference_m": dip}
        error = self.sheet.calc(f"known.error{at}", level_error_m, shown="mm", meaning=f"error{told}", **inputs)
        knowledge = {**self.dip_knowledge(known, at, told), **self.meter_knowledge(known, at, told)}
        meaning = f"standard uncertainty of the error{told}, that of the datum apart"
        error_u = self.sheet.calc(f"known.error_u{at}", error_u_m, shown="mm", meaning=meaning, **knowledge)
        digital = known.digital_m
        given = None
        if digital is not None:
            given = self.typed(f"known.digital{at}", digital, "m", f"level told digitally{told}", "mm")
        meaning = f"current that the case wants{told}"
        wanted = self.sheet.calc(f"known.wanted{at}", current_A, shown="mA", meaning=meaning, level_m=dip, **self.ends)
        meaning = f"share of the span that the case wants{told}"
        share = self.sheet.calc(
            f"known.share{at}", span_share, shown="%span", meaning=meaning, level_m=dip, **self.ends
        )
        judged = self._told(error, error_u, self.datum_u)
        return Point(dip, read.shown, judged, error_u, read.current, read.capacitance, given, wanted, share)

    def output(self, known: Known, point: Point, number: int) -> Output | None:
        """The current against the level told digitally, and that level against the dip; None where it was not read."""
        digital = point.digital
        if digital is None or point.current is None:
            return None
        at, told, calc = f"[{number}]", f", known level {number}", self.sheet.calc
        meaning = f"current that the level told digitally calls for{told}"
        called = calc(f"known.called{at}", current_A, shown="mA", meaning=meaning, level_m=digital, **self.ends)
        meaning = f"error of the current against the level told digitally{told}"
        inputs = {"current_A": point.current, "ideal_A": called}
        current = calc(f"known.output_error{at}", current_error_A, shown="mA", meaning=meaning, **inputs)
        digit = self.typed(
            f"known.digital_digit{at}", known.digital_digit_m, "m", f"digit of the digital level{told}", "mm"
        )
        sheet = self.sheet
        meter = {"meter_u_m": sheet[f"known.meter_u{at}"], "shown_digit_m": sheet[f"known.reading_digit{at}"]}
        of_output = {"reference_u_m": self.none, "reference_digit_m": digit, **meter}
        dip = {"reference_u_m": sheet[f"known.dip_u{at}"], "reference_digit_m": sheet[f"known.dip_digit{at}"]}
        of_level = {**dip, "meter_u_m": self.none, "shown_digit_m": digit}
        named = f"known.output_as_level{at}", f"{meaning}, as a level"
        as_level = self._against(named, (point.shown, digital), of_output, self.none)
        named = f"known.digital_error{at}", f"error of the level told digitally{told}"
        return Output(current, as_level, self._against(named, (digital, point.dip), of_level, self.datum_u))

    def line(self, first: Point, second: Point) -> Line:
        """The straight line through two known levels, beside the one of the case."""
        calc = self.sheet.calc
        dips = {"first_known_m": first.dip, "second_known_m": second.dip}
        us = {"first_u_m": first.error_u, "second_u_m": second.error_u}
        shown = {"first_shown_m": first.shown, "second_shown_m": second.shown}
        slope = calc("known.slope_error", slope_error, shown="%value", meaning=SLOPE, **dips, **shown)
        meaning = f"standard uncertainty of the {SLOPE}"
        slope_u = calc("known.slope_error_u", slope_error_u, shown="%value", meaning=meaning, **us, **dips)
        meaning, inputs = "distance of the known levels", {"shown_m": second.dip, "reference_m": first.dip}
        apart = calc("known.apart", level_error_m, shown="mm", meaning=meaning, **inputs)
        least = self._least(us)
        currents = first.current, second.current
        digital = first.digital, second.digital
        told = self._told_slope(slope, slope_u)
        return Line(
            slope=told,
            ends=self._errors_at_ends(first, slope, dips, us),
            apart=apart,
            least_apart=least,
            too_near=self._too_near(apart, least),
            against=self._runs_against(told),
            range_=self._range("known.range", "that the readings lie on", (first.dip, second.dip), currents),
            output_range=self._range("known.output_range", "of the output by the digital level", digital, currents),
            set_to=self._setting(first, second, dips),
        )

    # ------------------------------------------------------------ parts

    def _told(self, error: Entry, u: Entry, common: Entry) -> Told:
        """An error of level with its expanded uncertainty, and whether it exceeds that."""
        name, meaning = error.name, f"expanded uncertainty of the {error.meaning}"
        inputs = {"level_u_m": u, "datum_u_m": common, "coverage_factor": self.k}
        widened = self.sheet.calc(f"{name}.U", level_uncertainty_m, shown="mm", meaning=meaning, **inputs)
        meaning = f"{error.meaning} is told from none"
        return Told(error, widened, self.sheet.decide(f"{name}.told", "abs(e) > U", meaning, e=error, U=widened))

    def _against(
        self, named: tuple[str, str], levels: tuple[Entry, Entry], knowledge: dict[str, Entry], common: Entry
    ) -> Told:
        """One level against another, the second as the reference."""
        (name, meaning), (shown, reference), calc = named, levels, self.sheet.calc
        error = calc(name, level_error_m, shown="mm", meaning=meaning, shown_m=shown, reference_m=reference)
        meaning = f"standard uncertainty of the {meaning}"
        return self._told(error, calc(f"{name}.u", error_u_m, shown="mm", meaning=meaning, **knowledge), common)

    def _told_slope(self, slope: Entry, u: Entry) -> Told:
        meaning = "expanded uncertainty of the error of the slope"
        inputs = {"standard_share": u, "coverage_factor": self.k}
        widened = self.sheet.calc("known.slope_error.U", expanded_share, shown="%value", meaning=meaning, **inputs)
        meaning = "the error of the slope is told from none"
        told = self.sheet.decide("known.slope_error.told", "abs(g) > U", meaning, g=slope, U=widened)
        return Told(slope, widened, told)

    def _runs_against(self, slope: Told) -> bool:
        """Whether the readings run against the range by more than dip and meter are known to."""
        words = "the readings run against the range"
        return bool(self.sheet.decide("known.against", "g + U < -1", words, g=slope.value, U=slope.expanded))

    def _errors_at_ends(
        self, first: Point, slope: Entry, dips: dict[str, Entry], us: dict[str, Entry]
    ) -> tuple[Told, Told]:
        ends = []
        for level, (_, mark) in zip((self.lower, self.upper), MARKS, strict=True):
            meaning = f"error at the level of {mark}"
            given = {"level_m": level, "first_known_m": first.dip, "first_shown_m": first.shown, "slope_error": slope}
            error = self.sheet.calc(f"known.error_at[{mark}]", error_at_m, shown="mm", meaning=meaning, **given)
            meaning = f"standard uncertainty of the {meaning}, that of the datum apart"
            inputs = {"level_m": level, **dips, **us}
            u = self.sheet.calc(f"known.error_at_u[{mark}]", error_at_u_m, shown="mm", meaning=meaning, **inputs)
            ends.append(self._told(error, u, self.datum_u))
        return ends[0], ends[1]

    def _least(self, us: dict[str, Entry]) -> Entry | None:
        stated = self.found.statement.case.wanted.error_allowed_of_level
        if not stated.known or not stated.si:
            return None
        inputs = {**us, "coverage_factor": self.k, **self.ends, "allowed_m": self.stated(stated, "mm")}
        meaning = "distance that two known levels need"
        return self.sheet.calc("known.least_apart", least_apart_m, shown="mm", meaning=meaning, **inputs)

    def _too_near(self, apart: Entry, least: Entry | None) -> bool | None:
        if least is None:
            return None
        meaning = "the known levels are too near for the slope"
        return self.sheet.decide("known.too_near", "abs(d) < d_min", meaning, d=apart, d_min=least)

    def _range(
        self,
        name: str,
        words: str,
        levels: tuple[Entry | None, Entry | None],
        currents: tuple[Entry | None, Entry | None],
    ) -> Ends | None:
        (first, second), (i_1, i_2) = levels, currents
        if first is None or second is None or i_1 is None or i_2 is None or first.value == second.value:
            return None
        given = {"first_known_m": first, "second_known_m": second, "first_current_A": i_1, "second_current_A": i_2}
        ends = []
        for amperes, mark in MARKS:
            at = self._mark(amperes, mark)
            meaning = f"level at {mark} {words}"
            ends.append(
                self.sheet.calc(f"{name}[{mark}]", level_of_line_m, shown="mm", meaning=meaning, current_A=at, **given)
            )
        return ends[0], ends[1]

    def _mark(self, amperes: float, mark: str) -> Entry:
        name = f"known.mark[{mark}]"
        if name in self.sheet:
            return self.sheet[name]
        meaning = f"current, {mark}"
        return self.sheet.give(name, amperes, "A", meaning, state="constant", shown="mA", source="iec-60381-1")

    def _setting(self, first: Point, second: Point, dips: dict[str, Entry]) -> Ends | None:
        """The capacitance to set at 4 and 20 mA, by two wetted levels."""
        if first.capacitance is None or second.capacitance is None:
            return None
        held = {"first_capacitance_F": first.capacitance, "second_capacitance_F": second.capacitance}
        ends = []
        for level, (_, mark) in zip((self.lower, self.upper), MARKS, strict=True):
            meaning = f"capacitance to set at {mark}"
            inputs = {"level_m": level, **dips, **held}
            ends.append(
                self.sheet.calc(f"known.set_to[{mark}]", capacitance_of_line_F, shown="pF", meaning=meaning, **inputs)
            )
        return ends[0], ends[1]


@dataclass(frozen=True)
class Worked:
    """The whole working."""

    working: Working
    points: tuple[Point, ...]
    line: Line | None
    outputs: tuple[Output, ...]


def worked(working: Working, known: Sequence[Known]) -> Worked:
    """Work one or two known levels."""
    points = tuple(working.point(each, number) for number, each in enumerate(known, start=1))
    line = working.line(*points) if len(points) > 1 else None
    pairs = enumerate(zip(known, points, strict=True), start=1)
    outputs = (working.output(each, point, number) for number, (each, point) in pairs)
    return Worked(working, points, line, tuple(each for each in outputs if each is not None))
