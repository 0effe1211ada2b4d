"""The fields of a case for a form, compared with the leaves that the reader gives and with the model."""

from __future__ import annotations

import time
from dataclasses import replace
from itertools import chain
from pathlib import Path

import pytest

from onedatum.case.edit import edited
from onedatum.case.editing.target import target_of
from onedatum.case.form import FormField, FormSection, blank_item, fields
from onedatum.case.kinds import Quantity
from onedatum.case.leaf import Rows
from onedatum.case.reader import Notes
from onedatum.case.reading import read_case, read_case_text
from onedatum.case.skeleton import skeleton
from onedatum.case.tree import Leaf as Scalar
from onedatum.foundation.errors import Place
from tests.study.variants import EXAMPLES, WITH_BARRIER, statement_with

EVERY = sorted(EXAMPLES.glob("*.yaml"))
MOST_MS = 5.0


def every(sections: tuple[FormSection, ...]) -> dict[str, FormField]:
    return {each.path: each for each in chain.from_iterable(section.every_field() for section in sections)}


def section(sections: tuple[FormSection, ...], *keys: str) -> FormSection:
    found = next(each for each in sections if each.key == keys[0])
    return section((*found.sections, *found.items), *keys[1:]) if keys[1:] else found


@pytest.mark.parametrize("file", EVERY, ids=[file.stem for file in EVERY])
def test_every_leaf_of_a_case_is_a_field_with_its_text_and_state(file: Path) -> None:
    statement = read_case(file)
    found = every(fields(statement))
    for leaf in statement.case.leaves():
        if not isinstance(leaf, Rows):
            each = found[leaf.path]
            assert (each.text, each.state, each.place) == (leaf.text, leaf.state, leaf.place)
            assert each.ask.label == leaf.title
            assert each.shown or each.state in ("unknown", "none")


def test_every_path_of_a_field_is_one_that_an_edit_takes() -> None:
    paths = [*every(fields(read_case(WITH_BARRIER))), *(each.path for each in blank_item("vessel.deadwood[0]"))]
    assert len(paths) > 500
    for path in paths:
        assert target_of(path).path == path


def test_an_example_in_a_form_is_one_that_the_reader_takes() -> None:
    quantities = [each for each in every(fields(read_case(WITH_BARRIER))).values() if each.ask.form == "quantity"]
    assert len(quantities) > 300
    for each in quantities:
        kind = target_of(each.path).kind
        assert isinstance(kind, Quantity)
        notes = Notes()
        replace(kind, companions={}).read(Scalar(each.ask.example, Place("", 1, 1), each.path), notes)
        assert not notes.faults


def test_a_field_says_what_may_be_written_there() -> None:
    found = every(fields(read_case(WITH_BARRIER)))
    bore = found["nozzle.bore"].ask
    assert (bore.label, bore.side, bore.example) == ("bore of the nozzle", "process", "80 mm")
    assert bore.allowed == "above 0 mm to 10000 mm"
    assert {"mm", "m", "in"} <= set(bore.units)
    assert found["vessel.shell_temperature"].ask.words == ("as liquid", "between liquid and ambient")
    assert found["overfill.filling_stopped_by"].ask.words[0] == "this gauge"
    assert (found["medium.temperature"].uncertainty, found["medium.temperature"].ends) == (
        "within 0.5 K", "5 degC to 35 degC",
    )  # fmt: skip
    assert (found["medium.viscosity"].state, found["medium.viscosity"].by) == ("assumed", "case writer")
    assert found["medium.strength"].companions[0].path == "medium.strength.at"
    assert found["medium.strength"].companions[0].text == "20 degC"


@pytest.mark.parametrize(
    ("change", "path"),
    [
        (("bore: 80 mm", "bore: 12 parsec"), "nozzle.bore"),
        (("  4 mA: 100 mm", "  4 mA: 900 m"), "range.4 mA"),
        (("at: 20 degC, within", "at: 25 degC, within"), "medium.strength.at"),
        (("within: 0.5 K, min", "within: 5 parsec, min"), "medium.temperature"),
        (("20 mA: 2800 mm", "20 mA: 100 mm"), "range.20 mA"),
        (("instrument: removed", "instrument: lost"), "states[2].instrument"),
    ],
)
def test_a_fault_stands_with_its_field_and_nowhere_else(change: tuple[str, str], path: str) -> None:
    statement = statement_with(change)
    sections = fields(statement)
    found = every(sections)
    with_parts = {**found, **{part.path: part for each in found.values() for part in each.companions}}
    wrong = {each.path for each in with_parts.values() if each.faults}
    assert path in wrong or any(path.startswith(each) for each in wrong)
    told = [sentence for each in with_parts.values() for sentence in each.sentences]
    assert sorted(told) == sorted(fault.sentence() for fault in statement.faults)
    assert with_parts[path].shown
    assert with_parts[path].text or path.endswith(".at")


