"""From the tape to the inside radius, against many digits, a taut string, worked cases and limits."""

from __future__ import annotations

from collections.abc import Callable

import mpmath
import numpy as np
import pytest
from scipy.spatial import ConvexHull

from onedatum import data
from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Real, Reals
from onedatum.foundation.sources import citation
from onedatum.foundation.working import apply
from onedatum.physics.vessels.strapping import (
    circumference_m,
    inside_radius_m,
    lean_factor,
    section_difference,
    tape_rise_m,
    tape_rise_short_m,
    volume_uncertainty_of_radius,
)
from tests.closeness import close, exact, printed
from tests.reference import case

ZERO_K = 273.15
MM = 1e-3


# ---------------------------------------------------------------- tape and shell


def test_circumference_worked_by_hand() -> None:
    given = case("quantity-tape")
    tape = given.value("alpha_t"), given.value("T_t") + ZERO_K, given.value("T_t0") + ZERO_K
    shell = given.value("alpha_s"), given.value("T_s") + ZERO_K, given.value("T_ref") + ZERO_K
    given.check(circumference_m(given.value("reading"), given.value("tape_error"), *tape, *shell))


@pytest.mark.parametrize("error", [-2e-4, 0.0, 3e-4])
def test_a_tape_laid_around_a_warm_shell_is_read_back(error: float) -> None:
    """The shell grows, the marks of the tape move apart, their number around the shell is read."""
    shell_m, tape_K, shell_K = 62.9, 301.0, 318.0
    around_m = shell_m * (1 + 16e-6 * (shell_K - 288.15))
    apart_m = (1 + error) * (1 + 11.5e-6 * (tape_K - 293.15))
    found = circumference_m(around_m / apart_m, error, 11.5e-6, tape_K, 293.15, 16e-6, shell_K, 288.15)
    close(found, shell_m, 1e-13, "rounding")


def test_steel_on_steel_at_one_temperature_only_the_references_count() -> None:
    """Law: dividing out leaves 1 - alpha (T_t0 - T_ref), to second order alpha**2 dT (T_t0 - T_ref)."""
    steel, common_K = 11.5e-6, np.array([263.15, 283.15, 303.15, 323.15])
    found = circumference_m(60.0, 0.0, steel, common_K, 293.15, steel, common_K, 288.15)
    wanted = np.full(4, 60.0 * (1 - steel * 5.0))
    close(found, wanted, 60.0 * steel**2 * 40.0 * 5.0, "second order over 40 K and 5 K")


# ---------------------------------------------------------------- rise of the tape


def rise_in_many_digits(count: int, height: float, width: float, radius: float) -> float:
    """2 [sqrt((R+t)**2 - R**2) - R acos(R/(R+t))] + w t/R for each obstruction, at 30 digits."""
    with mpmath.workdps(30):
        t, w, R = mpmath.mpf(height), mpmath.mpf(width), mpmath.mpf(radius)
        tangents = 2 * (mpmath.sqrt((R + t) ** 2 - R**2) - R * mpmath.acos(R / (R + t)))
        return float(count * (tangents + w * t / R))


@pytest.mark.parametrize(("identity", "rise"), [("quantity-C02a", tape_rise_m), ("quantity-C02b", tape_rise_short_m)])
def test_rise_over_a_butt_strap(identity: str, rise: Callable[..., Real]) -> None:
    given = case(identity)
    height_m, width_m = given.value("t") * MM, given.value("w") * MM
    given.check(rise(given.value("N"), height_m, width_m, given.value("D")))


@pytest.mark.parametrize("radius", [0.5, 1.0, 3.0, 10.0, 50.0])
@pytest.mark.parametrize("width", [0.0, 0.2])
def test_rise_against_many_digits(radius: float, width: float) -> None:
    heights = np.array([1.0, 2.0, 8.0, 15.0, 30.0]) * MM
    wanted = [rise_in_many_digits(1, t, width, radius) for t in heights]
    found = np.asarray(tape_rise_m(1, heights, width, 2 * radius))
    for one, other in zip(found, wanted, strict=True):
        close(one, other, 2e-15 * other, "some units in the last place")


def test_rise_of_the_slightest_and_of_the_largest_height() -> None:
    """A hair of 10 um on 50 m, where the equation as written has lost half its digits; and the limit t = D/8."""
    for height, radius in ((1e-5, 50.0), (0.05, 0.2)):
        wanted = rise_in_many_digits(1, height, 0.0, radius)
        close(tape_rise_m(1, height, 0.0, 2 * radius), wanted, 3e-15 * wanted, "some units in the last place")


