"""The scales of the page as tables over the level, short enough to send and exact enough to read at any level.

One replay of the sheet gives every scale at the stations, close beside them (for the slopes) and between them (for the
error). Each scale then takes as few points as the digit it shows needs; between them stands a cubic (Hermite).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Any

import numpy as np

from onedatum.case.model.case import US_CUSTOMARY
from onedatum.foundation.numerics import Hermite, Reals, fit_hermite, sample_points
from onedatum.foundation.numerics.hermite import SHARES
from onedatum.foundation.units import in_print, in_unit
from onedatum.paper.numbers import Numbers
from onedatum.study.result import Study
from onedatum.study.scales import corners, sensed, stations, worked

MOST_POINTS = 400
DIGIT_SHARE = 0.02
"""Of the last digit shown: the error that the points of a table are chosen for."""
BETWEEN = 1.25
"""The error stated is that at the points sampled with a quarter more, for what may lie between them."""
NEAR = 2e-6
"""Of the whole height: how far a station may miss the end that it stands for."""
SIGNAL = "signal."
Ends = tuple["Stop | None", "Stop | None"]
Drawn = tuple[tuple[float, ...], tuple[float, ...]]


@dataclass(frozen=True, slots=True)
class Stop:
    """Where a scale ends before the heights do, and what is said beyond."""

    level_m: float
    words: str


@dataclass(frozen=True, slots=True)
class Kind:
    """What a scale shows: its short name over the ruler, its words, its shown unit, the entry it belongs to."""

    key: str
    name: str
    group: str
    title: str
    unit: str
    decimals: int
    entry: str = ""


@dataclass(frozen=True)
class PageScale:
    """One scale: points (level in m, value in the shown unit, slope per m), where it stops, what it lacks."""

    kind: Kind
    levels_m: tuple[float, ...] = ()
    values: tuple[float, ...] = ()
    slopes: tuple[float, ...] = ()
    error: float = 0.0
    """The largest error of the table in the shown unit."""
    below: Stop | None = None
    above: Stop | None = None
    unknown: str = ""
    """What to ask for, where the scale cannot be had; empty where it can."""
    unknown_path: str = ""
    assumed: bool = False
    drawn: Drawn = ((), ())
    """Levels and values as worked, closer together than the table, for placing ticks."""

    @cached_property
    def table(self) -> Hermite | None:
        """The points as a function; None where the scale cannot be had."""
        if not self.levels_m:
            return None
        return Hermite(np.array(self.levels_m), np.array(self.values), np.array(self.slopes), self.error)

    def value(self, level_m: float) -> float | None:
        """What the scale reads at a level; None where it has no value."""
        if self.table is None or not self.levels_m[0] <= level_m <= self.levels_m[-1]:
            return None
        return float(self.table(np.array(level_m)))

    def read(self, levels_m: Sequence[float]) -> list[float | None]:
        """The same at many levels."""
        if self.table is None:
            return [None] * len(levels_m)
        low, high = self.levels_m[0], self.levels_m[-1]
        values = self.table(np.array(levels_m, dtype=np.float64)).tolist()
        return [value if low <= level <= high else None for level, value in zip(levels_m, values, strict=True)]

    def json(self) -> dict[str, object]:
        """As the browser gets it."""
        kind = self.kind
        return {
            "key": kind.key,
            "name": kind.name,
            "group": kind.group,
            "title": kind.title,
            "unit": in_print(kind.unit),
            "decimals": kind.decimals,
            "entry": kind.entry,
            "levels_m": list(self.levels_m),
            "values": list(self.values),
            "slopes": list(self.slopes),
            "error": self.error,
            "below": _stop_json(self.below),
            "above": _stop_json(self.above),
            "unknown": self.unknown,
            "unknown_path": self.unknown_path,
            "assumed": self.assumed,
        }


def _stop_json(stop: Stop | None) -> dict[str, object] | None:
    return None if stop is None else {"level_m": stop.level_m, "words": stop.words}


def page_scales(study: Study) -> tuple[PageScale, ...]:
    """Every scale of the case, unknown ones too; none while nothing of the heights is known."""
    found = stations(study)
    if found is None:
        return ()
    kinds, points = tuple(kinds_of(study)), sample_points(found)
    columns = worked(study, [kind.entry for kind in kinds if kind.entry], points.ravel())
    grid = _Grid(study, points, corners(study), columns)
    return tuple(grid.scale(kind) for kind in kinds)


def kinds_of(study: Study) -> Iterator[Kind]:
    """The scales that belong to a case, in their order on the ruler."""
    us = study.statement.case.print_units.word == US_CUSTOMARY
    yield Kind("mm", "mm", "over datum", "level", "mm", 0)
    yield Kind("in", "in", "over datum", "level", "in", 2)
    yield Kind("percent", "%", "output", "share of the span", "%", 2, "signal.span_share")
    yield Kind("mA", "mA", "output", "current", "mA", 3, "signal.current")
    if "signal.line_voltage" in study.sheet:
        on = in_print(f"on {study.sheet['loop.test_resistor'].text}")
        yield Kind("mV", "mV", on, f"voltage {on}", "mV", 1, "signal.line_voltage")
    yield from _sensor(study, us)
    if study.quantity is None:
        return
    now = in_print(study.now.temperature.text)
    group = f"table; at {now}"
    volume, mass = (("US gal", 1), ("lb", 0)) if us else (("m3", 3), ("kg", 1))
    yield Kind("volume", in_print(volume[0]), group, "volume by the table", *volume, "quantity.table_volume")
    yield Kind("mass", mass[0], group, f"mass at {now}", *mass, "quantity.mass")
    if "quantity.pure_alcohol" in study.sheet:
        yield Kind("pure", "L pure", "at 20 °C", "pure alcohol", "L", 1, "quantity.pure_alcohol")


def _sensor(study: Study, us: bool) -> Iterator[Kind]:
    """The scale of what the sensor itself tells."""
    name = sensed(study)
    if name is None:
        return
    if name.startswith("waveguide."):
        yield Kind("sensor", "µs", "in stem", "time of flight", "us", 1, name)
    elif name.startswith("probe."):
        yield Kind("sensor", "pF", "of probe", "capacitance", "pF", 1, name)
    else:
        title = "difference of pressure"
        if us:
            yield Kind("sensor", "inH₂O", "of legs", f"{title}, water at 60 °F", "inH2O(60 degF)", 2, name)
        else:
            yield Kind("sensor", "kPa", "of legs", title, "kPa", 3, name)


@lru_cache(maxsize=64)
def _tabled(points: bytes, values: bytes, corners_m: bytes, tolerance: float) -> tuple[Hermite, Drawn] | None:
    """The table of a function sampled at points, and what is drawn of it; kept, as few edits move every scale.

    The arrays come as their bytes, so that nothing can be kept but what they hold.
    """
    at, read = (np.frombuffer(part).reshape(-1, len(SHARES)) for part in (points, values))
    fit = fit_hermite(at, read, np.frombuffer(corners_m), tolerance, MOST_POINTS)
    return None if fit is None else (fit, _drawn(at, fit, tolerance))


class _Grid:
    """Every scale at the points sampled."""

    def __init__(self, study: Study, points: Reals, corners_m: Reals, columns: Mapping[str, Reals]) -> None:
        self.study, self.points, self.corners_m = study, points, corners_m
        self.columns = columns

    def scale(self, kind: Kind) -> PageScale:
        """The table of one scale; what it lacks where there is none."""
        values = self._values(kind)
        if values is None:
            return self._unknown(kind)
        first, end, ends = self._carried(kind, values)
        run = slice(first, end)
        tolerance = DIGIT_SHARE * 10.0**-kind.decimals
        sampled = (part.tobytes() for part in (self.points[run], values[run], self.corners_m))
        made = _tabled(*sampled, tolerance) if end > first else None
        if made is None:
            return PageScale(kind, unknown="it neither rises nor falls with the level throughout")
        fit, drawn = made
        below, above = (_with_value(stop, kind, fit) for stop in ends)
        return PageScale(
            kind,
            tuple(fit.x.tolist()),
            tuple(fit.y.tolist()),
            tuple(fit.slope.tolist()),
            BETWEEN * fit.error,
            below,
            above,
            assumed=bool(kind.entry) and self.study.sheet[kind.entry].rests_on_assumed,
            drawn=drawn,
        )

    def _values(self, kind: Kind) -> Reals | None:
        """The scale at the points, in its shown unit."""
        if not kind.entry:
            return self.points * in_unit(1.0, kind.unit)
        column = self.columns.get(kind.entry)
        return None if column is None else column.reshape(self.points.shape) * in_unit(1.0, kind.unit)

    def _unknown(self, kind: Kind) -> PageScale:
        """What to ask for in place of the scale."""
        entry = self.study.sheet.entries.get(kind.entry)
        if entry is not None and entry.known:
            return PageScale(kind, unknown="it is worked another way at other levels")
        paths = entry.waits_for if entry is not None else ()
        titles = {leaf.path: leaf.title for leaf in self.study.statement.case.leaves()}
        ask = titles.get(paths[0], paths[0]) if paths else "not in this case"
        return PageScale(kind, unknown=ask, unknown_path=paths[0] if paths else "")

    def _carried(self, kind: Kind, values: Reals) -> tuple[int, int, Ends]:
        """The gaps in which a scale has values, first and end, and what is said beyond either end."""
        below, above = self._ends(kind)
        low_m = -np.inf if below is None else below.level_m
        high_m = np.inf if above is None else above.level_m
        near_m = NEAR * float(self.points[-1, -1] - self.points[0, 0])
        inside = (self.points[:, 0] >= low_m - near_m) & (self.points[:, -1] <= high_m + near_m)
        sound = np.isfinite(values).all(axis=1) & inside
        first, end = _longest_run(sound)
        if end > first:
            start_m, stop_m = float(self.points[first, 0]), float(self.points[end - 1, -1])
            below = None if first == 0 else Stop(start_m, below.words if below else "no value below")
            above = None if end == len(sound) else Stop(stop_m, above.words if above else "no value above")
        return first, end, (below, above)

    def _ends(self, kind: Kind) -> Ends:
        """The ends of a scale that are no ends of the vessel."""
        if kind.entry.startswith(SIGNAL):
            return signal_ends(self.study)
        if kind.entry.startswith("waveguide."):
            words, names = "not measurable", ("level.measurable_low", "level.measurable_high")
        elif kind.entry.startswith("legs."):
            words, names = "beyond the taps", ("legs.lower_tap", "legs.upper_tap_height")
        else:
            return None, None
        low, high = (None if (m := self.study.value(name)) is None else Stop(m, words) for name in names)
        return low, high


def signal_ends(study: Study) -> Ends:
    """Where the current ends, below and above: by the supply of the loop, else by the measurement information."""
    ends = []
    limits = [(f"range.level_at_saturation_{e}", f"range.saturation.{e}", "signal ends at") for e in ("low", "high")]
    limits.append(("loop.last_good_level", "loop.last_good_current", "no reliable signal above"))
    for level, current, words in limits:
        height, amount = study.value(level), study.value(current)
        if height is not None and amount is not None:
            ends.append((amount, Stop(height, words)))
    lower, upper = study.value("range.4 mA"), study.value("range.20 mA")
    if lower is None or upper is None or len(ends) < 2:
        return None, None
    least = ends[0]
    greatest = min(ends[1:], key=lambda end: end[0])
    low, high = (least[1], greatest[1]) if lower < upper else (greatest[1], least[1])
    return low, high


def _with_value(stop: Stop | None, kind: Kind, fit: Hermite) -> Stop | None:
    """The words of a stop of the signal with what the scale reads there."""
    if stop is None or not kind.entry.startswith(SIGNAL):
        return stop
    value = round(float(fit(np.array(stop.level_m))), 9)
    return Stop(stop.level_m, f"{stop.words} {value:.{max(kind.decimals - 1, 1)}f}".replace("-", "−"))


def _drawn(points: Reals, fit: Hermite, tolerance: float) -> Drawn:
    """The table at the stations and half way between them; at its two ends where it is straight."""
    levels = np.append(points[:, [0, points.shape[1] // 2]].ravel(), points[-1, -1])
    values = fit(levels)
    ends = levels[[0, -1]], values[[0, -1]]
    if np.abs(np.interp(levels, *ends) - values).max() <= tolerance:
        levels, values = ends
    return Numbers(levels.tolist()), Numbers(values.tolist())


def _longest_run(sound: Any) -> tuple[int, int]:
    """First and end of the longest unbroken run of true values."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], sound.astype(int), [0]])))
    if not len(edges):
        return 0, 0
    runs = edges.reshape(-1, 2)
    first, end = runs[int(np.argmax(runs[:, 1] - runs[:, 0]))]
    return int(first), int(end)
