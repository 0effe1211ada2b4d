"""A text read block by block gives the tree that it gives in one piece, faults, places and order with it."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from onedatum.case.tree import Tree, node_at, parse_text
from onedatum.case.tree.limits import MAX_NODES
from onedatum.case.tree.parse import in_one_piece, parse_traced, traced_in_one_piece
from onedatum.case.tree.source import without_invisible
from tests.draws import DRAWS

EXAMPLES = sorted((Path(__file__).resolve().parents[3] / "examples").glob("*.yaml"))
CASE = """\
# an invented works
onedatum: 1
tag: LT-201           # an invented tag
vessel:
  height: 2400 mm
  heads: [flat,
    none]
states:
- name: normal
note: |
  first line

  second: line

said: 'over two
  lines'
range: {4 mA: 100 mm, "20 mA": 2800 mm}
# what follows was not known
open:
last: >-
  folded
  text
"""
LINES = CASE.split("\n")
STRANGE = (
    "a: 1", "tag: again", "a: {", "}", "a: [1,", "]", "a: 'b", "c'", 'a: "b', 'c"', "a: |", "a: |2", "a: >+", " x", "x",
    "- x", "---", "...", "--- a", "%YAML 1.2", "# c", "", "  ", "\t", "a: &b 1", "a: *b", "a: !!str 1", "? a", ": b",
    "? [a]", "a : 1", "a:1", "a: b: c", "A: 1", "4 mA: 1", "'q': 1", "{a: 1}", "<<: 1", "a: ~", "a: 1\u2028b: 2",
    "a: 1\rb: 2", "a: 1\x85b: 2", "a: \x00", "a: \u200b", "a: b #c", "a: b# c", "a: -", "a:  ", "a:\t1", "  a: 1",
    "   a: 1", " - x", "a: @", "a: `", "a: 日本", "é: 1", "a: @b", "a: \ud800",
)  # fmt: skip


def whole(text: str) -> Tree:
    """The text read in one piece."""
    clean, faults = without_invisible(text, "f.yaml")
    return in_one_piece(text, clean, "f.yaml", faults)


def same(text: str) -> None:
    """Both readings, which must be alike."""
    read, piece = parse_text(text, "f.yaml"), whole(text)
    assert read == piece
    assert list(read.root.items) == list(piece.root.items)
    assert list(read.root.key_places) == list(piece.root.key_places)
    clean, faults = without_invisible(text, "f.yaml")
    assert parse_traced(text, "f.yaml") == traced_in_one_piece(text, clean, "f.yaml", faults)


@pytest.mark.parametrize("file", EXAMPLES, ids=lambda file: file.stem)
def test_the_examples(file: Path) -> None:
    same(file.read_text(encoding="utf-8"))


@settings(max_examples=DRAWS)
@given(st.lists(st.sampled_from((*LINES, *STRANGE)), max_size=12))
@example(["a: 'b", "c: d'"])
@example(["a: {b: 1,", "c: 2}"])
@example(["a: 1", "...", "b: 2"])
@example([" a: 1", "b: 2"])
@example(["--- a", "b: 2"])
def test_any_lines(lines: list[str]) -> None:
    same("\n".join(lines))


@settings(max_examples=DRAWS)
@given(
    st.lists(st.tuples(st.integers(0, len(LINES)), st.integers(0, 2), st.sampled_from(STRANGE)), min_size=1, max_size=3)
)
def test_lines_put_in_or_in_place_of_others(changes: list[tuple[int, int, str]]) -> None:
    lines = list(LINES)
    for at, gone, line in changes:
        lines[at : at + gone] = [line]
    same("\n".join(lines))


@settings(max_examples=60)
@given(st.integers(0, len(CASE)), st.sampled_from("\n :-'\"{}[],#|>&*!%\t~"))
def test_a_sign_put_in(at: int, sign: str) -> None:
    same(CASE[:at] + sign + CASE[at:])


@given(st.integers(0, len(CASE)))
def test_a_text_that_breaks_off(at: int) -> None:
    same(CASE[:at])


def test_what_is_not_changed_is_not_read_again() -> None:
    before, after = parse_text(CASE, "f.yaml"), parse_text(CASE.replace("LT-201 ", "LT-202 "), "f.yaml")
    assert node_at(after, "tag") != node_at(before, "tag")
    assert node_at(after, "vessel") is node_at(before, "vessel")


def test_what_moves_down_stands_at_its_new_place() -> None:
    moved = node_at(parse_text(f"more: 1\n{CASE}", "f.yaml"), "range")
    stood = node_at(parse_text(CASE, "f.yaml"), "range")
    assert moved is not None
    assert stood is not None
    assert (moved.place.line, moved.place.column) == (stood.place.line + 1, stood.place.column)


def test_two_files_alike_keep_their_names() -> None:
    found = [node_at(parse_text(CASE, name), "vessel.height") for name in ("one.yaml", "other.yaml")]
    assert [node.place.file for node in found if node is not None] == ["one.yaml", "other.yaml"]


def test_the_keys_and_values_of_all_blocks_are_counted() -> None:
    block = "".join(f" {number}:\n" for number in range(420))
    text = "".join(f"{chr(97 + number)}:\n{block}" for number in range(24))
    assert text.count(":") * 2 > MAX_NODES
    assert [fault.allowed for fault in parse_text(text).faults] == [f"at most {MAX_NODES:,} keys and values"]