def perimeter_m(points: Reals) -> float:
    """Length of a string drawn taut around points of a plane."""
    corners = points[ConvexHull(points).vertices]
    return float(np.sum(np.hypot(*(np.roll(corners, -1, axis=0) - corners).T)))


@pytest.mark.parametrize(("count", "height", "width"), [(1, 0.03, 0.2), (3, 0.03, 0.2), (4, 0.02, 0.0)])
def test_rise_is_what_a_taut_string_needs_more(count: int, height: float, width: float) -> None:
    """Independent of any tangent formula: convex hull of the circle and of the outer faces of its straps."""
    radius, angles = 1.0, np.linspace(0.0, 2 * np.pi, 20001)[:-1]
    circle = radius * np.column_stack([np.cos(angles), np.sin(angles)])
    half = width / (2 * radius)
    faces = (2 * np.pi * np.arange(count)[:, None] / count + np.linspace(-half, half, 2001)).ravel()
    straps = (radius + height) * np.column_stack([np.cos(faces), np.sin(faces)])
    more_m = perimeter_m(np.vstack([circle, straps])) - perimeter_m(circle)
    close(tape_rise_m(count, height, width, 2 * radius), more_m, 1e-6, "corners of the polygon, 0.3 mm apart")


def test_no_height_no_rise() -> None:
    exact(tape_rise_m(8, 0.0, np.array([0.0, 0.2]), 20.0), [0.0, 0.0])
    exact(tape_rise_short_m(8, 0.0, np.array([0.0, 0.2]), 20.0), [0.0, 0.0])


@pytest.mark.parametrize("share", [1e-4, 1e-3, 1e-2])
def test_the_short_form_is_above_the_exact_one_by_nine_tenths_of_the_share(share: float) -> None:
    """Law: s - arctan s with s = 2 sqrt(x (1+x)) is 8/3 x**1.5 (1 - 0.9 x + ...)."""
    more = tape_rise_short_m(1, share * 4.0, 0.0, 4.0) / tape_rise_m(1, share * 4.0, 0.0, 4.0) - 1
    close(more, 0.9 * share, 0.02 * 0.9 * share, "next order, about the share itself")


def test_lap_joint() -> None:
    """Usual form (4Nt/3) sqrt(t/(2d)), from memory of API MPMS 2.2A; one step of the whole plate is sqrt(2) of it."""
    plate, diameter = 0.008, 20.0
    half = tape_rise_short_m(6, plate / 2, 0.0, diameter)
    close(half, 4 * 6 * plate / 3 * (plate / (2 * diameter)) ** 0.5, 1e-17, "rounding")
    step = rise_in_many_digits(6, plate, 0.0, diameter / 2) / 2
    close(step / half, 2**0.5, 1e-3, "the short form, 0.9 t/d")


def test_straps_that_the_tape_spans_together_are_refused() -> None:
    given = {"height_m": 0.03, "width_m": 0.2, "diameter_m": 2.0}
    side_by_side = apply(tape_rise_m, given | {"obstructions": 9.0}).value
    close(side_by_side, rise_in_many_digits(9, 0.03, 0.2, 1.0), 1e-15, "rounding")
    with pytest.raises(ValidityError, match="touches the plate between two obstructions"):
        apply(tape_rise_m, given | {"obstructions": 10.0})
    with pytest.raises(ValidityError, match="obstructions must be such that"):
        apply(tape_rise_m, given | {"obstructions": 30.0, "width_m": 0.0})


# ---------------------------------------------------------------- radius


def test_inside_radius() -> None:
    given = case("quantity-C01")
    given.check(inside_radius_m(given.value("C"), given.value("t_plate") * MM, given.value("t_paint") * MM))


def test_a_wall_thicker_than_the_radius_is_refused() -> None:
    with pytest.raises(ValidityError, match="thinner than the outside radius"):
        apply(inside_radius_m, {"circumference_m": 1.0, "plate_m": 0.16, "paint_m": 0.0})


@pytest.mark.parametrize(("radius", "share"), [(1.0, "0.20"), (10.0, "0.020")])
def test_one_millimetre_of_radius(radius: float, share: str) -> None:
    """dV/V = 2 dr/r: 1 mm is 0.2 % of a tank of 1 m radius, 0.02 % of one of 10 m."""
    assert 100 * volume_uncertainty_of_radius(MM, radius) == printed(share)
    assert 100 * section_difference(radius + MM, radius) == printed(share)


