"""The grammar of quantity texts: one decimal number, white space, one unit. Nothing is evaluated.

What does not fit is refused with the reason and, where the meaning is plain, with the text to write instead.
"""

from __future__ import annotations

import re
from decimal import Decimal
from typing import NamedTuple

LONGEST = 60
"""Characters of a quantity text."""

LARGEST_EXPONENT = 30
"""A power of ten beyond this is a slip or an attack, not a quantity of this trade."""

_SPACES = str.maketrans({"\u00a0": " ", "\u202f": " ", "\u2009": " "})
_SIGNS_OF_UNITS = {"°C": "degC", "°F": "degF", "°": "deg", "µ": "u", "μ": "u", "Ω": "ohm", "\u2126": "ohm"}
_SIGNS_OF_UNITS |= {"²": "2", "³": "3", "·": ".", "⋅": "."}
_SHORT_PRESSURES = re.compile(r"\b(bar|psi)([ga])\b")
_GALLONS = re.compile(r"\b(US|UK) +gal\b")
_WATER = re.compile(r"\b(in|ft|mm|m)H2O ?\((4 ?degC|20 ?degC|60 ?degF)\)")
_WATERS = {"4degC": "cold", "20degC": "room", "60degF": "sixty"}
"""Temperatures at which a column of water is a pressure, and their words in the names of the vocabulary."""

_NUMBER = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE]([+-]?\d+))?", re.ASCII)
_FEET_AND_INCHES = re.compile(r"([+-]?)(\d+(?:\.\d*)?) *ft +(\d+(?:\.\d*)?) *in", re.ASCII)
_NOT_FINITE = re.compile(r"[+-]?(inf(inity)?|s?nan)\b", re.IGNORECASE)
_COMMA = re.compile(r"([+-]?\d+),(\d+)(.*)", re.ASCII)
_GROUPED = re.compile(r"([+-]?\d{1,3})((?:[ '’_]\d{3})+)(?!\d)(.*)", re.ASCII)
_RANGE = re.compile(r" *(\.\.|…|-|–|to\b) *[+-]?\d")

_FACTOR = r"([A-Za-z_]+)\^?([2-6])?"
_PRODUCT = rf"{_FACTOR.replace('(', '(?:')}(?:[.*]{_FACTOR.replace('(', '(?:')})*"
_UNIT = re.compile(rf"(?P<above>1|{_PRODUCT})(?P<below>(?:/(?:{_FACTOR.replace('(', '(?:')}|\({_PRODUCT}\)))*)")
_REFERENCE = re.compile(r"([A-Za-z]+)\(([ag])\)")

SIGNS = {
    '"': ("The sign for inches is easily lost or doubled", "Write in"),
    "″": ("The sign for inches is easily lost or doubled", "Write in"),
    "'": ("The sign for feet may also be minutes of arc", "Write ft"),
    "′": ("The sign for feet may also be minutes of arc", "Write ft"),
    "’": ("The sign for feet may also be minutes of arc", "Write ft"),
    "‰": ("Per mille is not read", "Write a per cent by kind, for example 0.5 %value"),
}
"""Signs that are no units here: why, and what to write."""


class GrammarError(Exception):
    """A text is outside the grammar: why, and what to write instead where that is plain."""

    def __init__(self, why: str, remedy: str = "") -> None:
        super().__init__(why)
        self.why, self.remedy = why, remedy


class Parts(NamedTuple):
    """A quantity text taken apart."""

    number: Decimal
    written: str
    """The number as it was written."""
    unit: str
    """The unit text, its signs spelled out; "" where none is given."""


class Factor(NamedTuple):
    """One unit of an expression with its power, negative below the line."""

    name: str
    power: int


def take_apart(text: str) -> Parts:
    """Number and unit text of a quantity; feet with inches come back as inches."""
    clean = _cleaned(text)
    both = _FEET_AND_INCHES.fullmatch(clean)
    if both:
        return _inches(clean, *both.groups())
    found = _NUMBER.match(clean)
    rest = clean[found.end() :] if found else clean
    if found is None or (rest and (not rest.startswith(" ") or _continues(rest))):
        raise _misread_number(clean, found[0] if found else "", rest)
    if found[1] and (len(found[1]) > 4 or abs(int(found[1])) > LARGEST_EXPONENT):
        raise GrammarError(f"The power of ten goes from -{LARGEST_EXPONENT} to {LARGEST_EXPONENT}")
    return Parts(Decimal(found[0]), found[0], spelled_out(rest.strip()))


def spelled_out(unit: str) -> str:
    """A unit text with its signs spelled out: `°C` gives `degC`, `µS/cm` `uS/cm`, `m³` `m3`, `psig` `psi(g)`."""
    for sign, letters in _SIGNS_OF_UNITS.items():
        unit = unit.replace(sign, letters)
    unit = _WATER.sub(lambda found: f"{found[1]}_water_{_WATERS[found[2].replace(' ', '')]}", unit)
    return _SHORT_PRESSURES.sub(r"\1(\2)", _GALLONS.sub(r"\1_gal", unit))


def factors(unit: str) -> list[Factor]:
    """A unit text taken apart into its units and powers; `GrammarError` where it is no product or quotient of units."""
    found = _UNIT.fullmatch(unit)
    if found is None:
        raise _misread_unit(unit)
    above = [Factor(name, int(power or 1)) for name, power in re.findall(_FACTOR, found["above"])]
    below = [Factor(name, -int(power or 1)) for name, power in re.findall(_FACTOR, found["below"])]
    if not above and not below:
        raise GrammarError(f"{quoted(unit)} is no unit")
    return above + below


