"""Contradictions in the conditions that a choice turns on: with one another, and with what the case states elsewhere.

Both sides are named. Only what no plant can have at once is refused; what is merely unusual is left to the rules.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from math import isclose

from onedatum.case.leaf import Leaf, Text, Value, Word
from onedatum.case.model import Case
from onedatum.case.model.conditions import NO, YES, condition_leaves
from onedatum.case.model.instrument import IN_CHAMBER
from onedatum.case.model.liquid import BOILING_WATER, FREE, MAGNETIC, NON_MAGNETIC
from onedatum.case.model.probe import CONCRETE, CONDUCTS, INSULATES
from onedatum.foundation.errors import Fault

NONE = "none"
INSULATES_BELOW_S_PER_M = 1e-5
"""Below 0.1 uS/cm nobody calls a liquid or a layer conductive (common practice, no source)."""
CONDUCTS_ABOVE_S_PER_M = 1e-2
"""Above 100 uS/cm nobody calls one insulating (common practice, no source)."""
OPEN_UP_TO_PA = 2e3
"""What a vent may hold above the atmosphere."""

Answers = Mapping[str, Leaf]


def conditions_contradictions(case: Case) -> Iterator[Fault]:
    """Every contradiction in the conditions."""
    answers = condition_leaves(case.conditions)
    if not any(leaf.known or leaf.state == NONE for leaf in answers.values()):
        return
    for check in _CHECKS:
        yield from check(case, answers)


# ---------------------------------------------------------------- how the checks are written


def _word(answers: Answers, name: str) -> str:
    """The word of an answer, `none` where its absence is stated; empty where it is not known."""
    leaf = answers[name]
    return NONE if leaf.state == NONE else leaf.word if isinstance(leaf, Word) else ""


def _against(leaf: Leaf, other: Leaf, why: str) -> Fault:
    """The two that cannot both be, each by its place in the case."""
    said = other.text or NONE
    return Fault(leaf.path, f"in keeping with {other.path}, which is {said}", leaf.text or NONE, why, leaf.place)


def _pairs(answers: Answers, why: str, *pairs: tuple[str, tuple[str, ...], str, tuple[str, ...]]) -> Iterator[Fault]:
    """Words that cannot stand beside one another: of one answer, and of another."""
    for name, words, other, others in pairs:
        if _word(answers, name) in words and _word(answers, other) in others:
            yield _against(answers[name], answers[other], why)


def _some(leaf: Leaf) -> bool:
    """Whether a number above zero is stated."""
    return isinstance(leaf, Value) and (leaf.high or leaf.si or 0.0) > 0.0


def _none_of(leaf: Text | Value) -> bool:
    """Whether absence is stated."""
    return leaf.state == NONE or (isinstance(leaf, Value) and leaf.si == 0.0)


def _most(leaf: Value) -> float | None:
    return leaf.high if leaf.high is not None else leaf.si


def _least(leaf: Value) -> float | None:
    return leaf.low if leaf.low is not None else leaf.si


# ---------------------------------------------------------------- what conducts


def _layer(_: Case, answers: Answers) -> Iterator[Fault]:
    """A deposit that conducts, and its conductivity."""
    said, measured = answers["deposit.conductive"], answers["deposit.conductivity"]
    if not isinstance(measured, Value) or measured.si is None:
        return
    word, most, least = _word(answers, "deposit.conductive"), _most(measured), _least(measured)
    if word == YES and most is not None and most < INSULATES_BELOW_S_PER_M:
        yield _against(said, measured, "a layer of less than 0.1 uS/cm insulates")
    if word == NO and least is not None and least > CONDUCTS_ABOVE_S_PER_M:
        yield _against(said, measured, "a layer of more than 100 uS/cm conducts")


def _liquid(case: Case, answers: Answers) -> Iterator[Fault]:
    """Foam and condensate are made of the liquid; of two liquids it is the upper one."""
    liquid = case.medium.conductivity
    most, least = _most(liquid), _least(liquid)
    if most is not None and most < INSULATES_BELOW_S_PER_M:
        for name, word in (("foam.kind", "wet conductive"), ("vapour.kind", "condensing conductive")):
            if _word(answers, name) == word:
                yield _against(answers[name], liquid, "foam and condensate of a liquid that insulates insulate as well")
        if _word(answers, "interface.upper_conductive") == YES:
            yield _against(answers["interface.upper_conductive"], liquid, "the medium is the upper of two liquids")
    if least is not None and least > CONDUCTS_ABOVE_S_PER_M:
        if _word(answers, "foam.kind") == "wet insulating":
            yield _against(answers["foam.kind"], liquid, "wet foam of a liquid that conducts conducts as well")
        if _word(answers, "interface.upper_conductive") == NO:
            yield _against(answers["interface.upper_conductive"], liquid, "the medium is the upper of two liquids")


# ---------------------------------------------------------------- what is in the liquid, and on it


def _solids(case: Case, answers: Answers) -> Iterator[Fault]:
    particles, word = case.medium.particles, case.medium.particles.word
    kind, magnetic = _word(answers, "solids.kind"), _word(answers, "solids.magnetic")
    if word == FREE and kind not in ("", NONE):
        yield _against(answers["solids.kind"], particles, "a liquid free of particles holds no solids")
    if word in (NON_MAGNETIC, MAGNETIC) and kind == NONE:
        yield _against(answers["solids.kind"], particles, "particles are solids")
    if word in (FREE, NON_MAGNETIC) and magnetic == YES:
        yield _against(answers["solids.magnetic"], particles, "iron and rust are magnetic particles")
    if word == MAGNETIC and magnetic == NO:
        yield _against(answers["solids.magnetic"], particles, "iron and rust are magnetic particles")
    if kind == NONE:
        for name in ("solids.grain_size", "solids.content"):
            if _some(answers[name]):
                yield _against(answers[name], answers["solids.kind"], "what is not there has neither size nor amount")
        yield from _pairs(
            answers, "what is not there does not settle", ("solids.settle", (YES,), "solids.kind", (NONE,))
        )


def _deposit(case: Case, answers: Answers) -> Iterator[Fault]:
    kind, stated = _word(answers, "deposit.kind"), case.medium.deposits
    if kind == NONE and _some(answers["deposit.thickness"]):
        yield _against(answers["deposit.thickness"], answers["deposit.kind"], "what is not there has no thickness")
    if kind not in ("", NONE) and _none_of(stated):
        yield _against(answers["deposit.kind"], stated, "there are deposits, or there are none")
    if kind == NONE and stated.known:
        yield _against(answers["deposit.kind"], stated, "there are deposits, or there are none")


def _foam(case: Case, answers: Answers) -> Iterator[Fault]:
    kind, stated = _word(answers, "foam.kind"), case.medium.foam
    if kind == NONE and _some(answers["foam.height"]):
        yield _against(answers["foam.height"], answers["foam.kind"], "what is not there has no height")
    if kind == NONE and _word(answers, "foam.top_wanted") == YES:
        yield _against(answers["foam.top_wanted"], answers["foam.kind"], "what is not there has no top to be measured")
    for leaf in (stated, case.overfill.foam):
        if kind not in ("", NONE) and _none_of(leaf) and case.overfill.CH.state != NONE:
            yield _against(answers["foam.kind"], leaf, "there is foam, or there is none")
        if kind == NONE and leaf.known and not _none_of(leaf):
            yield _against(answers["foam.kind"], leaf, "there is foam, or there is none")


def _bubbles(case: Case, answers: Answers) -> Iterator[Fault]:
    share, gas = case.medium.void_share, _word(answers, "gas.in_liquid")
    if gas == NONE and _some(share):
        yield _against(answers["gas.in_liquid"], share, "bubbles are gas in the liquid")
    if gas == "aerated" and _none_of(share):
        yield _against(answers["gas.in_liquid"], share, "an aerated liquid holds bubbles")


# ---------------------------------------------------------------- what stands above it


def _vapour(case: Case, answers: Answers) -> Iterator[Fault]:
    """Over boiling water stands steam, and steam is not dry."""
    kind = case.medium.kind
    if kind.word == BOILING_WATER:
        for name, word in (("vapour.kind", "dry"), ("vapour.composition", "air")):
            if _word(answers, name) == word:
                yield _against(answers[name], kind, "over boiling water stands its steam")
    yield from _pairs(answers, "steam is not air", ("vapour.composition", ("air",), "vapour.kind", ("steam",)))


def _gas_space(case: Case, answers: Answers) -> Iterator[Fault]:
    pressure, gas = case.pressure.operating, _word(answers, "vessel.gas")
    atmosphere = case.site.atmospheric_pressure.si if pressure.suffix == "Pa_abs" else 0.0
    if gas == "open" and pressure.si is not None and atmosphere is not None:
        ends = [end for end in (pressure.low, pressure.si, pressure.high) if end is not None]
        if any(abs(end - atmosphere) > OPEN_UP_TO_PA for end in ends):
            yield _against(answers["vessel.gas"], pressure, "a vessel open to the air holds no pressure")
    closed = ("closed known", "closed varying")
    yield from _pairs(
        answers, "a vessel without a roof is open to the air", ("vessel.gas", closed, "roof.kind", ("open",))
    )


def _warmth(case: Case, answers: Answers) -> Iterator[Fault]:
    sets, liquid = answers["temperature.setting"], case.medium.temperature
    most = _most(liquid)
    solid = isinstance(sets, Value) and sets.si is not None and most is not None and sets.si > most
    if solid and _word(answers, "flow.kind") in ("runs off", "clings"):
        yield _against(sets, liquid, "at no temperature stated would it still be liquid")


# ---------------------------------------------------------------- vessel, place, danger


def _wall(case: Case, answers: Answers) -> Iterator[Fault]:
    kind, at_probe = _word(answers, "wall.kind"), case.probe.wall.kind
    fits = {CONDUCTS: ("metal", "lined metal", "refractory lined"), INSULATES: ("plastic",), CONCRETE: ("concrete",)}
    if kind and at_probe.word in fits and kind not in fits[at_probe.word]:
        yield _against(answers["wall.kind"], at_probe, "a vessel has one wall")
    if kind in ("metal", "plastic", "concrete") and _some(answers["wall.liner_thickness"]):
        yield _against(
            answers["wall.liner_thickness"], answers["wall.kind"], "a wall without a lining has none as thick"
        )


def _mounting(case: Case, answers: Answers) -> Iterator[Fault]:
    if _word(answers, "mount.top") == NO and case.nozzle.place.known:
        yield _against(answers["mount.top"], case.nozzle.place, "a nozzle at the top is an opening at the top")
    untapped = _word(answers, "mount.side_taps") == NO and _word(answers, "mount.bottom") != YES
    if untapped and case.instrument.principle.word == IN_CHAMBER:
        yield _against(answers["mount.side_taps"], case.instrument.principle, "a chamber needs taps")


def _rate(case: Case, answers: Answers) -> Iterator[Fault]:
    """One vessel has one fastest change of its level."""
    rate, at_chamber = answers["rate.level"], case.chamber.level_rate
    most = _most(rate) if isinstance(rate, Value) else None
    if most is not None and at_chamber.si is not None and not isclose(most, at_chamber.si, rel_tol=1e-6):
        yield _against(rate, at_chamber, "the chamber follows the level of the vessel")


def _charge(case: Case, answers: Answers) -> Iterator[Fault]:
    strong, word = case.charge.strong_charging, _word(answers, "charging")
    if word == "strong" and strong.word == NO:
        yield _against(answers["charging"], strong, "the content is charged strongly, or it is not")
    if word in (NONE, "splash") and strong.word == YES:
        yield _against(answers["charging"], strong, "the content is charged strongly, or it is not")


def _zone(case: Case, _: Answers) -> Iterator[Fault]:
    """Where nothing can explode there is no group of it."""
    zone = case.zone
    without = [leaf.state == NONE or leaf.word == NONE for leaf in (zone.inside, zone.at_head)]
    if all(without) and zone.group.word not in ("", NONE):
        yield _against(zone.group, zone.inside, "a group belongs to what can explode in a zone")


def _bulk(case: Case, answers: Answers) -> Iterator[Fault]:
    """What only grain and powder have, beside a medium that is stated as a liquid."""
    stated = case.medium.kind
    if not stated.known or any(leaf.known for leaf in case.medium.bulk.leaves()):
        return
    for name in ("bulk.grain", "bulk.filling"):
        if answers[name].known:
            yield _against(answers[name], stated, "a liquid is no bulk solid: state medium.bulk for one")


_CHECKS: tuple[Callable[[Case, Answers], Iterator[Fault]], ...] = (
    _layer,
    _liquid,
    _solids,
    _deposit,
    _foam,
    _bubbles,
    _vapour,
    _gas_space,
    _warmth,
    _wall,
    _mounting,
    _rate,
    _charge,
    _zone,
    _bulk,
)
