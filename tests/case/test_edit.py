"""Changing values in the text of a case: what was put in stands there, and nothing else has changed.

The outside here is the reader of cases: it knows nothing of edits. That comments and blank lines stay is seen in the
lines themselves, by comparing them before and after.
"""

from __future__ import annotations

from functools import cache
from itertools import islice

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ruamel.yaml import YAML

from onedatum.case.edit import Edited, edited
from onedatum.case.editing.quoting import written
from onedatum.case.leaf import Rows, Text, Value
from onedatum.case.reading import read_case_text
from onedatum.case.skeleton import skeleton
from onedatum.case.tree.limits import MAX_BYTES, MAX_TEXT
from tests.draws import DRAWS
from tests.study.variants import EXAMPLES

NAMES = sorted(file.name for file in EXAMPLES.glob("*.yaml"))
FILE = "case.yaml"
FIRST = "spirit_receiver.yaml"
HOSTILE = (
    "a\nb: 1", "a\n", "a\tb", "\x00", "\x1b[2J", "\x85", "\u2028", "\u202e", "\ufeff", "\ufffd", "\ud800", "a\r\nb",
    "x" * 4000, "x" * 10_000, "no", "12:30", "0770", "- a", "-", "--- a", "...", "# a", "a # b", "a #", "a: b", "a:",
    ": a", "{", "}", "[", "]", "{a: 1}", "[a]", ",", "a, b", "&a", "*a", "&a b", "!!str a", "! a", "|", ">", "|\n a",
    "%a", "@a", "`a`", "'", '"', "'a", '"a', "it's", 'say "a"', "\\", "\\n", "?", "? a", "<<", "=", "null", "~", "yes",
    "1e3", "1_000", "0x10", "2026-11-25", ".nan", "1.10", "true", "äöü", "😀", "  a  ", "\xa0a", "value", "onedatum: 2",
    "unknown", "none", "", "5 mm", "1600 mm", "80 %vol",
)  # fmt: skip
TEXTS = st.one_of(st.sampled_from(HOSTILE), st.text(max_size=30), st.from_regex(r"[-#:{}\[\],&*!|>'\"%@` a0]{1,8}"))


@cache
def example(name: str) -> str:
    return (EXAMPLES / name).read_text(encoding="utf-8")


def said(text: str) -> dict[str, tuple[str, str]]:
    """Text and state of every leaf, as the reader has them."""
    case = read_case_text(text, FILE, EXAMPLES).case
    found: dict[str, tuple[str, str]] = {}
    for leaf in case.leaves():
        found[leaf.path] = (leaf.text, leaf.state)
        for key, companion in leaf.companions.items() if isinstance(leaf, Value) else ():
            found[f"{leaf.path}.{key}"] = (companion.text, companion.state)
    return found


@cache
def said_of(name: str) -> dict[str, tuple[str, str]]:
    return said(example(name))


LEAVES = {name: tuple(read_case_text(example(name), name, EXAMPLES).case.leaves()) for name in NAMES}
PATHS = [
    (name, path)
    for name, leaves in LEAVES.items()
    for path in sorted({leaf.path for leaf in leaves if not isinstance(leaf, Rows)})
]
FREE = [(name, leaf.path) for name, leaves in LEAVES.items() for leaf in leaves if isinstance(leaf, Text)]


def without(before: str, after: str) -> list[str]:
    """The lines of the text before that are lost, where all that changed stands together."""
    old, new = before.split("\n"), after.split("\n")
    start = next(
        (at for at, pair in enumerate(zip(old, new, strict=False)) if pair[0] != pair[1]), min(len(old), len(new))
    )
    end = next(
        (at for at, pair in enumerate(zip(old[start:][::-1], new[start:][::-1], strict=False)) if pair[0] != pair[1]),
        min(len(old), len(new)) - start,
    )
    return old[start : len(old) - end]


def untouched(before: str, after: str, path: str, old: dict[str, tuple[str, str]]) -> None:
    """Every other leaf says what it said, and no line but one was lost, its comment standing in another."""
    new = said(after)
    for other, (text, state) in old.items():
        if other == path or other.startswith((f"{path}.", f"{path}[")):
            continue
        opened = state == "none" and old.get(path, ("", ""))[1] == "none" and new[other] == ("", "unknown")
        assert opened or new[other] == (text, state), other
    lost = without(before, after)
    assert len(lost) <= 1
    for line in lost:
        comment = line[line.index(" #") :] if " #" in line and "'" not in line and '"' not in line else ""
        assert comment in after


