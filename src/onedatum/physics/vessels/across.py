"""The section of a vessel that a rod at the gauge stands in, height by height: how wide, and how far to either end."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.physics.vessels.body import Body


class GaugeSections(NamedTuple):
    """Level sections from the bottom up, heights above the datum; a step of the wall stands twice in the heights."""

    heights_m: Reals
    half_widths_m: Reals
    """Half the width across, plumb through the gauge."""
    to_near_end_m: Reals
    """From the plumb line of the gauge to the near end of the section, seen from the side."""
    to_far_end_m: Reals


def sections_at_gauge(body: Body) -> GaugeSections:
    """The sections of a body, for a body without arrays; flat floors and roofs are left out of the wall."""
    outline = body.outline
    half, heights = (np.asarray(line, dtype=np.float64) for line in outline.half_section)
    flat_floor, flat_roof = _is_flat(half, heights, 0, 1), _is_flat(half, heights, -1, -2)
    kept = slice(1 if flat_floor else 0, -1 if flat_roof else None)
    half, heights = half[kept], heights[kept]
    across, up = (np.asarray(line, dtype=np.float64) for line in outline.side)
    near, far = _chords_m(across, up, heights)
    return GaugeSections(heights, half, near, far)


def section_at_m(sections: GaugeSections, level_m: float) -> tuple[float, float, float]:
    """Width, and how far to the near and to the far end, at one level; nothing beyond the vessel."""
    inside = sections.heights_m[0] <= level_m <= sections.heights_m[-1]
    half, near, far = (
        float(np.interp(level_m, sections.heights_m, column)) if inside else 0.0
        for column in (sections.half_widths_m, sections.to_near_end_m, sections.to_far_end_m)
    )
    return 2.0 * half, near, far


def _is_flat(half_m: Reals, heights_m: Reals, end: int, beside: int) -> bool:
    """Whether a line begins or ends with a level stroke from the axis."""
    return len(half_m) > 3 and half_m[end] == 0.0 and heights_m[end] == heights_m[beside] and half_m[beside] > 0.0


def _chords_m(across_m: Reals, up_m: Reals, heights_m: Reals) -> tuple[Reals, Reals]:
    """How far the closed line of the side view reaches to the left and to the right at heights."""
    low, high = float(np.min(up_m)), float(np.max(up_m))
    at = np.clip(heights_m, low + 1e-9 * (high - low), high - 1e-9 * (high - low))[:, None]
    x_1, x_2 = across_m, np.roll(across_m, -1)
    z_1, z_2 = up_m, np.roll(up_m, -1)
    crossed = (np.minimum(z_1, z_2) <= at) & (at <= np.maximum(z_1, z_2)) & (z_1 != z_2)
    share = (at - z_1) / np.where(z_1 == z_2, 1.0, z_2 - z_1)
    found = x_1 + share * (x_2 - x_1)
    left = np.min(np.where(crossed, found, np.inf), axis=1)
    right = np.max(np.where(crossed, found, -np.inf), axis=1)
    return np.maximum(-left, 0.0), np.maximum(right, 0.0)
