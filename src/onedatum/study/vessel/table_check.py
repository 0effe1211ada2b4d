"""What is wrong with a table the case brings along: faults where it is of no use, else a finding to look at."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from onedatum.case.table_file import TableFile
from onedatum.foundation.errors import Fault, Place
from onedatum.foundation.working import spell
from onedatum.physics.vessels import Amount, Rows, TableFault, check_table
from onedatum.study.desk import Desk
from onedatum.verdicts import Effect, Finding, Link

MOST_TOLD = 20
"""Rows told one by one; of more only the number is told."""


def table_is_usable(desk: Desk, table: TableFile, rows: Rows, path: str) -> bool:
    """Tell what the checks of the table found; whether it can be used all the same."""
    found = check_table(rows.levels_m, rows.volumes_m3)
    stopping = [each for each in found if each.stops]
    looks_wrong = [each for each in found if not each.stops]
    desk.faults.extend(_fault(each, table, path) for each in stopping[:MOST_TOLD])
    if len(stopping) > MOST_TOLD:
        got = f"{len(stopping)} faults"
        desk.faults.append(Fault(path, "a table that rises row by row", got, "the first ones are told above"))
    if looks_wrong:
        desk.findings.append(_finding(looks_wrong, table))
    return not stopping


def _fault(fault: TableFault, table: TableFile, path: str) -> Fault:
    return Fault(path, fault.allowed, _said(fault.seen), fault.why, _place(fault, table), fault.remedy)


def _place(fault: TableFault, table: TableFile) -> Place | None:
    row = fault.rows[-1] if fault.rows else 0
    return Place(table.file, table.lines[row - 1], 1) if 0 < row <= len(table.lines) else None


def _finding(faults: Sequence[TableFault], table: TableFile) -> Finding:
    links = [_link(each, table) for each in faults[:MOST_TOLD]]
    if len(faults) > MOST_TOLD:
        links.append(Link("More rows than are told here", str(len(faults) - MOST_TOLD)))
    ways = tuple(Link(remedy) for remedy in dict.fromkeys(each.remedy for each in faults) if remedy)
    return Finding("table-to-look-at", "Rows of the tank table stand out", Effect.WARNING, tuple(links), ways)


def _link(fault: TableFault, table: TableFile) -> Link:
    place = _place(fault, table)
    where = f", line {place.line}" if place else ""
    expected = f", expected {_said(fault.expected)}" if fault.expected else ""
    return Link(f"{fault.kind.value[:1].upper()}{fault.kind.value[1:]}{where}", f"{_said(fault.seen)}{expected}")


def _said(amounts: Iterable[Amount]) -> str:
    """Numbers as people read them."""
    return ", ".join(spell(amount.value, amount.suffix, "L" if amount.suffix == "m3" else "") for amount in amounts)
