"""The search of float dimensions: what it chooses serves, and a step smaller does not."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from scipy.special import roots_legendre

from onedatum.foundation.errors import QuantityError
from onedatum.physics.floats import (
    BALL,
    CYLINDER,
    ERROR,
    FLOATING,
    PRESSURE,
    RING,
    Candidate,
    Chosen,
    Limits,
    Making,
    Wanted,
    best_floats,
    bored_sphere_immersion_m,
    cylinder_immersion_m,
    ring_immersion_m,
)
from tests.closeness import close

STEEL, WALL, END, BORE, MAGNET, G = 7900.0, 0.0004, 0.001, 0.016, 0.010, 9.80665
MAKING = Making(CYLINDER, WALL, END, BORE, MAGNET, STEEL, 193e9, 0.3, 170e6, 0.14, 1.0, 3.0, 1.5)
WANTED = Wanted(np.array([780.0, 820.0, 850.0]), np.array([1.2, 5.0, 1.2]), np.array([5.0, 3.0, 5.0]), 0.002, G, 0.3)
LIMITS = Limits(0.9, 0.0018, 3e5)
DIAMETERS, HEIGHTS = np.arange(0.040, 0.0801, 0.002), np.arange(0.012, 0.0721, 0.004)
each_form = pytest.mark.parametrize("form", [CYLINDER, BALL, RING])


def chosen(making: Making = MAKING, wanted: Wanted = WANTED, limits: Limits = LIMITS) -> Chosen:
    return best_floats(making, wanted, limits, DIAMETERS, HEIGHTS)


# ---------------------------------------------------------------- the same in plain Python, one float at a time


def cylinder_walls(d: float, h: float) -> tuple[float, float]:
    """Volume and mass, wall by wall: two discs, a jacket and a tube between them."""
    ring = np.pi / 4 * (d**2 - BORE**2)
    jacket = np.pi * (d - WALL) * WALL * (h - 2 * END)
    tube = np.pi * (BORE + WALL) * WALL * (h - 2 * END)
    return ring * h, STEEL * (2 * ring * END + jacket + tube) + MAGNET


@cache
def nodes() -> tuple[np.ndarray, np.ndarray]:
    """Places and weights of 2000 slices between -1 and 1."""
    at, weight = roots_legendre(2000)
    return at, weight


def ball_walls(d: float, _: float) -> tuple[float, float]:
    """Volume and mass by slices across the stem, outer ball less hollow."""
    half = np.sqrt(d**2 - BORE**2) / 2
    z, weight = (part * half for part in nodes())
    outer = np.pi * ((d / 2) ** 2 - z**2 - (BORE / 2) ** 2)
    hollow = np.pi * np.maximum((d / 2 - WALL) ** 2 - z**2 - (BORE / 2 + WALL) ** 2, 0.0)
    return float(weight @ outer), STEEL * float(weight @ (outer - hollow)) + MAGNET


def ring_walls(d: float, h: float) -> tuple[float, float]:
    """Volume and mass: the circle of the tube, and its wall, carried around the stem."""
    around = np.pi * (d - h)
    return around * np.pi * h**2 / 4, STEEL * around * np.pi * (h - WALL) * WALL + MAGNET


def sits_m(form: str, mass: float, d: float, h: float, liquid: float, gas: float) -> float:
    if form == BALL:
        volume = np.pi / 6 * h**3
        return float(bored_sphere_immersion_m(mass, volume, h, liquid, gas))
    if form == RING:
        return float(ring_immersion_m(mass, h / 2, (d - h) / 2, liquid, gas))
    return float(cylinder_immersion_m(mass, np.pi / 4 * (d**2 - BORE**2), h, liquid, gas))


WALLS: dict[str, Callable[[float, float], tuple[float, float]]] = {
    CYLINDER: cylinder_walls,
    BALL: ball_walls,
    RING: ring_walls,
}


def by_hand(form: str, d: float, h: float, wanted: Wanted = WANTED) -> tuple[float, float, float]:
    """Mass, worst ratio and worst error of one float: state by state, slopes by differences of where it rides."""
    volume, mass = WALLS[form](d, h)
    states = list(zip(wanted.liquid_densities_kg_per_m3, wanted.gas_densities_kg_per_m3, strict=True))
    ratio = max((mass / volume - gas) / (liquid - gas) for liquid, gas in states)
    if ratio >= 1:
        return mass, ratio, np.inf
    errors, rides = [], []
    for (liquid, gas), half_width in zip(states, wanted.density_half_widths_kg_per_m3, strict=True):
        lighter, denser = (sits_m(form, mass, d, h, liquid + step, gas) for step in (-0.005, 0.005))
        lifted, loaded = (sits_m(form, mass + step, d, h, liquid, gas) for step in (-1e-7, 1e-7))
        per_force = (loaded - lifted) / (2e-7 * G)
        errors.append(half_width * (lighter - denser) / 0.01 + wanted.friction_N * per_force)
        rides.append(sits_m(form, mass, d, h, liquid, gas))
    return mass, ratio, max(errors) + wanted.spread_left * (max(rides) - min(rides))


def all_by_hand(form: str) -> set[tuple[float, float]]:
    """Every pair of the grid that has room, floats and keeps the error."""
    found = set()
    for d in DIAMETERS:
        for h in [np.sqrt(d**2 - BORE**2)] if form == BALL else HEIGHTS:
            if form == RING and d - 2 * h < BORE:
                continue
            _, ratio, error = by_hand(form, float(d), float(h))
            if ratio <= LIMITS.largest_ratio and error <= LIMITS.allowed_error_m:
                found.add((round(float(d), 6), round(float(h), 6)))
    return found


# ---------------------------------------------------------------- what serves


@each_form
def test_every_candidate_by_hand(form: str) -> None:
    """Plain loops over the grid, mass wall by wall, slopes by differences: the same floats serve."""
    found = chosen(replace(MAKING, form=form), limits=replace(LIMITS, pressure_difference_Pa=0.0))
    serving = {(round(each.diameter_m, 6), round(each.height_m, 6)) for each in found.serving}
    assert serving == all_by_hand(form)
    assert 0 < len(serving) < found.tried


@each_form
def test_numbers_of_the_best_by_hand(form: str) -> None:
    best = chosen(replace(MAKING, form=form)).best
    assert best is not None
    mass, ratio, error = by_hand(form, best.diameter_m, best.height_m)
    close(best.mass_kg, mass, 1e-6 * mass, "walls and magnet; 2000 slices where it is a ball")
    close(best.ratio, ratio, 1e-6 * ratio, "worst state")
    close(best.error_m, error, 1e-4 * error, "differences of 0.01 kg/m3 and 0.2 mg")


@each_form
def test_a_step_smaller_does_not_serve(form: str) -> None:
    """Neither a smaller diameter at any height, nor a lower one of the same diameter."""
    making = replace(MAKING, form=form)
    best = chosen(making).best
    assert best is not None and best.diameter_m > DIAMETERS[0]
    narrower = best_floats(making, WANTED, LIMITS, DIAMETERS[best.diameter_m - 1e-9 > DIAMETERS], HEIGHTS)
    assert narrower.best is None and narrower.tried > 0
    assert narrower.most_refusing in (FLOATING, ERROR, PRESSURE)
    lower = best_floats(making, WANTED, LIMITS, best.diameter_m, HEIGHTS[best.height_m - 1e-9 > HEIGHTS])
    assert form == BALL or lower.best is None


def test_what_serves_is_in_the_order_of_size() -> None:
    """Also from a grid that is given the wrong way round."""
    found = best_floats(MAKING, WANTED, LIMITS, DIAMETERS[::-1], HEIGHTS[::-1])
    sizes = [(each.diameter_m, each.height_m) for each in found.serving]
    assert sizes == sorted(sizes) and len(set(sizes)) == len(sizes)
    assert all(not each.misses for each in found.serving)
    assert found == chosen()


# ---------------------------------------------------------------- the walls


def allowed_bar(making: Making, diameter: float, height: float) -> float:
    (only,) = best_floats(making, WANTED, replace(LIMITS, pressure_difference_Pa=0.0), diameter, height).serving or (
        best_floats(making, WANTED, LIMITS, diameter, height).nearest,
    )
    assert only is not None
    return only.allowed_difference_Pa / 1e5


def test_flat_ends_decide_the_pressure_of_a_cylinder() -> None:
    """Ends of 1 mm over a span of 16 mm as a strip held at both rims, 0.5 p (b/t)^2: 13.3 bar over 1.5.

    At the tube, the short rim of the two, the ring is bent more: it bears less than the strip. Its stress goes with
    the square of its thickness.
    """
    strip = 170e6 / (0.5 * (0.016 / END) ** 2) / 1.5 / 1e5
    found = allowed_bar(MAKING, 0.050, 0.040)
    assert 0.6 * strip < found < strip
    close(allowed_bar(replace(MAKING, end_wall_m=1.25 * END), 0.050, 0.040), 1.5625 * found, 1e-9, "t^2")


def test_walls_of_a_ball_and_a_ring_by_their_formulas() -> None:
    """A ball of 80 mm: 0.14 of 2 E/sqrt(3 (1 - nu^2)) (t/R)^2 over 3; a ring: 2 E/(1 - nu^2) (t/d)^3 over 3."""
    thin = 0.14 / 3 * 2 * 193e9 / np.sqrt(3 * 0.91) * (WALL / 0.0398) ** 2 / 1e5
    close(allowed_bar(replace(MAKING, form=BALL), 0.080, 0.0), thin, 1e-9, "by hand")
    tube = 2 * 193e9 / 0.91 * (WALL / 0.0236) ** 3 / 3 / 1e5
    close(allowed_bar(replace(MAKING, form=RING), 0.080, 0.024), tube, 1e-9, "by hand")


def test_the_tube_of_the_bore_decides_where_the_rest_is_strong() -> None:
    """A wide bore in a soft wall: the tube yields by Lame before the small ball does."""
    making = replace(MAKING, form=BALL, bore_m=0.030, yield_Pa=10e6)
    tube = 10e6 * (0.0154**2 - 0.015**2) / (0.0154**2 + 0.015**2) / 1.5 / 1e5
    close(allowed_bar(making, 0.040, 0.0), tube, 1e-9, "by hand")


# ---------------------------------------------------------------- where nothing serves


@pytest.mark.parametrize(
    ("wanted", "limits", "limit"),
    [
        (WANTED, replace(LIMITS, allowed_error_m=1e-6), ERROR),
        (WANTED, replace(LIMITS, pressure_difference_Pa=50e5), PRESSURE),
        (replace(WANTED, liquid_densities_kg_per_m3=np.array([300.0, 820.0, 850.0])), LIMITS, FLOATING),
    ],
)
def test_where_nothing_serves_the_limit_is_named(wanted: Wanted, limits: Limits, limit: str) -> None:
    found = chosen(wanted=wanted, limits=limits)
    assert found.best is None and found.nearest is not None
    assert limit in found.nearest.misses
    assert found.refused[limit] == found.tried
    assert found.refused[found.most_refusing] == max(found.refused.values())


def test_the_nearest_misses_its_worst_limit_by_least() -> None:
    """Each candidate tried alone: none comes nearer to what is asked."""
    limits = replace(LIMITS, pressure_difference_Pa=20e5)

    def excess(each: Candidate) -> float:
        return max(each.ratio / 0.9, each.error_m / 0.0018, 20e5 / each.allowed_difference_Pa)

    nearest = chosen(limits=limits).nearest
    assert nearest is not None and nearest.binding == PRESSURE
    alone = [best_floats(MAKING, WANTED, limits, d, h).nearest for d in DIAMETERS for h in HEIGHTS]
    close(excess(nearest), min(excess(each) for each in alone if each), 1e-12, "the same numbers")


def test_a_float_that_the_gas_lifts_does_not_serve() -> None:
    """A hollow float of some 500 kg/m3 between two liquids of which the upper is denser: in all states, or in one."""
    wanted = replace(WANTED, gas_densities_kg_per_m3=np.full(3, 700.0))
    found = best_floats(MAKING, wanted, replace(LIMITS, allowed_error_m=1.0), 0.080, 0.072)
    assert found.nearest is not None
    assert found.nearest.ratio < 0
    assert set(found.nearest.misses) >= {FLOATING, ERROR}
    once = replace(WANTED, gas_densities_kg_per_m3=np.array([1.2, 700.0, 1.2]))
    lifted = best_floats(MAKING, once, replace(LIMITS, allowed_error_m=1.0), 0.080, 0.072).nearest
    assert lifted is not None and lifted.ratio > 0
    assert set(lifted.misses) >= {FLOATING, ERROR}


@pytest.mark.parametrize(("form", "diameter"), [(CYLINDER, 0.0175), (BALL, 0.017), (RING, 0.039)])
def test_a_float_without_room_for_bore_and_walls_is_not_tried(form: str, diameter: float) -> None:
    found = best_floats(replace(MAKING, form=form), WANTED, LIMITS, diameter, 0.012)
    assert (found.tried, found.nearest, found.best, found.most_refusing) == (0, None, None, "")


def test_an_unknown_form_is_refused() -> None:
    with pytest.raises(QuantityError, match="ring"):
        chosen(replace(MAKING, form="cone"))


def test_a_harder_duty_never_lets_more_floats_serve() -> None:
    """Monotony: more friction, less known density, a lighter liquid, less correction, more pressure, less error."""
    easy = {(each.diameter_m, each.height_m) for each in chosen().serving}
    harder = [
        chosen(wanted=replace(WANTED, friction_N=0.004)),
        chosen(wanted=replace(WANTED, density_half_widths_kg_per_m3=np.full(3, 8.0))),
        chosen(wanted=replace(WANTED, liquid_densities_kg_per_m3=np.array([700.0, 820.0, 850.0]))),
        chosen(wanted=replace(WANTED, spread_left=0.6)),
        chosen(limits=replace(LIMITS, pressure_difference_Pa=5e5)),
        chosen(limits=replace(LIMITS, allowed_error_m=0.0012)),
        chosen(limits=replace(LIMITS, largest_ratio=0.7)),
    ]
    for found in harder:
        serving = {(each.diameter_m, each.height_m) for each in found.serving}
        assert serving < easy


def test_a_dense_grid_is_worked_at_once() -> None:
    """12 000 floats: every one of the coarse grid is there, with the same numbers."""
    fine = best_floats(MAKING, WANTED, LIMITS, np.arange(0.040, 0.0801, 0.0004), np.arange(0.012, 0.0721, 0.0005))
    assert fine.tried > 10_000
    known = {(round(each.diameter_m, 6), round(each.height_m, 6)): each for each in fine.serving}
    for each in chosen().serving:
        close(known[round(each.diameter_m, 6), round(each.height_m, 6)].error_m, each.error_m, 1e-12, "rounding")
