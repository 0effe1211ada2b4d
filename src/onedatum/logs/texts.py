"""Numbers and times out of columns, texts or typed: what cannot be read is marked, and nothing stops."""

from __future__ import annotations

import re
from contextlib import suppress
from typing import Any

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc
from numpy.typing import NDArray

from onedatum.foundation.numerics import Reals
from onedatum.logs.in_iso import in_iso
from onedatum.logs.mapping import IN_TEXT, ISO, SINCE_1970, LogMapping
from onedatum.logs.reasons import BAD_TIME, CODE, IN_FOLD, IN_GAP, NO_NUMBER, NO_TIME, NO_VALUE, NOT_FINITE
from onedatum.logs.zones import Whole, to_utc

Codes = NDArray[np.uint8]
NUMBER = r"^\s*[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d{1,3})?\s*$"
NO_FINITE = r"(?i)^\s*[+-]?(nan|inf|infinity)\s*$"
ISO_FORM = (
    r"^\s*(?P<Y>\d{4})-(?P<m>\d\d)-(?P<d>\d\d)[T ](?P<H>\d\d):(?P<M>\d\d)(?::(?P<S>\d\d)(?:[.,](?P<f>\d{1,6}))?\d*)?"
    r"\s*(?P<z>Z|[+-]\d\d:?\d\d)?\s*$"
)
PLAIN_ISO = r"^\d{4}-\d\d-\d\d[T ]\d\d:\d\d(:\d\d(\.\d{1,6})?)?(Z|[+-]\d\d:?\d\d)?$"
PARTS = {
    "Y": r"\d{4}",
    "m": r"\d{1,2}",
    "d": r"\d{1,2}",
    "H": r"\d{1,2}",
    "M": r"\d{1,2}",
    "S": r"\d{1,2}",
    "f": r"\d{1,6}",
    "z": r"Z|[+-]\d\d:?\d\d",
}
TOUCHING = re.compile(r"(?<=%)([YmdHMSf])(?=\d*%([YmdHMSf]))")
"""Two fields with nothing but digits between: whether 12345 is 01:23:45 or 12:34:05 nobody can tell."""
LATEST_us, EARLIEST_us = 9e18, -9.2e15
DAY_us, MINUTE_us, SECOND_us = 86_400_000_000, 60_000_000, 1_000_000


def plain(array: Any) -> Any:
    """A column as one plain array: dictionaries opened, chunks put together."""
    if isinstance(array, pa.ChunkedArray):
        array = array.combine_chunks()
    return array.dictionary_decode() if pa.types.is_dictionary(array.type) else array


def is_text(array: Any) -> bool:
    """Whether a column holds texts."""
    kind = array.type
    return bool(pa.types.is_string(kind) or pa.types.is_large_string(kind) or pa.types.is_string_view(kind))


def is_number(array: Any) -> bool:
    """Whether a column holds numbers."""
    kind = array.type
    return bool(pa.types.is_integer(kind) or pa.types.is_floating(kind) or pa.types.is_decimal(kind))


def numbers(column: Any, decimal_comma: bool = False) -> tuple[Reals, Codes]:
    """A column as numbers, NaN where there is none, and why."""
    array = plain(column)
    if decimal_comma and is_text(array):
        array = pc.replace_substring(pc.replace_substring(array, ".", "?"), ",", ".")
    codes = np.zeros(len(array), dtype=np.uint8)
    if (plainly := _plain_numbers(array)) is not None:
        return plainly, codes
    if is_number(array):
        found = _floats(array)
        _mark(codes, _nothing(array), NO_VALUE)
    elif is_text(array):
        sound = pc.fill_null(pc.match_substring_regex(array, NUMBER), False)
        found = _floats(pc.if_else(sound, pc.utf8_trim_whitespace(array), pa.scalar(None, array.type)))
        _mark(codes, _empty(array), NO_VALUE)
        _mark(codes, _true(pc.match_substring_regex(array, NO_FINITE)), NOT_FINITE)
        _mark(codes, ~_true(sound), NO_NUMBER)
    else:
        found = np.full(len(array), np.nan)
        _mark(codes, _nothing(array), NO_VALUE)
        _mark(codes, np.ones(len(array), dtype=bool), NO_NUMBER)
    _mark(codes, ~np.isfinite(found), NOT_FINITE)
    return found, codes


