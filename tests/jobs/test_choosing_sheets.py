"""Selection, questions and order: what the verdicts say stands on the sheets, whatever the case holds."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from pathlib import Path

import pytest

from onedatum.case.reading import read_case_text
from onedatum.foundation.units import in_print
from onedatum.jobs.choosing.order import measuring_lines, order_blocks, order_sheet
from onedatum.jobs.choosing.questions import decides_words, question_sheet
from onedatum.jobs.choosing.selection import selection_sheet
from onedatum.jobs.document import document
from onedatum.jobs.examine import examine
from onedatum.jobs.paper_of_study import paper_of
from onedatum.paper.choosing.as_pdf import order_pdf, questions_pdf, selection_pdf
from onedatum.paper.choosing.model import Selection
from onedatum.paper.document import document_pdf
from onedatum.study.result import Study
from onedatum.study.study import study
from onedatum.verdicts import Verdict
from onedatum.verdicts.rules import CRITERIA, CRITERION_TITLES, Override, rule_base
from onedatum.verdicts.rules.words import principle_title, quantity_title
from tests.jobs.judged import case_in, judged, text_with_conditions
from tests.jobs.test_document import folded, text_of
from tests.pdf import pages_of
from tests.study.variants import EXAMPLES, WITH_ISOLATOR
from tests.verdicts.rules.scenarios import scenarios

SCENARIOS = ("A", "B", "C")
STRANGE = "日本" * 30
SAFER = Override("magnetostrictive/viscosity", "viscosity", 0.2, 0.1, "100 mPa.s", "process lab", "")
LOOSER = Override("magnetostrictive/viscosity", "viscosity", 0.2, 0.3, "300 mPa.s", "process lab", "tested")
OF_STANDARD = Override(
    "magnetostrictive/hazardous-area", "static.area_share", 1.0, 2.0, "2", "plant manager", "the certificate allows it"
)


def selection(study: Study) -> Selection:
    found = selection_sheet(study)
    assert found is not None
    return found


# ---------------------------------------------------------------- selection


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_the_matrix_has_the_verdicts_of_the_reference(scenario: str) -> None:
    """Fifteen principles and twenty-two conditions, by the verdicts that the reference worked on its own."""
    sheet = selection(judged(scenario))
    wanted = scenarios()[scenario]["verdicts"]
    assert {row.principle.lower(): row.sign for row in sheet.rows} == {
        principle_title(name).lower(): row["verdict"] for name, row in wanted.items()
    }
    assert len(sheet.rows) == 15
    assert {len(row.cells) for row in sheet.rows} == {len(sheet.conditions)} == {23}


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_cells_merge_to_the_verdict_of_their_row(scenario: str) -> None:
    """The gravest sign of a row is its verdict: does not suit > undecided > suits on conditions > suits."""
    order = ("suits", "suits on conditions", "undecided", "does not suit")
    for row in selection(judged(scenario)).rows:
        signs = [
            "suits on conditions" if cell.sign == "to be ordered" else cell.sign
            for cell in row.cells
            if cell.sign != "no influence"
        ]
        assert max(signs, key=order.index) == row.sign


def test_conditions_without_influence_are_the_rows_of_the_rules() -> None:
    sheet, base = selection(judged("A")), rule_base()
    for row, principle in zip(sheet.rows, base.principles, strict=True):
        empty = {
            condition
            for condition, cell in zip(base.conditions, row.cells, strict=False)
            if cell.sign == "no influence"
        }
        assert empty == {each.condition for each in base.without_influence if each.principle == principle}


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_the_paper_says_every_reason_number_limit_and_source(scenario: str, tmp_path: Path) -> None:
    sheet = selection(judged(scenario))
    pdf = tmp_path / "selection.pdf"
    pdf.write_bytes(selection_pdf(sheet))
    text = text_of(pdf)
    assert folded(sheet.answer) in text
    assert all(folded(principle.title) in text for principle in sheet.principles)
    for principle in sheet.principles:
        assert folded(principle.flip) in text
        for reason in principle.reasons:
            assert folded(reason.reason) in text
            assert folded(reason.source) in text
            for pair in reason.comparisons:
                assert folded(pair.title) in text
                assert folded(pair.limit) in text
    for words in ("suits, if ordered so", "does not suit", "undecided", "no influence"):
        assert folded(words) in text, "the signs are told in words"


def test_a_number_that_decides_stands_beside_its_limit_in_the_same_unit() -> None:
    """Reference, scenario A: the loss tangent 2.043 against 1, the allowed error 0.5556 % of span against 1 %."""
    bare = next(each for each in selection(judged("A")).principles if each.title == "Bare capacitive rod")
    pairs = {(pair.value, pair.limit) for reason in bare.reasons for pair in reason.comparisons}
    assert ("2.043", "above 1") in pairs
    assert ("0.5556 % of span", "below 1 % of span") in pairs


def test_what_would_change_it_is_said_of_all_that_do_not_suit() -> None:
    sheet = selection(judged("B"))
    for each in sheet.principles:
        against = each.sign in ("undecided", "does not suit")
        assert bool(each.flip) is against
    film = next(each for each in sheet.principles if each.sign == "undecided")
    assert "film breaks" in film.flip


def test_what_can_be_ordered_now_is_named() -> None:
    """Reference, scenario A: nothing but requirements of the order is left of radar and of the float on a stem."""
    assert "radar" in selection(judged("A")).orderable
    assert "magnetostrictive float on a stem" in selection(judged("A")).orderable
    assert selection(judged("C")).orderable.startswith("Nothing is ready to be ordered")


def test_the_order_of_preference_is_told_in_words() -> None:
    """No key of a criterion stands on the sheet: each is told by what it puts first."""
    (note,) = (note for note in selection(judged("A")).notes if note.text.startswith("The order of preference"))
    assert note.text.startswith("The order of preference puts first: a better verdict, then nothing left but requir")
    assert not re.search(r"\borderable\b|\bleft,|, then left\b", note.text)
    assert note.detail == "editable default"
    assert set(CRITERION_TITLES) == set(CRITERIA)


def test_where_nothing_suits_the_first_page_asks_and_reasons(tmp_path: Path) -> None:
    """The first page of a bare case holds the questions that decide most, and the reasons begin on it."""
    study = examine(case_in(tmp_path, "onedatum: 1\ninvented: yes\n"))
    sheet = selection(study)
    asked = question_sheet(study)
    assert asked is not None
    assert [note.text for note in sheet.first_asked[:-1]] == [each.text for each in asked.deciding[:6]]
    assert sheet.first_asked[-1].text == f"{len(asked.deciding) - 6} more on the sheet of questions."
    first = pages_of(selection_pdf(sheet))[0]
    assert folded(sheet.first_asked[0].text) in folded(first)
    assert folded("Every rule that decides") in folded(first)
    assert selection(judged("A")).first_asked == ()


def test_all_but_some_is_said_where_that_is_shorter() -> None:
    choosing = judged("A").choosing
    assert choosing is not None
    (rule, *_), every = choosing.matrix.base.of("radar"), list(choosing.verdicts)
    pairs = [(name, rule.name) for name in every if name not in ("radar", "bypass")]
    said = decides_words(choosing, pairs)
    assert said.startswith("all but float in a bypass chamber and radar, by ")
    assert decides_words(choosing, [("radar", rule.name)]).startswith("radar, by ")
    assert decides_words(choosing, [(name, rule.name) for name in every]).startswith("every principle, by ")


def test_requirements_that_all_share_are_told_once() -> None:
    sheet = selection(judged("A"))
    suiting = [each for each in sheet.principles if each.sign == "suits on conditions"]
    assert sheet.common
    assert all(not set(sheet.common) & set(each.requirements) for each in suiting)


def test_the_ranking_says_why() -> None:
    sheet = selection(judged("A"))
    assert [place.rank for place in sheet.ranking] == list(range(1, 9))
    assert sheet.ranking[0].reason == ("less left to settle than magnetostrictive float on a stem: 11 against 17")
    assert sheet.ranking[0].left == "11 requirements of the order"
    assert sheet.ranking[-1].reason == ""


def test_a_limit_of_the_site_is_marked_wherever_it_counts() -> None:
    sheet = selection(judged("A", LOOSER))
    marked = [(row.principle, at) for row in sheet.rows for at, cell in enumerate(row.cells) if cell.site]
    assert marked == [("Magnetostrictive float on a stem", rule_base().conditions.index("viscosity"))]
    assert "limit 300 mPa.s in place of 200 mPa.s" in sheet.site_limits[0].text
    assert "lets more pass" in sheet.site_limits[0].detail
    assert sheet.loosened == ()
    assert "lets less pass" in selection(judged("A", SAFER)).site_limits[0].detail


def test_a_standard_made_less_safe_stands_on_the_first_page(tmp_path: Path) -> None:
    sheet = selection(judged("A", OF_STANDARD))
    assert len(sheet.loosened) == 1
    first = pages_of(selection_pdf(sheet))[0]
    assert "less safe" in first
    assert folded("the certificate allows it") in folded(first)


def test_only_cases_that_ask_are_judged() -> None:
    assert selection_sheet(examine(WITH_ISOLATOR)) is None


# ---------------------------------------------------------------- questions


def test_the_shortest_list_comes_first_in_the_words_of_the_customer() -> None:
    """Reference, scenario B: one question decides, whether the film breaks."""
    sheet = question_sheet(judged("B"))
    assert sheet is not None
    (first,) = sheet.deciding
    assert first.text.startswith("Has a test (rise to and fall to one level) shown")
    assert first.choices == ("film breaks", "film stays")
    assert first.who == "plant, commissioning"
    assert first.decides == "capacitive rod with a reference electrode, by viscosity"
    assert sheet.answer.startswith("1 question decides which principle suits")


def test_a_number_is_asked_with_its_unit_and_not_twice() -> None:
    """Without the viscosity several principles wait for it; the study asks for it in its own place too."""
    sheet = question_sheet(judged("A", without="viscosity"))
    assert sheet is not None
    asked = [each for each in sheet.deciding if each.unit == "mPa.s"]
    assert [each.text for each in asked] == ["What is the dynamic viscosity at the coldest state?"]
    every = [each.text for each in (*sheet.deciding, *sheet.attached, *sheet.others)]
    assert len(set(every)) == len(every)


def test_room_to_answer_is_printed(tmp_path: Path) -> None:
    sheet = question_sheet(judged("B"))
    assert sheet is not None
    pdf = tmp_path / "questions.pdf"
    pdf.write_bytes(questions_pdf(sheet))
    text = text_of(pdf)
    for words in ("film breaks", "film stays", "not known", "answered by", "Can be answered by: plant, commissioning."):
        assert folded(words) in text


def test_what_is_taken_as_usual_is_still_asked(tmp_path: Path) -> None:
    sheet = question_sheet(examine(case_in(tmp_path, text_with_conditions("A"))))
    assert sheet is not None
    assert {each.now for each in sheet.assumed} == {"none", "no"}
    assert "Does the vessel vibrate or stand on a vehicle?" in [each.text for each in sheet.assumed]


# ---------------------------------------------------------------- order


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_the_order_holds_every_line_of_the_sheets_once(scenario: str) -> None:
    study = judged(scenario)
    lines = [(line.label, line.value) for block in order_blocks(study) for line in block.lines]
    for label, value in measuring_lines(study):
        assert lines.count((label[:1].upper() + label[1:], value)) == 1, label
    titles = [block.title for block in order_blocks(study)]
    wanted = ["Place", "Liquid", "Geometry", "Instrument", "Range", "Signal", "Hazardous area", "Papers"]
    assert titles == wanted


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_no_label_stands_twice_in_a_block(scenario: str) -> None:
    for block in order_blocks(judged(scenario)):
        labels = [line.label for line in block.lines]
        assert len(set(labels)) == len(labels), block.title


def test_values_of_the_order_are_those_of_the_study() -> None:
    """No second copy: range, length and loop are read from the entries that the ruler is drawn from."""
    study = judged("A")
    lines = {line.label: line.value for block in order_blocks(study) for line in block.lines}
    for label, name in (
        ("Level at 4 mA (LRV)", "range.4 mA"),
        ("Length of the stem, face to tip", "stem.length"),
        ("Loop carries up to", "loop.last_good_current"),
    ):
        assert lines[label] == in_print(study.sheet[name].text)


def test_terms_of_standards_are_marked_as_from_memory_and_carry_no_numbers() -> None:
    sheet = order_sheet(judged("A"))
    assert "from memory" in sheet.terms
    terms = [line.term for block in sheet.blocks for line in block.lines if line.term]
    assert "lower range-value" in terms
    assert [term for term in terms if re.search(r"\d", term)] == []
    labels = [line.label for block in sheet.blocks for line in block.lines]
    assert [label for label in labels if re.match(r"\d", label)] == []


def test_before_a_principle_is_stated_there_is_no_order() -> None:
    found = study(read_case_text("onedatum: 1\ninvented: yes\nconditions: {flow: {kind: clings}}\n", "case.yaml"))
    assert order_sheet(found) is None
    assert measuring_lines(found) == ()


def test_a_principle_that_does_not_suit_blocks_its_order() -> None:
    """The sheet, the answer of the study and its word on the order say the same."""
    study = judged("C", stated="magnetostrictive")
    assert study.principle_verdict is Verdict.DOES_NOT_SUIT
    assert study.order == "blocked"
    assert study.blocking == "Order blocked: the principle does not suit."
    sheet = order_sheet(study)
    assert "does not suit" in sheet.answer
    assert any("does not suit: agitation" in note.text for note in sheet.blocking)
    assert judged("C").order == "not blocked"


def test_an_undecided_principle_lets_the_order_wait() -> None:
    study = judged("B", stated="capacitive-reference")
    assert study.principle_verdict is Verdict.UNDECIDED
    assert order_sheet(study).waits[0].text == "Test of the film on the rod"


def test_requirements_of_the_verdict_stand_in_the_order() -> None:
    told = [note.text for note in order_sheet(judged("A")).requirements]
    assert "Pressure rating of the float" in told
    assert "Wall between the zones certified: yes (protection level)" in told


# ---------------------------------------------------------------- papers of a case


def test_a_case_with_conditions_gets_its_three_sheets(tmp_path: Path) -> None:
    case = case_in(tmp_path, text_with_conditions("A", ("  resist: plain alloy\n", "")), "spirit.yaml")
    papers = document(case, tmp_path / "papers")
    names = [file.name for file in papers.files]
    assert names[-3:] == ["spirit-selection.pdf", "spirit-questions.pdf", "spirit-order.pdf"]
    assert papers.study.faults == ()
    whole = text_of(papers.files[0])
    assert folded("Selection: Magnetostrictive float on a stem") in whole
    data = json.loads((tmp_path / "papers" / "spirit.json").read_text(encoding="utf-8"))["choosing"]
    assert len(data["principles"]) == 15
    assert [each["quantity"] for each in data["questions"]] == ["resist"]


def test_sheets_are_the_same_bytes_again() -> None:
    first, again = ((selection_pdf(selection(study)), order_pdf(order_sheet(study))) for study in [judged("A")] * 2)
    assert first == again


# ---------------------------------------------------------------- hostile


def test_everything_unknown_is_printed_whole(tmp_path: Path) -> None:
    case = case_in(tmp_path, "onedatum: 1\ninvented: yes\n", "bare.yaml")
    papers = document(case, tmp_path / "papers")
    sheet = selection(papers.study)
    assert {row.sign for row in sheet.rows} == {"undecided"}
    assert sheet.ranking == ()
    assert sheet.answer == "No principle is stated. Of 15 principles 15 are undecided."
    assert [file.name for file in papers.files][:3] == ["bare-selection.pdf", "bare-questions.pdf", "bare.pdf"]
    assert not any("order" in file.name or "loop" in file.name for file in papers.files)
    assert folded("83 questions decide") in text_of(tmp_path / "papers" / "bare-questions.pdf")


PRINTED = ("caustic_tank", "spirit_receiver", "steam_drum")
"""Examples whose papers are printed: a probe, a stem in the tank and one beside a chamber."""


@pytest.mark.parametrize("example", sorted(EXAMPLES.glob("*.yaml")), ids=lambda path: path.stem)
def test_an_example_without_its_principle_gives_papers_without_an_instrument(example: Path, tmp_path: Path) -> None:
    """Verdicts and questions first, no loop, no order, no sheet and no drawing of a stem; every PDF is one."""
    text, count = re.subn(r"(?m)^  principle:.*$", "  principle: unknown", example.read_text(encoding="utf-8"))
    assert count == 1
    case = case_in(tmp_path, text)
    if example.stem in PRINTED:
        papers = document(case, tmp_path / "papers")
        names = [file.name for file in papers.files]
        assert names[0] == "case-selection.pdf"
        assert not any("order" in name or "loop" in name for name in names)
        for file in papers.files:
            assert file.suffix != ".pdf" or file.read_bytes().startswith(b"%PDF-")
    paper = paper_of(examine(case))
    assert paper.stem == ()
    assert paper.ruler is None or paper.ruler.stem is None
    assert paper.vessel is None or (paper.vessel.stem is None and paper.vessel.float_body is None)
    assert {sheet.title for sheet in paper.safety} <= {"Alarms and overfill"}


def test_long_and_strange_texts_do_not_break_the_sheets(tmp_path: Path) -> None:
    text = text_with_conditions(
        "A", ("tag: LT-201", f"tag: {STRANGE}"), ("service: distillery", f"service: {'W' * 120}")
    )
    text += f"""choosing:
  limits:
    - rule: magnetostrictive/viscosity
      quantity: viscosity
      was: 200 mPa.s
      now: 300 mPa.s
      said_by: "{STRANGE}"
      reason: "{"x" * 390}"
  instruments:
    - name: "{"M" * 70}"
      principle: radar
