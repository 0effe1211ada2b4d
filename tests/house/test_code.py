"""Rules for the code of the tool. Each rule is a function from a module to its breaches; each is shown to find one."""

from __future__ import annotations

import ast
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.house.tree import PACKAGE, Module, functions, modules, own_lines

LONGEST_FILE = 500
LONGEST_FUNCTION = 40

# Exceptions by name, each with its reason: "src/onedatum/room/file.py" or "src/onedatum/room/file.py:function".
LONG_FILES: dict[str, str] = {}
LONG_FUNCTIONS: dict[str, str] = {}

Rule = Callable[[Module], list[str]]


def long_file(module: Module) -> list[str]:
    """A file longer than one can keep in mind."""
    count = len(module.lines)
    return [f"{module.name}: {count} lines"] if count > LONGEST_FILE and module.name not in LONG_FILES else []


def long_function(module: Module) -> list[str]:
    """A function longer than one can keep in view."""
    return [
        f"{module.at(function)} {function.name}: {own_lines(function)} lines"
        for function in functions(module)
        if own_lines(function) > LONGEST_FUNCTION and f"{module.name}:{function.name}" not in LONG_FUNCTIONS
    ]


def assertion(module: Module) -> list[str]:
    """An assert: it vanishes under -O and tells the user nothing."""
    return [f"{module.at(node)} assert" for node in module.nodes if isinstance(node, ast.Assert)]


def bare_except(module: Module) -> list[str]:
    """An except that also takes the user's Ctrl-C."""
    handlers = [node for node in module.nodes if isinstance(node, ast.ExceptHandler)]
    return [f"{module.at(handler)} bare except" for handler in handlers if handler.type is None]


def no_docstring(module: Module) -> list[str]:
    """A module that does not say what it is for."""
    return [] if ast.get_docstring(module.tree) else [f"{module.name}: no docstring"]


RULES: list[Rule] = [long_file, long_function, assertion, bare_except, no_docstring]

BREACHES: list[tuple[Rule, str]] = [
    (long_file, "'''Said.'''\n" + "x = 1\n" * LONGEST_FILE),
    (long_function, "def f():\n    '''Said.'''\n" + "    x = 1\n" * LONGEST_FUNCTION),
    (long_function, "class C:\n    def f(self):\n        def g():\n" + "            x = 1\n" * LONGEST_FUNCTION),
    (assertion, "def f(x):\n    if x:\n        assert x > 0\n"),
    (bare_except, "try:\n    x = 1\nexcept:\n    x = 2\n"),
    (no_docstring, "x = 1\n"),
    (no_docstring, ""),
]

KEPT: list[tuple[Rule, str]] = [
    (long_file, "x = 1\n" * LONGEST_FILE),
    (long_function, "def f():\n    '''Said\n    at length.\n    '''\n" + "    x = 1\n" * (LONGEST_FUNCTION - 1)),
    (long_function, "@tag(\n" + "    1,\n" * LONGEST_FUNCTION + ")\ndef f():\n    return 1\n"),
    (assertion, "'''assert nothing'''\n"),
    (bare_except, "try:\n    x = 1\nexcept ValueError:\n    x = 2\n"),
    (no_docstring, "'''Said.'''\n"),
]


@pytest.mark.parametrize("rule", RULES)
def test_the_tool_keeps_the_rule(rule: Rule) -> None:
    found = modules()
    assert found, "no modules found: the rule would hold of nothing"
    assert [breach for module in found for breach in rule(module)] == []


@pytest.mark.parametrize(("rule", "text"), BREACHES)
def test_the_rule_finds_a_breach(rule: Rule, text: str) -> None:
    assert rule(Module("planted.py", text)) != []


@pytest.mark.parametrize(("rule", "text"), KEPT)
def test_the_rule_leaves_sound_code_alone(rule: Rule, text: str) -> None:
    assert rule(Module("planted.py", text)) == []


def test_every_rule_is_shown_to_find_a_breach() -> None:
    assert {rule for rule, _ in BREACHES} == set(RULES) == {rule for rule, _ in KEPT}


def test_exceptions_name_what_is_still_too_long() -> None:
    """An exception that is no longer needed is taken off the list."""
    long_files = {module.name for module in modules() if len(module.lines) > LONGEST_FILE}
    long_functions = {
        f"{module.name}:{function.name}"
        for module in modules()
        for function in functions(module)
        if own_lines(function) > LONGEST_FUNCTION
    }
    assert set(LONG_FILES) <= long_files
    assert set(LONG_FUNCTIONS) <= long_functions


def packages_without_init(package: Path) -> list[str]:
    """Folders with Python files that are no packages: the checks of layers and types could pass them by."""
    folders = {path.parent for path in package.rglob("*.py")}
    return sorted(folder.as_posix() for folder in folders if not (folder / "__init__.py").is_file())


def test_every_folder_with_code_is_a_package(tmp_path: Path) -> None:
    assert packages_without_init(PACKAGE) == []
    (tmp_path / "room").mkdir()
    (tmp_path / "room" / "module.py").touch()
    assert packages_without_init(tmp_path) == [(tmp_path / "room").as_posix()]