@given(st.sampled_from(PATHS), TEXTS)
@settings(max_examples=DRAWS)
def test_any_text_at_any_path_is_put_there_or_refused(where: tuple[str, str], text: str) -> None:
    name, path = where
    before, old = example(name), said_of(name)
    result = edited(before, {path: text}, FILE)
    if result.faults:
        assert result.text == before
        for fault in result.faults:
            assert fault.sentence().startswith(f"{fault.path} must be ")
        return
    stated = said(result.text)[path]
    if text.strip() in ("", "unknown"):
        assert stated == ("", "unknown")
    elif text.strip() == "none":
        assert stated == ("none", "none")
    else:
        assert stated[0] == text.strip()
        assert stated[1] == ("assumed" if (text.strip(), "assumed") == old[path] else "stated")
    untouched(before, result.text, path, old)


@given(st.sampled_from(FREE), TEXTS)
@settings(max_examples=50)
def test_a_free_text_takes_whatever_is_one_line(where: tuple[str, str], text: str) -> None:
    name, path = where
    before, old = example(name), said_of(name)
    result = edited(before, {path: text}, FILE)
    if not result.faults and text.strip() not in ("", "unknown", "none"):
        assert said(result.text)[path] == (text.strip(), "stated")
    untouched(before, result.text, path, old)


@given(st.text(max_size=40), st.booleans(), st.booleans())
def test_what_is_written_reads_as_that_text_by_any_reader_of_yaml(text: str, in_flow: bool, number: bool) -> None:
    """YAML 1.2 and YAML 1.1, each by the resolver of ruamel.yaml, which the reader of cases does not use."""
    text = text.strip()
    if not text or not text.isprintable():
        return
    shown = written(text, in_flow, number)
    for version in ((1, 1), (1, 2)):
        yaml = YAML(typ="safe", pure=True)
        yaml.version = version
        read = yaml.load(f"{{a: {shown}, b: 1}}" if in_flow else f"a: {shown} # c\nb: 1\n")
        assert read["b"] == 1
        assert read["a"] == text or (number and float(read["a"]) == float(text))


@pytest.mark.parametrize(
    "text", ["no", "yes", "12:30", "0770", "0o17", "1_000", "2026-11-25", "~", "null", "on", "1.10"]
)
def test_a_text_that_yaml_would_take_for_something_else_is_quoted(text: str) -> None:
    assert f"service: '{text}'\n" in edited(example(FIRST), {"service": text}).text


def one_line(before: str, after: str) -> list[tuple[str, str]]:
    pairs = zip(before.split("\n"), after.split("\n"), strict=True)
    return [(old, new) for old, new in pairs if old != new]


@pytest.mark.parametrize(
    ("path", "text", "old", "new"),
    [
        ("vessel.inside_diameter", "1700 mm", "  inside_diameter: 1600 mm", "  inside_diameter: 1700 mm"),
        (
            "instrument.stem.dead_zone_low", "70 mm",
            "    dead_zone_low: 60 mm       # stem tip to magnet plane",
            "    dead_zone_low: 70 mm       # stem tip to magnet plane",
        ),
        ("revision", "1", 'revision: "0"', 'revision: "1"'),
        (
            "medium.strength", "70 %vol",
            "  strength: {value: 68.0 %vol, at: 20 degC, within: 0.1 %vol}",
            "  strength: {value: 70 %vol, at: 20 degC, within: 0.1 %vol}",
        ),
        (
            "medium.viscosity", "4 mPa.s",
            "  viscosity: {value: 3.5 mPa.s, basis: assumed, by: case writer, source: from memory}",
            "  viscosity: {value: 4 mPa.s, basis: stated, by: case writer, source: from memory}",
        ),
        (
            "medium.viscosity", None,
            "  viscosity: {value: 3.5 mPa.s, basis: assumed, by: case writer, source: from memory}",
            "  viscosity: {value: unknown, basis: assumed, by: case writer, source: from memory}",
        ),
        ("range.4 mA", "110 mm", "  4 mA: 100 mm", "  4 mA: 110 mm"),
        ("nozzle.bore.within", "1 mm", "  bore: 80 mm", "  bore: {value: 80 mm, within: 1 mm}"),
        (
            "nozzle.flange_face.above", "inside of the shell top",
            "  flange_face: {value: 150 mm, above: inside crown of top head}",
            "  flange_face: {value: 150 mm, above: inside of the shell top}",
        ),
        ("vessel.top_head", "unknown", "  top_head: as bottom_head", "  top_head: unknown"),
    ],
)  # fmt: skip
def test_one_value_is_one_line(path: str, text: str | None, old: str, new: str) -> None:
    before = example(FIRST)
    result = edited(before, {path: text}, FILE)
    assert result.faults == ()
    assert one_line(before, result.text) == [(old, new)]


