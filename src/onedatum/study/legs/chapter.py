"""Chapter legs: the pressures at 4 and 20 mA, what other states show, whether the transmitter measures them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from onedatum.case.leaf import Value
from onedatum.case.model.instrument import BY_DIFFERENCE, BY_HEAD
from onedatum.case.model.legs import AT_LOWER, AT_UPPER, OF_INTERFACE, ONE_SIDE, STATED
from onedatum.foundation.errors import Fault
from onedatum.foundation.working import Entry
from onedatum.physics.pressure import (
    felt_pressure_Pa,
    head_Pa_per_m,
    high_columns_Pa,
    level_of_difference_m,
    level_of_head_m,
    level_of_pressure_m,
    low_columns_Pa,
    one_side_head_Pa,
    over_atmosphere_Pa,
    pressure_difference_Pa,
    pressure_span_Pa,
    transmitter_below_m,
)
from onedatum.physics.taps import level_error_m
from onedatum.study.apart import Apart
from onedatum.study.budget import with_column
from onedatum.study.correlated import correlation_of
from onedatum.study.desk import Desk, Sense
from onedatum.study.legs.filling import Filling
from onedatum.study.marks import signal_marks
from onedatum.study.pressure import gas_pressures
from onedatum.study.reach import Reach
from onedatum.study.sensitivity import spread_of, uncertain_under
from onedatum.study.states import Condition, StatesChapter
from onedatum.study.taps import Taps, above_tap, lower_tap, taps_of

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
        meaning = "expanded uncertainty of the level with that of the densities, k = 2"
        return with_column(desk, "legs.level_uncertainty", level_u, self.standard, meaning)


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
        self.interface = stated.measures.word == OF_INTERFACE and not one
        desk.read.add(stated.measures.path)
        high = "" if one else desk.word(stated.high_side, "which way the difference of pressures runs")
        self.high_at_lower = high != AT_UPPER
        liquid = states.liquid
        at_tap = self.below.value == 0.0
        self.lower = Filling(desk, liquid, "lower", stated.lower_leg, at_tap, self.interface)
        self.upper = None if one else Filling(desk, liquid, "upper", stated.upper_leg, False, self.interface)
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
        per_metre = self._per_metre(set_for)
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
        return above_tap(self.desk, self.tap, name, level, meaning)

    # ------------------------------------------------------------ columns

    def _columns(self, condition: Condition) -> Columns:
        desk = self.desk
        liquid, gas = condition.density, condition.gas
        if self.interface:
            liquid, gas = desk.take(desk.case.interface.lower_density), condition.density
        above = gas if self.interface else condition.density
        upper = None if self.upper is None else self.upper.density(condition, above)
        lower = self.lower.density(condition, liquid)
        if self.upper is not None and upper is not None and not self.upper.sealed:
            what = "upper liquid" if self.interface else "gas"
            self._heavy_enough(self.upper, upper, gas, f"the density of the {what}", condition)
        if (self.below.value or 0.0) > 0.0 and not self.lower.sealed:
            self._heavy_enough(self.lower, lower, liquid, "the density of the liquid at its tap", condition)
        return Columns(condition, liquid, gas, lower, upper)

    def _heavy_enough(self, leg: Filling, filling: Entry, over: Entry, words: str, condition: Condition) -> None:
        """A filling lighter than what stands over it rises out of its leg, where no seal keeps it."""
        if leg.word != STATED or filling.value is None or over.value is None or filling.value >= over.value:
            return
        stated = leg.stated.density
        if stated.path not in {fault.path for fault in self.desk.faults}:
            allowed = f"at least {words}, {over.text} in the state {condition.name}"
            why = "a filling that is lighter than what stands over it rises out of its leg"
            self.desk.faults.append(Fault(stated.path, allowed, stated.text, why, stated.place))

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
        for mark in signal_marks(desk, "legs", "level_over_datum", lower, upper):
            at = mark.name
            above = self._above_tap(f"legs.level_over_tap[{at}]", mark.level, f"level at {at}")
            made = self._at(self.columns[0], above, f"legs.range[{at}]", f"difference at {at}")
            yield Row(mark.current, mark.level, made.high, made.low, made.difference, made.net)

    def _end(self, own: Value, of_range: Value) -> Entry:
        """An end of the range of this transmitter, else that of the case."""
        if own.known:
            return self.desk.take(own, "mm")
        self.desk.read.add(own.path)
        return self.desk.take(of_range, "mm")

    def _per_metre(self, set_for: Columns) -> Entry:
        """Change with the level; with one tap the gas above is left out, as it is in the range."""
        desk = self.desk
        none = desk.constant(
            "legs.no_gas", 0.0, "kg_per_m3", "gas above, with one tap", note="left out", source="derived"
        )
        return desk.calc(
            "legs.per_metre",
            head_Pa_per_m,
            shown="kPa/m",
            liquid_density_kg_per_m3=set_for.liquid,
            gas_density_kg_per_m3=none if self.taps is None else set_for.gas,
            gravity_m_per_s2=self.gravity,
        )

    # ------------------------------------------------------------ what the setting shows elsewhere

    def _shown(self, columns: Columns, level: Entry) -> Shown:
        desk, state = self.desk, columns.state
        felt = self._at(columns, level, f"legs.difference[{state}]", f"difference at the level now, {state}")
        shown = self._back(felt.net, f"legs.shown[{state}]", f"level shown, above the lower tap, {state}")
        error = desk.calc(
            f"legs.shown_error[{state}]",
            level_error_m,
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
        """The span and both ends against what the transmitter measures; beside another principle the taps as well."""
        desk, stated, apart = self.desk, self.stated, _apart(self.unit)
        chosen = desk.case.instrument.principle.word in (BY_DIFFERENCE, BY_HEAD)
        if stated.smallest_span.state != "unknown" or chosen:
            words = (
                "the transmitter can be set to so small a span",
                "The span is smaller than the transmitter can be set to",
            )
            least = desk.take(stated.smallest_span, self.unit)
            desk.compare_apart("legs-span", words, span, "at least", least, "legs.span_margin", by=apart)
        ends: tuple[tuple[Value, Sense, str, str], ...] = (
            (stated.sensor_low, "at least", "low", "below"),
            (stated.sensor_high, "at most", "high", "above"),
        )
        felt = self._felt(rows)
        for leaf, sense, key, side in ends:
            if leaf.state == "unknown" and not chosen:
                desk.read.add(leaf.path)
                continue
            limit = desk.take(leaf, self.unit)
            for word, value in felt:
                words = (
                    f"the cell measures the pressure {word}, {key} end",
                    f"The pressure {word} lies {side} what the cell measures",
                )
                name, meaning = f"legs.sensor_{key}_margin[{word}]", f"from the pressure {word} to the {key} end"
                desk.compare_apart(f"legs-sensor-{key}[{word}]", words, value, sense, limit, name, meaning, by=apart)
        if not chosen and self.taps is not None:
            self._within_taps(rows, self.taps)

    def _felt(self, rows: tuple[Row, ...]) -> list[tuple[str, Entry]]:
        """What the cell feels at both ends of the range; with one tap under the gas at its lowest and its highest."""
        ends = [("at 4 mA", rows[0].difference), ("at 20 mA", rows[-1].difference)]
        if self.taps is not None:
            return ends
        return [
            (f"{word}, {which}", self._with_gas(f"legs.felt[{word}, {which}]", head, gas))
            for word, head in ends
            for which, gas in gas_pressures(self.desk)
        ]

    def _with_gas(self, name: str, head: Entry, gas: Entry) -> Entry:
        above = self.desk.once(f"{gas.name}.as_difference", over_atmosphere_Pa, shown=self.unit, pressure_Pa_gauge=gas)
        inputs = {"head_Pa": head, "gas_Pa": above}
        return self.desk.worked(name, felt_pressure_Pa, inputs, shown=self.unit)

    def _within_taps(self, rows: tuple[Row, ...], taps: Taps) -> None:
        """Outside the taps the difference does not change; of an alternative that is told."""
        ends = [rows[0].level, rows[-1].level]
        low = self.desk.sheet.select("legs.range_low", "least", "lower end of the range of the legs", ends)
        high = self.desk.sheet.select("legs.range_high", "greatest", "upper end of the range of the legs", ends)
        pairs: tuple[tuple[str, Entry, Sense, Entry], ...] = (
            ("lower", low, "at least", taps.lower),
            ("upper", high, "at most", taps.upper),
        )
        for which, end, sense, tap in pairs:
            side = "below" if which == "lower" else "above"
            words = (
                f"the range of the legs ends at the {which} tap",
                f"The range of the legs goes {side} the {which} tap, where nothing changes",
            )
            name, meaning = f"legs.range_{which}_margin", f"range within the {which} tap"
            self.desk.compare_apart(f"legs-range-{which}", words, end, sense, tap, name, meaning, remark=True)


def _apart(unit: str) -> Apart:
    """Two differences of pressure against one another, in the unit that the range is told in."""
    return Apart(pressure_difference_Pa, "high_Pa", "low_Pa", unit)
