"""Findings: the chains of numbers that end in something the order cannot have, or that must be said."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.foundation.working import Entry
from onedatum.study.desk import Desk
from onedatum.study.loop import CARRIES_RANGE, LoopChapter, largest_barrier_for
from onedatum.study.overfill import OverfillChapter
from onedatum.verdicts import Check, Effect, Finding, Link, Verdict

USUAL_WORST_CURRENT_A = 0.022
AT_LEVEL = "That is a level of"


def link(text: str, entry: Entry | None = None) -> Link:
    """Words and the entry they lead to."""
    return Link(text, entry.text, entry.name) if entry else Link(text)


def findings_chapter(desk: Desk, loop: LoopChapter, overfill: OverfillChapter) -> None:
    """Collect the findings of the study; those of the loop explain the failed checks they rest on."""
    explained: set[Check] = set()
    carried = next((check for check in desk.checks if overfill.carried and check.title == overfill.carried.title), None)
    if carried and carried.verdict is Verdict.DOES_NOT_SUIT:
        desk.findings.append(_alarm_never_comes(desk, loop, overfill, carried))
        explained.add(carried)
        explained.update(check for check in desk.checks if check.title == CARRIES_RANGE)
    if loop.reaches_worst is not None:
        desk.findings.append(_worst_current(desk, loop))
        explained.update(check for check in desk.checks if check.limit.value_entry == loop.terminal_at_worst.name)
    if overfill.critical_visible is False:
        desk.findings.append(_critical_not_visible(desk, overfill))
    desk.findings.extend(_small_worst_current(desk, loop))
    desk.findings.extend(_failed(check) for check in _refused(desk) if check not in explained)


def _refused(desk: Desk) -> Iterator[Check]:
    return (check for check in desk.checks if check.verdict is Verdict.DOES_NOT_SUIT)


def _alarm_never_comes(desk: Desk, loop: LoopChapter, overfill: OverfillChapter, carried: Check) -> Finding:
    source = loop.source
    chain = [
        link("The lowest supply is", source.low),
        link(
            "Input resistor, barrier and cable make" if source.barrier else "Input resistor and cable make",
            source.resistance,
        ),
        link("At the highest failure current there stay for the transmitter", loop.terminal_at_worst),
        link("It needs at least", loop.voltage_min),
        link(
            "Below that its output is undefined (clipping, restart or loss): no reliable signal above",
            loop.last_current,
        ),
        link(AT_LEVEL, loop.last_level),
        link("The high-high alarm (HH) is", overfill.high_high_current),
        link(AT_LEVEL, overfill.high_high),
    ]
    return Finding(
        "alarm-never-comes",
        "HH can never come",
        Effect.BLOCKS,
        tuple(chain),
        tuple(_ways_out(desk, loop, overfill)),
        uncertainty_stated=carried.uncertainty_stated,
        safety=True,
    )


def _ways_out(desk: Desk, loop: LoopChapter, overfill: OverfillChapter) -> Iterator[Link]:
    just = largest_barrier_for(desk, "loop.largest_barrier_for_high_high", loop, overfill.high_high_current)
    if just is not None and just.known:
        yield link("HH is just reached with a barrier of at most", just)
        enough = desk.sheet["loop.largest_barrier_for_worst"]
        yield link("The highest failure current as well with at most", enough)
        yield Link("An isolator in place of the barrier: state the voltage at its terminals")
    yield Link("A smaller input resistor, a higher supply or a thicker cable")
    yield Link("A wider range: a higher URV brings HH to a lower current")


def _worst_current(desk: Desk, loop: LoopChapter) -> Finding:
    numbers = (
        link("Highest failure current of the transmitter", loop.worst),
        link("Voltage left for it", loop.terminal_at_worst),
        link("It needs at least", loop.voltage_min),
        link("Margin", loop.margin),
    )
    if loop.reaches_worst:
        title = f"The loop passes at {loop.worst.text}"
        return Finding("loop-passes", title, Effect.HOLDS, numbers, uncertainty_stated=False, safety=True)
    title = f"The failure current of {loop.worst.text} cannot be reached"
    way_out = Link("Choose the low failure current, or leave the transmitter more voltage")
    return Finding(
        "failure-current-not-reached", title, Effect.WARNING, numbers, (way_out,), uncertainty_stated=False, safety=True
    )


def _critical_not_visible(desk: Desk, overfill: OverfillChapter) -> Finding:
    end = desk.case.range.saturation.high.text
    chain = (
        link("The critical high level (CH) is", overfill.critical),
        link("Its current would be", overfill.critical_current),
        Link(f"Above {end} the current says no more than that the level is higher than", *_level_at_end(desk)),
    )
    way_out = Link("Say so on the alarm schedule, or choose a higher URV")
    return Finding(
        "critical-high-not-visible", "CH is not visible on the loop", Effect.WARNING, chain, (way_out,), safety=True
    )


def _level_at_end(desk: Desk) -> tuple[str, str]:
    entry = desk.sheet["range.level_at_saturation_high"]
    return entry.text, entry.name


def _small_worst_current(desk: Desk, loop: LoopChapter) -> Iterator[Finding]:
    usual = desk.sheet.give(
        "loop.usual_worst_current",
        USUAL_WORST_CURRENT_A,
        "A",
        "highest failure current usually counted on",
        shown="mA",
        state="constant",
        source="common-practice",
    )
    below = desk.sheet.decide(
        "loop.worst_below_usual", "I_max < I_usual", "less than usual is counted on", I_max=loop.worst, I_usual=usual
    )
    if below:
        yield Finding(
            "worst-current-small",
            f"The loop is counted with {loop.worst.text} only",
            Effect.WARNING,
            (
                link("Highest failure current as stated", loop.worst),
                link("Usually counted on (common practice)", usual),
            ),
            (Link("Confirm the highest failure current from the data sheet of the transmitter"),),
        )


def _failed(check: Check) -> Finding:
    """A finding for a check that failed on its own, by its two numbers."""
    effect = Effect.BLOCKS if check.safety else Effect.WARNING
    chain = (
        Link("It is", check.limit.value, check.limit.value_entry),
        Link(f"It must be {check.limit.sense}", check.limit.limit, check.limit.limit_entry),
    )
    title = f"Not so: {check.title}"
    return Finding(
        f"check:{check.title}", title, effect, chain, uncertainty_stated=check.uncertainty_stated, safety=check.safety
    )
