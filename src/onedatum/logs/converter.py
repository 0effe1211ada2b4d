"""All that a kernel needs of the cases, made once: the tables of every tag side by side, and lines from any unit."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from hashlib import sha256
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from onedatum.foundation.errors import QuantityError
from onedatum.foundation.numerics import Reals
from onedatum.logs.mapping import LogMapping, worth_of
from onedatum.logs.tanks import PIVOT, QUANTITIES, TankTables

if TYPE_CHECKING:
    from onedatum.study.result import Study

Places = Any
"""Row of every tank, an array or one number for all."""
REACH = 1e-12
"""Of a table: how far rounding may put its end beyond it."""


@dataclass(frozen=True)
class Spots:
    """Where rows stand in tables of even steps: the step, how far into it, and whether beyond either end."""

    row: NDArray[np.intp]
    share: Reals
    outside: NDArray[np.bool_]

    def read(self, values: Reals, rises: Reals) -> Reals:
        """A table at the spots; what is outside is told the least of it."""
        found = np.take(rises, self.row)
        found *= self.share
        found += np.take(values, self.row)
        return found


@dataclass(frozen=True)
class Grids:
    """Tables of one quantity or more for every tank, end to end, each in even steps of its own."""

    low: Reals
    per_step: Reals
    cells: Reals
    base: NDArray[np.intp]
    values: Mapping[str, Reals]
    rises: Mapping[str, Reals]
    """From each value to the next of the same tank; 0 at the last."""

    @classmethod
    def of(cls, keys: Sequence[str], tables: Sequence[tuple[float, float, Mapping[str, Reals]]]) -> Grids:
        """From (low, high, values by key) of every tank; a key that a tank lacks has no number there."""
        sizes = [max((len(each) for each in values.values()), default=2) for _, _, values in tables]
        ends = np.array([(low, high) for low, high, _ in tables], dtype=np.float64).reshape(-1, 2)
        cells = np.array(sizes, dtype=np.float64) - 1.0
        values = {
            key: np.concatenate(
                [own.get(key, np.full(size, np.nan)) for (_, _, own), size in zip(tables, sizes, strict=True)]
            )
            for key in keys
        }
        with np.errstate(invalid="ignore", divide="ignore"):
            per_step = cells / (ends[:, 1] - ends[:, 0])
        base = np.concatenate([[0], np.cumsum(sizes)[:-1]]).astype(np.intp)
        return cls(
            ends[:, 0],
            per_step,
            cells,
            base,
            values,
            {key: _rises(each, base) for key, each in values.items()},
        )

    @cached_property
    def lacking(self) -> NDArray[np.bool_]:
        """The steps in which any table has no number."""
        found = np.zeros(int(np.sum(self.cells + 1.0)), dtype=bool)
        for table in (*self.values.values(), *self.rises.values()):
            found |= ~np.isfinite(table)
        return found

    def spots(self, tank: Places, x: Reals) -> Spots:
        """Where x stands in the tables of its tank."""
        place = x - self.low[tank]
        place *= self.per_step[tank]
        cells = self.cells[tank]
        outside = ~((place >= -REACH * cells) & (place <= cells * (1.0 + REACH)))
        if outside.any():
            place[outside] = 0.0
        np.clip(place, 0.0, cells, out=place)
        row = place.astype(np.intp)
        place -= row
        row += self.base[tank]
        return Spots(row, place, outside)


def _rises(values: Reals, base: NDArray[np.intp]) -> Reals:
    """What each value of tables end to end is followed by, as a difference."""
    found = np.append(np.diff(values), 0.0)
    found[base[1:] - 1] = 0.0
    return found


@dataclass(frozen=True)
class Line:
    """Numbers of one unit: level = level_at_0 + level_per*x and the same of the current, for every tank."""

    level_at_0: Reals
    level_per: Reals
    current_at_0: Reals
    current_per: Reals
    tells_state: bool
    """Whether it is a current itself, which says of itself whether it measures."""


@dataclass(frozen=True)
class Converter:
    """The tables of all tags."""

    tanks: tuple[TankTables, ...]
    mapping: LogMapping

    @classmethod
    def of(cls, studies: Sequence[Study], mapping: LogMapping) -> Converter:
        """Make the tables of every study."""
        from onedatum.logs.tables import tank_tables

        wanted = bool(mapping.temperature)
        return cls(tuple(tank_tables(study, mapping.within, wanted) for study in studies), mapping)

    @cached_property
    def key(self) -> str:
        """What the result depends on beside the log: cases and mapping."""
        parts = [*(tank.content_hash for tank in self.tanks), self.mapping.content_hash]
        return sha256("\0".join(parts).encode()).hexdigest()

    @cached_property
    def tags(self) -> dict[str, int]:
        """The number of each tag as a log calls it."""
        own = {tank.tag: number for number, tank in enumerate(self.tanks)}
        return {**own, **{name: own[tag] for name, tag in self.mapping.names.items() if tag in own}}

    @cached_property
    def columns(self) -> tuple[str, ...]:
        """The quantities that any tag has."""
        return tuple(each.column for each in QUANTITIES if any(each.column in tank.values for tank in self.tanks))

    @cached_property
    def uncertain(self) -> tuple[str, ...]:
        """The columns whose uncertainty any tag tells."""
        return tuple(key for key in ("level_m", *self.columns) if any(key in tank.u for tank in self.tanks))

    @cached_property
    def over_level(self) -> Grids:
        """The quantities and all standard uncertainties, these named `u_` and their column."""
        tables = [{**tank.values, **{f"u_{key}": u for key, u in tank.u.items()}} for tank in self.tanks]
        keys = [*self.columns, *(f"u_{key}" for key in self.uncertain)]
        ends = [(tank.low_m, tank.high_m) for tank in self.tanks]
        return Grids.of(keys, [(*pair, table) for pair, table in zip(ends, tables, strict=True)])

    @cached_property
    def has_tables(self) -> NDArray[np.bool_]:
        """Whether a quantity is known, by tank."""
        return np.array([bool(tank.values) for tank in self.tanks])

    @cached_property
    def warm(self) -> NDArray[np.bool_]:
        """Whether the temperature of the log is used, by tank."""
        return np.array([tank.by_temperature is not None for tank in self.tanks])

    @cached_property
    def at_0(self) -> Grids:
        """The part of each quantity that does not go with the volume, over the temperature."""
        return self._by_temperature(False)

    @cached_property
    def slopes(self) -> Grids:
        """What each quantity gains per volume by the table, over the temperature."""
        return self._by_temperature(True)

    def _by_temperature(self, slope: bool) -> Grids:
        tables: list[tuple[float, float, Mapping[str, Reals]]] = []
        for each in (tank.by_temperature for tank in self.tanks):
            tables.append(
                (np.nan, np.nan, {}) if each is None else (each.low_K, each.high_K, each.slope if slope else each.at_0)
            )
        return Grids.of(self.of_temperature, tables)

    @cached_property
    def of_temperature(self) -> tuple[str, ...]:
        """The quantities that the temperature of the liquid moves."""
        fixed = next(each.column for each in QUANTITIES if each.entry == PIVOT)
        return tuple(key for key in self.columns if key != fixed)

    @cached_property
    def edges_A(self) -> Reals:
        """Least current of each state above the lowest: row by state, column by tank."""
        return np.array([tank.edges_A for tank in self.tanks]).reshape(-1, 4).T

    @cached_property
    def ends_A(self) -> Reals:
        """Where the current stops, below and above, column by tank."""
        return np.array([tank.ends_A for tank in self.tanks]).reshape(-1, 2).T

    @cached_property
    def follows_m(self) -> Reals:
        """Between which readings the instrument follows the level, column by tank."""
        return np.array([tank.follows_m for tank in self.tanks]).reshape(-1, 2).T

    @cached_property
    def rises(self) -> NDArray[np.bool_]:
        """Whether the current rises with the level."""
        return np.array([tank.upper_m > tank.lower_m for tank in self.tanks])

    def line(self, unit: str) -> Line | None:
        """What numbers of a unit stand for; None where the unit is not known."""
        if unit not in self._lines:
            self._lines[unit] = self._made_line(unit)
        return self._lines[unit]

    @cached_property
    def _lines(self) -> dict[str, Line | None]:
        return {}

    def _made_line(self, unit: str) -> Line | None:
        from onedatum.physics.loop import current_A, level_at_current_m

        try:
            worth = worth_of(self.mapping, unit)
        except QuantityError:
            return None
        lower = np.array([tank.lower_m for tank in self.tanks])
        upper = np.array([tank.upper_m for tank in self.tanks])
        ends = [np.full_like(lower, each) for each in (worth.at_0, worth.at_far)]
        if worth.is_level:
            level, current = ends, [np.asarray(current_A(each, lower, upper)) for each in ends]
        else:
            current, level = ends, [np.asarray(level_at_current_m(each, lower, upper)) for each in ends]
        level_per, current_per = (level[1] - level[0]) / worth.far, (current[1] - current[0]) / worth.far
        return Line(level[0], level_per, current[0], current_per, not worth.is_level)
