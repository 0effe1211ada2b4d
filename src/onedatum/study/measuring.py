"""What measures: the principle of the case, the chapters it asks for, and the levels it can tell."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.case.model.build import ON_CHAMBER
from onedatum.case.model.instrument import BY_DIFFERENCE, BY_HEAD, IN_CHAMBER
from onedatum.case.model.liquid import LEVEL
from onedatum.foundation.working import Entry
from onedatum.study.chamber import ChamberChapter, chamber_chapter, chamber_stem, has_chamber
from onedatum.study.chamber.findings import chamber_findings
from onedatum.study.chamber.side import beside_of, lean_of, side_checks
from onedatum.study.chamber.stem import Outside
from onedatum.study.desk import Desk
from onedatum.study.legs import LegsChapter, WhatIf, has_legs, legs_chapter, legs_findings, what_ifs, within_allowed
from onedatum.study.probe import (
    ProbeAccuracy,
    ProbeChapter,
    accuracy_of,
    by_capacitance,
    has_probe,
    probe_chapter,
    probe_checks,
    probe_findings,
)
from onedatum.study.reach import Reach
from onedatum.study.states import StatesChapter
from onedatum.study.stem import Beside, StemChapter, StemDetail, stem_chapter, stem_detail
from onedatum.study.vessel import VesselChapter

BY_PRESSURE = (BY_DIFFERENCE, BY_HEAD)


@dataclass(frozen=True)
class Measuring:
    """The chapters of what measures; None for those that the case does not speak of."""

    levels: Reach | None = None
    """The levels it can tell; None where no instrument measures."""
    stem: StemChapter | None = None
    chamber: ChamberChapter | None = None
    outside: Outside | None = None
    beside: Beside | None = None
    legs: LegsChapter | None = None
    changes: tuple[WhatIf, ...] = ()
    probe: ProbeChapter | None = None
    accuracy: ProbeAccuracy | None = None
    """What the probe adds to the uncertainty of the level; None where something else measures it."""

    @property
    def reach(self) -> Reach:
        """The levels it can tell, for whoever has made sure that an instrument measures."""
        if self.levels is None:
            raise ValueError("no instrument measures")
        return self.levels

    def level_u(self, desk: Desk, level_u: Entry) -> tuple[Entry, Entry]:
        """The uncertainty of the level with what this principle adds; and for an alarm of a high level."""
        if self.accuracy is not None:
            return self.accuracy.level_u(desk, level_u), self.accuracy.alarm_u(desk, level_u)
        whole = self._with_columns(desk, level_u)
        return whole, whole

    def _with_columns(self, desk: Desk, level_u: Entry) -> Entry:
        if self.outside is not None and self.chamber is not None:
            return self.chamber.uncertainty(desk, level_u)
        if self.stem is None and self.legs is not None:
            return self.legs.uncertainty(desk, level_u)
        return level_u

    @property
    def errors(self) -> tuple[Entry, ...]:
        """Errors of the principle at the level now, each with its uncertainty, that every budget counts."""
        return () if self.accuracy is None else self.accuracy.errors

    def errors_over(self, desk: Desk, which: str) -> tuple[Entry, ...]:
        """The same of a reading anywhere in the range."""
        return () if self.accuracy is None else self.accuracy.errors_over(desk, which)

    @property
    def open_(self) -> tuple[str, ...]:
        """What must be known before the uncertainty of the level is, by path."""
        return () if self.accuracy is None else self.accuracy.open_

    @property
    def left_out(self) -> str:
        """What the budget of the quantity could not count; empty where it counts everything."""
        return "" if self.accuracy is None else self.accuracy.left_out


def by_pressure(desk: Desk) -> bool:
    """Whether the level is measured by pressure."""
    return desk.case.instrument.principle.word in BY_PRESSURE


def on_chamber(desk: Desk) -> bool:
    """Whether a stem outside reads the float in a chamber."""
    instrument = desk.case.instrument
    return instrument.principle.word == IN_CHAMBER or (
        instrument.build.place.word == ON_CHAMBER and not by_pressure(desk) and not by_capacitance(desk)
    )


def levels_alone(desk: Desk) -> bool:
    """Whether the level is all that is wanted, and no quantity."""
    wanted = desk.case.wanted.of
    if wanted.word == LEVEL:
        desk.read.add(wanted.path)
    return wanted.word == LEVEL


def measuring_chapter(desk: Desk, vessel: VesselChapter | None, states: StatesChapter) -> Measuring:
    """Work what the case says of chamber, legs and stem."""
    desk.word(desk.case.instrument.principle, "which principle is studied")
    chamber = chamber_chapter(desk, states) if has_chamber(desk) else None
    legs = legs_chapter(desk, states) if has_legs(desk) else None
    changes = what_ifs(desk, legs) if legs is not None else ()
    probe = probe_chapter(desk, states, vessel) if has_probe(desk) else None
    if not by_capacitance(desk):
        desk.skip(desk.case.probe.table_entered)
    if on_chamber(desk) and chamber is not None:
        outside = chamber_stem(desk, chamber, states)
        lean_of(desk, outside)
        beside = beside_of(desk, outside)
        return Measuring(outside.stem.reach, outside.stem, chamber, outside, beside, legs, changes, probe)
    if by_pressure(desk) and legs is not None:
        _no_float(desk)
        return Measuring(legs.reach(desk), None, chamber, None, None, legs, changes, probe)
    if by_capacitance(desk) and probe is not None:
        _no_float(desk)
        return Measuring(probe.reach, None, chamber, None, None, legs, changes, probe, accuracy_of(desk, probe))
    if vessel is None:
        raise ValueError("a stem in the tank hangs from a vessel")
    desk.skip(desk.case.instrument.stem.length)
    stem = stem_chapter(desk, vessel, states)
    return Measuring(stem.reach, stem, chamber, None, None, legs, changes, probe)


def _no_float(desk: Desk) -> None:
    """What a principle without a float does not have."""
    instrument = desk.case.instrument
    for leaves in (
        instrument.stem.leaves(),
        instrument.float_.leaves(),
        instrument.magnet.leaves(),
        instrument.interface_float.leaves(),
        instrument.waveguide.leaves(),
        instrument.echo.leaves(),
        instrument.accuracy.leaves(),
        instrument.build.leaves(),
        desk.case.nozzle.leaves(),
    ):
        desk.skip(*leaves)


def measuring_detail(desk: Desk, measuring: Measuring, states: StatesChapter) -> StemDetail | None:
    """Stem and float in depth, and what must be said of chamber and legs."""
    detail = None
    if measuring.stem is not None:
        detail = stem_detail(desk, measuring.stem, states, measuring.beside)
    chamber, outside, beside = measuring.chamber, measuring.outside, measuring.beside
    if chamber is not None and outside is not None and beside is not None and detail is not None:
        side_checks(desk, chamber, detail, beside)
    if chamber is not None:
        desk.findings.extend(chamber_findings(desk, chamber, outside))
    if measuring.legs is not None:
        within_allowed(desk, measuring.legs, measuring.changes)
        desk.findings.extend(legs_findings(desk, measuring.legs, measuring.changes))
    if measuring.probe is not None:
        probe_checks(desk, measuring.probe)
        desk.findings.extend(probe_findings(desk, measuring.probe))
    return detail
