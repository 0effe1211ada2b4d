"""The conversion for engines that bring batches: the rows that one batch gives, in columns that every engine knows."""

from __future__ import annotations

import pyarrow as pa

from onedatum.logs.converter import Converter
from onedatum.logs.elsewhere import plain_schema, sql_schema, stream
from onedatum.logs.kernel import convert
from tests.logs.rows import example, mapped, minutes


def test_batches_give_what_one_batch_gives() -> None:
    """Wherever it is cut, and with rows that come late over a cut."""
    times = minutes(10)
    times[4], times[7] = times[2], times[9]
    whole = pa.RecordBatch.from_pydict({"row": list(range(1, 11)), "t": times, "v": [1000.0 + k for k in range(10)]})
    made = Converter.of([example()], mapped())
    reference = convert(whole, made, made.mapping)[0].to_pylist()
    assert [row["row"] for row in reference] == [1, 2, 3, 4, 6, 7, 8]
    for cut in range(1, 10):
        found = pa.Table.from_batches(stream([whole[:cut], whole[cut:]], made, made.mapping), plain_schema(made))
        assert found.to_pylist() == reference


def test_the_columns_in_words_of_sql() -> None:
    said = sql_schema(Converter.of([example()], mapped()))
    assert said.startswith("row bigint, time timestamp, tag string, state string, flags int, current_A double, level_m")
    assert said.count(" double") == len(said.split(", ")) - 5, "all but the first five are numbers"
