"""`@formula`: tags a pure function with its equation, symbols, validity and source, and leaves it a plain function.

Three kinds. *Explicit*: the equation text is evaluated and compared with the function by a test, so what is printed
cannot drift from the code. *Implicit*: the text is a residual; the result makes it zero. *Procedure*: the text names
the method; a test holds an independent case.

Validity is declared here once and checked by `apply`, which everyone who calls from outside goes through. The
docstring's sections on formula, parameters, returns, validity and source are put together from the tag, so they stand
in the source once: in the decorator.
"""

from __future__ import annotations

import ast
import inspect
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property
from types import CodeType
from typing import Any, Literal, ParamSpec, TypeVar

import numpy as np

from onedatum.foundation.errors import ExpressionError, ValidityError
from onedatum.foundation.numerics import Real, is_scalar, same_kind
from onedatum.foundation.sources import citation
from onedatum.foundation.units import name_without_unit, unit_of_name
from onedatum.foundation.working.expression import Equation, Expression
from onedatum.foundation.working.interval import Interval
from onedatum.foundation.working.render import Plain
from onedatum.foundation.working.spell import spell_limit, suffix_of_name
from onedatum.foundation.working.whole import Whole

P = ParamSpec("P")
R = TypeVar("R")
Kind = Literal["explicit", "implicit", "procedure"]
Where = dict[str, tuple[str, str, str | type[Whole]]]
"""Parameters with their symbol, their meaning, and their interval of validity or their class."""

_ATTRIBUTE = "__formula__"
_WORDS: Mapping[type[ast.cmpop], str] = {
    ast.Lt: "below",
    ast.LtE: "at most",
    ast.Gt: "above",
    ast.GtE: "at least",
    ast.NotEq: "other than",
}
_REGISTRY: dict[str, Callable[..., Any]] = {}


@dataclass(frozen=True)
class Symbol:
    """A parameter or the result of a formula: its symbol in print, its meaning, its unit, its validity."""

    parameter: str
    symbol: str
    meaning: str
    interval: Interval | None = None
    whole: type[Whole] | None = None
    """Of a parameter or result that is no single number: what it is."""

    @cached_property
    def suffix(self) -> str:
        """The unit suffix of the name, "" for dimensionless."""
        return suffix_of_name(self.parameter)

    @cached_property
    def unit(self) -> str:
        """The SI unit in print, "" for dimensionless."""
        return unit_of_name(self.parameter)

    @property
    def measured_in(self) -> str:
        """What stands in the brackets behind its meaning: its unit, 1 for dimensionless, or the kind of whole."""
        return self.whole.called if self.whole else self.unit or "1"

    @property
    def key(self) -> str:
        """The parameter's name as a user writes it: without its unit."""
        return name_without_unit(self.parameter)


@dataclass(frozen=True)
class Requirement:
    """A relation between the parameters without which the formula means nothing, and the reason."""

    relation: Expression
    why: str


@dataclass(frozen=True)
class Tag:
    """All that a formula says about itself."""

    name: str
    kind: Kind
    text: str
    result: Symbol
    symbols: tuple[Symbol, ...]
    requires: tuple[Requirement, ...]
    source: str
    what: str
    equation: Equation | None = None
    residual: Expression | None = None

    @cached_property
    def parameters(self) -> tuple[str, ...]:
        """The names of the parameters in their order."""
        return tuple(symbol.parameter for symbol in self.symbols)

    @cached_property
    def takes(self) -> frozenset[str]:
        """The same without their order."""
        return frozenset(self.parameters)

    def by_symbol(self, arguments: Mapping[str, Any]) -> dict[str, Any]:
        """Arguments named by parameter, renamed to the symbols of the equation."""
        return {symbol.symbol: arguments[symbol.parameter] for symbol in self.symbols}


@dataclass(frozen=True)
class Applied:
    """The result of `apply`: the value, and how many elements of it lay outside the validity (they are NaN)."""

    value: Any
    outside: int = 0


def formula(
    *,
    gives: tuple[str, str] | tuple[str, str, type[Whole]],
    where: Mapping[str, tuple[str, str, str | type[Whole]]],
    source: str,
    equation: str = "",
    residual: str = "",
    method: str = "",
    requires: tuple[tuple[str, str], ...] = (),
    calls: Mapping[str, Callable[..., Any]] | None = None,
) -> Callable[[Callable[P, R]], Callable[P, R]]:
    """Tag a pure function with its description; exactly one of `equation`, `residual`, `method` is given.

    gives: symbol and meaning of the result; its unit is the suffix of the function's name. A result that is no single
        number names its class as well.
    where: for each parameter its symbol, its meaning and its interval of validity, or its class.
    requires: relations between symbols, each with its reason.
    source: key of the register of sources and, after a colon, the place in it.
    calls: other formulas that the residual and the relations may name, by the symbol they are printed with.
    """

    def attach(function: Callable[P, R]) -> Callable[P, R]:
        text = inspect.getdoc(function) or ""
        tag = _tag(function, gives, where, source, (equation, residual, method), requires, calls or {}, text)
        setattr(function, _ATTRIBUTE, tag)
        function.__doc__ = _docstring(tag, text)
        _REGISTRY[tag.name] = function
        return function

    return attach


