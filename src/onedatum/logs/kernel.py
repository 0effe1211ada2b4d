"""The one pure function of a conversion: a record batch in, the converted rows and the rejected ones out.

Rows are worked all at once; what a row costs does not depend on where the rows stand. No row is filled in, moved or
guessed: a row is converted or it is set aside with its reason.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc
from numpy.typing import NDArray

from onedatum.foundation.errors import Fault, LogError
from onedatum.foundation.numerics import Reals, shortened
from onedatum.foundation.units import in_unit
from onedatum.logs.converter import Converter, Line, Places
from onedatum.logs.mapping import LogMapping
from onedatum.logs.order import ordered
from onedatum.logs.reasons import (
    AGAIN,
    BAD_UNIT,
    BEYOND,
    BROKEN_TAG,
    CODE,
    FLAGS,
    LATE,
    MARK,
    NO_CURRENT,
    NO_WORTH,
    REASONS,
    STRANGER,
)
from onedatum.logs.tanks import LIMITS
from onedatum.logs.texts import Codes, numbers, plain, times
from onedatum.logs.zones import Whole

ROW = "row"
"""Column of a batch with the number of each row in its file; counted from 1 where it is missing."""
AT_THE_END_A = 5e-6
"""A current this near to where it stops stands there: half of the last figure a meter shows."""
LEAST_A, MOST_A = -0.5e-3, 25e-3
"""Beyond these no instrument of a loop drives a current, and no broken loop reads: the number is wrong.

Common practice, no source: an open loop reads 0 mA within the offset of an input, and one that is shorted is held below
25 mA.
"""
REJECTED = pa.schema(
    [("row", pa.int64()), *((name, pa.string()) for name in ("reason", "time", "value", "tag", "unit"))]
)
"""With what stood there; nothing where the mapping names no such column."""
NONE_REJECTED = pa.RecordBatch.from_arrays([pa.nulls(0, each.type) for each in REJECTED], schema=REJECTED)
DIGITS_OF_U = 10
"""Binary digits of an uncertainty that are kept: it is off by a thousandth of itself at most.

