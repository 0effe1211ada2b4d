"""How a float answers: to another density, to a force, to what settles on it, to warmth."""

from __future__ import annotations

from onedatum.foundation.numerics import Real
from onedatum.foundation.working import formula

_LIQUID = ("rho_l", "density of the liquid, or of the lower one", "(0, 20000]")
_GAS = ("rho_g", "density of what stands above it", "[0, 20000]")
_BETWEEN = ("rho_l > rho_g", "a float rests between a denser liquid and what is lighter")
_AREA = ("A", "area of the waterline", "(0, 1]")
_MASS = ("m", "mass of the float, magnets included", "(0, 50]")
_GRAVITY = ("g", "acceleration of free fall", "[9.7, 9.9]")
_STIFFNESS = ("k", "force per depth of immersion", "(0, 100000]")


@formula(
    equation="V_i = (m - rho_g*V)/(rho_l - rho_g)",
    gives=("V_i", "volume below the surface"),
    where={
        "mass_kg": _MASS,
        "volume_m3": ("V", "volume of the float", "(0, 2]"),
        "liquid_density_kg_per_m3": _LIQUID,
        "gas_density_kg_per_m3": _GAS,
    },
    requires=(
        _BETWEEN,
        ("m <= rho_l*V", "a float denser than the liquid sinks"),
        ("m >= rho_g*V", "a float lighter than what stands above does not rest on the liquid"),
    ),
    source="archimedes: the weight equals what is displaced below and above",
)
def displaced_volume_m3(
    mass_kg: Real, volume_m3: Real, liquid_density_kg_per_m3: Real, gas_density_kg_per_m3: Real
) -> Real:
    """Volume of a float below the surface, whatever its form.

    Example
    -------
    >>> round(displaced_volume_m3(0.075, 0.00010857, 790.0, 12.0), 8)
    9.473e-05
    """
    return (mass_kg - gas_density_kg_per_m3 * volume_m3) / (liquid_density_kg_per_m3 - gas_density_kg_per_m3)


@formula(
    equation="s = -V_i/((rho_l - rho_g)*A)",
    gives=("s", "change of immersion per density of the liquid"),
    where={
        "displaced_volume_m3": ("V_i", "volume below the surface", "[0, 2]"),
        "liquid_density_kg_per_m3": _LIQUID,
        "gas_density_kg_per_m3": _GAS,
        "waterplane_m2": _AREA,
    },
    requires=(_BETWEEN,),
    source="archimedes: the balance differentiated by the density of the liquid",
)
def immersion_per_density_m4_per_kg(
    displaced_volume_m3: Real, liquid_density_kg_per_m3: Real, gas_density_kg_per_m3: Real, waterplane_m2: Real
) -> Real:
    """Change of immersion with the density of the liquid: negative, a heavier liquid lifts the float.

    Example
    -------
    >>> round(immersion_per_density_m4_per_kg(8.8235e-05, 850.0, 0.0, 0.0018096), 8)
    -5.736e-05
    """
    return -displaced_volume_m3 / ((liquid_density_kg_per_m3 - gas_density_kg_per_m3) * waterplane_m2)


@formula(
    equation="k = (rho_l - rho_g)*g*A",
    gives=("k", "force per depth of immersion"),
    where={
        "liquid_density_kg_per_m3": _LIQUID,
        "gas_density_kg_per_m3": _GAS,
        "waterplane_m2": _AREA,
        "gravity_m_per_s2": _GRAVITY,
    },
    requires=(_BETWEEN,),
    source="archimedes: buoyancy of a slice at the waterline",
)
def stiffness_N_per_m(
    liquid_density_kg_per_m3: Real, gas_density_kg_per_m3: Real, waterplane_m2: Real, gravity_m_per_s2: Real
) -> Real:
    """Force that immerses a float deeper, per depth.

    Example
    -------
    >>> round(stiffness_N_per_m(1000.0, 0.0, 0.0018096, 9.80665), 3)
    17.746
    """
    return (liquid_density_kg_per_m3 - gas_density_kg_per_m3) * gravity_m_per_s2 * waterplane_m2


