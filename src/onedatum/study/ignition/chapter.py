"""Chapter ignition: may the instrument be where it is meant to be, and may its circuit?"""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.case.leaf import Leaf
from onedatum.case.model.circuit import ISOLATOR, SHUNT_DIODE
from onedatum.case.model.hazard import INTRINSIC, OTHER
from onedatum.study.desk import NONE, Desk
from onedatum.study.ignition.atmosphere import outside_the_ratings
from onedatum.study.ignition.charge import ChargeChapter, charge_chapter
from onedatum.study.ignition.circuit import CircuitChapter, circuit_chapter
from onedatum.study.ignition.earth import earthing
from onedatum.study.ignition.instrument import instrument_serves
from onedatum.study.ignition.place import Needs, needs_of
from onedatum.study.ignition.plausible import implausible
from onedatum.verdicts import Effect, Finding, Link

DOUBTS = ("group-too-low", "class-too-low", "no-class-serves", "implausible:")
"""Findings that leave the place or the certificates in doubt."""
HANDED_ON = "whether it may be there, in place of the check that is not made here"


@dataclass(frozen=True)
class IgnitionChapter:
    """What the sheets need of the hazardous area."""

    needs: Needs
    atmosphere: tuple[Link, ...]
    """Why the ratings do not hold inside the vessel; empty where nothing is known against them."""
    circuit: CircuitChapter | None
    """None where no intrinsically safe circuit is stated."""
    charge: ChargeChapter
    place_open: tuple[str, ...]
    """What is not known of the place; while there is one, nothing is said to serve it."""
    doubts: tuple[str, ...]
    """What of the place or the certificates is wrong or looks so."""

    @property
    def open_points(self) -> tuple[str, ...]:
        """Why nothing may be said to hold."""
        return (*self.place_open, *self.doubts)


def ignition_chapter(desk: Desk) -> IgnitionChapter | None:
    """Work zone, instrument, circuit and charge; None where there is no zone."""
    needs = needs_of(desk)
    _unread(desk)
    if not needs.any_zone:
        if all(NONE in (leaf.state, leaf.word) for leaf in (desk.case.zone.inside, desk.case.zone.at_head)):
            _no_zone(desk)
        return None
    atmosphere, unknown = outside_the_ratings(desk, needs)
    instrument_serves(desk, needs)
    circuit = _circuit(desk, needs, atmosphere)
    if atmosphere and circuit is None:
        desk.findings.append(_refused("The ratings do not hold inside the vessel", atmosphere))
        _hand_on(desk)
    if needs.dust:
        desk.findings.append(_dust(needs.gas))
        _hand_on(desk)
    return IgnitionChapter(needs, atmosphere, circuit, charge_chapter(desk, needs), *_open(desk, needs, unknown))


