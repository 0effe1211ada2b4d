"""What runs the units of a conversion: this process, several on this machine, or those of a scheduler.

All have one shape and give the same: outcomes in the order of the units, whoever worked them and in whatever order.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Protocol

from onedatum.jobs.convert.unit import Outcome, Unit


class Engine(Protocol):
    """One way to have units worked."""

    def map(self, units: Iterable[Unit]) -> Iterator[tuple[Unit, Outcome]]:
        """Work units, taken one by one as there is room; what comes of each, in their order."""

    def cancel(self) -> None:
        """End all that is still under way, and all that was started for it."""
