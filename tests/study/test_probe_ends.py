"""The ends of a rod of which no field is worked: open where nothing bounds them, a bound between two rods."""

from __future__ import annotations

import numpy as np
import pytest

from onedatum.foundation.numerics import Reals
from onedatum.study.result import Study
from onedatum.verdicts import Effect, Verdict
from tests.closeness import close
from tests.study.test_probe import BARE, BY_ROD, GLAND, OIL, PLASTIC, STEEL, finding, number, probe, text_of
from tests.study.test_probe_uncertainty import check

WANTED = ("wanted-level", "wanted-uncertainty")
STRIP = (BY_ROD, "{kind: earthed strip inside on the wall, strip_width: 100 mm, to_strip: 200 mm}")
NARROW_OIL = (*OIL[:1], (OIL[1][0], "2.3"), OIL[2])
"""Oil with one permittivity: its changes leave nothing beside the ends."""


def bound(study: Study) -> float:
    return number(study, "probe.ends_beside")


# ---------------------------------------------------------------- open


@pytest.mark.parametrize("key", WANTED)
def test_without_the_gland_nothing_wanted_is_decided(key: str) -> None:
    found = probe(*BARE, *STEEL, *OIL)
    assert check(found, key).verdict is Verdict.UNDECIDED
    assert "probe.gland_diameter" in check(found, key).waits_for
    assert not found.sheet["probe.level_uncertainty"].known
    assert found.measuring.left_out == "what the ends of the rod add, which is open"
    assert any(each.path == "probe.gland_diameter" for each in found.requirements)
    decided = probe(*BARE, *STEEL, *OIL, GLAND)
    assert check(decided, key).verdict is not Verdict.UNDECIDED
    assert not decided.measuring.left_out


@pytest.mark.parametrize("gland", ["unknown", "12 furlongs", "-40 mm", "3000 mm", ""])
def test_a_gland_that_cannot_be_counted_on_decides_nothing_either(gland: str) -> None:
    found = probe(*BARE, *STEEL, *OIL, (GLAND[0], GLAND[1].replace("40 mm", gland)))
    assert {check(found, key).verdict for key in WANTED} == {Verdict.UNDECIDED}


@pytest.mark.parametrize(
    ("changes", "waits_for"),
    [
        (
            ((BY_ROD, "{kind: wall of the vessel}"), (f"kind: {PLASTIC.split(': ')[1]}", "kind: unknown"), GLAND),
            "wall.kind",
        ),
        ((*STEEL, GLAND, ("shape: vertical cylinder", "shape: unknown")), "vessel.shape"),
        ((STRIP,), "probe.ends"),
        ((("kind: plastic", "kind: metal, earthed"),), "probe.ends"),
    ],
)
def test_what_is_missing_is_named(changes: tuple[tuple[str, str], ...], waits_for: str) -> None:
    """A strip, and two rods in a tank of metal: no number of the case would tell it, a trial does."""
    found = probe(*BARE, *OIL, *changes)
    level = check(found, "wanted-level")
    assert level.verdict is Verdict.UNDECIDED
    assert any(path.endswith(waits_for) for path in level.waits_for), level.waits_for


def test_a_strip_says_why_its_ends_are_not_known() -> None:
    found = probe(*BARE, *OIL, STRIP)
    said = finding(found, "probe-ends-open")
    assert said is not None
    assert said.effect is Effect.WARNING
    assert "not round" in text_of(said)
    assert any("trial at three levels" in question.title for question in found.questions)


# ---------------------------------------------------------------- between two rods


def test_the_ends_of_two_rods_count_by_a_bound_and_are_told() -> None:
    far, near = probe(*BARE, *NARROW_OIL), probe(*BARE, *NARROW_OIL, ("set_low: 150 mm", "set_low: 100 mm"))
    close(bound(far), 0.03 * 0.15, 1e-12, "levels half the distance of the rods away from tip and roof")
    close(bound(near), 0.25 * 0.15, 1e-12, "a level of the setting nearer to the tip")
    for each in (far, near):
        said = finding(each, "probe-ends-beside")
        assert said is not None
        assert said.effect is Effect.WARNING
        assert check(each, "wanted-level").verdict is not Verdict.UNDECIDED
    assert number(near, "probe.level_uncertainty") > number(far, "probe.level_uncertainty")


def test_in_a_liquid_that_conducts_the_ends_add_nothing() -> None:
    found = probe()
    assert "probe.ends_beside" not in found.sheet
    assert finding(found, "probe-ends-beside") is None
    assert finding(found, "probe-ends-open") is None


def capacitance_F(wet: int, length_m: float, rods: tuple[float, float], permittivity: float) -> float:
    """Of two rods in the open, wetted over `wet` of their pieces: line charges, each mirrored in the surface."""
    apart, radius = rods
    marks = np.linspace(0.0, length_m, int(length_m / (2 * radius)) + 1)
    low, high, middle = marks[:-1], marks[1:], (marks[:-1] + marks[1:]) / 2
    surface, below = marks[wet], np.arange(len(low)) < wet
    here, there = np.where(below, permittivity, 1.0), np.where(below, 1.0, permittivity)
    alike = below[:, None] == below[None, :]

    def seen(away: float, start: Reals, end: Reals) -> Reals:
        return np.asarray(np.arcsinh((end - middle[:, None]) / away) - np.arcsinh((start - middle[:, None]) / away))

    def potential(away: float) -> Reals:
        direct, image = seen(away, low, high), seen(away, 2 * surface - high, 2 * surface - low)
        mirrored = (direct + (here - there) / (here + there) * image) / (4 * np.pi * here)
        return np.where(alike, mirrored, 2.0 * direct / (4 * np.pi * (here + there)))

    charge = np.linalg.solve(potential(radius) - potential(apart), np.full(len(low), 0.5))
    return float(8.8541878188e-12 * charge @ (high - low))


@pytest.mark.parametrize("permittivity", [2.3, 10.0, 80.0])
@pytest.mark.parametrize("rods", [(0.15, 0.008), (0.3, 0.008), (0.15, 0.004)])
def test_the_bound_holds_against_line_charges_in_space(rods: tuple[float, float], permittivity: float) -> None:
    """Whatever two levels it is set at, and for every level between: independent method, whole rods with their ends."""
    apart, radius, length = *rods, 2.0
    pieces = int(length / (2 * radius))
    levels = np.linspace(0.0, length, pieces + 1)
    wets = np.unique(np.linspace(0, pieces, 41).round().astype(int))
    held = np.array([capacitance_F(int(wet), length, rods, permittivity) for wet in wets])
    heights, farads = levels[wets], held
    for margin, share in ((0.0, 0.25), (0.5 * apart, 0.03)):
        inside = (heights >= margin - 1e-9) & (heights <= length - margin + 1e-9)
        h, c = heights[inside], farads[inside]
        slope = (c[-1] - c[0]) / (h[-1] - h[0])
        off = np.abs((c - c[0]) / slope + h[0] - h)
        assert off.max() <= share * apart
        assert off.max() > 0.0
