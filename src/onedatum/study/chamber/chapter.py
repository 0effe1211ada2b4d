"""Chapter chamber: the level in it beside that in the vessel, how 4 and 20 mA are set, what other states then show."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from onedatum.case.model.build import ON_CHAMBER
from onedatum.case.model.chamber import TAP_IN_EACH
from onedatum.case.model.instrument import IN_CHAMBER
from onedatum.foundation.working import Entry
from onedatum.physics.bypass import (
    collapsed_level_m,
    column_factor,
    lower_layer_m,
    one_liquid_chamber_level_m,
    shown_by_setting_m,
    vessel_level_m,
)
from onedatum.physics.loop import current_A
from onedatum.physics.taps import level_error_m
from onedatum.physics.uncertainty import combined_standard, contributions
from onedatum.study.budget import with_column
from onedatum.study.chamber.column import LEVEL_NOW, NO_SHIFT, Standing, Surroundings
from onedatum.study.chamber.lag import LagChapter, lag_chapter
from onedatum.study.correlated import correlation_of
from onedatum.study.desk import NONE, Desk
from onedatum.study.marks import signal_marks
from onedatum.study.sensitivity import spread_of, uncertain_under
from onedatum.study.states import StatesChapter
from onedatum.study.stem.accuracy import error_allowed
from onedatum.study.taps import Taps, taps_of

"""The quarters of the signal, at which vessel and chamber are told side by side."""


@dataclass(frozen=True)
class Row:
    """One level in the vessel, that in the chamber, and what a chamber nobody corrects is out by."""

    current: Entry
    level: Entry
    """Above the datum."""
    above: Entry
    """Above the lower tap."""
    in_chamber: Entry
    """Above the lower tap."""
    error: Entry


@dataclass(frozen=True)
class ChamberChapter:
    """What the stem, the findings and the sheet need of the chamber."""

    taps: Taps
    standings: tuple[Standing, ...]
    """States of the liquid itself in which the instrument is fitted."""
    stand_ins: tuple[Standing, ...]
    level: Entry
    """The level now above the lower tap."""
    in_chamber: Entry
    error: Entry
    """Level in the chamber less that in the vessel."""
    uncorrected: Entry
    """The current of a chamber whose level is taken for that of the vessel."""
    straight: Entry
    """The current that belongs to the level in the vessel."""
    rows: tuple[Row, ...]
    lower_set: Entry
    """Level in the chamber that 4 mA is set at."""
    upper_set: Entry
    standard: Entry | None
    """Standard uncertainty of the level in the vessel by what is uncertain of the densities; None where nothing is."""
    standard_in_chamber: Entry | None
    bent: Entry | None
    """What a straight line through both ends is out by at the level now; None for a column of one mean density."""
    lag: LagChapter | None
    layers: Entry | None
    """What a chamber with one liquid shows beside two; None without an interface."""
    collapsed: Entry | None

    @property
    def now(self) -> Standing:
        """The chamber in the state that quantities are stated for."""
        return self.standings[0]

    def uncertainty(self, desk: Desk, level_u: Entry) -> Entry:
        """The uncertainty of the level with that of the chamber."""
        if self.standard is None:
            return level_u
        meaning = "expanded uncertainty of the level with that of the chamber, k = 2"
        return with_column(desk, "chamber.level_uncertainty", level_u, self.standard, meaning)


def has_chamber(desk: Desk) -> bool:
    """Whether the case speaks of a chamber; where it does not, its keys mean nothing."""
    chamber, instrument = desk.case.chamber, desk.case.instrument
    chosen = instrument.principle.word == IN_CHAMBER or instrument.build.place.word == ON_CHAMBER
    found = chosen or any(leaf.known for leaf in chamber.leaves())
    if not found:
        desk.skip(*chamber.leaves())
        desk.skip(*(leaf for state in desk.case.states for leaf in state.chamber_temperature.leaves()))
    return found


def chamber_chapter(desk: Desk, states: StatesChapter) -> ChamberChapter:
    """Work the columns in every state, and the setting in the first of them."""
    stated = desk.case.chamber
    desk.read.update((stated.metal.path, stated.connections.path))
    taps = taps_of(desk, "chamber", stated.lower_tap, stated.upper_tap, stated.taps_apart)
    level = taps.above_tap(desk, LEVEL_NOW, desk.take(desk.case.level_now, "mm"), "level now")
    surroundings = Surroundings(desk, states.liquid)
    standings = tuple(surroundings.standing(each) for each in states.fitted or (states.now,))
    stand_ins = tuple(surroundings.standing(each) for each in states.stand_ins)
    now = standings[0]
    for each in standings:
        _beside(desk, each, level)
    in_chamber, error = desk.sheet[f"chamber.level[{now.state}]"], desk.sheet[f"chamber.error[{now.state}]"]
    rows = tuple(_rows(desk, taps, now))
    in_vessel, standard_in_chamber = _standards(desk, surroundings, now, in_chamber)
    return ChamberChapter(
        taps,
        standings,
        stand_ins,
        level,
        in_chamber,
        error,
        _current(
            desk,
            "chamber.current_uncorrected",
            _uncorrected(desk, taps, in_chamber),
            "current of the chamber uncorrected",
        ),
        _current(
            desk, "chamber.current_true", desk.sheet["level_now"], "current that belongs to the level in the vessel"
        ),
        rows,
        rows[0].in_chamber,
        rows[-1].in_chamber,
        in_vessel,
        standard_in_chamber,
        _bent(desk, now, rows, (level, in_chamber)),
        lag_chapter(desk, now, in_chamber),
        _layers(desk, taps, now),
        _collapsed(desk, level),
    )


def _beside(desk: Desk, standing: Standing, level: Entry) -> None:
    state = standing.state
    stands = standing.chamber_level(desk, f"chamber.level[{state}]", level, f"level in the chamber, {state}")
    meaning = f"level in the chamber less that in the vessel, {state}"
    desk.calc(f"chamber.error[{state}]", level_error_m, shown="mm", meaning=meaning, shown_m=stands, level_m=level)


def _uncorrected(desk: Desk, taps: Taps, in_chamber: Entry) -> Entry:
    return taps.above_datum(desk, "chamber.level_uncorrected", in_chamber, "level in the chamber above the datum")


def _current(desk: Desk, name: str, level: Entry, meaning: str) -> Entry:
    range_ = desk.case.range
    return desk.calc(
        name,
        current_A,
        shown="mA",
        meaning=meaning,
        level_m=level,
        lower_range_value_m=desk.take(range_.lower, "mm"),
        upper_range_value_m=desk.take(range_.upper, "mm"),
    )


def _rows(desk: Desk, taps: Taps, now: Standing) -> Iterator[Row]:
    """At the quarters of the signal."""
    range_ = desk.case.range
    lower, upper = desk.take(range_.lower, "mm"), desk.take(range_.upper, "mm")
    for mark in signal_marks(desk, "chamber", "level_over_datum", lower, upper):
        at = mark.name
        above = taps.above_tap(desk, f"chamber.level_over_tap[{at}]", mark.level, f"level at {at}")
        inside = now.chamber_level(desk, f"chamber.set[{at}]", above, f"level in the chamber at {at}")
        meaning = f"level in the chamber less that in the vessel at {at}"
        error = desk.calc(
            f"chamber.error_at[{at}]", level_error_m, shown="mm", meaning=meaning, shown_m=inside, level_m=above
        )
        yield Row(mark.current, mark.level, above, inside, error)


def _standards(
    desk: Desk, surroundings: Surroundings, now: Standing, in_chamber: Entry
) -> tuple[Entry | None, Entry | None]:
    """What is uncertain of the column, as a level in the vessel and as one in the chamber; None where nothing is."""
    found = (
        _by_thermometers(desk, surroundings, now) if now.column is not None else _by_densities(desk, now, in_chamber)
    )
    if found is None:
        return None, None
    value, method, inputs = found
    standard = desk.sheet.record(
        "chamber.standard",
        value,
        "m",
        "standard uncertainty of the level in the chamber by its temperature",
        method=method,
        source="jcgm-100: 5.1.2",
        rests_on=[in_chamber, *inputs],
        shown="mm",
    )
    meaning = "standard uncertainty of the level in the vessel by the temperature of the chamber"
    none = desk.constant("chamber.no_shift", 0.0, "m", NO_SHIFT, shown="mm", note="none", source="derived")
    parts = {"chamber_level_m": standard, "factor": _local_factor(desk, now), "shift_m": none}
    return desk.worked("chamber.standard_of_level", vessel_level_m, parts, shown="mm", meaning=meaning), standard


def _bent(desk: Desk, now: Standing, rows: tuple[Row, ...], at: tuple[Entry, Entry]) -> Entry | None:
    """A column of changing density is no straight line; an instrument set at two levels is."""
    if now.column is None:
        return None
    level, in_chamber = at
    inputs = {
        "chamber_level_m": in_chamber,
        "lower_set_m": rows[0].in_chamber,
        "upper_set_m": rows[-1].in_chamber,
        "lower_m": rows[0].above,
        "upper_m": rows[-1].above,
    }
    meaning = "level shown by the setting, level now, above the lower tap"
    shown = desk.worked("chamber.shown_by_setting", shown_by_setting_m, inputs, shown="mm", meaning=meaning)
    meaning = "what the straight line of the setting is out by, level now"
    error = desk.calc("chamber.setting_error", level_error_m, shown="mm", meaning=meaning, shown_m=shown, level_m=level)
    error_allowed(desk, "setting", "the straight line of the setting", error)
    return error


def _by_densities(desk: Desk, now: Standing, in_chamber: Entry) -> tuple[float, str, list[Entry]] | None:
    """By everything uncertain beneath factor and shift."""
    if now.factor is None or now.shift is None or not in_chamber.known:
        return None
    inputs = list({each.name: each for part in (now.factor, now.shift) for each in uncertain_under(part)}.values())
    if not inputs:
        return None
    spread = spread_of(desk.sheet, [in_chamber.name], inputs, correlation_of(desk, inputs))
    method = "the level in the chamber worked again with each uncertain input moved by its standard uncertainty"
    return spread.standard(in_chamber.name), method, inputs


def _by_thermometers(desk: Desk, surroundings: Surroundings, now: Standing) -> tuple[float, str, list[Entry]] | None:
    """By the thermometers that state how well they are known, each independent of the others."""
    level = desk.sheet[LEVEL_NOW].value
    moved = None if level is None else surroundings.moved_levels(now, level)
    if moved is None or now.column is None:
        return None
    method = "the column worked again with each thermometer moved by its standard uncertainty"
    return combined_standard(contributions(*moved), None), method, [now.column]


def _local_factor(desk: Desk, now: Standing) -> Entry:
    """How much the chamber moves with the vessel at the level now."""
    if now.factor is not None:
        return now.factor
    return desk.calc(
        "chamber.factor_at_surface",
        column_factor,
        meaning="change of the level in the chamber over that in the vessel, at the level now",
        liquid_density_kg_per_m3=now.condition.density,
        chamber_density_kg_per_m3=now.density,
        gas_density_kg_per_m3=now.condition.gas,
    )


def _layers(desk: Desk, taps: Taps, now: Standing) -> Entry | None:
    """A chamber on two taps that holds the upper liquid alone, beside two layers: the level it shows."""
    stated = desk.case.interface
    if stated.lower_density.state in ("unknown", NONE):
        return None
    desk.word(desk.case.chamber.connections, "whether the layers in the chamber are those in the vessel")
    if desk.case.chamber.connections.word == TAP_IN_EACH or not stated.upper_layer_least.known:
        return None
    layer = desk.take(stated.upper_layer_least, "mm")
    below = desk.calc(
        "chamber.lower_layer", lower_layer_m, shown="mm", surface_m=desk.sheet[LEVEL_NOW], upper_layer_m=layer
    )
    return desk.calc(
        "chamber.one_liquid_level",
        one_liquid_chamber_level_m,
        shown="mm",
        meaning="level in a chamber that holds the lower liquid alone",
        lower_layer_m=below,
        upper_layer_m=layer,
        lower_density_kg_per_m3=desk.take(stated.lower_density),
        upper_density_kg_per_m3=now.condition.density,
        chamber_density_kg_per_m3=desk.take(stated.lower_density),
        gas_density_kg_per_m3=now.condition.gas,
    )


def _collapsed(desk: Desk, level: Entry) -> Entry | None:
    """What a chamber sees of a liquid with bubbles."""
    stated = desk.case.medium.void_share
    if not stated.known:
        return None
    inputs = {"level_m": level, "void_share": desk.take(stated, "%vol")}
    meaning = "level without the bubbles, which is all that a chamber sees"
    return desk.worked("chamber.collapsed_level", collapsed_level_m, inputs, shown="mm", meaning=meaning)
