"""The regime of a probe: whether its coating alone counts, the liquid counts, or its conductivity does."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.case.leaf import Value
from onedatum.case.model.instrument import CAPACITIVE
from onedatum.case.model.probe import YES
from onedatum.foundation.working import Entry
from onedatum.physics.capacitive import (
    allowed_capacity_share,
    bare_loss_limit_ratio,
    coated_capacitance_F_per_m,
    coated_conductance_S_per_m,
    conductive_from_S_per_m,
    crossover_conductivity_S_per_m,
    in_series_F_per_m,
    insulating_up_to_S_per_m,
    layer_radius_m,
    line_capacitance_F_per_m,
    loss_taken_off_F_per_m,
    loss_tangent_ratio,
    regime_ratio,
)
from onedatum.study.desk import Desk
from onedatum.study.probe.called import called
from onedatum.study.probe.permittivity import ENDS, Permittivity
from onedatum.study.probe.section import ProbeSection
from onedatum.study.sensitivity import standard_of
from onedatum.verdicts import COVERAGE

CONDUCTIVE, INSULATING, BETWEEN, SHORTED = "conductive", "insulating", "between the two", "short-circuited"
SHARE = 0.001
"""How near to its end a regime counts as reached."""
LOSS_TAKEN_OFF = 1.0
"""Loss tangent that a transmitter bears which takes the loss off the capacitance."""


@dataclass(frozen=True)
class Corner:
    """The liquid at one end of what is stated of it, or as stated."""

    crossover: Entry
    loss: Entry
    still: Entry
    """Capacitance per length, wetted, the liquid insulating."""
    wet: Entry
    """The same as it acts."""
    conductive_from: Entry | None = None
    """None for a bare rod."""
    insulating_up_to: Entry | None = None


@dataclass(frozen=True)
class Regime:
    """How the liquid acts on this probe at this frequency."""

    word: str
    """Empty while what decides it is not known."""
    stated: Corner
    conductive_from: Entry | None
    """Over everything that the permittivity may be; None for a bare rod."""
    insulating_up_to: Entry | None

    @property
    def wet(self) -> Entry:
        """Capacitance per length where the rod is wetted, as it acts."""
        return self.stated.wet


@dataclass(frozen=True)
class End:
    """The liquid otherwise than as stated."""

    key: str
    """How its entries are called."""
    text: str
    corner: Corner
    of_permittivity: bool
    """Whether its permittivity is another, and not its conductivity."""
    uncertain: bool = False
    """Whether it is so from the start, and no change."""


@dataclass(frozen=True)
class Liquids:
    """The liquid as stated, at each end of its conductivity, and with everything its permittivity may be."""

    stated: Corner
    ends: tuple[End, ...]


def liquids_of(desk: Desk, section: ProbeSection, permittivity: Permittivity) -> Liquids:
    """Work the liquid as stated and at its ends."""
    leaf = desk.case.medium.conductivity
    desk.read.add(desk.case.probe.takes_off_loss.path)
    conductivity = desk.take(leaf, "uS/cm")
    stated = _corner(desk, section, "probe", "as stated", (permittivity.value, conductivity))
    ends = []
    for which, word in ENDS:
        if (leaf.low if which == "low" else leaf.high) is not None:
            key, text = f"probe.conductivity_{word}", f"conductivity at its {word}"
            pair = (permittivity.value, desk.end(leaf, which, word))
            ends.append(End(key, text, _corner(desk, section, key, text, pair), False))
    for other in permittivity.others:
        key = f"probe.{other.key}"
        corner = _corner(desk, section, key, other.text, (other.permittivity, conductivity))
        ends.append(End(key, other.text, corner, True, other.uncertain))
    return Liquids(stated, tuple(ends))


def regime_of(desk: Desk, section: ProbeSection, liquids: Liquids, dry: Entry, active: Entry) -> Regime:
    """Judge the regime over everything that is stated of the liquid."""
    if not section.known:
        return Regime("", liquids.stated, None, None)
    if section.insulation is None:
        return Regime(_bare(desk, liquids, dry, active), liquids.stated, None, None)
    corners = [liquids.stated, *(end.corner for end in liquids.ends if end.of_permittivity)]
    uppers = [corner.conductive_from for corner in corners if corner.conductive_from is not None]
    lowers = [corner.insulating_up_to for corner in corners if corner.insulating_up_to is not None]
    upper, lower = uppers[0], lowers[0] if len(lowers) == len(corners) else None
    if len(corners) > 1:
        meaning = "conductivity from which the coating alone counts, whatever the permittivity"
        upper = desk.sheet.select("probe.conductive_from_all", "greatest", meaning, uppers)
        if lower is not None:
            meaning = "conductivity up to which the liquid insulates, whatever the permittivity"
            lower = desk.sheet.select("probe.insulating_up_to_all", "least", meaning, lowers)
    return Regime(_word(desk, lower, upper), liquids.stated, upper, lower)


def layer_of(desk: Desk, section: ProbeSection, regime: Regime) -> Entry | None:
    """Wetted, under a layer that insulates: a rod kept from a liquid that conducts; other rods it moves hardly."""
    layer = desk.case.probe.layer
    if section.insulation is None or regime.word != CONDUCTIVE or not layer.thickness.known:
        desk.skip(*layer.leaves())
        return None
    about = {"rod_radius_m": section.outside, "thickness_m": desk.take(layer.thickness, "mm")}
    outside = desk.worked("probe.layer_radius", layer_radius_m, about, shown="mm")
    around = desk.calc(
        "probe.layer_capacitance",
        line_capacitance_F_per_m,
        shown="pF/m",
        meaning="capacitance per length of the layer",
        inner_radius_m=section.outside,
        outer_radius_m=outside,
        relative_permittivity=desk.take(layer.permittivity),
    )
    both = {"first_F_per_m": section.insulation, "second_F_per_m": around}
    meaning = "capacitance per length, wetted, through coating and layer"
    return desk.worked("probe.layer_wet", in_series_F_per_m, both, shown="pF/m", meaning=meaning)


# ---------------------------------------------------------------- one corner


def _corner(desk: Desk, section: ProbeSection, name: str, text: str, liquid: tuple[Entry, Entry]) -> Corner:
    permittivity, conductivity = liquid
    frequency = desk.take(desk.case.probe.frequency, "kHz")
    crossover = desk.calc(
        f"{name}.crossover",
        crossover_conductivity_S_per_m,
        shown="uS/cm",
        meaning=f"conductivity at which as much leaks as is displaced, {text}",
        frequency_Hz=frequency,
        relative_permittivity=permittivity,
    )
    inputs = {"conductivity_S_per_m": conductivity, "crossover_S_per_m": crossover}
    loss = desk.worked(
        f"{name}.loss_tangent", loss_tangent_ratio, inputs, meaning=f"loss tangent of the {called(desk)}, {text}"
    )
    meaning = f"capacitance per length, wetted, the {called(desk)} insulating, {text}"
    still = section.filled(desk, f"{name}.still", meaning, permittivity)
    if section.insulation is None:
        return Corner(crossover, loss, still, still)
    both = {"coating_F_per_m": section.insulation, "series_F_per_m": still}
    meaning = f"how conductive the liquid is for this probe, {text}"
    ratio = desk.worked(f"{name}.regime", regime_ratio, {"loss_tangent_ratio": loss, **both}, meaning=meaning)
    wet = _acting(desk, name, text, {**both, "regime_ratio": ratio}, frequency)
    upper, lower = _limits(desk, name, text, both, crossover)
    return Corner(crossover, loss, still, wet, upper, lower)


def _acting(desk: Desk, name: str, text: str, inputs: dict[str, Entry], frequency: Entry) -> Entry:
    """As the transmitter sees it: the loss taken off takes that of the liquid with it."""
    meaning = f"capacitance per length, wetted, as it acts, {text}"
    if desk.case.probe.takes_off_loss.word != YES:
        return desk.worked(f"{name}.wet", coated_capacitance_F_per_m, inputs, shown="pF/m", meaning=meaning)
    acts = desk.worked(f"{name}.acting", coated_capacitance_F_per_m, inputs, shown="pF/m", meaning=meaning)
    leaks = desk.worked(
        f"{name}.leak",
        coated_conductance_S_per_m,
        {"frequency_Hz": frequency, **inputs},
        meaning=f"conductance per length, wetted, {text}",
    )
    return desk.calc(
        f"{name}.wet",
        loss_taken_off_F_per_m,
        shown="pF/m",
        meaning=f"{meaning}, with the loss taken off",
        capacitance_F_per_m=acts,
        conductance_S_per_m=leaks,
        frequency_Hz=frequency,
    )


def _limits(desk: Desk, name: str, text: str, both: dict[str, Entry], crossover: Entry) -> tuple[Entry, Entry | None]:
    """From where up the coating alone counts, and up to where the liquid insulates."""
    share = desk.constant(
        "probe.regime_share",
        SHARE,
        "",
        "how near to its end a regime counts as reached",
        source="common-practice",
        note="a thousandth of the capacitance",
    )
    inputs = {"crossover_S_per_m": crossover, **both, "allowed_share": share}
    meaning = f"conductivity from which the coating alone counts, {text}"
    upper = desk.worked(f"{name}.conductive_from", conductive_from_S_per_m, inputs, shown="uS/cm", meaning=meaning)
    coating, still = both["coating_F_per_m"].value, both["series_F_per_m"].value
    if coating is not None and still is not None and coating <= still * (1 + SHARE):
        return upper, None
    meaning = f"conductivity up to which the liquid insulates, {text}"
    lower = desk.worked(f"{name}.insulating_up_to", insulating_up_to_S_per_m, inputs, shown="uS/cm", meaning=meaning)
    return upper, lower


# ---------------------------------------------------------------- judged


def ends_of(desk: Desk, stated: Value) -> list[float]:
    """Everything that a value may be: its range, and its uncertainty about it."""
    around = COVERAGE * standard_of(desk.take(stated))
    known = [si for si in (stated.low, stated.si, stated.high) if si is not None]
    return [*known, *(max(si + sign * around, 0.0) for si in known for sign in (-1.0, 1.0) if around)]


def _word(desk: Desk, lower: Entry | None, upper: Entry) -> str:
    ends = ends_of(desk, desk.case.medium.conductivity)
    if not ends or upper.value is None:
        return ""
    if min(ends) >= upper.value:
        return CONDUCTIVE
    if lower is not None and lower.value is not None and max(ends) <= lower.value:
        return INSULATING
    return BETWEEN


def _bare(desk: Desk, liquids: Liquids, dry: Entry, active: Entry) -> str:
    """A bare rod bears as much loss as the error allowed, or as its transmitter takes off."""
    corners = [liquids.stated, *(end.corner for end in liquids.ends)]
    losses = [corner.loss for corner in corners]
    worst = losses[0]
    if len(losses) > 1:
        worst = desk.sheet.select(
            "probe.loss_greatest", "greatest", f"greatest loss tangent of the {called(desk)}", losses
        )
    limit = _loss_limit(desk, liquids.stated.wet, dry, active)
    holds = None if worst.value is None or limit.value is None else worst.value <= limit.value
    what = called(desk)
    words = (f"the {what} insulates well enough for a bare rod", f"The {what} conducts too well for a bare rod")
    waits = tuple({*worst.waits_for, *limit.waits_for})
    remark = desk.case.instrument.principle.word != CAPACITIVE
    desk.judge("probe-loss", words, worst.text, "at most", limit.text, holds, waits_for=waits, remark=remark)
    return "" if holds is None else INSULATING if holds else SHORTED


def _loss_limit(desk: Desk, wet: Entry, dry: Entry, active: Entry) -> Entry:
    if desk.case.probe.takes_off_loss.word == YES:
        note = "the transmitter takes the loss off the capacitance; ask its maker for the loss it bears"
        meaning = "loss tangent that the transmitter bears"
        return desk.constant("probe.loss_limit", LOSS_TAKEN_OFF, "", meaning, note=note, source="common-practice")
    allowed = desk.take(desk.case.wanted.error_allowed_of_level, "mm")
    inputs = {"error_m": allowed, "wet_F_per_m": wet, "dry_F_per_m": dry, "active_m": active}
    share = desk.worked("probe.allowed_share", allowed_capacity_share, inputs)
    meaning = "loss tangent at which the error is just allowed"
    return desk.worked("probe.loss_limit", bare_loss_limit_ratio, {"allowed_share": share}, meaning=meaning)
