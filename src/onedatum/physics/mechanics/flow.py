"""Flow across a stem: its load, how far and how hard that bends it, free at the tip or held there."""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_LOAD = ("q", "load of the flow per length", "[0, 100000]")
_LENGTH = ("L", "length of the stem", "(0, 50]")
_STIFFNESS = ("B", "bending stiffness", "[1e-6, 1e9]")
_SECOND = ("I", "second moment of area of the tube", "[1e-15, 0.01]")
_OUTER = ("d_o", "outside diameter of the stem", "(0, 0.5]")
_SOURCE = "euler-bernoulli: even load all along"


@formula(
    equation="q = rho*C_d*d_o*U**2/2",
    gives=("q", "load of the flow per length"),
    where={
        "density_kg_per_m3": ("rho", "density of the liquid", "[0, 20000]"),
        "drag_coefficient": ("C_d", "drag coefficient", "[0, 5]"),
        "diameter_m": _OUTER,
        "velocity_m_per_s": ("U", "velocity of the liquid across the stem", "[0, 20]"),
    },
    source="derived: drag, its coefficient of a tube from memory",
)
def side_load_N_per_m(
    density_kg_per_m3: Real, drag_coefficient: Real, diameter_m: Real, velocity_m_per_s: Real
) -> Real:
    """Load of a flow across a stem, as if it ran all along.

    Example
    -------
    >>> round(side_load_N_per_m(998.0, 1.2, 0.012, 0.5), 3)
    1.796
    """
    return density_kg_per_m3 * drag_coefficient * diameter_m * velocity_m_per_s**2 / 2


@formula(
    equation="y = q*L**4/(8*B)",
    gives=("y", "deflection of the free tip"),
    where={"load_N_per_m": _LOAD, "length_m": _LENGTH, "bending_stiffness_N_m2": _STIFFNESS},
    source=_SOURCE,
)
def tip_deflection_m(load_N_per_m: Real, length_m: Real, bending_stiffness_N_m2: Real) -> Real:
    """Deflection of the tip of a stem that is held at its head alone.

    For small slopes: where it comes to a sixth of the length it is some 2 % too much, and the stem unfit anyway.

    Example
    -------
    >>> round(tip_deflection_m(1.8, 2.0, 101.7), 3)
    0.035
    """
    return load_N_per_m * length_m**4 / (8 * bending_stiffness_N_m2)


@formula(
    equation="s = q*L**2*d_o/(4*I)",
    gives=("s", "bending stress at the head"),
    where={
        "load_N_per_m": _LOAD,
        "length_m": _LENGTH,
        "second_moment_m4": _SECOND,
        "outside_diameter_m": _OUTER,
    },
    source=_SOURCE,
)
def root_stress_Pa(load_N_per_m: Real, length_m: Real, second_moment_m4: Real, outside_diameter_m: Real) -> Real:
    """Bending stress at the head of a stem that is held there alone.

    Example
    -------
    >>> round(root_stress_Pa(1.8, 2.0, 527.0e-12, 0.012) / 1e6)
    41
    """
    return load_N_per_m * length_m**2 * outside_diameter_m / (4 * second_moment_m4)


@formula(
    equation="y = (39 + 55*sqrt(33))/65536*q*L**4/B",
    gives=("y", "greatest deflection"),
    where={"load_N_per_m": _LOAD, "length_m": _LENGTH, "bending_stiffness_N_m2": _STIFFNESS},
    source="euler-bernoulli: clamped at the head, held without clamping at the tip",
)
def guided_deflection_m(load_N_per_m: Real, length_m: Real, bending_stiffness_N_m2: Real) -> Real:
    """Greatest deflection of a stem that is held at its tip as well.

    Example
    -------
    >>> round(guided_deflection_m(1.8, 2.0, 101.7), 5)
    0.00153
    """
    return GUIDED * load_N_per_m * length_m**4 / bending_stiffness_N_m2


GUIDED = (39 + 55 * 33**0.5) / 65536
"""Greatest of s^2*(1 - s)*(3 - 2*s)/48, at s = (15 - sqrt(33))/16 from the head."""


@formula(
    equation="s = q*L**2*d_o/(16*I)",
    gives=("s", "bending stress at the head"),
    where={
        "load_N_per_m": _LOAD,
        "length_m": _LENGTH,
        "second_moment_m4": _SECOND,
        "outside_diameter_m": _OUTER,
    },
    source="euler-bernoulli: clamped at the head, held without clamping at the tip",
)
def guided_stress_Pa(load_N_per_m: Real, length_m: Real, second_moment_m4: Real, outside_diameter_m: Real) -> Real:
    """Bending stress at the head of a stem that is held at its tip as well: a quarter of that of a free one.

    Example
    -------
    >>> round(guided_stress_Pa(1.8, 2.0, 527.0e-12, 0.012) / 1e6, 1)
    10.2
    """
    return load_N_per_m * length_m**2 * outside_diameter_m / (16 * second_moment_m4)


@formula(
    equation="s_a = s_y/f",
    gives=("s_a", "stress allowed"),
    where={
        "yield_Pa": ("s_y", "yield strength of the stem", "[1e5, 5e9]"),
        "safety": ("f", "factor of safety", "[1, 10]"),
    },
    source="common-practice: the factor is a choice of the design",
)
def allowed_stress_Pa(yield_Pa: Real, safety: Real) -> Real:
    """Stress that a stem is allowed.

    Example
    -------
    >>> round(allowed_stress_Pa(170e6, 1.5) / 1e6, 1)
    113.3
    """
    return yield_Pa / safety


@formula(
    equation="ds = s_a - s",
    gives=("ds", "stress left, negative beyond what is allowed"),
    where={
        "allowed_Pa": ("s_a", "stress allowed", "[0, 1e12]"),
        "acting_Pa": ("s", "stress that acts", "[0, 1e12]"),
    },
    source="derived: difference",
)
def stress_margin_Pa(allowed_Pa: Real, acting_Pa: Real) -> Real:
    """Stress left to what is allowed.

    Example
    -------
    >>> stress_margin_Pa(113e6, 41e6) / 1e6
    72.0
    """
    return allowed_Pa - acting_Pa
