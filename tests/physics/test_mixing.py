"""Permittivity of mixtures: the rules, the bounds that none may leave, and what they differ by."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Real
from onedatum.foundation.working import apply
from onedatum.physics.media import (
    bruggeman_permittivity,
    hashin_shtrikman_lower_permittivity,
    hashin_shtrikman_upper_permittivity,
    lichtenecker_permittivity,
    looyenga_permittivity,
    maxwell_garnett_permittivity,
    mixture_permittivity,
    mixture_permittivity_half_width,
    wiener_lower_permittivity,
    wiener_upper_permittivity,
)
from tests.closeness import close
from tests.reference import case

Rule = Callable[[Real, Real, Real], Real]

RULES: list[Rule] = [
    lichtenecker_permittivity,
    looyenga_permittivity,
    bruggeman_permittivity,
    maxwell_garnett_permittivity,
]
BOUNDS: list[Rule] = [
    wiener_lower_permittivity,
    wiener_upper_permittivity,
    hashin_shtrikman_lower_permittivity,
    hashin_shtrikman_upper_permittivity,
]
MIXED: list[Rule] = [*RULES, *BOUNDS, mixture_permittivity]
ROUNDED = 1e-12
"""Share that rounding may move a value by; the terms of none exceed 600 times its value."""
WITHIN = 1e-10

shares = st.floats(0.0, 1.0)
permittivities = st.floats(1.0, 250.0)


@pytest.mark.parametrize(
    ("name", "rule"),
    [
        ("lichtenecker", lichtenecker_permittivity),
        ("looyenga", looyenga_permittivity),
        ("maxwell_garnett", maxwell_garnett_permittivity),
    ],
)
def test_grain_in_air(name: str, rule: Rule) -> None:
    given_ = case(f"capacitance-mix_{name}")
    given_.check(rule(given_.value("fraction"), given_.value("eps_inclusion"), given_.value("eps_host")))


@given(f=shares, inclusion=permittivities, host=permittivities)
def test_bruggeman_put_back_into_its_rule(f: float, inclusion: float, host: float) -> None:
    """f*(e_2 - e)/(e_2 + 2*e) + (1 - f)*(e_1 - e)/(e_1 + 2*e) = 0 (Bruggeman 1935, from memory)."""
    found = float(bruggeman_permittivity(f, inclusion, host))
    parts = f * (inclusion - found) / (inclusion + 2 * found) + (1 - f) * (host - found) / (host + 2 * found)
    assert abs(parts) < WITHIN


@given(inclusion=permittivities, host=permittivities)
@pytest.mark.parametrize("rule", MIXED)
def test_all_of_one_medium_is_that_medium(rule: Rule, inclusion: float, host: float) -> None:
    close(rule(0.0, inclusion, host), host, WITHIN * host, "rounding")
    close(rule(1.0, inclusion, host), inclusion, WITHIN * inclusion, "rounding")


@given(inclusion=permittivities, host=permittivities)
@pytest.mark.parametrize("rule", MIXED)
def test_next_to_one_medium_it_is_next_to_it(rule: Rule, inclusion: float, host: float) -> None:
    """A trace of one part in 1e9 moves it by no more than Wiener's bounds let it: 250 times the trace."""
    close(rule(1e-9, inclusion, host), host, 250e-9 * host, "a trace of inclusions")
    close(rule(1 - 1e-9, inclusion, host), inclusion, 250e-9 * inclusion, "a trace of host")


@given(f=shares, permittivity=permittivities)
@pytest.mark.parametrize("rule", MIXED)
def test_alike_media_make_no_mixture(rule: Rule, f: float, permittivity: float) -> None:
    close(rule(f, permittivity, permittivity), permittivity, WITHIN * permittivity, "rounding")


@given(f=shares, inclusion=permittivities, host=permittivities)
@pytest.mark.parametrize("rule", MIXED)
def test_no_rule_leaves_the_bounds_of_wiener(rule: Rule, f: float, inclusion: float, host: float) -> None:
    low, found, high = (
        each(f, inclusion, host) for each in (wiener_lower_permittivity, rule, wiener_upper_permittivity)
    )
    assert low * (1 - WITHIN) <= found <= high * (1 + WITHIN)


