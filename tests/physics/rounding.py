"""How far rounding alone can move the value of an equation: the size of its terms, carried through the tree.

Two ways of writing one formula differ by some units in the last place of their largest term, however small the
result is: 1000 m less 999.999 m is exact to the rounding of 1000 m, not to that of 1 mm.
"""

from __future__ import annotations

import ast
from collections.abc import Mapping
from functools import cache
from typing import Any

import numpy as np

from onedatum.foundation.working import Expression

_EPS = float(np.finfo(float).eps)


def term_size(expression: Expression, values: Mapping[str, Any]) -> float:
    """The size of the terms that the rounding of an expression acts on, at these values of its symbols."""
    return _Sizes(expression, values).of(expression.tree)


class _Sizes:
    """One walk through the tree of an expression."""

    def __init__(self, expression: Expression, values: Mapping[str, Any]) -> None:
        self.expression = expression
        self.calls = expression.calls
        self.values = values

    def of(self, node: ast.expr) -> float:
        """The size of a part: its own value where it is a number, never less than it."""
        match node:
            case ast.Constant() | ast.Name():
                return self.at(node)
            case ast.UnaryOp(operand=operand):
                return self.of(operand)
            case ast.BinOp(left=left, op=op, right=right):
                return self.of_pair(op, left, right)
            case ast.Call(func=ast.Name(id=name)) if name in self.calls:
                return self.at(node)
            case ast.Call(func=ast.Name(id=name), args=arguments):
                return self.of_call(name, arguments, self.at(node))
        raise AssertionError(f"{ast.unparse(node)} has no size")

    def of_pair(self, op: ast.operator, left: ast.expr, right: ast.expr) -> float:
        """The sizes of two sides, joined; a divisor that is a small difference makes the quotient rough."""
        one, two = self.of(left), self.of(right)
        match op:
            case ast.Add() | ast.Sub():
                return one + two
            case ast.Mult():
                return one * two
            case ast.Div():
                return one / self.at(right) * (two / self.at(right))
        roughness = one / self.at(left) if self.at(left) else 1.0
        return float(self.at(left) ** self.at(right) * roughness ** max(1.0, self.at(right)))

    def of_call(self, name: str, arguments: list[ast.expr], value: float) -> float:
        """The size of a function's value: that of its argument times the slope."""
        at, size = self.at(arguments[0]), self.of(arguments[0])
        match name:
            case "sqrt":
                return float(size / np.sqrt(max(at, _EPS * size, 1e-300)))
            case "exp":
                return value * (1 + size)
            case "ln":
                return value + size / at
            case "sin" | "cos":
                return 1 + size
            case "asin" | "acos":
                return float(value + size / np.sqrt(max(1 - at**2, _EPS * size)))
        return max(value, *(self.of(argument) for argument in arguments))

    def at(self, node: ast.expr) -> float:
        """The value of a part without its sign."""
        return abs(float(_part(self.expression, node).evaluate(self.values)))


@cache
def _part(expression: Expression, node: ast.expr) -> Expression:
    """A part of an expression as one of its own, read once; the whole is named for the functions that it may call."""
    return Expression(ast.unparse(node), expression.calls)
