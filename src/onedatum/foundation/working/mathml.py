"""Writing an expression for the page: MathML Core, which browsers set by themselves.

Every method gives one element or a row of elements, all text in them escaped. A symbol of one letter or a Greek name is
set as that letter, a longer one upright; an index is text, a number put in carries its unit as text.

Browsers do not break a line within a formula. So a line may become several elements side by side, parted before the
signs that stand outside all brackets, fractions and roots; the browser breaks between them.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from html import escape
from html.entities import name2codepoint

from onedatum.foundation.units import in_print
from onedatum.foundation.working.render import GREEK

ELEMENTS = frozenset({"math", "mrow", "mi", "mn", "mo", "mtext", "mspace", "mfrac", "msqrt", "msup", "msub"})
"""The elements this style writes: nothing else may stand in a formula of the page."""
_NAMESPACE = "http://www.w3.org/1998/Math/MathML"
_MINUS, _TIMES, _DOT, _OF = "−", "×", "⋅", "\N{FUNCTION APPLICATION}"
_BREAK = "\ue000"
"""Stands where a line may be broken, until its element is made; a character of no text."""
_SIGNS: Mapping[str, str] = {"-": _MINUS, "<=": "≤", ">=": "≥", "!=": "≠"}
_FUNCTIONS: Mapping[str, str] = {"asin": "arcsin", "acos": "arccos"}
_NUMBER = re.compile(r"(?P<minus>[-−]?)(?P<digits>[\d.]+)(?: × 10(?P<power>[⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)|e(?P<e>[-+]?\d+))?")
_LOWERED = str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "−0123456789")


class MathML:
    """The page: elements of MathML Core, without the `math` around them (`math_element` puts it there)."""

    def symbol(self, name: str) -> str:
        head, _, index = name.partition("_")
        letter = _letter(head)
        return f"<msub>{letter}{_text(index.replace('_', ','))}</msub>" if index else letter

    def value(self, text: str) -> str:
        found = _NUMBER.match(text)
        if found is None:
            return _text(text)
        unit = text[found.end() :].strip()
        parts = _number(found) + (f'<mspace width="0.17em"></mspace>{_text(in_print(unit))}' if unit else "")
        return _row(parts)

    def number(self, text: str) -> str:
        return self.value(text)

    def brackets(self, inner: str) -> str:
        return _row(f"{_sign('(')}{inner}{_sign(')')}")

    def negative(self, inner: str) -> str:
        return _row(f"{_sign(_MINUS)}{inner}")

    def sum(self, left: str, right: str, sign: str) -> str:
        return _joined(left, sign, right)

    def product(self, left: str, right: str) -> str:
        return _joined(left, _DOT, right)

    def quotient(self, over: str, under: str, bare_over: str, bare_under: str) -> str:
        return f"<mfrac>{_row(bare_over)}{_row(bare_under)}</mfrac>"

    def power(self, base: str, exponent: str, bare_exponent: str) -> str:
        return f"<msup>{_row(base)}{_row(bare_exponent)}</msup>"

    def call(self, name: str, arguments: list[str]) -> str:
        inner = _sign(",").join(arguments)
        if name == "sqrt":
            return f"<msqrt>{_row(inner)}</msqrt>"
        if name == "abs":
            return _row(f"{_bar('prefix')}{inner}{_bar('postfix')}")
        word = _letter(_FUNCTIONS[name]) if name in _FUNCTIONS else self.symbol(name)
        return _row(f"{word}{_sign(_OF)}{self.brackets(inner)}")

    def compare(self, left: str, right: str, sign: str) -> str:
        return _joined(left, sign, right)

    def equal(self, left: str, right: str) -> str:
        return _joined(left, "=", right)


def math_element(line: str) -> str:
    """A line of this style as elements of the page, "" for an empty line."""
    if not line:
        return ""
    opened = f'<math xmlns="{_NAMESPACE}" displaystyle="true">'
    return "\N{ZERO WIDTH SPACE}".join(f"{opened}{_row(part)}</math>" for part in line.split(_BREAK))


def symbol_element(name: str) -> str:
    """One symbol as an element that stands within a line of text."""
    return f'<math xmlns="{_NAMESPACE}">{MathML().symbol(name)}</math>' if name else ""


def _row(parts: str) -> str:
    return f"<mrow>{parts.replace(_BREAK, '')}</mrow>"


def _joined(left: str, sign: str, right: str) -> str:
    """Two sides with the sign between them, which keeps its room where a broken line begins with it."""
    return f'{left}{_BREAK}<mo form="infix">{escape(_SIGNS.get(sign, sign))}</mo>{right}'


def _sign(sign: str) -> str:
    return f"<mo>{escape(_SIGNS.get(sign, sign))}</mo>"


def _bar(form: str) -> str:
    """A bar of an absolute value: it opens and closes by what it is told, its sign does not say which."""
    return f'<mo fence="true" form="{form}">|</mo>'


def _text(text: str) -> str:
    return f"<mtext>{escape(text.replace(_BREAK, ''))}</mtext>"


def _letter(head: str) -> str:
    """A letter slanted, as a browser does by itself; a longer name is told to stand upright, whatever the style."""
    if head in GREEK:
        return f"<mi>{chr(name2codepoint[head])}</mi>"
    return f"<mi>{escape(head)}</mi>" if len(head) == 1 else f'<mi mathvariant="normal">{escape(head)}</mi>'


def _number(found: re.Match[str]) -> str:
    sign = _sign(_MINUS) if found["minus"] else ""
    power = (found["power"] or "").translate(_LOWERED)
    if found["e"]:
        power = str(int(found["e"])).replace("-", _MINUS)
    scale = f"{_sign(_TIMES)}<msup><mn>10</mn><mn>{power}</mn></msup>" if power else ""
    return f"{sign}<mn>{found['digits']}</mn>{scale}"
