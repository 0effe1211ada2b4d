"""The build of a probe on its sheet: words, limits, lengths, what each word changes, the lines of the order."""

from __future__ import annotations

import pytest

from onedatum.jobs.probe_sheet import probe_order_lines, probe_sheet
from onedatum.paper.model import TopicSheet
from onedatum.study.result import Study
from tests.jobs.test_probe_sheet import said
from tests.study.test_probe import BARE, BY_ROD, OIL, STEEL, probe
from tests.study.test_probe_build import BRIDGE, BUILD, FILM, INACTIVE, TIP, built, more

TUBE = (BY_ROD, "{kind: concentric earthed tube, tube_bore: 25 mm, vented: yes, drained: no}")


def sheet_of(study: Study) -> TopicSheet:
    sheet = probe_sheet(study)
    assert sheet is not None
    return sheet


def order(study: Study) -> dict[str, str]:
    chapter = study.measuring.probe
    assert chapter is not None
    lines = probe_order_lines(study, chapter)
    assert len({name for name, _ in lines}) == len(lines)
    return dict(lines)


def test_the_sheet_tells_what_each_word_changes_and_how_far_it_was_seen() -> None:
    sheet = sheet_of(probe())
    told = {note.text: note.detail for note in sheet.notes}
    assert told["It can be neither cut nor lengthened: its length is confirmed by the drawing before the order."] == (
        "coated all over; common practice, no source"
    )
    titles = [table.title for table in sheet.tables]
    assert {"The build of the probe", "Does it fit, and does its build bear it", "Lengths and limits"} <= set(titles)
    words = next(table for table in sheet.tables if table.title == "The build of the probe")
    assert ("rod", "coated all over", "nowhere: its lower end is closed", "no", "coating") in words.rows


def test_the_order_names_lengths_and_the_way_of_the_core_to_earth() -> None:
    lines = order(probe(INACTIVE))
    assert lines["length below the sealing face"] == "2650.00 mm"
    assert lines["inactive part, down from the sealing face"] == "300 mm"
    assert lines["core to earth for direct current"] == "500 kΩ"
    assert lines["earthed rod reaches down to"] == "not known"
    assert order(probe(TUBE))["earthed tube drains below"] == "no"
    assert "coating" in order(probe(*TIP, *STEEL, *OIL))


@pytest.mark.parametrize(
    "changes",
    [
        (),
        (TUBE,),
        (INACTIVE,),
        (*TIP, *STEEL, *OIL),
        (*BARE, *STEEL, *OIL),
        ((BUILD, ""),),
        (built("form: rope, anchor_length: 20 mm, rope_stretch: 5 mm"),),
        ((BRIDGE, FILM % ", film_length: 100 mm"),),
        (more("capacitance_max: 700 pF, temperature_max: 90 degC, length_max: 4 m"),),
        (("rod: coated all over", "rod: unknown"),),
        (("principle: capacitive probe", "principle: differential pressure"), (BUILD, "")),
        (("date: 2026-11-26", "date: 2026-11-26\nprint_units: US customary"),),
    ],
)
def test_whatever_the_build_there_is_a_sheet(changes: tuple[tuple[str, str], ...]) -> None:
    study = probe(*changes)
    assert said(sheet_of(study))
    assert order(study)
