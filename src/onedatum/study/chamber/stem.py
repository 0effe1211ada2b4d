"""The stem outside: where the float rides in the chamber, what can be measured, how long stem and chamber are."""

from __future__ import annotations

from dataclasses import dataclass, replace

from onedatum.foundation.working import Entry
from onedatum.physics.bypass import (
    beside_length_m,
    highest_afloat_m,
    level_over_magnet_m,
    lowest_afloat_m,
    magnet_height_m,
    room_above_m,
    room_below_m,
    shown_by_setting_m,
    side_clearance_m,
    stem_tip_m,
    stem_top_m,
)
from onedatum.physics.overfill import margin_m
from onedatum.study.chamber.chapter import ChamberChapter
from onedatum.study.chamber.column import LEVEL_LINE, Standing
from onedatum.study.desk import Desk
from onedatum.study.states import Condition, StatesChapter
from onedatum.study.stem import Float, Riding, StemChapter, float_of, reserve
from onedatum.study.stem.riding import least_freeboard, measured_everywhere, reads_low, waterline_of

USUAL_MARGIN_M = 0.020


@dataclass(frozen=True)
class Shown:
    """What the instrument, set in the first state, shows in another one at the level now."""

    state: str
    shown: Entry
    with_float: Entry
    """The same with the float riding deeper or less deep than at the setting."""
    error: Entry
    own_liquid: bool


@dataclass(frozen=True)
class Outside:
    """The stem on the chamber."""

    stem: StemChapter
    shown: tuple[Shown, ...]
    side: Entry
    """Gap around the float in the chamber."""
    room_below: Entry
    room_above: Entry
    tip_needed: Entry
    top_needed: Entry
    length_needed: Entry


def chamber_stem(desk: Desk, chamber: ChamberChapter, states: StatesChapter) -> Outside:
    """Work the float in the chamber and the stem beside it."""
    float_ = float_of(desk)
    _left_away(desk)
    side = _side(desk)
    riders = [_Rider(desk, chamber, float_, standing) for standing in chamber.standings]
    ridings = tuple(rider.riding() for rider in riders)
    conditions = tuple(riding.condition for riding in ridings)
    others = tuple(_in_chamber(standing) for standing in chamber.stand_ins)
    reserve(desk, float_, (*conditions, *others), tuple(each.condition for each in chamber.standings))
    least_freeboard(desk, float_, ridings)
    stand_in_dips = [_dips(desk, float_, each) for each in others]
    below, above = _rooms(desk, float_, [*(riding.immersion for riding in ridings), *stand_in_dips])
    tip, top = _ends(desk, chamber, ridings)
    meaning = "length that the stem needs beside the chamber"
    ends = {"top_m": top, "tip_m": tip}
    needed = desk.worked("stem.length_needed", beside_length_m, ends, shown="mm", meaning=meaning)
    face, length = _fitted(desk, tip, top)
    lowest, highest = measured_everywhere(desk, ridings)
    elsewhere = tuple(
        (each.name, reads_low(desk, ridings[0], each.name, dip))
        for each, dip in zip(others, stand_in_dips, strict=True)
    )
    stem = StemChapter(face, length, float_, ridings, lowest, highest, elsewhere)
    return Outside(stem, _shown(desk, chamber, stem), side, below, above, tip, top, needed)


def _left_away(desk: Desk) -> None:
    """What a stem outside does not have: a nozzle, a bore of the float around it."""
    stem = desk.case.instrument.stem
    desk.skip(*desk.case.nozzle.leaves(), stem.guided, stem.pull, stem.least_clearance, stem.inside_diameter)
    desk.skip(desk.case.instrument.float_.nozzle_margin, stem.outside_diameter, stem.metal)


def _in_chamber(standing: Standing) -> Condition:
    """The condition as the float in the chamber meets it."""
    return replace(standing.condition, density=standing.density, temperature=standing.temperature)


