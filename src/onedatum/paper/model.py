"""What the paper room draws and prints: plain records, filled by whoever holds a study.

Numbers that are drawn (heights, radii) come as floats in metres; everything that is read comes as text already
formatted. All heights of one `Ruler` are measured from its one datum.
"""

from dataclasses import dataclass
from typing import Literal

from onedatum.paper.columns.model import ChamberSketch, LegsSketch
from onedatum.paper.echo.model import EchoDrawing
from onedatum.paper.field.model import CurveDrawing, FieldDrawing
from onedatum.paper.loop.model import LoopDrawing
from onedatum.paper.numbers import Numbers
from onedatum.paper.vessel.model import VesselDrawing

MarkKind = Literal["range", "critical", "alarm", "dead zone", "geometry", "loop end", "datum"]
BandKind = Literal["dead zone", "outside range", "response time"]
State = Literal["stated", "assumed", "computed", "unknown"]
Sign = Literal["suits", "suits on conditions", "undecided", "does not suit"]

NOT_STATED = "not stated"


@dataclass(frozen=True, slots=True)
class Nozzle:
    """A vertical nozzle on the crown: a rectangle from where it leaves the head to the flange face."""

    bore_m: float
    foot_m: float
    face_m: float
    offset_m: float = 0.0


@dataclass(frozen=True, slots=True)
class Stem:
    """The stem or probe that hangs from the flange face; the float is drawn when all its three sizes are given."""

    tip_m: float
    face_m: float
    offset_m: float = 0.0
    float_diameter_m: float | None = None
    float_height_m: float | None = None
    float_immersion_m: float | None = None


@dataclass(frozen=True, slots=True)
class Band:
    """A span of heights that is shaded: dead zone, outside the range, or filled during the response time (HH to CH)."""

    kind: BandKind
    low_m: float
    high_m: float


@dataclass(frozen=True, slots=True)
class WorkingRange:
    """The bar from LRV to URV and its words, for instance "working range 2700"."""

    low_m: float
    high_m: float
    text: str


@dataclass(frozen=True, slots=True)
class Mark:
    """A named height. `blocks` prints it in red; `assumed` gives it the dashed underline."""

    name: str
    height_m: float
    kind: MarkKind
    blocks: bool = False
    assumed: bool = False


@dataclass(frozen=True, slots=True)
class Stop:
    """Where a scale ends before the vessel does, and the words of the field above it."""

    height_m: float
    text: str


@dataclass(frozen=True, slots=True)
class Scale:
    """One scale on the height: `values[i]` holds at `heights_m[i]`.

    Heights rise strictly; values are monotone (rising or falling). A linear scale needs two points, a curved one
    enough that a straight line between neighbours is as good as the printed digits. Neighbours with the same `group`
    stand back to back on one spine. With `unknown` (what to ask for) the table may be empty.
    """

    name: str
    group: str
    heights_m: tuple[float, ...]
    values: tuple[float, ...]
    decimals: int
    stops_at: Stop | None = None
    unknown: str | None = None
    assumed: bool = False

    def __post_init__(self) -> None:
        object.__setattr__(self, "heights_m", Numbers.of(self.heights_m))
        object.__setattr__(self, "values", Numbers.of(self.values))


@dataclass(frozen=True, slots=True)
class Span:
    """A span of heights, as a finding names it for its enlarged detail."""

    low_m: float
    high_m: float


@dataclass(frozen=True, slots=True)
class Bracket:
    """The letter beside the scales that leads to an enlarged detail."""

    letter: str
    span: Span


@dataclass(frozen=True, slots=True)
class Ruler:
    """The drawing in which one height carries all its scales."""

    datum: str
    outline: tuple[tuple[float, float], ...]
    scales: tuple[Scale, ...]
    marks: tuple[Mark, ...] = ()
    bands: tuple[Band, ...] = ()
    nozzle: Nozzle | None = None
    stem: Stem | None = None
    working_range: WorkingRange | None = None
    level_m: float | None = None
    brackets: tuple[Bracket, ...] = ()
    is_round: bool = True
    """Whether twice the width of the outline is a diameter."""
    section: str = "half section"
    """What the outline is: half the section of an upright vessel, or half of the section across a lying one."""


@dataclass(frozen=True, slots=True)
class Head:
    """Whose paper this is. `state` names the operating condition the ruler shows."""

    tag: str
    service: str = ""
    author: str = NOT_STATED
    checker: str = NOT_STATED
    revision: str = NOT_STATED
    date: str = NOT_STATED
    case_hash: str = ""
    tool_version: str = ""
    datum: str = ""
    state: str = ""
    invented: bool = False


