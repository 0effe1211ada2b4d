"""Each shape of a case as a body on the sheet: one line joins the words of the case and the formulas of the shape."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from onedatum.case.model.vessel import (
    BY_TABLE,
    CONE,
    LYING,
    ON_HOPPER,
    PROFILE,
    RECTANGULAR,
    SPHERE,
    SPHEROID,
    STRAPPED,
    UPRIGHT,
)
from onedatum.foundation.working import Entry
from onedatum.physics.vessels import (
    box,
    cone,
    height_at_gauge_m,
    highest_m,
    hopper,
    inside_height_m,
    leaning_cylinder,
    lying_cylinder,
    shell_area_m2,
    slope_of_angle,
    spheroid,
    stacked,
    tilted_box,
    tilted_cylinder,
    turned_profile,
    upright_cylinder,
    upside_down,
)
from onedatum.study.desk import Desk, Want
from onedatum.study.vessel.ends import end_of
from onedatum.study.vessel.shell import BARE, length_of, shell_of
from onedatum.study.vessel.strapped import strapped_courses
from onedatum.study.vessel.tabled import by_its_table, profile_of


@dataclass(frozen=True)
class Shaped:
    """A vessel without what is in it."""

    body: Entry
    roof: Entry
    """Level of the inside top, plumb above the datum at the gauge."""
    shell_area: Entry | None = None
    level_twin: Entry | None = None
    """Of a tilted vessel, the same vessel lying level: what a table without the tilt would stand for."""


def shaped(desk: Desk) -> Shaped:
    """The vessel of the case, turned upside down where it says so."""
    vessel = desk.case.vessel
    shape = desk.word(vessel.shape, "how level and volume follow from each other")
    made = _SHAPES.get(shape, _unknown)(desk)
    if vessel.upside_down.state == "unknown" or desk.word(vessel.upside_down, "how the vessel stands") != "yes":
        return made
    turned = desk.calc("vessel.upside_down", upside_down, vessel=made.body)
    return Shaped(turned, made.roof)


def _unknown(desk: Desk) -> Shaped:
    path, place = desk.case.vessel.shape.path, desk.case.vessel.shape.place
    body = desk.sheet.give(BARE, None, "", "inside of the vessel", path=path, place=place)
    return Shaped(body, desk.sheet.give("vessel.inside_height", None, "m", "inside height", path=path, place=place))


def _upright(desk: Desk) -> Shaped:
    vessel, shell = desk.case.vessel, shell_of(desk)
    length = length_of(desk, (vessel.bottom_head, vessel.top_head))
    bottom, top = (
        end_of(desk, which, head, shell)
        for which, head in (("bottom head", vessel.bottom_head), ("top head", vessel.top_head))
    )
    measures = {"shell_length_m": length, "bottom": bottom.end, "top": top.end}
    roof = desk.calc(
        "vessel.inside_height",
        inside_height_m,
        shown="mm",
        bottom_depth_m=bottom.depth,
        shell_length_m=length,
        top_depth_m=top.depth,
    )
    area = desk.calc("vessel.shell_area", shell_area_m2, shown="m2", diameter_m=shell.diameter)
    lean = slope(desk)
    if lean is None:
        return Shaped(desk.body(BARE, upright_cylinder, measures), roof, area)
    offset = desk.absent(vessel.gauge_offset, "no offset is stated: the gauge stands on the axis", "mm")
    twin = desk.body("comparison.plumb_vessel", upright_cylinder, measures)
    body = desk.body(BARE, leaning_cylinder, measures | {"lean": lean, "offset_m": offset})
    return Shaped(body, roof, area, twin)


def _lying(desk: Desk) -> Shaped:
    vessel, shell = desk.case.vessel, shell_of(desk)
    length = length_of(desk, (vessel.near_end, vessel.far_end))
    near, far = (
        end_of(desk, which, head, shell) for which, head in (("near end", vessel.near_end), ("far end", vessel.far_end))
    )
    measures = {"shell_length_m": length, "near_end": near.end, "far_end": far.end}
    rise = slope(desk)
    if rise is None and "none" in (vessel.slope.state, vessel.tilt.state):
        return _with_roof(desk, desk.body(BARE, lying_cylinder, measures))
    if rise is None:
        title = "slope of the vessel: none where its axis lies level"
        desk.wants[vessel.slope.path] = Want(title, "process", "every volume, most at the bottom")
        rise = desk.take(vessel.slope)
    twin = desk.body("comparison.level_vessel", lying_cylinder, measures)
    station = desk.take(vessel.gauge_station, "mm")
    body = desk.body(BARE, tilted_cylinder, measures | {"slope": rise, "station_m": station})
    roof = desk.calc("vessel.inside_height", height_at_gauge_m, shown="mm", diameter_m=shell.diameter, slope=rise)
    return Shaped(body, roof, None, twin)


def _rectangular(desk: Desk) -> Shaped:
    rise = slope(desk)
    sides = _sides(desk) | {"height_m": desk.take(desk.case.vessel.height, "mm")}
    if rise is None:
        return _with_roof(desk, desk.body(BARE, box, sides))
    station = desk.take(desk.case.vessel.gauge_station, "mm")
    twin = desk.body("comparison.level_vessel", box, sides)
    body = desk.body(BARE, tilted_box, sides | {"slope": rise, "station_m": station})
    roof = desk.calc("vessel.inside_height", height_at_gauge_m, shown="mm", diameter_m=sides["height_m"], slope=rise)
    return Shaped(body, roof, None, twin)


def _on_hopper(desk: Desk) -> Shaped:
    vessel = desk.case.vessel
    sides = _sides(desk)
    outlet = {
        "outlet_length_m": desk.take(vessel.outlet_length, "mm"),
        "outlet_width_m": desk.take(vessel.outlet_width, "mm"),
        "height_m": desk.take(vessel.hopper_height, "mm"),
    }
    lower = desk.body("vessel.hopper", hopper, sides | outlet)
    if vessel.height.state == "none":
        return _with_roof(desk, lower)
    upper = desk.body("vessel.box", box, sides | {"height_m": desk.take(vessel.height, "mm")})
    return _with_roof(desk, desk.calc(BARE, stacked, shown="mm", lower=lower, upper=upper))


def _cone(desk: Desk) -> Shaped:
    vessel = desk.case.vessel
    body = desk.calc(
        BARE,
        cone,
        shown="mm",
        bottom_diameter_m=desk.take(vessel.bottom_diameter, "mm", none=0.0),
        top_diameter_m=desk.take(vessel.top_diameter, "mm", none=0.0),
        height_m=desk.take(vessel.height, "mm"),
    )
    return _with_roof(desk, body)


def _sphere(desk: Desk) -> Shaped:
    diameter = shell_of(desk).diameter
    return _with_roof(desk, desk.calc(BARE, spheroid, shown="mm", diameter_m=diameter, height_m=diameter))


def _spheroid(desk: Desk) -> Shaped:
    height = desk.take(desk.case.vessel.height, "mm")
    return _with_roof(desk, desk.calc(BARE, spheroid, shown="mm", diameter_m=shell_of(desk).diameter, height_m=height))


def _profile(desk: Desk) -> Shaped:
    return _with_roof(desk, desk.calc(BARE, turned_profile, shown="mm", profile=profile_of(desk)))


def _strapped(desk: Desk) -> Shaped:
    return _with_roof(desk, strapped_courses(desk))


def _by_table(desk: Desk) -> Shaped:
    return _with_roof(desk, by_its_table(desk))


def _sides(desk: Desk) -> dict[str, Entry]:
    vessel = desk.case.vessel
    return {"length_m": desk.take(vessel.length, "mm"), "width_m": desk.take(vessel.width, "mm")}


def _with_roof(desk: Desk, body: Entry) -> Shaped:
    meaning = "inside height, level of the highest inside point"
    return Shaped(body, desk.calc("vessel.inside_height", highest_m, shown="mm", meaning=meaning, vessel=body))


def slope(desk: Desk) -> Entry | None:
    """The slope as stated, or of the angle stated; None where neither is spoken of or one is none."""
    vessel = desk.case.vessel
    desk.read.update((vessel.slope.path, vessel.tilt.path))
    if vessel.slope.known or vessel.slope.state == "faulty":
        return desk.take(vessel.slope)
    if vessel.tilt.known or vessel.tilt.state == "faulty":
        return desk.calc("vessel.slope_of_tilt", slope_of_angle, angle_rad=desk.take(vessel.tilt, "deg"))
    return None


_SHAPES: Mapping[str, Callable[[Desk], Shaped]] = {
    UPRIGHT: _upright,
    LYING: _lying,
    RECTANGULAR: _rectangular,
    ON_HOPPER: _on_hopper,
    CONE: _cone,
    SPHERE: _sphere,
    SPHEROID: _spheroid,
    PROFILE: _profile,
    STRAPPED: _strapped,
    BY_TABLE: _by_table,
}