Two decimal ones are told of it (JCGM 100:2008, 7.2.6 [from memory]). All of them would take a third of a file.
"""
WIDEST = 60
"""Characters of a text that are kept of a rejected row."""


def schema_of(converter: Converter) -> Any:
    """The columns of what is converted."""
    word = pa.dictionary(pa.int16(), pa.string())
    always = [("row", pa.int64()), ("time", pa.timestamp("us", "UTC")), ("tag", word), ("flags", pa.uint16())]
    row, time, tag, flags = (pa.field(name, kind, nullable=False) for name, kind in always)
    fields = [row, time, tag, pa.field("state", word), flags, pa.field("current_A", pa.float64())]
    for key in ("level_m", *converter.columns):
        fields.append(pa.field(key, pa.float64()))
        if key in converter.uncertain:
            fields.append(pa.field(f"u_{key}", pa.float64()))
    return pa.schema(fields)


def convert(
    batch: Any, converter: Converter, mapping: LogMapping, after: Mapping[str, int] | None = None
) -> tuple[Any, Any]:
    """Convert a record batch: the converted rows and the rejected ones, as record batches.

    `after`: by tag, the greatest time in microseconds since 1970 of the rows before these. Raises LogError where the
    batch lacks a column of the mapping.
    """
    found = converted_of(batch, converter, mapping, after)
    return found.converted, found.rejected


class Found(NamedTuple):
    """What came of a record batch."""

    converted: Any
    rejected: Any
    spans: Mapping[str, tuple[int, int]]
    """By tag: the time of its first row that has one, and the greatest, kept or not."""


def converted_of(
    batch: Any, converter: Converter, mapping: LogMapping, after: Mapping[str, int] | None = None
) -> Found:
    """As `convert`, with what the order of the rows after these hangs on."""
    lacks = [name for name in mapping.columns if name not in batch.schema.names]
    if lacks:
        raise LogError([missing_column(name, batch.schema.names) for name in lacks])
    work = _Rows(batch, converter, mapping, after or {})
    return Found(work.converted(), work.rejected(), work.spans)


def missing_column(name: str, there: list[str]) -> Fault:
    """That a log has not what the mapping names."""
    named = ", ".join(each for each in there if each != ROW)[:200]
    return Fault(f"the column {name}", "in the log", f"columns {named}", "the mapping names it")


@dataclass(frozen=True)
class _Told:
    """Level and current of rows, and what the current says of itself."""

    level_m: Reals
    current_A: Any
    """As a column; nothing where it is not what was read."""
    state: Any
    """Number of the state as a column; nothing where the row tells a level."""
    flags: NDArray[np.uint16]


class _Rows:
    """One batch, in the making."""

    def __init__(self, batch: Any, converter: Converter, mapping: LogMapping, after: Mapping[str, int]) -> None:
        self.batch, self.converter, self.mapping = batch, converter, mapping
        self.codes: Codes = np.zeros(batch.num_rows, dtype=np.uint8)
        self.stamps = _stamps(batch, mapping)
        self.time_us, late = times(self.stamps, mapping)
        self._mark(late)
        if mapping.latest_us is not None:
            self._mark_where(self.time_us > mapping.latest_us, BEYOND)
        self.tank = self._tanks()
        self.value, wrong = numbers(batch.column(mapping.value), mapping.decimal_comma)
        self._mark(wrong)
        self.units, self.unit = self._units()
        self._mark_no_current()
        self._in_order(after)
        self.count = len(self.codes) - int(np.count_nonzero(self.codes))
        whole = self.count == len(self.codes)
        self.kept: slice | NDArray[np.intp] = slice(None) if whole else np.flatnonzero(self.codes == 0)

    def _mark(self, codes: Codes) -> None:
        np.copyto(self.codes, codes, where=self.codes == 0)

    def _mark_where(self, where: NDArray[np.bool_], reason: str) -> None:
        self.codes[where & (self.codes == 0)] = CODE[reason]

    def _tanks(self) -> NDArray[np.intp] | None:
        """The number of the tank of every row; None where there is one for all."""
        if not self.mapping.tag:
            return None
        texts, at = _coded(self.batch.column(self.mapping.tag))
        found = np.array([self.converter.tags.get(text.strip(), -1) for text in texts] + [-1], dtype=np.intp)[at]
        if (found < 0).any():
            broken = np.array([MARK in text for text in texts] + [False])[at]
            self._mark_where((found < 0) & broken, BROKEN_TAG)
            self._mark_where(found < 0, STRANGER)
        return None if len(self.converter.tanks) == 1 else np.maximum(found, 0)

    def _units(self) -> tuple[list[Line | None], NDArray[np.intp] | None]:
        """The lines of the units, and which one a row has; None where there is one for all."""
        if self.mapping.unit:
            lines: list[Line | None] = [self.converter.line(self.mapping.unit)]
            at = None
        else:
            texts, at = _coded(self.batch.column(self.mapping.unit_column))
            lines = [*(self.converter.line(text.strip()) for text in texts), None]
            unknown = np.array([line is None for line in lines])
            self._mark_where(unknown[at], BAD_UNIT)
        for number, line in enumerate(lines):
            if line is not None and np.isnan(line.level_per).any():
                here = np.ones(len(self.codes), dtype=bool) if at is None else at == number
                self._mark_where(here & np.isnan(line.level_per[self._all_tanks()]), NO_WORTH)
        return lines, at

    def _mark_no_current(self) -> None:
        """Mark numbers that stand for a current no loop has, in whatever unit."""
        for number, line in enumerate(self.units):
            if line is None or not line.tells_state:
                continue
            ends = [(each - line.current_at_0[0]) / line.current_per[0] for each in (LEAST_A, MOST_A)]
            beyond = (self.value < min(ends)) | (self.value > max(ends))
            if beyond.any():
                self._mark_where(beyond if self.unit is None else beyond & (self.unit == number), NO_CURRENT)

    def _all_tanks(self) -> NDArray[np.intp]:
        return np.zeros(len(self.codes), dtype=np.intp) if self.tank is None else self.tank

    def _in_order(self, after: Mapping[str, int]) -> None:
        tags = self.converter.tanks
        before = {number: after[tank.tag] for number, tank in enumerate(tags) if tank.tag in after}
        found = ordered(self.time_us, self._all_tanks(), self.codes == 0, before)
        self._mark_where(found.late, LATE)
        self._mark_where(found.again, AGAIN)
        self.spans = {tags[number].tag: span for number, span in found.spans.items()}

    # ---------------------------------------------------------------- what is converted

    def converted(self) -> Any:
        """The rows that are kept, converted."""
        tank: Places = 0 if self.tank is None else self.tank[self.kept]
        told = self._told(tank)
        columns = self._amounts(told, tank)
        names = [each.tag for each in self.converter.tanks]
        numbers_of = np.broadcast_to(np.asarray(tank, dtype=np.int16), self.count)
        columns |= {
            "row": pa.array(self._row_numbers()[self.kept]),
            "time": pa.array(self.time_us[self.kept]).view(pa.timestamp("us", "UTC")),
            "tag": pa.DictionaryArray.from_arrays(pa.array(numbers_of), pa.array(names, pa.string())),
            "state": pa.DictionaryArray.from_arrays(told.state, pa.array(LIMITS, pa.string())),
            "flags": pa.array(told.flags),
            "current_A": told.current_A,
            "level_m": _filled(told.level_m),
        }
        schema = schema_of(self.converter)
        return pa.RecordBatch.from_arrays([columns[field.name] for field in schema], schema=schema)

    def _told(self, tank: Places) -> _Told:
        value = self.value[self.kept]
        level, current, telling = self._lines(value, tank)
        flags = np.zeros(len(value), dtype=np.uint16)
        read, state = pa.nulls(len(value), pa.float64()), pa.nulls(len(value), pa.int16())
        if telling is not False:
            rank = np.zeros(len(value), dtype=np.int16)
            for edge in self.converter.edges_A[:, tank]:
                rank += current >= edge
            silent = telling & (rank != LIMITS.index("measuring"))
            level[silent] = np.nan
            flags[silent] |= FLAGS["no_measurement"]
            read = _filled(np.where(telling, current, np.nan))
            state = pa.array(rank, mask=None if telling is True else ~telling)
        self._at_the_ends(flags, current, telling, tank)
        low_m, high_m = self.converter.follows_m[:, tank]
        for word, beyond in (("at_or_below", level <= low_m), ("at_or_above", level >= high_m)):
            if beyond.any():
                flags[beyond & ((flags & FLAGS[word]) == 0)] |= FLAGS[word] | FLAGS["not_followed"]
        return _Told(level, read, state, flags)

    def _lines(self, value: Reals, tank: Places) -> tuple[Reals, Reals, Any]:
        """Level and current of the rows, and whether the current is what was read."""
        if self.unit is None:
            line = self.units[0]
            if line is None or not len(value):
                return np.full_like(value, np.nan), np.full_like(value, np.nan), False
            level = line.level_at_0[tank] + line.level_per[tank] * value
            return level, line.current_at_0[tank] + line.current_per[tank] * value, line.tells_state
        level, current = np.full_like(value, np.nan), np.full_like(value, np.nan)
        telling, unit = np.zeros(len(value), dtype=bool), self.unit[self.kept]
        for number, line in enumerate(self.units):
            here = np.flatnonzero(unit == number)
            if line is None or not len(here):
                continue
            own = tank if np.ndim(tank) == 0 else tank[here]
            level[here] = line.level_at_0[own] + line.level_per[own] * value[here]
            current[here] = line.current_at_0[own] + line.current_per[own] * value[here]
            telling[here] = line.tells_state
        return level, current, telling

    def _at_the_ends(self, flags: NDArray[np.uint16], current: Reals, telling: Any, tank: Places) -> None:
        """Mark what stands where the current stops; a level beyond that is not clamped, it comes another way."""
        low, high = self.converter.ends_A[:, tank]
        less, more = current <= low + AT_THE_END_A, current >= high - AT_THE_END_A
        if telling is not True:
            less &= telling | (current >= low - AT_THE_END_A)
            more &= telling | (current <= high + AT_THE_END_A)
        if not (less.any() or more.any()):
            return
        measured = (flags & FLAGS["no_measurement"]) == 0
        rises = self.converter.rises[tank]
        flags[np.where(rises, less, more) & measured] |= FLAGS["at_or_below"]
        flags[np.where(rises, more, less) & measured] |= FLAGS["at_or_above"]

    def _amounts(self, told: _Told, tank: Places) -> dict[str, Any]:
        """The quantities of the rows and every uncertainty."""
        converter, grids = self.converter, self.converter.over_level
        spots = grids.spots(tank, told.level_m)
        found = {key: spots.read(grids.values[key], grids.rises[key]) for key in grids.values}
        found |= {key: shortened(found[key], DIGITS_OF_U) for key in (f"u_{each}" for each in converter.uncertain)}
        if not (self._is_warm or spots.outside.any() or grids.lacking[spots.row].any()):
            return {key: pa.array(each) for key, each in found.items()}
        beyond = spots.outside & ~np.isnan(told.level_m) & converter.has_tables[tank]
        told.flags[beyond] |= FLAGS["outside_table"]
        if self._is_warm:
            self._by_temperature(found, told, tank)
        _blank(found.values(), spots.outside)
        for key in converter.columns:
            if key in converter.uncertain and not _whole(found[key]):
                found[f"u_{key}"][np.isnan(found[key])] = np.nan
        return {key: _filled(each) for key, each in found.items()}

    @property
    def _is_warm(self) -> bool:
        """Whether a temperature that is logged moves a quantity."""
        return bool(self.mapping.temperature) and bool(self.converter.warm.any())

    def _by_temperature(self, found: dict[str, Reals], told: _Told, tank: Places) -> None:
        """Quantities at the temperature of the row in place of those at the stated one."""
        converter = self.converter
        column = self.batch.column(self.mapping.temperature)
        kelvin = _kelvin(numbers(column, self.mapping.decimal_comma)[0][self.kept], self.mapping)
        warm = np.broadcast_to(converter.warm[tank], len(kelvin))
        missing = ~np.isfinite(kelvin)
        spots = converter.slopes.spots(tank, kelvin)
        told.flags[warm & missing] |= FLAGS["no_temperature"]
        told.flags[warm & ~missing & spots.outside] |= FLAGS["temperature_outside"]
        volume = found[converter.columns[0]]
        for key in converter.of_temperature:
            value = spots.read(converter.slopes.values[key], converter.slopes.rises[key]) * volume
            value += spots.read(converter.at_0.values[key], converter.at_0.rises[key])
            value[spots.outside] = np.nan
            found[key] = np.where(warm, value, found[key])

    def _row_numbers(self) -> Whole:
        if ROW in self.batch.schema.names:
            return np.asarray(self.batch.column(ROW).to_numpy(zero_copy_only=False), dtype=np.int64)
        return np.arange(1, self.batch.num_rows + 1, dtype=np.int64)

    # ---------------------------------------------------------------- what is set aside

    def rejected(self) -> Any:
        """The rows that are set aside, each with its reason and what stood there."""
        rows = np.flatnonzero(self.codes)
        if not len(rows):
            return NONE_REJECTED
        at, none = pa.array(rows), pa.nulls(len(rows), pa.string())
        words = pa.DictionaryArray.from_arrays(pa.array(self.codes[rows]), pa.array(REASONS))
        named = (self.mapping.value, self.mapping.tag, self.mapping.unit_column)
        there = [self.stamps, *(self.batch.column(name) if name else None for name in named)]
        texts = [
            none if column is None else pc.utf8_slice_codeunits(_text_of(column.take(at)), 0, WIDEST)
            for column in there
        ]
        columns = [pa.array(self._row_numbers()[rows]), words.dictionary_decode(), *texts]
        return pa.RecordBatch.from_arrays(columns, schema=REJECTED)


def _coded(column: Any) -> tuple[list[str], NDArray[np.intp]]:
    """The different texts of a column, and the number of each row's; one more than there are where it has none."""
    array = column if pa.types.is_dictionary(column.type) else pc.dictionary_encode(_text_of(column))
    texts = [str(each) if each is not None else "" for each in array.dictionary.to_pylist()]
    at = np.asarray(pc.fill_null(array.indices.cast(pa.int64()), len(texts)).to_numpy(zero_copy_only=False))
    return texts, at.astype(np.intp)