def pressure_reference(unit: str) -> tuple[str, str]:
    """`bar(g)` gives `bar` and `g`; any other unit text itself and ""."""
    found = _REFERENCE.fullmatch(unit)
    return (found[1], found[2]) if found else (unit, "")


def as_written(unit: str) -> str:
    """A unit text as people write it."""
    for at, word in _WATERS.items():
        unit = unit.replace(f"_water_{word}", f"H2O({at.replace('deg', ' deg')})")
    return unit.replace("_gal", " gal")


def quoted(text: str, longest: int = 40) -> str:
    """A user's text for a message: in quotes, shortened, with every invisible character spelled out."""
    short = text if len(text) <= longest else text[:longest] + "…"
    return "'" + "".join(sign if sign.isprintable() else ascii(sign)[1:-1] for sign in short) + "'"


def _cleaned(text: str) -> str:
    if len(text) > LONGEST:
        raise GrammarError(f"It has {len(text)} characters; a quantity has at most {LONGEST}")
    clean = text.translate(_SPACES).strip(" ")
    if not clean:
        raise GrammarError("Nothing is written there", "Write unknown if it is not known")
    if not clean.isprintable():
        raise GrammarError("It holds a control character or another invisible one")
    if clean.startswith("\u2212"):
        clean = "-" + clean[1:]
    return clean


def _inches(clean: str, sign: str, feet: str, inches: str) -> Parts:
    """Feet and inches; the sign belongs to the whole."""
    if Decimal(feet) % 1:
        raise GrammarError("Feet that are followed by inches are a whole number", "Write feet alone, or inches alone")
    if Decimal(inches) >= 12:
        raise GrammarError("Inches behind feet are less than 12", "Carry them over into feet, or write inches alone")
    total = 12 * Decimal(feet) + Decimal(inches)
    return Parts(-total if sign == "-" else total, clean, "in")


def _continues(rest: str) -> bool:
    """Whether what follows a number and a space is still number-like, or an expression; `1/K` is a unit."""
    after = rest.lstrip(" ")
    return bool(_RANGE.match(rest) or after[:1] == "±" or (after[:1].isdigit() and not re.match(r"1/[A-Za-z(]", after)))


def _misread_number(clean: str, number: str, rest: str) -> GrammarError:
    """Why a text does not begin with one number and a space, by the slip that it most looks like."""
    if _NOT_FINITE.match(clean):
        return GrammarError("A number has a finite value", "Write unknown if it is not known")
    if not number:
        return _misread_start(clean)
    grouped = _GROUPED.fullmatch(clean)
    if grouped:
        joined = grouped[1] + re.sub(r"\D", "", grouped[2])
        return GrammarError("Digits are written without separators", f"Write {joined}{grouped[3]}")
    comma = _COMMA.fullmatch(clean)
    if comma:
        return _misread_comma(comma[1], comma[2], comma[3])
    sign = rest.strip(" ")[:1]
    if sign in SIGNS and number:
        return GrammarError(*SIGNS[sign])
    if "±" in rest:
        return GrammarError("An uncertainty has a key of its own", "Write the value alone, and the other under within")
    if _RANGE.match(rest):
        return GrammarError("A range has keys of its own", "Write {min: ..., max: ...}")
    if rest.lstrip(" ")[:1] in tuple("*/+-0123456789("):
        return GrammarError("One number is read, and nothing is calculated", "Write the result: 4.5 for 4 1/2")
    if _UNIT.fullmatch(spelled_out(rest)) and not rest.startswith("_"):
        return GrammarError("A space stands between number and unit", f"Write {number} {rest}")
    return GrammarError(f"What follows the number {number} is no unit")


def _misread_start(clean: str) -> GrammarError:
    if clean[0] in "<>~≈≤≥±":
        return GrammarError(
            f"It begins with {clean[0]}", "Write the value alone, and how far it may be out under within"
        )
    if clean[0].isnumeric():
        return GrammarError("Digits are 0 to 9")
    return GrammarError("It does not begin with a number, for example 7.5")


def _misread_comma(whole: str, after: str, rest: str) -> GrammarError:
    """A comma may be a decimal sign or part the thousands; with three digits behind it nobody can tell."""
    why = "The decimal sign is a point"
    if len(after) == 3 and len(whole.lstrip("+-")) <= 3 and whole.lstrip("+-") != "0":
        return GrammarError(f"{why}; thousands are not parted", f"Write {whole}.{after} or {whole}{after}, as is meant")
    return GrammarError(why, f"Write {whole}.{after}{rest if ',' not in rest else ''}")


def _misread_unit(unit: str) -> GrammarError:
    if " " in unit and factors_or_none(unit.replace(" ", ".")):
        if len(set(unit.split())) < len(unit.split()):
            return GrammarError("The unit stands there twice")
        return GrammarError("Units that multiply are joined by a point", f"Write {unit.replace(' ', '.')}")
    return GrammarError(f"{quoted(as_written(unit))} is no unit", "Units look like mm, kg/m3, 1/K, mPa.s or W/(m.K)")


def factors_or_none(unit: str) -> list[Factor] | None:
    """The factors of a unit text, or None where it is outside the grammar."""
    return factors(unit) if _UNIT.fullmatch(unit) and unit != "1" else None
