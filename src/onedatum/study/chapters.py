"""Which chapters a case has: those of its instrument, or those that need none while its principle is open.

An enquiry names no principle. Vessel, liquid, quantity at a stated level, and how high the alarms may stand are worked
all the same; nothing of a stem, a float, a chamber, legs, a probe or a loop is, and nothing of them is asked. The
verdicts on the principles are taken at a desk of their own, where whatever the case says of instruments counts.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from onedatum.case.model import Case
from onedatum.case.table_file import TableFile
from onedatum.foundation.units import SYSTEMS
from onedatum.foundation.working import Entry, Sheet, beneath
from onedatum.study.batch import BatchChapter, batch_chapter
from onedatum.study.budget import Budget, budget_chapter, level_uncertainty
from onedatum.study.choosing import Choosing, choosing_chapter
from onedatum.study.correlated import refuse_strange_correlations
from onedatum.study.desk import Desk
from onedatum.study.findings import findings_chapter, findings_without_instrument
from onedatum.study.judgement import judgement_chapter
from onedatum.study.legal import LegalLine, legal_chapter
from onedatum.study.measuring import (
    Measuring,
    by_pressure,
    levels_alone,
    measuring_chapter,
    measuring_detail,
    on_chamber,
)
from onedatum.study.overfill import without_overfill
from onedatum.study.probe import by_capacitance
from onedatum.study.quantity import QuantityChapter, quantity_chapter
from onedatum.study.range import range_chapter, range_ends
from onedatum.study.safe import Safe, safe_chapters, safe_without_instrument
from onedatum.study.signal import signal_chapter
from onedatum.study.states import StatesChapter, states_chapter
from onedatum.study.stem import StemDetail
from onedatum.study.tolerance import ToleranceChapter, tolerance_chapter
from onedatum.study.vessel import VesselChapter, vessel_chapter
from onedatum.study.wanted import wanted_chapter


@dataclass(frozen=True)
class Chapters:
    """The chapters as worked; None for those that the case does not have."""

    vessel: VesselChapter | None
    states: StatesChapter
    measuring: Measuring
    quantity: QuantityChapter | None
    safe: Safe
    budget: Budget | None
    batch: BatchChapter | None
    tolerance: ToleranceChapter | None
    choosing: Choosing | None
    legal: tuple[LegalLine, ...] = ()
    detail: StemDetail | None = None
    for_verdicts: Mapping[str, Entry] = field(default_factory=dict)
    """Entries that the verdicts alone rest on, by name, where they stand on no sheet of the study."""


def desk_for(case: Case, table: TableFile | None) -> Desk:
    """A desk with an empty sheet in the units of the case."""
    return Desk(case, table, Sheet(SYSTEMS.get(case.print_units.word)))


def chapters_of(desk: Desk) -> Chapters:
    """Work the chapters of a case; a principle that is not known, or faulty, has no instrument."""
    return _with_instrument(desk) if desk.case.instrument.principle.known else _without_instrument(desk)


# ---------------------------------------------------------------- with an instrument


def _with_instrument(desk: Desk) -> Chapters:
    """All of them, from the vessel to the verdicts."""
    vessel = _vessel(desk, needed=not (on_chamber(desk) or by_pressure(desk) or by_capacitance(desk)))
    states = states_chapter(desk)
    measuring = measuring_chapter(desk, vessel, states)
    signal = signal_chapter(desk, level := desk.take(desk.case.level_now, "mm"))
    range_chapter(desk, signal, measuring.reach, level)
    quantity = _quantity(desk, vessel, states, measuring)
    level_u, alarm_u = measuring.level_u(desk, level_uncertainty(desk))
    safe = safe_chapters(desk, vessel, measuring.reach, signal, level, alarm_u)
    budget = None if quantity is None else budget_chapter(desk, quantity, states.now.temperature)
    wanted_chapter(desk, budget, level_u, measuring.open_)
    batch = None if quantity is None else batch_chapter(desk, quantity, measuring)
    legal = legal_chapter(desk, level_u)
    tolerance = tolerance_chapter(desk, None if measuring.open_ else budget)
    detail = measuring_detail(desk, measuring, states)
    refuse_strange_correlations(desk)
    judgement_chapter(desk)
    findings_chapter(desk, safe)
    choosing = choosing_chapter(desk, states, measuring, detail)
    return Chapters(
        vessel, states, measuring, quantity, safe, budget, batch, tolerance, choosing, legal=legal, detail=detail
    )


def _vessel(desk: Desk, *, needed: bool) -> VesselChapter | None:
    """The vessel; None where levels alone are wanted, no shape is stated, and nothing else asks for one."""
    vessel = desk.case.vessel
    if vessel.shape.known or not levels_alone(desk) or needed or not without_overfill(desk):
        return vessel_chapter(desk)
    desk.skip(*vessel.leaves(), *desk.case.table.leaves(), *desk.case.quantity.leaves())
    desk.word(vessel.datum, "what every height is measured from")
    return None


def _quantity(
    desk: Desk, vessel: VesselChapter | None, states: StatesChapter, measuring: Measuring
) -> QuantityChapter | None:
    """The quantity; None where levels alone are wanted."""
    if vessel is None or levels_alone(desk):
        desk.skip(*desk.case.table.leaves(), *desk.case.quantity.leaves())
        return None
    return quantity_chapter(desk, vessel, states, measuring.levels, measuring.errors)


# ---------------------------------------------------------------- without one


def _without_instrument(desk: Desk) -> Chapters:
    """Those that need none; a level that is dipped has its quantity, batches and limits as well."""
    desk.beside_the_point.update(leaf.path for leaf in desk.case.leaves() if leaf.side == "instrument")
    desk.beside_the_point.update(state.instrument.path for state in desk.case.states)
    vessel, measuring = _vessel(desk, needed=False), Measuring()
    states = states_chapter(desk)
    signal = signal_chapter(desk, level := desk.take(desk.case.level_now, "mm"))
    range_ends(desk, signal)
    quantity = _quantity(desk, vessel, states, measuring) if _read_off(desk, level) else None
    level_u = None if desk.case.level_now.uncertainty is None else level_uncertainty(desk)
    safe = safe_without_instrument(desk, vessel, signal, level, level_u)
    budget = None if quantity is None else budget_chapter(desk, quantity, states.now.temperature)
    batch = None if quantity is None else batch_chapter(desk, quantity, measuring)
    legal = () if level_u is None else legal_chapter(desk, level_u)
    tolerance = tolerance_chapter(desk, budget)
    refuse_strange_correlations(desk)
    judgement_chapter(desk)
    findings_without_instrument(desk, safe)
    choosing, beside = _verdicts_apart(desk)
    return Chapters(
        vessel, states, measuring, quantity, safe, budget, batch, tolerance, choosing, legal=legal, for_verdicts=beside
    )


def _read_off(desk: Desk, level: Entry) -> bool:
    """Whether a level is read without a gauge, now or before and after a batch."""
    return level.known or any(leaf.known for leaf in desk.case.batch.leaves())


def _verdicts_apart(desk: Desk) -> tuple[Choosing | None, Mapping[str, Entry]]:
    """The verdicts, taken at a desk of their own with all that the case says of instruments, and what they rest on.

    Of that desk nothing else is kept but what is wrong with what is stated: no number, no question, no finding.
    """
    bench = desk_for(desk.case, desk.table)
    choosing = _with_instrument(bench).choosing
    desk.read.update(bench.read)
    known = {fault.path for fault in (*desk.faults, *desk.sheet.faults)}
    desk.faults.extend(fault for fault in (*bench.faults, *bench.sheet.faults) if fault.path not in known)
    names = set() if choosing is None else {name for name in choosing.entries if name in bench.sheet}
    found = beneath(bench.sheet[name] for name in sorted(names))
    return choosing, {entry.name: entry for entry in found if entry.name not in desk.sheet}
