"""Walking the project's files and their syntax trees: what the tests of the house rules share."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, cached_property
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "src" / "onedatum"

Function = ast.FunctionDef | ast.AsyncFunctionDef
Documented = ast.Module | ast.ClassDef | Function

WRITTEN = {".css", ".csv", ".html", ".js", ".json", ".md", ".py", ".svg", ".toml", ".txt", ".typ", ".yaml", ".yml"}


@dataclass(frozen=True)
class Text:
    """One file of text, by its path within the project."""

    name: str
    text: str

    @cached_property
    def lines(self) -> list[str]:
        return self.text.splitlines()


@dataclass(frozen=True)
class Module(Text):
    """One file of Python."""

    @cached_property
    def tree(self) -> ast.Module:
        return ast.parse(self.text, filename=self.name)

    @cached_property
    def nodes(self) -> tuple[ast.AST, ...]:
        """Every node of the tree: several rules look through them."""
        return tuple(ast.walk(self.tree))

    def at(self, node: ast.stmt | ast.ExceptHandler) -> str:
        """Where a node stands, as an editor opens it."""
        return f"{self.name}:{node.lineno}"


@cache
def modules(folder: Path = PACKAGE) -> list[Module]:
    """All Python files below a folder, each parsed once."""
    return [_module(path) for path in sorted(folder.rglob("*.py"))]


@cache
def _module(path: Path) -> Module:
    return Module(within(path), path.read_text(encoding="utf-8"))


def texts(*places: str) -> list[Text]:
    """All files of text at or below places in the project, caches apart."""
    return [Text(within(path), path.read_text(encoding="utf-8")) for place in places for path in written(ROOT / place)]


def written(place: Path) -> Iterator[Path]:
    """The files at or below a place that people write and read."""
    if place.is_file():
        yield place
    for path in sorted(place.rglob("*")):
        if path.is_file() and path.suffix in WRITTEN and "__pycache__" not in path.parts:
            yield path


def within(path: Path) -> str:
    """A path as it is called within the project."""
    return path.relative_to(ROOT).as_posix() if path.is_relative_to(ROOT) else path.as_posix()


def functions(module: Module) -> Iterator[Function]:
    """Every function and method, also those inside others."""
    for node in module.nodes:
        if isinstance(node, Function):
            yield node


def own_lines(function: Function) -> int:
    """The lines of a function from its ``def`` to its end, without its docstring and its decorators."""
    assert function.end_lineno is not None
    return function.end_lineno - function.lineno + 1 - docstring_lines(function)


def docstring_lines(node: Documented) -> int:
    """The lines a docstring takes."""
    if ast.get_docstring(node, clean=False) is None:
        return 0
    first = node.body[0]
    assert first.end_lineno is not None
    return first.end_lineno - first.lineno + 1
