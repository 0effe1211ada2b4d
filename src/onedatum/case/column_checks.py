"""Contradictions in the statement of chamber and legs: taps, heights, temperatures that do not go together."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import pairwise

from onedatum.case.leaf import Value
from onedatum.case.model import Case
from onedatum.case.model.chamber import ColumnTemperature
from onedatum.case.model.instrument import BY_DIFFERENCE, BY_HEAD
from onedatum.case.model.legs import AT_LOWER, OF_INTERFACE, ONE_SIDE, STATED, THE_GAS, TWO_SIDES, Leg
from onedatum.case.model.vessel import LOWER_TAP
from onedatum.case.section import NONE
from onedatum.foundation.errors import Fault

_HEADS = {BY_HEAD: ONE_SIDE}
ALIKE_M = 1e-3
"""Heights that are stated twice may differ by as much as a drawing rounds."""


def column_contradictions(case: Case) -> Iterator[Fault]:
    """Every contradiction in chamber and legs."""
    for check in _CHECKS:
        yield from check(case)


def _taps(case: Case) -> Iterator[Fault]:
    for part in (case.chamber, case.legs):
        yield from _one_pair(case, part.lower_tap, part.upper_tap, part.taps_apart)


def _one_pair(case: Case, lower: Value, upper: Value, apart: Value) -> Iterator[Fault]:
    """The upper tap lies above the lower one, by the distance that is stated beside them."""
    at_datum = case.vessel.datum.word == LOWER_TAP
    low = 0.0 if lower.si is None and at_datum else lower.si
    if at_datum and lower.si:
        yield lower.fault("0 mm, or left away", "heights count from it: vessel.datum is the lower tap")
    if low is None or upper.si is None:
        return
    if upper.si <= low:
        yield upper.fault(
            f"above the lower tap, {lower.text or '0 mm'}", "taps are stated as they stand; these are exchanged"
        )
    elif apart.si is not None and abs(upper.si - low - apart.si) > ALIKE_M:
        yield apart.fault("the distance of the taps stated, or left away", "two statements of one distance")


def _datum(case: Case) -> Iterator[Fault]:
    vessel = case.vessel
    if vessel.datum.word == LOWER_TAP and vessel.shape.known:
        why = "the shape of a vessel is worked from its lowest inside point: state the taps by their heights over that"
        yield vessel.datum.fault("another datum beside a shape", why)


def _transmitter(case: Case) -> Iterator[Fault]:
    """One height for the transmitter."""
    legs = case.legs
    place, below = legs.transmitter, legs.below_lower_tap
    tap = 0.0 if legs.lower_tap.si is None and case.vessel.datum.word == LOWER_TAP else legs.lower_tap.si
    if not place.known or below.si is None:
        return
    stands = tap if place.word == AT_LOWER else place.si
    if tap is None or stands is None or abs(tap - stands - below.si) > ALIKE_M:
        yield below.fault("in keeping with the height of the transmitter, or left away", "two statements of one height")


def _one_side(case: Case) -> Iterator[Fault]:
    legs, principle = case.legs, case.instrument.principle
    if legs.measures.word == OF_INTERFACE and ONE_SIDE in (legs.kind.word, _HEADS.get(principle.word)):
        yield legs.measures.fault("level, with one tap", "one tap cannot tell an interface from a surface")
    if legs.measures.word == OF_INTERFACE and legs.upper_leg.filling.word == THE_GAS:
        why = "at an interface the upper tap is covered by the upper liquid"
        yield legs.upper_leg.filling.fault("a liquid, at an interface", why)
    if legs.kind.word == ONE_SIDE and legs.upper_leg.filling.known:
        yield legs.upper_leg.filling.fault("left away with one tap", "one tap has one leg")
    for kind, word in ((ONE_SIDE, BY_DIFFERENCE), (TWO_SIDES, BY_HEAD)):
        if legs.kind.word == kind and principle.word == word:
            yield legs.kind.fault(f"in keeping with the principle, {word}", "the one has two taps, the other has one")


def _fillings(case: Case) -> Iterator[Fault]:
    """A density belongs to a filling of stated density; with an expansion it needs its temperature."""
    for leg in (case.legs.lower_leg, case.legs.upper_leg):
        yield from _filling(leg)


def _filling(leg: Leg) -> Iterator[Fault]:
    if leg.density.known and leg.filling.known and leg.filling.word != STATED:
        yield leg.density.fault(f"left away where the leg holds {leg.filling.word}", "its density follows from that")
    if leg.filling.state == NONE and leg.filling.text and leg.density.state != NONE:
        yield leg.filling.fault("what fills the leg; an empty leg holds the gas above", "no leg holds nothing")


def _columns(case: Case) -> Iterator[Fault]:
    """One way to say how warm the column is."""
    for stated in (case.chamber.temperature, *(state.chamber_temperature for state in case.states)):
        yield from _column(stated)
        if stated.along.items and case.chamber.lower_line_rise.si:
            why = "thermometers along the chamber are worked with a level lower line"
            yield case.chamber.lower_line_rise.fault("0 mm beside thermometers along the chamber", why)


def _column(stated: ColumnTemperature) -> Iterator[Fault]:
    ends = [leaf for leaf in (stated.bottom, stated.surface) if leaf.known]
    if stated.mean.known and (ends or stated.along.items):
        yield stated.mean.fault("left away beside the ends, or the thermometers", "one column is stated in one way")
    elif ends and stated.along.items:
        yield ends[0].fault("left away beside the thermometers", "one column is stated in one way")
    heights = [row.height.si for row in stated.along.items]
    for (low, high), row in zip(pairwise(heights), stated.along.items[1:], strict=False):
        if low is not None and high is not None and high <= low:
            yield row.height.fault("above the thermometer before it", "thermometers are listed from the lowest up")


def _one_range(case: Case) -> Iterator[Fault]:
    """Where pressure measures, its range is that of the loop."""
    if case.instrument.principle.word not in (BY_DIFFERENCE, BY_HEAD):
        return
    for own, of_range in ((case.legs.lower, case.range.lower), (case.legs.upper, case.range.upper)):
        if own.si is not None and of_range.si is not None and abs(own.si - of_range.si) > ALIKE_M:
            why = "the transmitter that measures has the range of the loop"
            yield own.fault(f"left away, or the level of the range, {of_range.text}", why)


_CHECKS: tuple[Callable[[Case], Iterator[Fault]], ...] = (
    _taps,
    _datum,
    _transmitter,
    _one_side,
    _one_range,
    _fillings,
    _columns,
)
