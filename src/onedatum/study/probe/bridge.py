"""A film that conducts and bridges rod and nozzle at the gland; an inactive part takes it out of the measurement."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.case.model.probe import NO, YES
from onedatum.foundation.working import Entry
from onedatum.physics.capacitive import (
    bridge_extra_m,
    bridge_left_m,
    bridge_loss_F,
    bridge_resistance_ohm,
    film_depth_m,
    film_extra_m,
    film_left_m,
    film_resistance_ohm_per_m,
    radius_m,
)
from onedatum.study.desk import Desk
from onedatum.study.probe.judged import by_capacitance
from onedatum.study.probe.level import AtLevel
from onedatum.study.probe.regime import BETWEEN, CONDUCTIVE, SHORTED, Regime
from onedatum.study.probe.section import ProbeSection

WORDS = "a film at the gland keeps the error allowed", "A film at the gland reads as level"


@dataclass(frozen=True)
class Bridge:
    """The film at the gland with no inactive part behind it."""

    resistance: Entry
    """From rod to nozzle of a bare rod; per length of a coated one."""
    error: Entry


def bridge_of(
    desk: Desk, section: ProbeSection, regime: Regime, slope: Entry, rows: tuple[AtLevel, ...]
) -> Bridge | None:
    """Work the film; None where none can form, an inactive part covers it, or it is not said."""
    gland = desk.case.probe.gland
    film = (gland.film_thickness, gland.film_conductivity, gland.film_length)
    desk.read.add(gland.bridge.path)
    covered = bool(desk.case.probe.inactive_length.si)
    if gland.bridge.word != YES or covered or not section.known:
        desk.skip(*film)
        if not covered and gland.bridge.word not in (YES, NO):
            _ask(desk, regime)
        return None
    desk.want(desk.case.probe.inactive_length, "what keeps a film at the gland out of the measurement")
    bridge = (
        _over_ring(desk, section, slope, rows)
        if section.coating is None
        else _down_coating(desk, section.outside, section.coating)
    )
    limit = desk.take(desk.case.wanted.error_allowed_of_level, "mm")
    error = bridge.error
    holds = None if error.value is None or limit.value is None else abs(error.value) <= limit.value
    waits = tuple(dict.fromkeys((*error.waits_for, *limit.waits_for)))
    remark = not by_capacitance(desk)
    desk.judge("rod-bridge", WORDS, error.text, "at most", limit.text, holds, waits_for=waits, remark=remark)
    return bridge


def _ask(desk: Desk, regime: Regime) -> None:
    """A liquid that conducts leaves films that do; of one that insulates it is asked only where it is spoken of."""
    leaf = desk.case.probe.gland.bridge
    conducts = regime.word in (CONDUCTIVE, BETWEEN, SHORTED)
    if not by_capacitance(desk) or not (conducts or leaf.asked):
        return
    desk.want(leaf, "whether the gland needs an inactive part below it")
    said = "not said", "is", "no film, or an inactive part"
    desk.judge("rod-bridge", WORDS, *said, None, waits_for=(leaf.path,))


def _over_ring(desk: Desk, section: ProbeSection, slope: Entry, rows: tuple[AtLevel, ...]) -> Bridge:
    """Over the ring that insulates a bare rod, at the end of the range where the probe holds least."""
    probe = desk.case.probe
    desk.skip(probe.gland.film_length)
    desk.beside_the_point.discard(probe.gland_diameter.path)
    ring = desk.once(
        "probe.gland_radius",
        radius_m,
        shown="mm",
        meaning="radius of the insulating ring in the roof",
        diameter_m=desk.take(probe.gland_diameter, "mm"),
    )
    inputs = {"rod_radius_m": section.core, "gland_radius_m": ring, **_film(desk)}
    resistance = desk.worked("probe.bridge_resistance", bridge_resistance_ohm, inputs, shown="kohm")
    leak = {"frequency_Hz": desk.take(probe.frequency, "kHz"), "resistance_ohm": resistance}
    loss = desk.worked("probe.bridge_loss", bridge_loss_F, leak, shown="pF")
    least = min((rows[0], rows[-1]), key=lambda row: row.wetted.value or 0.0)
    both = {"loss_F": loss, "sensitivity_F_per_m": slope}
    if probe.takes_off_loss.word == YES:
        return Bridge(resistance, desk.worked("probe.bridge_error", bridge_left_m, both, shown="mm"))
    both |= {"capacitance_F": least.capacitance}
    return Bridge(resistance, desk.worked("probe.bridge_error", bridge_extra_m, both, shown="mm"))


def _down_coating(desk: Desk, outside: Entry, coating: Entry) -> Bridge:
    """Down the coating from the nozzle: earthed above and open below, the mirror of a film above the level."""
    probe = desk.case.probe
    inputs = {"coating_radius_m": outside, **_film(desk)}
    meaning = "resistance per length of the film at the gland"
    name = "probe.bridge_resistance"
    resistance = desk.worked(name, film_resistance_ohm_per_m, inputs, shown="ohm/m", meaning=meaning)
    line = {
        "frequency_Hz": desk.take(probe.frequency, "kHz"),
        "resistance_ohm_per_m": resistance,
        "coating_F_per_m": coating,
    }
    meaning = "length over which a wave on the film at the gland dies to 1/e"
    depth = desk.worked("probe.bridge_depth", film_depth_m, line, shown="mm", meaning=meaning)
    along = {"length_m": desk.take(probe.gland.film_length, "mm"), "depth_m": depth}
    reads = film_left_m if probe.takes_off_loss.word == YES else film_extra_m
    meaning = "what the film at the gland seems to add to the level"
    return Bridge(resistance, desk.worked("probe.bridge_error", reads, along, shown="mm", meaning=meaning))


def _film(desk: Desk) -> dict[str, Entry]:
    gland = desk.case.probe.gland
    return {
        "thickness_m": desk.take(gland.film_thickness, "mm"),
        "conductivity_S_per_m": desk.take(gland.film_conductivity, "uS/cm"),
    }
