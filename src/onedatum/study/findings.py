"""Findings: the chains of numbers that end in something the order cannot have, or that must be said."""

from __future__ import annotations

from collections.abc import Iterator, Set

from onedatum.case.model.circuit import NO
from onedatum.case.model.keeping import THIS_GAUGE
from onedatum.foundation.units import show
from onedatum.physics.uncertainty import expanded
from onedatum.study.correlated import correlation_of
from onedatum.study.desk import Desk
from onedatum.study.ignition import CIRCUIT_KEYS, IgnitionChapter
from onedatum.study.loop import LoopChapter
from onedatum.study.overfill import ALARM_CARRIED, OverfillChapter
from onedatum.study.safe import Safe
from onedatum.study.sensitivity import spread_of, uncertain_under
from onedatum.study.ways_out import link, ways_out
from onedatum.verdicts import COVERAGE, Check, Effect, Finding, Link, Verdict

USUAL_WORST_CURRENT_A, USUAL_GAP_M = 0.022, 0.075
ALARM_NEVER_COMES, CIRCUIT_HOLDS = "alarm-never-comes", "circuit-holds"
AT_LEVEL = "That is a level of"
WIRE_BREAK = "A wire break is 0 mA, whatever failure direction is set; so is a transmitter without voltage"


def findings_chapter(desk: Desk, safe: Safe) -> None:
    """Collect the findings of the study; those of the loop explain the failed checks they rest on."""
    loop, overfill = safe.wired, safe.overfill
    explained = {"worst-current", *desk.explained}
    if overfill is not None and desk.verdict_of(ALARM_CARRIED).verdict is Verdict.DOES_NOT_SUIT:
        desk.findings.append(_alarm_not_carried(desk, loop, overfill, desk.verdict_of(ALARM_CARRIED)))
        explained |= {ALARM_CARRIED, "carries-range"}
    desk.findings.extend(_worst_current(loop, desk.verdict_of("worst-current")))
    if overfill is not None:
        desk.findings.extend(_critical_not_visible(desk, loop, overfill))
        _alarm_findings(desk, overfill)
    desk.findings.extend(_small_worst_current(desk, loop))
    desk.findings.extend(_reverse_acting(desk, loop))
    desk.findings.extend(_failure_unheeded(desk, loop))
    desk.findings.extend(_circuit_holds(desk, safe.ignition))
    _failures(desk, explained)


def findings_without_instrument(desk: Desk, safe: Safe) -> None:
    """Collect those of the alarms and of the checks that need no instrument."""
    if safe.overfill is not None:
        _alarm_findings(desk, safe.overfill)
    _failures(desk, desk.explained)


def _failures(desk: Desk, explained: Set[str]) -> None:
    """A finding for every failed check that no other finding explains."""
    desk.findings.extend(
        _failed(check) for check in desk.checks if check.verdict is Verdict.DOES_NOT_SUIT and check.key not in explained
    )


def _alarm_findings(desk: Desk, overfill: OverfillChapter) -> None:
    """What must be said of the alarms beside whether they come."""
    desk.findings.extend(_allowance_exceeded(desk, overfill))
    desk.findings.extend(_not_independent(desk, overfill))
    desk.findings.extend(_passed(desk, overfill))
    desk.findings.extend(_small_gap(desk))
    desk.findings.extend(_set_point_uncertain(desk, overfill))


def _alarm_not_carried(desk: Desk, loop: LoopChapter, overfill: OverfillChapter, carried: Check) -> Finding:
    """The chain from the supply to the alarm that the loop does not carry, or not for certain."""
    source = loop.source
    parts = "Input resistor, barrier and cable make" if source.barrier else "Input resistor and cable make"
    chain = [
        link("The lowest supply is" if not source.isolator else "The isolator gives", source.low),
        link("The cable makes" if source.isolator else parts, source.resistance),
        link("At the highest failure current that leaves the transmitter", loop.terminal_at_worst),
        link("It needs at least", loop.voltage_min),
    ]
    if loop.last_current is not None:
        text = "Below that its output is undefined (clipping, restart or loss): no reliable signal above"
        chain.append(link(text, loop.last_current))
        chain.extend([link(AT_LEVEL, loop.last_level)] if loop.last_level is not None else [])
    chain += [
        link("The high-high alarm (HH) is", overfill.high_high_current),
        link(AT_LEVEL, overfill.high_high.stands),
    ]
    return Finding(
        ALARM_NEVER_COMES,
        "HH cannot be relied on: the loop carries it only just" if carried.reason else carried.fails,
        Effect.BLOCKS,
        tuple(chain),
        tuple(ways_out(desk, loop, overfill)),
        uncertainty_stated=carried.uncertainty_stated,
        safety=True,
    )


