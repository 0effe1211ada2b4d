"""The wire in the stem: speed of the pulse, what temperatures do to the reading, dead zones by their parts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from onedatum.case.leaf import Value
from onedatum.foundation.sources import Figure
from onedatum.foundation.working import Entry
from onedatum.physics.magnetostrictive import (
    distance_of_level_m,
    flight_time_s,
    gradient_error_m,
    head_rise_m,
    length_growth_m,
    longest_distance_m,
    measuring_length_m,
    reading_error_of_head_rise_m,
    speed_coefficient_per_K,
    speed_of_slowness_m_per_s,
    torsional_speed_m_per_s,
    update_rate_Hz,
    usual_speed,
    warmer_K,
    waveguide_material,
)
from onedatum.study.desk import Desk
from onedatum.study.stem.chapter import StemChapter
from onedatum.study.stem.dead_zones import dead_zone_high, dead_zone_low, share_of_dead_zones
from onedatum.study.stem.float import Float
from onedatum.study.stem.riding import Riding
from onedatum.verdicts import Effect, Finding, Link

WIRE = "constant-modulus alloy"
NO = "no"


@dataclass(frozen=True)
class WaveguideChapter:
    """What the wire does; None where nothing of it is stated."""

    speed: Entry
    coefficient: Entry
    distance: Entry
    """Greatest distance of the magnet plane from the flange face."""
    measuring_length: Entry
    flight: Entry
    rate: Entry
    share: Entry
    by_gradient: tuple[tuple[str, Entry], ...]
    """Error of the distance by the temperature along the stem, by state, at the greatest distance."""
    by_wall: tuple[tuple[str, Entry], ...]
    """Error of the level by the growth of the wall that carries the head, by state."""
    zone_low: Entry | None
    zone_high: Entry | None


def waveguide_chapter(desk: Desk, stem: StemChapter, lower: Float | None = None) -> WaveguideChapter:
    """Work the wire; `lower` is the float at an interface, which comes nearest to the tip."""
    stated = desk.case.instrument.stem
    low, high = desk.take(stated.dead_zone_low, "mm"), desk.take(stated.dead_zone_high, "mm")
    speed, coefficient = _speed(desk), _coefficient(desk)
    desk.findings.extend(_strange_speed(speed))
    distance = desk.calc(
        "stem.longest_distance", longest_distance_m, shown="mm", stem_length_m=stem.length, dead_zone_low_m=low
    )
    measuring = desk.calc(
        "stem.measuring_length",
        measuring_length_m,
        shown="mm",
        stem_length_m=stem.length,
        dead_zone_low_m=low,
        dead_zone_high_m=high,
    )
    flight = desk.calc("waveguide.flight_time", flight_time_s, shown="us", distance_m=distance, speed_m_per_s=speed)
    return WaveguideChapter(
        speed,
        coefficient,
        distance,
        measuring,
        flight,
        _rate(desk, stem, speed),
        share_of_dead_zones(desk, stem, low, high),
        tuple(_by_gradient(desk, stem, coefficient, distance)),
        tuple(_by_wall(desk, stem)),
        dead_zone_low(desk, lower or stem.float_, speed, low),
        dead_zone_high(desk, stem, speed, high),
    )


def flight_now(desk: Desk, stem: StemChapter, wire: WaveguideChapter, now: str) -> None:
    """What the pulse tells at the level now, the float riding on the liquid of the state now."""
    riding = next((each for each in stem.ridings if each.state == now), None)
    level = desk.take(desk.case.level_now, "mm")
    if riding is None or _above(level, stem.face):
        return
    distance = desk.calc(
        "waveguide.distance_now",
        distance_of_level_m,
        shown="mm",
        meaning="distance of the magnet plane from the flange face at the level now",
        flange_face_height_m=stem.face,
        level_m=level,
        waterline_above_magnet_m=riding.waterline,
    )
    desk.calc(
        "waveguide.flight_now",
        flight_time_s,
        shown="us",
        meaning="time of flight at the level now",
        distance_m=distance,
        speed_m_per_s=wire.speed,
    )


def _above(level: Entry, face: Entry) -> bool:
    """Whether a level lies above the flange, where no float rides; it is told to be wrong elsewhere."""
    return level.value is not None and face.value is not None and level.value > face.value


def assumed(desk: Desk, stated: Value, usual: Figure, words: str, shown: str = "") -> Entry:
    """A figure as stated; where it is not, what is usually counted on, marked as assumed with how far it was seen."""
    if stated.known or stated.state == "none":
        return desk.take(stated, shown, none=0.0)
    note = f"not stated: {words} counted on ({usual.tag})"
    return desk.usual(stated, usual.value, note, shown=shown, source=usual.source)


def _speed(desk: Desk) -> Entry:
    """The instrument's own figure, as speed or as time per length; else of modulus and density; else the usual one."""
    stated = desk.case.instrument.waveguide
    if stated.speed.known:
        return desk.take(stated.speed)
    if stated.slowness.known:
        return desk.calc(
            "waveguide.speed", speed_of_slowness_m_per_s, slowness_s_per_m=desk.take(stated.slowness, "us/m")
        )
    if stated.shear_modulus.known or stated.density.known:
        return desk.calc(
            "waveguide.speed",
            torsional_speed_m_per_s,
            shear_modulus_Pa=desk.take(stated.shear_modulus, "GPa"),
            density_kg_per_m3=desk.take(stated.density),
        )
    return assumed(desk, stated.speed, usual_speed().speed_m_per_s, "the usual speed")