@formula(
    equation="dz = F/k",
    gives=("dz", "change of immersion by a force"),
    where={"force_N": ("F", "force, downwards", "[-1000, 1000]"), "stiffness_N_per_m": _STIFFNESS},
    source="archimedes: small changes of immersion",
)
def moved_by_force_m(force_N: Real, stiffness_N_per_m: Real) -> Real:
    """Change of immersion by a small force.

    Example
    -------
    >>> round(moved_by_force_m(0.0164, 2.3667), 4)
    0.0069
    """
    return force_N / stiffness_N_per_m


@formula(
    equation="b = 2*F/k",
    gives=("b", "band between rising and falling"),
    where={"friction_N": ("F", "friction of the float on the stem", "[0, 10]"), "stiffness_N_per_m": _STIFFNESS},
    source="archimedes: friction up and friction down, small changes of immersion",
)
def stiction_band_m(friction_N: Real, stiffness_N_per_m: Real) -> Real:
    """Band of immersion in which friction holds a float: rising reads low, falling reads high.

    Example
    -------
    >>> round(stiction_band_m(0.02, 15.4389), 6)
    0.002591
    """
    return 2 * friction_N / stiffness_N_per_m


@formula(
    equation="dx = x_1 - x_2",
    gives=("dx", "how much deeper it sits"),
    where={
        "immersion_m": ("x_1", "immersion", "[0, 2]"),
        "other_immersion_m": ("x_2", "immersion it is compared with", "[0, 2]"),
    },
    source="derived: difference",
)
def deeper_m(immersion_m: Real, other_immersion_m: Real) -> Real:
    """How much deeper a float sits than it would otherwise.

    Example
    -------
    >>> round(deeper_m(0.0405, 0.0391), 4)
    0.0014
    """
    return immersion_m - other_immersion_m


@formula(
    equation="l = l_0*(1 + alpha*dT)",
    gives=("l", "length of the float when warm"),
    where={
        "length_m": ("l_0", "length of the float as made", "(0, 2]"),
        "alpha_per_K": ("alpha", "linear expansion of the material", "[0, 0.001]"),
        "temperature_difference_K": ("dT", "how much warmer it is", "[-300, 900]"),
    },
    source="derived: linear expansion",
)
def grown_m(length_m: Real, alpha_per_K: Real, temperature_difference_K: Real) -> Real:
    """A length of a float at another temperature; every length grows alike.

    Example
    -------
    >>> round(grown_m(0.026, 16e-6, 70.0), 8)
    0.02602912
    """
    return length_m * (1 + alpha_per_K * temperature_difference_K)


@formula(
    equation="dz = 4*gamma/((rho_l - rho_g)*g*D)",
    gives=("dz", "shift of the waterline by wetting"),
    where={
        "surface_tension_N_per_m": ("gamma", "surface tension", "[0, 1]"),
        "liquid_density_kg_per_m3": _LIQUID,
        "gas_density_kg_per_m3": _GAS,
        "diameter_m": ("D", "diameter of the waterline", "[0.001, 1]"),
        "gravity_m_per_s2": _GRAVITY,
    },
    requires=(_BETWEEN,),
    source="derived: force of wetting all around, over the stiffness of a full circle",
)
def meniscus_shift_m(
    surface_tension_N_per_m: Real,
    liquid_density_kg_per_m3: Real,
    gas_density_kg_per_m3: Real,
    diameter_m: Real,
    gravity_m_per_s2: Real,
) -> Real:
    """Largest shift of the waterline by wetting; it stays the same while the wetting does.

    Example
    -------
    >>> round(meniscus_shift_m(0.072, 998.0, 1.2, 0.050, 9.80665), 6)
    0.000589
    """
    lifted = (liquid_density_kg_per_m3 - gas_density_kg_per_m3) * gravity_m_per_s2 * diameter_m
    return 4.0 * surface_tension_N_per_m / lifted
