"""The sheet of a capacitive probe: whole papers, whatever is known of it."""

from __future__ import annotations

import pytest

from onedatum.cli.summary import summary
from onedatum.foundation.units import in_print
from onedatum.jobs.paper_of_study import paper_of
from onedatum.jobs.probe_sheet import probe_sheet
from onedatum.jobs.statement_paper import statement_paper
from onedatum.paper.model import TopicSheet
from onedatum.study.cautions import CHARGE, DEFERENCE
from onedatum.verdicts import Effect
from tests.study.test_probe import BARE, GLAND, OIL, STAYS, STEEL, TESTED, probe
from tests.study.test_probe_media import GAS_OIL, GRAIN, LIGHT, MIXED, SPIRIT, WARM, liquid, section
from tests.study.variants import EXAMPLES, study_with


def said(sheet: TopicSheet) -> str:
    """Everything a sheet says, as one text."""
    cells = [cell for table in sheet.tables for row in table.rows for cell in row]
    notes = [table.note for table in sheet.tables]
    return "\n".join((sheet.answer, *cells, *notes, *(note.text for note in sheet.notes)))


def test_the_sheet_prints_what_the_study_found() -> None:
    found = probe()
    sheet = probe_sheet(found)
    assert sheet is not None
    assert sheet.cautions == (CHARGE, DEFERENCE)
    words = said(sheet)
    for name in ("probe.capacitance[now]", "probe.film_left[now]", "probe.conductive_from", "probe.wall_share"):
        assert in_print(found.sheet[name].text) in words
    assert "the coating alone counts" in sheet.answer


@pytest.mark.parametrize(
    "changes",
    [
        (*BARE, *STEEL, *OIL),
        (*STEEL, *OIL),
        ((STAYS, TESTED),),
        (("frequency: 100 kHz", "frequency: unknown"),),
        (("core_diameter: 10 mm", "core_diameter: unknown"),),
        (("  set_low: 150 mm\n", ""),),
        (("rod: coated all over", "rod: unknown"),),
        (("drained_for: 60 s", "drained_for: unknown"),),
        (("date: 2026-11-26", "date: 2026-11-26\nprint_units: US customary"),),
    ],
)
def test_whatever_is_not_known_there_is_a_sheet(changes: tuple[tuple[str, str], ...]) -> None:
    found = probe(*changes)
    sheet = probe_sheet(found)
    assert sheet is not None
    assert sheet.answer
    assert any(each.title == "Capacitive probe" for each in paper_of(found).stem)


def test_the_field_and_its_table_are_printed() -> None:
    sheet = probe_sheet(probe(*STEEL, *OIL, GLAND))
    assert sheet is not None
    titles = [table.title for table in sheet.tables]
    assert {"In this tank, by the field", "Table that bends the line back"} <= set(titles)


def test_the_liquid_its_changes_and_the_reference_section_are_printed() -> None:
    """What a row says is what the study worked; the table that is from memory is called so."""
    found = liquid(f"{SPIRIT}strength_least: 60 %vol\n  {WARM}", section())
    sheet = probe_sheet(found)
    assert sheet is not None
    titles = {table.title: table for table in sheet.tables}
    changes = titles["If the liquid changes after the setting"]
    assert changes.head[-1] == "left with the reference section"
    (cold,) = (row for row in changes.rows if row[0] == "liquid at its coldest")
    assert cold[2] == cold[3] == in_print(found.sheet["probe.liquid[state coldest].error"].text)
    assert cold[4] == "nothing"
    (unknown,) = (row for row in changes.rows if row[0].startswith("permittivity at its least"))
    assert unknown[3] == "nothing" != unknown[2]
    assert "Reference section" in titles
    assert "Akerlof" in titles["Permittivity of the liquid"].note
    assert "(from memory)" in titles["Permittivity of the liquid"].note


def test_where_the_coating_alone_counts_the_sheet_says_that_nothing_moves_it() -> None:
    sheet = probe_sheet(probe((STAYS, TESTED)))
    assert sheet is not None
    assert "If the liquid changes after the setting" not in {table.title for table in sheet.tables}
    assert "move nothing" in said(sheet)


@pytest.mark.parametrize(
    "medium", [LIGHT + GRAIN + WARM, f"{GAS_OIL}{MIXED}\n  {WARM}", f"{LIGHT}substance: toluene\n"]
)
def test_every_liquid_has_a_sheet(medium: str) -> None:
    for changes in ((), (section("reference_section: {from: 50 mm}"),)):
        found = liquid(medium, *changes)
        sheet = probe_sheet(found)
        assert sheet is not None
        assert in_print(found.sheet["medium.permittivity_worked"].text) in said(sheet)


def test_what_the_probe_adds_to_the_uncertainty_is_printed() -> None:
    tested, open_ = probe((STAYS, TESTED)), probe()
    for found, words in ((tested, in_print(tested.sheet["probe.level_uncertainty"].text)), (open_, "not known")):
        sheet = probe_sheet(found)
        assert sheet is not None
        (table,) = (each for each in sheet.tables if each.title == "What the probe adds to the uncertainty")
        assert ("reading, datum and probe, k = 2", words, "", "") in table.rows
    sheet = probe_sheet(open_)
    assert sheet is not None
    assert "of it only what reads low" in said(sheet)


def test_the_statement_says_what_its_budget_leaves_out() -> None:
    open_, tested = (statement_paper(probe(*changes), None) for changes in ((), ((STAYS, TESTED),)))
    assert open_.budget is not None
    assert "beside the film on the rod, which is open until it is tested" in open_.answer
    assert any(note.startswith("Not counted: the film") for note in open_.budget.notes)
    assert "film" not in tested.answer
    assert any("at least" in line for line in summary(probe()))
    assert not any("at least" in line for line in summary(probe((STAYS, TESTED))) if line.startswith("U (k"))


def test_a_case_without_a_probe_has_no_sheet_of_one() -> None:
    assert probe_sheet(study_with(example=EXAMPLES / "wet_leg_tank.yaml")) is None


def test_the_probe_is_shown_as_the_alternative_beside_another_principle() -> None:
    found = probe(("principle: capacitive probe", "principle: differential pressure"))
    sheet = probe_sheet(found)
    assert sheet is not None
    assert sheet.answer.startswith("The alternative, by capacitance")
    mine = [each for each in found.findings if each.key.startswith("probe-")]
    assert mine
    assert not [each for each in mine if each.effect is Effect.BLOCKS]
    assert all(check.remark for check in found.checks if check.key.startswith("probe-"))
