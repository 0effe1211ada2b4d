"""The result of a study: one object, of which text, paper and JSON are views."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from onedatum.case.leaf import Leaf
from onedatum.case.reading import Statement
from onedatum.foundation.errors import Fault
from onedatum.foundation.units import show
from onedatum.foundation.working import Entry, Sheet, entry_text
from onedatum.study.batch import BatchChapter
from onedatum.study.budget import Budget
from onedatum.study.choosing import Choosing
from onedatum.study.findings import ALARM_NEVER_COMES
from onedatum.study.legal import LegalLine
from onedatum.study.measuring import Measuring
from onedatum.study.quantity import QuantityChapter
from onedatum.study.safe import Safe
from onedatum.study.states import Condition
from onedatum.study.stem import StemDetail
from onedatum.study.tolerance import ToleranceChapter
from onedatum.study.vessel import VesselChapter
from onedatum.verdicts import Check, Effect, Finding, Verdict, merge

Order = Literal["blocked", "waits for answers", "not blocked"]


@dataclass(frozen=True)
class Question:
    """A number only the customer knows, and the entries that wait for it."""

    path: str
    title: str
    decides: tuple[str, ...]


@dataclass(frozen=True)
class Assumption:
    """Something the numbers rest on that nobody has stated as a fact: by the case, or by the tool itself."""

    path: str
    title: str
    text: str
    why: str


@dataclass(frozen=True)
class Requirement:
    """A number that is ours to choose: it becomes a line of the order."""

    path: str
    title: str
    note: str = ""


@dataclass(frozen=True)
class Study:
    """All that follows from a case."""

    statement: Statement
    sheet: Sheet
    findings: tuple[Finding, ...]
    checks: tuple[Check, ...]
    budget: Budget | None
    questions: tuple[Question, ...]
    requirements: tuple[Requirement, ...]
    assumptions: tuple[Assumption, ...]
    not_read: tuple[Leaf, ...]
    """Stated, but read by no chapter yet."""
    faults: tuple[Fault, ...]
    states: tuple[str, ...]
    now: Condition
    """The state that quantities are stated for."""
    vessel: VesselChapter | None
    """None where levels alone are wanted, and nothing asks for a volume."""
    quantity: QuantityChapter | None
    """None where levels alone are wanted."""
    batch: BatchChapter | None
    legal: tuple[LegalLine, ...]
    tolerance: ToleranceChapter | None
    safe: Safe
    detail: StemDetail | None
    """Stem and float in depth; None where no float is read by a stem."""
    measuring: Measuring
    """What measures, and the levels it can tell."""
    choosing: Choosing | None = None
    """The verdict on every principle; None where the case does not ask for it."""
    for_verdicts: Mapping[str, Entry] = field(default_factory=dict)
    """Entries that the verdicts alone rest on, where no instrument is chosen; they stand on no sheet of the study."""

    @property
    def has_instrument(self) -> bool:
        """Whether an instrument is chosen: without one there is nothing to order, and the question is which suits."""
        return self.measuring.levels is not None

    @property
    def depth(self) -> StemDetail:
        """Stem and float in depth, for whoever has made sure that there is one."""
        if self.detail is None:
            raise ValueError("no float is read by a stem")
        return self.detail

    @property
    def amounts(self) -> QuantityChapter:
        """The quantity, for whoever has made sure that one is wanted."""
        if self.quantity is None:
            raise ValueError("levels alone are wanted")
        return self.quantity

    @property
    def order(self) -> Order:
        """Whether the order can be placed as far as it was checked."""
        if self.faults or self._against or any(finding.effect is Effect.BLOCKS for finding in self.findings):
            return "blocked"
        undecided = any(check.verdict is Verdict.UNDECIDED and not check.remark for check in self.checks)
        open_ = self.principle_verdict is Verdict.UNDECIDED
        waits = self.questions or undecided or open_ or not self.has_instrument
        return "waits for answers" if waits else "not blocked"

    def can_be_ordered(self, principle: str) -> bool:
        """Whether a principle can be ordered now: nothing blocks the order, nothing is waited for or left to settle."""
        found = self.choosing
        return self.order == "not blocked" and found is not None and found.only_ordering_left(principle)

    @property
    def principle_verdict(self) -> Verdict | None:
        """The verdict on the principle of the case; None where none was judged."""
        found = self.choosing.of_stated if self.choosing is not None else None
        return None if found is None else found.verdict

    @property
    def _against(self) -> str:
        """What of the rules stands against the order of the principle of the case; "" where nothing does."""
        if self.principle_verdict is Verdict.DOES_NOT_SUIT:
            return "the principle does not suit"
        blocking = self.choosing.blocking if self.choosing is not None else ()
        return blocking[0].rule.name.replace("-", " ") if blocking else ""

    @property
    def checks_verdict(self) -> Verdict:
        """The checks merged, remarks apart; it says nothing of what no check judges yet.

        A requirement of the order left makes it hold on conditions.
        """
        found = [check.verdict for check in self.checks if not check.remark]
        return merge([*found, Verdict.ON_CONDITIONS] if self.requirements else found)

    @property
    def blocking(self) -> str:
        """Why the order is blocked, in one sentence; "" where it is not."""
        if self.faults:
            count = len({fault.path for fault in self.faults})
            return f"Order blocked: {count} input{'s' if count > 1 else ''} to correct."
        blocks = [finding for finding in self.findings if finding.effect is Effect.BLOCKS]
        if not blocks:
            return f"Order blocked: {self._against}." if self._against else ""
        ends = self.sheet.entries.get("loop.last_good_current"), self.sheet.entries.get("overfill.high_high_current")
        values = [entry.value for entry in ends if entry is not None and entry.value is not None]
        if blocks[0].key == ALARM_NEVER_COMES and len(values) == len(ends) and values[0] < values[1]:
            return f"Order blocked: HH needs {self._short('overfill.high_high_current')}, the loop ends at " + (
                f"{self._short('loop.last_good_current')}."
            )
        return f"Order blocked: {blocks[0].title}."

    @property
    def answer(self) -> str:
        """The first half of the answer: what was studied and how far it goes."""
        if not self.has_instrument:
            return self._of_principles
        principle = self.statement.case.instrument.principle.word
        head = principle[:1].upper() + principle[1:]
        if self.order == "not blocked":
            left = len(self.requirements)
            tail = f"; {left} requirement{'s' if left != 1 else ''} of the order left" if left else ""
            apart = len(self.not_read)
            tail += f"; {apart} stated value{'s' if apart != 1 else ''} not judged yet" if apart else ""
            return f"{head}: nothing found that blocks the order{tail}."
        if self.order == "waits for answers":
            count = len(self.questions)
            if count == 0 and self.principle_verdict is Verdict.UNDECIDED:
                return f"{head}: the verdict on the principle is undecided."
            if count == 0:
                return f"{head}: undecided within the uncertainty stated."
            return f"{head}: {count} answer{'s' if count != 1 else ''} of the customer needed."
        return f"{head}."

    @property
    def _of_principles(self) -> str:
        """The same where no instrument is chosen: how many principles suit, and how many wait for an answer."""
        if self.choosing is None:
            return "No instrument is chosen."
        found = [verdict.verdict for verdict in self.choosing.verdicts.values()]
        suit, open_ = len(self.choosing.ranking), found.count(Verdict.UNDECIDED)
        first = (
            f"{suit} of {len(found)} principles suit{'s' if suit == 1 else ''}" if suit else "no principle suits yet"
        )
        return f"No instrument is chosen: {first}, {open_ or 'none'} {'are' if open_ > 1 else 'is'} undecided."

    @property
    def shown(self) -> Mapping[str, Entry]:
        """Every entry that can be shown by name: those of the sheet, and those that the verdicts alone rest on."""
        return {**self.for_verdicts, **self.sheet.entries}

    def show(self, name: str) -> str:
        """One number with its whole working, as text."""
        return entry_text(self.shown[name])

    def _short(self, name: str) -> str:
        """A current as it is said aloud: to the hundredth of a milliampere."""
        entry: Entry = self.sheet[name]
        return show(entry.value, "mA")

    def value(self, name: str) -> float | None:
        """A number of the sheet in SI; None where it is unknown or not on the sheet."""
        return self.sheet[name].value if name in self.sheet else None

    @property
    def entries(self) -> Mapping[str, Entry]:
        """The sheet's entries by name."""
        return self.sheet.entries
