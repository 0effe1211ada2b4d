"""The quantities of one case as tables over the level, in even steps, with their standard uncertainty.

The chain of the sheet is worked again with a column of levels, so a log cannot differ from the statement of the same
level by more than the error of the table, which is stated. Where the liquid's temperature is logged, a quantity is a
straight line of the table volume whose two numbers follow the temperature; whether that holds of the case is tried, and
where it does not the stated temperature is taken, and said.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.foundation.working import Entry, Uncertainty, replay
from onedatum.logs.tanks import LIMITS, PIVOT, QUANTITIES, ByTemperature, TankTables
from onedatum.physics.loop import Bands, level_at_current_m, signal_state
from onedatum.physics.uncertainty import combined_standard_of_each, contributions
from onedatum.physics.vessels import Body
from onedatum.study.result import Study
from onedatum.study.scales import worked
from onedatum.study.sensitivity import standard_of, uncertain_under

LEVEL = "level_now"
CELLS = (1 << 10, 1 << 12, 1 << 14, 1 << 16, 1 << 18)
"""Steps of a table: as few as its digit needs."""
SHARE = 0.02
"""Of the last digit: what a table may be off by."""
U_CELLS = 1 << 10
AROUND_K = 100.0
"""How far from the stated temperature a logged one is looked for a density at."""
WITHIN = 2.0
"""Standard uncertainties of a reading within which a float that rests may be read."""
OF_REACH = 0.05
"""Of what can be measured: what that may take away at either end, however uncertain a reading is."""
TRIED = 64
"""Levels and temperatures at which the straight line is tried."""


def tank_tables(study: Study, within: tuple[float, str] | None = None, temperature: bool = False) -> TankTables:
    """The tables of a study whose level now is known; `within`: half-width of a reading, with its kind."""
    ends = [study.value(f"range.saturation.{end}") for end in ("low", "high")]
    last = study.value("loop.last_good_current")
    high = min(np.inf if each is None else each for each in (ends[1], last))
    lower, upper = (study.value(f"range.{end} mA") for end in (4, 20))
    known = lower is not None and upper is not None and lower != upper
    made = _Made(study, within, (lower, upper) if known else None)
    grids = made.tables()
    by = made.by_temperature(grids) if temperature else None
    u = made.standard(grids)
    return TankTables(
        study.statement.case.tag.text,
        study.statement.content_hash,
        lower if known and lower is not None else np.nan,
        upper if known and upper is not None else np.nan,
        edges_of(study.safe.bands),
        (-np.inf if ends[0] is None else ends[0], high),
        made.follows_m(),
        made.low_m,
        made.high_m,
        grids,
        made.off,
        u,
        by,
        tuple(made.remarks),
    )


def edges_of(bands: Bands) -> tuple[float, float, float, float]:
    """The least current of each state above the lowest, as `signal_state` tells them apart."""

    def edge(rank: int) -> float:
        low, high = 0.0, 0.1
        while low < (middle := 0.5 * (low + high)) < high:
            if LIMITS.index(signal_state(middle, bands)) >= rank:
                high = middle
            else:
                low = middle
        return high

    return edge(1), edge(2), edge(3), edge(4)


class _Made:
    """The tables of one study, in the making."""

    def __init__(
        self, study: Study, within: tuple[float, str] | None, limits: tuple[float | None, float | None] | None
    ) -> None:
        self.study, self.remarks = study, list[str]()
        self.off: dict[str, float] = {}
        self.low_m = self.high_m = np.nan
        body = study.vessel.body.whole if study.vessel is not None and study.quantity is not None else None
        if isinstance(body, Body):
            self.low_m, self.high_m = float(body.low_m), float(body.high_m)
        self.names = {each.column: each.entry for each in QUANTITIES if self._is_known(each.entry)}
        self.reading_u_m = self._reading_u(within, limits)
        if self.reading_u_m is None:
            self.remarks.append("no uncertainty of the level is stated: none is told of a row")

    def follows_m(self) -> tuple[float, float]:
        """The levels that can be measured, less what a reading at rest may be off by."""
        reach = self.study.measuring.levels
        low, high = (None, None) if reach is None else (reach.lowest.value, reach.highest.value)
        off_m = WITHIN * (self.reading_u_m or 0.0)
        if low is not None and high is not None:
            off_m = min(off_m, OF_REACH * (high - low))
        return (-np.inf if low is None else low + off_m), (np.inf if high is None else high - off_m)

    def _is_known(self, name: str) -> bool:
        entry = self.study.sheet.entries.get(name)
        return entry is not None and entry.known and np.isfinite(self.low_m)

    def _reading_u(
        self, within: tuple[float, str] | None, limits: tuple[float | None, float | None] | None
    ) -> float | None:
        if within is None:
            return standard_of(self.study.sheet[LEVEL]) or None
        half, kind = within
        if kind == "current":
            if limits is None or limits[0] is None or limits[1] is None:
                return None
            at_0, at_half = (float(level_at_current_m(each, limits[0], limits[1])) for each in (0.0, half))
            half = abs(at_half - at_0)
        return Uncertainty.within(half, "").standard

    def tables(self) -> dict[str, Reals]:
        """Every quantity in even steps, by its column."""
        digits = {each.column: each.digit for each in QUANTITIES}
        found: dict[str, Reals] = {}
        for cells in CELLS if self.names else ():
            columns = worked(self.study, list(self.names.values()), np.linspace(self.low_m, self.high_m, 2 * cells + 1))
            found = {key: np.array(columns[name])[::2] for key, name in self.names.items() if name in columns}
            self.off = {key: _off(columns[name]) for key, name in self.names.items() if name in columns}
            if all(off <= SHARE * digits[key] for key, off in self.off.items()):
                break
        for key, name in self.names.items():
            if key not in found:
                self.remarks.append(f"{name} is worked another way at other levels: it is left out")
        return found

    def standard(self, grids: Mapping[str, Reals]) -> dict[str, Reals]:
        """The standard uncertainty of level and quantities over the heights, in the steps of the quantities."""
        if self.reading_u_m is None:
            return {}
        surface = "level.surface" if "level.surface" in self.study.sheet else LEVEL
        wanted = {"level_m": surface, **{key: self.names[key] for key in grids}}
        low, high = (self.low_m, self.high_m) if grids else self._heights()
        if not low < high:
            return {}
        self.low_m, self.high_m = low, high
        levels = np.linspace(low, high, U_CELLS + 1)
        steps = np.linspace(low, high, max((len(each) for each in grids.values()), default=len(levels)))
        found = self._standard_at(levels, list(wanted.values()))
        return {key: np.interp(steps, levels, found[name]) for key, name in wanted.items()}

    def _heights(self) -> tuple[float, float]:
        """Where no vessel gives the ends, those of the range."""
        ends = [self.study.value(f"range.{end} mA") for end in (4, 20)]
        known = [0.0, *(each for each in ends if each is not None)]
        return min(known), max(known)

    def _standard_at(self, levels: Reals, names: list[str]) -> dict[str, Reals]:
        """Of these entries; what an entry does not hang on adds nothing to it.

        Where an input cannot be moved one way, as the level at either end of the vessel, the other way counts for both.
        """
        sheet = self.study.sheet
        inputs = {each.name: each for name in names for each in uncertain_under(sheet[name]) if each.name != LEVEL}
        entries = [sheet[LEVEL], *inputs.values()]
        steps = [self.reading_u_m or 0.0, *(standard_of(each) for each in inputs.values())]
        sides = [
            [self._moved(names, levels, entry, way * step) for way in (1.0, -1.0)]
            for entry, step in zip(entries, steps, strict=True)
        ]
        there = self._moved(names, levels, entries[0], 0.0)
        correlation = self._correlation(entries)
        return {
            name: combined_standard_of_each(
                [contributions(*_both(up[name], there[name], down[name])) for up, down in sides], correlation
            )
            for name in names
        }

    def _moved(self, names: list[str], levels: Reals, entry: Entry, step: float) -> Mapping[str, Reals]:
        moved = levels + step if entry.name == LEVEL else np.full_like(levels, (entry.value or 0.0) + step)
        return replay(self.study.sheet, names, {LEVEL: levels, entry.name: moved}).results

    def _correlation(self, inputs: Sequence[Entry]) -> Reals | None:
        """The correlations of the budget for these inputs; None where they are independent."""
        budget = self.study.budget
        if budget is None or budget.correlation is None:
            return None
        names = [line.entry.name for line in budget.lines]
        found = np.eye(len(inputs))
        for row, one in enumerate(inputs):
            for column, other in enumerate(inputs):
                if one.name in names and other.name in names:
                    found[row, column] = budget.correlation[names.index(one.name), names.index(other.name)]
        return found

    # ---------------------------------------------------------------- by the temperature that is logged

    def by_temperature(self, grids: Mapping[str, Reals]) -> ByTemperature | None:
        """How the quantities follow the temperature; None with a remark where that is not known, or is no line."""
        names = {key: self.names[key] for key in grids if self.names[key] != PIVOT}
        if not names or self.study.quantity is None:
            return None
        entry = self.study.amounts.links.temperature
        if entry.value is None:
            self.remarks.append("the case states no temperature: that of the log is not used")
            return None
        low, high = self._span(names, entry)
        if not low < high:
            self.remarks.append(f"quantities are told at the stated temperature, {entry.text}: no other is known")
            return None
        grid = np.linspace(low, high, U_CELLS + 1)
        at_0, slope = self._lines(names, entry, grid)
        found = ByTemperature(low, high, at_0, slope)
        if self._is_line(found, names, entry, grids):
            return found
        self.remarks.append(
            f"quantities are told at the stated temperature, {entry.text}: they are no straight line of the volume, or "
            "move in steps, so that of the log is not used"
        )
        return None

    def _span(self, names: Mapping[str, str], entry: Entry) -> tuple[float, float]:
        """The temperatures around the stated one at which every quantity has a number."""
        grid = (entry.value or 0.0) + np.arange(-AROUND_K, AROUND_K + 1.0)
        results = replay(self.study.sheet, list(names.values()), {entry.name: grid}).results
        sound = np.all([np.isfinite(column) for column in results.values()], axis=0)
        middle = int(AROUND_K)
        if not sound[middle]:
            return 0.0, 0.0
        below, above = np.flatnonzero(~sound[:middle]), np.flatnonzero(~sound[middle:])
        first = int(below[-1]) + 1 if len(below) else 0
        last = middle + int(above[0]) - 1 if len(above) else len(grid) - 1
        return float(grid[first]), float(grid[last])

    def _lines(self, names: Mapping[str, str], entry: Entry, grid: Reals) -> tuple[dict[str, Reals], dict[str, Reals]]:
        volume = self.study.value(PIVOT) or 1.0
        low, high = (
            replay(
                self.study.sheet,
                list(names.values()),
                {entry.name: grid, PIVOT: np.full_like(grid, share * volume)},
            ).results
            for share in (0.5, 1.0)
        )
        slope = {key: (high[name] - low[name]) / (0.5 * volume) for key, name in names.items()}
        return {key: high[name] - slope[key] * volume for key, name in names.items()}, slope

    def _is_line(
        self, found: ByTemperature, names: Mapping[str, str], entry: Entry, grids: Mapping[str, Reals]
    ) -> bool:
        """Whether lines and sheet say the same at levels and temperatures of no grid."""
        random = np.random.default_rng(1)
        levels = random.uniform(self.low_m, self.high_m, TRIED)
        temperatures = random.uniform(found.low_K, found.high_K, TRIED)
        again = replay(self.study.sheet, [PIVOT, *names.values()], {LEVEL: levels, entry.name: temperatures}).results
        digits = {each.column: each.digit for each in QUANTITIES}
        grid = np.linspace(found.low_K, found.high_K, U_CELLS + 1)
        for key, name in names.items():
            line = np.interp(temperatures, grid, found.at_0[key])
            line += np.interp(temperatures, grid, found.slope[key]) * again[PIVOT]
            off = np.abs(line - again[name])
            if not bool(np.all((off <= digits[key]) | np.isnan(off))):
                return False
        return len(grids) > 0


def _both(up: Reals, there: Reals, down: Reals) -> tuple[Reals, Reals]:
    """Either side of a value; where one is not known it is as far from the value as the other."""
    return np.where(np.isnan(up), 2.0 * there - down, up), np.where(np.isnan(down), 2.0 * there - up, down)


def _off(column: Reals) -> float:
    """The largest distance of every second value from the straight line between its neighbours."""
    apart = np.abs(column[1::2] - 0.5 * (column[:-1:2] + column[2::2]))
    sound = apart[np.isfinite(apart)]
    return float(np.max(sound)) if len(sound) else 0.0
