"""Comparison of numbers of very unlike size, each by its own share; the tolerance has its reason as everywhere."""

from __future__ import annotations

from typing import Any, Literal

import numpy as np

from tests.closeness import close


def alike(actual: Any, expected: Any, share: float, why: str) -> Literal[True]:
    """Every element within a share of what is expected there; none of them may be zero."""
    wanted = np.asarray(expected, dtype=np.float64)
    return close(np.asarray(actual, dtype=np.float64) / wanted, np.ones(wanted.shape), share, why)
