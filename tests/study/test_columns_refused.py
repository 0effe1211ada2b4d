"""Chambers and legs as they cannot be: each named with its place and the remedy, the rest still stands."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from onedatum.study.result import Study
from tests.study.test_drum import CHAMBER_MEAN, drum
from tests.study.test_legs import LOWER, UPPER, tank

Change = tuple[str, str]


def faults(study: Study) -> list[str]:
    """What must be corrected, as people read it."""
    return [str(fault) for fault in study.faults]


DRUM: tuple[tuple[tuple[Change, ...], str], ...] = (
    ((("value: 150 degC, u: 5 K", "value: 260 degC, u: 5 K"),),
     "chamber_temperature.mean must be at most 251.82 degC, the boiling point under the pressure of the vessel"),
    (((CHAMBER_MEAN, "along: [{height: 0 mm, temperature: 120 degC}, {height: 300 mm, temperature: 280 degC}]"),),
     "along[1].temperature must be at most 251.82 degC"),
    ((("    pressure: 41 bar(a)", "    pressure: 230 bar(a)"),),
     "states[0].pressure must be 0.007 bar(a) to 165 bar(a); got 230 bar(a)"),
    ((("    pressure: 41 bar(a)", "    pressure: 41 bar"),),
     "A bare bar does not say what it counts from"),
    ((("  taps_apart: 700 mm\n  inside", "  upper_tap: -700 mm\n  inside"),),
     "chamber.upper_tap must be above the lower tap, 0 mm; got -700 mm"),
    (((CHAMBER_MEAN, "mean: 150 degC\n      bottom: 120 degC\n      surface: 200 degC"),),
     "chamber_temperature.mean must be left away beside the ends, or the thermometers"),
    (((CHAMBER_MEAN, "along: [{height: 300 mm, temperature: 120 degC}, {height: 0 mm, temperature: 180 degC}]"),),
     "along[1].height must be above the thermometer before it"),
    (((CHAMBER_MEAN, "along: [{height: 300 mm, temperature: 120 degC}]"),),
     "along must be two rows or more"),
    ((("  datum: lower tap", "  datum: lower tap\n  shape: sphere\n  inside_diameter: 2 m"),),
     "vessel.datum must be another datum beside a shape"),
    ((("form: ring", "form: bars on a circle"),),
     "instrument.magnet.form must be ring, for a stem outside on a chamber"),
    ((("relative_permeability: 1.02", "relative_permeability: 0.5"),),
     "chamber.relative_permeability must be"),
    ((("lower_tap: 0 mm\n  taps_apart: 700 mm\n  inside", "lower_tap: 40 mm\n  taps_apart: 700 mm\n  inside"),),
     "chamber.lower_tap must be 0 mm, or left away"),
)  # fmt: skip
LEGS: tuple[tuple[tuple[Change, ...], str], ...] = (
    ((("taps_apart: 2 m", "taps_apart: 2 m\n  measures: interface"),
      ("pressure: {op", "interface: {lower_density: 1020 kg/m3, emulsion: none}\npressure: {op"),
      ("kind: difference between two taps", "kind: one tap, against the atmosphere"),
      ("principle: differential pressure", "principle: hydrostatic pressure"), (f"  {UPPER}\n", "")),
     "legs.measures must be level, with one tap"),
    ((("taps_apart: 2 m", "taps_apart: 2 m\n  measures: interface"),
      ("pressure: {op", "interface: {lower_density: 1020 kg/m3, emulsion: none}\npressure: {op"),
      (UPPER, "upper_leg: {filling: the gas above}")),
     "legs.upper_leg.filling must be a liquid, at an interface"),
    (((LOWER, "lower_leg: {filling: liquid of stated density, density: 700 kg/m3}"),),
     "legs.lower_leg.density must be at least the density of the liquid at its tap, 850 kg/m3"),
    ((("taps_apart: 2 m", "upper_tap: -2 m"),), "legs.upper_tap must be above the lower tap, 0 mm; got -2 m"),
    ((("taps_apart: 2 m", "upper_tap: 3 m\n  taps_apart: 2 m"),), "legs.taps_apart must be the distance of the taps"),
    ((("below_lower_tap: 0.5 m", "below_lower_tap: 0.5 m\n  transmitter: 1 m"),),
     "legs.below_lower_tap must be in keeping with the height of the transmitter"),
    ((("below_lower_tap: 0.5 m", "below_lower_tap: 0.5 m\n  transmitter: lower tap"),),
     "legs.below_lower_tap must be in keeping with the height of the transmitter"),
    ((("density: 1100 kg/m3", "density: 4 kg/m3"),),
     "legs.upper_leg.density must be at least the density of the gas, 5 kg/m3 in the state normal; got 4 kg/m3"),
    ((("kind: difference between two taps", "kind: one tap, against the atmosphere"),),
     "legs.kind must be in keeping with the principle, differential pressure"),
    (((UPPER, "upper_leg: {filling: water, density: 990 kg/m3}"),),
     "legs.upper_leg.density must be left away where the leg holds water"),
    (((UPPER, "upper_leg: {filling: none}"),), "legs.upper_leg.filling must be what fills the leg"),
    ((("density: 5 kg/m3", "density: 499 kg/m3"), ("density: 850 kg/m3", "density: 400 kg/m3")),
     "medium.gas_above.density must be below 400 kg/m3"),
    ((("operating: 0.5 bar(g)", "operating: 0.5 bar"),), "A bare bar does not say what it counts from"),
    ((("taps_apart: 2 m", "taps_apart: 2 m\n  measures: depth"),),
     "legs.measures must be"),
)  # fmt: skip


@pytest.mark.parametrize(("changes", "said"), DRUM)
def test_a_drum_that_cannot_be(changes: tuple[Change, ...], said: str) -> None:
    _refused(drum, changes, said, "signal.current")


@pytest.mark.parametrize(("changes", "said"), LEGS)
def test_legs_that_cannot_be(changes: tuple[Change, ...], said: str) -> None:
    _refused(tank, changes, said, "signal.current")


def _refused(make: Callable[..., Study], changes: tuple[Change, ...], said: str, still: str) -> None:
    """The fault is told with file, line and column, once for each path; the order is blocked, the rest is worked."""
    study = make(*changes)
    told = faults(study)
    assert any(said in each for each in told), told
    assert all(":" in each.split(" ", 1)[0] for each in told)
    paths = [fault.path for fault in study.faults]
    assert len(paths) == len(set(paths))
    assert study.order == "blocked"
    assert study.value(still) is not None


def test_one_end_of_the_column_asks_for_the_other() -> None:
    found = drum((CHAMBER_MEAN, "bottom: 120 degC"))
    assert "states[0].chamber_temperature.surface" in {question.path for question in found.questions}
    assert found.faults == ()
    assert found.order == "waits for answers"


def test_nothing_said_of_the_taps_is_asked() -> None:
    study = tank(("vessel: {datum: lower tap}\n", ""))
    assert "legs.lower_tap" in {question.path for question in study.questions}
    assert study.faults == ()


def test_a_stem_in_the_tank_keeps_its_bore_and_its_bottom() -> None:
    study = drum(
        ("principle: float in a bypass chamber, magnetostrictive stem outside",
         "principle: magnetostrictive float on a rigid stem"),
        ("place: outside on a chamber", "place: in the tank"),
    )  # fmt: skip
    told = faults(study)
    assert any("instrument.float.bore must be stated, for a float on its stem" in each for each in told)
    assert any("instrument.stem.tip_above_datum must be from 0 mm" in each for each in told)
