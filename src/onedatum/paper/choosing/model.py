"""What the sheets of choosing print: plain records, every text already formatted."""

from dataclasses import dataclass
from typing import Literal

from onedatum.paper.model import Head, Note, Sign

CellSign = Literal["suits", "suits on conditions", "to be ordered", "undecided", "does not suit", "no influence"]
"""The four signs of a verdict; a lesser one where only the order has to keep to something; a dot for no influence."""


@dataclass(frozen=True, slots=True)
class Cell:
    """One principle under one condition. `site` marks a limit that the site sets otherwise."""

    sign: CellSign
    site: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """One principle over all conditions."""

    principle: str
    sign: Sign
    cells: tuple[Cell, ...]
    stated: bool = False
    name: str = ""
    """The name the rules know it by; a page leads to it by this."""


@dataclass(frozen=True, slots=True)
class Comparison:
    """A number or word that decides, beside its limit. `bare` marks a number without an uncertainty."""

    title: str
    value: str
    limit: str
    assumed: bool = False
    bare: bool = False


@dataclass(frozen=True, slots=True)
class Reason:
    """One rule that decides: what it is about, what decides, why, what to do, where it comes from."""

    title: str
    sign: Sign
    comparisons: tuple[Comparison, ...]
    reason: str
    action: str
    source: str
    state: str = ""
    site: str = ""


@dataclass(frozen=True, slots=True)
class Principle:
    """The verdict on one principle with everything that carries it."""

    title: str
    sign: Sign
    lead: str
    reasons: tuple[Reason, ...]
    requirements: tuple[str, ...] = ()
    questions: tuple[str, ...] = ()
    flip: str = ""
    beside: tuple[str, ...] = ()
    """What blocks the order, warns, or belongs on a permit, without changing the verdict."""
    stated: bool = False
    name: str = ""
    """The name the rules know it by; a page leads to it by this."""


@dataclass(frozen=True, slots=True)
class Ranked:
    """One place of the order of preference."""

    rank: int
    principle: str
    sign: Sign
    left: str
    reason: str


@dataclass(frozen=True, slots=True)
class Selection:
    """The verdict on every principle, in the order it is printed."""

    head: Head
    answer: str
    conditions: tuple[str, ...]
    rows: tuple[Row, ...]
    ranking: tuple[Ranked, ...]
    orderable: str
    """What can be ordered now; where the order is blocked or waits, that."""
    principles: tuple[Principle, ...]
    unknown: str
    """The word that stands for what nobody has said yet."""
    blocking: tuple[Note, ...] = ()
    """What blocks the order, whatever the principle: the same as on the order."""
    first_asked: tuple[Note, ...] = ()
    """The first questions, where nothing suits yet."""
    common: tuple[str, ...] = ()
    """What the order keeps to whichever of those that suit is chosen."""
    loosened: tuple[Note, ...] = ()
    """Limits of a published document that the site sets less safe: for the first page."""
    site_limits: tuple[Note, ...] = ()
    assumptions: tuple[Note, ...] = ()
    notes: tuple[Note, ...] = ()
    faults: tuple[Note, ...] = ()
    cautions: tuple[str, ...] = ()
    sources: tuple[Note, ...] = ()


@dataclass(frozen=True, slots=True)
class Question:
    """One question in the words of the customer, with room for the answer."""

    text: str
    choices: tuple[str, ...]
    unit: str
    who: str
    decides: str
    remark: str = ""
    now: str = ""
    """What is taken until it is answered."""


@dataclass(frozen=True, slots=True)
class Questions:
    """The questions to the customer: those that decide a verdict, those beside, those of the rest of the study."""

    head: Head
    answer: str
    deciding: tuple[Question, ...]
    attached: tuple[Question, ...]
    assumed: tuple[Question, ...]
    others: tuple[Question, ...]
    faults: tuple[Note, ...] = ()
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the order. `term` is what standards on properties of instruments call it, where they do."""

    label: str
    value: str
    term: str = ""
    open: bool = False
    assumed: bool = False


@dataclass(frozen=True, slots=True)
class Block:
    """Lines of the order that belong together."""

    title: str
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Order:
    """What is ordered, what blocks it, what it must keep to."""

    head: Head
    answer: str
    blocking: tuple[Note, ...]
    waits: tuple[Note, ...]
    blocks: tuple[Block, ...]
    requirements: tuple[Note, ...]
    beside: tuple[Note, ...]
    assumptions: tuple[Note, ...]
    terms: str
    faults: tuple[Note, ...] = ()
    cautions: tuple[str, ...] = ()
