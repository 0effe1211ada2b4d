"""Contradictions in the statement of the instrument: float, magnet, build, interface."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.case.leaf import Value
from onedatum.case.model import Case
from onedatum.case.model.build import ON_CHAMBER, PLASTIC
from onedatum.case.model.float import BARS, RING, SPHERE, Float, Magnet
from onedatum.case.model.instrument import FLEXIBLE, IN_CHAMBER
from onedatum.case.section import NONE
from onedatum.foundation.errors import Fault

PLASTICS = ("polypropylene", "pvdf", "ptfe", "pp", "pfa", "foam")
RING_TOLERANCE = 0.02
"""By how much of it the opening of a ring may miss its diameter less twice its height."""


def gauge_contradictions(case: Case) -> Iterator[Fault]:
    """Every contradiction in what is stated of the instrument."""
    instrument = case.instrument
    for float_ in (instrument.float_, instrument.interface_float):
        yield from _float(float_)
    yield from _magnet(instrument.magnet, instrument.float_)
    yield from _build(case)
    yield from _speed(case)
    yield from _tip(case)
    yield from _bore(case)


def _above(larger: Value, smaller: Value, words: str, why: str) -> Iterator[Fault]:
    """A fault where a length that must be the larger is not."""
    if larger.si is not None and smaller.si is not None and larger.si <= smaller.si:
        yield larger.fault(f"above the {words}, {smaller.text}", why)


def _float(float_: Float) -> Iterator[Fault]:
    diameter, height, bore = float_.outside_diameter.si, float_.height.si, float_.bore.si
    if float_.form.word == RING and diameter is not None and height is not None:
        opening = diameter - 2 * height
        if opening <= 0:
            why = "a ring as thick as that leaves no room for the stem"
            yield float_.height.fault("less than half the outside diameter of the ring", why)
        elif bore is not None and abs(opening - bore) > RING_TOLERANCE * diameter:
            why = "the opening of a ring is its outside diameter less twice its height"
            yield float_.bore.fault(f"about {opening * 1e3:.1f} mm", why)
    if float_.form.word == SPHERE and float_.height.known:
        yield float_.height.fault("left away or none", "a ball is as high as its bore is long")
    for wall in (float_.wall, float_.bore_wall):
        if wall.si is not None and diameter is not None and 2 * wall.si >= diameter:
            yield wall.fault(f"less than half the diameter, {float_.outside_diameter.text}", "a float is hollow")


def _magnet(magnet: Magnet, float_: Float) -> Iterator[Fault]:
    """A ring of a size that can be, inside the float and around the stem."""
    if magnet.form.word == BARS:
        return
    why = "the wire runs through the ring"
    yield from _above(magnet.outside_diameter, magnet.inside_diameter, "inside diameter of the magnet", why)
    inside, outside = magnet.inside_diameter, magnet.outside_diameter
    if inside.si is not None and float_.bore.si is not None and inside.si < float_.bore.si:
        yield inside.fault(f"at least the bore of the float, {float_.bore.text}", "the magnet sits in the float")
    widest = float_.outside_diameter
    if outside.si is not None and widest.si is not None and outside.si > widest.si:
        yield outside.fault(f"at most the diameter of the float, {widest.text}", "the magnet sits in the float")


def _build(case: Case) -> Iterator[Fault]:
    build, float_ = case.instrument.build, case.instrument.float_
    plastic = any(float_.metal.text.lower().startswith(name) for name in PLASTICS)
    if float_.metal.known and build.float_.known and (build.float_.word == PLASTIC) != plastic:
        yield build.float_.fault(f"the kind of the material stated, {float_.metal.text}", "one float has one material")
    if build.bend_radius.known and case.instrument.principle.word not in (FLEXIBLE, ""):
        yield build.bend_radius.fault("left away for a rigid stem", "a rigid stem is not bent")


def _bore(case: Case) -> Iterator[Fault]:
    """Only a float in a chamber has no bore: in the tank it travels on its stem."""
    bore = case.instrument.float_.bore
    beside = case.instrument.principle.word == IN_CHAMBER or case.instrument.build.place.word == ON_CHAMBER
    if bore.state == NONE and bore.text and case.instrument.principle.known and not beside:
        yield bore.fault("stated, for a float on its stem", "the stem runs through it")


def _tip(case: Case) -> Iterator[Fault]:
    """Below the datum only beside a chamber, which reaches further down than its vessel is measured."""
    tip, instrument = case.instrument.stem.tip_above_datum, case.instrument
    beside = instrument.principle.word == IN_CHAMBER or instrument.build.place.word == ON_CHAMBER
    if tip.si is not None and tip.si < 0.0 and not beside:
        yield tip.fault("from 0 mm to 50000 mm", "a stem in the tank ends above its bottom")


def _speed(case: Case) -> Iterator[Fault]:
    """One figure for the speed; no wire is without a speed, no record without samples."""
    wire, echo, accuracy = case.instrument.waveguide, case.instrument.echo, case.instrument.accuracy
    for leaf in (wire.speed, wire.slowness, echo.pulse_width, echo.sampling, accuracy.clock):
        if leaf.state == NONE and leaf.text:
            yield leaf.fault("a figure, or left away where it is not known", "no instrument is without it")
    if wire.speed.known and wire.slowness.known:
        yield wire.slowness.fault("left away beside the speed", "one instrument has one figure")
