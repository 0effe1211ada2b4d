"""Every sheet that touches safety, of every example and of changed cases: its caution, its deference, its answer."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from onedatum.case.reading import read_case_text
from onedatum.jobs.paper_of_study import paper_of
from onedatum.jobs.safety_sheets import safety_sheets
from onedatum.paper.document import safety_pdf
from onedatum.paper.model import TopicSheet
from onedatum.study.cautions import AREA, CAUTIONS, CHARGE, DEFERENCE, LOOP, OVERFILL, SAFETY
from onedatum.study.result import Study
from onedatum.study.study import study
from tests.pdf import pages_of
from tests.study.variants import EXAMPLES, WITH_BARRIER, study_with

SOLVENT = EXAMPLES / "solvent_tank.yaml"
LOOP_SHEET, ALARMS, PLACE = "The loop", "Alarms and overfill", "Hazardous area"
CIRCUIT = "Intrinsically safe circuit: descriptive system document"
STATIC = "Static charge: instrument and filling"
FUNCTION = "Functional safety of the overfill protection"
CAUTION_OF = {
    LOOP_SHEET: LOOP,
    ALARMS: OVERFILL,
    PLACE: AREA,
    CIRCUIT: AREA,
    STATIC: CHARGE,
    FUNCTION: SAFETY,
}
ALL = set(CAUTION_OF)
NO_ZONE = (('inside: "0"', "inside: none"), ('at_head: "1"', "at_head: none"))
CHANGED: dict[str, tuple[tuple[tuple[str, str], ...], set[str]]] = {
    "as it is": ((), ALL),
    "circuit blocked": ((("Ui: 30 V", "Ui: 20 V"),), ALL),
    "instrument blocked": ((("epl_inside: Ga", "epl_inside: Gc"),), ALL),
    "loop blocked": ((("voltage_at_its_terminals: 17.0 V", "voltage_at_its_terminals: 11 V"),), ALL),
    "values unknown": ((("Co: 705 nF", "Co: unknown"), ("length: 180 m", "length: unknown")), ALL),
    "group unknown": ((("  group: IIA\n", ""),), ALL),
    "substance unknown": ((("  substance: toluene\n", ""),), ALL),
    "several sources": ((("sources: one", "sources: several"),), ALL),
    "hot": ((("max: 35 degC}", "max: 70 degC}"),), ALL),
    "oxygen": ((("gas_space: air", "gas_space: more oxygen than air"),), ALL),
    "other protection": ((("type: intrinsic safety", "type: other"),), ALL - {CIRCUIT}),
    "no zone": (NO_ZONE, {LOOP_SHEET, ALARMS, FUNCTION}),
    "no zone inside": ((NO_ZONE[0],), ALL - {STATIC}),
    "charged": (
        (("layer: none", "layer: 3 mm\n  layer_diameter: 16 mm\n  layer_length: 2 m\n  core_earthed: no"),),
        ALL,
    ),
    "level unknown": ((("fill_rate_max: 12 m3/h", "fill_rate_max: unknown"), ("HH: 2650 mm, ", "")), ALL),
}
FAULTY = (
    ("Uo: 27 V", "Uo: 0 V"),
    ("  group: IIA\n", "  group: none\n"),
    ("temperature_class: T1", "temperature_class: T9"),
    ('inside: "0"', 'inside: "0"\n  nonsense: 3'),
    ("substance: toluene", "substance: moonshine"),
    ("layer: none", "layer: -1 mm"),
    ("pipe_bore: 50 mm", "pipe_bore: wide"),
    ("fill_rate_max: 12 m3/h", "fill_rate_max: -1 m3/h"),
    ("HH: 2650 mm", "HH: 100 mm"),
    ("input_resistor: 250 ohm", "input_resistor: 250 mA"),
    ("architecture: 1oo1", "architecture: 7oo9"),
    ("inside_diameter: 2000 mm", "inside_diameter: -2 m"),
)

CHARGE_SHEET = "Static charge: instrument and filling"


def heeds(sheets: tuple[TopicSheet, ...]) -> None:
    """Each sheet has an answer, its own caution, and defers to certificate, local codes and licensed practice."""
    assert sheets
    for sheet in sheets:
        assert sheet.answer.strip(), sheet.title
        assert CAUTION_OF[sheet.title] in sheet.cautions, sheet.title
        assert DEFERENCE in sheet.cautions, sheet.title
        said = " ".join(sheet.cautions).lower()
        for word in ("certificate", "local codes", "licensed practice", "competent person"):
            assert word in said, (sheet.title, word)


def sheet_of(found: Study, title: str) -> TopicSheet:
    """One sheet of a study."""
    return next(sheet for sheet in safety_sheets(found) if sheet.title == title)


def words(sheet: TopicSheet) -> str:
    """All that a sheet says in its tables and notes."""
    cells = [cell for table in sheet.tables for row in (table.head, *table.rows) for cell in row]
    notes = [part for note in sheet.notes for part in (note.text, note.detail)]
    return "\n".join([sheet.answer, *cells, *(table.note for table in sheet.tables), *notes])


def test_every_caution_of_a_sheet_is_one_that_every_paper_prints() -> None:
    assert set(CAUTION_OF.values()) | {DEFERENCE} <= set(CAUTIONS)


@pytest.mark.parametrize("example", sorted(EXAMPLES.glob("*.yaml")), ids=lambda path: path.stem)
def test_every_sheet_of_every_example_has_caution_and_deference(example: Path) -> None:
    found = study_with(example=example)
    heeds(safety_sheets(found))
    alarms = set() if found.safe.overfill is None else {ALARMS}
    assert {LOOP_SHEET} | alarms <= {sheet.title for sheet in safety_sheets(found)}
    assert paper_of(found).safety == safety_sheets(found)


@pytest.mark.parametrize("name", CHANGED)
def test_every_sheet_of_a_changed_case_has_caution_and_deference(name: str) -> None:
    changes, titles = CHANGED[name]
    sheets = safety_sheets(study_with(*changes, example=SOLVENT))
    heeds(sheets)
    assert {sheet.title for sheet in sheets} == titles


@pytest.mark.parametrize("text", ["onedatum: 1\n", "onedatum: 1\nzone: {inside: '0'}\n", "onedatum: 1\ncircuit: {}\n"])
def test_a_nearly_empty_case_has_its_sheets_and_none_of_them_passes(text: str) -> None:
    found = study(read_case_text(text, "bare.yaml", EXAMPLES))
    sheets = safety_sheets(found)
    heeds(sheets)
    for sheet in sheets:
        assert re.search(r"not decided|No pass|waits", sheet.answer), sheet.answer
    assert safety_pdf(paper_of(found)).startswith(b"%PDF")


def test_a_case_full_of_faults_has_its_sheets_and_is_blocked() -> None:
    found = study_with(*FAULTY, example=SOLVENT)
    assert len({fault.path for fault in found.faults}) >= len(FAULTY) - 2
    assert found.order == "blocked"
    heeds(safety_sheets(found))
    assert safety_pdf(paper_of(found)).startswith(b"%PDF")


def test_both_tables_of_the_substance_are_shown_and_the_lower_is_used() -> None:
    """n-butane: 372 degC by IEC 60079-20-1, 288 degC by NFPA 497, both read."""
    said = words(sheet_of(study_with(("substance: toluene", "substance: n-butane"), example=SOLVENT), PLACE))
    for part in ("IEC 60079-20-1", "NFPA 497", "372", "288", "The lower ignition temperature counts", "T3"):
        assert part in said, part


def test_the_document_of_the_circuit_has_every_inequality_with_its_margin() -> None:
    sheet = sheet_of(study_with(example=SOLVENT), CIRCUIT)
    table = next(table for table in sheet.tables if table.title == "The comparison")
    assert table.head == ("inequality", "is", "at most", "left", "outcome")
    assert [row[0].split(",")[0] for row in table.rows] == [
        "Uo <= Ui",
        "Io <= Ii",
        "Po <= Pi",
        "Ci + Cc <= C usable",
        "Li + Lc <= L usable",
    ]
    assert {row[4] for row in table.rows} == {"holds"}
    assert [row[3] for row in table.rows][:2] == ["3.000 V", "12.000 mA"]
    half = next(table for table in sheet.tables if table.title == "The rule of one half")
    assert [row[1] for row in half.rows[:3]] == ["yes", "yes", "yes"]


def test_a_line_that_fails_is_marked_and_the_answer_says_so() -> None:
    sheet = sheet_of(study_with(("Ui: 30 V", "Ui: 20 V"), example=SOLVENT), CIRCUIT)
    table = next(table for table in sheet.tables if table.title == "The comparison")
    assert table.failing == (0,)
    assert table.rows[0][4] == "does not hold"
    assert "does not hold" in sheet.answer


@pytest.mark.parametrize("name", ["several sources", "hot", "oxygen"])
def test_a_refusal_is_printed_with_its_reason_and_without_a_comparison(name: str) -> None:
    sheet = sheet_of(study_with(*CHANGED[name][0], example=SOLVENT), CIRCUIT)
    assert sheet.answer.startswith("No simple check is made")
    assert "The comparison" not in {table.title for table in sheet.tables}
    assert any("refused" in note.detail for note in sheet.notes)


def test_a_circuit_by_neither_sum_nor_ratio_has_no_cable_without_limit() -> None:
    changes = ("Lo: 17 mH", "Lo: 3 mH"), ("Li: 0.2 mH", "Li: 0.03 mH"), ("length: 180 m", "length: 4500 m")
    sheet = sheet_of(study_with(*changes, ("225 uH/ohm", "29 uH/ohm"), example=SOLVENT), CIRCUIT)
    assert "no limit" not in words(sheet)


@pytest.mark.parametrize(
    ("change", "title"),
    [
        (("substance: toluene", "substance: hydrogen"), PLACE),
        (("substance: toluene", "substance: n-butane"), PLACE),
        (('inside: "0"', "inside: unknown"), PLACE),
        (("substance: toluene", "substance: moonshine"), PLACE),
    ],
)
def test_the_sheet_of_the_area_is_no_kinder_than_the_findings(change: tuple[str, str], title: str) -> None:
    """A group or class below that of the substance, a zone or a substance not known: nothing there is served yet."""
    found = study_with(change, example=SOLVENT)
    assert found.order != "not blocked"
    assert (
        "serves the zones as stated" not in sheet_of(found, title).answer or "does not" in sheet_of(found, title).answer
    )


def test_static_charge_is_never_passed() -> None:
    for changes in ((), CHANGED["charged"][0], CHANGED["group unknown"][0]):
        sheet = sheet_of(study_with(*changes, example=SOLVENT), STATIC)
        assert "No pass is given" in sheet.answer
        instrument = [table for table in sheet.tables if table.title in ("The instrument", "Warnings")]
        assert not [cell for table in instrument for row in table.rows for cell in row if cell == "holds"]
    assert "2 warnings" in sheet_of(study_with(*CHANGED["charged"][0], example=SOLVENT), STATIC).answer


@pytest.mark.parametrize(("example", "changes"), [(SOLVENT, ()), (WITH_BARRIER, ()), (SOLVENT, CHANGED["hot"][0])])
def test_the_pdf_of_the_sheets_holds_answers_and_cautions(example: Path, changes: tuple[tuple[str, str], ...]) -> None:
    found = study_with(*changes, example=example)
    printed = re.sub(r"\s+", "", "".join(pages_of(safety_pdf(paper_of(found)))))
    for sheet in safety_sheets(found):
        for text in (sheet.title, sheet.answer, *sheet.cautions):
            assert re.sub(r"\s+", "", text) in printed, text
    assert printed.count(re.sub(r"\s+", "", DEFERENCE)) >= len(safety_sheets(found))


def test_the_sheet_of_charge_shows_and_judges_the_velocity_of_a_conducting_liquid() -> None:
    conducting = ("{value: 5 pS/m, basis: assumed, by: case writer, source: from memory}", "200 nS/m")
    said = words(sheet_of(study_with(conducting, example=SOLVENT), CHARGE_SHEET))
    notes = [table.note for table in sheet_of(study_with(conducting, example=SOLVENT), CHARGE_SHEET).tables]
    assert "velocity at the highest filling rate" in said
    assert any(note.startswith("No product of velocity and bore is asked") and "7 m/s" in note for note in notes)
    without = sheet_of(study_with(conducting, ("  pipe_bore: 50 mm\n", ""), example=SOLVENT), CHARGE_SHEET)
    assert any("the bore of the filling line is not stated" in table.note for table in without.tables)


def test_the_sheet_of_the_alarms_says_what_mw_and_aops_rest_on() -> None:
    said = words(sheet_of(study_with(example=SOLVENT), "Alarms and overfill"))
    for row in ("MW counts back from the lowest alarm", "MW, if no H were set", "(AOPS) to the end of filling"):
        assert row in said
    without = study_with(("H: 2450 mm, ", ""), example=SOLVENT)
    assert "MW, if no H were set" not in words(sheet_of(without, "Alarms and overfill"))


def test_the_document_of_the_circuit_says_which_power_counts() -> None:
    rows = [table.rows for table in sheet_of(study_with(("Po: 0.6 W", "Po: 0.5 W"), example=SOLVENT), CIRCUIT).tables]
    assert any(cell.startswith("Uo Io / 4 <=") for table in rows for row in table for cell in row)


def test_an_isolator_that_does_not_pass_hart_says_so_and_the_loop_still_carries() -> None:
    sheet = sheet_of(study_with(("passes_hart: yes", "passes_hart: no"), example=SOLVENT), "The loop")
    assert sheet.answer.startswith("The loop carries every current")
    assert "HART" in sheet.answer
