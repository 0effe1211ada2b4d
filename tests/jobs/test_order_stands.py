"""Selection, order, summary and data never contradict each other on whether anything can be ordered now."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from onedatum.case.reading import read_case_text
from onedatum.cli.choosing import principle_lines
from onedatum.cli.summary import summary
from onedatum.foundation.constants import VERSION
from onedatum.jobs.choosing.order import order_sheet
from onedatum.jobs.choosing.selection import selection_sheet
from onedatum.jobs.examine import examine
from onedatum.paper.choosing.as_pdf import selection_pdf
from onedatum.study.form import as_json
from onedatum.study.result import Study
from onedatum.study.study import study
from tests.jobs.conftest import Papers
from tests.jobs.judged import judged
from tests.jobs.test_document import folded, text_of
from tests.study.variants import EXAMPLES, WITH_BARRIER, text_with

NOW = "can be ordered now"
ISOLATOR = (
    "  barrier: {kind: shunt-diode barrier, resistance: 300 ohm}",
    "  barrier: {kind: isolator, voltage_at_its_terminals: 17.0 V, voltage_open_circuit: 25 V, load_max: 600 ohm}",
)
UNSTATED = ("  principle: magnetostrictive float on a rigid stem\n", "")
VARIANTS: dict[str, tuple[tuple[str, str], ...]] = {
    "isolator": (ISOLATOR,),
    "no principle": (UNSTATED,),
    "no principle, isolator": (ISOLATOR, UNSTATED),
    "alarm above the range": (ISOLATOR, ("20 mA: 2800 mm", "20 mA: 2000 mm")),
    "no principle, alarm above the range": (UNSTATED, ISOLATOR, ("20 mA: 2800 mm", "20 mA: 2000 mm")),
    "a faulty input": (ISOLATOR, ("bore: 80 mm", "bore: 80,5 mm")),
    "a condition left away": (ISOLATOR, ("  resist: plain alloy\n", "")),
    "an answer awaited": (ISOLATOR, ("inside_diameter: 1600 mm", "inside_diameter: unknown")),
}
OF_EXAMPLES = tuple(path.name for path in sorted(EXAMPLES.glob("*.yaml")))
STATED = {"A stated so": ("A", ""), "C with a stem": ("C", "magnetostrictive"), "B undecided": ("B", "")}
ALL = (*OF_EXAMPLES, *VARIANTS, *STATED, "bare")


@cache
def studied(name: str) -> Study:
    if name in STATED:
        scenario, stated = STATED[name]
        return judged(scenario, stated=stated)
    if name == "bare":
        text = "onedatum: 1\ninvented: yes\n"
    elif name in VARIANTS:
        text = text_with(*VARIANTS[name])
    else:
        text = (EXAMPLES / name).read_text(encoding="utf-8")
        if "\nconditions:" not in text:
            text += "\nconditions: {flow: {kind: runs off}}\n"
    return study(read_case_text(text, "case.yaml", EXAMPLES))


def texts(part: Any) -> Iterator[str]:
    """Every text in a record, however deep."""
    if isinstance(part, str):
        yield part
    elif is_dataclass(part):
        for field in fields(part):
            yield from texts(getattr(part, field.name))
    elif isinstance(part, (tuple, list)):
        for each in part:
            yield from texts(each)


def said_of(found: Study) -> str:
    """Whatever sheets and command line say of a study, in one text."""
    choosing = found.choosing
    assert choosing is not None
    lines = [*texts(selection_sheet(found)), *texts(order_sheet(found)), *summary(found)]
    for name in choosing.verdicts:
        lines += principle_lines(found, choosing, name)
    return " ".join(" ".join(lines).split()).lower()


@pytest.mark.parametrize("name", ALL)
def test_nothing_says_it_can_be_ordered_while_the_order_is_blocked_or_waits(name: str) -> None:
    found = studied(name)
    told = as_json(found, VERSION)["choosing"]
    ready = [each["principle"] for each in told["principles"] if each["can_be_ordered_now"]]
    if found.order != "not blocked":
        assert NOW not in said_of(found)
        assert ready == []
    else:
        assert (NOW in said_of(found)) is bool(ready)
    assert {each["order"] for each in told["principles"]} == {found.order}


@pytest.mark.parametrize("name", ALL)
def test_what_blocks_the_order_stands_on_the_selection_too(name: str) -> None:
    found = studied(name)
    sheet, choosing = selection_sheet(found), found.choosing
    assert sheet is not None
    assert choosing is not None
    order = order_sheet(found)
    if order is None:
        assert not found.has_instrument
    else:
        assert sheet.blocking == order.blocking
        assert sheet.faults == order.faults
    if found.order == "blocked":
        assert sheet.blocking or sheet.faults
        assert sheet.orderable.startswith("Order blocked: ")
        first = " ".join(" ".join(principle_lines(found, choosing, "radar")).split())
        assert " ".join(found.blocking.split()) in first


def test_the_cases_tried_hold_every_word_on_the_order() -> None:
    """Blocked by the loop, by the range, by a fault and by the verdict; waiting; free, with and without a principle."""
    found = {name: studied(name).order for name in (*VARIANTS, *STATED, "bare")}
    assert found["isolator"] == "not blocked"
    assert found["alarm above the range"] == "blocked"
    assert {found[name] for name in VARIANTS if name.startswith("no principle")} == {"waits for answers"}
    assert found["a faulty input"] == found["A stated so"] == found["C with a stem"] == "blocked"
    assert found["bare"] == found["an answer awaited"] == "waits for answers"


def test_a_rule_that_blocks_one_principle_is_not_told_as_ready() -> None:
    """Of a coated rod nothing may be left but requirements, and its length not be confirmed by the drawing."""
    text = text_with(ISOLATOR, UNSTATED, ("  length_confirmed: yes\n", "  length_confirmed: no\n"))
    found = study(read_case_text(text, "case.yaml", EXAMPLES))
    assert found.choosing is not None
    blocked = [name for name in found.choosing.verdicts if found.choosing.blocking_of(name)]
    assert "capacitive-coated" in blocked
    assert found.choosing.blocking == (), "a rule that blocks some principles alone does not block the order unstated"
    assert not [name for name in blocked if found.can_be_ordered(name)]


def test_what_is_free_to_be_ordered_is_named(tmp_path: Path) -> None:
    sheet = selection_sheet(studied("isolator"))
    assert sheet is not None
    words = "Can be ordered now, once the order keeps to its requirements: magnetostrictive float on a stem; radar."
    assert sheet.orderable == words
    assert {each.title for each in sheet.principles if each.lead.startswith("Can be ordered now")} == {
        "Magnetostrictive float on a stem",
        "Radar",
    }
    unstated = selection_sheet(studied("no principle, isolator"))
    assert unstated is not None
    assert unstated.orderable.startswith("No principle is chosen yet")
    pdf = tmp_path / "selection.pdf"
    pdf.write_bytes(selection_pdf(sheet))
    assert words in text_of(pdf)


def test_the_papers_of_a_blocked_case_say_so_and_nothing_else(papers: Papers) -> None:
    """The loop ends below the current of HH: said on every paper that speaks of choosing."""
    files = {file.name.removeprefix(WITH_BARRIER.stem): file for file in papers(WITH_BARRIER)}
    for ending in ("", "-selection", "-order"):
        text = text_of(files[f"{ending}.pdf"])
        assert not any(folded(NOW) in page.lower() for page in map(folded, text.pages))
        assert "HH can never come" in text
    told = json.loads(files[".json"].read_text(encoding="utf-8"))
    assert told["order"] == examine(WITH_BARRIER).order == "blocked"
    assert not [each for each in told["choosing"]["principles"] if each["can_be_ordered_now"]]
