"""The field of a probe in whole cases: every shape of tank, a tube, a rod off the axis; why there is none; pictures."""

from __future__ import annotations

import numpy as np
import pytest

from onedatum.jobs.probe_sheet import probe_sheet
from onedatum.physics.capacitive import before_wall_radius_m
from onedatum.study.probe import FieldCurve, drawn_curve, field_picture
from onedatum.study.result import Study
from tests.closeness import close
from tests.study.test_probe import (
    BARE,
    BY_ROD,
    GLAND,
    METAL,
    OIL,
    PLASTIC,
    STEEL,
    WIDE,
    finding,
    number,
    probe,
    text_of,
)

VERTICAL = "shape: vertical cylinder"
MEASURES = "  inside_diameter: 2300 mm\n  shell_length: 2500 mm\n"
HEADS = "  bottom_head: {form: flat}\n  top_head: {form: flat}\n"
SHAPE = f"{VERTICAL}\n{MEASURES}{HEADS}"
TUBE = (BY_ROD, "{kind: concentric earthed tube, tube_bore: 25 mm}")
OILY = (*BARE, *STEEL, *OIL, GLAND)
UP_TO = "active_to: 2500 mm"
LOWER = (
    ("20 mA: 2200 mm", "20 mA: 1850 mm"),
    ("set_high: 2200 mm", "set_high: 1850 mm"),
    ("CH: 2400 mm", "CH: 1950 mm"),
)


def shaped(shape: str, top: str, *more: tuple[str, str]) -> Study:
    """A bare rod in oil in a vessel of another shape, its active length up to the roof."""
    return probe(*OILY, (SHAPE, shape), (UP_TO, f"active_to: {top}"), *more)


def headed(form: str, which: str = "bottom") -> tuple[str, str]:
    return f"{which}_head: {{form: flat}}", f"{which}_head: {form}"


LYING = f"shape: lying cylinder\n{MEASURES}  near_end: {{form: flat}}\n  far_end: as near_end\n  slope: none\n"
LYING_2M = LYING.replace("2300 mm", "2000 mm").replace("2500 mm", "6000 mm")
BOX = "shape: rectangular\n  length: 3000 mm\n  width: 2000 mm\n  height: 2500 mm\n  slope: none\n"


def field(study: Study) -> FieldCurve:
    chapter = study.measuring.probe
    assert chapter is not None
    assert chapter.field is not None, (chapter.no_field, [str(fault) for fault in study.faults])
    return chapter.field


def why_not(study: Study) -> str:
    chapter = study.measuring.probe
    assert chapter is not None
    assert chapter.field is None
    return chapter.no_field


# ---------------------------------------------------------------- every shape


@pytest.mark.parametrize(
    ("form", "which", "top"),
    [
        ("{form: ellipsoidal 2:1}", "bottom", "3075 mm"),
        ("{form: hemispherical}", "bottom", "3650 mm"),
        ("{form: conical, depth: 900 mm}", "bottom", "3400 mm"),
        ("{form: hemispherical}", "top", "3650 mm"),
        ("{form: torispherical, crown_radius: 2300 mm, knuckle_radius: 230 mm, on: inside diameter}", "top", "2946 mm"),
    ],
)
def test_a_tank_with_ends_is_worked_by_its_own_wall(form: str, which: str, top: str) -> None:
    found = field(probe(*OILY, headed(form, which), (UP_TO, f"active_to: {top}")))
    assert (found.difference.value or 1.0) < 1e-3
    close(found.setup.vessel.widest_m, 1.15, 1e-9, "the shell")
    assert found.setup.vessel.radii_m[0] == (0.0 if which == "bottom" else 1.15)


def test_a_dished_bottom_reads_between_two_flat_tanks() -> None:
    """The more earth is near, the more the rod holds; at one level over the tip, the bottom level or falling away."""
    dish = (
        headed("{form: ellipsoidal 2:1}"),
        (UP_TO, "active_to: 3075 mm"),
        ("active_from: 50 mm", "active_from: 600 mm"),
    )
    deep = ("shell_length: 2500 mm", "shell_length: 3075 mm"), *dish[1:]
    marks = (("4 mA: 150 mm", "4 mA: 800 mm"), ("set_low: 150 mm", "set_low: 800 mm"))
    dished, tall = (field(probe(*OILY, *change, *marks)).at(1.6) for change in (dish, deep))
    marks = (("4 mA: 150 mm", "4 mA: 225 mm"), ("set_low: 150 mm", "set_low: 225 mm"))
    tip = (("active_from: 50 mm", "active_from: 25 mm"), ("{value: 1600 mm", "{value: 1025 mm"))
    short = field(probe(*OILY, *marks, *tip))
    assert (tall.capacitance.value or 0.0) < (dished.capacitance.value or 0.0)
    assert (dished.capacitance.value or 0.0) < (short.at(1.025).capacitance.value or 0.0)