def _strange_speed(speed: Entry) -> Iterator[Finding]:
    """A speed outside what is met with is told (common practice)."""
    usual = usual_speed()
    low, high = usual.low_m_per_s, usual.high_m_per_s
    if speed.value is not None and not low.value <= speed.value <= high.value:
        yield Finding(
            "speed-unusual",
            "The speed of the pulse is not one that wires have",
            Effect.WARNING,
            (
                Link("Speed of the pulse", speed.text, speed.name),
                Link("Met with", f"{low.value:g} to {high.value:g} m/s"),
            ),
            (Link("Look the figure up on the instrument; us/in and us/m are easily mixed up"),),
        )


def _coefficient(desk: Desk) -> Entry:
    """Change of the speed per kelvin as stated, or that of the usual wire, whose modulus does not change."""
    stated = desk.case.instrument.waveguide.speed_coefficient
    if stated.known or stated.state == "none":
        return desk.take(stated, "ppm/K", none=0.0)
    wire = waveguide_material(WIRE)
    return desk.calc(
        "waveguide.speed_coefficient",
        speed_coefficient_per_K,
        shown="ppm/K",
        modulus_coefficient_per_K=desk.sheet.give(
            "waveguide.modulus_coefficient",
            0.0,
            "per_K",
            "change of the shear modulus per kelvin",
            state="assumed",
            path=stated.path,
            note="the usual wire keeps its modulus from -45 to 65 degC; no coefficient is stated",
            source="fe-ni-alloy",
        ),
        alpha_per_K=desk.sheet.give(
            "waveguide.expansion",
            wire.alpha_per_K,
            "per_K",
            f"expansion of the usual wire ({WIRE})",
            state="constant",
            shown="ppm/K",
            source=wire.source,
        ),
    )


def _rate(desk: Desk, stem: StemChapter, speed: Entry) -> Entry:
    trips = desk.sheet.give(
        "waveguide.round_trips",
        1.0,
        "",
        "round trips waited for until the echo of the end has died down",
        state="constant",
        source="common-practice",
    )
    return desk.calc(
        "waveguide.update_rate", update_rate_Hz, length_m=stem.length, speed_m_per_s=speed, round_trips=trips
    )


# ---------------------------------------------------------------- temperatures


def _by_gradient(desk: Desk, stem: StemChapter, coefficient: Entry, distance: Entry) -> Iterator[tuple[str, Entry]]:
    """Where the instrument does not correct the speed: from the head to the liquid in every state."""
    stated = desk.case.instrument.waveguide
    desk.read.add(stated.corrected.path)
    if stated.corrected.word != NO:
        return
    for riding in stem.ridings:
        yield (
            riding.state,
            desk.calc(
                f"waveguide.gradient_error[{riding.state}]",
                gradient_error_m,
                shown="mm",
                meaning=f"error of the greatest distance by the temperature along the stem, {riding.state}",
                distance_m=distance,
                speed_coefficient_per_K=coefficient,
                head_temperature_K=desk.take(stated.head_temperature),
                float_temperature_K=riding.condition.temperature,
                reference_temperature_K=desk.take(stated.speed_temperature),
            ),
        )


def _by_wall(desk: Desk, stem: StemChapter) -> Iterator[tuple[str, Entry]]:
    """The wall carries the head: it grows from the temperature of the table to that of the liquid."""
    vessel = desk.case.vessel
    if not (vessel.shell_expansion.known and vessel.table_temperature.known):
        return
    for riding in stem.ridings:
        rise = desk.calc(
            f"waveguide.head_rise[{riding.state}]",
            head_rise_m,
            shown="mm",
            meaning=f"rise of the head on a free wall as warm as the liquid, {riding.state}",
            face_height_m=stem.face,
            wall_alpha_per_K=desk.take(vessel.shell_expansion),
            temperature_difference_K=_warmer(desk, riding),
        )
        yield (
            riding.state,
            desk.calc(
                f"waveguide.head_rise_error[{riding.state}]",
                reading_error_of_head_rise_m,
                shown="mm",
                meaning=f"error of the level by the rise of the head, {riding.state}",
                head_rise_m=rise,
            ),
        )


def _warmer(desk: Desk, riding: Riding) -> Entry:
    return desk.once(
        f"waveguide.warmer[{riding.state}]",
        warmer_K,
        shown="K",
        meaning=f"how much warmer than at the reference temperature of the table, {riding.state}",
        temperature_K=riding.condition.temperature,
        reference_temperature_K=desk.take(desk.case.vessel.table_temperature),
    )


def growth_of_stem(desk: Desk, stem: StemChapter, riding: Riding, alpha: Entry) -> Entry:
    """How much the stem grows from the temperature of the table to that of a state: its tip sinks."""
    return desk.calc(
        f"stem.growth[{riding.state}]",
        length_growth_m,
        shown="mm",
        meaning=f"growth of the stem, {riding.state}",
        length_m=stem.length,
        alpha_per_K=alpha,
        temperature_difference_K=_warmer(desk, riding),
    )
