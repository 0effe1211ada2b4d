"""How the chamber follows its vessel: its time constant, and its lag at the fastest change stated."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.foundation.working import Entry
from onedatum.physics.bypass import (
    LAMINAR_BELOW,
    chamber_lag_time_s,
    connection_lag_m,
    connection_speed_m_per_s,
    laminar_friction_factor,
    reynolds_number,
    smooth_friction_factor,
    swing_damping,
    swing_period_s,
)
from onedatum.study.chamber.column import Standing
from onedatum.study.desk import Desk

USUAL_LOSSES, SMOOTH_UP_TO = 3.0, 1e5


@dataclass(frozen=True)
class LagChapter:
    """None where no rate of change is stated."""

    time: Entry
    period: Entry | None
    damping: Entry | None
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
    period, damping = _swing(desk, time, {"chamber_level_m": in_chamber, **pipe, **wide, **gravity})
    if not stated.level_rate.known:
        desk.read.update((stated.connection_losses.path, stated.level_rate.path))
        return LagChapter(time, period, damping)
    rate = desk.take(stated.level_rate, "mm/s")
    moved = {"rate_m_per_s": rate, "bore_m": pipe["bore_m"], **wide}
    speed = desk.worked("chamber.connection_speed", connection_speed_m_per_s, moved)
    reynolds = desk.worked(
        "chamber.reynolds", reynolds_number, {**liquid, "speed_m_per_s": speed, "bore_m": pipe["bore_m"]}
    )
    laminar = _laminar(desk, reynolds)
    lag = _lag(desk, reynolds, laminar, {"speed_m_per_s": speed, **pipe, **gravity})
    _against_allowed(desk, lag)
    return LagChapter(time, period, damping, reynolds, lag, laminar)


def _swing(desk: Desk, time: Entry, inputs: dict[str, Entry]) -> tuple[Entry | None, Entry | None]:
    """Period and damping of the column; none where the level lies below the lower tap."""
    level = inputs["chamber_level_m"].value
    if level is not None and level < 0.0:
        return None, None
    period = desk.worked("chamber.swing_period", swing_period_s, inputs, shown="s")
    return period, desk.calc("chamber.swing_damping", swing_damping, lag_time_s=time, period_s=period)


def _laminar(desk: Desk, reynolds: Entry) -> bool | None:
    meaning = "number of Reynolds below which a pipe flows laminar"
    below = desk.constant("chamber.laminar_below", LAMINAR_BELOW, "", meaning, source="derived")
    return desk.sheet.decide("chamber.laminar", "R_e < R_l", "the connections flow laminar", R_e=reynolds, R_l=below)


def _lag(desk: Desk, reynolds: Entry, laminar: bool | None, inputs: dict[str, Entry]) -> Entry:
    """The height that friction and losses ask for at that speed; above what the friction is known for, as there."""
    stated = desk.case.chamber.connection_losses
    if stated.known:
        losses = desk.take(stated)
    else:
        note = "not stated: entry, exit and two open valves counted on (common practice, no source)"
        losses = desk.usual(stated, USUAL_LOSSES, note, source="common-practice")
    name = "chamber.friction_factor"
    if laminar is None or laminar:
        friction = desk.calc(name, laminar_friction_factor, reynolds=reynolds)
    else:
        most = desk.constant("chamber.smooth_up_to", SMOOTH_UP_TO, "", "number of Reynolds up to which it is known")
        held = desk.sheet.select("chamber.reynolds_held", "least", "number of Reynolds counted on", [reynolds, most])
        friction = desk.calc(name, smooth_friction_factor, reynolds=held)
    parts = {"friction_factor": friction, "losses": losses, **inputs}
    meaning = "lag of the chamber behind the vessel at that rate"
    return desk.worked("chamber.lag", connection_lag_m, parts, shown="mm", meaning=meaning)


def _against_allowed(desk: Desk, lag: Entry) -> None:
    allowed = desk.case.wanted.error_allowed_of_level
    if not allowed.known:
        return
    words = "the chamber follows within the error allowed", "The chamber lags by more than the error allowed"
    limit = desk.take(allowed, "mm")
    desk.compare_apart("chamber-lag", words, lag, "at most", limit, "chamber.lag_margin", "error allowed less the lag")