@dataclass(frozen=True)
class _Rider:
    """The float in the chamber in one state."""

    desk: Desk
    chamber: ChamberChapter
    float_: Float
    standing: Standing

    def riding(self) -> Riding:
        """Where it rides, and the levels that can be measured."""
        desk, condition, state = self.desk, _in_chamber(self.standing), self.standing.state
        immersion = self.float_.immersion(desk, state, condition.density, condition.gas)
        waterline = waterline_of(desk, self.float_, state, immersion)
        return Riding(condition, immersion, waterline, self._lowest(immersion), self._highest(immersion))

    def _lowest(self, immersion: Entry) -> Entry:
        """The float free of the bottom; the level neither below the lower tap nor below where its line meets."""
        desk, stated, state = self.desk, self.desk.case.chamber, self.standing.state
        by_float = desk.calc(
            f"chamber.lowest_afloat[{state}]",
            lowest_afloat_m,
            shown="mm",
            meaning=f"lowest level in the chamber at which the float is free, {state}",
            immersion_m=immersion,
            margin_m=margin_of(desk),
            room_m=desk.take(stated.below_lower_tap, "mm"),
        )
        at_tap = desk.constant("chamber.at_lower_tap", 0.0, "m", "level at the lower tap", shown="mm", source="derived")
        ends = [by_float, at_tap, desk.absent(stated.lower_line_rise, LEVEL_LINE, "mm")]
        least = desk.sheet.select(
            f"chamber.lowest[{state}]", "greatest", f"lowest level in the chamber that is followed, {state}", ends
        )
        return self._in_vessel("level.measurable_low", f"lowest measurable level, {state}", least)

    def _highest(self, immersion: Entry) -> Entry:
        """The float free of the top; neither the vessel nor the chamber above the upper tap, where it spills."""
        desk, stated, state = self.desk, self.desk.case.chamber, self.standing.state
        by_float = desk.calc(
            f"chamber.highest_afloat[{state}]",
            highest_afloat_m,
            shown="mm",
            meaning=f"highest level in the chamber at which the float is free, {state}",
            tap_distance_m=self.chamber.taps.distance,
            room_m=desk.take(stated.above_upper_tap, "mm"),
            float_height_m=self.float_.height,
            immersion_m=immersion,
            margin_m=margin_of(desk),
        )
        at_tap = self.standing.chamber_level(
            desk,
            f"chamber.at_upper_tap[{state}]",
            self.chamber.taps.distance,
            f"level in the chamber, vessel at the upper tap, {state}",
        )
        most = desk.sheet.select(
            f"chamber.highest[{state}]",
            "least",
            f"highest level in the chamber that is followed, {state}",
            [by_float, at_tap, self.chamber.taps.distance],
        )
        return self._in_vessel("level.measurable_high", f"highest measurable level, {state}", most)

    def _in_vessel(self, name: str, meaning: str, in_chamber: Entry) -> Entry:
        state = self.standing.state
        above = self.standing.vessel_level(
            self.desk, f"{name}_over_tap[{state}]", in_chamber, f"{meaning}, above the lower tap"
        )
        return self.chamber.taps.above_datum(self.desk, f"{name}[{state}]", above, meaning)


def margin_of(desk: Desk) -> Entry:
    """What is kept between the float and the ends of the chamber."""
    stated = desk.case.chamber.float_margin
    if stated.state != "unknown":
        return desk.take(stated, "mm", none=0.0)
    note = "not stated: 20 mm counted on (common practice, no source)"
    return desk.usual(stated, USUAL_MARGIN_M, note, shown="mm", source="common-practice")


def _dips(desk: Desk, float_: Float, elsewhere: Condition) -> Entry:
    return float_.immersion(desk, elsewhere.name, elsewhere.density, elsewhere.gas)


