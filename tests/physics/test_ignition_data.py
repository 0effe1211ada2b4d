"""The tables of this room: every number is tagged as the register tags its source, nothing from memory as read."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from onedatum import data
from onedatum.foundation.sources import citation
from onedatum.physics import ignition
from onedatum.physics.ignition import charge_facts, filling_facts

FILES = (
    "ignition_zones.json",
    "ignition_circuit.json",
    "ignition_surfaces.json",
    "filling_velocities.json",
    "substances.json",
)


def tagged(part: Any, place: str) -> Iterator[tuple[str, str, str]]:
    """Every source in a file with the tag beside it: where it stands, source, tag."""
    if isinstance(part, list):
        for number, each in enumerate(part):
            yield from tagged(each, f"{place}[{number}]")
    if isinstance(part, dict):
        for key, value in part.items():
            if key.endswith("source"):
                yield place, value, part.get(f"{key.removesuffix('source')}tag", "without a tag")
            yield from tagged(value, f"{place}.{key}")


@pytest.mark.parametrize("file", FILES)
def test_every_tag_is_that_of_its_source(file: str) -> None:
    found = list(tagged(data.table(file), file))
    assert found
    assert [(place, tag) for place, source, tag in found if citation(source).source.tag != tag] == []


@pytest.mark.parametrize("file", FILES)
def test_what_is_from_memory_never_reads_as_a_clause(file: str) -> None:
    """Its key says so, and the place named with it carries no number of a clause or table."""
    remembered = [source for _, source, tag in tagged(data.table(file), file) if tag == "from memory"]
    for source in remembered:
        key, _, place = source.partition(":")
        assert key.endswith("-memory")
        assert not any(word in place.casefold() for word in ("clause", "table", "annex", "art."))


def places(file: str, wanted: str) -> set[str]:
    return {tag for place, _, tag in tagged(data.table(file), file) if wanted in place}


@pytest.mark.parametrize(
    ("file", "wanted"),
    [
        ("ignition_surfaces.json", ".surfaces"),
        ("ignition_surfaces.json", ".equipment"),
        ("ignition_zones.json", ".surfaces"),
        ("filling_velocities.json", ".conductivity"),
        ("filling_velocities.json", ".rows[7]"),
    ],
)
def test_what_was_not_read_says_so(file: str, wanted: str) -> None:
    assert places(file, wanted) == {"from memory"}


def test_only_the_row_of_28_v_was_seen() -> None:
    table = data.table("ignition_circuit.json")["capacitances"]
    assert table["tag"] == "from memory"
    assert [row["voltage_V"] for row in table["rows"] if "tag" in row] == [28]


def test_every_fact_is_a_sentence_with_a_source() -> None:
    facts = [*charge_facts(), *filling_facts()]
    assert len(facts) > 15
    for fact in facts:
        assert fact.text.endswith(".") and fact.text[0].isupper()
        assert citation(fact.source).source.tag == fact.tag


def test_the_room_offers_what_it_lists() -> None:
    assert ignition.__all__ == sorted(ignition.__all__)
    assert [name for name in ignition.__all__ if not callable(getattr(ignition, name))] == []