def test_a_lying_cylinder_bends_the_line_as_in_space() -> None:
    """2 m by 6 m, tip 50 mm up, oil 2.3, set at 0.1 and 1.9 m: 0.7600 of the span at 1.5 m, by a field in space."""
    setting = (("set_low: 150 mm", "set_low: 100 mm"), ("set_high: 2200 mm", "set_high: 1900 mm"))
    study = shaped(LYING_2M, "2000 mm", *setting, ("20 mA: 2200 mm", "20 mA: 1900 mm"), ("CH: 2400 mm", "CH: 1950 mm"),
                   ("{value: 1600 mm", "{value: 1500 mm"))  # fmt: skip
    found = field(study)
    now = found.at(1.5)
    share = 1.4 / 1.8 + (now.error.value or 0.0) / 1.8
    close(share, 0.7600, 0.0009, "the equivalence, within 0.09 % of the span")
    assert "two sides and two ends" in found.words
    close(
        number(study, "probe.equivalent_radius"),
        2 * number(study, "probe.section_width") / np.pi,
        1e-3,
        "2W/pi; the ends are 3 m away",
    )


def test_a_box_by_its_four_walls() -> None:
    """Near one long wall the box is that wall alone: D + sqrt(D^2 - a^2), to what the far walls add (derived)."""
    middle = shaped(BOX, "2500 mm")
    beside = shaped(BOX, "2500 mm", (METAL, f"{METAL}\n    off_axis: 900 mm"))
    assert number(beside, "probe.equivalent_radius") < number(middle, "probe.equivalent_radius")
    close(number(beside, "probe.equivalent_radius"), float(before_wall_radius_m(0.005, 0.1)), 1e-3, "the wall alone")
    assert np.ptp(field(middle).setup.vessel.radii_m) == 0.0
    assert field(beside).setup.vessel.widest_m < field(middle).setup.vessel.widest_m


def test_the_gauge_of_a_level_box_may_stand_off_mid_length() -> None:
    moved = shaped(BOX.replace("  slope", "  gauge_station: 300 mm\n  slope"), "2500 mm")
    close(number(moved, "probe.to_end"), 0.3, 1e-9, "as stated")
    assert number(moved, "probe.equivalent_radius") < number(shaped(BOX, "2500 mm"), "probe.equivalent_radius")
    assert (field(moved).difference.value or 1.0) < 1e-3


@pytest.mark.parametrize(
    ("shape", "top"),
    [
        ("shape: sphere\n  inside_diameter: 2500 mm\n", "2500 mm"),
        ("shape: cone\n  bottom_diameter: 800 mm\n  top_diameter: 2300 mm\n  height: 2500 mm\n", "2500 mm"),
        (
            "shape: measured profile\n  profile:\n    - {height: 0 mm, radius: 900 mm}\n"
            "    - {height: 500 mm, radius: 1150 mm}\n    - {height: 2500 mm, radius: 1140 mm}\n",
            "2500 mm",
        ),
        (
            "shape: rectangular on hopper\n  length: 2000 mm\n  width: 1500 mm\n  height: 1500 mm\n"
            "  outlet_length: 300 mm\n  outlet_width: 300 mm\n  hopper_height: 1000 mm\n",
            "2500 mm",
        ),
    ],
)
def test_other_shapes_need_no_stated_radius(shape: str, top: str) -> None:
    study = shaped(shape, top)
    assert (field(study).difference.value or 1.0) < 1e-3
    assert study.sheet["probe.sensitivity"].known
    assert not any("same capacitance" in question.title for question in study.questions)


def test_a_rod_off_the_axis_is_worked_and_says_what_it_costs() -> None:
    found = field(probe(*OILY, (METAL, f"{METAL}\n    off_axis: 600 mm")))
    assert "good to 1 % of the span" in found.words
    exact = 0.005 * np.exp(np.arccosh((1.15**2 + 0.005**2 - 0.6**2) / (2 * 0.005 * 1.15)))
    close(found.setup.vessel.widest_m, exact, 1e-9, "the other form of the same law, by acosh")


def test_a_stated_radius_comes_first() -> None:
    for shape in (SHAPE, LYING):
        study = shaped(shape, "2500 mm" if shape == SHAPE else "2300 mm", *LOWER,
                       (METAL, f"{METAL}\n    equivalent_radius: 900 mm"))  # fmt: skip
        close(number(study, "probe.wall.equivalent_radius"), 0.9, 1e-12, "as stated")
        assert field(study).setup.vessel.radii_m.tolist() == [0.9, 0.9]
        assert "stated radius" in field(study).words


