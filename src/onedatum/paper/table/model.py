"""What the papers of a tank table print: plain records, filled by whoever holds the table.

The numbers of the rows are floats in the user's units; everything else that is read is text, already formatted. A
number that is missing or not finite is printed as a dash; a line whose value is empty reads "unknown".
"""

from dataclasses import dataclass

from onedatum.paper.model import Head, State


@dataclass(frozen=True, slots=True)
class Column:
    """One column of the table: its name, its unit, the decimals that are printed, one number for each row."""

    name: str
    unit: str
    decimals: int
    values: tuple[float | None, ...]


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the vessel or of the conditions, and how its value is known."""

    label: str
    value: str
    state: State = "computed"


@dataclass(frozen=True, slots=True)
class Heel:
    """A volume that stays in the vessel: below the lowest measurable level, the outlet, the limit of the pump."""

    label: str
    level: str
    volume: str


@dataclass(frozen=True, slots=True)
class Zone:
    """Levels, in the unit of the level column, whose volumes are not to be used, and why."""

    low: float
    high: float
    words: str


@dataclass(frozen=True, slots=True)
class TankTable:
    """Everything the papers of one tank table print, in the order they print it.

    `slope` is the volume per unit of level between a row and its neighbour; its name says which. `fine` marks the
    rows that are finer than the step. `statement` is the sentence that heads the PDF; without one it is made of the
    highest row.
    """

    head: Head
    level: Column
    volume: Column
    slope: Column
    ullage: Column | None = None
    vessel: tuple[Line, ...] = ()
    conditions: tuple[Line, ...] = ()
    interpolation: tuple[str, ...] = ()
    heels: tuple[Heel, ...] = ()
    cautions: tuple[str, ...] = ()
    fine: tuple[bool, ...] = ()
    zones: tuple[Zone, ...] = ()
    statement: str = ""

    def __post_init__(self) -> None:
        """Columns of different length make no table; raises ValueError."""
        count = len(self.level.values)
        lengths = [len(column.values) for column in self.columns] + ([len(self.fine)] if self.fine else [])
        if any(length != count for length in lengths):
            raise ValueError(f"the columns of a tank table must be of one length [rows]; got {lengths}")

    @property
    def columns(self) -> tuple[Column, ...]:
        """The columns from left to right."""
        return (self.level, self.volume, self.slope, *((self.ullage,) if self.ullage else ()))