def test_uncertainty_of_the_volume_against_drawn_radii() -> None:
    """Monte Carlo, 400 000 radii: the spread of pi r**2 over its mean."""
    radii = 10.0 + 0.05 * np.random.default_rng(7507).standard_normal(400_000)
    sections = np.pi * radii**2
    spread = float(np.std(sections) / np.mean(sections))
    close(volume_uncertainty_of_radius(0.05, 10.0), spread, 0.005 * spread, "four times 1/sqrt(2n), 0.0011 of it")


def test_section_against_the_drawing() -> None:
    """Sections of two circles by their polygons of 100 000 corners."""
    angles = np.linspace(0.0, 2 * np.pi, 100_001)
    strapped, drawn = (
        np.trapezoid(r * np.cos(angles), r * np.sin(angles)) for r in (np.float64(10.0046), np.float64(10.0))
    )
    close(section_difference(10.0046, 10.0), strapped / drawn - 1, 1e-9, "rounding of two sections")
    exact(section_difference(10.0, 10.0), 0.0)
    with pytest.raises(ValidityError, match="different tanks"):
        apply(section_difference, {"strapped_radius_m": 5.0, "drawn_radius_m": 10.0})


# ---------------------------------------------------------------- lean


def test_lean() -> None:
    given = case("quantity-C05")
    given.check(100 * (lean_factor(given.value("m")) - 1))
    assert 100 * (lean_factor(0.03) - 1) == printed("0.045")
    exact(lean_factor(0.0), 1.0)


def test_lean_is_the_growth_of_the_horizontal_section() -> None:
    """The wall of a cylinder that leans along x, cut at one height: points on it, their polygon, over pi r**2."""
    lean, angles = 0.03, np.linspace(0.0, 2 * np.pi, 100_001)
    tilt = np.arctan(lean)
    along = np.tan(tilt) * np.cos(angles)
    x, y = np.cos(angles) * np.cos(tilt) + along * np.sin(tilt), np.sin(angles)
    heights = -np.cos(angles) * np.sin(tilt) + along * np.cos(tilt)
    assert np.max(np.abs(heights)) < 1e-15
    close(lean_factor(lean), np.trapezoid(x, y) / np.pi, 1e-8, "100 000 corners")


def test_more_lean_than_the_standard_takes_is_refused() -> None:
    with pytest.raises(ValidityError, match=r"ISO 7507-1:2003.*scope"):
        apply(lean_factor, {"lean": 0.031})


# ---------------------------------------------------------------- limits for tables


def test_every_limit_names_its_document_and_carries_the_tag_of_its_source() -> None:
    table = data.table("table_limits.json")
    rows = [*table["limits"], *table["smallest_heights"], *table["reverification"]]
    for row in rows:
        source = citation(row["source"]).source
        assert row["tag"] == source.tag
        assert row["country"] and row["document"] and row["tank"]
        assert ("historic" in row["note"]) == (row["document"] == "Eichordnung 1988")
    assert {row["document"] for row in rows if row["tag"] == "from memory"} == {"OIML R 71"}


def test_limits_are_shares_and_loosen_in_service() -> None:
    rows = data.table("table_limits.json")["limits"]
    assert all(0 < row["limit"] <= 0.01 and row["basis"] for row in rows)
    places = {(row["country"], row["document"], row["tank"]) for row in rows}
    for place in places:
        stages = {r["stage"]: r["limit"] for r in rows if (r["country"], r["document"], r["tank"]) == place}
        assert len(stages) == sum((r["country"], r["document"], r["tank"]) == place for r in rows)
        assert stages.get("first verification", 0.0) <= stages.get("in service", 1.0)


@pytest.mark.parametrize(("tank", "limit"), [("upright", 0.003), ("any other", 0.005)])
def test_french_limits_as_printed(tank: str, limit: float) -> None:
    """Arrêté of 16 April 1999, new article 20 of that of 20 June 1996: 0,3 % upright cylinders, 0,5 % others."""
    rows = [r for r in data.table("table_limits.json")["limits"] if r["source"] == "fr-arrete-1996-06-20"]
    (row,) = [r for r in rows if r["tank"].startswith(tank)]
    exact(row["limit"], limit)
