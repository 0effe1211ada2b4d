"""The drawing of a vessel says the measures of its case, and every dimension is as long as it says."""

from __future__ import annotations

import re
from math import hypot

import pytest

from onedatum.case.reading import read_case_text
from onedatum.jobs.vessel_of_study import vessel_of
from onedatum.paper.vessel.model import VesselDrawing
from onedatum.study.study import study
from tests.closeness import close

UPRIGHT = (
    "shape: vertical cylinder\ninside_diameter: 1.6 m\nshell_length: 3 m\nbottom_head: {bottom}\ntop_head: {top}\n"
)
LYING = "shape: lying cylinder\ninside_diameter: 1.6 m\nshell_length: 3 m\nnear_end: {near}\nfar_end: {far}\n"
BOX = "shape: rectangular\nlength: 3 m\nwidth: 2 m\nheight: 1.5 m\n"
HOPPER = (
    "shape: rectangular on hopper\nlength: 3 m\nwidth: 2 m\nheight: 1 m\n"
    "outlet_length: 400 mm\noutlet_width: 300 mm\nhopper_height: 0.7 m\n"
)
CONE = "shape: cone\nbottom_diameter: 0 mm\ntop_diameter: 2 m\nheight: 1.9 m\n"
TABLE = (
    "shape: by its table\nbatches:\n"
    "  - {level: 0 mm, metered: 0 m3, meter_temperature: 15 degC, tank_temperature: 15 degC}\n"
    "  - {level: 500 mm, metered: 10 m3, meter_temperature: 15 degC, tank_temperature: 15 degC}\n"
    "metering: {meter_factor: 1.001, liquid_expansion: 2e-4 1/K}\n"
    "shell_expansion: 0 1/K\ntable_temperature: 15 degC\ndatum: zero of the table\n"
)
FLAT, ROUND, CONICAL = "{form: flat}", "{form: hemispherical}", "{form: conical, depth: 600 mm}"
ELLIPTICAL = "{form: ellipsoidal 2:1}"
LEVEL_GAUGE, TILTED = "datum: lowest inside point\n", "datum: bottom below the gauge\n"
STATION = f"{TILTED}gauge_station: 1 m\n"


def drawing_of(vessel: str) -> VesselDrawing | None:
    lines = "".join(f"  {line}\n" for line in (vessel + "deadwood: none").splitlines())
    text = f"onedatum: 1\nvessel:\n{lines}medium: {{kind: water, temperature: 20 degC}}\n"
    return vessel_of(study(read_case_text(text, "case.yaml", ".")))


def drawn(vessel: str) -> VesselDrawing:
    found = drawing_of(vessel)
    assert found is not None
    return found


def said(words: str) -> tuple[str, float]:
    """What a dimension says: the sign of a diameter if it has one, and the length in metres."""
    found = re.fullmatch(r"(Ø )?([\d.]+)\s(mm|m)", words)
    assert found is not None, words
    return found[1] or "", float(found[2]) * {"mm": 0.001, "m": 1.0}[found[3]]


