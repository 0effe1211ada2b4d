"""The study of a case: its chapters, and what is collected at the end."""

from __future__ import annotations

from onedatum.case.reading import Statement
from onedatum.foundation.errors import Fault
from onedatum.study.chapters import chapters_of, desk_for
from onedatum.study.desk import Desk
from onedatum.study.open_points import assumptions, not_read, questions, requirements
from onedatum.study.result import Study
from onedatum.verdicts import gravest


def study(statement: Statement) -> Study:
    """Work a case from vessel to findings; what is unknown or faulty leaves its part unknown, the rest stands."""
    desk = desk_for(statement.case, statement.table)
    worked = chapters_of(desk)
    return Study(
        statement=statement,
        sheet=desk.sheet,
        findings=tuple(gravest(desk.findings)),
        checks=tuple(desk.checks),
        budget=worked.budget,
        questions=questions(desk),
        requirements=requirements(desk),
        not_read=not_read(desk),
        assumptions=assumptions(desk),
        faults=_faults(statement, desk),
        states=tuple(condition.name for condition in worked.states.conditions),
        now=worked.states.now,
        vessel=worked.vessel,
        quantity=worked.quantity,
        batch=worked.batch,
        legal=worked.legal,
        tolerance=worked.tolerance,
        safe=worked.safe,
        detail=worked.detail,
        measuring=worked.measuring,
        choosing=worked.choosing,
        for_verdicts=worked.for_verdicts,
    )


def _faults(statement: Statement, desk: Desk) -> tuple[Fault, ...]:
    """What is wrong with the statement, with what it brings along, and what the sheet refuses, each once."""
    told = (*statement.faults, *desk.faults)
    paths = {fault.path for fault in told}
    return (*told, *(fault for fault in desk.sheet.faults if fault.path not in paths))