def _worst_current(loop: LoopChapter, check: Check) -> Iterator[Finding]:
    """What the loop does at the highest failure current; nothing while that is unknown."""
    chain = (
        link("Highest failure current of the transmitter", loop.worst),
        link("Voltage left for it", loop.terminal_at_worst),
        link("It needs at least", loop.voltage_min),
        link("Margin", loop.margin),
    )
    stated = check.uncertainty_stated
    if check.verdict is Verdict.SUITS:
        title = f"The loop passes at {loop.worst.text}"
        yield Finding("loop-passes", title, Effect.HOLDS, chain, uncertainty_stated=stated, safety=True)
    elif check.verdict is Verdict.DOES_NOT_SUIT:
        word = "is reached only just" if check.reason else "cannot be reached"
        title = f"The failure current of {loop.worst.text} {word}"
        way_out = Link("Leave the transmitter more voltage, or the low failure current if the receiver acts on it")
        key = "failure-current-not-reached"
        yield Finding(key, title, Effect.WARNING, chain, (way_out,), uncertainty_stated=stated, safety=True)


def _critical_not_visible(desk: Desk, loop: LoopChapter, overfill: OverfillChapter) -> Iterator[Finding]:
    """CH beyond an end of the current: above the upper one, or in a reverse acting range below the lower one."""
    if overfill.critical_below_end is False:
        end, side, name = "range.saturation.high", "Above", "range.level_at_saturation_high"
        if loop.last_level is not None:
            end, name = "loop.last_good_current", "loop.last_good_level"
    elif overfill.critical_above_end is False:
        end, side, name = "range.saturation.low", "Below", "range.level_at_saturation_low"
    else:
        return
    chain = (
        link("The critical high level (CH) is", overfill.critical),
        link("Its current would be", overfill.critical_current),
        link(f"{side} {desk.sheet[end].text} the current says no more than that the level is beyond", desk.sheet[name]),
    )
    way_out = Link("Say so on the alarm schedule, or choose a range that holds CH")
    title = "CH is not visible on the loop"
    yield Finding("critical-high-not-visible", title, Effect.WARNING, chain, (way_out,), safety=True)


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
            f"The loop is checked at {loop.worst.text} only",
            Effect.WARNING,
            (
                link("Highest failure current as stated", loop.worst),
                link("Usually counted on (common practice)", usual),
            ),
            (Link("Confirm the highest failure current from the data sheet of the transmitter"),),
        )


def _allowance_exceeded(desk: Desk, overfill: OverfillChapter) -> Iterator[Finding]:
    """The uncertainty of the level is larger than the allowance for it: then it governs the set-point."""
    exceeds = desk.sheet.decide(
        "overfill.uncertainty_governs",
        "U > a",
        "the uncertainty of the level exceeds the allowance for it",
        U=overfill.uncertainty,
        a=overfill.allowance,
    )
    if exceeds:
        yield Finding(
            "uncertainty-governs",
            "The uncertainty of the level exceeds the allowance at the alarm: it governs HH",
            Effect.WARNING,
            (
                link("Expanded uncertainty of the level (k = 2)", overfill.uncertainty),
                link("Allowance as stated", overfill.allowance),
                link("The high-high alarm (HH) may stand at most at", overfill.high_high.highest),
            ),
            (Link("A better known level or datum raises HH; the stated allowance does not"),),
            safety=True,
        )


def _reverse_acting(desk: Desk, loop: LoopChapter) -> Iterator[Finding]:
    """In a reverse acting range a dead loop looks like a full vessel."""
    lower, upper = desk.sheet["range.4 mA"], desk.sheet["range.20 mA"]
    reverse = desk.sheet.decide(
        "range.reverse_acting", "URV < LRV", "the current falls as the level rises", URV=upper, LRV=lower
    )
    if reverse:
        yield Finding(
            "reverse-acting",
            "Reverse acting: a wire break and a low failure current stand on the side of the full vessel",
            Effect.WARNING,
            (
                link("Level at 4 mA", lower),
                link("Level at 20 mA", upper),
                link("Low failure current", desk.sheet["loop.transmitter.current_failure_low"]),
                link(WIRE_BREAK),
            ),
            (Link("Say so to who scales the receiver: 0 mA must read as a failure, not as a level"),),
            safety=True,
        )


def _failure_unheeded(desk: Desk, loop: LoopChapter) -> Iterator[Finding]:
    """A receiver that does not act on failure currents takes a dead loop for a level."""
    stated = desk.case.loop.receiver.acts_on_failure_currents
    if desk.word(stated, "whether a dead loop is taken for a level") == NO:
        low, high = loop.bands.failure_low_A, loop.bands.failure_high_A
        yield Finding(
            "failure-unheeded",
            "The receiver does not act on failure currents",
            Effect.WARNING,
            (
                Link("Failure at most", show(low.value, "mA")),
                Link("Failure at least", show(high.value, "mA")),
                link(WIRE_BREAK),
                link("A high alarm does not come from a dead loop; detected failures count as undetected"),
            ),
            (Link("Let the receiver bring its outputs to the safe side on both failure bands"),),
            safety=True,
        )


