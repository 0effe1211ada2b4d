"""Lengths in the words of a body."""

from __future__ import annotations

from typing import Any

import numpy as np

from onedatum.foundation.working import spell


def said(length_m: Any, shown: str = "") -> str:
    """A length as people read it; of an array only that it varies."""
    return spell(float(length_m), "m", shown) if np.ndim(length_m) == 0 else "varied"
