"""The scales of the ruler: current, volume, mass and pure alcohol as tables over the level.

The chain of the sheet is worked again with a column of levels in place of the level now, so a scale cannot differ from
the number beside it. No branch of the sheet lies in that chain; were one to, the scale would be left away.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.foundation.working import replay
from onedatum.study.result import Study

SCALED = (
    "signal.current",
    "signal.line_voltage",
    "signal.span_share",
    "quantity.table_volume",
    "quantity.mass",
    "quantity.pure_alcohol",
)
_POINTS_IN_HEAD = 120
_POINTS_IN_SHELL = 40


@dataclass(frozen=True)
class Scales:
    """Levels above the datum and what stands beside them, in SI; a name that is missing is unknown."""

    levels_m: Reals
    columns: Mapping[str, Reals]


def scales(study: Study) -> Scales | None:
    """Tables over the whole inside height; None while the vessel is unknown."""
    height = study.vessel.inside_height.value
    if height is None:
        return None
    levels = _levels(study, height)
    names = [name for name in SCALED if name in study.sheet and study.sheet[name].known]
    if not names:
        return Scales(levels, {})
    again = replay(study.sheet, names, {"level_now": levels})
    if again.branched_otherwise:
        return Scales(levels, {})
    return Scales(levels, {name: column for name, column in again.results.items() if np.all(np.isfinite(column))})


def _levels(study: Study, height: float) -> Reals:
    """Close points in the heads, where volume curves, few in the shell, and the ends of the measurement information."""
    bottom = study.sheet["vessel.bottom_head.depth"].value or 0.0
    top = height - (study.sheet["vessel.top_head.depth"].value or 0.0)
    parts = [
        np.linspace(0.0, bottom, _POINTS_IN_HEAD),
        np.linspace(bottom, top, _POINTS_IN_SHELL),
        np.linspace(top, height, _POINTS_IN_HEAD),
    ]
    ends = [study.sheet[f"range.level_at_saturation_{end}"].value for end in ("low", "high")]
    parts.append(np.array([level for level in ends if level is not None and 0.0 < level < height]))
    return np.unique(np.concatenate(parts).clip(0.0, height))
