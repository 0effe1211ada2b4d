"""The forms a statement can take: what each says, and what would be lost or mixed up without a word."""

from __future__ import annotations

import pytest

from onedatum.case.leaf import Leaf, Value
from onedatum.case.reading import Statement, read_case_text
from tests.closeness import close, exact


def read(section: str, line: str) -> Statement:
    """A case of one line in one section."""
    return read_case_text(f"onedatum: 1\n{section}:\n  {line}\n", "case.yaml")


def at(statement: Statement, path: str) -> Leaf:
    """The leaf at a path."""
    return next(leaf for leaf in statement.case.leaves() if leaf.path == path)


def value_at(statement: Statement, path: str) -> Value:
    """The quantity at a path."""
    leaf = at(statement, path)
    assert isinstance(leaf, Value)
    return leaf


def told(statement: Statement) -> str:
    """All faults as printed."""
    return "\n".join(str(fault) for fault in statement.faults)


@pytest.mark.parametrize(
    ("line", "low", "normal", "high"),
    [
        ("temperature: {value: 14 degC, min: 5 degC, max: 35 degC}", 278.15, 287.15, 308.15),
        ("temperature: {normal: 14 degC, min: 5 degC, max: 35 degC}", 278.15, 287.15, 308.15),
        ("temperature: {value: 14 degC, max: 35 degC}", None, 287.15, 308.15),
        ("temperature: {value: 14 degC, min: unknown, max: 35 degC}", None, 287.15, 308.15),
        ("temperature: {value: 14 degC, min: 14 degC}", 287.15, 287.15, None),
    ],
)
def test_ranges(line: str, low: float | None, normal: float, high: float | None) -> None:
    statement = read("medium", line)
    assert told(statement) == ""
    value = value_at(statement, "medium.temperature")
    assert (value.low, value.high) == (low, high)
    exact(value.si, normal)


@pytest.mark.parametrize(
    "line",
    [
        "operating: {value: 2 bar(g), within: 100 mbar}",
        "operating: {value: 3 bar(a), within: 0.1 bar}",
        "operating: {value: 2 bar(g), within: 5 %value}",
    ],
)
def test_an_uncertainty_of_pressure_is_a_difference(line: str) -> None:
    """JCGM 100, 4.3.7: half-width over root three; a difference of pressures counts from nowhere."""
    statement = read("pressure", line)
    assert told(statement) == ""
    uncertainty = value_at(statement, "pressure.operating").uncertainty
    assert uncertainty is not None
    close(uncertainty.standard, 5773.502691896258, 1e-9, "rounding of one division")


def test_an_uncertainty_that_is_not_known_is_none_and_no_fault() -> None:
    statement = read("medium", "temperature: {value: 14 degC, within: unknown}")
    assert told(statement) == ""
    assert value_at(statement, "medium.temperature").uncertainty is None


REFUSED: tuple[tuple[str, str, str], ...] = (
    ("pressure", "operating: {value: 2 bar(g), min: 2 bar(a)}", "stated with (g) as the value"),
    ("pressure", "operating: {value: 2 bar(a), max: 3 bar(g)}", "stated with (a) as the value"),
    ("pressure", "operating: {value: 2 bar(g), within: 0.1 bar(g)}", "has no reference"),
    ("pressure", "operating: 2 bar", "does not say what it counts from"),
    ("site", "atmospheric_pressure: 1 bar(g)", "gauge pressure"),
    ("medium", "temperature: {value: 14 degC, normal: 15 degC}", "Value and normal say the same"),
    ("medium", "temperature: {value: 14 degC, k: 2}", "k without U"),
    ("medium", "temperature: {value: 14 degC, within: 0.5 K, k: 2}", "k without U"),
    ("medium", "temperature: {value: 14 degC, U: 0.5 K}", "U without k says nothing"),
    ("medium", "temperature: {value: 14 degC, U: 0.5 K, k: 0}", "coverage factor"),
    ("medium", "temperature: {value: 14 degC, u: 0.1 K, U: 0.5 K, k: 2}", "one of u, within, U"),
    ("medium", "temperature: {value: 14 degC, within: -0.5 K}", "zero or more"),
    ("medium", "temperature: {value: 14 degC, min: 20 degC}", "rising order"),
    ("medium", "temperature: {min: 5 degC, max: 20 degC}", "no value"),
    ("medium", "temperature: {value: 14 degC, by: [a, b]}", "It would be lost silently"),
    ("medium", "temperature: {value: 14 degC, basis: [assumed]}", "It would be lost silently"),
    ("medium", "temperature: {value: 14 degC, note: {a: b}}", "It would be lost silently"),
    ("medium", "temperature: {value: [14 degC]}", "no value"),
    ("medium", "temperature: {value: 14 degC, min: [5 degC]}", "a list or a mapping"),
    ("medium", "temperature: [14 degC]", "a list"),
    ("medium", "strength: 68 %mass", "%mass is a unit of mass fraction"),
    ("medium", "strength: {value: 68 %vol, within: 0.1 %mass}", "%mass is a unit of mass fraction"),
    ("medium", "strength: 68 %", "does not say of what"),
    ("medium", "strength: {value: 68 %vol, at: 15 degC}", "OIML R 22"),
    ("medium", "strength: 120 %vol", "No mixture holds more than all alcohol"),
    ("wanted", "U: 0.5 %span", "%span is a unit of share of span"),
    ("medium", "kind: etanol-water", "Nearest: ethanol-water"),
    ("medium", "kind: {value: wine}", "one of: ethanol-water"),
    ("medium", "temprature: 14 degC", "Nearest: temperature"),
    ("medium", "permittivity: 44 pF", "none is wanted here"),
    ("vessel", "bottom_head: torispherical", "a mapping with the keys form"),
    ("vessel", "bottom_head: [torispherical]", "a mapping with the keys form"),
    ("vessel", "inside_diameter: 1600", "The unit is missing"),
    ("vessel", "inside_diameter: 0 mm", "above 0 mm"),
    ("vessel", "inside_diameter: 1,6 m", "Write 1.6"),
)


