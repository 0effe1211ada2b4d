"""Chapter filling: static charge of the liquid as it is filled, where the vessel holds an explosive atmosphere.

Facts and limits with their tags; a velocity within its limit is a number kept, not a filling declared safe.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

from onedatum.case.leaf import Value
from onedatum.case.model.keeping import IN_BY_DIP_PIPE, IN_FALLING
from onedatum.case.model.vessel import UPRIGHT
from onedatum.foundation.working import Entry
from onedatum.physics.ignition import (
    VelocityRow,
    conductivity_word,
    filling_velocities,
    flow_velocity_m_per_s,
    largest_velocity_m_per_s,
    relaxation_time_s,
    size_factor,
    sized_velocity_diameter_m2_per_s,
    velocity_left_m_per_s,
    velocity_row,
)
from onedatum.study.desk import NONE, Desk
from onedatum.study.ignition import IgnitionChapter
from onedatum.study.sensitivity import half_width_under
from onedatum.verdicts import Effect, Finding, Link

BY_DIP_PIPE = "tank, filled by a dip pipe or with a central conductor"
AT_BOTTOM = "tank, filled at the bottom without a central conductor"
WITHIN = "the filling velocity keeps its limit once the inlet is covered", "The filling velocity exceeds its limit"
AT_START = (
    "the filling velocity keeps its limit until the inlet is covered",
    "The filling velocity exceeds its limit until the inlet is covered",
)
HIGH = "high"
DECIDES = "how fast the vessel may be filled"


@dataclass(frozen=True)
class FillingChapter:
    """Filling as far as static charge asks."""

    conductivity: str
    """In a word: low, medium or high; "" where it is not known."""
    relaxation: Entry | None
    velocity: Entry | None
    largest: Entry | None
    at_start: Entry | None
    """The velocity until the inlet is covered."""
    start: Entry | None
    """Its limit."""
    row: VelocityRow | None


def filling_chapter(desk: Desk, ignition: IgnitionChapter | None) -> FillingChapter | None:
    """Work the filling; None where no explosive atmosphere is in the vessel."""
    filling = desk.case.filling
    if ignition is None or ignition.needs.inside is None:
        desk.skip(*filling.leaves())
        return None
    conductivity = desk.take(desk.case.medium.conductivity, "pS/m")
    least = _least(desk, conductivity)
    word = conductivity_word(least) if least is not None else ""
    relaxation = _relaxation(desk, conductivity)
    falls = desk.word(filling.inlet, DECIDES) == IN_FALLING
    if falls:
        desk.findings.append(_splashing())
    second = desk.said(filling.second_phase, "whether the liquid may be filled faster than at the start")
    if second == "yes":
        desk.findings.append(_two_phases())
    if word == HIGH:
        desk.skip(filling.central_conductor, filling.diagonal)
        if not (filling.pipe_bore.known or filling.pipe_bore.asked):
            desk.skip(filling.pipe_bore, filling.start_rate)
            return FillingChapter(word, relaxation, None, None, None, None, None)
    elif falls:
        desk.judge("filling-velocity", WITHIN, "falling freely", "at most", "no limit holds for a free fall", False)
        desk.skip(filling.start_rate)
        return FillingChapter(word, relaxation, None, None, None, None, None)
    return _velocities(desk, word, relaxation, least, second)


def _least(desk: Desk, conductivity: Entry) -> float | None:
    """The lowest conductivity there may be: the end of a range, or the value less its uncertainty (k = 2)."""
    stated = desk.case.medium.conductivity
    if conductivity.value is None:
        return None
    certain = conductivity.value - half_width_under(conductivity)
    return max(min(certain, stated.low if stated.low is not None else inf), 0.0)


def _relaxation(desk: Desk, conductivity: Entry) -> Entry | None:
    if not conductivity.value or not desk.case.medium.permittivity.known:
        return None
    return desk.calc(
        "filling.relaxation_time",
        relaxation_time_s,
        shown="s",
        relative_permittivity=desk.take(desk.case.medium.permittivity),
        conductivity_S_per_m=conductivity,
    )


def _velocities(desk: Desk, word: str, relaxation: Entry | None, least: float | None, second: str) -> FillingChapter:
    bounds = filling_velocities()
    velocity = _velocity(desk, "filling.velocity", desk.case.overfill.fill_rate_max, "the highest filling rate")
    start, most = (
        desk.sheet.give(
            f"filling.{name}", value, "m_per_s", meaning, state="constant", shown="m/s", source=bounds.source
        )
        for name, value, meaning in (
            ("start_velocity", bounds.start_m_per_s, "largest velocity until the inlet is covered"),
            ("velocity_max", bounds.max_m_per_s, "largest velocity in any pipe"),
        )
    )
    row = None if word == HIGH else velocity_row(_kind(desk), None, least)
    largest = start if second == "yes" else _largest(desk, row, most, second)
    at_start = _at_start(desk, velocity, start)
    _within(desk, "filling-start", AT_START, at_start, start)
    _within(desk, "filling-velocity", WITHIN, velocity, largest)
    if row is not None:
        desk.findings.append(_charges(word, velocity, largest, start))
    return FillingChapter(word, relaxation, velocity, largest, at_start, start, row)


def _within(desk: Desk, key: str, words: tuple[str, str], velocity: Entry, limit: Entry) -> None:
    """Put a velocity beside its limit."""
    margin = desk.calc(
        f"{key.replace('-', '.')}_margin",
        velocity_left_m_per_s,
        shown="m/s",
        limit_m_per_s=limit,
        value_m_per_s=velocity,
    )
    desk.compare(key, words, velocity, "at most", limit, margin, safety=True)


def _velocity(desk: Desk, name: str, rate: Value, words: str) -> Entry:
    return desk.calc(
        name,
        flow_velocity_m_per_s,
        shown="m/s",
        meaning=f"velocity in the pipe at {words}",
        flow_m3_per_s=desk.take(rate, "m3/h"),
        diameter_m=desk.take(desk.case.filling.pipe_bore, "mm"),
    )


def _at_start(desk: Desk, velocity: Entry, start: Entry) -> Entry:
    """The velocity until the inlet is covered, by the rate of the start; none stated, it is that of the highest rate.

    Where that rate is not known it is asked for, but for a highest rate that keeps the limit of the start anyway.
    """
    stated = desk.case.filling.start_rate
    desk.read.add(stated.path)
    kept = velocity.value is None or (start.value is not None and velocity.value <= start.value)
    if stated.state == NONE or (not stated.known and kept):
        return velocity
    return _velocity(desk, "filling.velocity_at_start", stated, "the filling rate of the start")


def _largest(desk: Desk, row: VelocityRow | None, most: Entry, second: str) -> Entry:
    """The largest velocity once the inlet is covered; open while it is not known whether there is a second phase.

    A liquid of high conductivity has no row: of it no product of velocity and bore is asked, only the highest velocity.
    """
    name, meaning = "filling.largest_velocity", "largest velocity once the inlet is covered"
    if second == "":
        path = desk.case.filling.second_phase.path
        return desk.sheet.give(name, None, "m_per_s", meaning, shown="m/s", path=path)
    if row is None:
        return most
    return desk.calc(
        name,
        largest_velocity_m_per_s,
        shown="m/s",
        meaning=meaning,
        velocity_diameter_m2_per_s=_product(desk, row),
        diameter_m=desk.take(desk.case.filling.pipe_bore, "mm"),
        velocity_max_m_per_s=most,
    )


def _kind(desk: Desk) -> str:
    """The row of the table; where it is not known how the liquid enters, the one with the lower limit."""
    filling = desk.case.filling
    conductor = desk.word(filling.central_conductor, DECIDES)
    from_above = filling.inlet.word == IN_BY_DIP_PIPE
    return BY_DIP_PIPE if conductor == "yes" or from_above else AT_BOTTOM


def _product(desk: Desk, row: VelocityRow) -> Entry:
    base = desk.sheet.give(
        "filling.velocity_times_bore",
        row.velocity_diameter_m2_per_s,
        "m2_per_s",
        f"largest product of velocity and bore, {row.kind}",
        state="constant",
        shown="m2/s",
        source=row.source,
    )
    diagonal = _diagonal(desk)
    if diagonal is None:
        return base
    factor = desk.calc("filling.size_factor", size_factor, diagonal_m=diagonal)
    return desk.calc(
        "filling.sized_product",
        sized_velocity_diameter_m2_per_s,
        shown="m2/s",
        velocity_diameter_m2_per_s=base,
        size_factor=factor,
    )


def _diagonal(desk: Desk) -> Entry | None:
    """The diagonal of the cross-section: as stated, of an upright round vessel its diameter; None counts as small."""
    stated, vessel = desk.case.filling.diagonal, desk.case.vessel
    desk.read.add(stated.path)
    if stated.known:
        return desk.take(stated, "m")
    if vessel.shape.word == UPRIGHT and vessel.inside_diameter.known:
        return desk.take(vessel.inside_diameter, "mm")
    return None


def _splashing() -> Finding:
    return Finding(
        "filling:falling",
        "The liquid falls freely into a vessel with an explosive atmosphere",
        Effect.WARNING,
        (Link("Splash filling charges liquid and mist"),),
        (Link("Fill by a dip pipe or from the bottom"),),
        safety=True,
    )


def _two_phases() -> Finding:
    return Finding(
        "filling:two-phases",
        "A second phase charges the liquid as long as it is present",
        Effect.WARNING,
        (Link("At most (NFPA 77 and TRGS 727, read)", "1 m/s"),),
        (Link("Keep to the velocity of the start for the whole filling"),),
        safety=True,
    )


def _charges(word: str, velocity: Entry, largest: Entry, start: Entry) -> Finding:
    known = f"The liquid has {word} conductivity" if word else "The conductivity of the liquid is not known"
    return Finding(
        "filling:charges",
        f"{known}: it charges as it is filled",
        Effect.WARNING,
        (
            Link("Velocity at the highest filling rate", velocity.text, velocity.name),
            Link("Until the inlet is covered by two diameters of the pipe, at most", start.text, start.name),
            Link("Then at most (read second-hand)", largest.text, largest.name),
        ),
        (Link("Bond and earth everything; wait before dipping by hand; no isolated float"),),
        safety=True,
    )