def _side(desk: Desk) -> Entry:
    """The float must go into the chamber."""
    float_, chamber = desk.case.instrument.float_.outside_diameter, desk.case.chamber.inside_diameter
    wide, narrow = desk.take(chamber, "mm"), desk.take(float_, "mm")
    words = "the float goes into the chamber", "The float does not go into the chamber"
    name, meaning = "chamber.float_gap", "inside diameter of the chamber less the float"
    desk.compare_apart("chamber-float", words, narrow, "at most", wide, name, meaning)
    inputs = {"chamber_diameter_m": wide, "float_diameter_m": narrow}
    return desk.worked("chamber.side_clearance", side_clearance_m, inputs, shown="mm")


def _rooms(desk: Desk, float_: Float, dips: list[Entry]) -> tuple[Entry, Entry]:
    """Inside lengths that the chamber needs beyond its taps, over every state in which the float is fitted."""
    stated, margin = desk.case.chamber, margin_of(desk)
    deepest = desk.sheet.select(
        "float.immersion_greatest", "greatest", "deepest immersion over the fitted states", dips
    )
    least = desk.sheet.select("float.immersion_least", "least", "least immersion over the fitted states", dips)
    below = desk.calc("chamber.room_below", room_below_m, shown="mm", immersion_m=deepest, margin_m=margin)
    above = desk.calc(
        "chamber.room_above", room_above_m, shown="mm", float_height_m=float_.height, immersion_m=least, margin_m=margin
    )
    for key, room, leaf in (("below", below, stated.below_lower_tap), ("above", above, stated.above_upper_tap)):
        tap = "lower" if key == "below" else "upper"
        words = (
            f"the float has room in the chamber {key} the {tap} tap",
            f"The float knocks in the chamber when the level stands at the {tap} tap",
        )
        name, meaning = f"chamber.room_{key}_margin", f"room {key} the {tap} tap beyond what the float needs"
        desk.compare_apart(f"chamber-room-{key}", words, room, "at most", desk.take(leaf, "mm"), name, meaning)
    return below, above


def _ends(desk: Desk, chamber: ChamberChapter, ridings: tuple[Riding, ...]) -> tuple[Entry, Entry]:
    """Heights that the stem must reach, so that the magnet keeps clear of both dead zones at 4 and at 20 mA."""
    stem = desk.case.instrument.stem
    lows: list[Entry] = []
    highs: list[Entry] = []
    for standing, riding in zip(chamber.standings, ridings, strict=True):
        for which, row, found in (("4 mA", chamber.rows[0], lows), ("20 mA", chamber.rows[-1], highs)):
            found.append(_magnet(desk, chamber, standing, riding, which, row.above))
    lowest = desk.sheet.select(
        "chamber.magnet_lowest", "least", "lowest place of the magnet over the range", [*lows, *highs]
    )
    highest = desk.sheet.select(
        "chamber.magnet_highest", "greatest", "highest place of the magnet over the range", [*lows, *highs]
    )
    tip = desk.calc(
        "stem.tip_needed",
        stem_tip_m,
        shown="mm",
        meaning="height that the tip of the stem must lie at or below",
        magnet_height_m=lowest,
        dead_zone_low_m=desk.take(stem.dead_zone_low, "mm"),
    )
    top = desk.calc(
        "stem.top_needed",
        stem_top_m,
        shown="mm",
        meaning="height that the upper end of the stem must reach",
        height_m=highest,
        length_m=desk.take(stem.dead_zone_high, "mm"),
    )
    return tip, top


def _magnet(desk: Desk, chamber: ChamberChapter, standing: Standing, riding: Riding, which: str, level: Entry) -> Entry:
    part = f"[{which}][{riding.state}]"
    stands = standing.chamber_level(
        desk, f"chamber.level_at{part}", level, f"level in the chamber, vessel at {which}, {riding.state}"
    )
    above = desk.calc(
        f"chamber.magnet_over_tap{part}",
        magnet_height_m,
        shown="mm",
        meaning=f"magnet above the lower tap, vessel at {which}, {riding.state}",
        chamber_level_m=stands,
        waterline_above_magnet_m=riding.waterline,
    )
    return chamber.taps.above_datum(desk, f"chamber.magnet{part}", above, f"magnet, vessel at {which}, {riding.state}")


