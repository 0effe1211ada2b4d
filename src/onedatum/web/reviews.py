"""The reviews of one server: begun in the slow worker, held while their rows are, found by their files."""

from __future__ import annotations

import secrets
from collections import OrderedDict
from functools import partial
from pathlib import Path

from onedatum.jobs.page.made import CaseText
from onedatum.jobs.page.review import KEPT, Reviewed, Stamped, progress_file, reviewed
from onedatum.web.tasks import Task, Tasks

REVIEW = "review"
TITLE = "Review"


class Reviews:
    """What is held; the oldest goes first."""

    def __init__(self, tasks: Tasks, place: Path) -> None:
        self._tasks, self.place = tasks, place
        self._held: OrderedDict[str, Reviewed] = OrderedDict()
        self._keys: OrderedDict[tuple[CaseText, Stamped], str] = OrderedDict()

    def start(self, case: CaseText, stamped: Stamped) -> Task:
        """Begin to review; the same is not begun twice at a time."""
        token = secrets.token_urlsafe(12)
        make = partial(
            reviewed, chosen=stamped.chosen, place=self.place, token=token, held=tuple(self._held)
        )  # fmt: skip
        return self._tasks.start(REVIEW, TITLE, case, make, stamped, progress_file(self.place, token))

    def task(self, id_: str, case: CaseText) -> Task | None:
        """A task by its id; what it made is held from then on."""
        found = self._tasks.found(id_, REVIEW, case)
        if found is not None:
            self._take(found)
        return found

    def of(self, case: CaseText, stamped: Stamped | None) -> Reviewed | None:
        """The review of these files as they are now; None where there is none."""
        if stamped is None:
            return None
        key = self._keys.get((case, stamped))
        if key is None:
            done = self._tasks.last(REVIEW, case, stamped)
            key = self._take(done) if done is not None else None
        found = self._held.get(key or "")
        if found is None or not (self.place / found.key).is_dir():
            return None
        self._held.move_to_end(found.key)
        return found

    def _take(self, task: Task) -> str | None:
        made = task.result
        if task.state != "done" or not isinstance(made, Reviewed) or not made.key:
            return None
        if made.shown is not None:
            self._held.setdefault(made.key, made)
        self._keys[task.case, task.asked] = made.key
        while len(self._held) > KEPT:
            self._held.popitem(last=False)
        while len(self._keys) > 8 * KEPT:
            self._keys.popitem(last=False)
        return made.key
