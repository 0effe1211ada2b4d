"""Vessels on the sheet: worked once, worked again with arrays, unknown, and outside their validity."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from onedatum.foundation.errors import SheetError
from onedatum.foundation.working import Entry, Sheet, replay
from onedatum.physics.vessels import (
    Profile,
    conical_end,
    even_part,
    flat_end,
    leaning_cylinder,
    less_part,
    level_m,
    lying_cylinder,
    surface_m2,
    tilted_cylinder,
    torispherical_end,
    turned_profile,
    upright_cylinder,
    volume_m3,
)
from tests.closeness import close, exact

STATED: dict[str, tuple[float, str]] = {
    "diameter": (2.0, "m"),
    "length": (3.0, "m"),
    "depth": (0.4, "m"),
    "crown": (2.0, "m"),
    "knuckle": (0.2, "m"),
    "slope": (0.02, ""),
    "lean": (0.05, ""),
    "station": (1.0, "m"),
    "offset": (0.0, "m"),
    "level": (0.7, "m"),
    "room": (0.03, "m3"),
    "high": (0.2, "m"),
    "at": (0.4, "m"),
}
Shape = Callable[[Sheet], Entry]


def stated(**changed: float | None) -> Sheet:
    """A sheet with the measures of a vessel, some of them changed or unknown."""
    sheet = Sheet()
    for name, (value, suffix) in STATED.items():
        sheet.give(name, changed.get(name, value), suffix, f"stated {name}")
    return sheet


def ends(sheet: Sheet) -> tuple[Entry, Entry]:
    """A cone and a torispherical head of the diameter on the sheet."""
    near = sheet.calc("near", conical_end, diameter_m=sheet["diameter"], depth_m=sheet["depth"])
    radii: dict[str, Any] = {"crown_radius_m": sheet["crown"], "knuckle_radius_m": sheet["knuckle"]}
    return near, sheet.calc("far", torispherical_end, diameter_m=sheet["diameter"], **radii)


def lying(sheet: Sheet) -> Entry:
    near, _ = ends(sheet)
    return sheet.calc("body", lying_cylinder, shell_length_m=sheet["length"], near_end=near, far_end=near)


def tilted(sheet: Sheet) -> Entry:
    near, far = ends(sheet)
    shell: dict[str, Any] = {"shell_length_m": sheet["length"], "near_end": near, "far_end": far}
    return sheet.calc("body", tilted_cylinder, **shell, slope=sheet["slope"], station_m=sheet["station"])


def leaning(sheet: Sheet) -> Entry:
    bottom, top = ends(sheet)
    shell: dict[str, Any] = {"shell_length_m": sheet["length"], "bottom": bottom, "top": top}
    return sheet.calc("body", leaning_cylinder, **shell, lean=sheet["lean"], offset_m=sheet["offset"])


def fitted(sheet: Sheet) -> Entry:
    bottom, top = ends(sheet)
    shell = sheet.calc("shell", upright_cylinder, shell_length_m=sheet["length"], bottom=bottom, top=top)
    part = sheet.calc("part", even_part, volume_m3=sheet["room"], height_m=sheet["high"])
    return sheet.calc("body", less_part, vessel=shell, part=part, at_m=sheet["at"])


SHAPES: dict[str, Shape] = {"lying": lying, "tilted": tilted, "leaning": leaning, "fitted": fitted}


def worked(shape: Shape, **changed: float | None) -> Sheet:
    """Volume, surface, and level of that volume, of a vessel."""
    sheet = stated(**changed)
    body = shape(sheet)
    held = sheet.calc("volume", volume_m3, level_m=sheet["level"], vessel=body)
    sheet.calc("surface", surface_m2, level_m=sheet["level"], vessel=body)
    sheet.calc("back", level_m, volume_m3=held, vessel=body)
    return sheet


RESULTS = ["volume", "surface", "back"]


@pytest.mark.parametrize("shape", SHAPES.values(), ids=SHAPES)
@pytest.mark.parametrize("name", ["diameter", "length", "depth", "slope", "lean", "level", "room"])
@pytest.mark.parametrize("trials", [3, 250])
def test_worked_again_with_arrays_is_worked_anew_with_each(shape: Shape, name: str, trials: int) -> None:
    """Few trials and so many that a single body keeps curves; a measure that a vessel does not have changes nothing."""
    values = STATED[name][0] * np.linspace(0.99, 1.01, trials)
    again = replay(worked(shape), RESULTS, {name: values})
    exact(again.outside, 0.0)
    for number in (0, trials // 3, trials - 1):
        anew = worked(shape, **{name: float(values[number])})
        for result in RESULTS:
            close(again.results[result][number], anew[result].value, 1e-10, "1e-11 of what the vessel holds")


@pytest.mark.parametrize("shape", SHAPES.values(), ids=SHAPES)
def test_several_measures_varied_together(shape: Shape) -> None:
    chance = np.random.default_rng(5)
    values = {name: STATED[name][0] * (1 + 0.01 * chance.standard_normal(6)) for name in STATED if name != "offset"}
    again = replay(worked(shape), RESULTS, values)
    for number in range(6):
        anew = worked(shape, **{name: float(column[number]) for name, column in values.items()})
        for result in RESULTS:
            close(again.results[result][number], anew[result].value, 1e-10, "each trial as if alone")


def test_trials_outside_are_counted_and_the_others_stand() -> None:
    """A knuckle that does not fit, a station beyond the shell, a level above the vessel."""
    sheet = worked(tilted)
    for name, values in {
        "knuckle": np.array([0.2, 1.1, -0.1, 0.21]),
        "station": np.array([1.0, 3.1, -0.1, 1.0]),
        "level": np.array([0.7, 2.5, -0.5, 0.8]),
    }.items():
        again = replay(sheet, RESULTS, {name: values})
        exact(again.outside, 0.5)
        for result in RESULTS:
            exact(np.isnan(again.results[result]).astype(float), [0.0, 1.0, 1.0, 0.0])
        close(again.results["volume"][0], sheet["volume"].value, 1e-12, "the first is as stated")


@pytest.mark.parametrize("name", ["diameter", "depth", "slope", "level"])
def test_an_unknown_measure_makes_everything_wait_for_it(name: str) -> None:
    sheet = worked(tilted, **{name: None})
    waiting = {entry.name for entry in sheet.entries.values() if entry.waits_for}
    assert {"volume", "surface", "back"} <= waiting
    assert all(sheet[each].waits_for == (name,) for each in waiting)
    assert sheet["body"].known is (name == "level")
    assert sheet.faults == []


@pytest.mark.parametrize(
    ("changed", "path"),
    [
        ({"knuckle": 1.1}, "knuckle"),
        ({"crown": 0.9}, "crown"),
        ({"station": 3.5}, "station"),
        ({"level": 2.5}, "level"),
        ({"diameter": -1.0}, "diameter"),
    ],
)
def test_a_measure_outside_is_a_fault_at_its_path(changed: dict[str, float], path: str) -> None:
    sheet = worked(tilted, **changed)
    assert sheet["volume"].value is None
    assert path in {fault.path for fault in sheet.faults}
    assert sheet["volume"].state == "unknown"


def test_ends_of_another_diameter_do_not_fit_the_shell() -> None:
    sheet = stated()
    near, far = ends(sheet)
    wide = sheet.calc("wide", flat_end, diameter_m=sheet["length"])
    shell: dict[str, Any] = {"shell_length_m": sheet["length"], "near_end": near}
    sheet.calc("odd", lying_cylinder, **shell, far_end=wide)
    (fault,) = sheet.faults
    assert "one diameter" in fault.why
    assert not sheet["odd"].known
    for wrong in (sheet["length"], sheet["depth"]):
        with pytest.raises(SheetError, match="cannot take"):
            sheet.calc("x", lying_cylinder, **shell, far_end=wrong)
    with pytest.raises(SheetError, match="cannot take far"):
        sheet.calc("x", volume_m3, level_m=sheet["level"], vessel=far)
    with pytest.raises(SheetError, match="cannot take"):
        sheet.calc("x", volume_m3, level_m=sheet.calc("b", lying_cylinder, **shell, far_end=near), vessel=far)


def test_a_profile_held_on_the_sheet_makes_a_body() -> None:
    sheet = stated()
    held = sheet.hold("points", Profile(np.array([0.0, 1.0, 2.0]), np.array([1.0, 1.0, 0.5])), "measured points")
    body = sheet.calc("body", turned_profile, profile=held)
    sheet.calc("volume", volume_m3, level_m=sheet["level"], vessel=body)
    close(sheet["volume"].value, np.pi * 0.7, 1e-14, "a cylinder below")
    assert held.text == "profile of 3 points from 0 mm to 2000.00 mm"
    assert body.text == "body of revolution by 3 points, 2000.00 mm high, axis plumb"
    levels = np.array([0.1, 0.9, 2.5])
    again = replay(sheet, ["volume"], {"level": levels})
    close(again.results["volume"][:2], np.pi * levels[:2], 1e-14, "the profile stays, the level varies")
    exact(again.outside, 1 / 3)
    falling = sheet.hold("falling", Profile(np.array([0.0, 1.0, 0.5]), np.ones(3)), "wrong points", path="case.points")
    sheet.calc("none", turned_profile, profile=falling)
    (fault,) = sheet.faults
    assert (fault.path, fault.why) == ("case.points", "at least two points, each higher than the one before")