"""
    found = examine(case_in(tmp_path, text, "strange.yaml"))
    assert found.faults == ()
    sheet, questions = selection(found), question_sheet(found)
    assert questions is not None
    # All pages of the paper that speak of choosing, without the working of five hundred numbers.
    whole = document_pdf(replace(paper_of(found), sheet=()), None, sheet)
    for pdf in (whole, selection_pdf(sheet), questions_pdf(questions), order_pdf(order_sheet(found))):
        assert "U+65E5" in "".join(pages_of(pdf))
    assert "lets more pass" in sheet.site_limits[0].detail
    assert any("M" * 70 in note.text for note in sheet.notes)


@pytest.mark.parametrize(
    ("old", "new", "path"),
    [
        ("kind: runs off", "kind: runs", "conditions.flow.kind"),
        ("setting: -45 degC", "setting: -45", "conditions.temperature.setting"),
        ("level: 0.3 mm/s", "level: -1 mm/s", "conditions.rate.level"),
        ("composition: constant", "composition: [1, 2]", "conditions.composition"),
    ],
)
def test_a_faulty_condition_is_named_and_left_open(old: str, new: str, path: str, tmp_path: Path) -> None:
    study = examine(case_in(tmp_path, text_with_conditions("A").replace(old, new)))
    assert [fault.path for fault in study.faults] == [path]
    sheet = selection(study)
    assert path in sheet.faults[0].text
    assert study.order == "blocked"
    name = path.removeprefix("conditions.")
    asked = {
        question
        for verdict in (study.choosing.verdicts.values() if study.choosing else ())
        for question in verdict.questions
    }
    assert name in asked, quantity_title(name)


def test_only_what_is_assumed_is_marked_so_in_the_order() -> None:
    """The case assumes viscosity, conductivity and permittivity; what reads the same elsewhere is not."""
    lines = [line for block in order_blocks(judged("A")) for line in block.lines]
    assert {line.label for line in lines if line.assumed} == {"Viscosity", "Conductivity", "Relative permittivity"}
    assert {line.label for line in lines if line.open} >= {"Pressure rating of the float"}
