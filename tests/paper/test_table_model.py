"""What all papers of a tank table share: figures, marks, sentences, and a record that holds together."""

from dataclasses import replace
from math import inf, nan, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.paper.table.model import Column, Line, TankTable, Zone
from onedatum.paper.table.words import (
    FINE_MARK,
    ZONE_MARK,
    figure,
    fine_sentences,
    marks,
    plain,
    printed,
    remarks,
    sections,
    statement,
    value_of,
    zone_sentences,
)
from tests.closeness import close
from tests.paper import table_sample as sample


def test_the_sample_holds_the_volumes_of_a_lying_cylinder() -> None:
    """Half and full by pi r^2 L; the rest by slices summed with the midpoint rule."""
    full = pi * 1.5**2 * 4.0 * 1000
    assert close(sample.volume_L(1500), full / 2, 1e-8, "rounding")
    assert close(sample.volume_L(3000), full, 1e-8, "rounding")
    slices = 20_000
    thick = 0.7 / slices
    summed = sum(2 * (3.0 * h - h * h) ** 0.5 * 4.0 * thick * 1000 for h in ((i + 0.5) * thick for i in range(slices)))
    assert close(sample.volume_L(700), summed, 0.01, "midpoint rule of 20 000 slices")


@pytest.mark.parametrize(
    ("value", "decimals", "shown"),
    [
        (1.25, 1, "1.2"),
        (28274.3338, 1, "28274.3"),
        (-0.04, 1, "0.0"),
        (-5.0, 0, "-5"),
        (None, 2, "–"),
        (nan, 2, "–"),
        (-inf, 2, "–"),
        (3e30, 2, "3e+30"),
        (7.0, -3, "7"),
        (0.1, 400, "0.100000000"),
    ],
)
def test_figures(value: float | None, decimals: int, shown: str) -> None:
    assert figure(value, decimals) == shown


@given(st.floats(), st.integers(-5, 400))
def test_no_figure_is_longer_than_its_column(value: float, decimals: int) -> None:
    assert 0 < len(figure(value, decimals)) <= 15


def test_the_rounded_numbers_are_those_printed() -> None:
    """Half of the printed values of a column lie above, half below what they stand for: sums agree."""
    column = sample.table().volume
    rounded = [number for number in printed(column) if number is not None]
    exact = [number for number in column.values if number is not None]
    assert len(rounded) == len(exact) == 310
    assert close(sum(rounded), sum(exact), 310 * 0.05, "half a unit of the last digit for each row")


def test_columns_of_different_length_are_refused() -> None:
    table = sample.table()
    with pytest.raises(ValueError, match=r"must be of one length \[rows\]; got \[310, 310, 310, 1, 310\]"):
        replace(table, ullage=Column("ullage", "mm", 0, (1.0,)))
    with pytest.raises(ValueError, match="got"):
        replace(table, fine=(True,))


def test_signs_and_remarks_stand_at_their_rows() -> None:
    table = sample.table(10.0)
    signs = dict(zip(table.level.values, marks(table), strict=True))
    said = dict(zip(table.level.values, remarks(table), strict=True))
    assert [signs[h] for h in (0.0, 9.0, 10.0, 290.0, 300.0, 420.0, 430.0)] == [
        FINE_MARK,
        FINE_MARK,
        "",
        "",
        ZONE_MARK,
        ZONE_MARK,
        "",
    ]
    assert said[9.0] == "finer row"
    assert said[350.0] == "do not use: the floating roof rests on its legs or floats"
    assert said[1000.0] == ""


def test_a_finer_row_in_a_zone_says_both() -> None:
    table = replace(sample.table(), zones=(Zone(0.0, 3.0, "sump"),))
    assert remarks(table)[0] == "do not use: sump; finer row"
    assert marks(table)[0] == ZONE_MARK


def test_sentences_of_zones_and_finer_rows() -> None:
    table = replace(sample.table(150.0), fine=(True, True, False, True, *[False] * 26))
    assert fine_sentences(table) == (
        "Rows of 0.0 to 15.0 mm are finer than the step.",
        "The row of 45.0 mm is finer than the step.",
    )
    assert zone_sentences(table) == ("300.0 to 420.0 mm, do not use: the floating roof rests on its legs or floats",)


def test_what_is_not_known_is_said() -> None:
    assert value_of(Line("density", "", "unknown")) == "unknown"
    assert value_of(Line("density", " ")) == "unknown"
    assert value_of(Line("temperature", "20 °C", "assumed")) == "20 °C, assumed"
    assert value_of(Line("temperature", "20 °C", "stated")) == "20 °C"
    titles = [section.title for section in sections(sample.table())]
    assert titles == ["Tank table", "Vessel", "Conditions", "Heels", "Interpolation", "Not to be used", "Cautions"]


def test_the_statement_is_the_highest_row_unless_given() -> None:
    assert statement(sample.table()) == "28274.3 L at 3000.0 mm, the highest row of 310."
    assert statement(replace(sample.table(), statement="Said.")) == "Said."
    assert statement(empty()) == "The table has no rows."


def empty() -> TankTable:
    """A table without rows."""
    no_rows = Column("x", "", 0, ())
    return TankTable(sample.head(), no_rows, no_rows, no_rows)


@given(st.text())
def test_plain_text_can_be_written_anywhere(text: str) -> None:
    line = plain(text)
    assert line.encode("utf-8").decode("utf-8") == line
    assert line == " ".join(line.split())
    assert not any(ord(char) < 32 or char in "\ufffe\uffff\u202e" for char in line)


def test_a_very_long_text_is_cut_and_says_so() -> None:
    assert plain("x" * 10_000).endswith("[cut: 6000 more characters]")
