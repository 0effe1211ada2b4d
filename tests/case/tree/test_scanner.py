"""The quick scanner against the one it is made of: the same events at the same places, the same errors."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from ruamel.yaml import YAML
from ruamel.yaml.error import YAMLError

from onedatum.case.tree import parse_text
from onedatum.case.tree.scanner import LONGEST_KEY, QuickParser, QuickReader, QuickScanner
from tests.case.tree.test_hostile import ALPHABET
from tests.soon import soon

LONG = st.sampled_from(["x" * LONGEST_KEY, "x" * (LONGEST_KEY - 2), "[" * 30, "[{", "]}", "k: ", "\n    k: v"])
MOST = 300


def events(text: str, quick: bool) -> list[tuple[Any, ...]]:
    """The events of a text with their places, at last the error."""
    yaml = YAML(typ="safe", pure=True)
    if quick:
        yaml.Reader, yaml.Scanner, yaml.Parser = QuickReader, QuickScanner, QuickParser
    found: list[tuple[Any, ...]] = []
    try:
        for event in yaml.parse(text):
            value = getattr(event, "value", None)
            marks = event.start_mark, event.end_mark
            found.append((type(event).__name__, *((mark.index, mark.line, mark.column) for mark in marks), value))
            if len(found) > MOST:
                break
    except (YAMLError, ValueError, LookupError, TypeError, AttributeError, AssertionError) as error:
        found.append((type(error).__name__, str(error)))
    return found


@given(st.lists(ALPHABET | LONG, max_size=40).map("".join))
def test_the_events_are_those_of_the_scanner_beneath(text: str) -> None:
    assert events(text, quick=True) == events(text, quick=False)


@pytest.mark.parametrize("over", [0, 1])
def test_a_key_may_be_as_long_as_yaml_allows(over: int) -> None:
    """1,024 characters from its begin to its colon: YAML 1.2.2, section 8.2.2."""
    text = "x" * (LONGEST_KEY + over) + ": 1\n"
    assert events(text, quick=True) == events(text, quick=False)
    assert ("ScannerError" in {kind for kind, *_ in events(text, quick=True)}) == bool(over)


def test_brackets_without_end_are_soon_refused() -> None:
    """A tenth of the time that any hostile file may take; the scanner beneath takes half a second for it."""
    text = "onedatum: 1\na: " + "[" * 30_000
    parse_text(text)
    with soon(0.2):
        tree = parse_text(text)
    assert [fault.allowed for fault in tree.faults] == ["at most 20 levels deep"]
