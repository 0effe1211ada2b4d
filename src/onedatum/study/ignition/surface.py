"""An insulating layer on metal beside the limits of area, width and thickness, whichever instrument it is on."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.foundation.working import Entry
from onedatum.physics.ignition import SurfaceLimits, projected_area_m2
from onedatum.study.correlated import correlation_of
from onedatum.study.desk import Desk
from onedatum.study.judgement import ROUNDING
from onedatum.study.sensitivity import spread_of, standard_of, uncertain_under
from onedatum.verdicts import COVERAGE, Link

AGAINST = (
    Link("A layer that conducts (surface resistance at most 1 Gohm), a thinner one, or a metal tube outside"),
    Link("Away from the filling jet, no rubbing, by the special conditions of the certificate"),
)


@dataclass(frozen=True)
class Layer:
    """A layer: its thickness, the diameter over it, the area that it counts with."""

    thickness: Entry
    diameter: Entry
    area: Entry


@dataclass(frozen=True)
class Within:
    """Which of the limits are kept; what is not known is not kept."""

    area: bool
    width: bool
    layer: bool


def layer_on(desk: Desk, name: str, thickness: Entry, diameter: Entry, length: Entry) -> Layer:
    """The layer with its projected area, put down under the name."""
    meaning = "area of the insulating layer, by its largest projection"
    inputs = {"diameter_m": diameter, "length_m": length}
    area = desk.worked(name, projected_area_m2, inputs, shown="mm2", meaning=meaning)
    return Layer(thickness, diameter, area)


def within(desk: Desk, limits: SurfaceLimits, layer: Layer) -> Within:
    """Which of the limits the layer keeps, its uncertainty counted against it."""
    pairs = ((layer.area, limits.area_m2), (layer.diameter, limits.width_m), (layer.thickness, limits.layer_m))
    return Within(*(_kept(desk, value, limit) for value, limit in pairs))


def _kept(desk: Desk, entry: Entry, limit: float | None) -> bool:
    if entry.value is None or limit is None:
        return False
    return entry.value + _half(desk, entry) <= limit * (1 + ROUNDING)


def _half(desk: Desk, entry: Entry) -> float:
    """Expanded uncertainty (k = 2) of a number, by what is uncertain beneath it."""
    inputs = uncertain_under(entry)
    if not inputs or entry in inputs:
        return COVERAGE * standard_of(entry)
    spread = spread_of(desk.sheet, [entry.name], inputs, correlation_of(desk, inputs))
    return COVERAGE * spread.standard(entry.name)


def surface_chain(desk: Desk, limits: SurfaceLimits, layer: Layer) -> tuple[Link, ...]:
    """The surface beside its limits."""
    rows = (
        ("area", layer.area, limits.area_m2, "m2", "mm2"),
        ("width", layer.diameter, limits.width_m, "m", "mm"),
        ("layer", layer.thickness, limits.layer_m, "m", "mm"),
    )
    chain: list[Link] = []
    for what, value, limit, suffix, shown in rows:
        if limit is None:
            continue
        meaning = f"largest {what} of an insulating surface here"
        entry = desk.constant(f"charge.largest_{what}", limit, suffix, meaning, shown=shown, source=limits.source)
        chain.append(Link(f"{what.capitalize()}, at most {entry.text} ({limits.tag})", value.text, value.name))
    return tuple(chain)
