"""The search of a float: which dimensions would keep the error asked over every fitted state, through this nozzle.

It is worked where the walls, the mass of the magnet and the error allowed are stated; it chooses nothing, it tells.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from onedatum.case.model.float import DISC
from onedatum.foundation.errors import QuantityError
from onedatum.foundation.numerics import Reals
from onedatum.foundation.units import show
from onedatum.foundation.working import Entry
from onedatum.physics.floats import (
    CYLINDER,
    Candidate,
    Chosen,
    Limits,
    Making,
    Wanted,
    best_floats,
    float_material,
    shell_rules,
)
from onedatum.physics.magnetostrictive import usual_budget
from onedatum.physics.overfill import margin_m
from onedatum.study.desk import Desk
from onedatum.study.stem.chapter import StemChapter
from onedatum.study.stem.fit import USUAL_RATIO, gas_above
from onedatum.study.stem.walls import WallsChapter
from onedatum.verdicts import Effect, Finding, Link

STEP_M, LEAST_M, TALLEST_M = 0.001, 0.015, 0.150
GAP_M = 0.005
"""What stays between nozzle and float (common practice)."""
NOT_CORRECTED = 1.0
"""The difference between the states stays in the reading."""


@dataclass(frozen=True)
class SearchChapter:
    """What was searched for and what was found."""

    chosen: Chosen
    form: str
    allowed: Entry
    largest: Entry
    """Largest float that passes the nozzle."""


def search_chapter(desk: Desk, stem: StemChapter, walls: WallsChapter) -> SearchChapter | None:
    """Search where all that it needs is known; None otherwise."""
    error = desk.case.wanted.error_allowed_of_level
    making, wanted = _making(desk), _wanted(desk, stem)
    pressures = [each.pressure.value for each in walls.acting]
    known = [value for value in pressures if value is not None]
    if making is None or wanted is None or error.si is None or len(known) < len(pressures):
        return None
    largest = _largest(desk)
    if largest.value is None or largest.value <= LEAST_M:
        return None
    limits = Limits(USUAL_RATIO, error.si, max((0.0, *known)))
    diameters, heights = _steps(LEAST_M, largest.value), _steps(LEAST_M, TALLEST_M)
    chosen = best_floats(making, wanted, limits, diameters, heights)
    found = SearchChapter(chosen, making.form, desk.take(error, "mm"), largest)
    if chosen.best is None:
        desk.findings.append(_none_serves(found))
    return found


def _largest(desk: Desk) -> Entry:
    gap = desk.sheet.give(
        "float.search_gap",
        GAP_M,
        "m",
        "gap kept between nozzle and float",
        state="constant",
        shown="mm",
        source="common-practice",
    )
    return desk.calc(
        "float.search_largest",
        margin_m,
        shown="mm",
        meaning="largest float that is searched: the nozzle less its gap",
        limit_m=desk.take(desk.case.nozzle.bore, "mm"),
        value_m=gap,
    )


def _steps(low: float, high: float) -> Reals:
    return np.arange(low, high + STEP_M / 2, STEP_M)


def _making(desk: Desk) -> Making | None:
    """What the float is made of, by the material kept; None while a part of it is unknown."""
    stated, rules = desk.case.instrument.float_, shell_rules()
    magnet = desk.case.instrument.magnet.mass
    desk.read.add(magnet.path)
    form = CYLINDER if stated.form.word == DISC else stated.form.word
    ends = stated.end_wall.si if stated.end_wall.known else stated.wall.si
    try:
        material = float_material(stated.metal.text)
    except QuantityError:
        return None
    strong, stiff, heavy = material.yield_Pa, material.elastic_modulus_Pa, material.density_kg_per_m3
    if strong is None or stiff is None or heavy is None or material.poisson_ratio is None or not form:
        return None
    if stated.wall.si is None or ends is None or stated.bore.si is None or magnet.si is None:
        return None
    return Making(
        form,
        stated.wall.si,
        ends,
        stated.bore.si,
        magnet.si,
        heavy.value,
        stiff.value if stated.elastic_modulus.si is None else stated.elastic_modulus.si,
        material.poisson_ratio.value,
        strong.value if stated.yield_strength.si is None else stated.yield_strength.si,
        rules.ball_knockdown.value,
        rules.cylinder_knockdown.value,
        rules.buckling_safety.value,
        rules.yield_safety.value,
    )


def _wanted(desk: Desk, stem: StemChapter) -> Wanted | None:
    """The liquids of every fitted state, how well they are known, and the friction."""
    liquids = [riding.condition.density.value for riding in stem.ridings]
    gas, gravity = gas_above(desk).value, desk.take(desk.case.site.g).value
    known = [value for value in liquids if value is not None]
    if len(known) < len(liquids) or gas is None or gravity is None:
        return None
    stated = desk.case.instrument.accuracy.density_known_to.si
    half = usual_budget().density_half_width_kg_per_m3.value if stated is None else stated
    friction = desk.case.instrument.float_.friction.si or 0.0
    count = len(known)
    return Wanted(np.array(known), np.full(count, gas), np.full(count, half), friction, gravity, NOT_CORRECTED)


def _none_serves(found: SearchChapter) -> Finding:
    """That no float of this making keeps the limits; one that does is told on the sheet alone, it is not ordered."""
    tried = found.chosen.tried
    nearest = found.chosen.nearest
    most = found.chosen.most_refusing
    chain = [Link(f"Of {tried} floats ({found.form}) none keeps every limit; most fail in", most)]
    if nearest is not None:
        chain += [Link("The nearest", size(nearest)), Link("It misses", "; ".join(nearest.misses))]
    return Finding(
        "float-search",
        "No float of this making keeps the error allowed through this nozzle",
        Effect.WARNING,
        tuple(chain),
        (Link("A larger nozzle, less friction, a better known density, another wall; or another principle"),),
    )


def size(candidate: Candidate) -> str:
    """Its diameter and height in words."""
    return f"{show(candidate.diameter_m, 'mm')} wide, {show(candidate.height_m, 'mm')} high"
