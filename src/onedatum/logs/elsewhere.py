"""The conversion for engines that bring record batches themselves: plain columns out, the order of rows carried along.

Rows that are set aside do not come out, and nothing is written: parts, rejects and counts are those of the command.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

import pyarrow as pa

from onedatum.logs.converter import Converter
from onedatum.logs.kernel import converted_of, schema_of
from onedatum.logs.mapping import LogMapping

SQL = {"int64": "bigint", "int32": "int", "double": "double", "string": "string", "timestamp[us, tz=UTC]": "timestamp"}
"""Names of the plain types in SQL."""


def plain_schema(converter: Converter) -> Any:
    """The columns of what is converted, without dictionaries and unsigned numbers, which not every engine knows."""

    def plain(kind: Any) -> Any:
        if pa.types.is_dictionary(kind):
            return pa.string()
        return pa.int32() if pa.types.is_uint16(kind) else kind

    return pa.schema([(field.name, plain(field.type)) for field in schema_of(converter)])


def sql_schema(converter: Converter) -> str:
    """The same in words of SQL."""
    return ", ".join(f"{field.name} {SQL[str(field.type)]}" for field in plain_schema(converter))


def stream(batches: Iterable[Any], converter: Converter, mapping: LogMapping) -> Iterator[Any]:
    """Convert batches one after the other: all rows of a tag must come here, in the order of the log.

    Rows that are set aside do not come out. Raises LogError where a batch lacks a column of the mapping.
    """
    after: dict[str, int] = {}
    schema = plain_schema(converter)
    for batch in batches:
        found = converted_of(batch, converter, mapping, after)
        after |= {tag: max(most, after.get(tag, most)) for tag, (_, most) in found.spans.items()}
        table = pa.Table.from_batches([found.converted]).cast(schema)
        yield from table.to_batches()