def test_a_tube_needs_neither_vessel_nor_gland() -> None:
    """In a tube the field is that of a coaxial line: the slope of the closed form to 1e-4 and no bend (derived)."""
    study = probe(*BARE, *OIL, TUBE)
    found = field(study)
    assert abs(found.worst.error.value or 1.0) < 1e-5
    low, high = (found.at(level).capacitance.value or 0.0 for level in (found.low_m, found.high_m))
    rise = (high - low) / (found.high_m - found.low_m)
    close(rise, number(study, "probe.sensitivity"), 1e-4 * rise, "2 pi eps/ln(R/a)")


# ---------------------------------------------------------------- why there is none

NONE: tuple[tuple[tuple[tuple[str, str], ...], str], ...] = (
    ((), "an earthed rod beside it makes a field that is not round"),
    (
        ((BY_ROD, "{kind: earthed strip inside on the wall, strip_width: 200 mm, to_strip: 100 mm}"),),
        "an earthed strip makes a field that is not round",
    ),
    (((BY_ROD, "{kind: unknown}"),), "what the circuit of the probe closes through is not stated"),
    ((STEEL[0], GLAND), "the wall is plastic"),
    ((STEEL[0], (PLASTIC, "kind: concrete"), GLAND), "the wall is concrete"),
    ((STEEL[0], (PLASTIC, "kind: unknown"), GLAND), "whether the wall of the vessel conducts is not stated"),
    ((*STEEL, GLAND, (VERTICAL, "shape: unknown")), "the shape of the vessel is not stated"),
    (STEEL, "radius of the insulating ring in the roof"),
    ((*STEEL, ("frequency: 100 kHz", "frequency: 100 kHz\n  gland_diameter: unknown")), "the insulating ring"),
    ((*STEEL, GLAND, ("inside_diameter: 2300 mm", "inside_diameter: unknown")), "same capacitance"),
    ((*STEEL, GLAND, (UP_TO, "active_to: 2300 mm")), "ends 200.0 mm below the roof"),
    ((*STEEL, GLAND, ("datum: lowest inside point", "datum: lower tap")), "heights do not count from the floor"),
    ((*STEEL, GLAND, (VERTICAL, f"{VERTICAL}\n  slope: 0.02")), "the vessel leans"),
)


@pytest.mark.parametrize(("changes", "words"), NONE)
def test_where_no_field_is_worked_the_study_says_why(changes: tuple[tuple[str, str], ...], words: str) -> None:
    assert words in why_not(probe(*changes))


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        (("off_axis: 1148 mm",), "probe.wall.off_axis must be"),
        (("off_axis: -1 mm",), "probe.wall.off_axis must be"),
        (("off_axis: soon",), "probe.wall.off_axis must be"),
        (("off_axis: 1125 mm",), "probe.wall.off_axis must be at least 25"),
        (("equivalent_radius: 4 mm",), "probe.wall.equivalent_radius must be wider than the rod"),
        (("off_axis: 900 mm",), "probe.active_from must be between the bottom"),
    ],
)
def test_what_cannot_stand_in_a_lying_tank_is_named(changes: tuple[str], words: str) -> None:
    study = shaped(LYING, "2300 mm", *LOWER, (METAL, f"{METAL}\n    {changes[0]}"))
    assert any(words in str(fault) for fault in study.faults), [str(fault) for fault in study.faults]
    assert study.measuring.probe is not None
    assert study.measuring.probe.field is None


def test_a_tube_narrower_than_the_coating_is_named_and_nothing_breaks() -> None:
    study = probe((BY_ROD, "{kind: concentric earthed tube, tube_bore: 13 mm}"))
    assert any("tube_bore must be wider" in str(fault) for fault in study.faults)


# ---------------------------------------------------------------- what is drawn


@pytest.mark.parametrize("changes", [OILY, (*STEEL, GLAND), (*BARE, *OIL, TUBE)])
def test_the_flux_bears_out_the_capacitance(changes: tuple[tuple[str, str], ...]) -> None:
    """Gauss's law through two surfaces, asked to 1e-3; nine lines, each within the one before it."""
    picture = field_picture(field(probe(*changes)))
    for flux in picture.fluxes:
        close(flux, 1.0, 1e-3, "asked")
    assert picture.holds
    assert len(picture.lines) == 9
    assert picture.level_m == 1.6


def test_a_level_beyond_the_vessel_is_drawn_half_way() -> None:
    found = field(probe(*OILY, ("{value: 1600 mm", "{value: 2600 mm")))
    close(field_picture(found).level_m, 0.5 * (0.15 + 2.2), 1e-9, "between the two levels of the setting")


