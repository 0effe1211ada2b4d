"""Relative permittivity of grains, drops or bubbles of one medium in another: rules, bounds, and what they differ by.

No rule is right for every mixture: the form and the order of the grains decide, and nobody knows them. So the mixture
has a value and a half width, from the least to the greatest of the rules. None of them holds for liquids that bind to
one another, such as ethanol and water.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from onedatum.foundation.numerics import Real, same_kind
from onedatum.foundation.working import Where, formula

_PARTS: Where = {
    "inclusion_share": ("f", "volume of the inclusions in the volume of the mixture", "[0, 1]"),
    "inclusion_permittivity": ("e_2", "relative permittivity of the inclusions", "[1, 250]"),
    "host_permittivity": ("e_1", "relative permittivity of what lies around them", "[1, 250]"),
}
_MIXTURE = ("eps", "relative permittivity of the mixture")
_LEAST = ("eps", "least relative permittivity that the mixture can have")
_GREATEST = ("eps", "greatest relative permittivity that the mixture can have")


@formula(
    equation="eps = exp(f*ln(e_2) + (1 - f)*ln(e_1))",
    gives=_MIXTURE,
    where=_PARTS,
    source="lichtenecker-1926: logarithmic law",
)
def lichtenecker_permittivity(inclusion_share: Real, inclusion_permittivity: Real, host_permittivity: Real) -> Real:
    """Relative permittivity of a mixture by the law of logarithms, which no theory of fields gives.

    Of media that differ little it lies below the lower bound of Hashin and Shtrikman; between those of Wiener always.

    Example
    -------
    >>> float(round(lichtenecker_permittivity(0.35, 5.5, 1.0), 3))
    1.816
    """
    logarithms = inclusion_share * np.log(inclusion_permittivity) + (1.0 - inclusion_share) * np.log(host_permittivity)
    return same_kind(np.exp(logarithms))


@formula(
    equation="eps = (f*e_2**(1/3) + (1 - f)*e_1**(1/3))**3",
    gives=_MIXTURE,
    where=_PARTS,
    source="looyenga-1965: law of cube roots",
)
def looyenga_permittivity(inclusion_share: Real, inclusion_permittivity: Real, host_permittivity: Real) -> Real:
    """Relative permittivity of a mixture by the law of cube roots, the usual one for granular solids.

    Example
    -------
    >>> float(round(looyenga_permittivity(0.35, 5.5, 1.0), 3))
    2.038
    """
    of_inclusions, of_host = np.power(inclusion_permittivity, 1.0 / 3.0), np.power(host_permittivity, 1.0 / 3.0)
    return same_kind((inclusion_share * of_inclusions + (1.0 - inclusion_share) * of_host) ** 3)


@formula(
    equation="eps = ((3*f - 1)*e_2 + (2 - 3*f)*e_1 + sqrt(((3*f - 1)*e_2 + (2 - 3*f)*e_1)**2 + 8*e_1*e_2))/4",
    gives=_MIXTURE,
    where=_PARTS,
    source="bruggeman-1935: symmetric rule, solved",
)
def bruggeman_permittivity(inclusion_share: Real, inclusion_permittivity: Real, host_permittivity: Real) -> Real:
    """Relative permittivity of a mixture in which both media are grains among grains.

    Example
    -------
    >>> float(round(bruggeman_permittivity(0.35, 5.5, 1.0), 3))
    1.993
    """
    product = np.multiply(inclusion_permittivity, host_permittivity)
    both = (3.0 * inclusion_share - 1.0) * inclusion_permittivity + (2.0 - 3.0 * inclusion_share) * host_permittivity
    return same_kind((both + np.sqrt(both * both + 8.0 * product)) / 4.0)


@formula(
    equation="eps = e_1*(1 + 3*f*(e_2 - e_1)/(e_2 + 2*e_1 - f*(e_2 - e_1)))",
    gives=_MIXTURE,
    where=_PARTS,
    source="maxwell-garnett-1904: balls far apart",
)
def maxwell_garnett_permittivity(inclusion_share: Real, inclusion_permittivity: Real, host_permittivity: Real) -> Real:
    """Relative permittivity of a mixture of balls that lie far apart in what surrounds them.

    Example
    -------
    >>> round(maxwell_garnett_permittivity(0.35, 5.5, 1.0), 3)
    1.797
    """
    beyond = inclusion_permittivity - host_permittivity
    share = (
        3.0 * inclusion_share * beyond / (inclusion_permittivity + 2.0 * host_permittivity - inclusion_share * beyond)
    )
    return host_permittivity * (1.0 + share)


@formula(
    equation="eps = 1/(f/e_2 + (1 - f)/e_1)",
    gives=_LEAST,
    where=_PARTS,
    source="derived: layers across the field, in series",
)
def wiener_lower_permittivity(inclusion_share: Real, inclusion_permittivity: Real, host_permittivity: Real) -> Real:
    """Lower bound of Wiener: nothing made of the two media lies below it, whatever its form.

    Example
    -------
    >>> round(wiener_lower_permittivity(0.35, 5.5, 1.0), 3)
    1.401
    """
    return 1.0 / (inclusion_share / inclusion_permittivity + (1.0 - inclusion_share) / host_permittivity)


@formula(
    equation="eps = f*e_2 + (1 - f)*e_1",
    gives=_GREATEST,
    where=_PARTS,
    source="derived: layers along the field, side by side",
)
def wiener_upper_permittivity(inclusion_share: Real, inclusion_permittivity: Real, host_permittivity: Real) -> Real:
    """Upper bound of Wiener: nothing made of the two media lies above it, whatever its form.

    Example
    -------
    >>> round(wiener_upper_permittivity(0.35, 5.5, 1.0), 3)
    2.575
    """
    return inclusion_share * inclusion_permittivity + (1.0 - inclusion_share) * host_permittivity


def _hashin_shtrikman(f: Any, e_2: Any, e_1: Any, around: Any) -> Any:
    """The mean by volume less what the difference of the media takes off it, with one of them all around."""
    off = f * (1.0 - f) * (e_2 - e_1) ** 2 / (f * e_1 + (1.0 - f) * e_2 + 2.0 * around)
    return f * e_2 + (1.0 - f) * e_1 - off


@formula(
    equation="eps = f*e_2 + (1 - f)*e_1 - f*(1 - f)*(e_2 - e_1)**2/(f*e_1 + (1 - f)*e_2 + 2*min(e_1, e_2))",
    gives=_LEAST,
    where=_PARTS,
    source="hashin-shtrikman-1962: lower bound",
)
def hashin_shtrikman_lower_permittivity(
    inclusion_share: Real, inclusion_permittivity: Real, host_permittivity: Real
) -> Real:
    """Lower bound of Hashin and Shtrikman, for mixtures that are alike in all directions.

    Example
    -------
    >>> float(round(hashin_shtrikman_lower_permittivity(0.35, 5.5, 1.0), 3))
    1.797
    """
    around = np.minimum(inclusion_permittivity, host_permittivity)
    return same_kind(_hashin_shtrikman(inclusion_share, inclusion_permittivity, host_permittivity, around))


@formula(
    equation="eps = f*e_2 + (1 - f)*e_1 - f*(1 - f)*(e_2 - e_1)**2/(f*e_1 + (1 - f)*e_2 + 2*max(e_1, e_2))",
    gives=_GREATEST,
    where=_PARTS,
    source="hashin-shtrikman-1962: upper bound",
)
def hashin_shtrikman_upper_permittivity(
    inclusion_share: Real, inclusion_permittivity: Real, host_permittivity: Real
) -> Real:
    """Upper bound of Hashin and Shtrikman, for mixtures that are alike in all directions.

    Example
    -------
    >>> float(round(hashin_shtrikman_upper_permittivity(0.35, 5.5, 1.0), 3))
    2.266
    """
    around = np.maximum(inclusion_permittivity, host_permittivity)
    return same_kind(_hashin_shtrikman(inclusion_share, inclusion_permittivity, host_permittivity, around))


_RULES: dict[str, Callable[..., Any]] = {
    "e_L": lichtenecker_permittivity,
    "e_Y": looyenga_permittivity,
    "e_B": bruggeman_permittivity,
    "e_G": maxwell_garnett_permittivity,
}
_ALL = tuple(f"{symbol}(f, e_2, e_1)" for symbol in _RULES)
_LEAST_OF_RULES = "min(min({}, {}), min({}, {}))".format(*_ALL)
_GREATEST_OF_RULES = "max(max({}, {}), max({}, {}))".format(*_ALL)
_SPREAD = "derived: spread of the rules of Lichtenecker, Looyenga, Bruggeman and Maxwell Garnett"


def _least_and_greatest(*parts: Real) -> tuple[Any, Any]:
    found = [rule(*parts) for rule in _RULES.values()]
    return np.minimum.reduce(found), np.maximum.reduce(found)


@formula(
    residual=f"2*eps - {_LEAST_OF_RULES} - {_GREATEST_OF_RULES}",
    gives=_MIXTURE,
    where=_PARTS,
    calls=_RULES,
    source=_SPREAD,
)
def mixture_permittivity(inclusion_share: Real, inclusion_permittivity: Real, host_permittivity: Real) -> Real:
    """Relative permittivity of a mixture: the mid of the least and the greatest of four rules.

    It never stands alone: `mixture_permittivity_half_width` says how far the rules lie apart.

    Example
    -------
    >>> float(round(mixture_permittivity(0.35, 5.5, 1.0), 3))
    1.918
    """
    least, greatest = _least_and_greatest(inclusion_share, inclusion_permittivity, host_permittivity)
    return same_kind(0.5 * (least + greatest))


@formula(
    residual=f"2*u + {_LEAST_OF_RULES} - {_GREATEST_OF_RULES}",
    gives=("u", "half the way from the least to the greatest of the rules"),
    where=_PARTS,
    calls=_RULES,
    source=_SPREAD,
)
def mixture_permittivity_half_width(
    inclusion_share: Real, inclusion_permittivity: Real, host_permittivity: Real
) -> Real:
    """Half width of the relative permittivity of a mixture: the rules stand that far on either side of their mid.

    Example
    -------
    >>> float(round(mixture_permittivity_half_width(0.35, 5.5, 1.0), 3))
    0.12
    """
    least, greatest = _least_and_greatest(inclusion_share, inclusion_permittivity, host_permittivity)
    return same_kind(0.5 * (greatest - least))
