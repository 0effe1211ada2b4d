"""What a physics function takes and gives: a float or an array of floats, the same out as in."""

from __future__ import annotations

from typing import Any, TypeAlias

import numpy as np
from numpy.typing import NDArray

Reals: TypeAlias = NDArray[np.float64]
Real: TypeAlias = float | Reals


def is_scalar(value: Any) -> bool:
    """Whether it has no axis; of a plain float without asking numpy."""
    return isinstance(value, float) or np.ndim(value) == 0


def same_kind(value: Any) -> Real:
    """A 0-d array becomes a scalar again; every other array stays what it is."""
    kept: Real = np.asarray(value, dtype=np.float64)[()]
    return kept