def _fitted(desk: Desk, tip: Entry, top: Entry) -> tuple[Entry, Entry]:
    """Upper end and length of the stem as stated; where they are not, as they are needed, which the order then asks."""
    stem = desk.case.instrument.stem
    if not (stem.tip_above_datum.known and stem.length.known):
        desk.want(stem.tip_above_datum, "whether the stem reaches the whole range")
        desk.want(stem.length, "whether the stem reaches the whole range")
        return top, desk.sheet["stem.length_needed"]
    low, length = desk.take(stem.tip_above_datum, "mm"), desk.take(stem.length, "mm")
    face = desk.calc(
        "stem.upper_end",
        stem_top_m,
        shown="mm",
        meaning="height of the upper end of the stem",
        height_m=low,
        length_m=length,
    )
    words = "the stem reaches down to the lowest magnet", "The stem does not reach down to the lowest magnet"
    desk.compare_apart("chamber-stem-low", words, low, "at most", tip, "stem.tip_margin", "tip below what is needed")
    words = "the stem reaches up to the highest magnet", "The stem does not reach up to the highest magnet"
    desk.compare_apart(
        "chamber-stem-high", words, face, "at least", top, "stem.top_margin", "upper end above what is needed"
    )
    return face, length


def _shown(desk: Desk, chamber: ChamberChapter, stem: StemChapter) -> tuple[Shown, ...]:
    """What the setting of the first state shows in every other one, the level in the vessel being the level now."""
    return tuple(_shown_in(desk, chamber, stem, standing) for standing in (*chamber.standings[1:], *chamber.stand_ins))


def _shown_in(desk: Desk, chamber: ChamberChapter, stem: StemChapter, standing: Standing) -> Shown:
    state, name = standing.state, f"chamber.level[{standing.state}]"
    stands = (
        desk.sheet[name]
        if name in desk.sheet
        else standing.chamber_level(desk, name, chamber.level, f"level in the chamber, {state}")
    )
    seen = _seen(desk, stem, state, stands)
    alone = _by_setting(desk, chamber, f"chamber.shown[{state}]", f"level shown by the setting, {state}", stands)
    meaning = f"level shown by the setting, float riding as it does, {state}"
    whole = _by_setting(desk, chamber, f"chamber.shown_with_float[{state}]", meaning, seen)
    error = desk.calc(
        f"chamber.shown_error[{state}]",
        margin_m,
        shown="mm",
        meaning=f"shown too high by, {state}",
        limit_m=whole,
        value_m=chamber.level,
    )
    return Shown(state, alone, whole, error, standing.condition.own_liquid)


def _seen(desk: Desk, stem: StemChapter, state: str, stands: Entry) -> Entry:
    """The level that the stem makes of a level in the chamber, as if the float rode as at the setting."""
    at = desk.calc(
        f"chamber.magnet_now[{state}]",
        magnet_height_m,
        shown="mm",
        meaning=f"magnet above the lower tap, level now, {state}",
        chamber_level_m=stands,
        waterline_above_magnet_m=waterline_of(desk, stem.float_, state, desk.sheet[f"float.immersion[{state}]"]),
    )
    return desk.calc(
        f"chamber.level_seen[{state}]",
        level_over_magnet_m,
        shown="mm",
        meaning=f"level in the chamber that the stem tells, {state}",
        magnet_height_m=at,
        waterline_above_magnet_m=stem.now.waterline,
    )


def _by_setting(desk: Desk, chamber: ChamberChapter, name: str, meaning: str, in_chamber: Entry) -> Entry:
    first, last = chamber.rows[0], chamber.rows[-1]
    return desk.calc(
        name,
        shown_by_setting_m,
        shown="mm",
        meaning=f"{meaning}, above the lower tap",
        chamber_level_m=in_chamber,
        lower_set_m=first.in_chamber,
        upper_set_m=last.in_chamber,
        lower_m=first.above,
        upper_m=last.above,
    )
