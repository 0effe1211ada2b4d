"""The model of a case, walked as a whole: each leaf says what it is, whose it is, and how it is written."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any, get_args

import pytest

from onedatum.case.kinds import PRESSURE, Choice, FreeText, Kind, Quantity
from onedatum.case.model import Case
from onedatum.case.reading import read_case, read_case_text
from onedatum.case.section import Section
from onedatum.foundation.units import (
    dimension,
    dimension_of_unit,
    read_pressure,
    read_quantity,
    same_quantity,
    unit_of_name,
)
from onedatum.foundation.working import Interval, unit_of_suffix
from onedatum.study.form import as_json
from onedatum.study.study import study
from tests.closeness import close
from tests.study.variants import WITH_BARRIER, WITH_ISOLATOR


def sections(section: type[Section] = Case) -> Iterator[type[Section]]:
    """A section and all below it."""
    yield section
    for info in section.model_fields.values():
        for candidate in (info.annotation, *get_args(info.annotation)):
            if isinstance(candidate, type) and issubclass(candidate, Section):
                yield from sections(candidate)


def kinds() -> dict[str, Kind]:
    """Every leaf by section and key, with those that stand beside a number."""
    found: dict[str, Kind] = {}
    for section in sections():
        for name, info in section.model_fields.items():
            for kind in (item for item in info.metadata if isinstance(item, Kind)):
                found[f"{section.__name__}.{name}"] = kind
                if isinstance(kind, Quantity):
                    found |= {f"{section.__name__}.{name}.{key}": each for key, each in kind.companions.items()}
    return found


KINDS = kinds()
QUANTITIES = {name: kind for name, kind in KINDS.items() if isinstance(kind, Quantity)}


def test_the_model_was_walked() -> None:
    assert len(KINDS) > 100
    assert len(QUANTITIES) > 60


def test_a_leaf_has_a_title_and_a_side() -> None:
    for name, kind in KINDS.items():
        assert len(kind.title) > 2 or kind.title == "tag", name
        assert kind.title == kind.title.strip() and not kind.title.endswith("."), name
        assert kind.side in ("process", "instrument", "paper"), name
        if isinstance(kind, Choice):
            assert kind.words and len(set(kind.words)) == len(kind.words), name
            assert all(word == word.strip() and word != "unknown" for word in kind.words), name
        if isinstance(kind, FreeText):
            assert kind.longest > 0, name


def test_a_quantity_has_a_dimension_a_range_and_an_example_that_reads() -> None:
    for name, kind in QUANTITIES.items():
        wanted = dimension(kind.dimension)
        Interval.read(kind.allowed)
        unit = unit_of_suffix(kind.suffix)
        fits = unit == ("Pa(g)" if kind.dimension == PRESSURE else wanted.si) or same_quantity(unit, wanted.si)
        assert fits, name
        assert unit_of_name(f"x_{kind.suffix}" if kind.suffix else "x") == unit, name


def in_file(section: type[Section], path: str = "") -> Iterator[tuple[str, Kind]]:
    """Every leaf by the path of its keys, the states apart."""
    for name, info in section.model_fields.items():
        here = f"{path}.{info.alias or name}".lstrip(".")
        for item in info.metadata:
            if isinstance(item, Kind):
                yield here, item
        if isinstance(info.annotation, type) and issubclass(info.annotation, Section):
            yield from in_file(info.annotation, here)


@pytest.mark.parametrize(("path", "kind"), [(path, kind) for path, kind in in_file(Case) if isinstance(kind, Quantity)])
def test_the_example_of_a_leaf_reads_without_a_fault(path: str, kind: Quantity) -> None:
    keys = path.split(".")
    text = "onedatum: 1\n" + "".join(f"{'  ' * depth}{key}:\n" for depth, key in enumerate(keys))
    statement = read_case_text(f"{text.rstrip()} {kind.stated_like}\n")
    assert [str(fault) for fault in statement.faults] == []
    assert next(leaf for leaf in statement.case.leaves() if leaf.path == path).known


@pytest.mark.parametrize(
    "section", sorted(set(sections()), key=lambda section: section.__name__), ids=lambda section: section.__name__
)
def test_keys_of_a_section_are_its_own(section: type[Section]) -> None:
    keys = list(section.keys().values())
    assert len(keys) == len(set(keys))
    assert not {"file", "entry", "value", "normal", "min", "max", "by"} & set(keys)
    assert section.__doc__


def test_titles_tell_the_leaves_of_a_section_apart() -> None:
    for section in set(sections()):
        titles = [
            item.title for info in section.model_fields.values() for item in info.metadata if isinstance(item, Kind)
        ]
        assert len(titles) == len(set(titles))


def test_every_leaf_of_the_case_is_walked_in_the_order_of_the_file() -> None:
    """The paths of the leaves that the case gives are the keys of the model."""
    case = read_case_text("onedatum: 1\n").case
    assert [leaf.path for leaf in case.leaves()] == [path for path, _ in in_file(Case)]


# ---------------------------------------------------------------- the one JSON form

DIMENSIONLESS_KEYS = frozenset(
    {"form", "line", "column", "branched_otherwise", "value", "standard_uncertainty", "coverage_factor"}
    | {"low", "high", "limit", "rank", "size", "expanded_uncertainty"}
)
"""Keys without a unit: counts, places, shares, and the value of an entry that is a plain number."""


def numbers(node: Any) -> Iterator[tuple[str, float, dict[str, Any]]]:
    """Every number of plain data with its key and the mapping it stands in."""
    if isinstance(node, dict):
        for key, value in node.items():
            if isinstance(value, (int, float)) and not isinstance(value, bool):
                yield key, float(value), node
            yield from numbers(value)
    if isinstance(node, list):
        for value in node:
            yield from numbers(value)


@cache
def form_of(example: Path) -> dict[str, Any]:
    """The study of an example as data."""
    return as_json(study(read_case(example)), "0")


@pytest.mark.parametrize("example", [WITH_BARRIER, WITH_ISOLATOR], ids=lambda path: path.stem)
def test_every_number_of_the_result_carries_its_unit_in_its_key(example: Path) -> None:
    found = list(numbers(form_of(example)))
    assert len(found) > 200
    for key, value, _ in found:
        assert unit_of_name(key) or key in DIMENSIONLESS_KEYS, key
        assert value == value and abs(value) != float("inf")


_RAISED = str.maketrans("−⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "--0123456789")
SHARE_OF_A_SHOWN_NUMBER = 0.005
"""Results are printed with three digits at least."""


def read_back(shown: str, unit: str) -> float:
    """What a printed text says, in SI, by the reader of quantities: another piece of code than the writer."""
    text = shown.translate(_RAISED).replace(" × 10", "e")
    if unit in ("Pa(a)", "Pa(g)"):
        return read_pressure(text).pressure_Pa
    if unit == "K" and text.endswith(" K"):
        return read_quantity(text, "temperature difference")
    measured = dimension_of_unit(unit)
    assert measured is not None, unit
    return read_quantity(text, measured.word)


@pytest.mark.parametrize("example", [WITH_BARRIER, WITH_ISOLATOR], ids=lambda path: path.stem)
def test_the_text_beside_a_number_says_the_same_number_in_a_unit_of_the_same_kind(example: Path) -> None:
    compared = 0
    for entry in form_of(example)["sheet"]:
        key = next(each for each in entry if each == "value" or each.startswith("value_"))
        unit, value = unit_of_name(key), entry[key]
        if unit and value is not None and entry["shown"] != "none":
            compared += 1
            found = read_back(entry["shown"], unit)
            close(found, value, SHARE_OF_A_SHOWN_NUMBER * abs(value), f"three digits at least of {entry['name']}")
    assert compared > 100
