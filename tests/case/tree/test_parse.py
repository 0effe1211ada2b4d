"""YAML text to a tree: values stay text, places are true, faults come in one pass."""

from __future__ import annotations

import pytest

from onedatum.case.tree import Branch, Leaf, Node, Row, join_index, join_key, node_at, parse_text
from onedatum.case.tree.limits import MAX_DEPTH, MAX_NODES

CASE = """\
onedatum: 1
tag: LT-201           # an invented tag
vessel:
  height: 2400 mm
  heads: [flat, none]
states:
  - name: normal
    temperature: {min: 5 degC, max: 35 degC}
  - name: cold start
range: {4 mA: 100 mm, "20 mA": 2800 mm}
note: |
  first line
  second line
open:
"""


def plain(node: Node) -> object:
    """The tree as dicts, lists and texts."""
    if isinstance(node, Leaf):
        return node.text
    if isinstance(node, Row):
        return [plain(item) for item in node.items]
    return {key: plain(item) for key, item in node.items.items()}


def leaves(node: Node) -> list[Leaf]:
    if isinstance(node, Leaf):
        return [node]
    below = node.items if isinstance(node, Row) else list(node.items.values())
    return [leaf for item in below for leaf in leaves(item)]


def test_a_case_becomes_a_tree_of_texts() -> None:
    tree = parse_text(CASE, "LT-201.yaml")
    assert tree.sound
    assert plain(tree.root) == {
        "onedatum": "1",
        "tag": "LT-201",
        "vessel": {"height": "2400 mm", "heads": ["flat", "none"]},
        "states": [{"name": "normal", "temperature": {"min": "5 degC", "max": "35 degC"}}, {"name": "cold start"}],
        "range": {"4 mA": "100 mm", "20 mA": "2800 mm"},
        "note": "first line\nsecond line\n",
        "open": "",
    }


def test_every_plain_leaf_stands_where_it_says() -> None:
    tree = parse_text(CASE, "LT-201.yaml")
    lines = CASE.split("\n")
    found = [leaf for leaf in leaves(tree.root) if leaf.text and not leaf.quoted]
    assert len(found) == 11
    for leaf in found:
        assert lines[leaf.place.line - 1][leaf.place.column - 1 :].startswith(leaf.text)
        assert node_at(tree, leaf.path) is leaf
    temperature = node_at(tree, "states[0].temperature.max")
    assert isinstance(temperature, Leaf)
    assert str(temperature.place) == "LT-201.yaml:8:37"
    assert str(tree.root.key_places["range"]) == "LT-201.yaml:10:1"


@pytest.mark.parametrize(
    "text", ["0770", "no", "yes", "on", "12:30", "2026-11-01", "1e3", "0x10", "1_000", ".inf", "true"]
)
def test_values_stay_as_they_were_written(text: str) -> None:
    assert plain(parse_text(f"a: {text}\n").root) == {"a": text}


@pytest.mark.parametrize("text", ["", " null", " ~", " Null", " NULL", " # only a comment"])
def test_what_is_not_stated_is_empty(text: str) -> None:
    leaf = parse_text(f"a:{text}\nb: 1\n").root.items["a"]
    assert isinstance(leaf, Leaf)
    assert (leaf.text, leaf.quoted, leaf.faulty) == ("", False, False)


def test_a_quoted_null_is_a_text() -> None:
    leaf = parse_text("a: 'null'\n").root.items["a"]
    assert isinstance(leaf, Leaf)
    assert (leaf.text, leaf.quoted) == ("null", True)


@pytest.mark.parametrize("key", ["cable", "4 mA", "a.b", "x[0]", 'say "so"', "back\\slash"])
def test_paths_lead_back_whatever_the_key(key: str) -> None:
    quoted = "'" + key + "'"
    tree = parse_text(f"loop:\n  {quoted}: [1, 2]\n")
    path = join_index(join_key("loop", key), 1)
    leaf = node_at(tree, path)
    assert isinstance(leaf, Leaf)
    assert (leaf.text, leaf.path) == ("2", path)


@pytest.mark.parametrize(
    "path", ["nothing", "loop.nothing", "loop[0]", "loop.a[7]", "loop.a[99999999999]", "loop..a", "loop]"]
)
def test_a_path_that_leads_nowhere_gives_nothing(path: str) -> None:
    assert node_at(parse_text("loop:\n  a: [1]\n"), path) is None


def test_line_ends_of_other_systems_change_nothing() -> None:
    there, here = parse_text(CASE.replace("\n", "\r\n")), parse_text(CASE)
    assert [leaf.place for leaf in leaves(there.root)] == [leaf.place for leaf in leaves(here.root)]


