"""The mapping file: what it must say, with place and remedy where it does not."""

from __future__ import annotations

from pathlib import Path

import pytest

from onedatum.foundation.errors import LogError
from onedatum.logs.mapping import EXAMPLE, LogMapping, missing_mapping, read_mapping

WHOLE = """mapping: 1
time: {column: at, form: "%d.%m.%Y %H:%M", zone: Europe/Berlin}
value: {column: pv, unit: counts, within: 0.02 mA}
tag: {column: name, names: {AREA1.LT201: LT-201}}
temperature: {column: tt, unit: degF}
counts: {at_4_mA: 6400, at_20_mA: 32000}
resistor: 250 ohm
"""


def read(folder: Path, text: str) -> LogMapping:
    path = folder / "map.yaml"
    path.write_text(text, encoding="utf-8")
    return read_mapping(path)


def test_a_whole_mapping(tmp_path: Path) -> None:
    found = read(tmp_path, WHOLE)
    assert found.columns == ("at", "pv", "name", "tt")
    assert (found.counts, found.resistor_ohm, found.within) == ((6400.0, 32000.0), 250.0, (2e-5, "current"))
    assert found.names == {"AREA1.LT201": "LT-201"}
    assert len(found.content_hash) == 64


def test_the_example_that_is_shown_can_be_read(tmp_path: Path) -> None:
    assert read(tmp_path, EXAMPLE).columns == ("time", "level")
    assert EXAMPLE in str(missing_mapping(["a", "b"])) and "columns there: a, b" in str(missing_mapping(["a", "b"]))


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("mapping: 1", "mapping: 2", "mapping must be stated, as mapping: 1"),
        ("column: at, ", "", "time.column must be the name of a column"),
        (
            "column: at, ",
            "column: [at], ",
            "time.column must be the name of a column, or those of date and time of day",
        ),
        ("column: at, ", "column: [at, at], ", "time.column must be the name of a column, or those of date"),
        ("column: at, ", "column: [at, {b: c}], ", "time.column must be the name of a column, or those of date"),
        ("column: at, ", "column: [pv, at], ", "value.column must be another column than that of time; got 'pv'."),
        ("column: pv", "column: at", "value.column must be another column than that of time; got 'at'."),
        ("form: ", "farm: ", "time.farm must be a key that is known here; got 'farm'."),
        ('"%d.%m.%Y %H:%M"', "european", "time.form must be one of iso"),
        ("Europe/Berlin", "Europe/Nowhere", "time.zone must be a time zone"),
        ("Europe/Berlin", "../../etc/passwd", "time.zone must be a time zone"),
        (", zone: Europe/Berlin", "", "time.zone must be a time zone by its name, such as UTC, or: in the text; got n"),
        ("unit: counts", "unit: kg", "value.unit must be"),
        ("unit: counts, ", "", "value must be given one of unit and unit_column; got neither"),
        ("unit: counts", "unit: counts, unit_column: e", "value must be given one of unit and unit_column; got both"),
        ("within: 0.02 mA", "within: 0 mA", "value.within must be above 0"),
        ("within: 0.02 mA", "within: some", "value.within must be"),
        ("unit: degF", "unit: F", "temperature.unit must be degC, degF or K"),
        ("at_4_mA: 6400", "at_4_mA: few", "counts.at_4_mA must be a number"),
        ("at_4_mA: 6400", "at_4_mA: 32000", "counts must be two different numbers"),
        ("250 ohm", "-250 ohm", "resistor must be above 0"),
        ("{AREA1.LT201: LT-201}", "x", "tag.names must be tags of the log with tags of the cases"),
        ("time: {", "tame: {", "time must be stated with its column, form, zone, latest; got nothing"),
        ("counts: {at_4_mA: 6400, at_20_mA: 32000}\n", "", "what they stand for is not stated"),
    ],
)
def test_what_is_wrong_is_said_with_its_place(tmp_path: Path, old: str, new: str, said: str) -> None:
    assert old in WHOLE
    with pytest.raises(LogError) as raised:
        read(tmp_path, WHOLE.replace(old, new, 1))
    assert said.lower() in str(raised.value).lower()
    assert all(fault.place is not None for fault in raised.value.faults)


@pytest.mark.parametrize("text", ["", "a", "- 1", "{", "mapping: 1", "\x00", "time: &a [*a]", "value: {unit: [1]}"])
def test_what_is_no_mapping_is_refused(tmp_path: Path, text: str) -> None:
    with pytest.raises(LogError):
        read(tmp_path, text)


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(LogError):
        read_mapping(tmp_path / "none.yaml")
