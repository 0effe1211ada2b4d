"""Reading quantities: a text that a person wrote in, a float in SI out, or one sentence that says what is wrong."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from decimal import Decimal
from typing import Literal, NamedTuple, TypeVar

from onedatum.foundation.errors import QuantityError
from onedatum.foundation.units import lookalikes, registry
from onedatum.foundation.units.dimensions import DIMENSIONS, SHARES, Dimension, dimension
from onedatum.foundation.units.grammar import (
    GrammarError,
    Parts,
    as_written,
    factors,
    pressure_reference,
    quoted,
    take_apart,
)
from onedatum.foundation.units.nearest import nearest

Reference = Literal["absolute", "gauge"]
_Result = TypeVar("_Result")


class Pressure(NamedTuple):
    """A pressure with what it counts from."""

    pressure_Pa: float
    reference: Reference


def read_quantity(text: str, dimension_word: str) -> float:
    """The value of a quantity text in SI: kelvin for a temperature, a fraction for a per cent.

    `QuantityError` says what is wrong with the text; an unknown dimension is the programmer's `ValueError`.
    """
    wanted = dimension(dimension_word)
    if wanted.word == "pressure (either)":
        raise ValueError("a pressure with either reference is read by read_pressure")
    return _guarded(text, wanted.allowed, lambda: float(_in_si(take_apart(text), wanted)))


def read_pressure(text: str) -> Pressure:
    """A pressure whose unit says what it counts from: `bar(g)` from the atmosphere, `bar(a)` from vacuum."""
    either = dimension("pressure (either)")

    def read() -> Pressure:
        parts = take_apart(text)
        reference: Reference = "absolute" if pressure_reference(parts.unit)[1] == "a" else "gauge"
        kind = DIMENSIONS[f"pressure ({reference})"]
        return Pressure(float(_in_si(parts, kind)), reference)

    return _guarded(text, either.allowed, read)


def read_one_of(text: str, dimension_words: Sequence[str]) -> tuple[float, str]:
    """The value in SI and its dimension, for a text that may be of several: `2 mm` or `0.5 %value`."""
    first: QuantityError | None = None
    for word in dimension_words:
        try:
            return read_quantity(text, word), word
        except QuantityError as error:
            first = first or error
    if first is None:
        raise ValueError("no dimension was asked for")
    kinds = [dimension(word) for word in dimension_words]
    allowed = " or ".join(kind.named for kind in kinds) + f", for example {kinds[0].example}"
    raise QuantityError(allowed, first.got, first.why, first.remedy)


def _guarded(text: str, allowed: str, read: Callable[[], _Result]) -> _Result:
    """Turn what is outside the grammar into the error for people."""
    try:
        return read()
    except GrammarError as misread:
        raise QuantityError(allowed, quoted(text), misread.why, misread.remedy) from None


def _in_si(parts: Parts, wanted: Dimension) -> Decimal:
    """The exact value in SI of a text of the wanted dimension."""
    if wanted.word == "number":
        return _plain_number(parts)
    if not parts.unit:
        raise GrammarError("The unit is missing")
    lookalikes.refuse_sign(parts.unit)
    if "%" in parts.unit or wanted.word in SHARES.values():
        return _share(parts, wanted)
    if wanted.si in ("Pa(a)", "Pa(g)"):
        return _pressure(parts, wanted)
    _refuse_reference(parts.unit, wanted)
    _check_unit(parts.unit, wanted)
    if wanted.word == "temperature":
        return _temperature(parts)
    return parts.number * registry.worth(parts.unit).factor


def _plain_number(parts: Parts) -> Decimal:
    if parts.unit:
        raise GrammarError(f"{quoted(as_written(parts.unit))} is a unit, and none is wanted here")
    return parts.number


def _share(parts: Parts, wanted: Dimension) -> Decimal:
    """A per cent of the wanted kind, as a fraction."""
    lookalikes.refuse_per_cent(parts.unit, wanted)
    if wanted.word not in SHARES.values() or parts.unit not in SHARES:
        raise _mismatch(parts.unit, wanted)
    if SHARES[parts.unit] != wanted.word:
        raise _mismatch(parts.unit, wanted)
    return parts.number / 100


def _pressure(parts: Parts, wanted: Dimension) -> Decimal:
    """A pressure above vacuum or above the atmosphere; the unit must say which."""
    unit, reference = pressure_reference(parts.unit)
    _check_unit(unit, DIMENSIONS["pressure difference"], wanted)
    if not reference:
        above = f"{parts.written} {unit}"
        raise GrammarError(
            f"A bare {unit} does not say what it counts from",
            f"Write {above}(g) if above the atmosphere, {above}(a) if above vacuum",
        )
    if f"({reference})" != wanted.si[2:]:
        raise _mismatch(parts.unit, wanted)
    value = parts.number * registry.worth(unit).factor
    if reference == "a" and value < 0:
        raise GrammarError(
            "Nothing is below vacuum", f"Write {parts.written} {unit}(g) if it counts from the atmosphere"
        )
    return value


def _temperature(parts: Parts) -> Decimal:
    value = registry.in_kelvin(parts.number, parts.unit)
    if value < 0:
        raise GrammarError("That is below absolute zero, -273.15 degC")
    return value


def _refuse_reference(unit: str, wanted: Dimension) -> None:
    """A difference of pressures, or any other quantity, has no reference."""
    bare, reference = pressure_reference(unit)
    if not reference or bare not in registry.vocabulary():
        return
    if wanted.si == "Pa":
        raise GrammarError(f"{wanted.named.capitalize()} has no reference", f"Write {bare} without ({reference})")
    raise _mismatch(unit, wanted)


def _check_unit(unit: str, measured: Dimension, wanted: Dimension | None = None) -> None:
    """Refuse a unit that is unknown, ambiguous or of another dimension than the one measured."""
    wanted = wanted or measured
    lookalikes.refuse_name("".join(sign for sign in unit if not sign.isdigit()))
    parts = factors(unit)
    for name, _ in parts:
        lookalikes.refuse_name(name)
    unknown = next((name for name, _ in parts if name not in registry.vocabulary()), None)
    if unknown is not None:
        raise _unknown(unit, unknown, wanted)
    if registry.worth(unit).bases != registry.bases_of(measured):
        raise _mismatch(unit, wanted)
    if wanted.word == "temperature" and unit not in wanted.offered:
        raise GrammarError(f"{quoted(unit)} is no scale of temperature", f"Write {_choice(wanted.offered)}")


def _unknown(unit: str, name: str, wanted: Dimension) -> GrammarError:
    """A unit that is not in the vocabulary, with the nearest of the wanted dimension."""
    by_spelling = {spelling: spelling for spelling in wanted.offered}
    by_spelling |= {word: ours for word, ours in _WORDS.items() if ours in wanted.offered}
    near = nearest(as_written(unit), by_spelling)
    remedy = f"Write {by_spelling[near]}, if that is meant" if near else f"Write {_choice(wanted.offered)}"
    return GrammarError(f"{quoted(as_written(name))} is no unit known here", remedy)


def _mismatch(unit: str, wanted: Dimension) -> GrammarError:
    """A unit of another dimension, both named in words."""
    return GrammarError(
        f"but {as_written(unit)} is a unit of {_called(unit)}; {wanted.named} is written in {_choice(wanted.offered)}"
    )


def _called(unit: str) -> str:
    """What a readable unit measures, in words."""
    if unit in SHARES:
        return SHARES[unit]
    bare, reference = pressure_reference(unit)
    if reference:
        return {"a": "absolute pressure", "g": "gauge pressure"}[reference]
    if unit == "A.s":
        return "charge"
    parts = factors(unit)
    if any(name not in registry.vocabulary() for name, _ in parts):
        return "nothing known here"
    kind = registry.kind_of(bare)
    if kind is None:
        return "another kind"
    return "pressure" if kind.si == "Pa" else kind.word


def _choice(units: Sequence[str]) -> str:
    """`mm, m or in`."""
    return units[0] if len(units) == 1 else f"{', '.join(units[:-1])} or {units[-1]}"


_WORDS = {
    "millimetre": "mm", "millimeter": "mm", "metre": "m", "meter": "m", "centimetre": "cm", "inch": "in",
    "inches": "in", "foot": "ft", "feet": "ft", "litre": "L", "liter": "L", "litres": "L", "liters": "L",
    "ltr": "L", "gram": "g", "grams": "g", "kilogram": "kg", "kilograms": "kg", "kilo": "kg", "kgs": "kg",
    "tonne": "t", "tonnes": "t", "pound": "lb", "pounds": "lb", "lbs": "lb", "second": "s", "seconds": "s",
    "sec": "s", "minute": "min", "minutes": "min", "mins": "min", "hour": "h", "hours": "h", "hr": "h",
    "hrs": "h", "day": "d", "days": "d", "celsius": "degC", "deg C": "degC", "fahrenheit": "degF",
    "deg F": "degF", "kelvin": "K", "volt": "V", "volts": "V", "ampere": "A", "amp": "A", "amps": "A",
    "milliamp": "mA", "ohms": "ohm", "kilohm": "kohm", "kiloohm": "kohm", "pascal": "Pa",
    "hertz": "Hz", "newton": "N", "degrees": "deg", "degree": "deg", "cbm": "m3", "cum": "m3", "cc": "cm3",
    "cps": "cP", "centipoise": "cP", "centistokes": "cSt", "sqmm": "mm2", "cubic metre": "m3", "m/sec": "m/s",
    "lpm": "L/min", "cmh": "m3/h", "kg/cbm": "kg/m3", "kg/hr": "kg/h", "m3/hr": "m3/h", "mpas": "mPa.s",
    "micron": "um", "micrometre": "um",
}  # fmt: skip
"""Words and habits, and the unit they mean."""
