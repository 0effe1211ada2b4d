"""The table of what a capacitive probe itself adds to the uncertainty of its level."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.foundation.working import Entry
from onedatum.jobs.safety_sheets.words import shown
from onedatum.paper import model as paper
from onedatum.study.probe import Part, ProbeAccuracy
from onedatum.study.result import Study

TOGETHER = (
    ("reading, datum and probe, k = 2", "probe.level_uncertainty"),
    ("the same for a high alarm", "probe.alarm_uncertainty"),
)
NOTE = (
    "Each error at its greatest over the range, any up to it and its mirror image as likely (JCGM 100, 4.3.7); none is "
    "corrected. The quantity counts them at the level now."
)
OPEN = (
    " While it is open whether a film stays, the uncertainty of the level is not known; a high alarm comes early by a "
    "film, and counts of it only what reads low."
)
ENDS_OPEN = " While it is open what the ends of the rod add, no uncertainty of the level is known."


def probe_uncertainty(study: Study) -> paper.SheetTable | None:
    """Its parts and what they come to; None where something else measures the level."""
    accuracy = study.measuring.accuracy
    if accuracy is None:
        return None
    head = ("uncertainty by", "at its greatest", "standard", "error or standard now")
    note = NOTE + (OPEN if accuracy.film_open else "") + (ENDS_OPEN if accuracy.ends_open else "")
    rows = (*map(_row, accuracy.parts), *_together(study, accuracy))
    return paper.SheetTable("What the probe adds to the uncertainty", head, rows, (2.2, 1.1, 1.0, 1.4), note=note)


def _row(part: Part) -> tuple[str, ...]:
    return part.text, "" if part.greatest is None else shown(part.greatest), shown(part.standard), shown(part.now)


def _together(study: Study, accuracy: ProbeAccuracy) -> Iterator[tuple[str, ...]]:
    yield "the probe in all", "", shown(accuracy.standard), ""
    for text, name in TOGETHER:
        entry: Entry | None = study.sheet.entries.get(name)
        if entry is not None:
            yield text, shown(entry), "", ""
