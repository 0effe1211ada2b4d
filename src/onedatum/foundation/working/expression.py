"""Equation texts: read once, then evaluated and printed from the same tree, so that neither can drift from the other.

The language is the arithmetic of Python: + - * / **, brackets, comparisons, numbers, names, and the functions listed
in `FUNCTIONS`. A name is a symbol such as ``rho_l``; what follows the first underscore is printed as its index.
"""

from __future__ import annotations

import ast
import operator
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

import numpy as np

from onedatum.foundation.errors import ExpressionError
from onedatum.foundation.working.render import Style, render

FUNCTIONS: Mapping[str, Callable[..., Any]] = {
    "sqrt": np.sqrt,
    "exp": np.exp,
    "ln": np.log,
    "sin": np.sin,
    "cos": np.cos,
    "asin": np.arcsin,
    "acos": np.arccos,
    "abs": np.abs,
    "min": np.minimum,
    "max": np.maximum,
}
_Worked = Callable[[Mapping[str, Any]], Any]
CONSTANTS: Mapping[str, float] = {"pi": float(np.pi)}

_BINARY: Mapping[type[ast.operator], Callable[[Any, Any], Any]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: np.divide,
    ast.Pow: np.power,
}
_COMPARE: Mapping[type[ast.cmpop], Callable[[Any, Any], Any]] = {
    ast.Lt: operator.lt,
    ast.LtE: operator.le,
    ast.Gt: operator.gt,
    ast.GtE: operator.ge,
    ast.NotEq: operator.ne,
}
"""Those of Python where they give the same of floats as those of numpy, which take ten times as long over one."""


@dataclass(frozen=True)
class Expression:
    """One side of an equation, or a comparison, read from its text."""

    text: str
    calls: Mapping[str, Callable[..., Any]] = field(default_factory=dict, compare=False)
    """Functions the text may name beside `FUNCTIONS`: other formulas, by the symbol they are printed with."""

    @cached_property
    def tree(self) -> ast.expr:
        """The text as a tree; everything in it is known to the evaluator."""
        try:
            tree = ast.parse(self.text.strip(), mode="eval").body
        except SyntaxError as error:
            raise ExpressionError(f"not an expression: {self.text!r}") from error
        self._check(tree)
        return tree

    @cached_property
    def names(self) -> tuple[str, ...]:
        """The symbols in the text, in the order in which they first stand there."""
        every = tuple(ast.walk(self.tree))
        called = {node.func.id for node in every if isinstance(node, ast.Call)}  # type: ignore[attr-defined]
        found = sorted(
            (node for node in every if isinstance(node, ast.Name)),
            key=lambda node: (node.lineno, node.col_offset),
        )
        return tuple(dict.fromkeys(n.id for n in found if n.id not in CONSTANTS and n.id not in called))

    def evaluate(self, values: Mapping[str, Any]) -> Any:
        """The value for these values of the symbols; floats and arrays broadcast."""
        return self._worked(values)

    def written(self, style: Style, values: Mapping[str, str] | None = None) -> str:
        """The text in a style of writing; with `values`, each symbol is replaced by what stands there for it."""
        return render(self.tree, style, values or {})

    def _check(self, node: ast.expr) -> None:
        match node:
            case ast.Constant(value=int() | float()) if not isinstance(node.value, bool):
                return
            case ast.Name():
                return
            case ast.UnaryOp(op=ast.USub(), operand=operand):
                self._check(operand)
            case ast.BinOp(left=left, op=op, right=right) if type(op) in _BINARY:
                self._check(left)
                self._check(right)
            case ast.Compare(left=left, ops=[op], comparators=[right]) if type(op) in _COMPARE:
                self._check(left)
                self._check(right)
            case ast.Call(func=ast.Name(id=name), args=arguments, keywords=[]) if (
                name in FUNCTIONS or name in self.calls
            ):
                for argument in arguments:
                    self._check(argument)
            case _:
                raise ExpressionError(f"{ast.unparse(node)!r} has no place in an equation: {self.text!r}")

    @cached_property
    def _worked(self) -> _Worked:
        """The tree as one function of the values, made once."""
        return self._function_of(self.tree)

    def _function_of(self, node: ast.expr) -> _Worked:
        match node:
            case ast.Constant(value=int() | float() as number):
                constant = float(number)
                return lambda values: constant
            case ast.Name(id=name):
                return (lambda values: CONSTANTS[name]) if name in CONSTANTS else operator.itemgetter(name)
            case ast.UnaryOp(operand=operand):
                return _called(operator.neg, (self._function_of(operand),))
            case ast.BinOp(left=left, op=op, right=right):
                return _called(_BINARY[type(op)], (self._function_of(left), self._function_of(right)))
            case ast.Compare(left=left, ops=[op], comparators=[right]):
                return _called(_COMPARE[type(op)], (self._function_of(left), self._function_of(right)))
            case ast.Call(func=ast.Name(id=name), args=arguments):
                return _called(self._function(name), tuple(map(self._function_of, arguments)))
        raise ExpressionError(f"{ast.unparse(node)!r} cannot be evaluated")

    def _function(self, name: str) -> Callable[..., Any]:
        return self.calls[name] if name in self.calls else FUNCTIONS[name]


def _called(function: Callable[..., Any], parts: tuple[_Worked, ...]) -> _Worked:
    return lambda values: function(*[part(values) for part in parts])


@dataclass(frozen=True)
class Equation:
    """A symbol and the expression that gives it: "x = m / (rho*A)"."""

    symbol: str
    right: Expression

    @classmethod
    def read(cls, text: str) -> Equation:
        """Read an equation; the first equals sign parts its sides."""
        left, equals, right = text.partition(" = ")
        if not equals or not left.strip().isidentifier():
            raise ExpressionError(f"an equation is written like x = a*b; got {text!r}")
        equation = cls(left.strip(), Expression(right))
        _ = equation.right.tree
        return equation

    def written(self, style: Style, values: Mapping[str, str] | None = None) -> str:
        """Both sides; with `values`, the right side carries the numbers put in."""
        return style.equal(style.symbol(self.symbol), self.right.written(style, values))
