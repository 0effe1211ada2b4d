"""A shell measured by strapping: every course from tape to inside radius, the bottom by points, the roof on top."""

from __future__ import annotations

from onedatum.case.model.strapping import Course
from onedatum.foundation.working import Entry
from onedatum.physics.vessels import (
    circumference_m,
    course,
    diameter_of_circumference_m,
    empty_tank_correction_m,
    head_Pa_gauge,
    height_of_strap_m,
    highest_m,
    inside_radius_m,
    lean_factor,
    out_of_plumb,
    radius_of_diameter_m,
    section_difference,
    shell_circumference_m,
    stacked,
    tabled_vessel,
    tape_rise_m,
    with_floating_roof,
    with_stretch,
)
from onedatum.study.desk import Desk
from onedatum.study.vessel.shell import BARE
from onedatum.study.vessel.tabled import bottom_rows

Measures = dict[str, Entry]


def strapped_courses(desk: Desk) -> Entry:
    """The shell course upon course, with what its liquid adds and what a floating roof takes."""
    vessel = desk.case.vessel
    desk.read.add(vessel.courses.path)
    body = _bottom(desk)
    measured: list[Measures] = []
    for number, stated in enumerate(vessel.courses.items, start=1):
        body = _course(desk, number, stated, body, measured)
    if body is None:
        return desk.sheet.hold(BARE, None, "inside of the vessel", path=vessel.courses.path, place=vessel.courses.place)
    body = _stretched(desk, body, measured)
    body = _leaning(desk, body)
    return _roofed(desk, body)


def _bottom(desk: Desk) -> Entry | None:
    rows = bottom_rows(desk)
    return None if rows is None else desk.calc("vessel.bottom", tabled_vessel, shown="mm", rows=rows)


def _course(desk: Desk, number: int, stated: Course, below: Entry | None, measured: list[Measures]) -> Entry:
    """The shell with one more course; its measures join those of the courses below."""
    name = f"vessel.course[{number}]"
    height, plate = desk.take(stated.height, "mm"), desk.take(stated.plate, "mm")
    foot = (
        desk.calc(f"{name}.foot", highest_m, shown="mm", meaning=f"foot of course {number}", vessel=below)
        if below is not None
        else desk.sheet.give(f"{name}.foot", 0.0, "m", f"foot of course {number}", state="constant", shown="mm")
    )
    radius = desk.calc(
        f"{name}.radius",
        inside_radius_m,
        shown="mm",
        meaning=f"inside radius of course {number}",
        circumference_m=_circumference(desk, name, stated, plate, foot),
        plate_m=plate,
        paint_m=desk.absent(stated.paint, "no paint is stated", "mm"),
    )
    _against_drawing(desk, name, stated, radius)
    measured.append({"bottom_m": foot, "height_m": height, "radius_m": radius, "plate_m": plate})
    body = desk.calc(name, course, shown="mm", radius_m=radius, height_m=height)
    if below is None:
        return body
    return desk.calc(f"vessel.up_to_course[{number}]", stacked, shown="mm", lower=below, upper=body)


def _circumference(desk: Desk, name: str, stated: Course, plate: Entry, foot: Entry) -> Entry:
    """Outside circumference of the empty shell at the temperature of the table."""
    vessel, tape = desk.case.vessel, desk.case.vessel.strapping
    taped = desk.calc(
        f"{name}.taped",
        circumference_m,
        shown="m",
        reading_m=desk.take(stated.circumference, "m"),
        tape_error=desk.absent(tape.tape_error, "no correction of the tape is stated", "%value"),
        tape_expansion_per_K=desk.take(tape.tape_expansion),
        tape_temperature_K=desk.take(tape.tape_temperature),
        tape_reference_temperature_K=desk.take(tape.tape_certified_at),
        shell_expansion_per_K=desk.take(vessel.shell_expansion),
        shell_temperature_K=desk.take(tape.shell_temperature),
        shell_reference_temperature_K=desk.take(vessel.table_temperature),
    )
    diameter = desk.calc(f"{name}.taped_diameter", diameter_of_circumference_m, shown="m", circumference_m=taped)
    return desk.calc(
        f"{name}.circumference",
        shell_circumference_m,
        shown="m",
        taped_m=taped,
        rise_m=_rise(desk, name, diameter),
        load_m=_load(desk, name, stated, taped, diameter, plate, foot),
    )


