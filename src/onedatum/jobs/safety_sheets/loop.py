"""The sheet of the loop: its drawing with values at every current, its comparisons, what the current tells."""

from __future__ import annotations

from onedatum.foundation.units import in_print, show
from onedatum.jobs.safety_sheets.loop_drawing import drawing_of
from onedatum.jobs.safety_sheets.words import checked, length, named, present, two_columns, verdict_of
from onedatum.paper import model as paper
from onedatum.physics.loop import hart_limits, state_meanings
from onedatum.study.cautions import DEFERENCE, LOOP
from onedatum.study.findings import WIRE_BREAK
from onedatum.study.result import Study
from onedatum.verdicts import Verdict

SUPPLY_KEYS = (
    "worst-current",
    "withstands-supply",
    "carries-",
    "alarm-carried",
    "working-voltage",
    "isolator-load",
    "failure-",
)
HART_KEYS = ("hart-",)
WITHOUT_HART = "HART is not sure to work: see below."
ANSWERS = {
    Verdict.SUITS: "The loop carries every current it may have to.",
    Verdict.ON_CONDITIONS: "The loop carries its currents once the order says what is still open.",
    Verdict.UNDECIDED: "Whether the loop carries its currents is not decided yet.",
    Verdict.DOES_NOT_SUIT: "The loop does not carry every current it may have to.",
}
RECEIVER = (
    ("level per count", "loop.level_per_count"),
    ("standard uncertainty by the counts", "loop.quantisation_standard"),
    ("greatest error of the receiver", "loop.card_error"),
    ("greatest error by the input resistor, at 20 mA", "loop.resistor_error"),
    ("greatest error by offset", "loop.offset_error"),
    ("standard uncertainty of the receiver", "loop.receiver_standard"),
    ("rise of the surface at the alarm", "overfill.rise_rate"),
    ("the signal lags behind by", "overfill.lag"),
    ("a voltmeter on the test resistor reads", "loop.meter_voltage"),
    ("its loading changes the reading by", "loop.meter_loading"),
    ("a milliammeter put across the test resistor, wrongly, reads", "loop.current_read_across"),
)


def loop_sheet(study: Study) -> paper.TopicSheet:
    """The sheet of the loop."""
    verdict = verdict_of(study, SUPPLY_KEYS) or Verdict.UNDECIDED
    hart = verdict_of(study, HART_KEYS)
    return paper.TopicSheet(
        "The loop",
        ANSWERS[verdict] if hart in (None, Verdict.SUITS) else f"{ANSWERS[verdict]} {WITHOUT_HART}",
        (LOOP, DEFERENCE),
        present(
            (
                checked(study, (*SUPPLY_KEYS, *HART_KEYS), "Supply, at both ends of the current", _hart(study)),
                _lengths(study),
                _receiver(study),
                _bands(study),
            )
        ),
        drawing_of(study),
        (paper.Note(WIRE_BREAK),),
    )


def _hart(study: Study) -> str:
    """How far the limits of the digital communication were seen, where they are compared."""
    if study.safe.wired.hart_longest_cable is None:
        return ""
    limits = hart_limits()
    kinds = (("least", limits.least_resistance_ohm), ("largest resistance", limits.largest_resistance_ohm))
    told = "; ".join(f"{name} {limit.value:g} ohm: {limit.tag}" for name, limit in kinds)
    return in_print(
        f"HART: {told}; 65 us: {limits.time_constant_s.tag}. They inform, and do not stand against the order."
    )


def _lengths(study: Study) -> paper.SheetTable | None:
    """How long the cable may be, by each of what limits it."""
    found = [
        (words, study.sheet[name])
        for words, name in (
            ("as stated", "loop.cable.length"),
            ("by the voltage left at the highest failure current", "loop.longest_cable"),
            ("by resistance and capacitance for HART", "loop.hart_longest_cable"),
            ("by the capacitance of the circuit in the zone", "circuit.longest_by_capacitance"),
            ("by the inductance of the circuit in the zone", "circuit.longest_by_inductance"),
        )
        if name in study.sheet
    ]
    rows = [(words, length(study, entry)) for words, entry in found]
    limits = [entry for _, entry in found[1:]]
    if limits and all(entry.known for entry in limits):
        rows.append(
            ("longest cable, the least of them", length(study, min(limits, key=lambda each: each.value or 0.0)))
        )
    return two_columns("Length of the cable", rows)


def _bands(study: Study) -> paper.SheetTable:
    bands, words = study.safe.wired.bands, state_meanings()
    low, first, last, high = (show(current, "mA") for current in bands.currents_A)
    rows = (
        (f"{low} and less", words["failure_low"].meaning),
        (f"above {low}, below {first}", words["undefined_low"].meaning),
        (f"{first} to {last}", words["measuring"].meaning),
        (f"above {last}, below {high}", words["undefined_high"].meaning),
        (f"{high} and more", words["failure_high"].meaning),
    )
    source = words["measuring"]
    return paper.SheetTable(
        "What the current tells",
        ("current", "means"),
        rows,
        (2.0, 5.0),
        note=f"NAMUR NE 43, {source.tag}; by the case where it states its own",
    )


def _receiver(study: Study) -> paper.SheetTable | None:
    rows = [(words, named(study, name)) for words, name in RECEIVER if name in study.sheet]
    return two_columns("Receiver, lag and meters", rows) if rows else None
