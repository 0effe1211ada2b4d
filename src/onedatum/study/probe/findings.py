"""What must be said of a probe: its regime, a liquid that changes, a film, a wall that does not conduct, its length."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.case.model.probe import CONCRETE, NO, STRIP_OUTSIDE, YES
from onedatum.foundation.units import show
from onedatum.study.desk import Desk, Want
from onedatum.study.probe.called import called
from onedatum.study.probe.chapter import ProbeChapter, is_lined
from onedatum.study.probe.checks import late_alarm
from onedatum.study.probe.ends_findings import ends_findings
from onedatum.study.probe.foam import foam_findings
from onedatum.study.probe.judged import by_capacitance
from onedatum.study.probe.media_findings import media_findings
from onedatum.study.probe.off import effect_of, far_below_allowed, left_text, off
from onedatum.study.probe.regime import BETWEEN, CONDUCTIVE, INSULATING, SHORTED
from onedatum.verdicts import Effect, Finding, Link

LONG_SHARE = 0.001
"""From here up a rod is no longer short against the wave on it."""
TITLES = {
    CONDUCTIVE: "The liquid conducts: the coating alone counts",
    INSULATING: "The liquid insulates: its permittivity counts",
}


EXPLAINS = {
    "probe-feels-nothing": "probe-feels",
    "probe-shorted": "probe-loss",
    "probe-alarm-late": "probe-late",
    "probe-film-reads": "probe-film",
    "probe-no-earth": "probe-circuit",
    "probe-length-open": "probe-length",
    "probe-bridge-reads": "rod-bridge",
    "probe-reference-bare": "probe-reference-covered",
    "probe-reference-second-liquid": "probe-reference-even",
}
"""The check that each finding tells of with its chain of numbers and its ways out; it is said once."""


def probe_findings(desk: Desk, probe: ProbeChapter) -> Iterator[Finding]:
    """Every finding of the probe; of an alternative beside another principle none stops the order."""
    for each in _findings(desk, probe):
        if each.key in EXPLAINS:
            desk.explained.add(EXPLAINS[each.key])
        yield each


def _findings(desk: Desk, probe: ProbeChapter) -> Iterator[Finding]:
    grave = Effect.BLOCKS if by_capacitance(desk) else Effect.WARNING
    yield from _feels(probe, grave)
    yield from _regime(desk, probe, grave)
    yield from media_findings(desk, probe, grave)
    yield from foam_findings(desk, probe)
    yield from _late(desk, probe, grave)
    yield from _film(desk, probe, grave)
    yield from _earth(desk, probe, grave)
    yield from _second_liquid(desk, probe, grave)
    yield from _wave(desk, probe, grave)
    yield from ends_findings(desk, probe)
    yield from _length(desk, probe, grave)
    yield from _bridge(desk, probe, grave)


# ---------------------------------------------------------------- the liquid


def _feels(probe: ProbeChapter, grave: Effect) -> Iterator[Finding]:
    if probe.slope.value is None or probe.slope.value > 0.0:
        return
    yield Finding(
        "probe-feels-nothing",
        "The probe does not feel the level: the liquid holds no more than the gas above it",
        grave,
        (Link("Change of capacitance per change of level", probe.slope.text, probe.slope.name),),
        (Link("Another principle"),),
    )


def _regime(desk: Desk, probe: ProbeChapter, grave: Effect) -> Iterator[Finding]:
    regime = probe.regime
    if regime.word == SHORTED:
        loss = regime.stated.loss
        yield Finding(
            "probe-shorted",
            f"The {called(desk)} conducts too well for a bare rod: it shorts the probe",
            grave,
            (Link("Loss tangent of the liquid as stated", loss.text, loss.name),),
            (Link("A coated rod; or another principle"),),
        )
        return
    if regime.conductive_from is None:
        return
    yield from _by_limits(desk, probe)


def _by_limits(desk: Desk, probe: ProbeChapter) -> Iterator[Finding]:
    """Against the conductivities at which the coating alone counts, and the liquid insulates; the deciding one last."""
    regime = probe.regime
    conductivity = desk.sheet[desk.case.medium.conductivity.path]
    own = Link("Conductivity of the liquid", conductivity.text, conductivity.name)
    limits = [
        Link(words, entry.text, entry.name)
        for words, entry in (
            ("The liquid insulates up to", regime.insulating_up_to),
            (f"The {probe.section.keeps_off} alone counts from", regime.conductive_from),
        )
        if entry is not None
    ]
    if regime.word == BETWEEN:
        title = "Neither regime holds: a change of the conductivity reads as level"
        ways = (Link("Another frequency, a thicker coating, a concentric tube; or another principle"),)
        yield Finding("probe-regime", title, Effect.WARNING, (*limits, own, *_range_open(desk)), ways)
    elif regime.word in TITLES:
        chain = limits if regime.word == CONDUCTIVE else limits[::-1]
        title = TITLES[regime.word].replace("coating", probe.section.keeps_off).replace("liquid", called(desk))
        yield Finding("probe-regime", title, Effect.HOLDS, (own, *chain))


def _range_open(desk: Desk) -> tuple[Link, ...]:
    """Between the regimes one conductivity alone tells no error: its range is asked for, and that is said.

    How well it is known does not tell it either: a setting takes that in, and no later change.
    """
    stated = desk.case.medium.conductivity
    if stated.low is not None or stated.high is not None:
        return ()
    title = "least and greatest conductivity of the liquid"
    desk.wants.setdefault(f"{stated.path}.range", Want(title, "process", "what its changes make of the reading"))
    return (Link("Its range is not stated: no error of the level counts it"),)


def _late(desk: Desk, probe: ProbeChapter, grave: Effect) -> Iterator[Finding]:
    """With the liquid at its worst the alarm comes only when the level stands higher."""
    late = late_alarm(desk, probe)
    if late is None:
        return
    stands, critical, text = late
    if stands.value is None or critical.value is None or stands.value < critical.value:
        return
    yield Finding(
        "probe-alarm-late",
        f"With the {text} the alarm HH comes only above CH",
        grave,
        (
            Link("CH stands at", critical.text, critical.name),
            Link("HH would come with the level at", stands.text, stands.name),
        ),
        (Link("A new setting with every liquid, or an alarm of another kind"),),
        safety=True,
    )


def _second_liquid(desk: Desk, probe: ProbeChapter, grave: Effect) -> Iterator[Finding]:
    """Water below the liquid, or a heavier one: it shorts a bare rod, and reads as more of a coated one."""
    water, lower = desk.case.quantity.free_water_level, desk.case.interface.lower_density
    tip = probe.lower.value
    drowned = water.si is not None and tip is not None and water.si > tip
    if not (drowned or lower.known):
        return
    leaf = water if drowned else lower
    yield Finding(
        "probe-second-liquid",
        "The rod stands in two liquids: one reading cannot tell two levels",
        grave,
        (Link(leaf.title, leaf.text, leaf.path if leaf.path in desk.sheet else ""),),
        (Link("The rod ends above the lower liquid; or another principle"),),
    )


# ---------------------------------------------------------------- film, earth


def _film(desk: Desk, probe: ProbeChapter, grave: Effect) -> Iterator[Finding]:
    film, stays = probe.film, desk.case.probe.film.stays
    if film is None or stays.word == NO:
        return
    title = (
        "A film above the level reads as level"
        if stays.word == YES
        else "Open until a test of hysteresis shows that no continuous film stays above the level"
    )
    numbers = [
        ("Length of the rod above the level now", film.now.length),
        ("A wave on the film dies to 1/e over", film.depth),
        ("Most that a film of any length adds", film.greatest),
        ("This one seems to add", film.now.extra),
    ]
    if film.takes_off_loss:
        numbers.append(("Left of it once the loss is taken off", film.now.left))
    yield Finding(
        "probe-film-reads",
        title,
        effect_of(desk, film.deciding, grave),
        tuple(Link(words, left_text(entry), entry.name) for words, entry in numbers if entry.known),
        (
            Link("Test it: raise the level, let it fall, and see what the reading leaves behind"),
            Link("A higher frequency where the rod stays short, a rod that sheds the liquid; or another principle"),
        ),
    )


def _earth(desk: Desk, probe: ProbeChapter, grave: Effect) -> Iterator[Finding]:
    through = probe.through_wall
    chain: tuple[Link, ...] = (Link("Wall of the vessel", desk.case.probe.wall.kind.word or "not known"),)
    if through is not None and through.share.known:
        low = show(abs(through.share.value or 0.0), "%")
        chain = (
            Link("Through the wall alone it would close by", through.wall.text, through.wall.name),
            Link("Through the wall alone it would read low by", low, through.share.name),
            Link("The capacitance now is", probe.now.capacitance.text, probe.now.capacitance.name),
        )
    if probe.closes is False:
        yield _no_earth(desk, grave, chain)
    elif through is not None and through.share.known:
        title = "The probe needs its own earth, bare and down to the lowest level: the wall does not close its circuit"
        yield Finding("probe-earth", title, Effect.WARNING, chain, (Link("Keep the earthed rod clean and connected"),))
    yield from _strip_outside(desk, probe, grave)
    yield from _narrow(probe)


def _no_earth(desk: Desk, grave: Effect, chain: tuple[Link, ...]) -> Finding:
    """Nothing earths the liquid, or the rod has no other plate: the title says which wall it is."""
    ways = [Link("An earthed rod beside the probe, bare and down to the lowest level, or a concentric tube")]
    title = "The wall closes no circuit: what lies behind it would be read, and it changes"
    if desk.case.probe.wall.kind.word == CONCRETE:
        title = (
            "Concrete is no earth to rely on: moist or reinforced it conducts, dry it does not, and nothing earths it"
        )
    elif is_lined(desk):
        lining = desk.case.vessel.lining
        title = "The lining keeps the liquid off the metal: the wall closes the circuit only through the lining"
        chain = (*chain, Link(lining.title, lining.text, lining.path if lining.path in desk.sheet else ""))
        ways.append(Link("Of a lining that conducts: state the inside diameter within it, and no lining"))
    return Finding("probe-no-earth", title, grave, chain, tuple(ways))


def _strip_outside(desk: Desk, probe: ProbeChapter, grave: Effect) -> Iterator[Finding]:
    """The wall before a strip outside lies in series with everything: it says whether, not how much."""
    behind = probe.section.behind
    if desk.case.probe.earth.kind.word != STRIP_OUTSIDE or behind is None:
        return
    yield Finding(
        "probe-strip-outside",
        "A strip outside closes the circuit through the wall: good for a first look, not for an order",
        grave,
        (
            Link("The wall before it holds per length", behind.text, behind.name),
            Link("Change of capacitance per change of level", probe.slope.text, probe.slope.name),
        ),
        (Link("The strip inside, an earthed rod beside the probe, or a trial in the vessel itself"),),
    )


def _narrow(probe: ProbeChapter) -> Iterator[Finding]:
    """Two rods in a tank of plastic that is not wide against their distance, where its wall could not be worked."""
    narrow = probe.plastic.narrow
    if narrow is None or probe.regime.word == CONDUCTIVE:
        return
    chain = []
    if narrow.why:
        chain.append(Link(f"Its wall cannot be worked: {narrow.why}"))
    if narrow.takes is not None and narrow.takes.known:
        chain.append(Link("With air in the place of the wall it takes", narrow.takes.text, narrow.takes.name))
    yield Finding(
        "probe-narrow",
        "The vessel is narrow for two rods: wall and what lies outside move the capacitance",
        Effect.WARNING,
        (
            *chain,
            Link(
                "Capacitance per length by two rods alone",
                probe.regime.stated.still.text,
                probe.regime.stated.still.name,
            ),
        ),
        (Link("State wall and outside; rods nearer to one another; or a setting at two levels in the vessel itself"),),
    )


# ---------------------------------------------------------------- rod


def _wave(desk: Desk, probe: ProbeChapter, grave: Effect) -> Iterator[Finding]:
    share = probe.wave.value
    if share is None or share <= LONG_SHARE:
        return
    allowed, active = desk.case.wanted.error_allowed_of_level.si, probe.active.value
    small = allowed is not None and active is not None and share * active <= allowed
    if active is not None and far_below_allowed(desk, share * active):
        return
    yield Finding(
        "probe-wave",
        "The rod is long for this frequency: it seems to hold more than it does",
        Effect.WARNING if small else grave,
        (Link("Capacitance seen above the true one, by", probe.wave.text, probe.wave.name),),
        (Link("A lower frequency, or a setting at two levels that lie far apart"),),
    )


def _length(desk: Desk, probe: ProbeChapter, grave: Effect) -> Iterator[Finding]:
    """A coated rod can never be shortened; of one with a bare tip the tip can, which makes it a remark."""
    section, lengths = probe.section, probe.fit.lengths
    if not (section.coated or section.sleeved) or desk.case.probe.length_confirmed.word == YES:
        return
    whole = lengths.whole
    chain = [Link("Active length", probe.active.text, probe.active.name)]
    if whole is not None and whole.known:
        chain.append(Link("Length below the sealing face", whole.text, whole.name))
    title = "A coated rod cannot be shortened: its length must be confirmed by the drawing first"
    if section.sleeved:
        title = "Only the bare tip can be cut: the length of the coated part must be confirmed by the drawing"
    yield Finding(
        "probe-length-open",
        title,
        Effect.WARNING if section.sleeved else grave,
        tuple(chain),
        (Link("Confirm the length by the drawing of vessel and nozzle, then state it as confirmed"),),
    )


def _bridge(desk: Desk, probe: ProbeChapter, grave: Effect) -> Iterator[Finding]:
    """A film at the gland reads as level, or hides it; an inactive part takes it out of the measurement."""
    bridge = probe.fit.bridge
    if bridge is None or bridge.error.value is None or far_below_allowed(desk, bridge.error.value):
        return
    word, size = off(bridge.error)
    effect = effect_of(desk, bridge.error, grave)
    yield Finding(
        "probe-bridge-reads",
        f"A film that bridges rod and nozzle at the gland makes the probe read {word}",
        effect,
        (
            Link("Resistance of the film", bridge.resistance.text, bridge.resistance.name),
            Link(f"It reads too {word} by", size, bridge.error.name),
        ),
        (Link("An inactive part or a guard section, down past nozzle and splash"),),
    )
