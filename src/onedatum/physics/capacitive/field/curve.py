"""Capacitance against level, and how far a finer mesh moves it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Reals
from onedatum.physics.capacitive.constants import VACUUM_PERMITTIVITY_F_PER_M
from onedatum.physics.capacitive.field.checks import refuse_levels, refuse_permittivities, refuse_ratio, refuse_shapes
from onedatum.physics.capacitive.field.elements import element_matrices_m
from onedatum.physics.capacitive.field.mesh import make_mesh, shields
from onedatum.physics.capacitive.field.shapes import Probe, Vessel
from onedatum.physics.capacitive.field.sweep import capacitances_m

COARSE_RATIO, FINE_RATIO = 1.6, 1.4
"""Radius of a line of the mesh over that of its neighbour, for the curve and for the check of it."""
LARGEST_DIFFERENCE = 1e-3
"""Of the span: a curve that a finer mesh moves by more is not given out."""


def capacitance_curve(
    probe: Probe,
    vessel: Vessel,
    levels_m: ArrayLike,
    liquid_permittivity: complex,
    gas_permittivity: complex = 1.0,
    ratio: float = COARSE_RATIO,
) -> NDArray[Any]:
    """Capacitance C of a rod probe, in F, at levels of the liquid, in m, in the order given.

    Relative permittivities, complex where there is a loss: e' - j*s/(w*eps0) for a conductivity s at w = 2*pi*f; then
    C is Y/(j*w) of the admittance Y, complex too. Quasi-static; rod on the axis of a round or equivalent wall; the
    stray capacitance of gland, head and cable is not part of it. `ratio` (1.1 to 2) sets the mesh.

    Source: derived, Laplace's equation by quadratic finite elements; C is twice the stored energy at 1 V, of complex
    permittivities the bilinear form of it. Of real ones it is an upper bound that falls with a finer mesh.
    """
    return _with_ends(probe, vessel, levels_m, (liquid_permittivity, gas_permittivity), ratio)[:-2]


def refined_difference(
    probe: Probe,
    vessel: Vessel,
    levels_m: ArrayLike,
    liquid_permittivity: complex,
    gas_permittivity: complex = 1.0,
    ratios: tuple[float, float] = (COARSE_RATIO, FINE_RATIO),
) -> float:
    """By how much a finer mesh moves the curve at most, as a fraction of the span from empty to full.

    Where liquid and gas have the same permittivity, as a fraction of the capacitance. A curve that moves by more than
    LARGEST_DIFFERENCE is refused.
    """
    return checked_curve(probe, vessel, levels_m, liquid_permittivity, gas_permittivity, ratios).refined_difference


@dataclass(frozen=True, eq=False)
class CheckedCurve:
    """A curve of the finer mesh, with what it moved against the coarser one."""

    levels_m: Reals
    capacitances_F: NDArray[Any]
    refined_difference: float
    """Of the span."""


def checked_curve(
    probe: Probe,
    vessel: Vessel,
    levels_m: ArrayLike,
    liquid_permittivity: complex,
    gas_permittivity: complex = 1.0,
    ratios: tuple[float, float] = (COARSE_RATIO, FINE_RATIO),
) -> CheckedCurve:
    """The curve by two meshes: the finer is given out, or refused if it lies too far from the coarser."""
    fluids = (liquid_permittivity, gas_permittivity)
    coarse, fine = (_with_ends(probe, vessel, levels_m, fluids, ratio) for ratio in ratios)
    return CheckedCurve(np.asarray(levels_m, dtype=np.float64), fine[:-2], _difference(coarse, fine))


def _with_ends(
    probe: Probe, vessel: Vessel, levels_m: ArrayLike, fluids: tuple[complex, complex], ratio: float
) -> NDArray[Any]:
    """The curve, and behind it the capacitance of the empty and of the full vessel."""
    levels = np.atleast_1d(np.asarray(levels_m, dtype=np.float64))
    refuse_ratio(ratio)
    refuse_shapes(probe, vessel)
    refuse_levels(vessel, levels)
    refuse_permittivities(probe, fluids)
    mesh = make_mesh(probe, vessel, levels, ratio, shields(fluids))
    lines = [mesh.line(level) for level in [*levels.tolist(), vessel.bottom_m, vessel.top_m]]
    coating = 1.0 if probe.coating_permittivity is None else probe.coating_permittivity
    found = capacitances_m(mesh, element_matrices_m(mesh), lines, *fluids, coating)
    return np.asarray(VACUUM_PERMITTIVITY_F_PER_M * found)


def _difference(coarse: NDArray[Any], fine: NDArray[Any]) -> float:
    span = abs(fine[-1] - fine[-2])
    if span <= 1e-9 * abs(fine[-1]):
        span = abs(fine[-1])
    found = float(np.max(np.abs(coarse - fine)) / span)
    if found > LARGEST_DIFFERENCE:
        raise ValidityError(
            "capacitive.capacitance_curve",
            "difference of the curve on two meshes",
            f"{LARGEST_DIFFERENCE:.1%} of the span or less",
            f"{found:.2%}",
            "the mesh does not resolve this vessel: give the wall at more heights where it bends, or finer ratios",
        )
    return found
