"""The density at 60 degF that gives an observed one, for blocks of arrays: Newton's steps, element by element.

An element that is settled takes no further step, so that its result does not hang on what stands beside it. Where the
constants change, the equations jump by less than 1e-4 kg/m3: an observed density in such a gap has no solution, and the
steps end beside the edge, less than a settled step away.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from onedatum.foundation.numerics import Reals
from onedatum.physics.media.petroleum_equations import Around, step
from onedatum.physics.media.petroleum_group import PetroleumGroup

SETTLED_KG_PER_M3 = 3e-4
"""The last step; what it leaves is less than 0.02 per kg/m3 of its square, 2e-9 kg/m3. The document stops at 1e-6."""
STEPS = 12
"""The lightest product at its hottest and under the highest pressure takes six."""
BEYOND_KG_PER_M3 = 1.0
"""How far the steps may leave the group, to tell a solution at its end from one that lies outside."""
ROUNDING_KG_PER_M3 = 1e-8
"""A solution this far outside counts as the end of the group."""


def base_density(observed: Any, at: Around, group: PetroleumGroup) -> Reals:
    """The densities at 60 degF; not a number where they lie outside the group."""
    shape = np.broadcast_shapes(np.shape(observed), np.shape(at.warmer), np.shape(at.psi))
    target, warmer = (np.atleast_1d(np.broadcast_to(part, shape)) for part in (observed, at.warmer))
    psi = np.atleast_1d(np.broadcast_to(at.psi, shape)) if np.any(at.psi) else 0.0
    least, most = group.least_kg_per_m3, group.most_kg_per_m3
    found = _settled(np.clip(target, least, most), target, Around(warmer, psi), group)
    inside = (found >= least - ROUNDING_KG_PER_M3) & (found <= most + ROUNDING_KG_PER_M3)
    return np.where(inside, np.clip(found, least, most), np.nan).reshape(shape)


def _settled(base: Any, observed: Any, at: Around, group: PetroleumGroup, steps: int = STEPS) -> Reals:
    """Steps from a first guess until every element is settled."""
    low, high = group.least_kg_per_m3 - BEYOND_KG_PER_M3, group.most_kg_per_m3 + BEYOND_KG_PER_M3
    following: Reals = np.clip(base + step(base, observed, at, group.at(base)), low, high)
    on = np.flatnonzero(np.abs(following - base) > SETTLED_KG_PER_M3)
    if len(on) == 0 or steps == 1:
        return following
    if len(on) == len(base):
        return _settled(following, observed, at, group, steps - 1)
    still = Around(at.warmer[on], at.psi[on] if np.ndim(at.psi) else at.psi)
    following[on] = _settled(following[on], observed[on], still, group, steps - 1)
    return following