def test_the_drawn_curve_is_that_of_the_table() -> None:
    """On the coarser of the two meshes: within what the finer one moved; with what is constant."""
    found = field(probe(*OILY, *WIDE, ("constant: {value: 0 pF", "constant: {value: 30 pF")))
    drawn = drawn_curve(found)
    assert (np.diff(drawn.levels_m) > 0.0).all()
    held = np.interp(found.low_m, drawn.levels_m, drawn.capacitances_F)
    told = found.at(found.low_m).capacitance.value or 0.0
    assert told > 30e-12
    close(held, told, 2e-4 * told, "the usual mesh, within two parts in ten thousand")
    at_ends = np.interp([found.low_m, found.high_m], drawn.levels_m, drawn.errors_m)
    close(at_ends + 1.0, np.ones(2), 1e-9, "no error where it is set")


# ---------------------------------------------------------------- no curve to hold to

SHORT = (UP_TO, "active_to: 2490 mm")


def about(study: Study) -> FieldCurve:
    chapter = study.measuring.probe
    assert chapter is not None
    assert chapter.field is None
    assert chapter.bend is not None, chapter.no_field
    return chapter.bend


def test_a_rod_that_ends_a_little_below_the_roof_is_bent_as_one_that_ends_at_it() -> None:
    """Ten millimetres of roof move the bend by little (a tank is a radius of them wide): law of continuity."""
    whole, short = probe(*OILY), probe(*OILY, SHORT)
    worst, near = field(whole).worst, about(short).worst
    assert abs(worst.error.value or 0.0) > 5e-3
    close(near.error.value, worst.error.value, 0.05 * abs(worst.error.value or 0.0), "continuity")
    close(number(short, "probe.accuracy.bend.standard"), number(whole, "probe.accuracy.bend.standard"), 2e-4, "so")


def test_its_bend_counts_and_is_told_and_no_table_is_given() -> None:
    study = probe(*OILY, SHORT)
    said = finding(study, "probe-ends-about")
    assert said is not None
    assert about(study).worst.error.text.removeprefix("−") in text_of(said)
    assert "10.00 mm below the roof" in text_of(said)
    assert finding(study, "probe-bends") is None
    assert number(study, "probe.level_uncertainty") > number(probe(), "probe.alarm_uncertainty")
    sheet = probe_sheet(study)
    assert sheet is not None
    titles = [table.title for table in sheet.tables]
    assert "Table that bends the line back" not in titles
    assert "In this tank, by the field" in titles


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ((*BARE, *STEEL, *OIL), True),  # no ring in the roof is stated
        ((*BARE, *OIL), False),  # two rods: the field ends near them
        (STEEL, False),  # a liquid that conducts is the other plate itself
        (OILY, False),
    ],
)
def test_ends_that_nobody_can_work_are_told(changes: tuple[tuple[str, str], ...], told: bool) -> None:
    assert (finding(probe(*changes), "probe-ends-open") is not None) is told


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ((("set_high: 2200 mm", "set_high: 150 mm"),), "the two levels of the setting are one"),
        ((("set_high: 2200 mm", "set_high: 2600 mm"),), "beyond the active length"),
        ((("value: 2.3, min: 2.2, max: 2.3", "value: 1"),), "look alike to the probe"),
    ],
)
def test_a_setting_without_a_line_is_told_once(changes: tuple[tuple[str, str], ...], words: str) -> None:
    """Where it is stated, and not of the rod as well."""
    study = probe(*OILY, *changes)
    assert words in why_not(study)
    assert not any("probe.rod" in str(fault) for fault in study.faults), [str(fault) for fault in study.faults]


def test_the_sheet_has_one_capacitance_at_a_level_of_the_setting() -> None:
    """What it says first is what its setting asks for: by the field where that is worked, and by it alone."""
    study = probe(*OILY)
    sheet = probe_sheet(study)
    assert sheet is not None
    (setting,) = (table for table in sheet.tables if table.title == "Setting")
    assert sheet.answer.startswith(f"{setting.rows[0][2]} at 4 mA, {setting.rows[1][2]} at 20 mA")
    assert setting.rows[0][2] != study.sheet["probe.capacitance[4 mA]"].text


def test_a_bend_without_a_curve_is_on_the_sheet_and_under_the_chart() -> None:
    study = probe(*OILY, SHORT)
    sheet, worst = probe_sheet(study), about(study).worst
    assert sheet is not None
    (table,) = (table for table in sheet.tables if table.title == "In this tank, by the field")
    assert [row[1] for row in table.rows][1] == worst.error.text
    caption = sheet.pictures[0].caption
    assert worst.error.text.removeprefix("−") in caption
