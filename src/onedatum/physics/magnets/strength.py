"""What a field is worth to the wire: its strength against the least that is needed, and how long its echo is."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real, same_kind
from onedatum.foundation.working import formula


@formula(
    equation="B_s = abs(B)",
    gives=("B_s", "strength of the field"),
    where={"field_T": ("B", "field along the wire", "[-10, 10]")},
    source="derived: the sign is the polarity of the magnet",
)
def field_strength_T(field_T: Real) -> Real:
    """Strength of a field, whatever its sign.

    Example
    -------
    >>> float(field_strength_T(-0.089))
    0.089
    """
    return same_kind(np.abs(field_T))


@formula(
    equation="dB = B_s - B_min",
    gives=("dB", "field beyond the least, negative where it is too weak"),
    where={
        "strength_T": ("B_s", "strength of the field", "[0, 10]"),
        "least_T": ("B_min", "least field that the wire needs", "[0, 10]"),
    },
    source="derived: difference",
)
def field_margin_T(strength_T: Real, least_T: Real) -> Real:
    """Field beyond the least that the wire needs.

    Example
    -------
    >>> round(field_margin_T(0.089, 0.005), 3)
    0.084
    """
    return strength_T - least_T


@formula(
    equation="t_w = w/v",
    gives=("t_w", "length of the echo in time"),
    where={
        "lobe_width_m": ("w", "width of the field along the wire, at half its height", "[0, 1]"),
        "speed_m_per_s": ("v", "speed of the pulse", "[100, 10000]"),
    },
    source="derived: way of the pulse along the field",
)
def echo_length_s(lobe_width_m: Real, speed_m_per_s: Real) -> Real:
    """Time that the echo of a magnet lasts, by the width of its field.

    Example
    -------
    >>> round(echo_length_s(0.0104, 2800.0) * 1e6, 2)
    3.71
    """
    return lobe_width_m / speed_m_per_s
