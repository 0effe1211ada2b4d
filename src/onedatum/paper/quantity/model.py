"""What the statement of a quantity prints: plain records, filled by whoever holds the study.

Everything that is read is text, already formatted; only what the pictures draw comes as floats, in the printed unit. A
value that is empty reads "unknown".
"""

from dataclasses import dataclass

from onedatum.paper.model import Head, Note, State
from onedatum.paper.table.model import Line


@dataclass(frozen=True, slots=True)
class Amount:
    """One quantity with its expanded uncertainty; `wanted` marks the one the budget is made for."""

    label: str
    value: str
    uncertainty: str = ""
    relative: str = ""
    state: State = "computed"
    wanted: bool = False


@dataclass(frozen=True, slots=True)
class Share:
    """One input of a budget: how well it was stated to be known, what it does, and what knowing it twice as well would.

    `share` is that of the variance, negative where the input cancels others.
    """

    label: str
    stated: str
    contribution: str
    share: float
    halved: str


@dataclass(frozen=True, slots=True)
class Budget:
    """The linear budget of one quantity."""

    of: str
    value: str
    expanded: str
    relative: str
    coverage: str
    shares: tuple[Share, ...]
    improve: str
    """The sentence that says what would help most."""
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Picture:
    """The histogram of a Monte Carlo and the intervals drawn beneath it, in the printed unit."""

    edges: tuple[float, ...]
    densities: tuple[float, ...]
    intervals: tuple[tuple[str, float, float], ...]
    """Words, lower end, upper end."""
    mean: float
    unit: str
    decimals: int


@dataclass(frozen=True, slots=True)
class MonteCarlo:
    """The Monte Carlo beside the linear budget."""

    lines: tuple[Line, ...]
    verdict: str
    agrees: bool
    picture: Picture
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Batch:
    """Before, after and the difference, and what is said of it."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    budget: Budget | None
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit beside what is reached; the tag says how far its text was seen."""

    document: str
    words: str
    limit: str
    reached: str
    verdict: str
    tag: str


@dataclass(frozen=True, slots=True)
class Decision:
    """A decision by a rule; the rule is printed before the result."""

    rule: str
    lines: tuple[Line, ...]
    verdict: str


@dataclass(frozen=True, slots=True)
class Statement:
    """Everything the statement of one tank prints, in the order it prints it."""

    head: Head
    answer: str
    conditions: tuple[Line, ...]
    amounts: tuple[Amount, ...]
    coverage: str
    """The heading of the uncertainties, such as "U (k = 2)"."""
    factors: tuple[Line, ...] = ()
    budget: Budget | None = None
    no_budget: str = ""
    """Why there is none."""
    monte_carlo: MonteCarlo | None = None
    no_monte_carlo: str = ""
    """Why there is none; empty where none was asked for."""
    batch: Batch | None = None
    limits: tuple[Limit, ...] = ()
    decision: Decision | None = None
    faults: tuple[Note, ...] = ()
    questions: tuple[Note, ...] = ()
    assumptions: tuple[Note, ...] = ()
    cautions: tuple[str, ...] = ()
    sources: tuple[Note, ...] = ()