def _plain_numbers(array: Any) -> Reals | None:
    """Texts that are all plain numbers, read at once; None where any is not."""
    if array.null_count or not is_text(array) or not pc.all(pc.match_substring_regex(array, NUMBER)).as_py():
        return None
    try:
        found = _floats(array)
    except pa.ArrowException:
        return None
    return found if np.isfinite(found).all() else None


def _floats(array: Any) -> Reals:
    return np.asarray(array.cast(pa.float64(), safe=False).to_numpy(zero_copy_only=False), dtype=np.float64)


def _empty(array: Any) -> NDArray[np.bool_]:
    return ~_true(pc.match_substring_regex(array, r"\S"))


def _true(array: Any) -> NDArray[np.bool_]:
    return np.asarray(pc.fill_null(array, False).to_numpy(zero_copy_only=False), dtype=bool)


def _mark(codes: Codes, where: NDArray[np.bool_], reason: str) -> None:
    if where.any():
        codes[where & (codes == 0)] = CODE[reason]


def _nothing(array: Any) -> NDArray[np.bool_]:
    """Where a column has no value."""
    return np.asarray(array.is_null()) if array.null_count else np.zeros(len(array), dtype=bool)


def times(column: Any, mapping: LogMapping) -> tuple[Whole, Codes]:
    """A column as microseconds since 1970 in UTC, 0 where there is none, and why."""
    array = plain(column)
    codes = np.zeros(len(array), dtype=np.uint8)
    _mark(codes, _nothing(array), NO_TIME)
    if mapping.form in SINCE_1970:
        return _since_1970(array, float(SINCE_1970[mapping.form]), codes), codes
    if pa.types.is_timestamp(array.type):
        whole = array.cast(pa.timestamp("us", array.type.tz), safe=False).view(pa.int64())
        whole = pc.fill_null(whole, 0) if whole.null_count else whole
        local, offset = np.asarray(whole.to_numpy(zero_copy_only=False)), None
        zoned = array.type.tz is not None
    elif (plainly := _plain_times(array, mapping.form)) is not None:
        local, offset = np.asarray(plainly.view(pa.int64())), None
        zoned = plainly.type.tz is not None
    elif is_text(array):
        local, offset = _texts(array, mapping.form, codes)
        zoned = False
    else:
        _mark(codes, np.ones(len(array), dtype=bool), BAD_TIME)
        return np.zeros(len(array), dtype=np.int64), codes
    return (local if zoned else _in_utc(local, offset, mapping.zone, codes)), codes


def _plain_times(array: Any, form: str) -> Any | None:
    """Times that all state their offset, or none of them, read at once; None where any is written otherwise."""
    if array.null_count or not is_text(array) or not len(array):
        return None
    texts = array if form == ISO else in_iso(array, form)
    if texts is None or not pc.all(pc.match_substring_regex(texts, PLAIN_ISO)).as_py():
        return None
    for zone in ("UTC", None):
        with suppress(pa.ArrowException):
            found = texts.cast(pa.timestamp("us", zone))
            return found if pc.min(found.view(pa.int64())).as_py() > EARLIEST_us else None
    return None


def _since_1970(array: Any, micro: float, codes: Codes) -> Whole:
    """Counted times, such as seconds, each of so many microseconds."""
    found, wrong = numbers(array)
    _mark(codes, wrong == CODE[NO_VALUE], NO_TIME)
    _mark(codes, (wrong > 0) | ~(np.abs(found) * micro < LATEST_us), BAD_TIME)
    return np.asarray(np.round(np.where(codes == 0, found, 0.0) * micro), dtype=np.int64)