def _text_of(column: Any) -> Any:
    array = plain(column)
    if pa.types.is_nested(array.type) or pa.types.is_binary(array.type) or pa.types.is_null(array.type):
        return pa.array([None if each is None else repr(each) for each in array.to_pylist()], pa.string())
    return array.cast(pa.string())


def _stamps(batch: Any, mapping: LogMapping) -> Any:
    """The times as they are logged: date and time of day in one, where they stand in two columns."""
    if not mapping.clock:
        return batch.column(mapping.time)
    both = [pc.utf8_trim_whitespace(_text_of(batch.column(name))) for name in (mapping.time, mapping.clock)]
    return pc.binary_join_element_wise(*both, " ")


def _kelvin(value: Reals, mapping: LogMapping) -> Reals:
    """A logged temperature in kelvin."""
    ice, per = in_unit(0.0, mapping.temperature_unit), in_unit(1.0, mapping.temperature_unit)
    return np.asarray((value - ice) / (per - ice))


def _blank(columns: Iterable[Reals], where: NDArray[np.bool_]) -> None:
    """Leave no number there."""
    if where.any():
        for column in columns:
            column[where] = np.nan


def _whole(values: Reals) -> bool:
    """Whether there is a number in every row."""
    return bool(np.isfinite(values.sum()))


def _filled(values: Reals) -> Any:
    """A column in which what is no number is nothing."""
    return pa.array(values) if _whole(values) else pa.array(values, from_pandas=True)
