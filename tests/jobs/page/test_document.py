"""The lines of what there is to document: how each paper stands, by what the study says."""

from __future__ import annotations

from onedatum.jobs.page.document import PaperLine, document_view
from onedatum.jobs.page.made import CaseText, made_of
from tests.study.variants import EXAMPLES, WITH_ISOLATOR, text_with

UNSTATED = ("  principle: magnetostrictive float on a rigid stem\n", "")


def lines_of(text: str) -> dict[str, PaperLine]:
    made = made_of(CaseText(str(EXAMPLES), "case", text, "0"), {})
    return {line.page: line for line in document_view(made)}


def test_an_order_that_is_blocked_says_by_what() -> None:
    lines = lines_of(text_with())
    assert lines["order"].stopped
    assert lines["order"].state == "blocked by 1 finding"
    assert lines["questions"].state == "nothing to ask"


def test_a_case_without_a_principle_asks_what_decides_it() -> None:
    lines = lines_of(text_with(UNSTATED, ("  resist: plain alloy\n", "")))
    assert lines["order"].state == lines["signal"].state == "no instrument is chosen"
    assert lines["questions"].state.endswith("what decides the principle")


def test_a_number_that_is_not_known_is_counted() -> None:
    known, asked = (
        lines_of(text_with(*changes, example=WITH_ISOLATOR))["questions"].state
        for changes in ((), (("inside_diameter: 1600 mm", "inside_diameter: unknown"),))
    )
    count = int(known.split()[0]) if known != "nothing to ask" else 0
    assert asked == f"{count + 1} to ask"