def _rise(desk: Desk, name: str, diameter: Entry) -> Entry:
    tape = desk.case.vessel.strapping
    if tape.straps_over.state == "none":
        return desk.sheet.give(
            f"{name}.rise", 0.0, "m", "rise of the tape", state="constant", note="nothing to rise over"
        )
    return desk.calc(
        f"{name}.rise",
        tape_rise_m,
        shown="mm",
        obstructions=desk.take(tape.straps_over),
        height_m=desk.take(tape.strap_thickness, "mm"),
        width_m=desk.take(tape.strap_width, "mm"),
        diameter_m=diameter,
    )


def _load(desk: Desk, name: str, stated: Course, taped: Entry, diameter: Entry, plate: Entry, foot: Entry) -> Entry:
    """What the shell shrinks by when the tank is emptied."""
    tape = desk.case.vessel.strapping
    if tape.liquid_level.state == "none":
        return desk.sheet.give(f"{name}.load", 0.0, "m", "change to the empty tank", state="constant", note="empty")
    strap = desk.calc(
        f"{name}.strap",
        height_of_strap_m,
        shown="mm",
        foot_m=foot,
        over_foot_m=desk.take(stated.strapped_at, "mm"),
    )
    head = desk.calc(
        f"{name}.head",
        head_Pa_gauge,
        level_m=desk.take(tape.liquid_level, "mm"),
        height_m=strap,
        density_kg_per_m3=desk.take(tape.liquid_density),
        gravity_m_per_s2=desk.take(desk.case.site.g),
    )
    return desk.calc(
        f"{name}.load",
        empty_tank_correction_m,
        shown="mm",
        circumference_m=taped,
        pressure_Pa_gauge=head,
        radius_m=desk.calc(f"{name}.taped_radius", radius_of_diameter_m, shown="m", diameter_m=diameter),
        plate_m=plate,
        modulus_Pa=desk.take(tape.modulus, "GPa"),
    )


def _against_drawing(desk: Desk, name: str, stated: Course, radius: Entry) -> None:
    if not stated.drawing_diameter.known:
        return
    drawn = desk.calc(
        f"{name}.drawn_radius", radius_of_diameter_m, shown="mm", diameter_m=desk.take(stated.drawing_diameter, "mm")
    )
    desk.calc(
        f"{name}.against_drawing", section_difference, shown="%value", strapped_radius_m=radius, drawn_radius_m=drawn
    )


def _stretched(desk: Desk, body: Entry, measured: list[Measures]) -> Entry:
    """The stretch of every course under the head of the liquid the table is made for."""
    tape = desk.case.vessel.strapping
    if tape.table_density.state == "none" or not measured:
        return body
    under = {
        "modulus_Pa": desk.take(tape.modulus, "GPa"),
        "density_kg_per_m3": desk.take(tape.table_density),
        "gravity_m_per_s2": desk.take(desk.case.site.g),
    }
    for number, measures in enumerate(measured, start=1):
        body = desk.body(f"vessel.stretched[{number}]", with_stretch, {"vessel": body} | measures | under)
    return body


def _leaning(desk: Desk, body: Entry) -> Entry:
    tape = desk.case.vessel.strapping
    if not tape.lean.known:
        return body
    factor = desk.calc("vessel.lean_factor", lean_factor, lean=desk.take(tape.lean))
    return desk.calc("vessel.out_of_plumb", out_of_plumb, shown="mm", vessel=body, factor=factor)


def _roofed(desk: Desk, body: Entry) -> Entry:
    roof = desk.case.vessel.floating_roof
    if not roof.mass.known:
        return body
    return desk.calc(
        "vessel.with_floating_roof",
        with_floating_roof,
        shown="mm",
        vessel=body,
        roof_mass_kg=desk.take(roof.mass, "kg"),
        density_kg_per_m3=desk.take(desk.case.vessel.strapping.table_density),
        landing_m=desk.take(roof.lands_at, "mm"),
        floating_m=desk.take(roof.floats_at, "mm"),
    )
