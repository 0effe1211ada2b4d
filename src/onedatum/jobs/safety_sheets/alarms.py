"""The sheet of the alarms: levels of concern with their currents, the three tests, how long there is."""

from __future__ import annotations

from math import inf

from onedatum.foundation.working import Entry
from onedatum.jobs.cut import cut
from onedatum.jobs.safety_sheets.words import checked, facts, named, present, said, shown, two_columns, verdict_of
from onedatum.paper import model as paper
from onedatum.physics.overfill import overfill_facts
from onedatum.study.cautions import DEFERENCE, OVERFILL
from onedatum.study.overfill import WITHOUT_HIGH
from onedatum.study.result import Study
from onedatum.verdicts import Verdict

OF_HIGH_HIGH, OF_OTHERS = ("alarm-", "critical-inside"), ("automatic-in-time", "LL-", "L-", "H-")
KEYS = (*OF_HIGH_HIGH, *OF_OTHERS)
OTHERS = "Another set-point cannot be relied on as it is set: see below."
WORDS = {"AOPS": "automatic overfill prevention acts", "HH": "high-high alarm", "MW": "maximum working level"}
ANSWERS = {
    Verdict.SUITS: "HH can come where it stands: it can be measured, lies below CH, and the loop carries it.",
    Verdict.ON_CONDITIONS: "HH can come where it stands once the order says what is still open.",
    Verdict.UNDECIDED: "Whether HH can come is not decided yet.",
    Verdict.DOES_NOT_SUIT: "HH cannot be relied on where it stands.",
}
NO_INSTRUMENT = {
    False: "How high the alarms may stand by vessel and filling alone; "
    "whether they can come is not decided yet: an instrument decides.",
    True: "HH cannot be relied on where it stands, whatever instrument measures.",
}
"""What is said before an instrument is chosen: by whether the alarms fail already."""


def alarm_sheet(study: Study) -> paper.TopicSheet:
    """The sheet of the alarms."""
    return paper.TopicSheet(
        "Alarms and overfill",
        _answer(study),
        (OVERFILL, DEFERENCE),
        present(
            (
                _levels(study),
                checked(study, KEYS, "Can they come?"),
                _inflow(study),
                _times(study),
                _forecast(study),
                _independence(study),
            )
        ),
        None,
        facts((fact.text, fact.source, fact.tag) for fact in overfill_facts()),
    )


def _answer(study: Study) -> str:
    others = verdict_of(study, OF_OTHERS) is Verdict.DOES_NOT_SUIT
    verdict = verdict_of(study, OF_HIGH_HIGH) or Verdict.UNDECIDED
    told = ANSWERS[verdict] if study.has_instrument else NO_INSTRUMENT[verdict is Verdict.DOES_NOT_SUIT]
    return f"{told} {OTHERS}" if others else told


def _levels(study: Study) -> paper.SheetTable:
    """Every level of concern from the top, where it stands and the highest it may stand at, with its current."""
    chapter = study.safe.alarms
    points: list[tuple[Entry, tuple[str, ...]]] = [
        (
            chapter.critical,
            ("CH", "critical high: overflow or damage", shown(chapter.critical), "", shown(chapter.critical_current)),
        )
    ]
    for ceiling in (chapter.automatic, chapter.high_high, chapter.working):
        if ceiling is not None:
            current = shown(chapter.high_high_current) if ceiling.name == "HH" else ""
            texts = (ceiling.name, WORDS[ceiling.name], shown(ceiling.stands), shown(ceiling.highest), current)
            points.append((ceiling.stands, texts))
    for name, level in chapter.others:
        current = named(study, f"overfill.set_points.{name}.current")
        points.append((level, (name, "alarm as set", shown(level), "", current)))
    rows = [texts for _, texts in sorted(points, key=lambda point: -(point[0].value or inf))]
    head = ("", "level of concern", "stands at", "highest place", "current")
    note = "No higher than the highest place there is time to stop the filling, whatever the filling started from."
    return paper.SheetTable("Levels of concern", head, tuple(rows), (0.8, 3.2, 1.6, 1.6, 1.4), note=note)


def _inflow(study: Study) -> paper.SheetTable:
    overfill = study.statement.case.overfill
    sheet = study.sheet.entries
    response = sheet.get("overfill.response_time") or sheet.get("overfill.response")
    rows = [("highest filling rate", said(overfill.fill_rate_max)), ("response time", shown(response))]
    rows += [
        (leaf.title, said(leaf)) for leaf in overfill.response_parts.leaves() if leaf.known or leaf.state == "none"
    ]
    rows += _other_times(study)
    rows += [
        ("damping of the signal", shown(sheet.get("overfill.damping") or sheet.get("instrument.damping_tau"))),
        ("time between two readings", named(study, "instrument.scan")),
        ("rise of the surface at the alarm", named(study, "overfill.rise_rate")),
        ("allowance for the level", shown(study.safe.alarms.allowance)),
        ("uncertainty of the level (k = 2)", shown(study.safe.alarms.uncertainty)),
        ("foam", said(overfill.foam)),
        ("least gap below CH", said(overfill.least_gap)),
    ]
    note = "The larger of allowance and uncertainty is taken off; expansion of a full vessel is not counted."
    return two_columns("What comes in before the filling stops", rows, note)


def _other_times(study: Study) -> list[tuple[str, str]]:
    """What the places of AOPS and MW rest on, where they are worked."""
    overfill, chapter, sheet = study.statement.case.overfill, study.safe.alarms, study.sheet.entries
    rows = []
    if chapter.automatic is not None:
        rows.append((overfill.automatic_response.title, said(overfill.automatic_response)))
    if chapter.working is not None:
        rows += [
            (overfill.working_response.title, said(overfill.working_response)),
            ("MW counts back from the lowest alarm, at", shown(chapter.working.counted_from)),
        ]
        if f"overfill.working{WITHOUT_HIGH}" in sheet:
            rows.append(("MW, if no H were set", named(study, f"overfill.working{WITHOUT_HIGH}")))
    return rows


def _times(study: Study) -> paper.SheetTable | None:
    passings = study.safe.alarms.passings
    if not passings:
        return None
    passings = tuple(sorted(passings, key=lambda each: each.time.value or 0.0))
    rows = tuple((each.name, shown(each.level), _left(each.time)) for each in passings)
    head = ("from", "level", "time to critical high")
    return paper.SheetTable("How long there is, at the highest filling rate", head, rows, (1.0, 2.0, 3.0), narrow=True)


def _forecast(study: Study) -> paper.SheetTable | None:
    found = study.safe.alarms.forecasts
    if not found:
        return None
    overfill = study.statement.case.overfill
    rows = tuple((each.name, shown(each.level), _left(each.time), each.clock) for each in found)
    since = f" from {overfill.clock.text}" if overfill.clock.known else ""
    title = f"At this rate, {said(overfill.fill_rate_now)}{since}"
    return paper.SheetTable(title, ("reaches", "level", "after", "at"), rows, (1.0, 2.0, 2.0, 2.0), narrow=True)


def _left(time: Entry) -> str:
    if time.value is not None and time.value < 0.0:
        return "passed already"
    return cut(time, "min", 1)


def _independence(study: Study) -> paper.SheetTable:
    overfill = study.statement.case.overfill
    stopped = said(overfill.filling_stopped_by)
    own = overfill.filling_stopped_by.word == "this gauge"
    layer = "no: it fails with the gauge" if own else "only as far as sensor, loop and final element are separate"
    rows = [("what ends the filling in the usual course", stopped), ("HH of this gauge is a layer of its own", layer)]
    return two_columns("Independence of the layers", rows)
