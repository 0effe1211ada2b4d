"""The sheet of stem and float, table by table."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.foundation.units import in_print
from onedatum.jobs.safety_sheets.words import checked, present, verdict_of
from onedatum.jobs.stem_sheet.echo import echo_of
from onedatum.jobs.stem_sheet.order import order_table
from onedatum.jobs.stem_sheet.tables import (
    accuracy_table,
    answer_table,
    build_table,
    interface_tables,
    magnet_table,
    mechanics_table,
    search_table,
    walls_table,
    wire_table,
)
from onedatum.paper import model as paper
from onedatum.study.cautions import DEFERENCE, PRESSURE
from onedatum.study.result import Study
from onedatum.verdicts import Verdict

FIT = (
    "float-on-stem",
    "float-in-nozzle",
    "float-gap",
    "interface-float-on-stem",
    "interface-float-in-nozzle",
    "interface-float-gap",
    "float-in-pipe",
    "headroom",
    "float-reserve",
    "float-floats",
    "stem-length",
    "tip-clearance",
    "dead-zone",
    "build-",
    "stem-",
    "reading-",
    "chamber",
    "magnet-field",
)
PRESSURES = ("float-pressure", "float-rating", "interface-float-pressure", "interface-float-rating")
INTERFACE = (
    "interface-reversed",
    "interface-window",
    "interface-good",
    "interface-sinks",
    "interface-rises",
    "layer",
    "thick-layer",
    "spacing",
    "snapping",
)
DEPTH = (*FIT, *PRESSURES, *INTERFACE)


def stem_sheet(study: Study) -> paper.TopicSheet:
    """Everything of stem and float on one sheet; the data of the order come first."""
    detail = study.depth
    tables = (
        order_table(study),
        wire_table(study),
        checked(study, FIT, "Does it fit, and does its build bear it"),
        build_table(study),
        answer_table(study),
        accuracy_table(study),
        walls_table(study),
        checked(study, PRESSURES, "The float under pressure"),
        magnet_table(study),
        *(interface_tables(study) if detail.interface is not None else ()),
        checked(study, INTERFACE, "Two floats on one stem") if detail.interface is not None else None,
        mechanics_table(study),
        search_table(study),
    )
    return paper.TopicSheet(
        "Stem and float", _answer(study), (PRESSURE, DEFERENCE), present(tables), echo_of(study), tuple(_notes(study))
    )


def _answer(study: Study) -> str:
    """What the comparisons say, in one sentence."""
    verdict = verdict_of(study, DEPTH)
    accuracy = in_print(study.depth.accuracy.expanded.text)
    reads = f"It reads to {accuracy} (k = 2) at known density, without the datum."
    if verdict is Verdict.DOES_NOT_SUIT:
        return f"Something of stem or float does not hold, see below. {reads}"
    if verdict is Verdict.UNDECIDED:
        return f"Not decided yet: what is open is named below. {reads}"
    if verdict is Verdict.ON_CONDITIONS:
        return f"It holds if it is ordered so, as far as it was looked at. {reads}"
    return f"It holds, as far as it was looked at. {reads}"


def _notes(study: Study) -> Iterator[paper.Note]:
    """What each word of the build changes, with how far that was seen."""
    for build in study.depth.build.chosen:
        for words in build.changes:
            yield paper.Note(in_print(words), f"{build.word}; {build.tag}")
