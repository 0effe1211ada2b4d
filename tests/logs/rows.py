"""Small logs for the tests, made row by row."""

from __future__ import annotations

from functools import cache
from typing import Any

import pyarrow as pa

from onedatum.case.reading import read_case
from onedatum.logs.converter import Converter
from onedatum.logs.kernel import convert
from onedatum.logs.mapping import LogMapping
from onedatum.study.result import Study
from onedatum.study.study import study
from tests.cli.run import ROOT


@cache
def example(name: str = "spirit_receiver") -> Study:
    """The study of an example."""
    return study(read_case(ROOT / "examples" / f"{name}.yaml"))


def mapped(**changed: Any) -> LogMapping:
    """A mapping of the columns t and v: levels in mm with ISO times that state their offset."""
    stated = {"time": "t", "form": "iso", "zone": "in the text", "value": "v"}
    unit = {} if "unit_column" in changed else {"unit": "mm"}
    return LogMapping(**{**stated, **unit, **changed})


def minutes(count: int, first: int = 0) -> list[str]:
    """So many times, a minute apart."""
    return [f"2026-01-{1 + m // 1440:02}T{m // 60 % 24:02}:{m % 60:02}:00Z" for m in range(first, first + count)]


def worked(
    values: list[Any],
    mapping: LogMapping | None = None,
    names: tuple[str, ...] = ("spirit_receiver",),
    **columns: list[Any],
) -> tuple[list[dict[str, Any]], list[dict[str, Any]]]:
    """The rows converted and the rows set aside, of values a minute apart."""
    mapping = mapping or mapped()
    table = {"t": minutes(len(values)), "v": values, **columns}
    made = Converter.of([example(name) for name in names], mapping)
    converted, rejected = convert(pa.RecordBatch.from_pydict(table), made, mapping)
    return converted.to_pylist(), rejected.to_pylist()
