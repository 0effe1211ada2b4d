"""Formulas and symbols as the page shows them: as MathML, and as the plain line that says the same."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from onedatum.foundation.units import in_print
from onedatum.foundation.working import MathML, Plain, math_element, symbol_element

_PLAIN, _MATHML = Plain(), MathML()


@dataclass(frozen=True)
class Maths:
    """A formula, a formula with numbers, or a symbol."""

    mathml: str
    """Elements of MathML with all text in them escaped; "" where there is none."""
    text: str
    """The same in ordinary characters, for a reader without MathML."""

    def __bool__(self) -> bool:
        return bool(self.text)


NO_MATHS = Maths("", "")
"""Where there is no formula."""


def maths(line: Callable[[Plain | MathML], str]) -> Maths:
    """What `line` writes, in both styles."""
    return Maths(math_element(line(_MATHML)), in_print(line(_PLAIN)))


def symbol(name: str) -> Maths:
    """A symbol within a line of text; an empty name gives nothing."""
    return Maths(symbol_element(name), name)
