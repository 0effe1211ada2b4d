"""The study of a case: the chapters in their order, and what is collected at the end."""

from __future__ import annotations

from onedatum.case.reading import Statement
from onedatum.foundation.errors import Fault
from onedatum.foundation.units import SYSTEMS
from onedatum.foundation.working import Sheet
from onedatum.study.batch import batch_chapter
from onedatum.study.budget import budget_chapter, level_uncertainty
from onedatum.study.choosing import Choosing, choosing_chapter
from onedatum.study.correlated import refuse_strange_correlations
from onedatum.study.desk import Desk
from onedatum.study.findings import findings_chapter
from onedatum.study.judgement import judgement_chapter
from onedatum.study.legal import legal_chapter
from onedatum.study.measuring import (
    Measuring,
    by_pressure,
    levels_alone,
    measuring_chapter,
    measuring_detail,
    on_chamber,
)
from onedatum.study.open_points import assumptions, not_read, questions, requirements
from onedatum.study.overfill import without_overfill
from onedatum.study.probe import by_capacitance
from onedatum.study.quantity import QuantityChapter, quantity_chapter
from onedatum.study.range import range_chapter
from onedatum.study.result import Study
from onedatum.study.safe import Safe, safe_chapters
from onedatum.study.signal import signal_chapter
from onedatum.study.states import StatesChapter, states_chapter
from onedatum.study.stem import StemDetail
from onedatum.study.tolerance import tolerance_chapter
from onedatum.study.vessel import VesselChapter, vessel_chapter
from onedatum.study.wanted import wanted_chapter
from onedatum.verdicts import gravest


def study(statement: Statement) -> Study:
    """Work a case from vessel to findings; what is unknown or faulty leaves its part unknown, the rest stands."""
    desk = Desk(statement.case, statement.table, Sheet(SYSTEMS.get(statement.case.print_units.word)))
    vessel = _vessel(desk)
    states = states_chapter(desk)
    measuring = measuring_chapter(desk, vessel, states)
    signal = signal_chapter(desk, level := desk.take(statement.case.level_now, "mm"))
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
    choosing = _judge(desk, safe, states, measuring, detail)
    return Study(
        statement=statement,
        sheet=desk.sheet,
        findings=tuple(gravest(desk.findings)),
        checks=tuple(desk.checks),
        budget=budget,
        questions=questions(desk),
        requirements=requirements(desk),
        not_read=not_read(desk),
        assumptions=assumptions(desk),
        faults=_faults(statement, desk),
        states=tuple(condition.name for condition in states.conditions),
        now=states.now,
        vessel=vessel,
        quantity=quantity,
        batch=batch,
        legal=legal,
        tolerance=tolerance,
        safe=safe,
        detail=detail,
        measuring=measuring,
        choosing=choosing,
    )


def _vessel(desk: Desk) -> VesselChapter | None:
    """The vessel; None where levels alone are wanted, no shape is stated, and nothing else asks for one."""
    vessel = desk.case.vessel
    in_tank = not (on_chamber(desk) or by_pressure(desk) or by_capacitance(desk))
    if vessel.shape.known or not levels_alone(desk) or in_tank or not without_overfill(desk):
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
    return quantity_chapter(desk, vessel, states, measuring.reach, measuring.errors)


def _judge(
    desk: Desk, safe: Safe, states: StatesChapter, measuring: Measuring, detail: StemDetail | None
) -> Choosing | None:
    """Judge what the chapters have put down, once all of them have; last the principles by all of it."""
    refuse_strange_correlations(desk)
    judgement_chapter(desk)
    findings_chapter(desk, safe)
    return choosing_chapter(desk, states, measuring, detail)


def _faults(statement: Statement, desk: Desk) -> tuple[Fault, ...]:
    """What is wrong with the statement, with what it brings along, and what the sheet refuses, each once."""
    told = (*statement.faults, *desk.faults)
    paths = {fault.path for fault in told}
    return (*told, *(fault for fault in desk.sheet.faults if fault.path not in paths))