def _not_independent(desk: Desk, overfill: OverfillChapter) -> Iterator[Finding]:
    """The gauge that fills is no layer against its own failure."""
    stopped_by = desk.word(desk.case.overfill.filling_stopped_by, "whether HH is a layer of its own")
    if stopped_by == THIS_GAUGE:
        yield Finding(
            "not-independent",
            "HH comes from the gauge that ends the filling: it is no independent layer",
            Effect.WARNING,
            (
                Link("What ends the filling in the usual course", stopped_by),
                link("The high-high alarm (HH) of the same gauge", overfill.high_high.stands),
                Link("If the gauge fails, the filling goes on and no alarm comes"),
            ),
            (Link("A separate sensor, loop and final element for the overfill protection"),),
            safety=True,
        )


def _passed(desk: Desk, overfill: OverfillChapter) -> Iterator[Finding]:
    """The level now stands above an alarm or above critical high."""
    level = desk.sheet["level_now"]
    stops = [("HH", overfill.high_high.stands), ("CH", overfill.critical)]
    passed = [
        (name, entry)
        for name, entry in stops
        if level.value is not None and entry.value is not None and level.value >= entry.value
    ]
    if passed:
        name, entry = passed[-1]
        yield Finding(
            "level-passed",
            f"The level now stands above {name}",
            Effect.WARNING,
            (link("Level now", level), link(f"{name} stands at", entry)),
            (Link("If this is so on site: stop the filling first"),),
            safety=True,
        )


def _small_gap(desk: Desk) -> Iterator[Finding]:
    """A gap below the usual least one is told; it is no limit of ours."""
    gap = desk.sheet["overfill.least_gap"]
    usual = desk.sheet.give(
        "overfill.usual_gap",
        USUAL_GAP_M,
        "m",
        "least gap below critical high as usually kept",
        state="constant",
        shown="mm",
        source="api-2350: gap between levels of concern",
    )
    if desk.sheet.decide("overfill.gap_below_usual", "g < g_u", "the gap is less than usual", g=gap, g_u=usual):
        yield Finding(
            "small-gap",
            "The least gap below CH is less than usually kept",
            Effect.WARNING,
            (link("Least gap as stated", gap), link("Usually kept (read second-hand)", usual)),
            (Link("State the gap that the site's rules ask for"),),
            safety=True,
        )


def _set_point_uncertain(desk: Desk, overfill: OverfillChapter) -> Iterator[Finding]:
    """The highest place for HH moves with what is uncertain of rate, time and critical high."""
    highest = overfill.high_high.highest
    inputs = uncertain_under(highest)
    if not highest.known or not inputs:
        return
    spread = spread_of(desk.sheet, [highest.name], inputs, correlation_of(desk, inputs))
    half = desk.sheet.record(
        "overfill.high_high_uncertainty",
        float(expanded(spread.standard(highest.name), COVERAGE)),
        "m",
        "expanded uncertainty (k = 2) of the highest place for HH",
        method="the working of HH with each uncertain input at plus and minus its standard uncertainty",
        source="jcgm-100: 5.1.2",
        rests_on=[highest, *inputs],
        shown="mm",
    )
    yield Finding(
        "set-point-uncertain",
        "The highest place for HH is itself uncertain",
        Effect.WARNING,
        (
            link("HH may stand at most at", highest),
            link("known to (k = 2), by what is uncertain of rate, time, critical high and vessel", half),
        ),
        (Link("Set HH lower by as much"),),
        safety=True,
    )


def _circuit_holds(desk: Desk, ignition: IgnitionChapter | None) -> Iterator[Finding]:
    """That the simple check of the circuit holds, where every line of it does; never more than that."""
    if ignition is None or ignition.circuit is None or ignition.circuit.refused or ignition.open_points:
        return
    verdicts = [check.verdict for check in desk.checks if check.key.startswith(CIRCUIT_KEYS)]
    if verdicts and all(verdict is Verdict.SUITS for verdict in verdicts) and ignition.circuit.inequalities:
        chain = [
            Link(f"{line.text}, limit {line.limit.text}; it is", line.value.text, line.value.name)
            for line in ignition.circuit.inequalities
        ]
        yield Finding(
            CIRCUIT_HOLDS,
            "The simple check of the circuit holds by the values of the certificates as stated",
            Effect.HOLDS,
            (*chain, Link("It supports the competent person; it replaces no certificate")),
            safety=True,
        )


def _failed(check: Check) -> Finding:
    """A finding for a check that failed on its own, by its two numbers."""
    chain = (
        Link("It is", check.limit.value, check.limit.value_entry),
        Link(f"It must be {check.limit.sense}".removesuffix(" is"), check.limit.limit, check.limit.limit_entry),
    )
    return Finding(
        f"check:{check.key}",
        f"Not certain: {check.title}" if check.reason else check.fails,
        Effect.WARNING if check.remark else Effect.BLOCKS,
        chain,
        uncertainty_stated=check.uncertainty_stated,
        safety=check.safety,
    )
