"""A probe as the meter sees it: its capacitance at a level, and what a change does to a reading set before."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_CAPACITANCE = "[0, 1]"
_WET = ("c_w", "capacitance per length where it is wetted", "[0, 1e-3]")
_DRY = ("c_d", "capacitance per length where it is dry", "[0, 1e-3]")
_PERMITTIVITY = "[1, 1000]"


@formula(
    equation="C = C_0 + c_w*h + c_d*(L - h)",
    gives=("C", "capacitance of the probe"),
    where={
        "constant_F": ("C_0", "what does not change with the level: gland, head, cable, inactive length", "[-1, 1]"),
        "wet_F_per_m": _WET,
        "dry_F_per_m": _DRY,
        "wetted_m": ("h", "wetted length", "[0, 200]"),
        "active_m": ("L", "active length", "(0, 200]"),
    },
    requires=(("h <= L", "no more is wetted than is active"),),
    source="derived: lengths side by side; the ends of the rod are left out",
)
def probe_capacitance_F(constant_F: Real, wet_F_per_m: Real, dry_F_per_m: Real, wetted_m: Real, active_m: Real) -> Real:
    """Of a probe wetted up to a level, without what its ends add.

    Example
    -------
    >>> round(probe_capacitance_F(0.0, 347.215e-12, 9.0443e-12, 1.55, 2.45) * 1e12, 2)
    546.32
    """
    return constant_F + wet_F_per_m * wetted_m + dry_F_per_m * (active_m - wetted_m)


@formula(
    equation="s = c_w - c_d",
    gives=("s", "change of capacitance per change of level"),
    where={"wet_F_per_m": _WET, "dry_F_per_m": _DRY},
    source="derived: lengths side by side",
)
def sensitivity_F_per_m(wet_F_per_m: Real, dry_F_per_m: Real) -> Real:
    """What a probe gains where it is wetted.

    Example
    -------
    >>> round(sensitivity_F_per_m(347.215e-12, 9.0443e-12) * 1e12, 3)
    338.171
    """
    return wet_F_per_m - dry_F_per_m


@formula(
    equation="h = h_1 + (C - C_1)*(h_2 - h_1)/(C_2 - C_1)",
    gives=("h", "level read"),
    where={
        "capacitance_F": ("C", "capacitance now", _CAPACITANCE),
        "low_F": ("C_1", "capacitance when the lower point was set", _CAPACITANCE),
        "high_F": ("C_2", "capacitance when the upper point was set", _CAPACITANCE),
        "low_level_m": ("h_1", "level at the lower point", "[-200, 200]"),
        "high_level_m": ("h_2", "level at the upper point", "[-200, 200]"),
    },
    requires=(("h_1 < h_2", "two points set a line"), ("C_1 < C_2", "the capacitance rises with the level")),
    source="derived: straight line through two points",
)
def level_read_m(capacitance_F: Real, low_F: Real, high_F: Real, low_level_m: Real, high_level_m: Real) -> Real:
    """By a meter set at two levels that were known.

    Example
    -------
    >>> round(level_read_m(546.323e-12, 55.976e-12, 749.226e-12, 0.15, 2.2), 3)
    1.6
    """
    return low_level_m + (capacitance_F - low_F) * (high_level_m - low_level_m) / (high_F - low_F)


@formula(
    equation="x = (s - s_0)/s_0",
    gives=("x", "error of the wetted length, as a share of it"),
    where={
        "now_F_per_m": ("s", "change of capacitance per change of level, now", "[0, 1e-3]"),
        "set_F_per_m": ("s_0", "change of capacitance per change of level when it was set", "(0, 1e-3]"),
    },
    source="derived: the same capacitance read by another slope; the dry rod unchanged",
)
def changed_slope_share(now_F_per_m: Real, set_F_per_m: Real) -> Real:
    """What another permittivity, composition or moisture does to the reading: nothing at the tip, most when full.

    Example
    -------
    >>> round(changed_slope_share(1.25, 1.30), 5)
    -0.03846
    """
    return (now_F_per_m - set_F_per_m) / set_F_per_m


@formula(
    equation="h = L_r*(C - C_0)/(C_r - C_r0)",
    gives=("h", "wetted length of the probe"),
    where={
        "reference_length_m": ("L_r", "length of the reference section, wetted all over", "(0, 10]"),
        "capacitance_F": ("C", "capacitance of the probe", _CAPACITANCE),
        "dry_F": ("C_0", "capacitance of the probe when it was dry", _CAPACITANCE),
        "reference_F": ("C_r", "capacitance of the reference section", _CAPACITANCE),
        "reference_dry_F": ("C_r0", "capacitance of the reference section when it was dry", _CAPACITANCE),
    },
    requires=(("C_0 <= C", "the probe holds no less than dry"), ("C_r0 < C_r", "the reference section is wetted")),
    source="derived: both see the same liquid",
)
def by_reference_section_m(
    reference_length_m: Real, capacitance_F: Real, dry_F: Real, reference_F: Real, reference_dry_F: Real
) -> Real:
    """Level without the permittivity: a section of the same build that stays wetted tells what the liquid is.

    Right for one even liquid above the reference section; wrong where water settles round it.

    Example
    -------
    >>> round(by_reference_section_m(0.1, 60e-12, 20e-12, 6e-12, 2e-12), 3)
    1.0
    """
    return reference_length_m * (capacitance_F - dry_F) / (reference_F - reference_dry_F)


@formula(
    equation="L = z_2 - z_1",
    gives=("L", "active length"),
    where={
        "upper_m": ("z_2", "height at which the active length ends", "[-20, 200]"),
        "lower_m": ("z_1", "height at which the active length begins", "[-20, 200]"),
    },
    requires=(("z_1 < z_2", "a probe has a length"),),
    source="derived: difference",
)
def active_length_m(upper_m: Real, lower_m: Real) -> Real:
    """Length of the rod that tells the level.

    Example
    -------
    >>> round(active_length_m(2.5, 0.05), 3)
    2.45
    """
    return upper_m - lower_m


@formula(
    equation="h = min(max(z - z_1, 0), L)",
    gives=("h", "wetted length"),
    where={
        "level_m": ("z", "level", "[-20, 300]"),
        "lower_m": ("z_1", "height at which the active length begins", "[-20, 200]"),
        "active_m": ("L", "active length", "(0, 200]"),
    },
    source="derived: difference, within the rod",
)
def wetted_length_m(level_m: Real, lower_m: Real, active_m: Real) -> Real:
    """Length of the rod below the level.

    Example
    -------
    >>> round(float(wetted_length_m(1.6, 0.05, 2.45)), 3)
    1.55
    """
    return np.minimum(np.maximum(level_m - lower_m, 0.0), active_m)


@formula(
    equation="l = L - h",
    gives=("l", "length of the rod above the level"),
    where={
        "active_m": ("L", "active length", "(0, 200]"),
        "wetted_m": ("h", "wetted length", "[0, 200]"),
    },
    requires=(("h <= L", "no more is wetted than is active"),),
    source="derived: difference",
)
def bare_length_m(active_m: Real, wetted_m: Real) -> Real:
    """Length of the rod that may carry a film.

    Example
    -------
    >>> round(bare_length_m(2.45, 1.55), 3)
    0.9
    """
    return active_m - wetted_m


@formula(
    equation="e = h*(s - s_0)/s_0",
    gives=("e", "error of the level"),
    where={
        "wetted_m": ("h", "wetted length", "[0, 200]"),
        "now_F_per_m": ("s", "change of capacitance per change of level, now", "[0, 1e-3]"),
        "set_F_per_m": ("s_0", "change of capacitance per change of level when it was set", "(0, 1e-3]"),
    },
    source="derived: the same capacitance read by another slope; the dry rod unchanged",
)
def changed_slope_error_m(wetted_m: Real, now_F_per_m: Real, set_F_per_m: Real) -> Real:
    """What a change of the liquid after the setting does to a level, whichever two points it was set at.

    Example
    -------
    >>> round(changed_slope_error_m(2.0, 1.25, 1.30), 4)
    -0.0769
    """
    return wetted_m * (now_F_per_m - set_F_per_m) / set_F_per_m


@formula(
    equation="x = C/C_0 - 1",
    gives=("x", "what is seen over what should be, less 1"),
    where={
        "seen_F": ("C", "capacitance that is seen", "[0, 1]"),
        "whole_F": ("C_0", "capacitance that should be seen", "(0, 1]"),
    },
    source="derived: ratio",
)
def seen_share(seen_F: Real, whole_F: Real) -> Real:
    """By how much a reading is off for want of an earth of its own.

    Example
    -------
    >>> round(seen_share(483.84e-12, 546.323e-12), 4)
    -0.1144
    """
    return seen_F / whole_F - 1


@formula(
    equation="z = z_1 + (z_a - z_1)*s_0/s",
    gives=("z", "level at which it is read"),
    where={
        "read_m": ("z_a", "level read", "[-20, 300]"),
        "lower_m": ("z_1", "height at which the active length begins", "[-20, 200]"),
        "now_F_per_m": ("s", "change of capacitance per change of level, now", "(0, 1e-3]"),
        "set_F_per_m": ("s_0", "change of capacitance per change of level when it was set", "(0, 1e-3]"),
    },
    source="derived: the same capacitance read by another slope; the dry rod unchanged",
)
def level_when_read_m(read_m: Real, lower_m: Real, now_F_per_m: Real, set_F_per_m: Real) -> Real:
    """Where the liquid stands when the probe reads a level, such as an alarm, in another liquid than it was set in.

    Example
    -------
    >>> round(level_when_read_m(2.0, 0.0, 1.0, 1.25), 3)
    2.5
    """
    return lower_m + (read_m - lower_m) * set_F_per_m / now_F_per_m
