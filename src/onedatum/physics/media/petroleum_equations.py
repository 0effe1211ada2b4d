"""The equations of API MPMS 11.1, clauses 11.1.5 and 11.1.6, in the units of the document: degF, psi, kg/m3.

They work on plain numbers and on arrays alike, in the order in which the document has them; what it divides by and
multiplies with again is left out, and a long sum is added up in one array. Temperatures come in kelvin of the scale of
1990; the equations were fitted on that of 1968.
"""

from __future__ import annotations

from functools import cache
from typing import Any, NamedTuple

import numpy as np

from onedatum import data
from onedatum.physics.media.petroleum_group import Constants


class Fixed(NamedTuple):
    """The constants that all groups share."""

    delta60: Any
    """Twice what 60 degF of 1990 reads above 60 on the scale of 1968, in degF."""
    t60: Any
    scale: Any
    scale_degC: Any
    pressure: Any
    Pa_per_psi: Any


class Around(NamedTuple):
    """Temperature and pressure as the equations take them."""

    warmer: Any
    """Above 60 degF of 1990, both on the scale of 1968, in degF."""
    psi: Any


class Expansion(NamedTuple):
    """What the density at 60 degF says of a liquid."""

    alpha: Any
    """Cubic expansion at 60 degF of 1968, per degF."""
    lightness: Any
    """One over the density at 60 degF of 1968."""
    shift: Any
    """Share by which that density follows the one at 60 degF of 1990 less than fully."""


@cache
def fixed() -> Fixed:
    """The constants, from the table."""
    table = data.table("api_mpms_11_1.json")
    return Fixed(
        table["delta60_degF"],
        table["T60_degF"],
        tuple(table["its90_to_ipts68"]),
        table["its90_to_ipts68_scale_degC"],
        tuple(table["pressure_factor"]),
        table["Pa_per_psi"],
    )


def around(temperature_K: Any, pressure_Pa_gauge: Any = 0.0) -> Around:
    """Temperature and pressure for the equations."""
    return Around(degF_1968(temperature_K) - fixed().t60, pressure_Pa_gauge / fixed().Pa_per_psi)


def degF_1968(temperature_K: Any) -> Any:
    """The temperature in degF on the scale of 1968."""
    known = fixed()
    degC = temperature_K - 273.15
    share = degC / known.scale_degC
    ahead = known.scale[-1] * share
    for coefficient in known.scale[-2::-1]:
        ahead += coefficient
        ahead *= share
    return 1.8 * (degC - ahead) + 32.0


def expansion(base: Any, of: Constants) -> Expansion:
    """Cubic expansion and density at 60 degF of 1968, from the density at 60 degF of 1990.

    `shift` is A times B of the document. What it takes the exponential of lies below 1e-5, so that two terms of its
    series are all the digits there are.
    """
    half = 0.5 * fixed().delta60
    inverse = 1.0 / base
    second = of.K0 * inverse
    first = second + of.K1
    shift = half * (first + second) * inverse
    a = half * (first * inverse + of.K2)
    power = a * (1.0 + 0.8 * a)
    lightness = inverse / (1.0 + power * (1.0 + 0.5 * power) / (1.0 + shift * (1.0 + 1.6 * a)))
    return Expansion((of.K0 * lightness + of.K1) * lightness + of.K2, lightness, shift)


def temperature_factor(alpha: Any, warmer: Any) -> Any:
    """The factor for temperature, CTL."""
    return np.exp(-alpha * warmer * (1.0 + 0.8 * alpha * (warmer + fixed().delta60)))


def compressibility(lightness: Any, warmer: Any) -> Any:
    """Scaled compressibility F, 1e-5 per psi."""
    f0, f1, f2, f3 = fixed().pressure
    degF = warmer + fixed().t60
    return np.exp(f0 + f1 * degF + (f2 + f3 * degF) * lightness * lightness)


def pressure_factor(lightness: Any, at: Around) -> Any:
    """The factor for pressure, CPL."""
    return 1.0 / (1.0 - 1e-5 * compressibility(lightness, at.warmer) * at.psi)


def density(base: Any, at: Around, of: Constants) -> Any:
    """Density at a temperature and a pressure."""
    alpha, lightness, _ = expansion(base, of)
    found = base * temperature_factor(alpha, at.warmer)
    return found * pressure_factor(lightness, at) if np.any(at.psi) else found


def step(base: Any, observed: Any, at: Around, of: Constants) -> Any:
    """Newton's step towards the density at 60 degF that is observed as this; its slope is that of the equations.

    The slope of 11.1.6.2 leaves the shift out and has one number a group for B: it needs a step more.
    """
    alpha, lightness, shift = expansion(base, of)
    steep = (2.0 * of.K0 * lightness + of.K1) * lightness
    factor = temperature_factor(alpha, at.warmer)
    slope = steep * at.warmer * (1.0 + 1.6 * alpha * (at.warmer + fixed().delta60))
    if np.any(at.psi):
        _, _, f2, f3 = fixed().pressure
        pressed = 1e-5 * at.psi * compressibility(lightness, at.warmer)
        by_pressure = 1.0 / (1.0 - pressed)
        factor = factor * by_pressure
        slope -= 2.0 * by_pressure * pressed * (f2 + f3 * (at.warmer + fixed().t60)) * lightness * lightness
    return (observed / factor - base) / (1.0 + slope * (1.0 - shift))
