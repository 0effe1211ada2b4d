"""Whatever stands in place of a value, reading tells it at its place, and the study of the rest goes on."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from onedatum.case.change import with_level, with_rate
from onedatum.case.leaf import Value, Word
from onedatum.case.reading import Statement, read_case, read_case_text
from onedatum.case.skeleton import skeleton
from onedatum.case.tree.limits import MAX_FAULTS
from onedatum.study.form import as_json
from onedatum.study.study import study
from tests.case.replacing import LINES, STATED, read_with, with_text
from tests.draws import DRAWS
from tests.soon import soon
from tests.study.variants import WITH_BARRIER, text_with

SECONDS = 8.0
HOSTILE = (
    "NaN", ".nan", "inf", "1e400", "1e400 m", "-1e400 m", "1e-400 m", "120 %vol", "-0 mm", "0 m", "1e30 m",
    "9**9**9 mm", "😀", "x" * 4000, "'" + "x" * 5001 + "'", "!!python/object:os.system x", "*a", "&a b", "[1",
    "[1, 2]", "{", "{a: 1}", "{value: {value: 1 m}}", "{value: 1 m, within: [1 m]}", "{file: floats.yaml, entry: x}",
    "{file: case.yaml}",
    "\x00", "\x1b[2J", "unknown", "none", "null", "~", "''", "-5 degC", "1 bar", "5 %", "yes", "1_000 mm", "7,5 mm",
)  # fmt: skip
SMALL = st.one_of(
    st.sampled_from(HOSTILE),
    st.text(max_size=20),
    st.floats().map(str),
    st.builds("{} {}".format, st.floats(-1e6, 1e6), st.sampled_from(["mm", "m", "degC", "bar(a)", "%vol", "mA", "kg"])),
    st.sampled_from(["water", "isolator", "removed", "isolated", "ethanol-water", "as liquid", "coldest", "normal"]),
)


def examined(statement: Statement) -> None:
    """Study it and write it down: neither may fail, and every fault is a whole sentence at a place of the file."""
    assert as_json(study(statement), "0")["form"] == 1
    assert len(statement.faults) <= 2 * MAX_FAULTS
    for fault in statement.faults:
        assert fault.sentence().startswith(f"{fault.path} must be ")
        assert fault.sentence().endswith(".")


def test_the_places_are_those_of_the_example() -> None:
    assert len(STATED) > 80
    for line, column, text in STATED.values():
        assert LINES[line - 1][column - 1 :].startswith(text)


@given(st.sampled_from(sorted(STATED)), SMALL)
@settings(max_examples=2 * DRAWS // 5)
def test_any_text_for_any_leaf_of_the_example_leaves_a_study(path: str, text: str) -> None:
    examined(read_with(path, text))


@given(st.dictionaries(st.sampled_from(sorted(STATED)), SMALL, min_size=10, max_size=60))
@settings(max_examples=DRAWS // 6)
def test_many_leaves_at_once_too(texts: dict[str, str]) -> None:
    """From the last to the first, so that the places before stay right; lines holding two leaves change but once."""
    lines, changed = list(LINES), set()
    for path in sorted(texts, key=lambda each: STATED[each][:2], reverse=True):
        line, column, old = STATED[path]
        if line not in changed:
            changed.add(line)
            lines[line - 1] = lines[line - 1][: column - 1] + texts[path] + lines[line - 1][column - 1 + len(old) :]
    examined(read_case_text("\n".join(lines)))


@given(st.lists(SMALL, min_size=1, max_size=30))
@settings(max_examples=DRAWS // 6)
def test_the_skeleton_filled_in_anyhow_is_read(texts: list[str]) -> None:
    lines = skeleton().splitlines()
    for number, line in enumerate(lines):
        key, colon, rest = line.partition(": ")
        if colon and "unknown" in rest[:8]:
            lines[number] = f"{key}: {texts[number % len(texts)]}"
    examined(read_case_text("\n".join(lines)))


QUANTITIES = sorted(
    leaf.path
    for leaf in read_case(WITH_BARRIER).case.leaves()
    if leaf.path in STATED and isinstance(leaf, (Value, Word))
)


@pytest.mark.parametrize("path", QUANTITIES)
def test_a_fault_points_at_the_text_that_is_wrong_and_nothing_else_is_faulty(path: str) -> None:
    wrong = "12 parsec"
    text = with_text(path, wrong)
    statement = read_case_text(text, "case.yaml")
    assert statement.faults
    for fault in statement.faults:
        assert fault.place is not None
        assert fault.place.file == "case.yaml"
        assert text.split("\n")[fault.place.line - 1][fault.place.column - 1 :].startswith(wrong)
    faulty = {leaf.path for leaf in statement.case.leaves() if leaf.state == "faulty"}
    assert faulty == {path}
    left = [leaf for leaf in statement.case.leaves() if isinstance(leaf, Value) and leaf.si is not None]
    assert len(left) > 50


@pytest.mark.parametrize(
    "text",
    [
        "".join(f"k{number}:\n" for number in range(9_000)),
        "vessel:\n" + "".join(f"  insid_diameter{number}: 1 m\n" for number in range(3_000)),
        "level_now: {value: 1 m, " + ", ".join(f"wthin{number}: 1" for number in range(4_000)) + "}",
        "states:\n" + "  - name: a\n" * 6_000,
        "states:\n" + "".join(f"  - {{name: s{number}, instrument: fitted}}\n" for number in range(2_000)),
        "states: [" + "1, " * 15_000 + "]",
        "\n".join(f"a{n}: {{file: x{n}.yaml, entry: a}}" for n in range(2_500)),
    ],
    ids=["keys", "keys of a section", "keys of a leaf", "states alike", "states", "states that are none", "files"],
)
def test_a_file_full_of_faults_is_soon_done_and_told_in_part(text: str) -> None:
    examined(read_case(WITH_BARRIER))  # what is loaded once for all is no part of the time
    with soon(SECONDS):
        statement = read_case_text(text)
        examined(statement)
    assert statement.faults


def test_a_head_that_is_read_twice_is_faulty_twice() -> None:
    """The top head stated as the bottom one must not keep what the bottom one was refused for."""
    vessel = read_case_text(text_with(("crown_radius: 1600 mm", "crown_radius: 900 m"))).case.vessel
    assert vessel.bottom_head.crown_radius.state == vessel.top_head.crown_radius.state == "faulty"
    assert vessel.top_head.crown_radius.si is None


def test_a_case_with_one_value_changed_has_its_leaf_and_the_other_keeps_its_own() -> None:
    """At the top and in a section: what is walked once must not outlive a change."""
    statement = read_case(WITH_BARRIER)
    before = {leaf.path: leaf.text for leaf in statement.case.leaves()}
    changed = with_rate(with_level(statement, "1700 mm", "a test"), "7 m3/h", "a test")
    after = {leaf.path: leaf.text for leaf in changed.case.leaves()}
    assert after == before | {"level_now": "1700 mm", "overfill.fill_rate_now": "7 m3/h"}
    assert before == {leaf.path: leaf.text for leaf in statement.case.leaves()}
    assert before["level_now"] == "1850 mm"