@pytest.mark.parametrize(("section", "line", "said"), REFUSED)
def test_what_would_be_lost_or_mixed_up_is_refused_at_its_place(section: str, line: str, said: str) -> None:
    statement = read(section, line)
    assert said in told(statement)
    for fault in statement.faults:
        assert fault.place is not None
        assert (fault.place.file, fault.place.line) == ("case.yaml", 3)
        assert fault.path.startswith(f"{section}.")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("onedatum: 1\nvesel:\n  shape: vertical cylinder\n", "case.yaml:2:1: vesel must be a key that is known here"),
        ("onedatum: 1\nvessel: 5 m\n", "case.yaml:2:9: vessel must be a mapping"),
        ("onedatum: 1\nvessel: [a]\n", "case.yaml:2:9: vessel must be a mapping"),
        ("onedatum: 1\nstates: normal\n", "case.yaml:2:9: states must be a list of states"),
        ("onedatum: 1\nstates: {name: normal}\n", "states must be a list of states"),
        ("onedatum: 1\nstates: [normal]\n", "states[0] must be a mapping"),
        ("onedatum: 1\nstates: [{name: coldest}]\n", "states[0].name must be another word"),
        ("onedatum: 1\nstates: [{name: 'a, hottest'}]\n", "states[0].name must be another word"),
        ("onedatum: 1\nstates: [{name: normal}, {instrument: fitted}]\n", "states[1].name must be a name of its own"),
        ("onedatum: none\n", "onedatum must be stated, as onedatum: 1"),
        ("onedatum: unknown\n", "onedatum must be stated, as onedatum: 1"),
        ("tag: LT-201\n", "onedatum must be stated, as onedatum: 1"),
        ("onedatum: 2\n", "onedatum must be one of: 1"),
        ("- onedatum: 1\n", "must be keys with values; got a list"),
    ],
)
def test_the_frame_of_a_case(text: str, said: str) -> None:
    assert said in told(read_case_text(text, "case.yaml"))


@pytest.mark.parametrize("word", ["unknown", "", "~", "null"])
def test_a_whole_section_may_be_unknown(word: str) -> None:
    statement = read_case_text(f"onedatum: 1\nvessel: {word}\n")
    assert told(statement) == ""
    assert at(statement, "vessel.shape").state == "unknown"


def test_who_assumed_it_and_why_is_kept() -> None:
    line = "density: {value: 895 kg/m3, basis: assumed, by: A. N. Engineer, note: why, source: a table}"
    leaf = at(read("medium", line), "medium.density")
    assert (leaf.state, leaf.by, leaf.note, leaf.source) == ("assumed", "A. N. Engineer", "why", "a table")


def test_an_assumed_unknown_is_unknown() -> None:
    leaf = value_at(read("medium", "density: {value: unknown, basis: assumed, by: nobody}"), "medium.density")
    assert (leaf.state, leaf.si, leaf.asked) == ("unknown", None, True)
