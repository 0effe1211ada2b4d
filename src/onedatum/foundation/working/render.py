"""Writing an expression for people: as plain text for the terminal, as Typst maths for paper.

The page has a style of its own, `mathml`.
"""

from __future__ import annotations

import ast
from collections.abc import Mapping
from typing import Protocol

from onedatum.foundation.errors import ExpressionError

GREEK = frozenset(
    "alpha beta gamma delta epsilon zeta eta theta kappa lambda mu nu xi pi rho sigma tau phi chi psi omega "
    "Gamma Delta Theta Lambda Xi Pi Sigma Phi Psi Omega".split()
)
"""Names of letters that are set as the letter."""
_COMPARISONS: Mapping[type[ast.cmpop], str] = {
    ast.Lt: "<",
    ast.LtE: "<=",
    ast.Gt: ">",
    ast.GtE: ">=",
    ast.NotEq: "!=",
}
_LOWERED = str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789")
_SUM, _PRODUCT, _UNARY, _POWER, _ATOM = 1, 2, 3, 4, 5


class Style(Protocol):
    """How the parts of an expression are put together."""

    def symbol(self, name: str) -> str:
        """A symbol; what follows its first underscore is an index."""

    def value(self, text: str) -> str:
        """A number with its unit, put in for a symbol."""

    def number(self, text: str) -> str:
        """A number of the equation itself."""

    def brackets(self, inner: str) -> str:
        """inner in brackets"""

    def negative(self, inner: str) -> str:
        """inner with the other sign"""

    def sum(self, left: str, right: str, sign: str) -> str:
        """left plus or minus right"""

    def product(self, left: str, right: str) -> str:
        """left times right"""

    def quotient(self, over: str, under: str, bare_over: str, bare_under: str) -> str:
        """over / under; the bare forms carry no brackets of their own"""

    def power(self, base: str, exponent: str, bare_exponent: str) -> str:
        """base to the exponent; the bare form carries no brackets of its own"""

    def call(self, name: str, arguments: list[str]) -> str:
        """a function of arguments"""

    def compare(self, left: str, right: str, sign: str) -> str:
        """left compared with right"""

    def equal(self, left: str, right: str) -> str:
        """left equals right"""


class _Line:
    """What all styles that write one line of characters have in common."""

    def number(self, text: str) -> str:
        return text

    def brackets(self, inner: str) -> str:
        return f"({inner})"

    def negative(self, inner: str) -> str:
        return f"-{inner}"

    def sum(self, left: str, right: str, sign: str) -> str:
        return f"{left} {sign} {right}"

    def compare(self, left: str, right: str, sign: str) -> str:
        return f"{left} {sign} {right}"

    def equal(self, left: str, right: str) -> str:
        return f"{left} = {right}"


class Plain(_Line):
    """The terminal: one line, ordinary characters."""

    def symbol(self, name: str) -> str:
        return name

    def value(self, text: str) -> str:
        return text

    def product(self, left: str, right: str) -> str:
        return f"{left} * {right}"

    def quotient(self, over: str, under: str, bare_over: str, bare_under: str) -> str:
        return f"{over} / {under}"

    def power(self, base: str, exponent: str, bare_exponent: str) -> str:
        return f"{base}^{exponent}"

    def call(self, name: str, arguments: list[str]) -> str:
        return f"{name}({', '.join(arguments)})"


class Typst(_Line):
    """Paper: Typst maths; every name of more than one letter that is not Greek stands in quotes."""

    _names: Mapping[str, str] = {"asin": "arcsin", "acos": "arccos"}

    def symbol(self, name: str) -> str:
        head, _, index = name.partition("_")
        base = head if head in GREEK or len(head) == 1 else f'"{head}"'
        return f'{base}_"{index.replace("_", ",")}"' if index else base

    def value(self, text: str) -> str:
        plain = text.replace("\\", "").replace('"', "")
        mantissa, sign, rest = plain.partition(" × 10")
        if not sign:
            return f'"{plain}"'
        power, _, unit = rest.partition(" ")
        return f'"{mantissa}" times 10^({power.translate(_LOWERED)})' + (f' "{unit}"' if unit else "")

    def product(self, left: str, right: str) -> str:
        return f"{left} dot {right}"

    def quotient(self, over: str, under: str, bare_over: str, bare_under: str) -> str:
        return f"frac({bare_over}, {bare_under})"

    def power(self, base: str, exponent: str, bare_exponent: str) -> str:
        return f"{base}^({exponent})"

    def call(self, name: str, arguments: list[str]) -> str:
        known = name in {"sqrt", "abs", "sin", "cos", "exp", "ln", "min", "max"} or name in self._names
        word = self._names.get(name, name)
        inner = ", ".join(arguments)
        return f"{word}({inner})" if known else f"{self.symbol(name)} ({inner})"


def render(tree: ast.expr, style: Style, values: Mapping[str, str]) -> str:
    """The expression in a style; symbols found in `values` are replaced by what stands there."""
    return _written(tree, style, values)[0]


def _bracketed(node: ast.expr, style: Style, values: Mapping[str, str], least: int) -> str:
    text, rank = _written(node, style, values)
    return text if rank >= least else style.brackets(text)


def _written(node: ast.expr, style: Style, values: Mapping[str, str]) -> tuple[str, int]:
    match node:
        case ast.Constant(value=int() | float() as value):
            return style.number(f"{value:.12g}"), _ATOM
        case ast.Name(id=name) if name in values:
            return style.value(values[name]), _rank_of_value(values[name])
        case ast.Name(id=name):
            return style.symbol(name), _ATOM
        case ast.UnaryOp(operand=operand):
            return style.negative(_bracketed(operand, style, values, _POWER)), _UNARY
        case ast.BinOp():
            return _binary(node, style, values)
        case ast.Compare(left=left, ops=[op], comparators=[right]):
            sides = _bracketed(left, style, values, _SUM), _bracketed(right, style, values, _SUM)
            return style.compare(sides[0], sides[1], _COMPARISONS[type(op)]), 0
        case ast.Call(func=ast.Name(id=name), args=arguments):
            return style.call(name, [_written(a, style, values)[0] for a in arguments]), _ATOM
    raise ExpressionError(f"{ast.unparse(node)!r} cannot be written")


def _rank_of_value(text: str) -> int:
    """A negative number stands in brackets where a sum would, a number with a unit where a product would."""
    if text[:1] in "-−":
        return _SUM
    return _PRODUCT if " " in text else _ATOM


def _binary(node: ast.BinOp, style: Style, values: Mapping[str, str]) -> tuple[str, int]:
    left, right = _written(node.left, style, values), _written(node.right, style, values)

    def sides(least_left: int, least_right: int) -> tuple[str, str]:
        pairs = ((left, least_left), (right, least_right))
        over, under = (text if rank >= least else style.brackets(text) for (text, rank), least in pairs)
        return over, under

    match node.op:
        case ast.Add():
            return style.sum(*sides(_SUM, _PRODUCT), "+"), _SUM
        case ast.Sub():
            return style.sum(*sides(_SUM, _PRODUCT), "-"), _SUM
        case ast.Mult():
            return style.product(*sides(_PRODUCT, _PRODUCT)), _PRODUCT
        case ast.Div():
            return style.quotient(*sides(_PRODUCT, _POWER), left[0], right[0]), _PRODUCT
        case ast.Pow():
            return style.power(*sides(_ATOM, _ATOM), right[0]), _POWER
    raise ExpressionError(f"{ast.unparse(node)!r} cannot be written")
