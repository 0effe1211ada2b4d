"""What is wrong with what a site brings, held against the rules alone: told before anything is studied."""

from __future__ import annotations

from onedatum.case.model.choosing import OwnChoice
from onedatum.foundation.errors import Fault
from onedatum.study.choosing.own import own_rows
from onedatum.study.choosing.site import site_limits


def site_faults(brought: OwnChoice) -> tuple[Fault, ...]:
    """Every fault of limits and instruments, each at its place; the rules are read only where there is a limit."""
    limits = site_limits(brought).faults if brought.limits.items else ()
    return (*limits, *(fault for _, faults in own_rows(brought.instruments.items) for fault in faults))
