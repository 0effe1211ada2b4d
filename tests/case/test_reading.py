"""Reading a case: all faults in one pass, each at its place; every way of stating and of not knowing."""

from __future__ import annotations

from itertools import cycle, product
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from onedatum.case.leaf import Value, Word
from onedatum.case.reading import Statement, read_case, read_case_text
from onedatum.case.skeleton import skeleton
from onedatum.foundation.units import read_quantity
from onedatum.study.study import study
from tests.closeness import close, exact
from tests.draws import DRAWS, LONG
from tests.study.variants import EXAMPLES, WITH_BARRIER, statement_with, text_with

ROOT_THREE = 1.7320508075688772


def leaf(statement: Statement, path: str) -> Value:
    """The quantity at a path."""
    found = next(each for each in statement.case.leaves() if each.path == path)
    assert isinstance(found, Value)
    return found


def told(statement: Statement) -> list[str]:
    """Every fault as it is printed."""
    return [str(fault) for fault in statement.faults]


@pytest.mark.parametrize("example", sorted(EXAMPLES.glob("*.yaml")), ids=lambda path: path.stem)
def test_the_examples_read_without_a_fault(example: Path) -> None:
    assert told(read_case(example)) == []


DAMAGE = (
    ("inside_diameter: 1600 mm", "inside_diameter: 1600"),
    ("shell_length: 2400 mm", "shel_length: 2400 mm"),
    ("68.0 %vol, at", "68.0 %mass, at"),
    ("conductivity: {value: 5 uS/cm", "conductivity: {value: 5 mS"),
    ("shape: vertical cylinder", "shape: vertical cilinder"),
    ("input_resistor: 250 ohm", "input_resistor: -250 ohm"),
    ("{low: -5 %value", "{low: -5 %"),
    ("CH: {value: 2900 mm", "CH: {value: 2.9"),
)


def test_all_faults_are_told_in_one_pass_each_at_the_text_it_means() -> None:
    text = text_with(*DAMAGE)
    statement = read_case_text(text, "case.yaml", EXAMPLES)
    lines = text.splitlines()
    pointed = {
        fault.path: lines[fault.place.line - 1][fault.place.column - 1 :] for fault in statement.faults if fault.place
    }
    assert set(pointed) == {
        "vessel.inside_diameter",
        "vessel.shel_length",
        "medium.strength.value",
        "medium.conductivity.value",
        "vessel.shape",
        "loop.input_resistor",
        "loop.supply_tolerance.low",
        "overfill.CH.value",
    }
    starts = ("1600", "shel_length", "68.0 %mass", "5 mS", "vertical cilinder", "-250 ohm", "-5 %", "2.9")
    assert all(any(rest.startswith(start) for start in starts) for rest in pointed.values())
    assert all(fault.place and fault.place.file == "case.yaml" for fault in statement.faults)


def test_what_is_healthy_is_read_beside_what_is_not() -> None:
    statement = statement_with(*DAMAGE)
    exact(leaf(statement, "medium.temperature").si, 287.15)
    exact(leaf(statement, "instrument.float.mass").si, 0.072)
    assert leaf(statement, "vessel.inside_diameter").state == "faulty"
    assert not leaf(statement, "vessel.inside_diameter").known


def test_nearest_key_and_nearest_word_are_suggested() -> None:
    faults = " ".join(told(statement_with(*DAMAGE)))
    assert "Nearest: shell_length" in faults
    assert "Nearest: vertical cylinder" in faults


def all_paths() -> list[str]:
    """Every leaf of the example that stands in the file."""
    return [each.path for each in read_case(WITH_BARRIER).case.leaves() if each.place is not None]


def with_leaf(path: str, value: str, text: str = "") -> str:
    """The text, or the skeleton, with one leaf overwritten; the path names keys only."""
    lines, keys, at = (text or skeleton()).splitlines(), path.split("."), 0
    for depth, key in enumerate(keys):
        at = next(i for i in range(at, len(lines)) if lines[i].startswith(f"{'  ' * depth}{key}:"))
    lines[at] = f"{lines[at].split(':')[0]}: {value}"
    return "\n".join(lines)


PLAIN_PATHS = sorted({path for path in all_paths() if "[" not in path and path != "onedatum"})


def test_every_leaf_admits_unknown_words_too() -> None:
    """All of them in one reading."""
    text = skeleton()
    for path in PLAIN_PATHS:
        text = with_leaf(path, "unknown", text)
    statement = read_case_text(text)
    found = {leaf.path: leaf for leaf in statement.case.leaves()}
    assert told(statement) == []
    assert {path: found[path].state for path in PLAIN_PATHS} == dict.fromkeys(PLAIN_PATHS, "unknown")
    assert all(found[path].asked and not found[path].known for path in PLAIN_PATHS)


def test_the_long_form_carries_who_assumed_and_why() -> None:
    found = leaf(read_case(WITH_BARRIER), "medium.conductivity")
    assert (found.state, found.by, found.source) == ("assumed", "case writer", "from memory")
    assert found.note == "steady, measured at working temperature"


