"""Check a case: what is wrong with it as it was read, and with the limits and instruments that a site brings."""

from __future__ import annotations

from onedatum.case.reading import Statement
from onedatum.foundation.errors import Fault


def faults_of(statement: Statement) -> tuple[Fault, ...]:
    """Every fault, each once; the rules of choosing are read only where a site brings something."""
    brought = statement.case.choosing
    if not (brought.limits.items or brought.instruments.items):
        return statement.faults
    from onedatum.study.choosing.brought import site_faults

    return tuple(dict.fromkeys((*statement.faults, *site_faults(brought))))