def _in_utc(local: Whole, offset: tuple[Whole, NDArray[np.bool_]] | None, zone: str, codes: Codes) -> Whole:
    stated = np.zeros(len(local), dtype=bool) if offset is None else offset[1]
    found = local if offset is None else local - offset[0]
    if zone == IN_TEXT:
        _mark(codes, ~stated, BAD_TIME)
        return found
    bare = (codes == 0) & ~stated
    if not bare.any():
        return found
    moved, gap, fold = to_utc(local[bare], zone)
    found = found.copy()
    found[bare] = moved
    at = np.flatnonzero(bare)
    codes[at[gap]] = CODE[IN_GAP]
    codes[at[fold]] = CODE[IN_FOLD]
    return found


def _pattern(form: str) -> str:
    if form == ISO:
        return ISO_FORM
    found = re.escape(form)
    touching = {letter for pair in TOUCHING.findall(form) for letter in pair}
    for letter, part in PARTS.items():
        if letter in touching:
            part = part.replace("{1,2}", "{2}")
        found = found.replace(f"%{letter}", f"(?P<{letter}>{part})", 1)
    return rf"^\s*{found}\s*$"


def _texts(array: Any, form: str, codes: Codes) -> tuple[Whole, tuple[Whole, NDArray[np.bool_]]]:
    """Local microseconds since 1970 of texts, and the offset where it is stated."""
    _mark(codes, _empty(array), NO_TIME)
    groups = pc.extract_regex(array, _pattern(form))
    _mark(codes, np.asarray(groups.is_null()), BAD_TIME)
    names = {field.name for field in groups.type}

    def part(name: str, none: int = 0) -> Whole:
        if name not in names:
            return np.full(len(array), none, dtype=np.int64)
        text = pc.struct_field(groups, name)
        text = pc.if_else(pc.equal(text, ""), str(none), text)
        return np.asarray(pc.fill_null(text.cast(pa.int64()), none).to_numpy(zero_copy_only=False))

    year, month, day = part("Y", 1970), part("m", 1), part("d", 1)
    hour, minute, second = part("H"), part("M"), part("S")
    months = ((year - 1970) * 12 + np.clip(month, 1, 12) - 1).astype("datetime64[M]")
    days = months.astype("datetime64[D]") + (day - 1)
    wrong = (month < 1) | (month > 12) | (day < 1) | (days.astype("datetime64[M]") != months) | (year < 1678)
    wrong |= (hour > 23) | (minute > 59) | (second > 59)
    _mark(codes, wrong, BAD_TIME)
    local = days.astype(np.int64) * DAY_us + (hour * 60 + minute) * MINUTE_us + second * SECOND_us
    local += _fraction(groups, names)
    return local, _offset(groups, names)


def _fraction(groups: Any, names: set[str]) -> Whole:
    if "f" not in names:
        return np.zeros(len(groups), dtype=np.int64)
    text = pc.utf8_rpad(pc.fill_null(pc.struct_field(groups, "f"), ""), 6, "0")
    return np.asarray(text.cast(pa.int64()).to_numpy(zero_copy_only=False))


def _offset(groups: Any, names: set[str]) -> tuple[Whole, NDArray[np.bool_]]:
    """The offset of each, and whether it is stated."""
    none = np.zeros(len(groups), dtype=np.int64), np.zeros(len(groups), dtype=bool)
    if "z" not in names:
        return none
    text = pc.fill_null(pc.struct_field(groups, "z"), "")
    coded = text.dictionary_encode()
    worth = np.array([_offset_us(each) for each in coded.dictionary.to_pylist()] or [0], dtype=np.int64)
    stated = np.array([bool(each) for each in coded.dictionary.to_pylist()] or [False])
    at = np.asarray(coded.indices.to_numpy(zero_copy_only=False))
    return worth[at], stated[at]


def _offset_us(text: str) -> int:
    if text in ("", "Z"):
        return 0
    digits = text[1:].replace(":", "")
    size = (int(digits[:2]) * 60 + int(digits[2:])) * MINUTE_us
    return -size if text[0] == "-" else size
