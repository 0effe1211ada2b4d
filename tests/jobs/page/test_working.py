"""The working of every number of every example: it can be shown, and says what the JSON form of the study says."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from onedatum.foundation.units import in_print
from onedatum.jobs.examine import examine
from onedatum.jobs.page.working import FIRST_ABOVE, STATE_WORDS, UnknownEntry, WorkingView, working_view
from onedatum.study.form import entry_json
from onedatum.study.result import Study
from tests.foundation.working.test_mathml import numbers, refused, spaced
from tests.study.variants import EXAMPLES, WITH_BARRIER

examples = pytest.mark.parametrize("example", sorted(EXAMPLES.glob("*.yaml")), ids=lambda path: path.stem)


@cache
def study_of(example: Path) -> Study:
    return examine(example)


@cache
def views_of(example: Path) -> tuple[WorkingView, ...]:
    study = study_of(example)
    return tuple(working_view(study, name) for name in study.entries)


@examples
def test_a_view_says_what_the_json_form_says(example: Path) -> None:
    study = study_of(example)
    for view in views_of(example):
        data = entry_json(study.entries[view.name])
        assert (view.name, view.meaning, view.value) == (
            data["name"],
            in_print(data["meaning"]),
            in_print(data["shown"]),
        )
        assert (view.state, view.rests_on_assumed) == (data["state"], data["rests_on_assumed"])
        assert [door.entry for door in view.inputs] == list(data.get("inputs", {}).values())
        assert view.formula_name == data.get("formula", "")
        assert view.formula.text == in_print(data.get("equation", data.get("comparison", "")))
        assert view.numbers.text == in_print(data.get("numbers", ""))
        assert view.method == in_print(data.get("method", ""))
        assert view.uncertainty == in_print(data.get("uncertainty", ""))
        assert view.note == in_print(data.get("note", ""))
        assert [each.path for each in view.waits_for] == data.get("waits_for", [])
        source = data.get("source", "")
        assert in_print(source) == (f"{view.source.text} [{view.source.tag}]" if view.source else "")
        place = data.get("place")
        assert view.place == (f"{place['file']}:{place['line']}" if place else "")


@examples
def test_the_maths_of_a_view_is_sound_and_carries_the_numbers_of_the_plain_line(example: Path) -> None:
    for view in views_of(example):
        for line in (view.formula, view.numbers):
            assert refused(line.mathml) == []
            assert bool(line.mathml) == bool(line.text)
            assert numbers(spaced(line.mathml)) == numbers(line.text)


@examples
def test_doors_lead_up_and_down_the_same_way(example: Path) -> None:
    """Whoever is named above a number names it among its inputs, and all who do are counted."""
    views = {view.name: view for view in views_of(example)}
    named: dict[str, list[str]] = {name: [] for name in views}
    for other in views.values():
        for name in {door.entry for door in other.inputs}:
            named[name].append(other.name)
    for view in views.values():
        above = named[view.name]
        assert [door.entry for door in view.above] == above[:FIRST_ABOVE]
        assert view.above_count == len(above)
        for door in (*view.inputs, *view.above, *view.assumed):
            there = views[door.entry]
            assert (door.value, door.state, door.rests_on_assumed) == (there.value, there.state, there.rests_on_assumed)
            assert door.state_word == STATE_WORDS[there.state]


@examples
def test_a_number_that_was_given_leads_to_its_field(example: Path) -> None:
    study = study_of(example)
    leaves = {leaf.path for leaf in study.statement.case.leaves()}
    views = views_of(example)
    fields = {view.path for view in views if view.path}
    assert fields & leaves
    assert all(view.path for view in views if view.place and not view.inputs)
    assert not any(view.path for view in views if view.inputs)


def test_the_stem_of_the_receiver_rests_on_what_the_case_assumes() -> None:
    study = study_of(WITH_BARRIER)
    assumed = next(view for view in views_of(WITH_BARRIER) if view.state == "computed" and view.assumed)
    beneath = {door.entry for door in assumed.assumed}
    assert beneath <= {name for name, entry in study.entries.items() if entry.state == "assumed"}
    assert {door.state_word for door in assumed.assumed} == {"assumed"}


def test_a_number_without_a_field_has_no_door_to_one() -> None:
    constants = [view for view in views_of(WITH_BARRIER) if view.state == "constant" and not view.place]
    assert constants and {view.path for view in constants} == {""}


def test_the_uncertainty_of_a_temperature_is_a_difference() -> None:
    """A standard uncertainty of 0.29 K is not one of -272.86 degC: a difference has no zero of a scale."""
    study = study_of(WITH_BARRIER)
    views = [v for v in views_of(WITH_BARRIER) if v.uncertainty and study.entries[v.name].suffix == "K"]
    assert views and all(view.standard_uncertainty.endswith(" K") for view in views)


@pytest.mark.parametrize(
    ("name", "remedy"),
    [
        ("stem.lenght", "Nearest: stem.length."),
        ("", "The working of the case lists them all."),
        ("<script>", "The working of the case lists them all."),
        ("x" * 5000, "The working of the case lists them all."),
    ],
)
def test_a_name_that_is_not_on_the_sheet_is_refused_with_the_nearest(name: str, remedy: str) -> None:
    with pytest.raises(UnknownEntry) as refusal:
        working_view(study_of(WITH_BARRIER), name)
    assert str(refusal.value).endswith(remedy)
    assert str(refusal.value).startswith("the number must be a name on the sheet of the case; got '")
    assert len(str(refusal.value)) < 250