@pytest.mark.parametrize(
    ("changes", "written_there"),
    [
        ({"batch.k": "2"}, "\n\nbatch:\n  k: 2\n"),
        ({"site.time_zone": "UTC"}, "by: case writer}\n  time_zone: UTC\n\nvessel:"),
        (
            {"states[1].pressure": "1 bar(g)"},
            "    instrument: fitted\n    pressure: 1 bar(g)\n    medium: {kind: water",
        ),
        ({"states[1].medium.density": "990 kg/m3"}, "medium: {kind: water, temperature: 20 degC, density: 990 kg/m3}"),
        ({"states[3].name": "a: b"}, "degC}\n  - name: 'a: b'\n\nzone:"),
        ({"vessel.deadwood[0].name": "coil"}, "  deadwood:\n    - name: coil\n"),
        (
            {"overfill.set_points.HH": "2600 mm", "overfill.set_points.LL": "100 mm"},
            "  set_points:          # none is set yet: the study says where HH may stand\n"
            "    LL: 100 mm\n    HH: 2600 mm\n",
        ),
        ({"safety.subsystems[0].name": "gauge"}, "\n\nsafety:\n  subsystems:\n    - name: gauge\n"),
        ({"medium.viscosity.basis": "stated"}, "value: 3.5 mPa.s, basis: stated, by"),
        ({"weighing.none": "1"}, None),
    ],
)
def test_what_was_absent_is_written_in_the_order_of_the_model(
    changes: dict[str, str | None], written_there: str | None
) -> None:
    result = edited(example(FIRST), changes)
    if written_there is None:
        assert result.text == example(FIRST)
        assert result.faults
        return
    assert result.faults == ()
    assert written_there in result.text
    assert len(without(example(FIRST), result.text)) <= 1


def test_a_head_stated_as_the_other_is_written_out_when_one_of_its_values_differs() -> None:
    result = edited(example(FIRST), {"vessel.top_head.crown_radius": "1500 mm"})
    case = read_case_text(result.text).case.vessel
    assert (case.top_head.crown_radius.text, case.bottom_head.crown_radius.text) == ("1500 mm", "1600 mm")
    assert (case.top_head.knuckle_radius.text, case.top_head.form.text) == ("160 mm", "torispherical")


def test_a_text_that_stands_there_already_changes_nothing() -> None:
    """A form without scripts sends every field; what was assumed must not be stated by that."""
    changes: dict[str, str | None] = {path: text for path, (text, _) in said_of(FIRST).items() if text}
    assert edited(example(FIRST), dict(islice(changes.items(), 40))) == Edited(example(FIRST))


def test_what_cannot_be_read_is_not_written_and_the_rest_is() -> None:
    result = edited(example(FIRST), {"range.4 mA": "1 parsec", "nozzle.bore": "81 mm", "vessel.colour": "red"})
    assert sorted(fault.path for fault in result.faults) == ["range.4 mA", "vessel.colour"]
    assert one_line(example(FIRST), result.text) == [("  bore: 80 mm", "  bore: 81 mm")]


def test_a_value_and_what_it_is_read_with_are_stated_together() -> None:
    bare = "onedatum: 1\nmedium:\n  kind: ethanol-water\n"
    alone = edited(bare, {"medium.strength": "68 %vol"})
    assert alone.text == bare
    assert "stated with at" in alone.faults[0].sentence()
    both = edited(bare, {"medium.strength.at": "20 degC", "medium.strength": "68 %vol"})
    assert both == Edited(bare + "  strength: {value: 68 %vol, at: 20 degC}\n")


