"""The ends of a relative permittivity that has a half width: as low and as high as the liquid may have it."""

from __future__ import annotations

import numpy as np

from onedatum.foundation.numerics import Real, same_kind
from onedatum.foundation.working import Where, formula

_AROUND: Where = {
    "relative_permittivity": ("e_0", "relative permittivity as worked or stated", "[1, 1000]"),
    "half_width": ("u", "what it may be off by, either way", "[0, 1000]"),
}


@formula(
    equation="eps = max(e_0 - u, 1)",
    gives=("eps", "least relative permittivity"),
    where=_AROUND,
    source="derived: difference; nothing lies below vacuum",
)
def lowered_permittivity(relative_permittivity: Real, half_width: Real) -> Real:
    """As low as a relative permittivity may be.

    Example
    -------
    >>> float(round(lowered_permittivity(1.937, 0.044), 3))
    1.893
    """
    return same_kind(np.maximum(np.subtract(relative_permittivity, half_width), 1.0))


@formula(
    equation="eps = e_0 + u",
    gives=("eps", "greatest relative permittivity"),
    where=_AROUND,
    source="derived: sum",
)
def raised_permittivity(relative_permittivity: Real, half_width: Real) -> Real:
    """As high as a relative permittivity may be.

    Example
    -------
    >>> round(raised_permittivity(1.937, 0.044), 3)
    1.981
    """
    return relative_permittivity + half_width
