"""Chapter safety: the probability that the overfill protection fails on demand, and what a level asks beside it.

No level is named from a probability alone: fault tolerance and systematic capability are put beside it, and the
assessment stays with a competent person. No failure rate is supplied; each comes from the case with its source.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from onedatum.case.model.circuit import YES
from onedatum.case.model.safety import LOW_DEMAND, PLACES, SENSOR, Subsystem
from onedatum.foundation.errors import QuantityError
from onedatum.foundation.working import Entry
from onedatum.physics.overfill import (
    equivalent_down_time_imperfect_s,
    failures_per_interval,
    fault_tolerance_of,
    group_down_time_imperfect_s,
    highest_sil_by_architecture,
    joined_pfd,
    least_fault_tolerance,
    pfd_1oo1,
    pfd_1oo2,
    pfd_2oo2,
    pfd_2oo3,
    pfd_by_markov,
    pfd_margin,
    rare_failures,
    risk_reduction,
    sil_band,
    undetected_down_time_imperfect_s,
    undetected_rate_per_s,
)
from onedatum.study.desk import NONE, Desk, Want
from onedatum.verdicts import Effect, Finding, Link

GROUPS = {"1oo2": pfd_1oo2, "2oo3": pfd_2oo3}
SINGLES = {"1oo1": pfd_1oo1, "2oo2": pfd_2oo2}
IN_BAND = "the PFD lies below the limit of the SIL asked", "The PFD is too high for the SIL asked"
TOLERANT = "{0} has the fault tolerance the SIL asks for", "{0} has too little fault tolerance for the SIL asked"
CAPABLE = "{0} has the systematic capability of the SIL asked", "{0} lacks the systematic capability of the SIL asked"
MARKOV = "Markov chain over the proof tests of the renewal interval, solved exactly"
WHOLE = "average probability of failure on demand of the whole function"
NO_SOURCE = ("", "-", "none", "unknown", "tbd")
NO_LEVEL = "A PFD alone names no SIL: fault tolerance, systematic capability and an assessment belong to it"


@dataclass(frozen=True)
class Channelled:
    """One subsystem as worked."""

    name: str
    stated: Subsystem
    pfd: Entry
    by_markov: Entry
    per_interval: Entry
    """Undetected failures to be expected between two proof tests."""


@dataclass(frozen=True)
class SafetyChapter:
    """The safety function as worked."""

    asked: str
    """The SIL asked for; "" where it is not stated."""
    subsystems: tuple[Channelled, ...]
    pfd: Entry | None
    band: str
    by_architecture: int | None
    """The highest SIL whose fault tolerance every subsystem has."""
    capability: int | None
    """The least systematic capability of them."""


def safety_chapter(desk: Desk) -> SafetyChapter | None:
    """Work the safety function; None where none is stated."""
    safety = desk.case.safety
    desk.read.update((safety.SIL.path, safety.subsystems.path, safety.demand.path))
    asked = safety.SIL.word if safety.SIL.word != "none" else ""
    if not asked and not safety.subsystems.items:
        _spoken_of(desk)
        return None
    if not safety.subsystems.items:
        return _nothing_listed(desk, asked)
    if desk.word(safety.demand, "whether the probability of failure on demand is the measure") not in (LOW_DEMAND, ""):
        desk.findings.append(_not_low_demand(bool(asked)))
        return SafetyChapter(asked, (), None, "", None, None)
    worked = tuple(_subsystem(desk, number, each) for number, each in enumerate(safety.subsystems.items, start=1))
    desk.word(safety.SIL, "what the probability of failure is compared with")
    chapter = _whole(desk, asked, worked, _missing(desk, worked))
    _beside(desk, chapter)
    _findings(desk, chapter)
    return chapter


def _spoken_of(desk: Desk) -> None:
    """Ask whether a level is asked for, where one or an automatic overfill prevention is spoken of; none answers it."""
    stated, overfill = desk.case.safety.SIL, desk.case.overfill
    automatic = (overfill.automatic_response, overfill.set_points.AOPS)
    if stated.asked or any(leaf.known or leaf.asked for leaf in automatic):
        desk.said(stated, "whether the overfill protection is a safety function")


def _nothing_listed(desk: Desk, asked: str) -> SafetyChapter:
    """A level without a subsystem: they are asked for, by name where the list is stated empty, and the PFD is open."""
    stated = desk.case.safety.subsystems
    if stated.state in ("stated", NONE):
        missing = _missing(desk, ())
    else:
        desk.want(stated, "the probability of failure on demand")
        missing = (desk.sheet.give(stated.path, None, "", stated.title, path=stated.path, place=stated.place),)
    chapter = SafetyChapter(asked, (), _open_sum(desk, missing), "", None, None)
    _beside(desk, chapter)
    return chapter


def _subsystem(desk: Desk, number: int, stated: Subsystem) -> Channelled:
    desk.read.update(leaf.path for leaf in stated.leaves())
    name = stated.name.text if stated.name.known else f"subsystem {number}"
    at = f"safety.subsystem[{number}]"
    for word, decides in ((stated.architecture, "its probability of failure"), (stated.place, "the sum over all")):
        desk.word(word, f"{decides}: {name}")
    rate = desk.take(stated.dangerous_failure_rate, "1/h")
    if rate.known and stated.dangerous_failure_rate.source.strip().lower() in NO_SOURCE:
        title, decides = f"source of the failure rate of {name}", "whether the failure rate may be used"
        desk.wants.setdefault(_source_path(stated), Want(title, "process", decides))
    inputs = _inputs(desk, at, stated)
    pfd = _pfd(desk, at, name, stated, rate, inputs)
    undetected = desk.calc(
        f"{at}.undetected_rate",
        undetected_rate_per_s,
        shown="1/h",
        meaning=f"rate of undetected dangerous failures, {name}",
        dangerous_rate_per_s=rate,
        diagnostic_coverage=inputs["diagnostic_coverage"],
    )
    per_interval = desk.calc(
        f"{at}.failures_per_interval",
        failures_per_interval,
        meaning=f"undetected failures to be expected between proof tests, {name}",
        undetected_rate_per_s=undetected,
        proof_interval_s=inputs["proof_interval_s"],
    )
    return Channelled(name, stated, pfd, _by_markov(desk, at, name, stated, rate, inputs), per_interval)


def _inputs(desk: Desk, at: str, stated: Subsystem) -> Mapping[str, Entry]:
    return {
        "diagnostic_coverage": _coverage(desk, at, stated),
        "test_coverage": desk.take(stated.proof_test_coverage, "%value"),
        "proof_interval_s": desk.take(stated.proof_test_interval, "h"),
        "renewal_interval_s": desk.take(stated.renewal_interval, "h"),
        "repair_time_s": desk.take(stated.repair_time, "h", none=0.0),
        "restoration_time_s": desk.take(stated.restoration_time, "h"),
    }


def _coverage(desk: Desk, at: str, stated: Subsystem) -> Entry:
    """The diagnostic coverage; of a sensor none is counted where the receiver does not act on failure currents."""
    coverage = desk.take(stated.diagnostic_coverage, "%value", none=0.0)
    if stated.place.word != SENSOR or not coverage.value:
        return coverage
    acts = desk.said(desk.case.loop.receiver.acts_on_failure_currents, "whether detected failures count as detected")
    if acts == YES:
        return coverage
    return desk.sheet.give(
        f"{at}.coverage_counted",
        None if acts == "" else 0.0,
        "",
        f"diagnostic coverage that counts, {stated.name.text}",
        state="unknown" if acts == "" else "none",
        shown="%value",
        path=desk.case.loop.receiver.acts_on_failure_currents.path,
        note="the receiver does not act on failure currents" if acts else "open: does the receiver act on them?",
    )


def _pfd(desk: Desk, at: str, name: str, stated: Subsystem, rate: Entry, inputs: Mapping[str, Entry]) -> Entry:
    """The probability of failure by the equations of its architecture; unknown while that is."""
    meaning, architecture = f"average probability of failure on demand, {name}", stated.architecture
    channel = desk.worked(
        f"{at}.channel_down_time",
        equivalent_down_time_imperfect_s,
        inputs,
        shown="h",
        meaning=f"mean down time of a channel, {name}",
    )
    alone = {"dangerous_rate_per_s": rate, "equivalent_down_time_s": channel}
    if architecture.word in SINGLES:
        return desk.worked(f"{at}.pfd", SINGLES[architecture.word], alone, meaning=meaning)
    if architecture.word in GROUPS:
        beside = {**alone, **_of_group(desk, at, name, stated, inputs)}
        return desk.worked(f"{at}.pfd", GROUPS[architecture.word], beside, meaning=meaning)
    return desk.sheet.give(f"{at}.pfd", None, "", meaning, path=architecture.path, place=architecture.place)


def _of_group(desk: Desk, at: str, name: str, stated: Subsystem, inputs: Mapping[str, Entry]) -> Mapping[str, Entry]:
    """What a group of channels asks beside the down time of one."""
    return {
        "diagnostic_coverage": inputs["diagnostic_coverage"],
        "beta": desk.take(stated.beta, "%value"),
        "beta_detected": desk.take(stated.beta_detected, "%value"),
        "group_down_time_s": desk.worked(
            f"{at}.group_down_time",
            group_down_time_imperfect_s,
            inputs,
            shown="h",
            meaning=f"mean down time of the group, {name}",
        ),
        "undetected_down_time_s": desk.worked(
            f"{at}.undetected_down_time",
            undetected_down_time_imperfect_s,
            {key: inputs[key] for key in _HIDDEN},
            shown="h",
            meaning=f"mean down time of an undetected failure, {name}",
        ),
        "restoration_time_s": inputs["restoration_time_s"],
    }


_HIDDEN = ("test_coverage", "proof_interval_s", "renewal_interval_s", "repair_time_s")


def _by_markov(desk: Desk, at: str, name: str, stated: Subsystem, rate: Entry, inputs: Mapping[str, Entry]) -> Entry:
    """The same probability by an exact chain, as a check on the equations."""
    group = stated.architecture.word in GROUPS
    shares = [desk.take(leaf, "%value") for leaf in (stated.beta, stated.beta_detected)] if group else []
    rests_on = [rate, *inputs.values(), *shares]
    value, method = None, MARKOV
    renewed, interval = inputs["renewal_interval_s"].value, inputs["proof_interval_s"].value
    in_order = renewed is None or interval is None or renewed >= interval
    if stated.architecture.word and in_order and all(entry.known for entry in rests_on):
        numbers = {key: entry.value or 0.0 for key, entry in inputs.items()}
        beta, beta_detected = (entry.value or 0.0 for entry in shares) if group else (0.0, 0.0)
        try:
            value = pfd_by_markov(
                stated.architecture.word,
                rate.value or 0.0,
                beta=beta,
                beta_detected=beta_detected,
                **numbers,
            )
        except QuantityError as error:
            method = f"not worked: {stated.renewal_interval.title} must be {error.allowed}"
    return desk.sheet.record(
        f"{at}.pfd_by_markov",
        value,
        "",
        f"average probability of failure on demand by a Markov chain, {name}",
        method=method,
        source="derived",
        rests_on=rests_on,
    )


def _source_path(stated: Subsystem) -> str:
    """Under what the source of a failure rate is asked."""
    return f"{stated.dangerous_failure_rate.path}.source"


def _missing(desk: Desk, worked: Sequence[Channelled]) -> tuple[Entry, ...]:
    """What is missing of the function: a place nothing stands for, or a failure rate without its source."""
    found = []
    placed = {each.stated.place.word for each in worked}
    for place in PLACES:
        if place not in placed:
            path = f"safety.subsystems ({place})"
            decides = "the probability of failure of the whole function"
            desk.wants.setdefault(path, Want(f"the {place} of the safety function", "process", decides))
            found.append(desk.sheet.give(path, None, "", f"the {place} of the safety function"))
    for each in worked:
        path = _source_path(each.stated)
        if path in desk.wants:
            found.append(desk.sheet.give(path, None, "", f"source of the failure rate of {each.name}"))
    return tuple(found)


def _whole(desk: Desk, asked: str, worked: tuple[Channelled, ...], missing: tuple[Entry, ...]) -> SafetyChapter:
    """The sum over the subsystems; while something is missing it is the sum of a part, and says so."""
    stated = _sum(desk, worked, "safety.pfd_of_stated" if missing else "safety.pfd")
    total = _open_sum(desk, (stated, *missing)) if missing else stated
    if total.known and total.value:
        desk.calc("safety.risk_reduction", risk_reduction, pfd=total)
    words = [each.stated.architecture.word for each in worked]
    capabilities = [each.stated.systematic_capability.word for each in worked]
    return SafetyChapter(
        asked,
        worked,
        total,
        sil_band(total.value) if total.value else "",
        min(map(highest_sil_by_architecture, words)) if all(words) else None,
        min(map(int, capabilities)) if all(capabilities) else None,
    )


def _open_sum(desk: Desk, rests_on: Sequence[Entry]) -> Entry:
    """The sum while something of the function is missing: no number."""
    return desk.sheet.record(
        "safety.pfd",
        None,
        "",
        WHOLE,
        method="open while something of the function is missing",
        source="iec-61508-6: Annex B, sum over the subsystems",
        rests_on=rests_on,
    )


def _sum(desk: Desk, worked: Sequence[Channelled], name: str) -> Entry:
    """The sum over the subsystems, the last one under the name."""
    total = worked[0].pfd
    for number, each in enumerate(worked[1:], start=2):
        last = number == len(worked)
        total = desk.calc(
            name if last else f"safety.pfd_of_first[{number}]",
            joined_pfd,
            meaning=WHOLE if last else "",
            first_pfd=total,
            second_pfd=each.pfd,
        )
    return total


def _beside(desk: Desk, chapter: SafetyChapter) -> None:
    """What is asked beside what is there, where a SIL is asked."""
    if not chapter.asked or chapter.pfd is None:
        return
    level = int(chapter.asked)
    limit = desk.sheet.give(
        "safety.pfd_limit",
        10.0**-level,
        "",
        f"upper end of the band of SIL {level}",
        state="constant",
        source="iec-61508-1: low demand",
    )
    margin = desk.calc("safety.pfd_margin", pfd_margin, limit_pfd=limit, value_pfd=chapter.pfd)
    desk.compare("sil-pfd", IN_BAND, chapter.pfd, "at most", limit, margin, safety=True)
    for number, each in enumerate(chapter.subsystems, start=1):
        _tolerance(desk, number, each, level)
        _capability(desk, number, each, level)


def _tolerance(desk: Desk, number: int, each: Channelled, level: int) -> None:
    word = each.stated.architecture
    holds, fails = (words.format(each.name) for words in TOLERANT)
    try:
        needed = str(least_fault_tolerance(level).faults)
    except QuantityError:
        path = "safety.fault_tolerance"
        desk.wants.setdefault(
            path,
            Want(
                f"fault tolerance that SIL {level} asks for, by a competent person", "process", "whether the SIL is met"
            ),
        )
        desk.judge(f"sil-tolerance[{number}]", (holds, fails), word.word, "at least", "", None, waits_for=(path,))
        return
    has = fault_tolerance_of(word.word) if word.word else None
    desk.judge(
        f"sil-tolerance[{number}]",
        (holds, fails),
        "unknown" if has is None else f"{has} ({word.word})",
        "at least",
        needed,
        None if has is None else has >= int(needed),
        waits_for=(word.path,),
    )


def _capability(desk: Desk, number: int, each: Channelled, level: int) -> None:
    stated = each.stated.systematic_capability
    holds, fails = (words.format(each.name) for words in CAPABLE)
    word = desk.said(stated, f"whether {each.name} may serve the SIL asked")
    desk.judge(
        f"sil-capability[{number}]",
        (holds, fails),
        word or "unknown",
        "at least",
        str(level),
        word != NONE and int(word) >= level if word else None,
        waits_for=(stated.path,),
    )


def _findings(desk: Desk, chapter: SafetyChapter) -> None:
    limit = rare_failures()
    for each in chapter.subsystems:
        if each.stated.architecture.word in GROUPS and 0.0 in (each.stated.beta.si, each.stated.beta_detected.si):
            desk.findings.append(_no_common_cause(each))
        number = each.per_interval.value
        if number is not None and number > limit.most_per_interval:
            desk.findings.append(_often(each, limit.words))
    if chapter.pfd is not None and chapter.pfd.known:
        desk.findings.append(_band(chapter, chapter.pfd))


def _band(chapter: SafetyChapter, pfd: Entry) -> Finding:
    told = {"none": "above the band of SIL 1", "beyond 4": "below the band of SIL 4"}
    where = told.get(chapter.band, f"in the band of SIL {chapter.band}")
    names = ", ".join(each.name for each in chapter.subsystems)
    chain = [
        Link("All of these are needed", names),
        Link("Average probability of failure on demand of the whole function", pfd.text, pfd.name),
    ]
    chain += [
        Link(f"By the Markov chain, {each.name}", each.by_markov.text, each.by_markov.name)
        for each in chapter.subsystems
        if each.by_markov.known
    ]
    if chapter.by_architecture is not None:
        chain.append(Link("Fault tolerance allows at most", f"SIL {chapter.by_architecture}"))
    if chapter.capability is not None:
        chain.append(Link("Systematic capability allows at most", f"SIL {chapter.capability}"))
    chain.append(Link(NO_LEVEL))
    return Finding("pfd-band", f"The PFD lies {where}; that alone is no SIL", Effect.WARNING, tuple(chain), safety=True)


def _no_common_cause(each: Channelled) -> Finding:
    return Finding(
        f"no-common-cause[{each.name}]",
        f"No failure of common cause is counted: {each.name}",
        Effect.WARNING,
        (Link("Architecture", each.stated.architecture.word), Link("beta or beta_detected", "0")),
        (Link("Equal channels fail in common more often than by chance; state where a beta of 0 comes from"),),
        safety=True,
    )


def _often(each: Channelled, words: str) -> Finding:
    return Finding(
        f"pfd-often[{each.name}]",
        f"The equations of first order are stretched: {each.name}",
        Effect.WARNING,
        (
            Link(
                "Undetected failures to be expected between proof tests", each.per_interval.text, each.per_interval.name
            ),
            Link("By the equations", each.pfd.text, each.pfd.name),
            Link("By the Markov chain", each.by_markov.text, each.by_markov.name),
        ),
        (Link(words), Link("Test oftener, or a more reliable part")),
        safety=True,
    )


def _not_low_demand(asked: bool) -> Finding:
    """Nothing is worked for it; where a level is asked all the same the order is blocked."""
    return Finding(
        "not-low-demand",
        "The function is called upon more often than once a year: no PFD is worked",
        Effect.BLOCKS if asked else Effect.WARNING,
        (Link("For high or continuous demand the frequency of dangerous failures (PFH) is the measure"),),
        (Link("A specialist works the frequency; this study does not"),),
        safety=True,
    )
