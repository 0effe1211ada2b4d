"""Chapter legs: the pressures at 4 and 20 mA, what other states show, whether the transmitter measures them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from onedatum.case.leaf import Value
from onedatum.case.model.instrument import BY_DIFFERENCE, BY_HEAD
from onedatum.case.model.legs import AT_LOWER, AT_UPPER, OF_INTERFACE, ONE_SIDE
from onedatum.foundation.working import Entry
from onedatum.physics.bypass import chamber_error_m
from onedatum.physics.loop import level_at_current_m
from onedatum.physics.overfill import alarm_uncertainty_m
from onedatum.physics.pressure import (
    head_Pa_per_m,
    high_columns_Pa,
    level_of_difference_m,
    level_of_head_m,
    level_of_pressure_m,
    low_columns_Pa,
    one_side_head_Pa,
    pressure_difference_Pa,
    pressure_span_Pa,
    transmitter_below_m,
)
from onedatum.study.apart import Apart
from onedatum.study.correlated import correlation_of
from onedatum.study.desk import Desk, Sense
from onedatum.study.legs.filling import Filling
from onedatum.study.reach import Reach
from onedatum.study.sensitivity import spread_of, uncertain_under
from onedatum.study.states import Condition, StatesChapter
from onedatum.study.taps import Taps, lower_tap, taps_of

CURRENTS_A = (0.004, 0.008, 0.012, 0.016, 0.020)
USUAL_UNIT = "kPa"


@dataclass(frozen=True)
class Columns:
    """What stands on both sides in one state."""

    condition: Condition
    liquid: Entry
    """At an interface the lower liquid."""
    gas: Entry
    """At an interface the upper liquid."""
    lower_leg: Entry
    upper_leg: Entry | None
    """None with one tap."""

    @property
    def state(self) -> str:
        """The name of the state."""
        return self.condition.name


@dataclass(frozen=True)
class Row:
    """One level with the pressures it makes."""

    current: Entry
    level: Entry
    """Above the datum."""
    high: Entry
    low: Entry | None
    difference: Entry
    """High side less low side."""
    net: Entry
    """Side of the lower tap less that of the upper: the same, or the other sign where the sides are exchanged."""


@dataclass(frozen=True)
class Shown:
    """What the setting of the first state shows in another one at the level now."""

    state: str
    difference: Entry
    shown: Entry
    """Above the lower tap."""
    error: Entry


@dataclass(frozen=True)
class LegsChapter:
    """What the findings, the sheet and the sketch need of the legs."""

    taps: Taps | None
    """None with one tap."""
    tap: Entry
    """Height of the lower tap."""
    below: Entry
    columns: tuple[Columns, ...]
    lower: Filling
    upper: Filling | None
    high_at_lower: bool
    interface: bool
    level: Entry
    """The level now above the lower tap."""
    now: Entry
    """The difference of pressures now, high side less low side."""
    net: Entry
    """The same, side of the lower tap less that of the upper."""
    gravity: Entry
    rows: tuple[Row, ...]
    span: Entry
    per_metre: Entry
    shown: tuple[Shown, ...]
    standard: Entry | None
    """Standard uncertainty of the level by what is uncertain of the densities."""
    unit: str

    @property
    def set_for(self) -> Columns:
        """The columns that the range is set for."""
        return self.columns[0]

    def reach(self, desk: Desk) -> Reach:
        """Between the taps; with one tap up to the end of the range."""
        if self.taps is not None:
            return Reach(self.taps.lower, self.taps.upper, self.taps.lower, self.taps.upper)
        ends = [self.rows[0].level, self.rows[-1].level]
        top = desk.sheet.select("level.measurable_high", "greatest", "upper end of the range of the transmitter", ends)
        return Reach(self.tap, top, self.tap, top)

    def uncertainty(self, desk: Desk, level_u: Entry) -> Entry:
        """The uncertainty of the level with that of the densities."""
        if self.standard is None:
            return level_u
        inputs = {"level_uncertainty_m": level_u, "receiver_standard_m": self.standard}
        meaning = "expanded uncertainty of the level with that of the densities, k = 2"
        return desk.worked("legs.level_uncertainty", alarm_uncertainty_m, inputs, shown="mm", meaning=meaning)


def has_legs(desk: Desk) -> bool:
    """Whether the case speaks of legs; where it does not, their keys mean nothing."""
    legs, principle = desk.case.legs, desk.case.instrument.principle.word
    found = principle in (BY_DIFFERENCE, BY_HEAD) or any(leaf.known for leaf in legs.leaves() if leaf.side != "paper")
    if not found:
        desk.skip(*legs.leaves())
    return found


def legs_chapter(desk: Desk, states: StatesChapter) -> LegsChapter:
    """Work the legs in every state, the range in the first of them."""
    return _Legs(desk, states).chapter()


class _Legs:
    """The legs in the making."""

    def __init__(self, desk: Desk, states: StatesChapter) -> None:
        stated = desk.case.legs
        self.desk, self.stated = desk, stated
        kind = stated.kind
        one = kind.word == ONE_SIDE or (not kind.known and desk.case.instrument.principle.word == BY_HEAD)
        if not kind.known and not one and desk.case.instrument.principle.word != BY_DIFFERENCE:
            desk.word(kind, "what the transmitter compares")
        desk.read.add(kind.path)
        self.taps = None if one else taps_of(desk, "legs", stated.lower_tap, stated.upper_tap, stated.taps_apart)
        self.tap = lower_tap(desk, stated.lower_tap) if self.taps is None else self.taps.lower
        self.below = self._below()
        self.interface = stated.measures.word == OF_INTERFACE
        desk.read.add(stated.measures.path)
        high = "" if one else desk.word(stated.high_side, "which way the difference of pressures runs")
        self.high_at_lower = high != AT_UPPER
        liquid = states.liquid
        self.lower = Filling(desk, liquid, "lower", stated.lower_leg, empty=self.below.value == 0.0)
        self.upper = None if one else Filling(desk, liquid, "upper", stated.upper_leg)
        if one:
            desk.skip(*stated.upper_leg.leaves(), stated.high_side, stated.upper_tap, stated.taps_apart)
        self.unit = stated.unit.word or USUAL_UNIT
        desk.read.update((desk.case.pressure.operating.path, desk.case.pressure.kind.path))
        self.gravity = desk.take(desk.case.site.g)
        fitted = states.fitted or (states.now,)
        self.columns = tuple(self._columns(each) for each in (*fitted, *states.stand_ins))

    def chapter(self) -> LegsChapter:
        """Everything that follows."""
        desk, set_for = self.desk, self.columns[0]
        level = self._above_tap("legs.level_now", desk.take(desk.case.level_now, "mm"), "level now")
        rows = tuple(self._rows())
        felt = self._at(set_for, level, f"legs.difference[{set_for.state}]", f"difference now, {set_for.state}")
        now = felt.difference
        span = desk.calc(
            "legs.span", pressure_span_Pa, shown=self.unit, lower_Pa=rows[0].difference, upper_Pa=rows[-1].difference
        )
        per_metre = desk.calc(
            "legs.per_metre",
            head_Pa_per_m,
            liquid_density_kg_per_m3=set_for.liquid,
            gas_density_kg_per_m3=set_for.gas,
            gravity_m_per_s2=self.gravity,
        )
        shown = tuple(self._shown(each, level) for each in self.columns[1:])
        self._checks(rows, span)
        return LegsChapter(
            self.taps,
            self.tap,
            self.below,
            self.columns,
            self.lower,
            self.upper,
            self.high_at_lower,
            self.interface,
            level,
            now,
            felt.net,
            self.gravity,
            rows,
            span,
            per_metre,
            shown,
            self._standard(now, per_metre),
            self.unit,
        )

    # ------------------------------------------------------------ heights

    def _below(self) -> Entry:
        """How far the transmitter lies below the lower tap."""
        desk, stated = self.desk, self.stated
        place, name = stated.transmitter, "legs.transmitter_below"
        meaning = "how far the transmitter lies below the lower tap"
        if stated.below_lower_tap.state != "unknown" and not place.known:
            desk.read.add(place.path)
            return desk.take(stated.below_lower_tap, "mm", none=0.0)
        desk.read.add(stated.below_lower_tap.path)
        if place.word == AT_LOWER:
            desk.read.add(place.path)
            return desk.constant(name, 0.0, "m", meaning, state="computed", shown="mm", note="at the lower tap")
        if place.word == AT_UPPER and self.taps is not None:
            desk.read.add(place.path)
            inputs = {"lower_tap_m": self.taps.lower, "transmitter_m": self.taps.upper}
        else:
            inputs = {"lower_tap_m": self.tap, "transmitter_m": desk.take(place, "mm")}
        return desk.worked(name, transmitter_below_m, inputs, shown="mm", meaning=meaning)

    def _above_tap(self, name: str, level: Entry, meaning: str) -> Entry:
        taps = self.taps or Taps("legs", self.tap, self.tap, self.tap)
        return taps.above_tap(self.desk, name, level, meaning)

    # ------------------------------------------------------------ columns

    def _columns(self, condition: Condition) -> Columns:
        desk = self.desk
        liquid, gas = condition.density, condition.gas
        if self.interface:
            liquid, gas = desk.take(desk.case.interface.lower_density), condition.density
        upper = None if self.upper is None else self.upper.density(condition)
        return Columns(condition, liquid, gas, self.lower.density(condition), upper)

    def _at(self, columns: Columns, level: Entry, name: str, meaning: str) -> Row:
        """The pressures of both sides at a level above the lower tap."""
        desk = self.desk
        about = {
            "level_m": level,
            "below_m": self.below,
            "liquid_density_kg_per_m3": columns.liquid,
            "high_leg_density_kg_per_m3": columns.lower_leg,
            "gravity_m_per_s2": self.gravity,
        }
        if self.taps is None or columns.upper_leg is None:
            head = desk.worked(
                name, one_side_head_Pa, about, shown=self.unit, meaning=meaning.replace("difference", "pressure")
            )
            return Row(level, level, head, None, head, head)
        lower, upper = self._sides(columns, about, name, meaning, self.taps.distance)
        if self.high_at_lower:
            net = self._difference(name, meaning, lower, upper)
            return Row(level, level, lower, upper, net, net)
        told = f"side of the lower tap less that of the upper: {meaning}"
        net = self._difference(f"legs.net.{name.removeprefix('legs.')}", told, lower, upper)
        return Row(level, level, upper, lower, self._difference(name, meaning, upper, lower), net)

    def _sides(
        self, columns: Columns, about: dict[str, Entry], name: str, meaning: str, distance: Entry
    ) -> tuple[Entry, Entry]:
        """What stands above the transmitter on the side of the lower tap, and on that of the upper one."""
        part = name.removeprefix("legs.")
        whole = {**about, "tap_distance_m": distance, "gas_density_kg_per_m3": columns.gas}
        leg = {"below_m": self.below, "gravity_m_per_s2": self.gravity, "tap_distance_m": distance}
        if columns.upper_leg is not None:
            leg["low_leg_density_kg_per_m3"] = columns.upper_leg
        told = f"columns on the side of the lower tap: {meaning}"
        lower = self.desk.worked(f"legs.lower_columns.{part}", high_columns_Pa, whole, shown=self.unit, meaning=told)
        told = f"leg on the side of the upper tap: {meaning}"
        return lower, self.desk.worked(f"legs.upper_columns.{part}", low_columns_Pa, leg, shown=self.unit, meaning=told)

    def _difference(self, name: str, meaning: str, high: Entry, low: Entry) -> Entry:
        sides = {"high_Pa": high, "low_Pa": low}
        return self.desk.worked(name, pressure_difference_Pa, sides, shown=self.unit, meaning=meaning)

    def _rows(self) -> Iterator[Row]:
        """At the quarters of the signal, in the state the range is set for."""
        desk = self.desk
        lower, upper = (
            self._end(self.stated.lower, desk.case.range.lower),
            self._end(self.stated.upper, desk.case.range.upper),
        )
        for amperes in CURRENTS_A:
            at = f"{amperes * 1e3:g} mA"
            current = desk.constant(f"legs.current[{at}]", amperes, "A", f"current, {at}", shown="mA", source="derived")
            level = desk.calc(
                f"legs.level_over_datum[{at}]",
                level_at_current_m,
                shown="mm",
                meaning=f"level at {at}",
                current_A=current,
                lower_range_value_m=lower,
                upper_range_value_m=upper,
            )
            above = self._above_tap(f"legs.level_over_tap[{at}]", level, f"level at {at}")
            made = self._at(self.columns[0], above, f"legs.range[{at}]", f"difference at {at}")
            yield Row(current, level, made.high, made.low, made.difference, made.net)

    def _end(self, own: Value, of_range: Value) -> Entry:
        """An end of the range of this transmitter, else that of the case."""
        if own.known:
            return self.desk.take(own, "mm")
        self.desk.read.add(own.path)
        return self.desk.take(of_range, "mm")

    # ------------------------------------------------------------ what the setting shows elsewhere

    def _shown(self, columns: Columns, level: Entry) -> Shown:
        desk, state = self.desk, columns.state
        felt = self._at(columns, level, f"legs.difference[{state}]", f"difference at the level now, {state}")
        shown = self._back(felt.net, f"legs.shown[{state}]", f"level shown, above the lower tap, {state}")
        error = desk.calc(
            f"legs.shown_error[{state}]",
            chamber_error_m,
            shown="mm",
            meaning=f"shown too high by, {state}",
            shown_m=shown,
            level_m=level,
        )
        return Shown(state, felt.difference, shown, error)

    def _back(self, net: Entry, name: str, meaning: str) -> Entry:
        """The level that the densities of the setting make of a difference."""
        desk, set_for = self.desk, self.columns[0]
        about = {
            "below_m": self.below,
            "liquid_density_kg_per_m3": set_for.liquid,
            "high_leg_density_kg_per_m3": set_for.lower_leg,
            "gravity_m_per_s2": self.gravity,
        }
        if self.taps is None or set_for.upper_leg is None:
            return desk.worked(name, level_of_head_m, {"head_Pa": net, **about}, shown="mm", meaning=meaning)
        about |= {
            "difference_Pa": net,
            "tap_distance_m": self.taps.distance,
            "gas_density_kg_per_m3": set_for.gas,
            "low_leg_density_kg_per_m3": set_for.upper_leg,
        }
        return desk.worked(name, level_of_difference_m, about, shown="mm", meaning=meaning)

    def _standard(self, now: Entry, per_metre: Entry) -> Entry | None:
        """What is uncertain of the densities, as a level."""
        desk, set_for = self.desk, self.columns[0]
        legs = [set_for.liquid, set_for.gas, set_for.lower_leg, *([set_for.upper_leg] if set_for.upper_leg else [])]
        inputs = list({each.name: each for leg in legs for each in uncertain_under(leg)}.values())
        if not inputs or not now.known:
            return None
        spread = spread_of(desk.sheet, [now.name], inputs, correlation_of(desk, inputs))
        felt = desk.sheet.record(
            "legs.standard_of_difference",
            spread.standard(now.name),
            "Pa",
            "standard uncertainty of the difference now by what is uncertain of the densities",
            method="the difference worked again with each uncertain input at plus and minus its standard uncertainty",
            source="jcgm-100: 5.1.2",
            rests_on=[now, *inputs],
            shown=self.unit,
        )
        inputs_of_level = {"pressure_Pa": felt, "head_Pa_per_m": per_metre}
        meaning = "standard uncertainty of the level by what is uncertain of the densities"
        return desk.worked("legs.standard", level_of_pressure_m, inputs_of_level, shown="mm", meaning=meaning)

    # ------------------------------------------------------------ the transmitter

    def _checks(self, rows: tuple[Row, ...], span: Entry) -> None:
        """The span and both ends against what the transmitter measures; range within the taps."""
        desk, stated, apart = self.desk, self.stated, _apart(self.unit)
        if stated.smallest_span.state != "unknown" or desk.case.instrument.principle.word in (BY_DIFFERENCE, BY_HEAD):
            words = (
                "the transmitter can be set to so small a span",
                "The span is smaller than the transmitter can be set to",
            )
            least = desk.take(stated.smallest_span, self.unit)
            desk.compare_apart("legs-span", words, span, "at least", least, "legs.span_margin", by=apart)
        low, high = rows[0].difference, rows[-1].difference
        ends: tuple[tuple[Value, Sense, str, str], ...] = (
            (stated.sensor_low, "at least", "low", "below"),
            (stated.sensor_high, "at most", "high", "above"),
        )
        for leaf, sense, key, side in ends:
            if leaf.state == "unknown" and desk.case.instrument.principle.word not in (BY_DIFFERENCE, BY_HEAD):
                desk.read.add(leaf.path)
                continue
            limit = desk.take(leaf, self.unit)
            for word, value in (("4", low), ("20", high)):
                words = (
                    f"the cell measures the pressure at {word} mA, {key} end",
                    f"The pressure at {word} mA lies {side} what the cell measures",
                )
                name, meaning = (
                    f"legs.sensor_{key}_margin[{word} mA]",
                    f"from the pressure at {word} mA to the {key} end",
                )
                desk.compare_apart(f"legs-sensor-{key}[{word} mA]", words, value, sense, limit, name, meaning, by=apart)


def _apart(unit: str) -> Apart:
    """Two differences of pressure against one another, in the unit that the range is told in."""
    return Apart(pressure_difference_Pa, "high_Pa", "low_Pa", unit)
