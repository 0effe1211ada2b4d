"""Judging a run: its errors on a sheet, held against the tolerance by a rule that was agreed before.

What is judged at a point is the largest single error there, over all cycles and both directions, with the uncertainty
of the reference, of the meter and of the digits. The scatter of the readings is not counted again as uncertainty: the
largest error holds it. An average would let a bad reading hide behind good ones.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from math import isclose
from typing import Literal

from onedatum.foundation.errors import ProvingError
from onedatum.foundation.units import show
from onedatum.foundation.working import Entry, Sheet
from onedatum.physics.calibration import (
    current_step_m,
    error_share,
    error_u_m,
    expanded_error_m,
    level_error_m,
    standard_m,
    two_per_cent_factor,
    uncertainty_ratio,
)
from onedatum.physics.loop import level_at_current_m
from onedatum.physics.uncertainty import GUARDED_ACCEPTANCE, conformance_probability, guard_band, specific_risk
from onedatum.proving.curve import Curve, Ends, figures_of
from onedatum.proving.judged import Judged, JudgedPoint, Part
from onedatum.proving.points import Plan, half_width, plan_faults
from onedatum.proving.readings import AS_FOUND, Placed, Run, placed, run_faults, tells_a_level
from onedatum.proving.rules import NON_BINARY, TWO_PER_CENT, Rule, Word, gravest
from onedatum.study.form import entry_json
from onedatum.verdicts import COVERAGE

ADJUST_SHARE = 0.7
"""Of the tolerance, beyond which one adjusts: common practice, no source."""
CAUTION = (
    "The result holds for the day, the liquid and the setting it was read with. It supports the competent person; it "
    "replaces neither the certificate of an accredited laboratory nor a proof test of a safety function, and for trade "
    "neither approval nor verification."
)
_LEVEL, _CURRENT = "the level that the instrument shows", "the level that the loop current stands for"
_PROBABILITY = "normal distribution of the error, little known beforehand"


def judge(plan: Plan, run: Run, rule: Rule | None = None) -> Judged:
    """Judge a run; raises ProvingError with every fault where it cannot be judged as a whole."""
    agreed = rule or Rule()
    faults = plan_faults(plan)
    if not faults:
        faults = [*agreed.faults(plan.tolerance), *run_faults(run, plan)]
    if faults:
        raise ProvingError(faults)
    return _Bench(plan, run, agreed).judged()


@dataclass(frozen=True)
class _Read:
    """A reading with its entries; no error where it tells no level."""

    at: Placed
    error: Entry | None
    share: Entry | None


@dataclass
class _Bench:
    """A judgement in the making."""

    plan: Plan
    run: Run
    rule: Rule
    sheet: Sheet = field(default_factory=Sheet)
    parts: dict[str, list[Entry]] = field(default_factory=dict)

    def judged(self) -> Judged:
        plan, run, sheet = self.plan, self.run, self.sheet
        self._range()
        width = half_width(sheet, plan.tolerance)
        standard, expanded = self._uncertainty()
        ratio = sheet.calc("ratio", uncertainty_ratio, tolerance_m=width, expanded_m=expanded)
        factor, guard = self._guard(ratio, expanded)
        risk = self._risk(factor)
        readings = [self._reading(each) for each in placed(run, plan)]
        self._stop()
        points = self._points(readings, standard, guard)
        whole = all(read.error is not None for read in readings)
        shares = {read.at.name: read.share for read in readings if read.share is not None}
        figures = figures_of(Curve(sheet, plan, self._ends, shares)) if whole else None
        parts = self._parts()
        self._stop()
        likely = [point.probability for point in points if point.probability is not None]
        return Judged(
            self.rule,
            run.tag,
            run.kind,
            run.case_hash,
            run.when,
            run.who,
            plan.tolerance,
            _CURRENT if self._by_current else _LEVEL,
            standard.value or 0.0,
            expanded.value or 0.0,
            ratio.value or 0.0,
            guard.value or 0.0,
            risk.value or 0.0,
            gravest(point.verdict for point in points),
            min(likely) if likely and whole else None,
            tuple(self._with_average(point) for point in points),
            figures,
            parts,
            tuple(self._remarks(ratio, width, points)),
            (CAUTION, *plan.cautions),
            tuple(entry_json(entry) for entry in sheet.entries.values()),
        )

    def _stop(self) -> None:
        if self.sheet.faults:
            raise ProvingError(self.sheet.faults)

    @property
    def _by_current(self) -> bool:
        return self.run.readings[0].shown_A is not None

    @property
    def _ends(self) -> Ends:
        return Ends(self.sheet["range.4 mA"], self.sheet["range.20 mA"])

    def _range(self) -> None:
        plan = self.plan
        for current, level in (("4 mA", plan.lower_range_value_m), ("20 mA", plan.upper_range_value_m)):
            self.sheet.give(f"range.{current}", level, "m", f"level at {current}", shown="mm")

    def _given(self, name: str, value: float, suffix: str, meaning: str, note: str = "") -> Entry:
        shown = {"m": "mm", "A": "mA"}.get(suffix, "")
        return self.sheet.give(name, value, suffix, meaning, shown=shown, path=f"run.{name}", note=note)

    def _uncertainty(self) -> tuple[Entry, Entry]:
        """Standard and expanded uncertainty of the error of one reading."""
        sheet, reference, meter = self.sheet, self.run.reference, self.run.meter
        named = f"{reference.name}, certificate {reference.certificate}"
        u_reference = sheet.calc(
            "reference.u",
            standard_m,
            shown="mm",
            expanded_m=self._given("reference.U", reference.expanded_m, "m", "uncertainty of the reference", named),
            coverage_factor=self._given("reference.k", reference.k, "", "its coverage factor"),
        )
        digit = self._given("reference.digit", reference.digit_m, "m", "digit to which the reference was read")
        if meter is not None and self._by_current:
            named = f"{meter.name}, certificate {meter.certificate}"
            u_meter = sheet.calc(
                "meter.u",
                standard_m,
                shown="mm",
                expanded_m=self._step("meter.U", meter.expanded_A, "uncertainty of the meter", named),
                coverage_factor=self._given("meter.k", meter.k, "", "its coverage factor"),
            )
            shown = self._step("meter.digit", meter.digit_A, "digit of the meter", named)
        else:
            u_meter = sheet.give("meter.u", 0.0, "m", "no meter: a level was read", state="constant", shown="mm")
            shown = self._given("shown.digit", self.run.shown_digit_m, "m", "digit of the level shown")
        standard = sheet.calc(
            "error.u",
            error_u_m,
            shown="mm",
            reference_u_m=u_reference,
            meter_u_m=u_meter,
            reference_digit_m=digit,
            shown_digit_m=shown,
        )
        k = sheet.give(
            "error.k", COVERAGE, "", "coverage factor of the error", state="constant", source="jcgm-100: 6.3"
        )
        return standard, sheet.calc("error.U", expanded_error_m, shown="mm", coverage_factor=k, standard_m=standard)

    def _step(self, name: str, difference_A: float, meaning: str, note: str) -> Entry:
        """What a difference of current is as a level."""
        stated = self._given(f"{name}_current", difference_A, "A", f"{meaning}, as a current", note)
        return self.sheet.calc(
            name,
            current_step_m,
            shown="mm",
            meaning=f"{meaning}, as a level",
            difference_A=stated,
            lower_range_value_m=self._ends.lower,
            upper_range_value_m=self._ends.upper,
        )

    def _guard(self, ratio: Entry, expanded: Entry) -> tuple[Entry, Entry]:
        """The width of the guard band, over U and as a length."""
        if self.rule.name == TWO_PER_CENT:
            factor = self.sheet.calc("rule.factor", two_per_cent_factor, ratio=ratio)
        else:
            wide = self.rule.factor if self.rule.inward else 0.0
            factor = self.sheet.give("rule.factor", wide, "", f"guard band over U: {self.rule.name}", source="ilac-g8")
        width = guard_band(expanded.value or 0.0, factor.value or 0.0)
        words = {"method": "factor times the expanded uncertainty", "source": "ilac-g8", "shown": "mm"}
        meaning = "width of the guard band"
        return factor, self.sheet.record("rule.guard", width, "m", meaning, rests_on=[factor, expanded], **words)

    def _risk(self, factor: Entry) -> Entry:
        """What is left where an error stands right at the limit of acceptance."""
        risk = specific_risk(self.rule.inward * (factor.value or 0.0), COVERAGE)
        meaning = "probability that an error at the limit of acceptance lies outside the tolerance"
        words = {"method": "normal distribution beyond one limit", "source": "ilac-g8", "shown": "%"}
        return self.sheet.record("rule.risk", risk, "", meaning, rests_on=[factor], **words)

    def _reading(self, at: Placed) -> _Read:
        reading, sheet, name = at.reading, self.sheet, at.name
        path = f"readings[{at.number}]"
        if reading.reference_m is not None:
            reference = self._given(f"reference[{name}]", reading.reference_m, "m", "level by the reference", path)
        else:
            reference = self._by_range(f"reference[{name}]", reading.reference_A or 0.0, "current that was set", path)
        digital = None
        if reading.shown_m is not None:
            digital = self._given(f"digital[{name}]", reading.shown_m, "m", "level that the instrument showed", path)
        if not tells_a_level(reading, self.plan):
            self._given(f"current[{name}]", reading.shown_A or 0.0, "A", "loop current that tells no level", path)
            return _Read(at, None, None)
        shown = digital
        if reading.shown_A is not None:
            shown = self._by_range(f"shown[{name}]", reading.shown_A, "loop current that was read", path)
        if shown is None:
            return _Read(at, None, None)
        error = self._error("error", name, shown, reference, "error that is judged")
        if reading.shown_A is not None and digital is not None:
            self._part("analog", self._error("analog", name, shown, digital, "error of the current output alone"))
            self._part("digital", self._error("digital", name, digital, reference, "error of the level shown alone"))
        share = sheet.calc(
            f"error_share[{name}]",
            error_share,
            shown="%span",
            error_m=error,
            lower_range_value_m=self._ends.lower,
            upper_range_value_m=self._ends.upper,
        )
        return _Read(at, error, share)

    def _by_range(self, name: str, current_A: float, meaning: str, path: str) -> Entry:
        """The level that a current stands for."""
        current = self._given(f"{name}.current", current_A, "A", meaning, path)
        return self.sheet.calc(
            name,
            level_at_current_m,
            shown="mm",
            current_A=current,
            lower_range_value_m=self._ends.lower,
            upper_range_value_m=self._ends.upper,
        )

    def _error(self, part: str, name: str, shown: Entry, reference: Entry, meaning: str) -> Entry:
        return self.sheet.calc(
            f"{part}_error[{name}]" if part != "error" else f"error[{name}]",
            level_error_m,
            shown="mm",
            meaning=meaning,
            shown_m=shown,
            reference_m=reference,
        )

    def _part(self, part: str, error: Entry) -> None:
        self.parts.setdefault(part, []).append(error)

    def _points(self, readings: Sequence[_Read], standard: Entry, guard: Entry) -> list[JudgedPoint]:
        points = []
        for point in self.plan.points:
            here = [read for read in readings if read.at.point is point]
            errors = [read.error for read in here if read.error is not None]
            if len(errors) < len(here):
                why = "the signal tells no level: it lies at its end or at failure"
                row = (point.name, point.share, point.level_m, None, None, None, None)
                points.append(JudgedPoint(*row, verdict="fail", why=why))
                continue
            points.append(self._point(point.name, point.share, point.level_m, errors, standard, guard))
        return points

    def _point(
        self, name: str, share: float, level_m: float, errors: list[Entry], standard: Entry, guard: Entry
    ) -> JudgedPoint:
        tolerance = self.plan.tolerance
        least = self.sheet.select(f"least_error[{name}]", "least", "least error at the point", errors)
        greatest = self.sheet.select(f"greatest_error[{name}]", "greatest", "greatest error at the point", errors)
        u, ends = standard.value or 0.0, (tolerance.low_m, tolerance.high_m)
        likely = min(conformance_probability(end.value or 0.0, u, *ends) for end in (least, greatest))
        words = {"method": _PROBABILITY, "source": "jcgm-106: 7.4", "shown": "%"}
        meaning = "probability that the error lies within the tolerance"
        self.sheet.record(f"probability[{name}]", likely, "", meaning, rests_on=[least, greatest, standard], **words)
        said = [(self.rule.word(e.value or 0.0, tolerance, guard.value or 0.0), e) for e in (least, greatest)]
        verdict = gravest(word for word, _ in said)
        worst = max((end for word, end in said if word == verdict), key=lambda end: abs(end.value or 0.0))
        return JudgedPoint(
            name, share, level_m, least.value, greatest.value, None, likely, verdict, self._why(verdict, worst)
        )

    def _why(self, verdict: Word, worst: Entry) -> str:
        limits = self.plan.tolerance.words()
        return {
            "pass": f"errors within {limits} by the rule",
            "conditional pass": f"error of {worst.text} within {limits}, but nearer to a limit than its uncertainty",
            "conditional fail": f"error of {worst.text} beyond {limits}, but by less than its uncertainty",
            "fail": f"error of {worst.text} beyond what the rule accepts of {limits}",
        }[verdict]

    def _with_average(self, point: JudgedPoint) -> JudgedPoint:
        name = f"average_error[{point.name}]"
        return replace(point, average_error_m=self.sheet[name].value) if name in self.sheet else point

    def _parts(self) -> tuple[Part, ...]:
        """The errors apart: of the current output, of the level shown, of the tank reference."""
        told = {
            "analog": ("current output against the level shown", "trim of the current output"),
            "digital": ("level shown against the reference", "trim of the level, or the reference of the instrument"),
        }
        parts = [
            Part(words, self._end(part, "least", errors), self._end(part, "greatest", errors), set_by)
            for part, (words, set_by) in told.items()
            if (errors := self.parts.get(part))
        ]
        tank = self.run.tank_reference
        if tank is not None:
            found = self._given("tank_reference.found", tank.found_m, "m", "reference height found with the tape")
            stated = self._given("tank_reference.stated", tank.stated_m, "m", "reference height of the tank table")
            meaning = "offset of the tank reference: every dip from above is off by it"
            offset = self.sheet.calc(
                "tank_reference.offset", level_error_m, shown="mm", meaning=meaning, shown_m=found, reference_m=stated
            )
            size_m = offset.value or 0.0
            parts.append(Part("reference height of the tank", size_m, size_m, "the tank table, not the instrument"))
        return tuple(parts)

    def _end(self, part: str, end: Literal["least", "greatest"], errors: list[Entry]) -> float:
        return self.sheet.select(f"{part}_error.{end}", end, f"{end} of these errors", errors).value or 0.0

    def _remarks(self, ratio: Entry, width: Entry, points: Sequence[JudgedPoint]) -> list[str]:
        plan, run = self.plan, self.run
        found = [
            f"{point.name} was moved to {show(point.level_m, 'mm', 6)}: {point.moved}"
            for point in plan.points
            if point.moved
        ]
        found += [f"Left out: {words}" for words in plan.left_out]
        if not run.reference.certificate.strip():
            found.append("The reference has no certificate: nothing traces its uncertainty.")
        expanded_m = run.reference.expanded_at_two_m
        if expanded_m > plan.reference_expanded_m and not isclose(expanded_m, plan.reference_expanded_m):
            usual = show(plan.reference_expanded_m, "mm")
            found.append(
                f"The reference ({show(expanded_m, 'mm')}, k = 2) is coarser than a quarter of the tolerance "
                f"({usual}); a third is tolerated, and more results are conditional for it."
            )
        if (ratio.value or 0.0) <= self.rule.factor and self.rule.name in (NON_BINARY, GUARDED_ACCEPTANCE):
            found.append("The guard band leaves nothing of the tolerance: no error passes without a condition.")
        elif (ratio.value or 0.0) <= 1.0:
            found.append("The uncertainty of an error is no smaller than the tolerance: a pass tells next to nothing.")
        errors_m = [point.greatest_error_m for point in points] + [point.least_error_m for point in points]
        known = [abs(error_m) for error_m in errors_m if error_m is not None]
        share = max(known, default=0.0) / (width.value or 1.0)
        if run.kind == AS_FOUND and share > ADJUST_SHARE:
            limit = f"{100.0 * ADJUST_SHARE:.0f} %"
            found.append(
                f"The largest error takes {100.0 * share:.0f} % of the tolerance; beyond {limit} it is usual to "
                "adjust, after the cause is found, and to read again as left. Less is left alone."
            )
        if len(known) < len(errors_m):
            found.append("A reading tells no level: hysteresis, linearity and probability of the run are not stated.")
        if run.tank_reference is not None and self._offset_counts():
            found.append(
                "The reference height differs from that of the tank table by more than a quarter of the tolerance: "
                "dips from above carry it into every error; settle the height before the instrument is trimmed."
            )
        return found

    def _offset_counts(self) -> bool:
        offset_m = self.sheet["tank_reference.offset"].value or 0.0
        return abs(offset_m) > self.plan.reference_expanded_m
