"""A tank table as the papers print it: rows in the units of the case, and what the table must say of itself."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.case.leaf import Leaf
from onedatum.case.model.case import US_CUSTOMARY
from onedatum.foundation.units import in_print, in_unit
from onedatum.foundation.working import Entry, spell
from onedatum.jobs.paper_of_study import head_of
from onedatum.paper.model import State
from onedatum.paper.table.model import Column, Heel, Line, TankTable, Zone
from onedatum.study.result import Study
from onedatum.study.table import VesselTable, measures

LINEAR = "linear between neighbouring rows"
CAUTION = (
    "This table supports the competent person. It is no certificate of calibration: for trade and duty the table of "
    "the authorised body holds, with the limits of the law of the place."
)
_DECIMALS = ((1.0, 3), (100.0, 2), (1000.0, 1))
"""Up to this capacity in m3 so many decimals of a litre or a gallon."""
HEELS = (
    ("below the lowest measurable level now", "level.measurable_low", "quantity.volume_below_measurable"),
    ("below the outlet", "vessel.outlet", "vessel.volume_below_outlet"),
    ("below the limit of the pump", "vessel.pump_limit", "vessel.volume_below_pump_limit"),
)


def table_paper(study: Study, table: VesselTable) -> TankTable:
    """The record that text, CSV, XLSX and PDF print."""
    us = study.statement.case.print_units.word == US_CUSTOMARY
    length, volume = ("in", "US gal") if us else ("mm", "L")
    levels = [in_unit(value, length) for value in table.rows.levels_m.tolist()]
    volumes = [in_unit(value, volume) for value in table.rows.volumes_m3.tolist()]
    decimals = _decimals(float(table.rows.volumes_m3[-1]))
    slopes: list[float | None] = [
        (after - before) / (above - below)
        for below, above, before, after in zip(levels, levels[1:], volumes, volumes[1:], strict=False)
    ]
    return TankTable(
        head=head_of(study),
        level=Column("Level", length, 3 if us else 1 if _tenths(levels) else 0, tuple(levels)),
        volume=Column("Volume", volume, decimals, tuple(volumes)),
        slope=Column(f"per {length} to the next row", volume, decimals + 1, (*slopes, None)),
        vessel=tuple(_vessel(study)),
        conditions=tuple(_conditions(study, table, length)),
        interpolation=tuple(_interpolation(table, length, volume)),
        heels=tuple(_heels(study)),
        cautions=(CAUTION,),
        fine=table.finer,
        zones=tuple(_zones(table, length)),
    )


def _decimals(capacity_m3: float) -> int:
    return next((decimals for largest, decimals in _DECIMALS if capacity_m3 <= largest), 0)


def _tenths(levels: list[float]) -> bool:
    """Whether a level needs more than whole units."""
    return any(abs(level - round(level)) > 1e-6 for level in levels)


def _vessel(study: Study) -> Iterator[Line]:
    if study.vessel is not None:
        yield Line("inside", study.vessel.body.text)
    for leaf in measures(study):
        yield Line(_label(leaf), in_print(_said(leaf)), _state(leaf))


def _label(leaf: Leaf) -> str:
    """What a measure is; of an end or a part, whose."""
    section, _, _ = leaf.path.removeprefix("vessel.").rpartition(".")
    return f"{section.replace('_', ' ')}: {leaf.title}" if section else leaf.title


def _said(leaf: Leaf) -> str:
    return f"{leaf.text} (assumed)" if leaf.state == "assumed" else leaf.text


def _state(leaf: Leaf) -> State:
    return "assumed" if leaf.state == "assumed" else "stated" if leaf.state in ("stated", "none") else "unknown"


def _conditions(study: Study, table: VesselTable, length: str) -> Iterator[Line]:
    case, sheet = study.statement.case, study.sheet.entries
    vessel, kept = case.vessel, case.table
    yield _line("basis", kept.basis)
    yield _line("datum", vessel.datum)
    yield _line("shell temperature it holds for", vessel.table_temperature)
    if vessel.strapping.table_density.state != "unknown":
        yield _line("density of the liquid it holds for", vessel.strapping.table_density)
    listed = vessel.deadwood
    yield Line("deadwood", "none" if listed.state == "none" else listed.text, _state(listed))
    tilt = vessel.slope if vessel.slope.state != "unknown" else vessel.tilt
    yield Line("tilt", in_print(tilt.text) if tilt.state != "unknown" else "none stated", _state(tilt))
    for label, level in (("lowest level", table.rows.levels_m[0]), ("highest level", table.rows.levels_m[-1])):
        yield Line(label, in_print(spell(float(level), "m", length)))
    full: Entry | None = sheet.get("vessel.full_volume")
    yield Line("capacity", in_print(full.text) if full else "")
    yield _line("date", kept.date)
    step = in_print(spell(table.step_m, "m", length))
    yield Line("step", step if table.step_stated else f"{step} (not stated: common practice)")
    yield Line("interpolation rule", LINEAR)
    known = kept.U.known and kept.k.known
    yield Line("expanded uncertainty", f"{kept.U.text}, k = {kept.k.text}" if known else "", _state(kept.U))


def _line(label: str, leaf: Leaf) -> Line:
    return Line(label, in_print(leaf.text) if leaf.state != "unknown" else "", _state(leaf))


def _interpolation(table: VesselTable, length: str, volume: str) -> Iterator[str]:
    before, after = table.rows.before, table.rows.after
    spot, worst = after.by_volume, after.by_level
    yield (
        f"Between the rows the table differs from the vessel by at most {_volume(spot.error_m3, volume)}, at "
        f"{_level(spot.level_m, length)}; as a level by at most {_level(worst.error_m, length)}, at "
        f"{_level(worst.level_m, length)}."
    )
    if any(table.finer):
        yield (
            f"With rows of {_level(table.step_m, length)} alone it would be "
            f"{_volume(before.by_volume.error_m3, volume)} at {_level(before.by_volume.level_m, length)}, "
            f"as a level {_level(before.by_level.error_m, length)}."
        )


def _volume(value_m3: float, unit: str) -> str:
    return in_print(spell(abs(value_m3), "m3", "mL" if unit == "L" and abs(value_m3) < 1e-4 else unit))


def _level(value_m: float, unit: str) -> str:
    return in_print(spell(value_m, "m", unit))


def _heels(study: Study) -> Iterator[Heel]:
    sheet = study.sheet.entries
    for label, level, volume in HEELS:
        height, held = sheet.get(level), sheet.get(volume)
        if held is not None and height is not None:
            yield Heel(label, in_print(height.text), in_print(held.text) if held.known else "")
        elif level.startswith("vessel."):
            yield Heel(label, "", "")


def _zones(table: VesselTable, length: str) -> Iterator[Zone]:
    if table.zone_m is not None:
        low, high = (in_unit(end, length) for end in table.zone_m)
        yield Zone(low, high, "critical zone: the floating roof lands here, no figure for a quantity")
