"""Chapter probe: capacitance per length, at the levels of the signal and now; regime, changes, film, wave, wall."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from onedatum.case.model.probe import (
    BY_ROD,
    BY_TUBE,
    BY_WALL,
    CONCRETE,
    CONDUCTS,
    INSULATES,
    STRIP_INSIDE,
    STRIP_OUTSIDE,
)
from onedatum.foundation.errors import Fault
from onedatum.foundation.units import show
from onedatum.foundation.working import Entry
from onedatum.physics.capacitive import (
    active_length_m,
    closed_through_F,
    line_inductance_H_per_m,
    phase_length_rad,
    probe_capacitance_F,
    seen_share,
    sensitivity_F_per_m,
    through_wall_F,
    wave_excess_share,
    wetted_length_m,
)
from onedatum.study.desk import Desk
from onedatum.study.marks import signal_marks
from onedatum.study.probe.changes import Change, changes_of, layer_change
from onedatum.study.probe.field import Around, EndsOnly, FieldCurve, field_of
from onedatum.study.probe.film import Along, FilmChapter, film_of
from onedatum.study.probe.fit import ProbeFit, Rod, fit_of
from onedatum.study.probe.full import Full
from onedatum.study.probe.judged import by_capacitance
from onedatum.study.probe.level import AtLevel
from onedatum.study.probe.permittivity import Permittivity, permittivity_of
from onedatum.study.probe.plastic import Plastic, plastic_of
from onedatum.study.probe.reference import Reference, reference_of
from onedatum.study.probe.regime import CONDUCTIVE, INSULATING, Liquids, Regime, layer_of, liquids_of, regime_of
from onedatum.study.probe.section import ProbeSection, gas_permittivity, section_of
from onedatum.study.probe.wall import NoField
from onedatum.study.reach import Reach
from onedatum.study.states import StatesChapter
from onedatum.study.vessel import VesselChapter

QUARTER_WAVE_RAD = 1.5
"""Length of a rod in the phase of the wave on it, a little below a quarter of the wave: up to it a level is read."""


@dataclass(frozen=True)
class ThroughWall:
    """The circuit closed through a plastic wall, for want of an earth of its own."""

    wall: Entry
    seen: Entry
    share: Entry


@dataclass(frozen=True)
class ProbeChapter:
    """What the findings and the sheet need of the probe."""

    section: ProbeSection
    medium: Permittivity
    """The permittivity of the liquid, with what it may be beside."""
    lower: Entry
    upper: Entry
    active: Entry
    dry: Entry
    slope: Entry
    regime: Regime
    now: AtLevel
    rows: tuple[AtLevel, ...]
    setting: tuple[AtLevel, ...]
    """At the two levels it is set at; none where they are not stated."""
    reference: Reference | None
    """None where the probe has no reference section."""
    changes: tuple[Change, ...]
    film: FilmChapter | None
    wave: Entry
    through_wall: ThroughWall | None
    plastic: Plastic
    closes: bool | None
    """Whether its circuit closes through an earth that conducts; None while it is not said."""
    by_field: FieldCurve | NoField
    fit: ProbeFit

    @property
    def permittivity(self) -> Entry:
        """Of the liquid in which the probe is set."""
        return self.medium.value

    @property
    def field(self) -> FieldCurve | None:
        """The curve by the field; None where it is not worked."""
        return self.by_field if isinstance(self.by_field, FieldCurve) else None

    @property
    def bend(self) -> FieldCurve | None:
        """What tells how far the ends of the rod bend the line: the curve, or one worked with a lower roof."""
        return self.by_field.about if isinstance(self.by_field, EndsOnly) else self.field

    @property
    def no_field(self) -> str:
        """Why no field is worked; "" where one is, or where a fault says why."""
        return self.by_field.why if isinstance(self.by_field, NoField) else ""

    @property
    def field_waits_for(self) -> tuple[str, ...]:
        """By path, what must be known before a field is worked."""
        return self.by_field.waits_for if isinstance(self.by_field, NoField) else ()

    @property
    def reach(self) -> Reach:
        """The active length; the ends of a rod are no sharp limits."""
        return Reach(self.lower, self.upper, self.lower, self.upper)


def has_probe(desk: Desk) -> bool:
    """Whether the case speaks of a probe; where it does not, its keys mean nothing.

    A frequency, or a length that is confirmed, is no probe: it says what any probe here would work at, or how long it
    would be, and the choice counts with it.
    """
    probe = desk.case.probe
    of_any = {probe.frequency.path, probe.length_confirmed.path}
    found = by_capacitance(desk) or any(leaf.known for leaf in probe.leaves() if leaf.path not in of_any)
    if not found:
        desk.skip(*probe.leaves())
    return found


def probe_chapter(desk: Desk, states: StatesChapter, vessel: VesselChapter | None) -> ProbeChapter:
    """Work the probe."""
    probe = desk.case.probe
    section = section_of(desk, body := None if vessel is None else vessel.body)
    lower, upper = desk.take(probe.active_from, "mm"), desk.take(probe.active_to, "mm")
    active = desk.calc("probe.active_length", active_length_m, shown="mm", upper_m=upper, lower_m=lower)
    gas = gas_permittivity(desk)
    medium = permittivity_of(desk, states, gas)
    section, plastic = _in_plastic(desk, section, medium.value)
    dry = section.filled(desk, "probe.dry", "capacitance per length, dry", gas)
    liquids = liquids_of(desk, section, medium)
    regime = regime_of(desk, section, liquids, dry, active)
    slope, levels = _slope(desk, regime, dry, (lower, active))
    now = levels.at("now", desk.take(desk.case.level_now, "mm"))
    rows, setting = tuple(levels.of_signal()), tuple(levels.of_setting())
    marks = [point.level for point in (*(setting or (rows[0], rows[-1])), now)]
    full = Full(dry, active, highest(rows).wetted, levels.constant)
    reference, changes = _changes(desk, liquids, layer_of(desk, section, regime), full, bool(setting))
    return ProbeChapter(
        section=section,
        medium=medium,
        lower=lower,
        upper=upper,
        active=active,
        dry=dry,
        slope=slope,
        regime=regime,
        now=now,
        rows=rows,
        setting=setting,
        reference=reference,
        changes=changes,
        film=film_of(desk, section, regime, Along(active, states.now.density, (now, *rows))),
        wave=_wave(desk, section, regime, active),
        through_wall=_through_wall(desk, now, regime),
        plastic=plastic,
        closes=circuit_closes(desk, regime),
        by_field=field_of(desk, Around(section, body, (medium.value, gas), (lower, upper)), marks),
        fit=fit_of(desk, Rod(section, lower, upper, active, slope, rows), regime),
    )


def _slope(desk: Desk, regime: Regime, dry: Entry, ends: tuple[Entry, Entry]) -> tuple[Entry, _Levels]:
    """What a change of level is worth, and the probe at the levels of the case."""
    lengths = {"wet_F_per_m": regime.wet, "dry_F_per_m": dry}
    slope = desk.worked("probe.sensitivity", sensitivity_F_per_m, lengths, shown="pF/m")
    return slope, _Levels(desk, ends, lengths)


def _changes(
    desk: Desk, liquids: Liquids, layer: Entry | None, full: Full, set_at_two: bool
) -> tuple[Reference | None, tuple[Change, ...]]:
    """The reference section, and what every change leaves of the reading with it."""
    reference = reference_of(desk, full)
    return reference, (*changes_of(desk, liquids, full, reference, set_at_two), *layer_change(desk, layer, full))


def _in_plastic(desk: Desk, section: ProbeSection, permittivity: Entry) -> tuple[ProbeSection, Plastic]:
    """The section with the wall of a plastic tank where that counts, and what became of it."""
    plastic = plastic_of(desk, (section.outside, section.equivalent), permittivity)
    return replace(section, plastic=plastic.tank), plastic


class _Levels:
    """The probe at the levels of the case."""

    def __init__(self, desk: Desk, ends: tuple[Entry, Entry], lengths: dict[str, Entry]) -> None:
        self.desk, self.lengths = desk, lengths
        self.lower, self.active = ends
        self.constant = desk.absent(desk.case.probe.constant, "not spoken of: counted as none; it moves the zero", "pF")

    def at(self, name: str, level: Entry, current: Entry | None = None) -> AtLevel:
        """Wetted length and capacitance at a level."""
        desk = self.desk
        wetted = desk.calc(
            f"probe.wetted[{name}]",
            wetted_length_m,
            shown="mm",
            meaning=f"wetted length, {name}",
            level_m=level,
            lower_m=self.lower,
            active_m=self.active,
        )
        held = desk.calc(
            f"probe.capacitance[{name}]",
            probe_capacitance_F,
            shown="pF",
            meaning=f"capacitance, {name}",
            constant_F=self.constant,
            **self.lengths,
            wetted_m=wetted,
            active_m=self.active,
        )
        return AtLevel(name, current, level, wetted, held)

    def of_signal(self) -> Iterator[AtLevel]:
        """At the quarters of the signal."""
        desk = self.desk
        lower, upper = desk.take(desk.case.range.lower, "mm"), desk.take(desk.case.range.upper, "mm")
        for mark in signal_marks(desk, "probe", "level", lower, upper):
            yield self.at(mark.name, mark.level, mark.current)

    def of_setting(self) -> Iterator[AtLevel]:
        """At the two levels it is set at."""
        probe = self.desk.case.probe
        if not (probe.set_low.known and probe.set_high.known):
            for leaf in (probe.set_low, probe.set_high):
                self.desk.want(leaf, "at which two levels the probe is set")
            return
        for leaf, name in ((probe.set_low, "set low"), (probe.set_high, "set high")):
            yield self.at(name, self.desk.take(leaf, "mm"))


def highest(rows: tuple[AtLevel, ...]) -> AtLevel:
    """The end of the range that wets most of the rod."""
    return max((rows[0], rows[-1]), key=lambda row: row.wetted.value or 0.0)


def _wave(desk: Desk, section: ProbeSection, regime: Regime, active: Entry) -> Entry:
    """Whether the rod is short against the wave on it."""
    line = desk.calc(
        "probe.inductance",
        line_inductance_H_per_m,
        shown="uH/m",
        meaning="inductance per length",
        inner_radius_m=section.core,
        outer_radius_m=section.equivalent,
    )
    phase = desk.calc(
        "probe.phase_length",
        phase_length_rad,
        meaning="length of the rod in the phase of the wave on it",
        frequency_Hz=desk.take(desk.case.probe.frequency, "kHz"),
        inductance_H_per_m=line,
        capacitance_F_per_m=regime.wet,
        length_m=active,
    )
    if (phase.value or 0.0) > QUARTER_WAVE_RAD:
        return _too_fast(desk, phase)
    return desk.calc("probe.wave_excess", wave_excess_share, shown="%", phase_length_rad=phase)


def _too_fast(desk: Desk, phase: Entry) -> Entry:
    """The rod is near a quarter of the wave on it, or longer: what is seen at its head is no capacitance any more."""
    stated, meaning = desk.case.probe.frequency, "capacitance seen at the head over the true one, less 1"
    highest_Hz = (stated.si or 0.0) * QUARTER_WAVE_RAD / (phase.value or 1.0)
    why = "near a quarter of the wave and beyond it the rod reads no level"
    allowed = f"at most about {show(highest_Hz, 'kHz')} for this rod in this liquid"
    desk.faults.append(Fault(stated.path, allowed, stated.text, why, stated.place, kind="validity"))
    return desk.sheet.give("probe.wave_excess", None, "", meaning, shown="%", path=stated.path, place=stated.place)


def _through_wall(desk: Desk, now: AtLevel, regime: Regime) -> ThroughWall | None:
    """What a plastic vessel leaves of the reading without an earth of the probe's own; of a liquid that conducts."""
    wall = desk.case.probe.wall
    kind = desk.word(wall.kind, "what the circuit of the probe closes through")
    told = wall.thickness.known and wall.permittivity.known and wall.earthed_area.known
    outside = desk.case.probe.earth.kind.word == STRIP_OUTSIDE
    if kind != INSULATES or not told or outside or regime.word != CONDUCTIVE:
        desk.skip(wall.thickness, wall.permittivity, wall.earthed_area)
        return None
    held = desk.calc(
        "probe.through_wall",
        through_wall_F,
        shown="pF",
        area_m2=desk.take(wall.earthed_area),
        thickness_m=desk.take(wall.thickness, "mm"),
        relative_permittivity=desk.take(wall.permittivity),
    )
    seen = desk.calc(
        "probe.seen_through_wall",
        closed_through_F,
        shown="pF",
        meaning="capacitance now, closed through the wall alone",
        first_F=now.capacitance,
        second_F=held,
    )
    share = desk.calc("probe.wall_share", seen_share, shown="%", seen_F=seen, whole_F=now.capacitance)
    return ThroughWall(held, seen, share)


def is_lined(desk: Desk) -> bool:
    """Whether a lining keeps the liquid off the metal that the circuit is to close through."""
    probe, lining = desk.case.probe, desk.case.vessel.lining
    against_metal = (probe.earth.kind.word, probe.wall.kind.word) == (BY_WALL, CONDUCTS)
    if against_metal and lining.known:
        desk.read.add(lining.path)
    return against_metal and bool(lining.si)


def circuit_closes(desk: Desk, regime: Regime) -> bool | None:
    """Whether the probe has an earth that conducts; None while it is not said, and through a wall before a strip.

    To a liquid that insulates a lining is one thin layer more; one that conducts it keeps off its earth.
    """
    if is_lined(desk) and regime.word != INSULATING:
        return False if regime.word else None
    wall, earth = desk.case.probe.wall.kind.word, desk.case.probe.earth.kind.word
    if earth in (BY_ROD, BY_TUBE, STRIP_INSIDE):
        return True
    if earth == STRIP_OUTSIDE:
        return None
    return {CONDUCTS: True, INSULATES: False, CONCRETE: False}.get(wall) if earth == BY_WALL else None
