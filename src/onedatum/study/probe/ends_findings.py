"""What must be said of the ends of a rod: how they bend the line of its setting, or that nobody knows how far."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.foundation.units import show
from onedatum.study.desk import Desk
from onedatum.study.probe.changes import TOLD_M
from onedatum.study.probe.chapter import ProbeChapter
from onedatum.study.probe.ends import beside_ends, ends_count
from onedatum.study.probe.field import FieldCurve
from onedatum.study.probe.off import far_below_allowed, off
from onedatum.verdicts import Effect, Finding, Link

FAR_APART = Link(
    "Set at two levels, a vessel's radius away from tip and roof where there is room; or a concentric tube"
)
TRIAL = Link("A trial in the vessel itself, at three levels or more, shows how far the line bends")
FAR_FROM_ENDS = Link("Setting, range and alarm further than half the distance of the rods from tip and roof")


def ends_findings(desk: Desk, probe: ProbeChapter) -> Iterator[Finding]:
    """Tip, bottom and roof bend the line that two points of setting lay through it."""
    if probe.field is not None:
        yield from _bends(desk, probe.field)
    elif probe.bend is not None:
        yield from _about(desk, probe, probe.bend)
    else:
        yield from _open(desk, probe)


def _off(desk: Desk, field: FieldCurve) -> tuple[Link, ...]:
    """Where the reading is farthest off, and by how much; nothing where it is not worth a word."""
    worst = field.worst
    size = abs(worst.error.value or 0.0)
    if size < TOLD_M or far_below_allowed(desk, size):
        return ()
    word, text = off(worst.error)
    return (
        Link("A finer mesh moved the curve by, of the span", field.difference.text, field.difference.name),
        Link("Farthest off at", show(worst.level_m, "mm"), worst.capacitance.name),
        Link(f"There it reads too {word} by", text, worst.error.name),
    )


def _bends(desk: Desk, field: FieldCurve) -> Iterator[Finding]:
    if chain := _off(desk, field):
        title = "The ends of the rod bend the line: between its two points of setting the reading is off"
        ways = (Link("Enter the table that bends the line back, on the sheet of the probe; or a concentric tube"),)
        yield Finding("probe-bends", title, Effect.WARNING, chain, ways)


def _about(desk: Desk, probe: ProbeChapter, field: FieldCurve) -> Iterator[Finding]:
    """The roof lies higher than the end of the active length: a size to count with, and no table to enter."""
    if chain := _off(desk, field):
        title = "The ends of the rod bend the line; how far is worked only as though the roof lay at its upper end"
        told = Link(f"No curve to hold to: {probe.no_field}")
        yield Finding("probe-ends-about", title, Effect.WARNING, (told, *chain), (FAR_APART,))


def _open(desk: Desk, probe: ProbeChapter) -> Iterator[Finding]:
    """No field is worked of a liquid whose own field counts; one bound counts in its place, or nothing does."""
    if not ends_count(desk, probe):
        return
    chain = (Link(f"No field is worked: {probe.no_field}"),) if probe.no_field else ()
    bound = beside_ends(desk)
    if bound is None:
        title = "What the ends of the rod add is not known: until it is, no uncertainty of the level is known"
        yield Finding("probe-ends-open", title, Effect.WARNING, chain, (FAR_APART, TRIAL))
    elif not far_below_allowed(desk, bound.value or 0.0):
        title = "The ends of the two rods are counted by a bound alone: no field is worked of them"
        counted = Link("Counted as the most they move the level by, either way", bound.text, bound.name)
        yield Finding("probe-ends-beside", title, Effect.WARNING, (*chain, counted), (FAR_FROM_ENDS,))
