"""Contradictions in the statement of a capacitive probe: radii, heights and levels that do not go together."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from onedatum.case.model import Case
from onedatum.case.model.probe import BARE, BARE_TIP, BY_ROD, BY_STRIP, BY_TUBE, BY_WALL, COATED, CONDUCTS, Probe
from onedatum.foundation.errors import Fault

ALIKE_M = 1e-4
"""Two levels nearer than this set no line."""


def probe_contradictions(case: Case) -> Iterator[Fault]:
    """Every contradiction in the probe."""
    for check in _CHECKS:
        yield from check(case)


def _outside(probe: Probe) -> float | None:
    """Outside radius of the rod, coating and all."""
    diameter = probe.coating_diameter.si if probe.rod.word in (COATED, BARE_TIP) else probe.core_diameter.si
    return None if diameter is None else diameter / 2


def _coating(case: Case) -> Iterator[Fault]:
    probe = case.probe
    core, coating = probe.core_diameter.si, probe.coating_diameter.si
    if probe.rod.word == BARE and probe.coating_diameter.known:
        yield probe.coating_diameter.fault("left away with a bare rod", "a bare rod has no coating")
    elif core is not None and coating is not None and coating <= core:
        allowed = f"above the diameter of the core, {probe.core_diameter.text}"
        yield probe.coating_diameter.fault(allowed, "a coating has a thickness")


def _touching(case: Case) -> Iterator[Fault]:
    """The rod keeps off the wall, the earthed rod, the tube."""
    probe = case.probe
    rod, earth, wall = _outside(probe), probe.earth, probe.wall
    if rod is None:
        return
    if earth.kind.word == BY_TUBE and earth.tube_bore.si is not None and earth.tube_bore.si / 2 <= rod:
        yield earth.tube_bore.fault("wider than the rod with its coating", "the rod touches the tube")
    apart, other = earth.apart.si, earth.rod_diameter.si
    if earth.kind.word == BY_ROD and apart is not None and other is not None and apart <= rod + other / 2:
        yield earth.apart.fault("above the sum of both radii, from axis to axis", "the two rods touch")
    if earth.kind.word == BY_WALL and wall.equivalent_radius.si is not None and wall.equivalent_radius.si <= rod:
        yield wall.equivalent_radius.fault("wider than the rod with its coating", "the rod touches the wall")
    inside = case.vessel.inside_diameter.si
    if inside is not None and wall.off_axis.si is not None and wall.off_axis.si + rod >= inside / 2:
        allowed = "below the inside radius of the vessel less that of the rod"
        yield wall.off_axis.fault(allowed, "the rod touches the wall, or stands outside it")


def _strip(case: Case) -> Iterator[Fault]:
    """A strip lies on a wall that insulates, off the rod."""
    probe = case.probe
    rod, earth = _outside(probe), probe.earth
    if earth.kind.word not in BY_STRIP:
        return
    if probe.wall.kind.word == CONDUCTS:
        yield earth.kind.fault("no strip in a vessel of metal", "the wall itself is earth, and all of it")
    if rod is not None and earth.to_strip.si is not None and earth.to_strip.si <= rod:
        yield earth.to_strip.fault("above the radius of the rod with its coating", "the rod touches the strip")


def _ends(case: Case) -> Iterator[Fault]:
    probe = case.probe
    low, high = probe.active_from.si, probe.active_to.si
    if low is None or high is None:
        return
    if high <= low:
        yield probe.active_to.fault(
            f"above the lower end, {probe.active_from.text}", "the active length runs upwards from there"
        )
        return
    for level in (probe.set_low, probe.set_high):
        if level.si is not None and not low <= level.si <= high:
            allowed = f"on the active length, {probe.active_from.text} to {probe.active_to.text}"
            yield level.fault(allowed, "a level beyond the active length sets nothing")


def _radii(case: Case) -> Iterator[Fault]:
    wall = case.probe.wall
    if wall.equivalent_radius.known and wall.off_axis.known:
        yield wall.off_axis.fault(
            "left away beside the equivalent radius", "the radius already counts where the rod is"
        )


def _setting(case: Case) -> Iterator[Fault]:
    low, high = case.probe.set_low, case.probe.set_high
    if low.si is not None and high.si is not None and high.si - low.si < ALIKE_M:
        yield high.fault(f"above the lower level of the setting, {low.text}", "two levels that differ set a line")


def _film(case: Case) -> Iterator[Fault]:
    film = case.probe.film
    if film.thickness.known and (film.drained_for.known or film.drained_height.known):
        yield film.thickness.fault("left away beside the time and height of draining", "one film is stated in one way")


_CHECKS: tuple[Callable[[Case], Iterator[Fault]], ...] = (_coating, _touching, _strip, _radii, _ends, _setting, _film)