@pytest.mark.parametrize(
    ("text", "place", "said"),
    [
        ("a: 1\nb: 2\na: 3\n", "f.yaml:3:1", "got it a second time. It stands first in line 1, column 1"),
        ("x:\n  a: 1\n  a: 3\n", "f.yaml:3:3", "x.a must be stated once"),
        ("a: !!python/object/apply:os.system [x]\n", "f.yaml:1:4", "got '!!python/object/apply:os.system'"),
        ("a: !anything x\n", "f.yaml:1:4", "a must be a value without a tag; got '!anything'"),
        ("a: &x 1\n", "f.yaml:1:4", "a must be written out; got '&x'"),
        ("a: *x\n", "f.yaml:1:4", "a must be written out; got '*x'"),
        ("a: 1\n---\nb: 1\n", "f.yaml:2:1", "f.yaml must be one document; got a second one"),
        ("%YAML 1.1\n---\na: 1\n", "f.yaml:2:1", "without directives"),
        ("- 1\n- 2\n", "f.yaml:1:1", "f.yaml must be keys with values; got a list"),
        ("text\n", "f.yaml:1:1", "got a single value"),
        ("", "f.yaml:1:1", "got nothing"),
        ("# only a comment\n", "f.yaml:1:1", "got nothing"),
        ("? [a, b]\n: 1\n", "f.yaml:1:3", "a key that is a word; got a list or a branch"),
        ("? {a: 1}\n: 1\n", "f.yaml:1:3", "a key that is a word; got a list or a branch"),
        (f"{'k' * 81}: 1\n", "f.yaml:1:1", "a word of at most 80 characters"),
        ('"": 1\n', "f.yaml:1:1", "a key that is a word"),
        ('a: "\\0"\n', "f.yaml:1:4", "a must be text without control characters; got '\\x00'"),
        (f"a: {'x' * 5001}\n", "f.yaml:1:4", "a must be at most 5,000 characters; got 5,001"),
        ("a: " + "[" * 30 + "]" * 30, f"f.yaml:1:{MAX_DEPTH + 3}", "at most 20 levels deep"),
        ("a:\n" + "- 1\n" * MAX_NODES, f"f.yaml:{MAX_NODES - 1}:3", "at most 20,000 keys and values"),
        # syntax
        ("tank:\n\theight: 5 mm\n", "f.yaml:2:1", "A tab is used for indenting. Use spaces only"),
        ("tank:\n  height:5 mm\n  width: 3 m\n", "f.yaml:2:9", "No space stands behind the colon"),
        ("a: 5\n b: 6\n", "f.yaml:2:3", "indented too far"),
        ("a: x: y\n", "f.yaml:1:5", "A second colon"),
        ("a: 1\nb\nc: 2\n", "f.yaml:2:1", "A key without its colon"),
        ("a:\n    b: 1\n  c: 1\n", "f.yaml:3:3", "does not line up"),
        ("a: [1, 2\nb: 3\n", "f.yaml:1:4", "A list in brackets is not closed"),
        ("a: {b: 2\nc: 3\n", "f.yaml:1:4", "Keys in braces are not closed"),
        ("a: 'x\nb: 3\n", "f.yaml:1:4", "A quoted text is not closed"),
        ('a: "\\q"\n', "f.yaml:1:6", "A backslash has a meaning between double quotes"),
        ('a: "\\UFFFFFFFF"\n', "f.yaml:1:1", "YAML that can be read"),
        ("a: @x\n", "f.yaml:1:4", "cannot begin with that sign"),
        ("a: %x\n", "f.yaml:1:4", "cannot begin with that sign"),
        ("a: - 1\n", "f.yaml:1:4", "A dash begins a list item only on a line of its own"),
    ],
)  # fmt: skip
def test_a_fault_is_told_with_its_place(text: str, place: str, said: str) -> None:
    tree = parse_text(text, "f.yaml")
    fault = tree.faults[0]
    assert said in fault.sentence()
    assert str(fault.place) == place
    assert fault.sentence().startswith(f"{fault.path} must be {fault.allowed}; got {fault.got}.")
    assert fault.sentence().isprintable()


def test_all_faults_come_in_one_pass_and_the_sound_part_stays() -> None:
    tree = parse_text("a: 1\na: 2\nb: !x 3\nc: &y 4\nd: *y\ne: 5\n", "f.yaml")
    assert [(fault.path, fault.place.line if fault.place else 0) for fault in tree.faults] == [
        ("a", 2), ("b", 3), ("c", 4), ("d", 5),
    ]  # fmt: skip
    assert plain(tree.root) == {"a": "1", "b": "3", "c": "4", "d": "", "e": "5"}
    assert [leaf.path for leaf in leaves(tree.root) if leaf.faulty] == ["b", "c", "d"]
    assert not tree.broken


def test_what_stands_before_a_syntax_error_is_kept() -> None:
    tree = parse_text("a: 1\nb: {c: 2}\nd: 5\n e: 6\nf: 7\n", "f.yaml")
    assert plain(tree.root) == {"a": "1", "b": {"c": "2"}, "d": "5 e"}
    assert [leaf.path for leaf in leaves(tree.root) if leaf.faulty] == ["d"]
    assert tree.broken
    assert len(tree.faults) == 1


def test_a_key_whose_value_broke_is_faulty_and_not_unstated() -> None:
    tree = parse_text("a: 1\nb: 'x\n")
    leaf = tree.root.items["b"]
    assert isinstance(leaf, Leaf)
    assert leaf.faulty


def test_a_value_of_a_second_key_goes_nowhere() -> None:
    tree = parse_text("a: {x: 1}\na: {y: [1, {z: 2}]}\nb: 3\n")
    assert plain(tree.root) == {"a": {"x": "1"}, "b": "3"}


def test_the_root_is_a_branch_whatever_happens() -> None:
    for text in ("", "- 1", "x", "a: [", "\x00", "!", "*a", "&a"):
        assert isinstance(parse_text(text).root, Branch)