@dataclass(frozen=True, slots=True)
class Link:
    """One link of a finding's chain: words and the number they lead to."""

    text: str
    value: str = ""


@dataclass(frozen=True, slots=True)
class Finding:
    """A chain of numbers that ends in something. `effect` is its word, for instance "Blocks the order".

    `detail` is the span of heights that the paper draws enlarged, for marks too close to be told apart on the ruler.
    """

    title: str
    effect: str
    chain: tuple[Link, ...] = ()
    ways_out: tuple[str, ...] = ()
    blocks: bool = False
    uncertainty_stated: bool = True
    detail: Span | None = None


@dataclass(frozen=True, slots=True)
class Verdict:
    """What is said of one principle: sign, deciding number with its limit, reason."""

    principle: str
    sign: Sign
    deciding: str = ""
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """A plain table: head cells, rows, and which rows are the level line, block, or rest on an assumed value."""

    head: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()
    level_row: int | None = None
    blocking_rows: tuple[int, ...] = ()
    assumed_rows: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Number:
    """One line of the numbers table."""

    name: str
    meaning: str
    value: str
    state: State = "computed"
    rests_on_assumed: bool = False


@dataclass(frozen=True, slots=True)
class Group:
    """Numbers that belong together under one title."""

    title: str
    numbers: tuple[Number, ...]


@dataclass(frozen=True, slots=True)
class Input:
    """One input of a sheet entry: its symbol, meaning, the entry it comes from, its value."""

    symbol: str
    meaning: str
    entry: str
    value: str
    state: State = "computed"


@dataclass(frozen=True, slots=True)
class Entry:
    """One number of the sheet with its whole working.

    `formula` and `numbers` are Typst maths; where either is no valid maths its plain text is printed instead.
    `procedure` names the method in words when there is no formula. `place` is file:line of a stated value.
    """

    name: str
    meaning: str
    value: str
    state: State
    formula: str = ""
    numbers: str = ""
    procedure: str = ""
    inputs: tuple[Input, ...] = ()
    source: str = ""
    source_tag: str = ""
    place: str = ""
    note: str = ""
    rests_on_assumed: bool = False


@dataclass(frozen=True, slots=True)
class Chapter:
    """Entries of the sheet under one title, in the order they were worked."""

    title: str
    entries: tuple[Entry, ...]


@dataclass(frozen=True, slots=True)
class Note:
    """A line and its explanation: an assumption and why, a question and what it decides, a requirement and why."""

    text: str
    detail: str = ""


@dataclass(frozen=True, slots=True)
class SheetTable:
    """A table of a sheet; `weights` are the widths of its columns among each other, `failing` its rows that fail."""

    title: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    weights: tuple[float, ...] = ()
    failing: tuple[int, ...] = ()
    note: str = ""
    narrow: bool = False
    """Whether it may stand beside another one."""


@dataclass(frozen=True, slots=True)
class TopicSheet:
    """One sheet on one subject: its answer, its cautions, what was compared, what is known and how far."""

    title: str
    answer: str
    cautions: tuple[str, ...]
    tables: tuple[SheetTable, ...] = ()
    drawing: LoopDrawing | EchoDrawing | ChamberSketch | LegsSketch | None = None
    notes: tuple[Note, ...] = ()
    pictures: tuple[FieldDrawing | CurveDrawing, ...] = ()
    """Drawings beside the one that the sheet opens with; they stand before its notes."""


@dataclass(frozen=True, slots=True)
class Paper:
    """Everything one document prints, in the order it prints it."""

    head: Head
    answer: str = ""
    blocking: str = ""
    ruler: Ruler | None = None
    vessel: VesselDrawing | None = None
    marks: Table = Table()
    findings: tuple[Finding, ...] = ()
    verdicts: tuple[Verdict, ...] = ()
    questions: tuple[Note, ...] = ()
    requirements: tuple[Note, ...] = ()
    assumptions: tuple[Note, ...] = ()
    not_read: tuple[Note, ...] = ()
    """Stated, but moving no number yet."""
    faults: tuple[Note, ...] = ()
    numbers: tuple[Group, ...] = ()
    stem: tuple[TopicSheet, ...] = ()
    """Stem and float, with the data of the order."""
    safety: tuple[TopicSheet, ...] = ()
    """Loop, hazardous area, alarms, functional safety, static charge: a page each."""
    sheet: tuple[Chapter, ...] = ()
    cautions: tuple[str, ...] = ()
    sources: tuple[Note, ...] = ()
    data_files: tuple[Note, ...] = ()
