"""The ruler of a study: vessel, marks and scales on one height, as the paper room draws them."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.case.model.case import US_CUSTOMARY
from onedatum.case.model.vessel import ON_HOPPER, RECTANGULAR
from onedatum.foundation.units import in_print, in_unit
from onedatum.foundation.working import Entry
from onedatum.jobs.gauge_of_study import float_of, nozzle_of, stem_of
from onedatum.paper import model as paper
from onedatum.study.findings import ALARM_NEVER_COMES
from onedatum.study.outline import axis_is_plumb, outline
from onedatum.study.result import Study
from onedatum.study.scales import Scales, scales
from onedatum.verdicts import Effect

HIGH_HIGH = "overfill.high_high"
MARKS: tuple[tuple[str, str, paper.MarkKind], ...] = (
    ("nozzle.flange_face_height", "flange face", "geometry"),
    ("level.measurable_high", "dead zone", "dead zone"),
    ("vessel.inside_height", "inside top", "geometry"),
    ("overfill.CH", "CH critical", "critical"),
    ("range.20 mA", "URV 20 mA", "range"),
    (HIGH_HIGH, "HH alarm", "alarm"),
    ("overfill.set_points.AOPS", "AOPS", "alarm"),
    ("overfill.working", "MW", "range"),
    ("overfill.set_points.H", "H alarm", "alarm"),
    ("overfill.set_points.L", "L alarm", "alarm"),
    ("overfill.set_points.LL", "LL alarm", "alarm"),
    ("loop.last_good_level", "loop ends", "loop end"),
    ("range.4 mA", "LRV 4 mA", "range"),
    ("level.measurable_low", "dead zone", "dead zone"),
    ("instrument.stem.tip_above_datum", "stem end", "geometry"),
    ("probe.active_to", "active to", "geometry"),
    ("probe.active_from", "active from", "geometry"),
)
"""Entries that are marked on the ruler, with their names there."""

SQUARE = (RECTANGULAR, ON_HOPPER)
"""Shapes whose width is no diameter."""
ROUNDING = 1e-9
"""Share by which the end of a scale may miss a limit that it was made to meet."""


def ruler_of(study: Study) -> paper.Ruler | None:
    """The ruler; None while the vessel is unknown."""
    tables = scales(study)
    return None if tables is None else ruler_with(study, tuple(_scales(study, tables)))


def ruler_with(study: Study, columns: tuple[paper.Scale, ...]) -> paper.Ruler:
    """The ruler with the given scales; without an outline while the vessel is unknown."""
    return paper.Ruler(
        datum=study.statement.case.vessel.datum.word or "the lowest inside point",
        outline=outline(study),
        scales=columns,
        marks=tuple(mark for _, mark in marks_of(study)),
        bands=tuple(_bands(study)),
        nozzle=_nozzle(study),
        stem=_stem(study),
        working_range=_working_range(study),
        level_m=study.value("level_now"),
        is_round=study.statement.case.vessel.shape.word not in SQUARE,
        section=_section(study),
    )


def _section(study: Study) -> str:
    """What the outline beside the scales is."""
    return "half section" if axis_is_plumb(study) else "half section across, at the gauge"


def _no_alarm(study: Study) -> bool:
    return any(finding.key == ALARM_NEVER_COMES and finding.effect is Effect.BLOCKS for finding in study.findings)


def marks_of(study: Study) -> Iterator[tuple[str, paper.Mark]]:
    """Every mark of the ruler with the entry it shows; the datum has none."""
    blocked = _no_alarm(study)
    for name, label, kind in MARKS:
        entry = _stands(study, name)
        if entry is None or (height := entry.value) is None:
            continue
        blocks = blocked and name in (HIGH_HIGH, "loop.last_good_level")
        shown = "HH no signal" if blocks and name == HIGH_HIGH else label
        if name == "level.measurable_high" and _float_governs(study):
            shown = "float at crown"
        yield entry.name, paper.Mark(shown, height, kind, blocks, entry.rests_on_assumed)
    yield "", paper.Mark("datum", 0.0, "datum")


def _stands(study: Study, name: str) -> Entry | None:
    """The entry of a mark; HH stands where it is set, else at its highest place."""
    overfill = study.safe.overfill
    if name == HIGH_HIGH:
        return overfill.high_high.stands if overfill is not None else None
    return study.sheet.entries.get(name)


def _float_governs(study: Study) -> bool:
    """Whether the float under the crown, not the dead zone, ends what can be measured."""
    ends = [study.value(f"level.highest_by_{what}[{study.now.name}]") for what in ("float", "dead_zone")]
    by_float, by_zone = ends
    return by_float is not None and by_zone is not None and by_float < by_zone


def _bands(study: Study) -> Iterator[paper.Band]:
    top = study.value("vessel.inside_height") or 0.0
    face = study.value("nozzle.flange_face_height") or top
    measured = study.value("level.measurable_low"), study.value("level.measurable_high")
    yield from _outside("dead zone", *measured, face)
    ends = study.value("range.low"), study.value("range.high")
    yield from _outside("outside range", *ends, face)
    alarm, critical = _stands(study, HIGH_HIGH), study.value("overfill.CH")
    high_high = alarm.value if alarm is not None else None
    if high_high is not None and critical is not None and high_high < critical:
        yield paper.Band("response time", high_high, critical)


def _outside(kind: paper.BandKind, low: float | None, high: float | None, top: float) -> Iterator[paper.Band]:
    if low is not None and low > 0.0:
        yield paper.Band(kind, 0.0, low)
    if high is not None and high < top:
        yield paper.Band(kind, high, top)


def _nozzle(study: Study) -> paper.Nozzle | None:
    nozzle = nozzle_of(study)
    return None if nozzle is None else paper.Nozzle(*nozzle)


def _stem(study: Study) -> paper.Stem | None:
    stem, (diameter, height, immersion) = stem_of(study), float_of(study)
    if stem is None:
        return None
    return paper.Stem(*stem, float_diameter_m=diameter, float_height_m=height, float_immersion_m=immersion)


def _working_range(study: Study) -> paper.WorkingRange | None:
    low, high = study.value("range.low"), study.value("range.high")
    if low is None or high is None:
        return None
    return paper.WorkingRange(low, high, f"working range {in_unit(high - low, 'mm'):.0f}")


def _scales(study: Study, tables: Scales) -> Iterator[paper.Scale]:
    top = float(tables.levels_m[-1])
    for unit, decimals in (("mm", 0), ("in", 2)):
        yield paper.Scale(unit, "over datum", (0.0, top), (0.0, in_unit(top, unit)), decimals)
    signal = _carried(study, tables)
    yield _scale(study, signal, "signal.span_share", "%", "output", "%", 2)
    yield _scale(study, signal, "signal.current", "mA", "output", "mA", 3)
    if "signal.line_voltage" in study.sheet:
        on = in_print(f"on {study.sheet['loop.test_resistor'].text}")
        yield _scale(study, signal, "signal.line_voltage", "mV", on, "mV", 1)
    now = in_print(study.now.temperature.text)
    us = study.statement.case.print_units.word == US_CUSTOMARY
    volume, mass = (("US gal", "US gal", 1), ("lb", "lb", 0)) if us else (("m³", "m3", 3), ("kg", "kg", 1))
    for name, (label, unit, decimals) in (("quantity.table_volume", volume), ("quantity.mass", mass)):
        yield _scale(study, tables, name, label, f"table; at {now}", unit, decimals)
    if "quantity.pure_alcohol" in study.sheet:
        yield _scale(study, tables, "quantity.pure_alcohol", "L pure", "at 20 °C", "L", 1)


def _scale(study: Study, tables: Scales, name: str, label: str, group: str, unit: str, decimals: int) -> paper.Scale:
    column = tables.columns.get(name)
    if column is None or not column.size:
        return paper.Scale(label, group, (), (), decimals, unknown=_missing(study, study.sheet.entries.get(name)))
    values = tuple(in_unit(value, unit) for value in column.tolist())
    stop = _stop(study) if name.startswith("signal.") else None
    assumed = study.sheet[name].rests_on_assumed
    return paper.Scale(label, group, tuple(tables.levels_m.tolist()), values, decimals, stop, assumed=assumed)


def _carried(study: Study, tables: Scales) -> Scales:
    """The part of the scales that the current carries: between the ends of the measurement information."""
    current = tables.columns.get("signal.current")
    ends = [study.sheet[f"range.saturation.{end}"].value for end in ("low", "high")]
    if current is None or None in ends:
        return tables
    low, high = (end or 0.0 for end in ends)
    carried = (current >= low * (1.0 - ROUNDING)) & (current <= high * (1.0 + ROUNDING))
    return Scales(tables.levels_m[carried], {name: column[carried] for name, column in tables.columns.items()})


def _stop(study: Study) -> paper.Stop | None:
    """Where the signal ends below the inside top: by the supply of the loop, else by the measurement information.

    In a reverse acting range the current falls as the level rises: it does not end at the top.
    """
    lower, upper = study.value("range.4 mA"), study.value("range.20 mA")
    if lower is None or upper is None or upper < lower:
        return None
    for level, current, words in (
        ("loop.last_good_level", "loop.last_good_current", "no reliable signal above"),
        ("range.level_at_saturation_high", "range.saturation.high", "signal ends at"),
    ):
        height, end = study.value(level), study.value(current)
        if height is not None and end is not None:
            return paper.Stop(height, f"{words} {in_unit(end, 'mA'):.2f}")
    return None


def _missing(study: Study, entry: Entry | None) -> str:
    titles = {leaf.path: leaf.title for leaf in study.statement.case.leaves()}
    paths = entry.waits_for if entry else ()
    return titles.get(paths[0], paths[0]) if paths else "not in this case"