@pytest.mark.parametrize(
    ("stated", "standard"),
    [
        ("{value: 10 degC, u: 0.2 K}", 0.2),
        ("{value: 10 degC, within: 0.5 K}", 0.5 / ROOT_THREE),
        ("{value: 10 degC, U: 0.5 K, k: 2}", 0.25),
        ("{value: 50 degF, u: 1.8 degF}", 1.0),
        ("{value: 10 degC, u: 0 K}", 0.0),
    ],
)
def test_an_uncertainty_of_temperature_is_a_difference(stated: str, standard: float) -> None:
    """JCGM 100, 4.3.7: all values within a as likely, a/sqrt(3); 4.3.3: U/k. A degree Fahrenheit is 5/9 K."""
    found = leaf(read_case_text(with_leaf("medium.temperature", stated)), "medium.temperature")
    assert found.uncertainty is not None
    if standard:
        close(found.uncertainty.standard, standard, 1e-12, "rounding of one division")
    else:
        exact(found.uncertainty.standard, 0.0)


def test_an_uncertainty_may_be_a_share_of_the_value() -> None:
    found = leaf(read_case_text(with_leaf("medium.density", "{value: 800 kg/m3, u: 0.5 %value}")), "medium.density")
    assert found.uncertainty is not None
    close(found.uncertainty.standard, 4.0, 1e-12, "rounding of one product")


@pytest.mark.parametrize(
    ("stated", "said"),
    [
        ("{value: 10 degC, U: 0.5 K}", "with its coverage factor"),
        ("{value: 10 degC, u: 0.1 K, within: 0.5 K}", "one of u, within, U"),
        ("{value: 10 degC, within: -0.5 K}", "zero or more"),
        ("{value: 10 degC, within: 5 mm}", "temperature difference"),
        ("{value: 10 degC, min: 20 degC, max: 30 degC}", "in rising order"),
        ("{value: 10 degC, max: 5 degC}", "in rising order"),
        ("{basis: assumed}", "a value with its notes"),
        ("{value: 10 degC, basis: guessed}", "stated or assumed"),
        ("{value: 10 degC, becuase: x}", "key that is known here"),
        ("[10 degC, 20 degC]", "one value"),
        ("10 C", "Write"),
        ("-300 degC", "absolute zero"),
    ],
)
def test_a_statement_that_does_not_hold_together_is_refused(stated: str, said: str) -> None:
    statement = read_case_text(with_leaf("medium.temperature", stated))
    assert len(statement.faults) >= 1
    assert said in " ".join(told(statement))


@pytest.mark.parametrize(
    ("stated", "suffix", "si"),
    [("2 bar(g)", "Pa_gauge", 2e5), ("2 bar(a)", "Pa_abs", 2e5), ("-0.5 bar(g)", "Pa_gauge", -5e4)],
)
def test_a_pressure_says_what_it_counts_from(stated: str, suffix: str, si: float) -> None:
    found = leaf(read_case_text(with_leaf("pressure.operating", stated)), "pressure.operating")
    assert found.suffix == suffix
    exact(found.si, si)


def test_a_word_of_absence_is_neither_unknown_nor_a_number() -> None:
    found = leaf(read_case(WITH_BARRIER), "overfill.foam")
    assert (found.state, found.si) == ("none", None)


def test_a_key_given_twice_is_told_with_both_places() -> None:
    text = text_with(("  shell_length: 2400 mm\n", "  shell_length: 2400 mm\n  shell_length: 2500 mm\n"))
    assert any("shell_length" in fault for fault in told(read_case_text(text)))


def test_a_top_head_as_the_bottom_one_is_read_from_there() -> None:
    case = read_case(WITH_BARRIER).case
    assert case.vessel.top_head.crown_radius.si == case.vessel.bottom_head.crown_radius.si == 1.6


# ---------------------------------------------------------------- own data beside the case

OWN = "F-52:\n  outside_diameter: 52.5 mm\n  mass: 72.0 g\n  height: sixty\n"
REFERENCE = "float:\n    file: floats.yaml\n    entry: F-52\n    height: 60.0 mm\n"


def own_case(folder: Path, reference: str = REFERENCE, own: str = OWN) -> Statement:
    """The example with its float taken from a file beside it."""
    text = WITH_BARRIER.read_text(encoding="utf-8")
    start, end = text.index("float:\n"), text.index("  damping_tau")
    (folder / "case.yaml").write_text(f"{text[:start]}{reference}{text[end:]}", encoding="utf-8")
    (folder / "floats.yaml").write_text(own, encoding="utf-8")
    return read_case(folder / "case.yaml")


def test_own_data_is_taken_in_and_the_case_comes_before_it(tmp_path: Path) -> None:
    statement = own_case(tmp_path)
    assert told(statement) == []
    exact(leaf(statement, "instrument.float.mass").si, 0.072)
    exact(leaf(statement, "instrument.float.height").si, 0.060)
    assert statement.own_files == ("floats.yaml",)