def test_no_fault_is_lost() -> None:
    text = "onedatum: 1\nvesel: {a: 1}\nvessel: {colour: red, wall: [1]}\nsite: 5\nstates: 5\nnozzle: {bore: &a 5 mm}\n"
    statement = read_case_text(text)
    assert len(statement.faults) >= 6
    told: list[str] = []

    def collect(part: FormSection) -> None:
        told.extend(fault.sentence() for fault in part.faults)
        told.extend(sentence for each in part.fields for sentence in each.sentences)
        if part.stated is not None:
            told.extend(part.stated.sentences)
        for inner in (*part.sections, *part.items):
            collect(inner)

    for part in fields(statement):
        collect(part)
    assert sorted(told) == sorted(fault.sentence() for fault in statement.faults)


def test_a_section_tells_its_content_in_one_line() -> None:
    sections = fields(read_case(WITH_BARRIER))
    assert section(sections, "site").summary == "1.2 kg/m3, 9.80665 m/s2, 1.01325 bar(a)"
    assert section(sections, "batch").summary == "nothing stated"
    assert section(sections, "overfill", "set_points").summary == "none"
    assert section(sections, "overfill", "set_points").absent
    assert section(sections, "vessel", "top_head").as_section == "vessel.bottom_head"
    assert section(sections, "vessel", "top_head").summary == "as bottom_head"
    assert section(sections, "vessel", "top_head").words == ("as bottom_head",)
    for part in sections:
        assert "\n" not in part.summary
        assert len(part.summary) <= 250


def test_a_list_has_its_items_and_the_path_of_the_next() -> None:
    sections = fields(read_case(WITH_BARRIER))
    states = section(sections, "states")
    assert [each.path for each in states.items] == ["states[0]", "states[1]", "states[2]"]
    assert states.next_path == "states[3]"
    deadwood = section(sections, "vessel", "deadwood")
    assert deadwood.stated is not None
    assert (deadwood.stated.state, deadwood.next_path) == ("none", "vessel.deadwood[0]")
    text = WITH_BARRIER.read_text(encoding="utf-8")
    for path in (f"{states.next_path}.name", f"{deadwood.next_path}.name"):
        text = edited(text, {path: "one more"}).text
    after = read_case_text(text).case
    assert after.states[3].name.text == after.vessel.deadwood.items[0].name.text == "one more"


def test_an_item_that_cannot_be_used_is_counted_for_the_next_path() -> None:
    """Two states of one name: the second is left out of the case, and yet stands in the file."""
    statement = read_case_text("onedatum: 1\nstates:\n  - name: a\n  - name: a\n")
    states = section(fields(statement), "states")
    assert [each.path for each in states.items] == ["states[0]"]
    assert states.next_path == "states[2]"


def test_few_fields_are_shown_of_an_empty_case_and_all_of_one_that_asks() -> None:
    bare = read_case_text("onedatum: 1\n")
    assert [each.path for each in every(fields(bare)).values() if each.shown] == ["onedatum"]
    asked = every(fields(bare, asked=("nozzle.bore",)))["nozzle.bore"]
    assert (asked.shown, asked.asked, asked.state) == (True, True, "unknown")
    asking = every(fields(read_case_text(skeleton())))
    assert sum(each.shown for each in asking.values()) > 300


def test_a_form_is_made_within_a_keystroke() -> None:
    """Five milliseconds, a goal of our own; the best of several runs, for the machine is shared."""
    statement = read_case(WITH_BARRIER)
    fields(statement)
    times = []
    for _ in range(10):
        start = time.process_time()
        fields(statement)
        times.append((time.process_time() - start) * 1000)
    assert min(times) < MOST_MS
