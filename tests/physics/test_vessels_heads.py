"""Torispherical heads against published volumes, quadrature in many digits and the shapes they turn into."""

from __future__ import annotations

from typing import Any

import mpmath
import numpy as np
import pytest

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Real
from onedatum.foundation.working import apply
from onedatum.physics.vessels import (
    torispherical_area_m2,
    torispherical_depth_m,
    torispherical_volume_below_m3,
    torispherical_volume_m3,
)
from tests.closeness import close, exact
from tests.reference import case

HEADS = [
    (2.0, 2.0, 0.2),
    (2.0, 1.6, 0.308),
    (2.0, 2.0, 0.12),
    (2.0, 1.0, 0.3),
    (2.0, 1.0, 1.0),
    (2.0, 3.0, 1.0),
    (2.0, 3.0, 0.0),
    (10.0, 100.0, 0.05),
]


def test_depth_of_a_kloepper_head() -> None:
    given = case("quantity-T06")
    given.check(torispherical_depth_m(1.0, given.value("f"), given.value("k")))


@pytest.mark.parametrize("identity", ["quantity-T07", "quantity-T08"])
def test_full_volume(identity: str) -> None:
    given = case(identity)
    given.check(torispherical_volume_m3(1.0, given.value("f"), given.value("k")))


@pytest.mark.parametrize("head", ["kloepper", "korbbogen", "asme-fd"])
def test_depth_and_volume_of_the_usual_heads(head: str) -> None:
    given = case(f"quantity-head-{head}")
    given.check(torispherical_depth_m(1.0, given.value("f"), given.value("k")), "depth")
    given.check(torispherical_volume_m3(1.0, given.value("f"), given.value("k")), "volume")


@pytest.mark.parametrize("identity", ["quantity-T04", "quantity-T05"])
def test_volume_below_a_height(identity: str) -> None:
    given = case(identity)
    D, f, k = given.value("D"), given.value("f"), given.value("k")
    given.check(torispherical_volume_below_m3(given.value("h_from_lowest_point"), D, f * D, k * D))


def radius(y: Any, D: float, crown: float, knuckle: float) -> Any:
    """Inside radius at a height, by the circle equations alone, in mpmath's digits."""
    ring, length = mpmath.mpf(D) / 2 - knuckle, mpmath.mpf(crown) - knuckle
    rise = mpmath.sqrt(length**2 - ring**2)
    junction = crown - crown * rise / length if length else mpmath.mpf(0)
    if y <= junction:
        return mpmath.sqrt(crown**2 - (crown - y) ** 2)
    return ring + mpmath.sqrt(knuckle**2 - (crown - rise - y) ** 2)


def volume_by_quadrature(y: float, D: float, crown: float, knuckle: float) -> float:
    """pi r^2 integrated up to a height, parted at the junction of crown and knuckle."""
    with mpmath.workdps(40):
        ring, length = mpmath.mpf(D) / 2 - knuckle, mpmath.mpf(crown) - knuckle
        junction = crown - crown * mpmath.sqrt(length**2 - ring**2) / length if length else mpmath.mpf(0)
        stops = [mpmath.mpf(0), *([junction] if 0 < junction < y else []), mpmath.mpf(y)]
        return float(mpmath.quad(lambda z: mpmath.pi * radius(z, D, crown, knuckle) ** 2, stops))


@pytest.mark.parametrize("head", HEADS)
@pytest.mark.parametrize("share", [0.03, 0.4, 0.8, 0.97])
def test_volume_against_quadrature(head: tuple[float, float, float], share: float) -> None:
    full = float(torispherical_volume_m3(*head))
    height_m = share * float(torispherical_depth_m(*head))
    below = torispherical_volume_below_m3(height_m, *head)
    close(below, volume_by_quadrature(height_m, *head), 1e-12 * full, "1e-12 of the whole head, rounding")