def test_a_fault_in_own_data_points_into_its_file(tmp_path: Path) -> None:
    statement = own_case(tmp_path, REFERENCE.replace("    height: 60.0 mm\n", ""))
    (fault,) = statement.faults
    assert fault.place is not None
    assert Path(fault.place.file).name == "floats.yaml"
    assert fault.place.line == 4


def test_the_content_hash_counts_own_data(tmp_path: Path) -> None:
    first = own_case(tmp_path).content_hash
    assert own_case(tmp_path, own=OWN.replace("72.0 g", "73.0 g")).content_hash != first
    assert own_case(tmp_path).content_hash == first


@pytest.mark.parametrize(
    ("reference", "said"),
    [
        (REFERENCE.replace("floats.yaml", "../floats.yaml"), "beside the case"),
        (REFERENCE.replace("floats.yaml", "/etc/passwd"), "beside the case"),
        (REFERENCE.replace("floats.yaml", "gone.yaml"), "gone.yaml"),
        (REFERENCE.replace("F-52", "F-25"), "Nearest: F-52"),
        (REFERENCE.replace("floats.yaml", "case.yaml").replace("F-52", "instrument"), "instrument.float"),
    ],
    ids=["path out", "absolute", "missing", "entry", "the case itself"],
)
def test_own_data_that_cannot_be_taken_in_is_named(reference: str, said: str, tmp_path: Path) -> None:
    statement = own_case(tmp_path, reference)
    assert statement.faults
    assert said in " ".join(told(statement))


# ---------------------------------------------------------------- contradictions

CONTRADICTIONS = (
    (("20 mA: 2800 mm", "20 mA: 100 mm"), "range.20 mA"),
    (("voltage_max: 36 V", "voltage_max: 11 V"), "loop.transmitter.voltage_max"),
    (("bore: 16.0 mm", "bore: 60.0 mm"), "instrument.float.bore"),
    (
        ("resistance: 300 ohm}", "resistance: 300 ohm, voltage_at_its_terminals: 17 V}"),
        "loop.barrier.voltage_at_its_terminals",
    ),
    (("name: set on water in the works", "name: normal"), "states[1].name"),
    (("name: set on water in the works", 'name: "water [works]"'), "states[1].name"),
)


@pytest.mark.parametrize(("change", "path"), CONTRADICTIONS)
def test_contradictions_are_named(change: tuple[str, str], path: str) -> None:
    assert path in [fault.path for fault in statement_with(change).faults]


# ---------------------------------------------------------------- whatever is written

HOSTILE = (
    *("NaN", "1e400 m", "120 %vol", "😀", "x" * 5000, "!!python/object x", "*a", "&a b", "[1", "{", '"', "'", "\x00"),
    *("@", "`", "%TAG", "- -", "? :", "1_000 mm", "٣ m", "<<: *x", "|", ">", "#"),
)


LEAVES = ("vessel.inside_diameter", "medium.kind", "tag", "overfill.foam")
EACH = list(product(LEAVES, HOSTILE)) if LONG else list(zip(cycle(LEAVES), HOSTILE, strict=False))
"""In the plain run each text in one leaf, in turn."""


@pytest.mark.parametrize(("path", "value"), EACH, ids=repr)
def test_hostile_text_in_a_leaf_never_breaks_reading_or_study(path: str, value: str) -> None:
    study(read_case_text(with_leaf(path, value)))


@pytest.mark.parametrize("value", HOSTILE, ids=repr)
def test_the_same_in_leaves_of_every_kind_at_once(value: str) -> None:
    text = skeleton()
    for path in LEAVES:
        text = with_leaf(path, value, text)
    study(read_case_text(text))


@given(st.text(max_size=200))
def test_any_text_gives_a_statement(text: str) -> None:
    assert isinstance(read_case_text(text), Statement)


@given(st.sampled_from(PLAIN_PATHS), st.text(max_size=30))
@settings(max_examples=2 * DRAWS // 5)
def test_any_value_of_any_leaf_gives_a_study(path: str, value: str) -> None:
    study(read_case_text(with_leaf(path, value)))


def test_an_empty_file_is_said() -> None:
    assert "the first of them onedatum: 1" in " ".join(told(read_case_text("")))


def test_a_case_of_another_version_is_refused() -> None:
    statement = statement_with(("onedatum: 1", "onedatum: 2"))
    assert "onedatum" in [fault.path for fault in statement.faults]


def test_words_are_words_of_the_list() -> None:
    found = next(each for each in read_case(WITH_BARRIER).case.leaves() if each.path == "zone.inside")
    assert isinstance(found, Word)
    assert found.word == "0"


def test_values_are_exactly_what_the_text_says() -> None:
    exact(leaf(read_case(WITH_BARRIER), "instrument.float.outside_diameter").si, read_quantity("52.5 mm", "length"))
