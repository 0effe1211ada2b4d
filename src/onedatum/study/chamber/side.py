"""The magnet read through the wall of its chamber: distance, wall, lean of the float, steel around, rating."""

from __future__ import annotations

from onedatum.foundation.working import Entry
from onedatum.physics.bypass import farthest_distance_m, lean_from_wall_to_wall_rad, outside_diameter_m
from onedatum.physics.floats import radius_m
from onedatum.physics.magnets import clear_distance_m, lean_shift_m, usual_surroundings, wall_reduction
from onedatum.physics.overfill import margin_m
from onedatum.study.acting import gauge_of, operating_pressures
from onedatum.study.apart import PRESSURES, TEMPERATURES
from onedatum.study.chamber.chapter import ChamberChapter
from onedatum.study.chamber.stem import Outside
from onedatum.study.desk import Desk
from onedatum.study.stem import Beside, StemDetail
from onedatum.study.stem.accuracy import error_allowed


def beside_of(desk: Desk, outside: Outside) -> Beside:
    """Where the stem stands beside the float, and what the wall between them takes of the field."""
    stated = desk.case.chamber
    distance = desk.take(stated.stem_distance, "mm")
    farthest = desk.calc(
        "chamber.stem_farthest",
        farthest_distance_m,
        shown="mm",
        distance_m=distance,
        clearance_m=outside.side,
    )
    return Beside(distance, farthest, _reduction(desk))


def _outside_diameter(desk: Desk) -> Entry:
    """Of the chamber, once on the sheet."""
    stated = desk.case.chamber
    return desk.once(
        "chamber.outside_diameter",
        outside_diameter_m,
        shown="mm",
        inside_diameter_m=desk.take(stated.inside_diameter, "mm"),
        wall_m=desk.take(stated.wall, "mm"),
    )


def _reduction(desk: Desk) -> Entry:
    """By the permeability as stated; while that is unknown, so is the field behind the wall."""
    stated = desk.case.chamber.relative_permeability
    diameters = {"inner": desk.take(desk.case.chamber.inside_diameter, "mm"), "outer": _outside_diameter(desk)}
    radii = {
        f"{which}_radius_m": desk.calc(
            f"chamber.{which}_radius",
            radius_m,
            shown="mm",
            meaning=f"{which} radius of the chamber",
            diameter_m=diameter,
        )
        for which, diameter in diameters.items()
    }
    inputs = {"relative_permeability": desk.take(stated), **radii}
    return desk.worked("chamber.wall_reduction", wall_reduction, inputs)


def lean_of(desk: Desk, outside: Outside) -> Entry:
    """The lean that the chamber leaves its float."""
    chamber, float_ = desk.case.chamber, desk.case.instrument.float_
    return desk.calc(
        "float.lean",
        lean_from_wall_to_wall_rad,
        shown="deg",
        chamber_diameter_m=desk.take(chamber.inside_diameter, "mm"),
        float_diameter_m=desk.take(float_.outside_diameter, "mm"),
        float_height_m=outside.stem.float_.height,
    )


def side_checks(desk: Desk, chamber: ChamberChapter, detail: StemDetail, beside: Beside) -> Entry | None:
    """What a leaning float moves the reading by, where its formula holds; beside it steel around, and the rating."""
    _steel(desk)
    _rating(desk, chamber)
    ring = detail.magnet.ring if detail.magnet is not None else None
    if ring is None:
        return None
    reach = desk.calc(
        "magnet.side_gap",
        margin_m,
        shown="mm",
        meaning="distance of the stem beyond the magnet",
        limit_m=beside.distance,
        value_m=ring.outer,
    )
    meaning = "the field beside the magnet has one lobe, however the float leans"
    if not desk.sheet.decide("magnet.one_lobe", "L <= 1.5*a", meaning, L=ring.length, a=reach):
        return None
    shift = desk.worked(
        "magnet.lean_shift",
        lean_shift_m,
        {"distance_m": beside.distance, "lean_rad": desk.sheet["float.lean"], **ring.shape()},
        shown="mm",
        meaning="shift of the reading by a float that leans from wall to wall, its top towards the stem",
    )
    error_allowed(desk, "lean", "the lean of the float", shift)
    return shift


def _steel(desk: Desk) -> None:
    """Steel and other magnets keep their distance (common practice)."""
    stated, usual = desk.case.chamber.steel_nearby, usual_surroundings()
    clear = desk.calc(
        "chamber.clear_distance",
        clear_distance_m,
        shown="mm",
        chamber_diameter_m=_outside_diameter(desk),
        diameters=desk.constant(
            "chamber.clear_diameters",
            usual.diameters,
            "",
            "usual distance in diameters",
            source=usual.source,
            note=usual.tag,
        ),
        least_m=desk.constant(
            "chamber.clear_least",
            usual.least_m,
            "m",
            "usual least distance",
            shown="mm",
            source=usual.source,
            note=usual.tag,
        ),
    )
    if not stated.known:
        desk.read.add(stated.path)
        return
    words = "steel and other magnets keep off the chamber", "Steel or another magnet stands near: it bends the field"
    near = desk.take(stated, "mm")
    name, meaning = "chamber.steel_margin", "distance of the nearest steel beyond the usual one"
    desk.compare_apart("chamber-steel", words, near, "at least", clear, name, meaning, remark=True)


def _rating(desk: Desk, chamber: ChamberChapter) -> None:
    """The chamber stays on the vessel in every state, also where the instrument is removed."""
    stated = desk.case.chamber
    rating = gauge_of(
        desk, stated.pressure_rating, "chamber.rating", "pressure rating of the chamber above the atmosphere"
    )
    for number, acting in enumerate(operating_pressures(desk), start=1):
        _bears(desk, rating, acting, "in operation", f".operation_{number}")
    for state in desk.case.states:
        if state.pressure.known:
            name = state.name.text or "normal"
            told = f"pressure above the atmosphere, {name}"
            acting = gauge_of(desk, state.pressure, f"states.pressure[{name}]", told)
            _bears(desk, rating, acting, f"in the state {name}", f"[{name}]")
    for standing in chamber.standings:
        at = desk.take(stated.rating_temperature)
        words = (
            f"the rating of the chamber holds at its temperature in the state {standing.state}",
            f"The vessel is hotter than the rating of the chamber holds in the state {standing.state}",
        )
        key, margin = f"chamber-hot[{standing.state}]", f"chamber.hot_margin[{standing.state}]"
        hot = standing.condition.temperature
        desk.compare_apart(key, words, hot, "at most", at, margin, by=TEMPERATURES, safety=True)


def _bears(desk: Desk, rating: Entry, acting: Entry, where: str, ending: str) -> None:
    words = f"the chamber bears the pressure {where}", f"The chamber does not bear the pressure {where}"
    key, left = f"chamber-pressure{ending}", f"pressure left to the rating of the chamber, {where}"
    margin = f"chamber.pressure_margin{ending}"
    desk.compare_apart(key, words, acting, "at most", rating, margin, left, by=PRESSURES, safety=True)