CASES = {
    "upright": (UPRIGHT.format(bottom=ELLIPTICAL, top=ROUND) + LEVEL_GAUGE, {"3 m", "Ø 1.6 m", "4200 mm"}),
    "upright, flat": (UPRIGHT.format(bottom=FLAT, top=FLAT) + LEVEL_GAUGE, {"3 m", "Ø 1.6 m"}),
    "upright, on a cone": (UPRIGHT.format(bottom=CONICAL, top=FLAT) + LEVEL_GAUGE, {"3 m", "Ø 1.6 m", "3600 mm"}),
    "leaning": (
        UPRIGHT.format(bottom=ELLIPTICAL, top=ELLIPTICAL) + "tilt: 20 deg\ngauge_offset: 0 mm\n" + TILTED,
        {"3 m", "Ø 1.6 m", "3800 mm"},
    ),
    "leaning, flat": (
        UPRIGHT.format(bottom=FLAT, top=FLAT) + "tilt: 5 deg\ngauge_offset: 0 mm\n" + TILTED,
        {"3 m", "Ø 1.6 m"},
    ),
    "lying, flat": (LYING.format(near=FLAT, far=FLAT) + STATION + "slope: 0.02\n", {"3 m", "Ø 1.6 m", "1 m"}),
    "lying, one flat": (LYING.format(near=FLAT, far=ROUND) + STATION + "slope: 0\n", {"3 m", "Ø 1.6 m", "1 m"}),
    "lying, 45 degrees": (
        LYING.format(near=ROUND, far=FLAT) + STATION + "tilt: -45 deg\n",
        {"3 m", "Ø 1.6 m", "1 m", "800 mm"},
    ),
    "box": (BOX + LEVEL_GAUGE, {"3 m", "1.5 m", "2 m"}),
    "box, tilted": (BOX + STATION + "slope: -0.08\n", {"3 m", "1.5 m", "2 m", "1 m"}),
    "hopper": (HOPPER + LEVEL_GAUGE, {"3 m", "1700 mm", "2 m"}),
    "cone": (CONE + LEVEL_GAUGE, {"Ø 2000 mm", "1900 mm"}),
    "cone, upside down": (CONE + LEVEL_GAUGE + "upside_down: yes\n", {"Ø 2000 mm", "1900 mm"}),
}


@pytest.mark.parametrize("name", CASES)
def test_each_measure_stands_once_and_is_as_long_as_it_says(name: str) -> None:
    vessel, expected = CASES[name]
    found = drawn(vessel).dimensions
    assert sorted(said(d.text) for d in found) == sorted(map(said, expected))
    for each in found:
        (x_1, z_1), (x_2, z_2) = each.start_m, each.end_m
        close(hypot(x_2 - x_1, z_2 - z_1), said(each.text)[1], 1e-9, "what is drawn against what is said")


@pytest.mark.parametrize(
    ("vessel", "words"),
    [
        (UPRIGHT.format(bottom=FLAT, top=FLAT) + TILTED + "slope: 0.02\ngauge_offset: 0 mm\n", "axis leans 1:50"),
        (LYING.format(near=FLAT, far=FLAT) + STATION + "slope: 0.02\n", "axis rises 1:50"),
        (LYING.format(near=FLAT, far=FLAT) + STATION + "slope: -2.5\n", "axis falls 2.5:1"),
        (BOX + STATION + "slope: -0.08\n", "floor falls 1:12.5"),
        (BOX + LEVEL_GAUGE, ""),
    ],
)
def test_the_slope_is_told(vessel: str, words: str) -> None:
    assert drawn(vessel).slope == words


def test_the_floor_that_slopes_is_that_of_the_box() -> None:
    """Worked by hand: 1 m of floor before the gauge and 2 m behind it, falling 5 in 12."""
    floor = drawn(BOX + STATION + "slope: -0.416666666667\n").floor
    close(floor, ((-12 / 13, 5 / 13), (24 / 13, -10 / 13)), 1e-11, "digits of the slope; a triangle of 5, 12 and 13")
    assert drawn(CONE + LEVEL_GAUGE).floor is None


def test_a_flat_end_has_no_tangent_line_of_its_own() -> None:
    assert drawn(UPRIGHT.format(bottom=FLAT, top=FLAT) + LEVEL_GAUGE).tangents == ()
    assert len(drawn(UPRIGHT.format(bottom=CONICAL, top=FLAT) + LEVEL_GAUGE).tangents) == 1
    assert len(drawn(LYING.format(near=ROUND, far=ROUND) + STATION + "slope: 0.1\n").tangents) == 2


def test_a_vessel_of_which_only_a_table_is_known_is_not_drawn() -> None:
    assert drawing_of(TABLE) is None
