"""The scales of the ruler: current, volume, mass, pure alcohol and the sensor's own signal as tables over the level.

The chain of the sheet is worked again with a column of levels in place of the level now, so a scale cannot differ from
the number beside it. No branch of the sheet lies in that chain; were one to, the scale would be left away.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.foundation.working import replay
from onedatum.physics.vessels import Body
from onedatum.study.result import Study

SCALED = (
    "signal.current",
    "signal.line_voltage",
    "signal.span_share",
    "quantity.table_volume",
    "quantity.mass",
    "quantity.pure_alcohol",
)
SENSED = ("waveguide.flight_now", "probe.capacitance[now]", "legs.difference[{now}]")
"""What the sensor itself tells at the level now, by principle; `now` is the state that quantities are stated for."""
HEIGHTS = (
    "range.4 mA",
    "range.20 mA",
    "level.measurable_low",
    "level.measurable_high",
    "legs.lower_tap",
    "legs.upper_tap_height",
    "probe.active_from",
    "probe.active_to",
    "vessel.inside_height",
    "level_now",
)
"""Heights that the scales must cover where no vessel gives them their ends."""
ENDS = ("range.level_at_saturation_low", "range.level_at_saturation_high", "loop.last_good_level")
"""Levels at which the current ends."""
_POINTS_PER_PART = 60
_STATIONS = 80
_LEAST_PART = 1e-6
"""Of the whole height: parts of a vessel shorter than this need no points of their own."""


@dataclass(frozen=True)
class Scales:
    """Levels above the datum and what stands beside them, in SI; a name that is missing is unknown."""

    levels_m: Reals
    columns: Mapping[str, Reals]


def sensed(study: Study) -> str | None:
    """The entry of the sensor's own signal at the level now; None where the study has none."""
    names = (name.format(now=study.now.name) for name in SENSED)
    return next((name for name in names if name in study.sheet), None)


def stations(study: Study) -> Reals | None:
    """Levels close enough together to follow every scale; over the vessel, else over the heights that are known.

    None while there is neither, so that nothing can be drawn.
    """
    body = study.vessel.body.whole if study.vessel is not None else None
    if isinstance(body, Body):
        return _with_heights(study, _levels(study, body))
    known = [0.0, *(value for name in HEIGHTS if (value := study.value(name)) is not None)]
    low, high = min(known), max(known)
    if not low < high:
        return None
    return _with_heights(study, np.linspace(low, high, _STATIONS))


def corners(study: Study) -> Reals:
    """Levels at which the slope of a scale may jump."""
    body = study.vessel.body.whole if study.vessel is not None else None
    breaks = [float(each) for each in body.breaks_m] if isinstance(body, Body) else []
    return np.array([*breaks, *(value for name in (*HEIGHTS, *ENDS) if (value := study.value(name)) is not None)])


def worked(study: Study, names: Sequence[str], levels: Reals) -> Mapping[str, Reals]:
    """Entries of the sheet worked again with levels in place of the level now; NaN where there is no value.

    An entry in whose chain a branch would go the other way is left away.
    """
    known = [name for name in names if name in study.sheet and study.sheet[name].known]
    if not known or not study.sheet["level_now"].known:
        return {}
    again = replay(study.sheet, known, {"level_now": levels})
    if not again.branched_otherwise:
        return again.results
    each = {name: replay(study.sheet, [name], {"level_now": levels}) for name in known}
    return {name: found.results[name] for name, found in each.items() if not found.branched_otherwise}


def _with_heights(study: Study, levels: Reals) -> Reals:
    """Levels with the heights known between their ends; of those closer together than counts the higher goes."""
    low, high = float(levels[0]), float(levels[-1])
    known = (study.value(name) for name in (*HEIGHTS, *ENDS))
    found = np.unique([*levels, *(level for level in known if level is not None and low < level < high)])
    apart = np.diff(found) > _LEAST_PART * (high - low)
    kept: Reals = found[np.concatenate([[True], apart])]
    kept[-1] = high
    return kept


def scales(study: Study) -> Scales | None:
    """Tables over the whole inside height; None while the vessel is unknown."""
    body = study.vessel.body.whole if study.vessel is not None else None
    if not isinstance(body, Body):
        return None
    levels = _levels(study, body)
    names = [name for name in SCALED if name in study.sheet and study.sheet[name].known]
    if not names:
        return Scales(levels, {})
    again = replay(study.sheet, names, {"level_now": levels})
    if again.branched_otherwise:
        return Scales(levels, {})
    return Scales(levels, {name: column for name, column in again.results.items() if np.all(np.isfinite(column))})


def _levels(study: Study, body: Body) -> Reals:
    """Points close together at the corners of the vessel, where volume curves, and the ends of the information."""
    low, high = float(body.low_m), float(body.high_m)
    breaks = np.unique(np.clip([float(each) for each in body.breaks_m], low, high))
    least = _LEAST_PART * (high - low)
    corners = np.concatenate([breaks[:1], breaks[1:][np.diff(breaks) > least]])
    count = max(_POINTS_PER_PART * 5 // max(len(corners) - 1, 5), 2)
    shares = 0.5 * (1.0 - np.cos(np.linspace(0.0, np.pi, count)))
    parts = [start + (end - start) * shares for start, end in pairwise(corners.tolist())]
    ends = [study.sheet[f"range.level_at_saturation_{end}"].value for end in ("low", "high")]
    parts.append(np.array([level for level in ends if level is not None and low < level < high]))
    return np.unique(np.concatenate([[low, high], *parts]).clip(low, high))
