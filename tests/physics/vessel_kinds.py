"""Vessels to try everything on: the usual heads, and the edges of what counts as torispherical."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray


class Measures(NamedTuple):
    """Inside measures, in the order in which the functions of the room take them."""

    diameter_m: float
    shell_length_m: float
    bottom_crown_radius_m: float
    bottom_knuckle_radius_m: float
    top_crown_radius_m: float
    top_knuckle_radius_m: float


KINDS = {
    "receiver": Measures(1.6, 2.4, 1.6, 0.16, 1.6, 0.16),
    "unequal heads": Measures(2.0, 3.0, 1.6, 0.308, 2.0, 0.12),
    "two heads, no shell": Measures(1.0, 0.0, 0.8, 0.154, 0.8, 0.154),
    "hemispheres, all crown": Measures(2.0, 1.0, 1.0, 0.3, 1.0, 0.0),
    "hemispheres, crown and knuckle alike": Measures(2.0, 1.0, 1.0, 1.0, 1.0, 1.0),
    "hemispheres, all knuckle": Measures(2.0, 1.0, 3.0, 1.0, 2.0, 1.0),
    "dished, no knuckle": Measures(2.0, 1.0, 2.0, 0.0, 3.0, 0.0),
    "nearly flat": Measures(10.0, 12.0, 100.0, 0.05, 60.0, 0.0),
    "slender": Measures(0.1, 30.0, 0.08, 0.0154, 0.1, 0.006),
    "wide": Measures(40.0, 0.5, 40.0, 2.4, 32.0, 6.0),
}


def drawn(count: int, seed: int) -> Measures:
    """Random vessels, one array for each measure, all torispherical."""
    random = np.random.default_rng(seed)
    diameter_m = 10.0 ** random.uniform(-1.0, 1.5, count)

    def head() -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        crown = diameter_m * random.uniform(0.5, 1.5, count)
        return crown, random.uniform(0.0, 1.0, count) * 0.5 * diameter_m

    bottom, top = head(), head()
    return Measures(diameter_m, diameter_m * random.uniform(0.0, 5.0, count), *bottom, *top)  # type: ignore[arg-type]
