"""The table of marks is the equal of the drawing: all marks, all scales, the same numbers."""

from dataclasses import replace
from math import nan

from onedatum.paper.marks_table import NO_SIGNAL, marks_table
from onedatum.paper.model import Mark, Ruler
from tests.paper import sample


def test_all_marks_and_the_level_stand_in_order_of_height() -> None:
    table = marks_table(sample.ruler())
    assert [row[0] for row in table.rows][:4] == ["flange face", "inside top", "dead zone", "CH critical"]
    assert len(table.rows) == len(sample.marks()) + 1
    assert table.level_row is not None
    assert table.rows[table.level_row][1:] == ("1850", "72.83", "64.81", "14.370", "143.7", "3.501", "3134.7", "2393.8")


def test_above_the_end_of_the_loop_there_is_no_signal() -> None:
    rows = {
        row[0]: dict(zip(marks_table(sample.ruler()).head, row, strict=True))
        for row in marks_table(sample.ruler()).rows
    }
    assert rows["HH no signal"]["mA"] == NO_SIGNAL
    assert rows["loop ends"]["mA"] == "19.413"
    assert rows["LRV 4 mA"]["mA"] == "4.000"


def test_blocking_and_assumed_rows_are_named() -> None:
    table = marks_table(sample.ruler())
    assert {table.rows[i][0] for i in table.blocking_rows} == {"HH no signal", "loop ends"}
    assert {table.rows[i][0] for i in table.assumed_rows} == {"H alarm", "L alarm", "LL alarm"}


def test_unknown_and_missing_scales() -> None:
    scales = tuple(replace(s, unknown="temperature") for s in sample.scales() if s.name == "kg")
    table = marks_table(Ruler("x", (), scales, (Mark("a", 1.25, "alarm"), Mark("b", nan, "alarm"))))
    assert table.head == ("mark", "mm", "kg")
    assert table.rows == (("a", "1250", "?"),)
