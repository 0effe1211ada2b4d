"""Sound tables of vessels to try everything on, rounded as tables are printed."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from onedatum.foundation.numerics import Reals

LITRE_M3 = 1e-3
GALLON_M3 = 231.0 * 0.0254**3
ROUNDED_TO_M3 = {"whole litres": LITRE_M3, "0.1 L": 0.1 * LITRE_M3, "unrounded": 0.0}
STEPS_M = {"1 mm": 1e-3, "10 mm": 0.01}


def lying(radius_m: float, length_m: float) -> Callable[[Reals], Reals]:
    """A lying cylinder with flat ends, by the closed form of the circular segment."""

    def volume(level_m: Reals) -> Reals:
        chord_m = np.sqrt(np.clip(level_m * (2.0 * radius_m - level_m), 0.0, None))
        angle = np.arccos(np.clip(1.0 - level_m / radius_m, -1.0, 1.0))
        return np.asarray(length_m * (radius_m**2 * angle - (radius_m - level_m) * chord_m))

    return volume


def dished(crown_m: float, radius_m: float) -> Callable[[Reals], Reals]:
    """An upright cylinder on a spherical cap, by the closed form of the cap."""
    depth_m = crown_m - np.sqrt(crown_m**2 - radius_m**2)

    def volume(level_m: Reals) -> Reals:
        in_cap_m = np.minimum(level_m, depth_m)
        cap_m3 = np.pi * in_cap_m**2 * (crown_m - in_cap_m / 3.0)
        return np.asarray(cap_m3 + np.pi * radius_m**2 * np.maximum(level_m - depth_m, 0.0))

    return volume


def courses(level_m: Reals) -> Reals:
    """Five courses of 1.8 m whose radii differ by up to 30 mm."""
    radii_m = (5.0, 4.99, 4.96, 4.97, 4.975)
    return np.asarray(sum(np.pi * r**2 * np.clip(level_m - 1.8 * k, 0.0, 1.8) for k, r in enumerate(radii_m)))


VESSELS: dict[str, tuple[Callable[[Reals], Reals], float]] = {
    "lying": (lying(1.0, 5.0), 2.0),
    "small lying": (lying(0.4, 1.2), 0.8),
    "large lying": (lying(1.8, 25.0), 3.6),
    "dished bottom": (dished(1.6, 0.8), 3.0),
    "sphere": (dished(1.0, 1.0), 1.0),
    "courses": (courses, 9.0),
    "cone": (lambda level_m: np.asarray(0.3 * level_m**3), 2.0),
    "box": (lambda level_m: np.asarray(7.123 * level_m), 3.0),
}

Table = tuple[Reals, Reals]


def rounded(volumes_m3: Reals, grain: float) -> Reals:
    return np.round(np.round(volumes_m3 / grain) * grain, 9) if grain else volumes_m3


def table_of(vessel: str, step_m: float, grain: float) -> Table:
    volume_m3, high_m = VESSELS[vessel]
    levels_m = np.round(np.arange(round(high_m / step_m) + 1) * step_m, 9)
    return levels_m, rounded(volume_m3(levels_m), grain)


every_vessel = pytest.mark.parametrize("vessel", VESSELS)
every_step = pytest.mark.parametrize("step_m", STEPS_M.values(), ids=STEPS_M)
every_rounding = pytest.mark.parametrize("grain", ROUNDED_TO_M3.values(), ids=ROUNDED_TO_M3)
