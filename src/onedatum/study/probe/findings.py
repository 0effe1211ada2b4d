"""What must be said of a probe: its regime, a liquid that changes, a film, a wall that does not conduct, its length."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.case.model.probe import NO, YES
from onedatum.study.desk import Desk
from onedatum.study.probe.chapter import ProbeChapter, by_capacitance, length_confirmed, without_earth
from onedatum.study.probe.regime import BETWEEN, CONDUCTIVE, INSULATING, Change
from onedatum.verdicts import Effect, Finding, Link

TOLD_M = 5e-4
LONG_SHARE = 0.001
"""From here up a rod is no longer short against the wave on it."""
TITLES = {
    CONDUCTIVE: "The liquid conducts: the coating alone counts",
    INSULATING: "The liquid insulates: its permittivity counts",
}
LENGTH = (
    "the length of the coated rod is confirmed by the drawing",
    "The length of the coated rod is not confirmed by the drawing",
)


def probe_findings(desk: Desk, probe: ProbeChapter) -> Iterator[Finding]:
    """Every finding of the probe; of an alternative beside another principle none stops the order."""
    grave = Effect.BLOCKS if by_capacitance(desk) else Effect.WARNING
    yield from _regime(desk, probe)
    for change in probe.changes:
        yield from _change(desk, change, grave)
    yield from _film(desk, probe)
    yield from _earth(desk, probe, grave)
    yield from _wave(probe)
    yield from _length(desk, probe)


def _regime(desk: Desk, probe: ProbeChapter) -> Iterator[Finding]:
    regime = probe.regime
    conductivity = desk.sheet[desk.case.medium.conductivity.path]
    if not probe.section.coated or regime.conductive_from is None:
        return
    limits = [
        Link("Conductivity of the liquid", conductivity.text, conductivity.name),
        Link("The coating alone counts from", regime.conductive_from.text, regime.conductive_from.name),
    ]
    if regime.insulating_up_to is not None:
        entry = regime.insulating_up_to
        limits.insert(1, Link("The liquid insulates up to", entry.text, entry.name))
    if regime.word in TITLES:
        yield Finding("probe-regime", TITLES[regime.word], Effect.HOLDS, tuple(limits))
    elif regime.word == BETWEEN:
        title = "Neither regime holds: a change of the conductivity reads as level"
        ways = (Link("A lower frequency, a thicker coating, a concentric tube; or another principle"),)
        yield Finding("probe-regime", title, Effect.WARNING, tuple(limits), ways)


def _change(desk: Desk, change: Change, grave: Effect) -> Iterator[Finding]:
    error = change.error.value
    if error is None or abs(error) < TOLD_M:
        return
    allowed = desk.case.wanted.error_allowed_of_level.si
    small = allowed is not None and abs(error) <= allowed
    word = "high" if error > 0.0 else "low"
    yield Finding(
        f"probe-change[{change.text}]",
        f"Set before, the probe reads {word} with the {change.text}",
        Effect.WARNING if small or allowed is None else grave,
        (
            Link("Change of capacitance per change of level then", change.slope.text, change.slope.name),
            Link("The level now would read too high by", change.error.text, change.error.name),
        ),
        (Link("A reference section that stays wetted, a new setting with every product; or another principle"),),
    )


def _film(desk: Desk, probe: ProbeChapter) -> Iterator[Finding]:
    film, stays = probe.film, desk.case.probe.film.stays
    if film is None or stays.word == NO or not film.now.extra.known:
        return
    title = (
        "A film above the level reads as level"
        if stays.word == YES
        else "Open until a test of hysteresis shows that no continuous film stays above the level"
    )
    now = film.now
    yield Finding(
        "probe-film-reads",
        title,
        Effect.WARNING,
        (
            Link("Length of the rod above the level now", now.length.text, now.length.name),
            Link("A wave on the film dies to 1/e over", film.depth.text, film.depth.name),
            Link("The film seems to add", now.extra.text, now.extra.name),
            Link("Left of it once the loss is taken off", now.left.text, now.left.name),
            Link("Most that a film of any length adds", film.greatest.text, film.greatest.name),
        ),
        (
            Link("Test it: raise the level, let it fall, and see what the reading leaves behind"),
            Link("A higher frequency where the rod stays short, a rod that sheds the liquid; or another principle"),
        ),
    )


def _earth(desk: Desk, probe: ProbeChapter, grave: Effect) -> Iterator[Finding]:
    through = probe.through_wall
    chain = (
        (
            Link("Through the wall it would close by", through.wall.text, through.wall.name),
            Link("of the capacitance now", probe.now.capacitance.text, probe.now.capacitance.name),
            Link("so that the reading would be off by", through.share.text, through.share.name),
        )
        if through is not None
        else (Link("Wall of the vessel", desk.case.probe.wall.kind.word),)
    )
    if without_earth(desk):
        yield Finding(
            "probe-no-earth",
            "The wall closes no circuit: what lies behind it would be read, and it changes",
            grave,
            chain,
            (Link("An earthed rod beside the probe, or a concentric tube"),),
        )
    elif through is not None:
        yield Finding("probe-earth", "The earth of the probe is what makes this reading", Effect.HOLDS, chain)


def _wave(probe: ProbeChapter) -> Iterator[Finding]:
    share = probe.wave.value
    if share is None or share <= LONG_SHARE:
        return
    yield Finding(
        "probe-wave",
        "The rod is long for this frequency: it seems to hold more than it does",
        Effect.WARNING,
        (Link("Capacitance seen above the true one, by", probe.wave.text, probe.wave.name),),
        (Link("A lower frequency, or a setting at two levels that lie far apart"),),
    )


def _length(desk: Desk, probe: ProbeChapter) -> Iterator[Finding]:
    """A coated rod can never be shortened."""
    if not probe.section.coated:
        return
    leaf, holds = desk.case.probe.length_confirmed, length_confirmed(desk)
    desk.read.add(leaf.path)
    if holds is None:
        desk.want(leaf, "whether the rod fits: its coating cannot be cut")
    desk.judge("probe-length", LENGTH, leaf.word or "not said", "is", YES, holds, waits_for=(leaf.path,))
    if not holds and by_capacitance(desk):
        yield Finding(
            "probe-length-open",
            "A coated rod cannot be shortened: its length must be confirmed by the drawing first",
            Effect.BLOCKS,
            (Link("Active length", probe.active.text, probe.active.name),),
            (Link("Confirm the length by the drawing of vessel and nozzle, then state it as confirmed"),),
        )