@pytest.mark.parametrize("head", HEADS)
def test_area_is_the_slope_of_the_volume(head: tuple[float, float, float]) -> None:
    depth_m = float(torispherical_depth_m(*head))
    for share in (0.05, 0.5, 0.95):
        with mpmath.workdps(30):
            wanted = float(mpmath.pi * radius(mpmath.mpf(share) * depth_m, *head) ** 2)
        close(torispherical_area_m2(share * depth_m, *head), wanted, 1e-11 * wanted, "rounding")
        step_m = 1e-5 * depth_m
        above, below = (torispherical_volume_below_m3(share * depth_m + s, *head) for s in (step_m, -step_m))
        close((above - below) / (2 * step_m), wanted, 1e-6 * wanted, "difference quotient over 2e-5 of the depth")


@pytest.mark.parametrize("head", HEADS)
def test_ends_and_rise(head: tuple[float, float, float]) -> None:
    depth_m = float(torispherical_depth_m(*head))
    exact(torispherical_volume_below_m3(0.0, *head), 0.0)
    exact(torispherical_area_m2(0.0, *head), 0.0)
    exact(torispherical_volume_below_m3(depth_m, *head), torispherical_volume_m3(*head))
    rising = torispherical_volume_below_m3(np.linspace(0.0, depth_m, 2001), *head)
    assert np.all(np.diff(rising) > 0)


@pytest.mark.parametrize("head", [(2.0, 1.0, 0.0), (2.0, 1.0, 0.3), (2.0, 1.0, 1.0), (2.0, 7.0, 1.0)])
def test_hemisphere(head: tuple[float, float, float]) -> None:
    close(torispherical_depth_m(*head), 1.0, 1e-15, "rounding")
    close(torispherical_volume_m3(*head), 2.0 / 3.0 * np.pi, 1e-14, "rounding")
    close(torispherical_volume_below_m3(0.4, *head), np.pi * 0.4**2 * (1.0 - 0.4 / 3.0), 1e-14, "rounding; sphere")


def test_sharp_edged_cap() -> None:
    """Without a knuckle the head is a spherical cap: V = pi a (3 c^2 + a^2)/6, with c its rim radius."""
    depth_m = float(torispherical_depth_m(2.0, 1.25, 0.0))
    close(depth_m, 0.5, 1e-15, "1.25 - sqrt(1.25^2 - 1) = 0.5")
    close(torispherical_volume_m3(2.0, 1.25, 0.0), np.pi * 0.5 * (3.0 + 0.25) / 6.0, 1e-14, "rounding")


@pytest.mark.parametrize(
    ("head", "parameter", "why"),
    [
        ((2.0, 1.5, 1.6), "knuckle_radius_m", "no torispherical head"),
        ((2.0, 3.0, 1.1), "knuckle_radius_m", "does not fit into the shell"),
        ((2.0, 0.9, 0.1), "crown_radius_m", "does not span the shell"),
        ((2.0, 21.0, 0.1), "crown_radius_m", "flat end"),
        ((0.0, 1.0, 0.1), "diameter_m", "above 0 mm"),
    ],
)
def test_what_is_no_head_is_refused(head: tuple[float, float, float], parameter: str, why: str) -> None:
    given = dict(zip(("diameter_m", "crown_radius_m", "knuckle_radius_m"), head, strict=True))
    for function in (torispherical_depth_m, torispherical_volume_m3):
        with pytest.raises(ValidityError, match=why) as caught:
            apply(function, given)
        assert caught.value.parameter == parameter


def test_heights_outside_the_head() -> None:
    given: dict[str, Real] = {"diameter_m": 2.0, "crown_radius_m": 2.0, "knuckle_radius_m": 0.2}
    with pytest.raises(ValidityError, match="The height lies inside the head"):
        apply(torispherical_volume_below_m3, {"height_m": 0.4} | given)
    applied = apply(torispherical_area_m2, {"height_m": np.array([-0.1, 0.1, 0.4, np.nan])} | given)
    assert applied.outside == 3
    exact(np.isnan(applied.value), [1.0, 0.0, 1.0, 1.0])
