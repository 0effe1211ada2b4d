"""What the walls of a float bear: ball or shell, flat ends, tube of the bore, each brought down by the rules."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from onedatum.case.leaf import Value
from onedatum.case.model.float import CYLINDER, DISC, SPHERE
from onedatum.foundation.sources import Figure
from onedatum.foundation.working import Entry
from onedatum.physics.floats import (
    WallRule,
    allowed_by_buckling_difference_Pa,
    allowed_by_yield_difference_Pa,
    allowed_Pa_gauge,
    cylinder_modes_difference_Pa,
    cylinder_yield_difference_Pa,
    end_inner_radius_m,
    end_outer_radius_m,
    flat_end_factor,
    flat_end_yield_difference_Pa,
    shell_rules,
    sphere_buckling_difference_Pa,
    sphere_yield_difference_Pa,
    tube_radius_m,
    wall_radius_m,
)
from onedatum.study.desk import Desk
from onedatum.study.stem.float import Float
from onedatum.study.stem.materials import kept_material

POISSON = 0.3


@dataclass(frozen=True)
class _Walls:
    """What the walls are worked with."""

    diameter: Entry
    bore: Entry
    height: Entry
    wall: Entry
    end_wall: Entry
    bore_wall: Entry
    name: str
    """What the names of the entries begin with: which float it is."""
    modulus: Entry
    strength: Entry
    poisson: Entry


def wall_parts(desk: Desk, float_: Float, hot: bool) -> list[tuple[str, Entry]]:
    """Pressure that ball, shell, ends and tube are allowed; nothing while no wall is stated or no formula holds."""
    form = float_.stated.form.word
    if not float_.stated.wall.known or form not in (CYLINDER, DISC, SPHERE):
        return []
    walls = _walls(desk, float_, hot)
    found = [*_ball(desk, walls)] if form == SPHERE else [*_shell(desk, walls), _flat_ends(desk, walls)]
    if float_.stated.bore.known:
        found.append(_tube(desk, walls))
    return found


def _walls(desk: Desk, float_: Float, hot: bool) -> _Walls:
    stated = float_.stated
    wall = desk.take(stated.wall, "mm")
    material = kept_material(stated.metal.text)
    kept = None if hot else material
    return _Walls(
        desk.take(stated.outside_diameter, "mm"),
        desk.take(stated.bore, "mm"),
        float_.height,
        wall,
        desk.take(stated.end_wall, "mm") if stated.form.word != SPHERE else wall,
        desk.take(stated.bore_wall, "mm") if stated.bore_wall.known else wall,
        float_.name,
        _property(desk, stated.elastic_modulus, stated.metal.text, kept.elastic_modulus_Pa if kept else None, "GPa"),
        _property(desk, stated.yield_strength, stated.metal.text, kept.yield_Pa if kept else None, "MPa"),
        desk.sheet.give(
            f"{float_.name}.poisson_ratio",
            material.poisson_ratio.value if material and material.poisson_ratio else POISSON,
            "",
            "Poisson's ratio of the float wall",
            state="constant",
            source="materials-memory",
        ),
    )


def _property(desk: Desk, stated: Value, material: str, kept: Figure | None, shown: str) -> Entry:
    """A property as stated; where it is not, the figure kept of the material, marked as assumed.

    What is kept holds at ambient temperature: where the float is hotter, the figure at temperature must be stated.
    """
    if stated.known or kept is None:
        return desk.take(stated, shown)
    note = f"{material} at ambient temperature, {kept.tag}: not stated"
    return desk.usual(stated, kept.value, note, shown=shown, source=kept.source)


def _rule(desk: Desk, name: str, rule: WallRule) -> Entry:
    """A figure of the rules for walls, once on the sheet."""
    return desk.constant(f"float.rule_{name}", rule.value, "", rule.why, source=rule.source)


def _ball(desk: Desk, walls: _Walls) -> Iterator[tuple[str, Entry]]:
    forms = sphere_buckling_difference_Pa, sphere_yield_difference_Pa
    return _round(desk, walls, "ball", forms, ("ball_knockdown", shell_rules().ball_knockdown))


def _shell(desk: Desk, walls: _Walls) -> Iterator[tuple[str, Entry]]:
    forms = cylinder_modes_difference_Pa, cylinder_yield_difference_Pa
    knockdown = "cylinder_knockdown", shell_rules().cylinder_knockdown
    return _round(desk, walls, "shell", forms, knockdown, length_m=walls.height)


def _round(
    desk: Desk,
    walls: _Walls,
    part: str,
    forms: tuple[Callable[..., Any], Callable[..., Any]],
    knockdown: tuple[str, WallRule],
    **buckling_needs: Entry,
) -> Iterator[tuple[str, Entry]]:
    """A round wall pressed from outside, against buckling and against yield."""
    shape = {"radius_m": _radius(desk, walls), "wall_m": walls.wall}
    stiff = {"elastic_modulus_Pa": walls.modulus, "poisson_ratio": walls.poisson, **shape, **buckling_needs}
    buckles = desk.worked(f"{walls.name}.{part}_buckling", forms[0], stiff, shown="bar")
    yield f"the {part} against buckling", _by_buckling(desk, walls.name, part, buckles, _rule(desk, *knockdown))
    yields = desk.worked(f"{walls.name}.{part}_yield", forms[1], {"yield_Pa": walls.strength, **shape}, shown="bar")
    yield f"the {part} against yield", _by_yield(desk, walls.name, part, yields)


def _flat_ends(desk: Desk, walls: _Walls) -> tuple[str, Entry]:
    outer = desk.calc(
        f"{walls.name}.end_outer_radius", end_outer_radius_m, shown="mm", diameter_m=walls.diameter, wall_m=walls.wall
    )
    inner = desk.calc(
        f"{walls.name}.end_inner_radius", end_inner_radius_m, shown="mm", bore_m=walls.bore, wall_m=walls.bore_wall
    )
    factor = desk.calc(f"{walls.name}.end_factor", flat_end_factor, outer_radius_m=outer, inner_radius_m=inner)
    yields = desk.calc(
        f"{walls.name}.end_yield",
        flat_end_yield_difference_Pa,
        shown="bar",
        yield_Pa=walls.strength,
        factor=factor,
        outer_radius_m=outer,
        wall_m=walls.end_wall,
    )
    return "the flat ends against yield", _by_yield(desk, walls.name, "end", yields)


def _tube(desk: Desk, walls: _Walls) -> tuple[str, Entry]:
    radius = desk.calc(
        f"{walls.name}.bore_tube_radius", tube_radius_m, shown="mm", bore_m=walls.bore, wall_m=walls.bore_wall
    )
    yields = desk.calc(
        f"{walls.name}.bore_tube_yield",
        cylinder_yield_difference_Pa,
        shown="bar",
        meaning="pressure at which the tube of the bore yields, pressed from within",
        yield_Pa=walls.strength,
        radius_m=radius,
        wall_m=walls.bore_wall,
    )
    return "the tube of the bore against yield", _by_yield(desk, walls.name, "bore_tube", yields)


def _radius(desk: Desk, walls: _Walls) -> Entry:
    return desk.calc(
        f"{walls.name}.wall_radius", wall_radius_m, shown="mm", diameter_m=walls.diameter, wall_m=walls.wall
    )


def _by_buckling(desk: Desk, name: str, part: str, pressure: Entry, knockdown: Entry) -> Entry:
    return desk.calc(
        f"{name}.{part}_allowed_by_buckling",
        allowed_by_buckling_difference_Pa,
        shown="bar",
        buckling_difference_Pa=pressure,
        knockdown=knockdown,
        safety=_rule(desk, "buckling_safety", shell_rules().buckling_safety),
    )


def _by_yield(desk: Desk, name: str, part: str, pressure: Entry) -> Entry:
    return desk.calc(
        f"{name}.{part}_allowed_by_yield",
        allowed_by_yield_difference_Pa,
        shown="bar",
        yield_difference_Pa=pressure,
        safety=_rule(desk, "yield_safety", shell_rules().yield_safety),
    )


def weakest_wall(desk: Desk, name: str, parts: list[tuple[str, Entry]]) -> Entry:
    least = desk.sheet.select(
        f"{name}.allowed_difference",
        "least",
        "pressure that the weakest wall is allowed",
        [entry for _, entry in parts],
    )
    return desk.calc(f"{name}.allowed_pressure", allowed_Pa_gauge, shown="bar(g)", allowed_difference_Pa=least)