def tag_of(function: Callable[..., Any]) -> Tag:
    """The tag of a tagged function."""
    tag = getattr(function, _ATTRIBUTE, None)
    if not isinstance(tag, Tag):
        raise ExpressionError(f"{function!r} carries no @formula")
    return tag


def registry() -> Mapping[str, Callable[..., Any]]:
    """Every tagged function imported so far, by name."""
    return _REGISTRY


def apply(function: Callable[..., Any], arguments: Mapping[str, Real]) -> Applied:
    """Call a tagged function from outside, within its validity.

    All arguments scalar: a value outside raises ValidityError. Any argument an array: elements outside become NaN and
    are counted.
    """
    tag = tag_of(function)
    if all(map(is_scalar, arguments.values())):
        _refuse_outside(tag, arguments)
        return Applied(function(**arguments))
    with np.errstate(invalid="ignore", divide="ignore", over="ignore"):
        inside = _inside(tag, arguments)
        given = function(**arguments)
    if inside is np.True_:
        return Applied(given)
    value = given.masked(inside) if isinstance(given, Whole) else same_kind(np.where(inside, given, np.nan))
    shape = np.shape(value)
    return Applied(value, int(np.prod(shape)) - int(np.count_nonzero(np.broadcast_to(inside, shape))))


def _tag(
    function: Callable[..., Any],
    gives: tuple[str, str] | tuple[str, str, type[Whole]],
    where: Mapping[str, tuple[str, str, str | type[Whole]]],
    source: str,
    texts: tuple[str, str, str],
    requires: tuple[tuple[str, str], ...],
    calls: Mapping[str, Callable[..., Any]],
    text: str,
) -> Tag:
    equation, residual, method = texts
    if sum(map(bool, texts)) != 1:
        raise ExpressionError(f"{function.__name__}: give exactly one of equation, residual, method")
    if tuple(where) != _parameters(function):
        raise ExpressionError(f"{function.__name__}: `where` must name the parameters in their order")
    symbols = tuple(_symbol(name, *described) for name, described in where.items())
    tag = Tag(
        name=f"{_room(function.__module__)}.{name_without_unit(function.__name__)}",
        kind="explicit" if equation else "implicit" if residual else "procedure",
        text=equation or residual or method,
        result=_symbol(function.__name__, *gives),
        symbols=symbols,
        requires=tuple(Requirement(Expression(relation, calls), why) for relation, why in requires),
        source=source,
        what=text.partition("\n")[0],
        equation=Equation.read(equation) if equation else None,
        residual=Expression(residual, calls) if residual else None,
    )
    _refuse_unknown_symbols(tag)
    return tag


def _parameters(function: Callable[..., Any]) -> tuple[str, ...]:
    """The names of the parameters in their order: a pure function has no others, and this asks for no signature."""
    code: CodeType = inspect.unwrap(function).__code__
    return code.co_varnames[: code.co_argcount + code.co_kwonlyargcount]


def _symbol(name: str, symbol: str, meaning: str, valid: str | type[Whole] = "") -> Symbol:
    if isinstance(valid, str):
        return Symbol(name, symbol, meaning, Interval.read(valid) if valid else None)
    return Symbol(name, symbol, meaning, whole=valid)


def _room(module: str) -> str:
    """The room of a formula: "loop" of "onedatum.physics.loop.supply"; a module of its own is its own room."""
    parts = module.split(".")
    return parts[2] if len(parts) > 2 else parts[-1]


def _refuse_unknown_symbols(tag: Tag) -> None:
    known = {symbol.symbol for symbol in tag.symbols}
    expressions = [requirement.relation for requirement in tag.requires]
    if tag.equation:
        expressions.append(tag.equation.right)
    for expression in expressions:
        if strangers := set(expression.names) - known:
            raise ExpressionError(f"{tag.name}: {sorted(strangers)} not among the symbols")
    if tag.residual and (strangers := set(tag.residual.names) - known - {tag.result.symbol}):
        raise ExpressionError(f"{tag.name}: {sorted(strangers)} not among the symbols")
    if tag.equation and tag.equation.symbol != tag.result.symbol:
        raise ExpressionError(f"{tag.name}: the equation gives {tag.equation.symbol}, not {tag.result.symbol}")


