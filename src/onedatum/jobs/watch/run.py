"""One watch from its beginning to its end: samples in, rows onto the disk, views to whoever shows them."""

from __future__ import annotations

import asyncio
import signal
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, nullcontext, suppress
from dataclasses import dataclass
from pathlib import Path

from onedatum.foundation.errors import OutputError
from onedatum.jobs.watch.kept import Kept, Tally
from onedatum.jobs.watch.made import Followed, PortOf, links
from onedatum.jobs.watch.noted import note
from onedatum.jobs.watch.told import Status
from onedatum.logs.live.clock import OwnClock
from onedatum.logs.live.follower import View
from onedatum.logs.live.plan import WatchPlan
from onedatum.logs.live.sample import Sample
from onedatum.logs.live.watcher import repeated, watch

Sampled = Callable[[View, int], None]
"""Told after every sample: the tag as it stands now, and the time."""
Looked = Callable[[Sequence[View], Status], None]
"""Told again and again, also where no sample comes."""


@dataclass(frozen=True)
class Asked:
    """How a watch runs."""

    out: Path | None = None
    """The folder in which rows are kept; None: none are."""
    part_s: float = 60.0
    """Rows are brought to the disk so often."""
    for_s: float | None = None
    """How long it runs; None: until it is ended."""
    look_s: float = 1.0
    """What is shown is drawn so often."""
    records: str = ""
    """Where records are kept, by what its begin and its end are noted; empty: nowhere."""


@dataclass
class Outcome:
    """What came of it."""

    samples: int = 0
    levels: int = 0
    """Samples that tell a level."""
    tally: Tally | None = None
    trouble: str = ""
    unshown: OSError | None = None
    """Why what was shown could be shown no longer."""


class Watching:
    """A watch in the making."""

    def __init__(self, plan: WatchPlan, made: Followed, asked: Asked, clock: OwnClock, kept: Kept | None) -> None:
        self.plan, self.made, self.asked, self.clock, self.kept = plan, made, asked, clock, kept
        self.outcome = Outcome(tally=kept.tally if kept is not None else None)
        self.ended = asyncio.Event()
        self.sampled: Sampled = lambda view, now_us: None
        self.looked: Looked = lambda views, status: None
        self._note = ""
        self._remember()
        last_us = kept.last_us() if kept is not None else None
        if last_us is not None and last_us > clock.now_us():
            self._note = "the last rows kept are of a later time than now: the clock of this machine was changed"

    def _remember(self) -> None:
        """How long numbers have stood still before this watch began, as far as rows of them are kept."""
        followers = self.made.followers
        guarded = {tag: each.plan.frozen_after_s for tag, each in followers.items()}
        up_to_s = {tag: after_s for tag, after_s in guarded.items() if after_s is not None}
        if self.kept is None or not up_to_s:
            return
        now_us = self.clock.now_us()
        for tag, still in self.kept.stood_still(up_to_s, now_us).items():
            if still.unit == followers[tag].plan.unit:
                followers[tag].remember(still.value, still.source_us, min(still.since_us, now_us))

    def take(self, sample: Sample) -> None:
        """One sample of any tag."""
        follower = self.made.followers[sample.tag]
        row = follower.take(sample)
        self.outcome.samples += 1
        try:
            if self.kept is not None:
                self.kept.add(row)
        except OutputError as error:
            self.outcome.trouble = str(error)
            self.ended.set()
        if row.amount.level_m is not None:
            self.outcome.levels += 1
        now_us = self.clock.now_us()
        with self._showing():
            self.sampled(follower.view(now_us), now_us)

    @contextmanager
    def _showing(self) -> Iterator[None]:
        """Whoever was shown the levels may be gone: then the watch ends, and what waits is still kept."""
        try:
            yield
        except OSError as error:
            self.outcome.unshown = error
            self.ended.set()

    def commit(self) -> None:
        """Bring to the disk what waits."""
        if self.kept is not None:
            self.kept.commit()

    def look(self) -> None:
        """Show all tags."""
        now_us = self.clock.now_us()
        tally = self.outcome.tally or Tally()
        waiting = self.kept.waiting if self.kept is not None else 0
        trouble = self.kept.trouble if self.kept is not None else ""
        notes = tuple(filter(None, (self._note, self.clock.remark, trouble)))
        status = Status(now_us, self.plan.every_s, self.plan.rate_over_s, tally.rows, waiting, notes)
        with self._showing():
            self.looked([each.view(now_us) for each in self.made.followers.values()], status)

    async def run(self, port_of: PortOf) -> Outcome:
        """Until it is ended; what waits then is brought to the disk."""
        if self.asked.for_s is not None:
            asyncio.get_running_loop().call_later(self.asked.for_s, self.ended.set)
        try:
            async with asyncio.TaskGroup() as group:
                group.create_task(
                    watch(links(self.plan, port_of, self.clock), self.plan.every_s, self.take, self.ended)
                )
                group.create_task(repeated(self.asked.look_s, self.look, self.ended))
                group.create_task(repeated(self.asked.part_s, self.commit, self.ended))
        finally:
            self.commit()
        if self.kept is not None and self.kept.waiting:
            self.outcome.trouble = f"{self.kept.waiting} rows could not be kept: {self.kept.trouble}"
        return self.outcome


def run(plan: WatchPlan, made: Followed, asked: Asked, port_of: PortOf, sampled: Sampled, looked: Looked) -> Outcome:
    """Watch until a signal or the end that was asked for; raises OutputError and StoreError before it begins."""

    async def whole(kept: Kept | None) -> Outcome:
        watching = Watching(plan, made, asked, OwnClock(), kept)
        watching.sampled, watching.looked = sampled, looked
        for name in ("SIGINT", "SIGTERM", "SIGHUP"):  # the last where the terminal is closed
            with suppress(AttributeError, NotImplementedError, ValueError, RuntimeError):  # none such, or not here
                asyncio.get_running_loop().add_signal_handler(getattr(signal, name), watching.ended.set)
        return await watching.run(port_of)

    with Kept.of(asked.out) if asked.out is not None else nullcontext() as kept:
        _note(plan, made, asked, "begun", kept)
        found = asyncio.run(whole(kept))
        _note(plan, made, asked, "ended", kept)
        return found


def _note(plan: WatchPlan, made: Followed, asked: Asked, what: str, kept: Kept | None) -> None:
    if asked.records:
        tally = kept.tally if kept is not None else Tally()
        note(asked.records, what, plan, made.followers.values(), asked.out, tally)