@given(f=shares, inclusion=permittivities, host=permittivities)
@pytest.mark.parametrize("rule", [looyenga_permittivity, bruggeman_permittivity, maxwell_garnett_permittivity])
def test_rules_of_fields_keep_the_bounds_of_hashin_and_shtrikman(
    rule: Rule, f: float, inclusion: float, host: float
) -> None:
    low = hashin_shtrikman_lower_permittivity(f, inclusion, host)
    high = hashin_shtrikman_upper_permittivity(f, inclusion, host)
    assert low * (1 - WITHIN) <= rule(f, inclusion, host) <= high * (1 + WITHIN)


def test_the_law_of_logarithms_does_not_keep_them() -> None:
    """To the second order it loses f*(1 - f)*d**2/2, where the bounds lose a third: derived by expanding both."""
    assert lichtenecker_permittivity(0.5, 1.2, 1.0) < hashin_shtrikman_lower_permittivity(0.5, 1.2, 1.0)


@given(f=shares, less=permittivities, more=permittivities)
def test_maxwell_garnett_is_a_bound_of_hashin_and_shtrikman(f: float, less: float, more: float) -> None:
    """The lower one where the inclusions have the greater permittivity, the upper one where they have the lesser."""
    less, more = sorted((less, more))
    low, high = (float(bound(f, more, less)) for bound in BOUNDS[2:])
    close(maxwell_garnett_permittivity(f, more, less), low, WITHIN * low, "one bound by two forms")
    close(maxwell_garnett_permittivity(1 - f, less, more), high, WITHIN * high, "one bound by two forms")


@given(f=shares, inclusion=permittivities, host=permittivities)
@pytest.mark.parametrize("rule", [*RULES[:3], *BOUNDS])
def test_neither_medium_is_the_host(rule: Rule, f: float, inclusion: float, host: float) -> None:
    """Exchanged, they give the same; of the rules Maxwell Garnett's alone knows which lies around the other."""
    found = float(rule(f, inclusion, host))
    close(rule(1 - f, host, inclusion), found, WITHIN * found, "rounding")


def test_grain_has_a_value_and_a_half_width() -> None:
    """Half way between Maxwell Garnett and Looyenga, the least and the greatest there."""
    least, greatest = (float(case(f"capacitance-mix_{name}").expected) for name in ("maxwell_garnett", "looyenga"))
    close(mixture_permittivity(0.35, 5.5, 1.0), (least + greatest) / 2, 1e-8, "digits of the cases")
    close(mixture_permittivity_half_width(0.35, 5.5, 1.0), (greatest - least) / 2, 1e-8, "digits of the cases")


@given(f=shares, inclusion=permittivities, host=permittivities)
def test_the_half_width_holds_every_rule(f: float, inclusion: float, host: float) -> None:
    """And no more: the least and the greatest stand at its ends."""
    value, u = mixture_permittivity(f, inclusion, host), mixture_permittivity_half_width(f, inclusion, host)
    found = [float(rule(f, inclusion, host)) for rule in RULES]
    close([value - u, value + u], [min(found), max(found)], ROUNDED * 250, "rounding of two halves")


def test_arrays() -> None:
    share = np.array([[0.0], [0.5], [1.0]])
    found = mixture_permittivity(share, np.array([2.0, 4.0]), 1.0)
    assert np.shape(found) == (3, 2)
    close(np.asarray(found)[2], [2.0, 4.0], 1e-12, "rounding")


@pytest.mark.parametrize("rule", [*MIXED, mixture_permittivity_half_width])
@pytest.mark.parametrize(
    "wrong", [(-0.1, 5.5, 1.0), (1.1, 5.5, 1.0), (0.3, 0.9, 1.0), (0.3, 5.5, 0.9), (0.3, 251.0, 1.0)]
)
def test_shares_and_permittivities_that_cannot_be_are_refused(rule: Rule, wrong: tuple[float, float, float]) -> None:
    names = ("inclusion_share", "inclusion_permittivity", "host_permittivity")
    with pytest.raises(ValidityError):
        apply(rule, dict(zip(names, wrong, strict=True)))
