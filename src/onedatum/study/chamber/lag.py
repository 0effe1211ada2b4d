"""How the chamber follows its vessel: its time constant, and its lag at the fastest change stated."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.foundation.working import Entry
from onedatum.physics.bypass import (
    LAMINAR_BELOW,
    chamber_lag_time_s,
    connection_speed_m_per_s,
    laminar_lag_m,
    reynolds_number,
    smooth_friction_factor,
    swing_damping,
    swing_period_s,
    turbulent_lag_m,
)
from onedatum.study.chamber.column import Standing
from onedatum.study.desk import Desk

USUAL_LOSSES = 3.0


@dataclass(frozen=True)
class LagChapter:
    """None where no rate of change is stated."""

    time: Entry
    period: Entry
    damping: Entry
    reynolds: Entry | None = None
    lag: Entry | None = None
    laminar: bool | None = None


def lag_chapter(desk: Desk, now: Standing, in_chamber: Entry) -> LagChapter | None:
    """Work it where the connections are stated; their viscosity is then asked."""
    stated, viscosity = desk.case.chamber, desk.case.medium.viscosity
    if not (stated.connection_bore.known or stated.connection_length.known):
        desk.read.update((stated.connection_losses.path, stated.level_rate.path))
        return None
    pipe = {"length_m": desk.take(stated.connection_length, "m"), "bore_m": desk.take(stated.connection_bore, "mm")}
    wide = {"chamber_diameter_m": desk.take(stated.inside_diameter, "mm")}
    gravity = {"gravity_m_per_s2": desk.take(desk.case.site.g)}
    liquid = {"viscosity_Pa_s": desk.take(viscosity), "density_kg_per_m3": now.density}
    time = desk.worked("chamber.lag_time", chamber_lag_time_s, {**liquid, **pipe, **wide, **gravity}, shown="ms")
    swings = {"chamber_level_m": in_chamber, **pipe, **wide, **gravity}
    period = desk.worked("chamber.swing_period", swing_period_s, swings, shown="s")
    damping = desk.calc("chamber.swing_damping", swing_damping, lag_time_s=time, period_s=period)
    if not stated.level_rate.known:
        desk.read.update((stated.connection_losses.path, stated.level_rate.path))
        return LagChapter(time, period, damping)
    rate = desk.take(stated.level_rate, "mm/s")
    moved = {"rate_m_per_s": rate, "bore_m": pipe["bore_m"], **wide}
    speed = desk.worked("chamber.connection_speed", connection_speed_m_per_s, moved)
    reynolds = desk.worked(
        "chamber.reynolds", reynolds_number, {**liquid, "speed_m_per_s": speed, "bore_m": pipe["bore_m"]}
    )
    below = desk.constant(
        "chamber.laminar_below",
        LAMINAR_BELOW,
        "",
        "number of Reynolds below which a pipe flows laminar",
        source="derived",
    )
    laminar = desk.sheet.decide("chamber.laminar", "R_e < R_l", "the connections flow laminar", R_e=reynolds, R_l=below)
    name, meaning = "chamber.lag", "lag of the chamber behind the vessel at that rate"
    if laminar is None or laminar:
        lag = desk.calc(name, laminar_lag_m, shown="mm", meaning=meaning, rate_m_per_s=rate, lag_time_s=time)
    else:
        lag = _turbulent(desk, (name, meaning), reynolds, speed, {**pipe, **gravity})
    _against_allowed(desk, lag)
    return LagChapter(time, period, damping, reynolds, lag, laminar)


def _turbulent(desk: Desk, called: tuple[str, str], reynolds: Entry, speed: Entry, inputs: dict[str, Entry]) -> Entry:
    stated = desk.case.chamber.connection_losses
    if stated.known:
        losses = desk.take(stated)
    else:
        note = "not stated: entry, exit and two open valves counted on (common practice, no source)"
        losses = desk.usual(stated, USUAL_LOSSES, note, source="common-practice")
    friction = desk.calc("chamber.friction_factor", smooth_friction_factor, reynolds=reynolds)
    name, meaning = called
    return desk.calc(
        name,
        turbulent_lag_m,
        shown="mm",
        meaning=meaning,
        friction_factor=friction,
        losses=losses,
        speed_m_per_s=speed,
        **inputs,
    )


def _against_allowed(desk: Desk, lag: Entry) -> None:
    allowed = desk.case.wanted.error_allowed_of_level
    if not allowed.known:
        return
    words = "the chamber follows within the error allowed", "The chamber lags by more than the error allowed"
    limit = desk.take(allowed, "mm")
    desk.compare_apart("chamber-lag", words, lag, "at most", limit, "chamber.lag_margin", "error allowed less the lag")
