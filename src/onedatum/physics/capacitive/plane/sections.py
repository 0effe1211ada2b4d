"""Capacitance per length of any section of circles and strips."""

from __future__ import annotations

import math

from onedatum.physics.capacitive.constants import VACUUM_PERMITTIVITY_F_PER_M
from onedatum.physics.capacitive.plane.checks import refuse
from onedatum.physics.capacitive.plane.parts import Section
from onedatum.physics.capacitive.plane.solve import converged


def section_capacitance_F_per_m(section: Section) -> complex:
    """Charge on the live rods against the earthed parts, per volt and length; without a tank as a neutral pair.

    Formula
    -------
    boundary integral of a single layer, the number of nodes doubled until the result changes by less than 1e-10

    Parameters
    ----------
    section : Section
        rods, strips, interfaces and tank with their places [m]; permittivities real, or complex for what leaks

    Returns
    -------
    complex
        capacitance per length [F/m]; for complex permittivities the admittance over j omega

    Validity
    --------
    away from the ends of the rods; what touches or crosses is refused, and a gap that 4000 nodes on an outline do not
    settle

    Source
    ------
    derived: Laplace's equation in the plane

    Example
    -------
    >>> from onedatum.physics.capacitive.plane.parts import Rod, Section
    >>> pair = Section((Rod((0.0, 0.0), 0.005), Rod((0.1, 0.0), 0.005, live=False)), permittivity=5.0)
    >>> round(section_capacitance_F_per_m(pair).real * 1e12, 4)
    46.4654
    """
    refuse(section)
    return 2 * math.pi * VACUUM_PERMITTIVITY_F_PER_M * converged(section)
