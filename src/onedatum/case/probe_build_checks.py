"""Contradictions in the build of a capacitive probe: words that have no use there, or are said elsewhere already."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from onedatum.case.leaf import Leaf
from onedatum.case.model import Case
from onedatum.case.model.instrument import CAPACITIVE
from onedatum.case.model.probe import BARE, BARE_TIP, BY_ROD, BY_TUBE, NO
from onedatum.case.model.probe_build import ROD
from onedatum.foundation.errors import Fault

UNSEEN = "nothing would be judged by it"


def probe_build_contradictions(case: Case) -> Iterator[Fault]:
    """Every contradiction in the build of the probe."""
    for check in _CHECKS:
        yield from check(case)


def _left_away(leaves: tuple[Leaf, ...], where: str, why: str = UNSEEN) -> Iterator[Fault]:
    for leaf in leaves:
        if leaf.known:
            yield leaf.fault(f"left away {where}", why)


def _rod(case: Case) -> Iterator[Fault]:
    """What only a rope, and only a coating has."""
    build = case.probe.build
    if build.form.word == ROD:
        yield from _left_away((build.anchor_length, build.rope_stretch), "with a rod", "it has no weight below it")
    if case.probe.rod.word == BARE:
        adheres = (build.coating_adheres, build.pressure_min)
        yield from _left_away(adheres, "with a bare rod", "vacuum lifts a coating, and there is none")
        yield from _left_away((case.probe.gland.film_length,), "with a bare rod", "the film bridges its ring")


def _earth(case: Case) -> Iterator[Fault]:
    """What only an earthed rod, and only a tube has."""
    earth = case.probe.earth
    if earth.kind.known and earth.kind.word != BY_ROD:
        yield from _left_away((earth.reaches_to,), "without an earthed rod")
    if earth.kind.known and earth.kind.word != BY_TUBE:
        yield from _left_away((earth.vented, earth.drained), "without an earthed tube")


def _gland(case: Case) -> Iterator[Fault]:
    gland = case.probe.gland
    if gland.bridge.word == NO:
        film = (gland.film_thickness, gland.film_conductivity, gland.film_length)
        yield from _left_away(film, "where no film can bridge the gland")
    ring, core = case.probe.gland_diameter, case.probe.core_diameter
    if ring.si is not None and core.si is not None and ring.si <= core.si:
        yield ring.fault(f"above the diameter of the core, {core.text}", "the ring insulates the core from the wall")


def _inactive(case: Case) -> Iterator[Fault]:
    probe = case.probe
    if probe.rod.word == BARE_TIP and (probe.inactive_length.state == "none" or probe.inactive_length.si == 0.0):
        allowed = "the length of the coated part, down from the sealing face"
        yield probe.inactive_length.fault(allowed, "a rod with a bare tip is coated above it")


def _charge(case: Case) -> Iterator[Fault]:
    """The coating of a probe is stated once; a probe has no float."""
    charge = case.charge
    if case.instrument.principle.word != CAPACITIVE:
        return
    layer = (charge.layer, charge.layer_diameter, charge.layer_length)
    yield from _left_away(layer, "with a capacitive probe", "its coating is stated as probe.coating_diameter")
    core = (charge.core_earthed,)
    yield from _left_away(core, "with a capacitive probe", "its way to earth is stated as probe.bleed")
    floats = (charge.float_surface, charge.float_bonded, charge.float_capacitance)
    yield from _left_away(floats, "with a capacitive probe", "it has no float")


_CHECKS: tuple[Callable[[Case], Iterator[Fault]], ...] = (_rod, _earth, _gland, _inactive, _charge)
