"""Units in this process, one after the other; each begins with all that is known."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from onedatum.jobs.convert.unit import Job, Outcome, Unit, work


class Here:
    """This process."""

    def __init__(self, job: Job) -> None:
        self.job = job

    def map(self, units: Iterable[Unit]) -> Iterator[tuple[Unit, Outcome]]:
        """Each when it is asked for."""
        for unit in units:
            for outcome in work(unit, self.job):
                yield unit, outcome

    def cancel(self) -> None:
        """Nothing is under way between two outcomes."""
