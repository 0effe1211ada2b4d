"""What editors and newcomers get: the JSON Schema and the skeleton say the same as the model."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from copy import deepcopy
from functools import cache
from pathlib import Path
from typing import Any

import jsonschema  # type: ignore[import-untyped]
import pytest
from ruamel.yaml import YAML

from onedatum.case.reading import read_case_text
from onedatum.case.schema import case_schema
from onedatum.case.skeleton import skeleton
from tests.study.variants import WITH_BARRIER, WITH_ISOLATOR

SCHEMA = case_schema()
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)


def plain(text: str) -> Any:
    """The text as an editor sees it: YAML 1.2, its core schema, in which a date is a text."""
    return _dates_as_text(YAML(typ="safe", pure=True).load(text))


@cache
def _example() -> Any:
    return plain(WITH_BARRIER.read_text(encoding="utf-8"))


def example() -> Any:
    """The example as an editor sees it, to be changed."""
    return deepcopy(_example())


def _dates_as_text(node: Any) -> Any:
    """The library reads dates of YAML 1.1; YAML 1.2 knows none."""
    if isinstance(node, dict):
        return {str(key): _dates_as_text(value) for key, value in node.items()}
    if isinstance(node, list):
        return [_dates_as_text(value) for value in node]
    return node if isinstance(node, (str, int, float)) or node is None else str(node)


def complaints(data: Any) -> list[str]:
    """What the schema has against it, by path."""
    return [error.json_path for error in VALIDATOR.iter_errors(data)]


def test_the_schema_is_one() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


@pytest.mark.parametrize("example", [WITH_BARRIER, WITH_ISOLATOR], ids=lambda path: path.stem)
def test_the_examples_are_valid(example: Path) -> None:
    assert complaints(plain(example.read_text(encoding="utf-8"))) == []


def test_the_skeleton_is_valid_and_reads_without_a_fault() -> None:
    assert complaints(plain(skeleton())) == []
    statement = read_case_text(skeleton())
    assert statement.faults == ()
    stated = [leaf.path for leaf in statement.case.leaves() if leaf.state != "unknown"]
    assert stated == ["onedatum", "invented"]


def test_a_new_version_of_a_case_begins_with_its_number() -> None:
    assert complaints({"tag": "LT-1"}) == ["$"]
    assert complaints({"onedatum": "1"}) == complaints({"onedatum": 1}) == []
    assert complaints({"onedatum": 2}) != []


Change = Callable[[dict[str, Any]], object]
WRONG: dict[str, Change] = {
    "a key of the case": lambda case: case.update(vesel={}),
    "a key of a section": lambda case: case["vessel"].update(insid_diameter="1 m"),
    "a key of a section in it": lambda case: case["loop"]["cable"].update(lenght="1 m"),
    "a key of a state": lambda case: case["states"][0].update(instrumnt="fitted"),
    "a key of a leaf": lambda case: case["level_now"].update(wthin="1 mm"),
    "a key of a word": lambda case: case["zone"]["group"].update(valu="IIB"),
    "a word": lambda case: case["vessel"].update(shape="horizontal"),
    "a word in the long form": lambda case: case["zone"].update(group={"value": "IIX"}),
    "a basis": lambda case: case["level_now"].update(basis="guessed"),
    "a list for a value": lambda case: case["vessel"].update(inside_diameter=["1 m"]),
    "a mapping for the states": lambda case: case.update(states={"name": "normal"}),
    "a word for a section": lambda case: case.update(vessel="upright"),
    "a word for a head": lambda case: case["vessel"].update(top_head="flat"),
}
RIGHT: dict[str, Change] = {
    "unknown value": lambda case: case["vessel"].update(inside_diameter="unknown"),
    "unknown word": lambda case: case["vessel"].update(shape="unknown"),
    "nothing": lambda case: case["vessel"].update(shape=None, inside_diameter=None, metal=None),
    "none": lambda case: case["loop"].update(barrier={"kind": "none"}),
    "unknown section": lambda case: case.update(weighing="unknown", table=None),
    "left away": lambda case: case.pop("weighing"),
    "own data": lambda case: case["instrument"].update(float={"file": "floats.yaml", "entry": "F-52"}),
    "a number that is a word": lambda case: case["zone"].update(inside=0),
    "U with k": lambda case: case.update(level_now={"value": "1 m", "U": "1 mm", "k": 2}),
    "a range": lambda case: case["medium"].update(temperature={"normal": "1 degC", "min": "0 degC", "max": "2 degC"}),
    "a text in the long form": lambda case: case.update(tag={"value": "LT-201", "note": "provisional"}),
}


@pytest.mark.parametrize("change", WRONG.values(), ids=WRONG)
def test_the_schema_refuses_what_the_reader_refuses(change: Change, tmp_path: Path) -> None:
    data = example()
    change(data)
    assert complaints(data) != []
    assert read_case_text(dumped(data), folder=tmp_path).faults != ()


@pytest.mark.parametrize("change", RIGHT.values(), ids=RIGHT)
def test_the_schema_takes_what_the_reader_takes(change: Change, tmp_path: Path) -> None:
    (tmp_path / "floats.yaml").write_text("F-52: {mass: 72 g}\n", encoding="utf-8")
    data = example()
    change(data)
    assert complaints(data) == []
    assert [str(fault) for fault in read_case_text(dumped(data), folder=tmp_path).faults] == []


def dumped(data: Any) -> str:
    """Plain data as a line of YAML for each key: JSON is YAML."""
    return "".join(f"{key}: {json.dumps(value, ensure_ascii=False)}\n" for key, value in data.items())


def keys_of_schema(schema: dict[str, Any], path: str = "") -> Iterator[str]:
    """Every path of a key that a schema knows, own data apart."""
    if "$ref" in schema:
        schema = SCHEMA["$defs"][schema["$ref"].rpartition("/")[2]]
    for option in schema.get("anyOf", ()):
        if "$ref" in option:
            yield from keys_of_schema(option, path)
    if "items" in schema:
        yield from keys_of_schema(schema["items"], path)
    for key, below in schema.get("properties", {}).items():
        if key not in ("file", "entry") and not is_leaf(schema):
            yield f"{path}.{key}".lstrip(".")
            yield from keys_of_schema(below, f"{path}.{key}".lstrip("."))


def is_leaf(schema: dict[str, Any]) -> bool:
    """The long form of a leaf has a value; a section has none."""
    return "value" in schema.get("properties", {})


def keys_of_skeleton() -> list[str]:
    """Every path of a key that stands in the skeleton, by its indent."""
    above: list[tuple[int, str]] = []
    found = []
    for line in skeleton().splitlines():
        match = re.match(r"^( *(?:- )?)([\w ]+):", line)
        if match is None:
            continue
        depth = len(match[1])
        above = [each for each in above if each[0] < depth]
        above.append((depth, match[2]))
        found.append(".".join(key for _, key in above))
    return found


def test_the_skeleton_names_every_key_once_and_no_other() -> None:
    found = keys_of_skeleton()
    assert len(found) == len(set(found)) > 100
    assert set(found) == set(keys_of_schema(SCHEMA))
