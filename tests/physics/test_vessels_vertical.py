"""Upright vessels: volume against published tanks, quadrature and another library; the level of a volume closes."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from fluids.geometry import TANK
from hypothesis import given
from hypothesis import strategies as st

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Real
from onedatum.foundation.working import apply
from onedatum.physics.vessels import (
    inside_height_m,
    shell_area_m2,
    torispherical_area_m2,
    torispherical_depth_m,
    torispherical_volume_m3,
    vertical_area_m2,
    vertical_level_m,
    vertical_volume_m3,
)
from tests.closeness import close, exact
from tests.physics.vessel_kinds import KINDS, Measures, drawn
from tests.reference import case

SEED = 20260101

every_kind = pytest.mark.parametrize("kind", KINDS.values(), ids=KINDS)


def height_of(kind: Measures) -> float:
    bottom_m = torispherical_depth_m(kind.diameter_m, kind.bottom_crown_radius_m, kind.bottom_knuckle_radius_m)
    top_m = torispherical_depth_m(kind.diameter_m, kind.top_crown_radius_m, kind.top_knuckle_radius_m)
    return inside_height_m(bottom_m, kind.shell_length_m, top_m)  # type: ignore[return-value]


def content_of(kind: Measures) -> float:
    return vertical_volume_m3(height_of(kind), *kind)  # type: ignore[return-value]


def of(kind: Measures, **more: Any) -> dict[str, Any]:
    """The measures by name, with more arguments."""
    return more | kind._asdict()


# ---------------------------------------------------------------- published and independent volumes


@pytest.mark.parametrize("identity", ["quantity-T04", "quantity-T05"])
def test_level_in_the_bottom_head(identity: str) -> None:
    tank = case(identity)
    D, f, k = tank.value("D"), tank.value("f"), tank.value("k")
    tank.check(vertical_volume_m3(tank.value("h_from_lowest_point"), D, 3.0, f * D, k * D, f * D, k * D))


@pytest.mark.parametrize("level", [1, 22, 24, 60])
def test_the_four_levels_of_a_worked_tank(level: int) -> None:
    """In inches all through, as the author works it: the functions take any one unit of length."""
    tank = case(f"quantity-jones-{level}")
    D, f, k = tank.value("D"), tank.value("f"), tank.value("k")
    tank.check(vertical_volume_m3(tank.value("h"), D, 200.0, f * D, k * D, f * D, k * D) / 231.0)


@pytest.mark.parametrize("diameter", [1600, 1750])
def test_the_receiver(diameter: int) -> None:
    tank = case(f"quantity-receiver-{diameter}")
    D, L, R, r = (tank.value(name) for name in "DLRr")
    kind = Measures(D, L, R, r, R, r)
    tank.check(1000.0 * torispherical_depth_m(D, R, r), "head_depth_mm")
    tank.check(torispherical_volume_m3(D, R, r), "head_volume_m3")
    tank.check(height_of(kind), "inside_height_m")
    tank.check(content_of(kind), "full_volume_m3")
    tank.check(vertical_volume_m3(tank.value("h"), *kind), "V_table_m3")


@pytest.mark.parametrize("name", ["receiver", "unequal heads", "two heads, no shell", "slender", "wide"])
def test_against_another_library(name: str) -> None:
    """PyPI fluids, upright tank with torispherical ends, at 41 levels."""
    kind = KINDS[name]
    D, L = kind.diameter_m, kind.shell_length_m
    peer = TANK(
        D=D, L=max(L, 1e-12 * D), horizontal=False, sideA="torispherical", sideB="torispherical",
        sideA_f=kind.bottom_crown_radius_m / D, sideA_k=kind.bottom_knuckle_radius_m / D,
        sideB_f=kind.top_crown_radius_m / D, sideB_k=kind.top_knuckle_radius_m / D,
    )  # fmt: skip
    levels_m = np.linspace(0.0, height_of(kind), 41)
    theirs = np.array([peer.V_from_h(min(level_m, peer.h_max)) for level_m in levels_m])
    close(
        vertical_volume_m3(levels_m, *kind),
        theirs,
        1e-10 * float(theirs[-1]),
        "1e-10 of the whole; accuracy of the peer",
    )


@every_kind
def test_volume_is_the_integral_of_the_area(kind: Measures) -> None:
    """Gauss-Legendre over pi r^2 in the heads, by the angle on the circles; independent of the closed forms."""
    node, weight = np.polynomial.legendre.leggauss(60)

    def head(crown: float, knuckle: float) -> float:
        ring, length = 0.5 * kind.diameter_m - knuckle, crown - knuckle
        junction = float(np.arcsin(min(ring / length, 1.0))) if length else 0.0
        total = 0.0
        for low, high, arc, centre in ((0.0, junction, crown, 0.0), (junction, 0.5 * np.pi, knuckle, ring)):
            angle = 0.5 * (low + high) + 0.5 * (high - low) * node
            r, slope = centre + arc * np.sin(angle), arc * np.sin(angle)
            total += 0.5 * (high - low) * float(np.sum(weight * np.pi * r**2 * slope))
        return total

    bottom = head(kind.bottom_crown_radius_m, kind.bottom_knuckle_radius_m)
    top = head(kind.top_crown_radius_m, kind.top_knuckle_radius_m)
    whole = bottom + np.pi / 4.0 * kind.diameter_m**2 * kind.shell_length_m + top
    close(content_of(kind), whole, 1e-12 * whole, "1e-12 of the whole")


def test_shell_area_and_height() -> None:
    close(shell_area_m2(2.0), np.pi, 1e-15, "rounding")
    exact(inside_height_m(0.25, 2.0, 0.5), 2.75)


# ---------------------------------------------------------------- surface


@every_kind
def test_area_is_the_slope_of_the_volume(kind: Measures) -> None:
    levels_m = np.linspace(0.0, height_of(kind), 402)[1:-1]
    step_m = 1e-6 * height_of(kind)
    rise = vertical_volume_m3(levels_m + step_m, *kind) - vertical_volume_m3(levels_m - step_m, *kind)
    area = vertical_area_m2(levels_m, *kind)
    close(rise / (2 * step_m), area, 1e-5 * float(np.max(area)), "difference quotient over 2e-6 of the height")


def test_area_in_each_part() -> None:
    kind = KINDS["unequal heads"]
    height_m = height_of(kind)
    exact(vertical_area_m2(0.1, *kind), torispherical_area_m2(0.1, 2.0, 1.6, 0.308))
    exact(vertical_area_m2(2.0, *kind), shell_area_m2(2.0))
    close(vertical_area_m2(height_m - 0.1, *kind), torispherical_area_m2(0.1, 2.0, 2.0, 0.12), 1e-12, "rounding")
    exact(vertical_area_m2(np.array([0.0, height_m]), *kind), [0.0, 0.0])


@every_kind
def test_volume_rises(kind: Measures) -> None:
    assert (np.diff(vertical_volume_m3(np.linspace(0.0, height_of(kind), 5001), *kind)) > 0).all()


def test_a_vessel_upside_down_holds_the_rest() -> None:
    kind = KINDS["unequal heads"]
    turned = Measures(*kind[:2], *kind[4:], *kind[2:4])
    levels_m = np.linspace(0.0, height_of(kind), 101)
    full = content_of(kind)
    both = vertical_volume_m3(levels_m, *kind) + vertical_volume_m3(height_of(kind) - levels_m, *turned)
    close(both, np.full(101, full), 1e-14 * full, "rounding")


# ---------------------------------------------------------------- the level of a volume


@every_kind
def test_the_inverse_closes(kind: Measures) -> None:
    height_m = height_of(kind)
    full = content_of(kind)
    volumes = np.concatenate([np.linspace(0.0, full, 100_000), full * np.geomspace(1e-15, 1e-3, 200)])
    volumes = np.concatenate([volumes, full - volumes[-200:]])
    levels_m = vertical_level_m(volumes, *kind)
    assert np.min(levels_m) >= 0.0
    assert np.max(levels_m) <= height_m
    close(vertical_volume_m3(levels_m, *kind), volumes, 1e-12 * full, "1e-12 of the whole, everywhere")
    exact(vertical_level_m(np.array([0.0, full]), *kind), [0.0, height_m])


@every_kind
def test_the_inverse_gives_the_level_back(kind: Measures) -> None:
    height_m = height_of(kind)
    levels_m = np.linspace(0.0, height_m, 50_001)
    area = np.asarray(vertical_area_m2(levels_m, *kind))
    wide = area > 1e-5 * np.max(area)
    back_m = vertical_level_m(vertical_volume_m3(levels_m[wide], *kind), *kind)
    close(back_m, levels_m[wide], 1e-9 * height_m, "1e-9 of the height where the surface is not vanishing")


def test_the_inverse_closes_for_random_vessels() -> None:
    kind = drawn(20_000, SEED)
    full = content_of(kind)
    share = np.random.default_rng(SEED + 1).uniform(0.0, 1.0, 20_000)
    back = vertical_volume_m3(vertical_level_m(share * full, *kind), *kind)
    close(back / full, share, 1e-12, "1e-12 of the whole, everywhere")


@given(
    D=st.floats(0.05, 20.0),
    L=st.floats(0.0, 60.0),
    crown=st.floats(0.5, 10.0),
    knuckle=st.floats(0.0, 0.5),
    share=st.floats(0.0, 1.0),
)
def test_the_inverse_closes_wherever_one_looks(D: float, L: float, crown: float, knuckle: float, share: float) -> None:
    kind = Measures(D, L, crown * D, knuckle * D, max(0.5, 0.3 * crown) * D, 0.5 * knuckle * D)
    full = content_of(kind)
    level_m = apply(vertical_level_m, of(kind, volume_m3=share * full)).value
    volume = apply(vertical_volume_m3, of(kind, level_m=level_m)).value
    close(full + volume, full + share * full, 1e-12 * full, "1e-12 of the whole, everywhere")


# ---------------------------------------------------------------- kinds of arguments, limits


def test_floats_in_float_out_and_arrays_broadcast() -> None:
    kind = KINDS["receiver"]
    for function in (vertical_volume_m3, vertical_area_m2, vertical_level_m):
        assert np.ndim(function(0.3, *kind)) == 0
        diameter_m: Real = np.array([1.6, 1.5, 1.4])
        table = np.asarray(function(np.linspace(0.1, 3.0, 7)[:, None], diameter_m, *kind[1:]))
        assert table.shape == (7, 3)
        close(table[4, 0], function(np.linspace(0.1, 3.0, 7)[4], *kind), 1e-15 * 3.0, "same sum, other loop")


@pytest.mark.parametrize("function", [vertical_volume_m3, vertical_area_m2, vertical_level_m])
def test_nan_stays_nan_and_stays_alone(function: object) -> None:
    kind = KINDS["receiver"]
    found = function(np.array([0.2, np.nan, 2.0]), *kind)  # type: ignore[operator]
    exact(np.isnan(found), [0.0, 1.0, 0.0])
    measures = Measures(np.array([1.6, np.nan, 1.6]), *kind[1:])  # type: ignore[arg-type]
    exact(np.isnan(function(0.2, *measures)), [0.0, 1.0, 0.0])  # type: ignore[operator]


def test_levels_and_volumes_outside_the_vessel() -> None:
    kind = KINDS["receiver"]
    height_m = height_of(kind)
    with pytest.raises(ValidityError, match=r"level_m must be at most 3020\.078 mm; got 3100 mm\. The level lies"):
        apply(vertical_volume_m3, of(kind, level_m=3.1))
    with pytest.raises(ValidityError, match="The volume fits into the vessel") as caught:
        apply(vertical_level_m, of(kind, volume_m3=5.7))
    assert caught.value.parameter == "volume_m3"
    applied = apply(vertical_area_m2, of(kind, level_m=np.array([-0.1, 0.0, height_m, height_m + 1e-9])))
    assert applied.outside == 2
    exact(np.isnan(applied.value), [1.0, 0.0, 0.0, 1.0])


@pytest.mark.parametrize(
    ("changed", "parameter"),
    [
        ({"bottom_knuckle_radius_m": 0.9}, "bottom_knuckle_radius_m"),
        ({"top_knuckle_radius_m": 1.7}, "top_knuckle_radius_m"),
        ({"bottom_crown_radius_m": 0.7}, "bottom_crown_radius_m"),
        ({"top_crown_radius_m": 17.0}, "top_crown_radius_m"),
        ({"shell_length_m": -0.1}, "shell_length_m"),
    ],
)
def test_what_is_no_vessel_is_refused(changed: dict[str, float], parameter: str) -> None:
    given_measures = of(KINDS["receiver"]._replace(**changed), level_m=0.1)
    with pytest.raises(ValidityError) as caught:
        apply(vertical_volume_m3, given_measures)
    assert caught.value.parameter == parameter
