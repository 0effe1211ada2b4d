"""What the rules read: quantities asked of the case, and numbers of the study; each with its kind, unit and side."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from math import inf
from types import MappingProxyType
from typing import Any

from onedatum import data
from onedatum.foundation.errors import OnedatumError
from onedatum.foundation.units import hint, read_quantity

TABLE = "conditions.json"
PROCESS, INSTRUMENT = "process", "instrument"
NUMBER, WORD, YES_OR_NO, COMPUTED = "number", "word", "yes or no", "computed"
YES, NO = "yes", "no"


@dataclass(frozen=True)
class Quantity:
    """One name of the rules."""

    name: str
    title: str
    """The question in the words of the customer; of a number of the study, what it means."""
    kind: str
    side: str
    words: tuple[str, ...] = ()
    unit: str = ""
    """In which its limits are written."""
    dimension: str = ""
    least: float = -inf
    """In SI: nothing smaller can be."""
    default: str = ""
    knows: str = ""
    """Who can answer."""
    remark: str = ""
    formula: str = ""
    asks: tuple[str, ...] = ()
    """Of a number of the study: the quantities of the process it is worked from."""

    @property
    def numeric(self) -> bool:
        """Whether it is compared with numbers."""
        return self.kind in (NUMBER, COMPUTED)

    @property
    def chosen(self) -> bool:
        """Whether it is a word of the build: one choice per build."""
        return self.kind == WORD and self.side == INSTRUMENT

    def in_si(self, number: float) -> float:
        """A limit in SI."""
        return read_quantity(f"{number!r} {self.unit}".rstrip(), self.dimension)


@cache
def quantities() -> Mapping[str, Quantity]:
    """Every name that a rule may read, in the order of the table."""
    table = data.table(TABLE)
    asked = [_asked(row) for row in table["asked"]]
    computed = [_computed(row) for row in table["computed"]]
    return MappingProxyType({quantity.name: quantity for quantity in (*asked, *computed)})


def quantity_of(name: str) -> Quantity:
    """The quantity of that name; of a name that no rule reads, the nearest is told."""
    try:
        return quantities()[name]
    except KeyError:
        raise OnedatumError(f"no rule reads {name!r}. {hint(name, quantities())}".rstrip()) from None


def _asked(row: Mapping[str, Any]) -> Quantity:
    return Quantity(
        row["name"],
        row["question"],
        row["kind"],
        row["side"],
        (YES, NO) if row["kind"] == YES_OR_NO else tuple(row.get("words", ())),
        row.get("unit", ""),
        row.get("dimension", ""),
        row.get("least_si", -inf),
        row.get("default", ""),
        row["knows"],
        row.get("remark", ""),
    )


def _computed(row: Mapping[str, Any]) -> Quantity:
    asks = tuple(row["asks"])
    return Quantity(
        row["name"],
        row["meaning"],
        COMPUTED,
        PROCESS if asks else INSTRUMENT,
        unit=row["unit"],
        dimension=row["dimension"],
        formula=row["formula"],
        asks=asks,
    )
