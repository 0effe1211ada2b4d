"""Risks of deciding about items of which is known beforehand what share of them keeps the tolerance."""

from __future__ import annotations

from math import exp, pi, sqrt

from onedatum.physics.uncertainty.conformity import Limits, Risks, global_risks

_TAIL = 9.0
"""Standard deviations beyond which nothing of a normal distribution is left to count."""


def risks_of_share(share: float, half_width: float, u: float, accepted: float) -> Risks:
    """Shares of all items that are wrongly accepted and wrongly rejected, from the share known to be in tolerance.

    Formula
    -------
    as `global_risks`, g the normal distribution about 0 that has the share within -T to T

    Parameters
    ----------
    share : float
        share of the items within tolerance, above 0 and below 1 [1]
    half_width : float
        T, half the width of the tolerance about 0 [unit of the result]
    u : float
        standard uncertainty of the measurement, normal [unit of the result]
    accepted : float
        A, size up to which a result is accepted [unit of the result]

    Returns
    -------
    Risks
        shares of all items [1]

    Validity
    --------
    two limits equally far from 0; errors of the items normal about 0

    Source
    ------
    JCGM 106:2012 The role of measurement uncertainty in conformity assessment, 9.5 [from memory]

    Example
    -------
    >>> round(risks_of_share(0.95, 1.0, 1.0 / 3.0, 1.0).consumer, 4)
    0.0154
    """
    from scipy.special import ndtri

    spread = half_width / float(ndtri(0.5 * (1.0 + share)))

    def density(x: float) -> float:
        return exp(-0.5 * (x / spread) ** 2) / (spread * sqrt(2.0 * pi))

    end = half_width + _TAIL * spread
    return global_risks(density, Limits(-end, end), u, Limits(-half_width, half_width), Limits(-accepted, accepted))
