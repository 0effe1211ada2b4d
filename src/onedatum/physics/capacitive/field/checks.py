"""What a probe in a vessel cannot be, said with the place and the remedy."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Reals
from onedatum.physics.capacitive.field.shapes import Probe, Vessel

THINNEST = 1e-6
"""Thinnest rod or coating as a share of the widest radius."""


def refusal(parameter: str, allowed: str, got: str, remedy: str) -> ValidityError:
    """The complaint about a parameter of the field."""
    return ValidityError("capacitive.capacitance_curve", parameter, allowed, got, remedy)


def refuse_shapes(probe: Probe, vessel: Vessel) -> None:
    """A probe and a vessel between which there is a field."""
    _refuse_vessel(vessel)
    _refuse_probe(probe)
    _refuse_thread(probe, vessel)
    _refuse_place(probe, vessel)
    if not vessel.mirrored_top:
        _refuse_gland(probe, vessel)


def _refuse_vessel(vessel: Vessel) -> None:
    heights, radii = np.asarray(vessel.heights_m), np.asarray(vessel.radii_m)
    if heights.ndim != 1 or heights.shape != radii.shape or len(heights) < 2:
        got = f"{heights.size} heights and {radii.size} radii"
        raise refusal(
            "profile of the vessel", "as many radii as heights, two or more", got, "state both at each height"
        )
    if not (np.isfinite(heights).all() and np.isfinite(radii).all()):
        raise refusal("profile of the vessel", "of finite numbers", "a number that is none", "state every row")
    if np.any(np.diff(heights) <= 0.0):
        row = int(np.argmax(np.diff(heights) <= 0.0)) + 1
        got = f"{heights[row]:g} m after {heights[row - 1]:g} m"
        raise refusal("heights_m of the vessel", "rising", got, "state each height once, a step as a short cone")
    if np.any(radii < 0.0) or np.any(radii[1:] <= 0.0):
        row = int(np.argmin(radii[1:])) + 1
        got = f"{radii[row]:g} m at the height {heights[row]:g} m"
        raise refusal("radii_m of the vessel", "above 0 over the bottom", got, "end the profile at the gland ring")


def _refuse_probe(probe: Probe) -> None:
    core, outer = probe.core_radius_m, probe.outer_radius_m
    if not core > 0.0:
        raise refusal("core_radius_m", "above 0", f"{core:g} m", "state half the diameter of the rod")
    if probe.coating_radius_m is None:
        if probe.end_coating_m != 0.0:
            got = f"{probe.end_coating_m:g} m"
            raise refusal("end_coating_m", "0 on a bare rod", got, "state coating_radius_m, or a bare end")
        return
    if not outer > core:
        got = f"{outer:g} m on a core of {core:g} m"
        raise refusal(
            "coating_radius_m", "larger than the core", got, "state the outside radius, or none for a bare rod"
        )
    if probe.coating_permittivity is None:
        raise refusal("coating_permittivity", "stated for a coated rod", "none", "state it, or no coating_radius_m")
    if not probe.end_coating_m >= 0.0:
        got = f"{probe.end_coating_m:g} m"
        raise refusal(
            "end_coating_m", "0 or more", got, "state the thickness below the end of the core, 0 for a bare end"
        )


def _refuse_thread(probe: Probe, vessel: Vessel) -> None:
    """What is a millionth of the vessel asks for more elements than any machine holds."""
    least = THINNEST * vessel.widest_m
    if probe.core_radius_m < least:
        got = f"{probe.core_radius_m:g} m"
        raise refusal("core_radius_m", f"{least:g} m or more in this vessel", got, "state half the diameter of the rod")
    thickness = probe.outer_radius_m - probe.core_radius_m
    if probe.coating_radius_m is not None and thickness < least:
        allowed, got = f"thicker than the core by {least:g} m or more", f"{thickness:g} m thicker"
        raise refusal("coating_radius_m", allowed, got, "a coating so thin is none: state a bare rod")


def _refuse_place(probe: Probe, vessel: Vessel) -> None:
    bottom, top = vessel.bottom_m, vessel.top_m
    if not bottom < probe.end_height_m <= probe.tip_height_m < top:
        got = f"{probe.end_height_m:g} m (end of the probe) to {probe.tip_height_m:g} m (end of the core)"
        allowed = f"between the bottom ({bottom:g} m) and the roof ({top:g} m)"
        raise refusal("tip_height_m", allowed, got, "shorten the rod, or its coating at the end")
    inside = (vessel.heights_m >= probe.end_height_m) & (vessel.heights_m <= top)
    heights = np.concatenate([[probe.end_height_m], vessel.heights_m[inside]])
    radii = vessel.radius_m(heights)
    row = int(np.argmin(radii))
    place = f"a wall at {radii[row]:g} m, at the height {heights[row]:g} m"
    if radii[row] <= probe.core_radius_m:
        got = f"{probe.core_radius_m:g} m against {place}"
        raise refusal("core_radius_m", "smaller than the radius of the wall", got, "the rod touches the wall: move it")
    if radii[row] <= probe.outer_radius_m:
        got = f"{probe.outer_radius_m:g} m against {place}"
        raise refusal(
            "coating_radius_m", "within the gap to the wall", got, "the coating fills the gap: thinner, or move"
        )


def _refuse_gland(probe: Probe, vessel: Vessel) -> None:
    ring, top = probe.ring_radius_m, float(vessel.radii_m[-1])
    least = probe.outer_radius_m
    if ring is None:
        remedy = "a rod that touches an earthed roof has no finite capacitance: state the ring, or mirrored_top"
        raise refusal("ring_radius_m", "stated under a roof", "none", remedy)
    if ring <= probe.core_radius_m or ring < least or ring > top * (1.0 + 1e-12):
        allowed = f"wider than the core ({probe.core_radius_m:g} m), not inside the coating ({least:g} m)"
        got = f"{ring:g} m in a roof of {top:g} m"
        raise refusal(
            "ring_radius_m", f"{allowed} and within the roof", got, "state the radius of the insulating opening"
        )


def refuse_levels(vessel: Vessel, levels_m: Reals) -> None:
    """Levels inside the vessel."""
    if levels_m.ndim != 1 or not levels_m.size:
        raise refusal("levels_m", "a row of one or more levels", f"shape {levels_m.shape}", "state the levels in a row")
    outside = ~((levels_m >= vessel.bottom_m) & (levels_m <= vessel.top_m))
    if outside.any():
        allowed = f"between the bottom ({vessel.bottom_m:g} m) and the roof ({vessel.top_m:g} m)"
        raise refusal(
            "levels_m", allowed, f"{levels_m[outside][0]:g} m", "leave out levels that the vessel cannot hold"
        )


def refuse_permittivities(probe: Probe, fluids: tuple[complex, complex]) -> None:
    """Relative permittivities of matter: 1 or more, a loss as a negative imaginary part."""
    names = ("liquid_permittivity", "gas_permittivity", "coating_permittivity")
    coating = 1.0 if probe.coating_permittivity is None else probe.coating_permittivity
    for name, value in zip(names, (*fluids, coating), strict=True):
        if not (np.real(value) >= 1.0 and np.isfinite(value)):
            raise refusal(name, "1 or more", f"{value:g}", "state it relative to vacuum, which has 1")
        if np.imag(value) > 0.0:
            raise refusal(name, "e' - j*e'' with e'' of 0 or more", f"{value:g}", "turn the sign of the loss")


def refuse_ratio(ratio: float) -> None:
    """A ratio of the mesh within what was tried."""
    if not 1.1 <= ratio <= 2.0:
        raise refusal("ratio", "from 1.1 to 2", f"{ratio:g}", "1.6 is usual; nearer to 1 is finer and slower")