@pytest.mark.parametrize(
    ("before", "changes", "after"),
    [
        ("onedatum: 1", {"tag": "T"}, "onedatum: 1\ntag: T"),
        ("\ufeffonedatum: 1\r\n", {"tag": "T"}, "\ufeffonedatum: 1\r\ntag: T\r\n"),
        ("onedatum: 1\r\nsite: none # no\r\n# end", {"site.g": "9.8 m/s2"},
         "onedatum: 1\r\nsite: # no\r\n  g: 9.8 m/s2\r\n# end"),
        ("{onedatum: 1, site: {g: , time_zone}}", {"site.g": "9.8 m/s2", "site.time_zone": "UTC"},
         "{onedatum: 1, site: {g: 9.8 m/s2 , time_zone: UTC}}"),
        ("{onedatum: 1}", {"site.g": "9.8 m/s2"}, "{onedatum: 1, site: {g: 9.8 m/s2}}"),
        ("onedatum: 1\ntag: 'T' # a\tt\n", {"tag": "U"}, "onedatum: 1\ntag: 'U' # a\tt\n"),
        ("onedatum: 1\ntag: # t\n", {"tag": "U"}, "onedatum: 1\ntag: U # t\n"),
        ("onedatum: 1\nsite:\n  # about g\n  g: 9.8 m/s2\n", {"site.air_density": "1.2 kg/m3"},
         "onedatum: 1\nsite:\n  air_density: 1.2 kg/m3\n  # about g\n  g: 9.8 m/s2\n"),
        ("onedatum: 1\nservice: |\n  two\n  lines\n\n# c\ndate: d\n", {"service": "one", "author": "A"},
         "onedatum: 1\nservice: one\nauthor: A\n\n# c\ndate: d\n"),
        ("onedatum: 1\nservice: a\n  b # c\n", {"service": "one"}, "onedatum: 1\nservice: one # c\n"),
        ("onedatum: 1\nsite: &s\n  g: 9.8 m/s2\n", {"site.g": "9.81 m/s2"},
         "onedatum: 1\nsite: &s\n  g: 9.81 m/s2\n"),
        ("onedatum: 1\nvessel: {file: a.yaml, entry: A}\n", {"vessel.wall": "3 mm"},
         "onedatum: 1\nvessel: {file: a.yaml, entry: A, wall: 3 mm}\n"),
        ("onedatum: 1\nstates: [{name: a}]\n", {"states[1].name": "b"},
         "onedatum: 1\nstates: [{name: a}, {name: b}]\n"),
        ("onedatum: 1\nstates:\n- name: a\nsite:\n  g: 9.8 m/s2\n", {"states[0].instrument": "fitted"},
         "onedatum: 1\nstates:\n- name: a\n  instrument: fitted\nsite:\n  g: 9.8 m/s2\n"),
        ("onedatum: 1\nstates:\n- instrument: fitted\n", {"states[0].name": "a"},
         "onedatum: 1\nstates:\n- name: a\n  instrument: fitted\n"),
        ("onedatum: 1\ndate: # none yet\n", {"date": "unknown"}, "onedatum: 1\ndate: unknown # none yet\n"),
    ],
)  # fmt: skip
def test_files_of_every_habit(before: str, changes: dict[str, str | None], after: str) -> None:
    result = edited(before, changes)
    assert result.faults == ()
    assert result.text == after


@pytest.mark.parametrize(
    ("text", "changes"),
    [
        ("onedatum: 1\nvessel: [", {"tag": "T"}),
        ("onedatum: 1\ntag:\tT\n", {"service": "a tab behind a colon is no YAML to the reader"}),
        ("", {"tag": "T"}),
        ("- a\n", {"tag": "T"}),
        ("onedatum: 1\nvessel: oak\n", {"vessel.wall": "3 mm"}),
        ("onedatum: 1\nvessel: [1]\n", {"vessel.wall": "3 mm"}),
        ("onedatum: 1\nstates: {a: 1}\n", {"states[0].name": "T"}),
        ("onedatum: 1\ninstrument: {file: a.yaml, entry: A}\n", {"instrument.stem.wall": "3 mm"}),
        ("onedatum: 1\n", {"": "T", "a..b": "T", "states[": "T", "states": "T", "states[99999999999]": "T"}),
        ("onedatum: 1\n", {"states[1].name": "T", "vessel.wall.a": "1", "vessel": "oak", "vessel.wall.at": "3"}),
        ("onedatum: 1\n", {"service": "x" * (MAX_TEXT + 1)}),
        ("onedatum: 1\n" + "#" * (MAX_BYTES - 20), {"service": "x" * 100}),
        ("onedatum: 1\nstates: []\n", {"states": "none"}),
        (skeleton().replace("onedatum: 1", "onedatum: 1\n<<: *a", 1), {"vessel": "none"}),
    ],
)
def test_what_cannot_be_changed_is_refused_with_a_sentence(text: str, changes: dict[str, str | None]) -> None:
    result = edited(text, changes)
    assert result.text == text
    assert len(result.faults) >= 1
    for fault in result.faults:
        assert fault.sentence().endswith(".")


@given(st.lists(st.sampled_from(PATHS[:400]), min_size=1, max_size=4), st.sampled_from(HOSTILE))
@settings(max_examples=2 * DRAWS // 5)
def test_the_skeleton_can_be_filled_in_anywhere(where: list[tuple[str, str]], text: str) -> None:
    before = skeleton()
    result = edited(before, {path: text for _, path in where})
    lines = set(result.text.split("\n"))
    kept = [line for line in before.split("\n") if line in lines]
    assert len(before.split("\n")) - len(kept) <= len(where)
    assert result.text.count("#") >= before.count("#")
