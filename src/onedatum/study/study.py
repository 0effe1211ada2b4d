"""The study of a case: the chapters in their order, and what is collected at the end."""

from __future__ import annotations

from onedatum.case.reading import Statement
from onedatum.foundation.errors import Fault
from onedatum.foundation.units import SYSTEMS
from onedatum.foundation.working import Sheet
from onedatum.study.batch import batch_chapter
from onedatum.study.budget import budget_chapter, level_uncertainty
from onedatum.study.correlated import refuse_strange_correlations
from onedatum.study.desk import Desk
from onedatum.study.findings import findings_chapter
from onedatum.study.judgement import judgement_chapter
from onedatum.study.legal import legal_chapter
from onedatum.study.open_points import assumptions, not_read, questions, requirements
from onedatum.study.quantity import quantity_chapter
from onedatum.study.range import range_chapter
from onedatum.study.result import Study
from onedatum.study.safe import Safe, safe_chapters
from onedatum.study.signal import signal_chapter
from onedatum.study.states import states_chapter
from onedatum.study.stem import stem_chapter, stem_detail
from onedatum.study.tolerance import tolerance_chapter
from onedatum.study.vessel import vessel_chapter
from onedatum.study.wanted import wanted_chapter
from onedatum.verdicts import gravest


def study(statement: Statement) -> Study:
    """Work a case from vessel to findings; what is unknown or faulty leaves its part unknown, the rest stands."""
    sheet = Sheet(SYSTEMS.get(statement.case.print_units.word))
    desk = Desk(statement.case, statement.table, sheet)
    vessel = vessel_chapter(desk)
    states = states_chapter(desk)
    stem = stem_chapter(desk, vessel, states)
    level = desk.take(statement.case.level_now, "mm")
    signal = signal_chapter(desk, level)
    range_chapter(desk, signal, stem, level)
    quantity = quantity_chapter(desk, vessel, states, stem)
    level_u = level_uncertainty(desk, quantity)
    safe = safe_chapters(desk, vessel, stem, signal, level, level_u)
    budget = budget_chapter(desk, quantity, states.now.temperature)
    wanted_chapter(desk, budget, level_u)
    batch = batch_chapter(desk, quantity)
    legal = legal_chapter(desk, level_u)
    tolerance = tolerance_chapter(desk, budget)
    detail = stem_detail(desk, stem, states)
    _judge(desk, safe)
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
    )


def _judge(desk: Desk, safe: Safe) -> None:
    """Judge what the chapters have put down, once all of them have."""
    refuse_strange_correlations(desk)
    judgement_chapter(desk)
    findings_chapter(desk, safe)


def _faults(statement: Statement, desk: Desk) -> tuple[Fault, ...]:
    """What is wrong with the statement, with what it brings along, and what the sheet refuses, each once."""
    told = (*statement.faults, *desk.faults)
    paths = {fault.path for fault in told}
    return (*told, *(fault for fault in desk.sheet.faults if fault.path not in paths))
