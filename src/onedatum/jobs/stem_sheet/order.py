"""The data of the order: the same entries that the ruler and the elevation are drawn from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from onedatum.case.leaf import Leaf, Value
from onedatum.foundation.units import in_print
from onedatum.foundation.working import spell
from onedatum.jobs.safety_sheets.words import named, said, shown, two_columns
from onedatum.paper import model as paper
from onedatum.study.result import Study

IN_NOZZLE: tuple[tuple[str, str], ...] = (
    ("flange face above the datum", "nozzle.flange_face_height"),
    ("length of the stem, face to tip", "stem.length"),
    ("upper dead zone, face to magnet plane", "instrument.stem.dead_zone_high"),
)
"""Where a stem in a nozzle hangs, with the entries that the line and the drawings read."""

ON_CHAMBER: tuple[tuple[str, str], ...] = (
    ("upper end of the stem above the datum", "stem.upper_end"),
    ("length of the stem", "instrument.stem.length"),
    ("upper dead zone, upper end to magnet plane", "instrument.stem.dead_zone_high"),
)
"""Where a stem beside a chamber stands."""

HEIGHTS: tuple[tuple[str, str], ...] = (
    ("tip above the datum", "instrument.stem.tip_above_datum"),
    ("lower dead zone, tip to magnet plane", "instrument.stem.dead_zone_low"),
    ("lowest level measured", "level.measurable_low"),
    ("highest level measured", "level.measurable_high"),
    ("level at 4 mA (LRV)", "range.4 mA"),
    ("level at 20 mA (URV)", "range.20 mA"),
)
"""The heights that either has."""


def order_lines(study: Study) -> tuple[tuple[str, str], ...]:
    """Every line of the order: what, and its value; what is not known says so."""
    return tuple(_lines(study))


def order_table(study: Study) -> paper.SheetTable:
    """The lines of the order as a table."""
    note = "The elevation and the ruler are drawn from the same numbers."
    return two_columns("Data of the order", order_lines(study), note)


def _lines(study: Study) -> Iterator[tuple[str, str]]:
    case = study.statement.case
    instrument, nozzle = case.instrument, case.nozzle
    yield "principle", said(instrument.principle)
    yield "datum", said(case.vessel.datum)
    outside = study.measuring.outside is not None
    for what, name in (*(ON_CHAMBER if outside else IN_NOZZLE), *HEIGHTS):
        yield what, named(study, name)
    if not outside:
        yield "outside diameter of the stem", said(instrument.stem.outside_diameter)
        yield "bore of the nozzle", said(nozzle.bore)
        yield "clear height above the face", said(nozzle.headroom_above_face)
    yield from _float(study)
    yield from _interface(study)
    yield "density of the liquid, least", named(study, "medium.density_least")
    yield "temperature of the medium", _temperature(study)
    yield "operating pressure", ranged(case.pressure.operating)
    yield "test pressure", said(case.pressure.test)
    yield from _build(instrument.build.leaves())


def _temperature(study: Study) -> str:
    """As stated for the medium; where only its boiling says it, that of the state worked."""
    stated = study.statement.case.medium.temperature
    boiling = f"medium.temperature[{study.now.name}]"
    return ranged(stated) if stated.known or boiling not in study.sheet else named(study, boiling)


def ranged(value: Value) -> str:
    """A value with the ends of its range, where it has one; the ends are printed in the unit of its kind."""
    if value.low is None and value.high is None:
        return said(value)
    ends = " to ".join(spell(end, value.suffix) for end in (value.low, value.high) if end is not None)
    return (
        f"{said(value)}, from {in_print(ends)}" if value.low is not None else f"{said(value)}, up to {in_print(ends)}"
    )


def _float(study: Study) -> Iterator[tuple[str, str]]:
    stated = study.statement.case.instrument.float_
    yield "form of the float", said(stated.form)
    yield "outside diameter of the float", said(stated.outside_diameter)
    yield "bore of the float", said(stated.bore)
    yield "height of the float", shown(study.depth.stem.float_.height)
    yield "mass of the float", said(stated.mass)
    yield "material of the float", said(stated.metal)
    yield "pressure rating of the float", said(stated.pressure_rating)
    yield "mean density of the float", named(study, "float.mean_density")


def _interface(study: Study) -> Iterator[tuple[str, str]]:
    """The second float, where there is one."""
    interface, case = study.depth.interface, study.statement.case
    if interface is None:
        return
    stated = case.instrument.interface_float
    yield "floats on the stem", "two, the upper echo first"
    yield "form of the interface float", said(stated.form)
    yield "outside diameter of the interface float", said(stated.outside_diameter)
    yield "height of the interface float", shown(interface.float_.height)
    yield "mass of the interface float", said(stated.mass)
    yield "mean density of the interface float", shown(interface.float_.mean_density)
    yield "density of the lower liquid", ranged(case.interface.lower_density)
    yield "least upper layer", said(case.interface.upper_layer_least)


def _build(leaves: Iterable[Leaf]) -> Iterator[tuple[str, str]]:
    """The words of the build that are stated."""
    for leaf in leaves:
        if leaf.known:
            yield leaf.title, said(leaf)
