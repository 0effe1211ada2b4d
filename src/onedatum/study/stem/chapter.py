"""Chapter stem and float: what is ordered so that it fits, where the float rides, what can be measured."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.foundation.working import Entry
from onedatum.physics.magnetostrictive import (
    flange_face_height_m,
    highest_level_by_dead_zone_m,
    highest_level_by_float_m,
    highest_level_m,
    lowest_level_m,
    stem_length_m,
)
from onedatum.study.desk import Desk
from onedatum.study.reach import Reach
from onedatum.study.states import Condition, StatesChapter
from onedatum.study.stem.fit import fits
from onedatum.study.stem.float import Float, float_of
from onedatum.study.stem.riding import Riding, least_freeboard, measured_everywhere, reads_low, waterline_of
from onedatum.study.vessel import VesselChapter


@dataclass(frozen=True)
class StemChapter:
    """What the other chapters need of stem and float."""

    face: Entry
    """Height of the flange face."""
    length: Entry
    float_: Float
    ridings: tuple[Riding, ...]
    lowest: Entry
    highest: Entry
    set_elsewhere: tuple[tuple[str, Entry], ...]
    """States with a stand-in liquid, and by how much an instrument set in them reads low in the medium."""

    @property
    def now(self) -> Riding:
        """The riding in the state that quantities are stated for."""
        return self.ridings[0]

    @property
    def reach(self) -> Reach:
        """The levels that can be measured."""
        return Reach(self.lowest, self.highest, self.now.lowest, self.now.highest, self.set_elsewhere)


def stem_chapter(desk: Desk, vessel: VesselChapter, states: StatesChapter) -> StemChapter:
    """Work stem and float."""
    case = desk.case
    desk.word(case.nozzle.place, "whether the stem hangs on the axis")
    desk.word(case.instrument.principle, "which principle is studied")
    face = desk.calc(
        "nozzle.flange_face_height",
        flange_face_height_m,
        shown="mm",
        inside_height_m=vessel.inside_height,
        nozzle_height_m=desk.take(case.nozzle.flange_face, "mm"),
    )
    tip = desk.take(case.instrument.stem.tip_above_datum, "mm")
    length = desk.calc("stem.length", stem_length_m, shown="mm", flange_face_height_m=face, tip_height_m=tip)
    float_ = float_of(desk)
    fits(desk, length, float_, states)
    ridings = tuple(_riding(desk, vessel, face, float_, condition) for condition in states.fitted or (states.now,))
    least_freeboard(desk, float_, ridings)
    lowest, highest = measured_everywhere(desk, ridings)
    elsewhere = tuple(
        (each.name, reads_low(desk, ridings[0], each.name, float_.immersion(desk, each.name, each.density, each.gas)))
        for each in states.stand_ins
    )
    return StemChapter(face, length, float_, ridings, lowest, highest, elsewhere)


def _riding(desk: Desk, vessel: VesselChapter, face: Entry, float_: Float, condition: Condition) -> Riding:
    instrument, state = desk.case.instrument, condition.name
    immersion = float_.immersion(desk, state, condition.density, condition.gas)
    waterline = waterline_of(desk, float_, state, immersion)
    lowest = desk.calc(
        f"level.measurable_low[{state}]",
        lowest_level_m,
        shown="mm",
        meaning=f"lowest measurable level, {state}",
        tip_height_m=desk.take(instrument.stem.tip_above_datum, "mm"),
        dead_zone_low_m=desk.take(instrument.stem.dead_zone_low, "mm"),
        waterline_above_magnet_m=waterline,
    )
    return Riding(
        condition, immersion, waterline, lowest, _highest(desk, vessel, face, float_, immersion, waterline, state)
    )


def _highest(
    desk: Desk, vessel: VesselChapter, face: Entry, float_: Float, immersion: Entry, waterline: Entry, state: str
) -> Entry:
    instrument = desk.case.instrument
    by_zone = desk.calc(
        f"level.highest_by_dead_zone[{state}]",
        highest_level_by_dead_zone_m,
        shown="mm",
        meaning=f"highest level by the upper dead zone, {state}",
        flange_face_height_m=face,
        dead_zone_high_m=desk.take(instrument.stem.dead_zone_high, "mm"),
        waterline_above_magnet_m=waterline,
    )
    by_float = desk.calc(
        f"level.highest_by_float[{state}]",
        highest_level_by_float_m,
        shown="mm",
        meaning=f"highest level with the float below the inside crown, {state}",
        inside_height_m=vessel.inside_height,
        float_height_m=float_.height,
        immersion_m=immersion,
        margin_m=desk.take(instrument.float_.nozzle_margin, "mm"),
    )
    return desk.calc(
        f"level.measurable_high[{state}]",
        highest_level_m,
        shown="mm",
        meaning=f"highest measurable level, {state}",
        by_dead_zone_m=by_zone,
        by_float_m=by_float,
    )
