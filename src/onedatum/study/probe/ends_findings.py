"""What must be said of the ends of a rod: how they bend the line of its setting, or that nobody knows how far."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.case.model.probe import BY_WALL
from onedatum.foundation.units import show
from onedatum.study.desk import Desk
from onedatum.study.probe.changes import TOLD_M
from onedatum.study.probe.chapter import ProbeChapter
from onedatum.study.probe.field import FieldCurve
from onedatum.study.probe.off import off
from onedatum.study.probe.regime import BETWEEN, INSULATING
from onedatum.verdicts import Effect, Finding, Link

FAR_APART = Link(
    "Set at two levels, a vessel's radius away from tip and roof where there is room; or a concentric tube"
)


def ends_findings(desk: Desk, probe: ProbeChapter) -> Iterator[Finding]:
    """Tip, bottom and roof bend the line that two points of setting lay through it."""
    if probe.field is not None:
        yield from _bends(probe, probe.field)
    elif probe.bend is not None:
        yield from _about(probe, probe.bend)
    else:
        yield from _open(desk, probe)


def _off(field: FieldCurve) -> tuple[Link, ...]:
    """Where the reading is farthest off, and by how much; nothing where it is not worth a word."""
    worst = field.worst
    if abs(worst.error.value or 0.0) < TOLD_M:
        return ()
    word, size = off(worst.error)
    return (
        Link("A finer mesh moved the curve by, of the span", field.difference.text, field.difference.name),
        Link("Farthest off at", show(worst.level_m, "mm"), worst.capacitance.name),
        Link(f"There it reads too {word} by", size, worst.error.name),
    )


def _bends(probe: ProbeChapter, field: FieldCurve) -> Iterator[Finding]:
    if chain := _off(field):
        title = "The ends of the rod bend the line: between its two points of setting the reading is off"
        ways = (Link("Enter the table that bends the line back, on the sheet of the probe; or a concentric tube"),)
        yield Finding("probe-bends", title, Effect.WARNING, chain, ways)


def _about(probe: ProbeChapter, field: FieldCurve) -> Iterator[Finding]:
    """The roof lies higher than the end of the active length: a size to count with, and no table to enter."""
    if chain := _off(field):
        title = "The ends of the rod bend the line; how far is worked only as though the roof lay at its upper end"
        told = Link(f"No curve to hold to: {probe.no_field}")
        yield Finding("probe-ends-about", title, Effect.WARNING, (told, *chain), (FAR_APART,))


def _open(desk: Desk, probe: ProbeChapter) -> Iterator[Finding]:
    """A rod against the wall, in a liquid whose own field counts; a liquid that conducts is the other plate itself."""
    against_wall = desk.case.probe.earth.kind.word == BY_WALL and probe.closes
    if not (against_wall and probe.no_field and probe.regime.word in (INSULATING, BETWEEN)):
        return
    yield Finding(
        "probe-ends-open",
        "What the ends of the rod add is not known: no uncertainty of the level counts it",
        Effect.WARNING,
        (Link(f"No field is worked: {probe.no_field}"),),
        (FAR_APART,),
    )
