"""Whether the float stands upright by itself, and how far the play on its stem lets it lean."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.case.model.float import AT_CENTRE, RING, SPHERE
from onedatum.foundation.working import Entry
from onedatum.physics.floats import (
    bored_sphere_waterline_radius_m,
    half_height_m,
    lean_rad,
    metacentric_height_m,
    metacentric_radius_m,
    radius_m,
    ring_half_width_m,
    ring_inner_waterline_radius_m,
    ring_outer_waterline_radius_m,
    waterplane_inertia_m4,
)
from onedatum.study.desk import Desk
from onedatum.study.stem.float import Float
from onedatum.study.stem.response import Response
from onedatum.verdicts import Effect, Finding, Link


@dataclass(frozen=True)
class UprightChapter:
    """Metacentric height by state, and the lean that the play allows."""

    heights: tuple[tuple[str, Entry], ...]
    lean: Entry | None


def upright_chapter(
    desk: Desk, float_: Float, answers: tuple[Response, ...], against: str = "stem"
) -> UprightChapter | None:
    """Work it where the centre of gravity is stated; a float that leans is told, it does not stop the order."""
    stated = float_.stated.gravity_centre_above_bottom
    if not stated.known:
        return None
    gravity = _gravity(desk, float_)
    heights = tuple((each.riding.state, _height(desk, float_, each, gravity)) for each in answers)
    clearance = desk.sheet.entries.get("float.stem_clearance")
    lean = (
        desk.calc("float.lean", lean_rad, shown="deg", clearance_m=clearance, guided_length_m=float_.height)
        if clearance is not None
        else desk.sheet.entries.get("float.lean")
    )
    for state, height in heights:
        if height.value is not None and height.value < 0.0:
            desk.findings.append(_leans(state, height, gravity, lean, against))
            break
    return UprightChapter(heights, lean)


def _leans(state: str, height: Entry, gravity: Entry, lean: Entry | None, against: str) -> Finding:
    chain = [
        Link("Centre of gravity above the bottom", gravity.text, gravity.name),
        Link(f"Metacentric height, {state}", height.text, height.name),
    ]
    if lean is not None:
        chain.append(Link(f"It leans on its {against} by at most", lean.text, lean.name))
    return Finding(
        "float-leans",
        f"The float does not stand upright by itself: it leans against its {against}",
        Effect.WARNING,
        tuple(chain),
        (Link("A wider and lower float, or its weight further down"),),
    )


def _gravity(desk: Desk, float_: Float) -> Entry:
    stated = float_.stated.gravity_centre_above_bottom
    if stated.word != AT_CENTRE:
        return desk.take(stated, "mm")
    desk.read.add(stated.path)
    meaning = "centre of gravity above the bottom of the float"
    return desk.calc("float.gravity_centre", half_height_m, shown="mm", meaning=meaning, height_m=float_.height)


def _height(desk: Desk, float_: Float, answer: Response, gravity: Entry) -> Entry:
    state = answer.riding.state
    outer, inner = _waterline(desk, float_, answer)
    inertia = desk.calc(
        f"float.waterplane_inertia[{state}]",
        waterplane_inertia_m4,
        shown="mm4",
        meaning=f"second moment of area of the waterline, {state}",
        outer_radius_m=outer,
        inner_radius_m=inner,
    )
    radius = desk.calc(
        f"float.metacentric_radius[{state}]",
        metacentric_radius_m,
        shown="mm",
        meaning=f"metacentre above the centre of buoyancy, {state}",
        inertia_m4=inertia,
        displaced_volume_m3=answer.displaced,
    )
    return desk.calc(
        f"float.metacentric_height[{state}]",
        metacentric_height_m,
        shown="mm",
        meaning=f"metacentric height, upright by itself where positive, {state}",
        buoyancy_centre_m=float_.buoyancy_centre(desk, state, answer.riding.immersion),
        metacentric_radius_m=radius,
        gravity_centre_m=gravity,
    )


def _waterline(desk: Desk, float_: Float, answer: Response) -> tuple[Entry, Entry]:
    """Outside and inside radius of the waterline."""
    state, form = answer.riding.state, float_.stated.form.word
    if form == RING:
        return _ring_waterline(desk, answer)
    bore = desk.take(float_.stated.bore, "mm", none=0.0)
    inner = _radius(desk, "float.bore_radius", "radius of the bore", bore)
    diameter = desk.take(float_.stated.outside_diameter, "mm")
    if form != SPHERE:
        return _radius(desk, "float.radius", "outside radius of the float", diameter), inner
    outer = desk.calc(
        f"float.waterline_radius[{state}]",
        bored_sphere_waterline_radius_m,
        shown="mm",
        meaning=f"outside radius of the waterline, {state}",
        immersion_m=answer.riding.immersion,
        diameter_m=diameter,
        height_m=float_.height,
    )
    return outer, inner


def _ring_waterline(desk: Desk, answer: Response) -> tuple[Entry, Entry]:
    state = answer.riding.state
    half = desk.calc(
        f"float.half_width[{state}]",
        ring_half_width_m,
        shown="mm",
        meaning=f"half the width of the waterline, {state}",
        immersion_m=answer.riding.immersion,
        tube_radius_m=desk.sheet["float.tube_radius"],
    )
    about = {"centre_radius_m": desk.sheet["float.centre_radius"], "half_width_m": half}
    outer = desk.worked(f"float.waterline_outer[{state}]", ring_outer_waterline_radius_m, about, shown="mm")
    return outer, desk.worked(f"float.waterline_inner[{state}]", ring_inner_waterline_radius_m, about, shown="mm")


def _radius(desk: Desk, name: str, meaning: str, diameter: Entry) -> Entry:
    return desk.once(name, radius_m, shown="mm", meaning=meaning, diameter_m=diameter)