def _open(desk: Desk, needs: Needs, not_known: tuple[str, ...]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What is not known of the place, and what is in doubt."""
    zone = desk.case.zone
    needed: list[Leaf] = [zone.inside, zone.at_head, zone.group]
    if needs.inside is not None:
        needed += [zone.gas_space, desk.case.pressure.operating, desk.case.medium.temperature]
    unknown = [leaf.title for leaf in needed if not leaf.known and leaf.state != NONE] + list(not_known)
    doubts = [finding.title for finding in desk.findings if finding.key.startswith(DOUBTS)]
    doubts += ["dust"] if needs.dust else []
    faulty = (fault.path for fault in (*desk.faults, *desk.sheet.faults))
    unknown += [path for path in faulty if path.startswith(("zone", "circuit", "instrument.protection"))]
    return tuple(unknown), tuple(doubts)


def _unread(desk: Desk) -> None:
    """What is printed on the sheets and judged by nothing."""
    protection = desk.case.instrument.protection
    desk.read.update(
        leaf.path for leaf in (*protection.leaves(), *desk.case.zone.leaves(), *desk.case.loop.cable.leaves())
    )


def _circuit(desk: Desk, needs: Needs, atmosphere: tuple[Link, ...]) -> CircuitChapter | None:
    """The circuit, where intrinsic safety is the protection; another protection is handed on."""
    kind = desk.said(desk.case.loop.barrier.kind, "whether the circuit is limited")
    protection = desk.said(desk.case.instrument.protection.type, "how the instrument is protected")
    if protection == OTHER:
        desk.findings.append(_other_protection())
        _hand_on(desk)
        desk.skip(*desk.case.circuit.leaves())
        return None
    if kind not in (SHUNT_DIODE, ISOLATOR):
        if kind == NONE:
            desk.findings.append(_no_barrier(protection == INTRINSIC))
        desk.skip(*desk.case.circuit.leaves())
        return None
    circuit = circuit_chapter(desk, needs, atmosphere)
    if not circuit.refused:
        implausible(desk)
    else:
        desk.findings.append(_refused("No simple check of the circuit can be made", circuit.refused))
        _hand_on(desk)
    earthing(desk)
    return circuit


def _no_zone(desk: Desk) -> None:
    """Nothing of protection, circuit and charge is needed; where some of it is stated all the same, that is told."""
    case = desk.case
    desk.skip(*case.instrument.protection.leaves(), *case.circuit.leaves(), *case.charge.leaves())
    desk.skip(*case.probe.bleed.leaves())
    stated = (
        case.circuit.source.Uo,
        case.instrument.protection.type,
        case.zone.substance,
        case.zone.flash_point,
        case.zone.ignition_temperature,
    )
    told = tuple(Link(leaf.title, leaf.text) for leaf in stated if leaf.known)
    if told:
        title = "No zone is stated, and yet something that belongs to one"
        way_out = Link("State the zone of the area classification")
        desk.findings.append(Finding("zone-forgotten", title, Effect.WARNING, told, (way_out,), safety=True))


def _hand_on(desk: Desk) -> None:
    """Ask for the assessment of a competent person where this study makes none."""
    stated = desk.case.zone.assessment
    if not stated.known:
        desk.want(stated, HANDED_ON)


def _refused(title: str, reasons: tuple[Link, ...]) -> Finding:
    way_out = Link("A competent person assesses it; state the reference as zone.assessment")
    return Finding("circuit-refused", title, Effect.WARNING, reasons, (way_out,), safety=True)


def _dust(gas: bool) -> Finding:
    """Dust is handed on; gas and dust in one case need two groups, and only one can be stated."""
    return Finding(
        "dust",
        "A zone of dust: its surface temperatures are not judged here",
        Effect.BLOCKS if gas else Effect.WARNING,
        (
            Link("The ignition temperatures of cloud and layer decide, with the layer's thickness"),
            Link("One group is stated; it cannot serve gas and dust both"),
        ),
        (Link("A competent person assesses it; state the reference as zone.assessment"),),
        safety=True,
    )


def _other_protection() -> Finding:
    return Finding(
        "protection-other",
        "Another protection than intrinsic safety is stated: its installation is not checked here",
        Effect.WARNING,
        (Link("Cable glands, covers, connection while live follow the rules of that protection"),),
        (Link("A competent person assesses it; state the reference as zone.assessment"),),
        safety=True,
    )


def _no_barrier(intrinsic: bool) -> Finding:
    """Without barrier or isolator there is no intrinsic safety; stated all the same, it blocks the order."""
    stated = "Intrinsic safety" if intrinsic else "A zone"
    return Finding(
        "no-barrier",
        f"{stated} is stated, and neither barrier nor isolator limits the circuit",
        Effect.BLOCKS if intrinsic else Effect.WARNING,
        (Link("Nothing limits voltage, current and power in the zone"),),
        (Link("A shunt-diode barrier or an isolator of the level of protection that the zone asks"),),
        safety=True,
    )