def _inside(tag: Tag, arguments: Mapping[str, Real]) -> Any:
    """Where the arguments lie inside; `np.True_` itself where all of them do, which costs two looks at an array."""
    inside: Any = np.True_
    for symbol in tag.symbols:
        value = arguments[symbol.parameter]
        if symbol.interval and not symbol.interval.holds_all(value):
            inside = np.logical_and(inside, symbol.interval.holds(value))
    values = tag.by_symbol(arguments) if tag.requires else {}
    for requirement in tag.requires:
        if not np.all(met := requirement.relation.evaluate(values)):
            inside = np.logical_and(inside, met)
    return inside


def _refuse_outside(tag: Tag, arguments: Mapping[str, Real]) -> None:
    for symbol in tag.symbols:
        value = arguments[symbol.parameter]
        if symbol.interval and not symbol.interval.holds(value):
            raise ValidityError(
                tag.name,
                symbol.parameter,
                interval_text(symbol),
                spell_limit(float(value), symbol.suffix),
                f"Validity of {tag.name}: {citation(tag.source)}",
            )
    values = tag.by_symbol(arguments) if tag.requires else {}
    for requirement in tag.requires:
        if not requirement.relation.evaluate(values):
            raise _broken(tag, requirement, arguments)


def _broken(tag: Tag, requirement: Requirement, arguments: Mapping[str, Real]) -> ValidityError:
    tree = requirement.relation.tree
    leading = next(s for s in tag.symbols if s.symbol == requirement.relation.names[0])
    if leading.whole:
        return ValidityError(
            tag.name,
            leading.parameter,
            f"such that {requirement.relation.written(Plain())}",
            "another",
            requirement.why,
        )
    got = spell_limit(float(arguments[leading.parameter]), leading.suffix)
    if isinstance(tree, ast.Compare) and isinstance(tree.left, ast.Name):
        right = Expression(ast.unparse(tree.comparators[0]), requirement.relation.calls)
        limit = spell_limit(float(right.evaluate(tag.by_symbol(arguments))), leading.suffix)
        allowed = f"{_WORDS[type(tree.ops[0])]} {limit}"
    else:
        allowed = f"such that {requirement.relation.written(Plain())}"
    return ValidityError(tag.name, leading.parameter, allowed, got, requirement.why)


def interval_text(symbol: Symbol) -> str:
    """The validity of a parameter in words: "above 0 m up to 20 m"."""
    interval = symbol.interval
    if symbol.whole:
        return f"a {symbol.whole.called}"
    if interval is None:
        return "any"
    low, high = spell_limit(interval.low, symbol.suffix), spell_limit(interval.high, symbol.suffix)
    if not (interval.open_low or interval.open_high):
        return f"{low} to {high}"
    return f"{'above' if interval.open_low else 'from'} {low} {'and below' if interval.open_high else 'up to'} {high}"


def _docstring(tag: Tag, text: str) -> str:
    what, _, rest = text.partition("\n")
    remarks, marker, example = rest.partition("Example\n-------\n")
    ranges = [f"{s.parameter} in {s.interval}{f' {s.unit}' if s.unit else ''}" for s in tag.symbols if s.interval]
    ranges += [f"{r.relation.text}: {r.why}" for r in tag.requires]
    sections = [
        what,
        remarks.strip(),
        _section("Formula", [tag.text if tag.kind != "implicit" else f"{tag.text} = 0"]),
        _section("Parameters", [f"{s.parameter} : {_type(s)}\n    {_described(s)}" for s in tag.symbols]),
        _section("Returns", [f"{_type(tag.result)}, shape by broadcasting\n    {_described(tag.result)}"]),
        _section(
            "Validity", [*ranges, "Outside: a scalar is refused, an element of an array becomes NaN (see `apply`)."]
        ),
        _section("Source", [str(citation(tag.source))]),
        _section("Example", [example.rstrip()]) if marker else "",
    ]
    return "\n\n".join(filter(None, sections)) + "\n"


def _section(title: str, lines: list[str]) -> str:
    return "\n".join([title, "-" * len(title), *lines])


def _described(symbol: Symbol) -> str:
    return f"{symbol.symbol}, {symbol.meaning} [{symbol.measured_in}]"


def _type(symbol: Symbol) -> str:
    return symbol.whole.__name__ if symbol.whole else "float or array"
