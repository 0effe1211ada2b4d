"""The regime of a probe: whether its coating alone counts, the liquid counts, or its conductivity does."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.case.leaf import Value
from onedatum.foundation.working import Entry
from onedatum.physics.capacitive import (
    allowed_share,
    bare_loss_limit_ratio,
    changed_slope_error_m,
    coated_capacitance_F_per_m,
    conductive_from_S_per_m,
    crossover_conductivity_S_per_m,
    insulating_up_to_S_per_m,
    loss_tangent_ratio,
    regime_ratio,
    sensitivity_F_per_m,
)
from onedatum.study.apart import SHARES
from onedatum.study.desk import Desk
from onedatum.study.probe.section import ProbeSection

CONDUCTIVE, INSULATING, BETWEEN = "conductive", "insulating", "between the two"
SHARE = 0.001
"""How near to its end a regime counts as reached."""
LOSS_TAKEN_OFF = 1.0
"""Loss tangent that a transmitter bears which takes the loss off the capacitance."""


@dataclass(frozen=True)
class Regime:
    """How the liquid acts on this probe at this frequency."""

    word: str
    """Empty while what decides it is not known."""
    crossover: Entry
    loss: Entry
    conductive_from: Entry | None
    """None for a bare rod."""
    insulating_up_to: Entry | None
    wet: Entry
    """Capacitance per length where the rod is wetted, as it acts."""


@dataclass(frozen=True)
class Change:
    """The liquid at one end of what is stated of it, after the setting."""

    text: str
    slope: Entry
    error: Entry
    """Of the level now."""


def regime_of(desk: Desk, section: ProbeSection, permittivity: Entry, active: Entry) -> Regime:
    """Work the regime, and judge it."""
    desk.read.add(desk.case.probe.takes_off_loss.path)
    crossover = _crossover(desk, "probe.crossover", permittivity)
    conductivity = desk.take(desk.case.medium.conductivity, "uS/cm")
    loss = _loss(desk, "probe.loss_tangent", conductivity, crossover)
    meaning = "capacitance per length, wetted, the liquid insulating"
    still = section.filled(desk, "probe.still", meaning, permittivity)
    if section.coating is None:
        _bare(desk, active)
        word = ""
        if loss.value is not None:
            word = INSULATING if loss.value <= 0.1 else BETWEEN
        return Regime(word, crossover, loss, None, None, still)
    upper, lower = _limits(desk, section.coating, still, crossover)
    wet = _acting(desk, "probe.wet", "as it acts", section.coating, still, loss)
    return Regime(_word(desk, lower, upper), crossover, loss, upper, lower, wet)


def changes_of(desk: Desk, section: ProbeSection, regime: Regime, dry: Entry, wetted: Entry) -> tuple[Change, ...]:
    """What each end of the conductivity and of the permittivity does to the level now."""
    medium = desk.case.medium
    slope = desk.sheet["probe.sensitivity"]
    found = []
    for leaf, key in ((medium.conductivity, "conductivity"), (medium.permittivity, "permittivity")):
        if key == "conductivity" and section.coating is None:
            continue
        for which, word in (("low", "least"), ("high", "greatest")):
            if (leaf.low if which == "low" else leaf.high) is None:
                continue
            end = desk.end(leaf, which, word)
            found.append(_change(desk, section, (key, word), end, (dry, wetted, slope)))
    return tuple(found)


def _change(
    desk: Desk, section: ProbeSection, called: tuple[str, str], end: Entry, about: tuple[Entry, Entry, Entry]
) -> Change:
    key, word = called
    dry, wetted, slope = about
    name, text = f"probe.{key}_{word}", f"{key} at its {word}"
    conducts = key == "conductivity"
    conductivity = end if conducts else desk.take(desk.case.medium.conductivity, "uS/cm")
    still = (
        desk.sheet["probe.still"]
        if conducts
        else section.filled(desk, f"{name}.still", f"capacitance per length, {text}", end)
    )
    wet = still
    if section.coating is not None:
        crossover = desk.sheet["probe.crossover"] if conducts else _crossover(desk, f"{name}.crossover", end)
        loss = _loss(desk, f"{name}.loss_tangent", conductivity, crossover)
        wet = _acting(desk, f"{name}.wet", text, section.coating, still, loss)
    meaning = f"change of capacitance per change of level, {text}"
    now = desk.calc(
        f"{name}.sensitivity", sensitivity_F_per_m, shown="pF/m", meaning=meaning, wet_F_per_m=wet, dry_F_per_m=dry
    )
    error = desk.calc(
        f"{name}.error",
        changed_slope_error_m,
        shown="mm",
        meaning=f"the level now reads too high by, {text}",
        wetted_m=wetted,
        now_F_per_m=now,
        set_F_per_m=slope,
    )
    return Change(text, now, error)


# ---------------------------------------------------------------- parts


def _crossover(desk: Desk, name: str, permittivity: Entry) -> Entry:
    return desk.calc(
        name,
        crossover_conductivity_S_per_m,
        shown="uS/cm",
        meaning="conductivity at which as much leaks as is displaced",
        frequency_Hz=desk.take(desk.case.probe.frequency, "kHz"),
        relative_permittivity=permittivity,
    )


def _loss(desk: Desk, name: str, conductivity: Entry, crossover: Entry) -> Entry:
    inputs = {"conductivity_S_per_m": conductivity, "crossover_S_per_m": crossover}
    return desk.worked(name, loss_tangent_ratio, inputs, meaning="loss tangent of the liquid")


def _acting(desk: Desk, name: str, meaning: str, coating: Entry, still: Entry, loss: Entry) -> Entry:
    ratio = desk.calc(
        f"{name}.regime",
        regime_ratio,
        meaning=f"how conductive the liquid is for this probe, {meaning}",
        loss_tangent_ratio=loss,
        coating_F_per_m=coating,
        series_F_per_m=still,
    )
    return desk.calc(
        name,
        coated_capacitance_F_per_m,
        shown="pF/m",
        meaning=f"capacitance per length, wetted, {meaning}",
        coating_F_per_m=coating,
        series_F_per_m=still,
        regime_ratio=ratio,
    )


def _limits(desk: Desk, coating: Entry, still: Entry, crossover: Entry) -> tuple[Entry, Entry | None]:
    """From where up the coating alone counts, and up to where the liquid insulates."""
    share = desk.constant(
        "probe.regime_share",
        SHARE,
        "",
        "how near to its end a regime counts as reached",
        source="common-practice",
        note="a thousandth of the capacitance",
    )
    inputs = {
        "crossover_S_per_m": crossover,
        "coating_F_per_m": coating,
        "series_F_per_m": still,
        "allowed_share": share,
    }
    meaning = "conductivity from which the coating alone counts"
    upper = desk.worked("probe.conductive_from", conductive_from_S_per_m, inputs, shown="uS/cm", meaning=meaning)
    if coating.value is not None and still.value is not None and coating.value <= still.value * (1 + SHARE):
        return upper, None
    meaning = "conductivity up to which the liquid insulates"
    return upper, desk.worked(
        "probe.insulating_up_to", insulating_up_to_S_per_m, inputs, shown="uS/cm", meaning=meaning
    )


def _word(desk: Desk, lower: Entry | None, upper: Entry) -> str:
    """By the whole range of the conductivity that is stated."""
    stated: Value = desk.case.medium.conductivity
    ends = [si for si in (stated.low, stated.si, stated.high) if si is not None]
    if not ends or upper.value is None:
        return ""
    if min(ends) >= upper.value:
        return CONDUCTIVE
    if lower is not None and lower.value is not None and max(ends) <= lower.value:
        return INSULATING
    return BETWEEN


def _bare(desk: Desk, active: Entry) -> None:
    """A bare rod bears as much loss as the error allowed, or as its transmitter takes off."""
    medium, probe = desk.case.medium, desk.case.probe
    which = medium.conductivity
    worst = desk.end(which, "high", "greatest") if which.high is not None else desk.take(which, "uS/cm")
    loss = _loss(desk, "probe.loss_greatest", worst, desk.sheet["probe.crossover"])
    if probe.takes_off_loss.word == "yes":
        note = "the transmitter takes the loss off the capacitance"
        meaning = "loss tangent that the transmitter bears"
        limit = desk.constant("probe.loss_limit", LOSS_TAKEN_OFF, "", meaning, note=note, source="common-practice")
    else:
        allowed = desk.take(desk.case.wanted.error_allowed_of_level, "mm")
        share = desk.calc("probe.allowed_share", allowed_share, error_m=allowed, length_m=active)
        limit = desk.calc(
            "probe.loss_limit",
            bare_loss_limit_ratio,
            meaning="loss tangent at which the error is just allowed",
            allowed_share=share,
        )
    words = (
        "the liquid insulates well enough for a bare rod",
        "The liquid conducts too well for a bare rod",
    )
    desk.compare_apart("probe-loss", words, loss, "at most", limit, "probe.loss_margin", by=SHARES)
