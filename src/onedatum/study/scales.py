"""The scales of the ruler: current, volume, mass and pure alcohol as tables over the level.

The chain of the sheet is worked again with a column of levels in place of the level now, so a scale cannot differ from
the number beside it. No branch of the sheet lies in that chain; were one to, the scale would be left away.
"""

from __future__ import annotations

from collections.abc import Mapping
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
_POINTS_PER_PART = 60
_LEAST_PART = 1e-6
"""Of the whole height: parts of a vessel shorter than this need no points of their own."""


@dataclass(frozen=True)
class Scales:
    """Levels above the datum and what stands beside them, in SI; a name that is missing is unknown."""

    levels_m: Reals
    columns: Mapping[str, Reals]


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
